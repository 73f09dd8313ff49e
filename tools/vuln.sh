#!/usr/bin/env bash
# Looks for known vulnerabilities that the program reaches. The database is the
# module golang.org/x/vulndb, newest version, fetched like any other module, so
# that nothing but the module proxy is asked.
set -euo pipefail
cd "$(dirname "$0")/.."

dir=$(go mod download -json golang.org/x/vulndb@latest | sed -n 's/^[[:space:]]*"Dir": "\(.*\)",\{0,1\}$/\1/p')
if [ ! -d "$dir/data/osv" ]; then
	echo "the vulnerability database could not be fetched" >&2
	exit 1
fi
exec go tool -modfile=tools/tools.mod govulncheck -db "file://$dir/data/osv" ./...
