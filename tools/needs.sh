#!/usr/bin/env bash
# Installs what the tests need beyond Go: Chromium for journeys over the pages,
# poppler's pdftoppm for pictures of printed cards, npm for axe-core and the
# script types. With the argument npm, only the last. What is there stays.
set -euo pipefail
cd "$(dirname "$0")"

has() { command -v "$1" >/dev/null 2>&1; }

browser() { has chromium || has chromium-browser || has google-chrome || has google-chrome-stable || has chrome; }

missing=()
if [ "${1:-all}" = all ]; then
	browser || missing+=(chromium fonts-dejavu-core)
	has pdftoppm || missing+=(poppler-utils)
fi
has npm || missing+=(nodejs npm)

if [ ${#missing[@]} -gt 0 ]; then
	if has apt-get && [ "$(id -u)" = 0 ]; then
		export DEBIAN_FRONTEND=noninteractive
		apt-get update -q </dev/null
		apt-get install -y -q --no-install-recommends "${missing[@]}" </dev/null
	else
		echo "Please install: ${missing[*]} (Debian's names; elsewhere Chromium or Chrome, poppler, Node.js with npm)." >&2
		echo "Tests that lack them are skipped with a message; with CI set they fail." >&2
		has npm || exit 0
	fi
fi

# npm writes its own copy of the lock file last, so an older one is stale.
if [ package-lock.json -nt node_modules/.package-lock.json ]; then
	npm ci --no-progress </dev/null
fi
