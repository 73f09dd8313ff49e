#!/usr/bin/env bash
# Draws the two pictures of the README from the demo studio: the plan of a
# brief, and the making card. Needs chromium, pdftoppm and ImageMagick.
set -euo pipefail
cd "$(dirname "$0")/.."
work=$(mktemp -d)
trap 'kill "$pid" 2>/dev/null || true; rm -rf "$work"' EXIT
go build -o "$work/vatside" ./cmd/vatside
"$work/vatside" demo --no-browser >"$work/said" 2>&1 &
pid=$!
for _ in $(seq 50); do
  site=$(grep -o 'http://[0-9.:]*' "$work/said" | head -n 1 || true)
  [ -n "$site" ] && break
  sleep 0.1
done
brief=$(curl -s "$site/" | grep -o '/briefs/[a-z0-9]*' | grep -v new | sed -n 2p)
making=$(curl -s "$site/makings" | grep -o '/makings/[a-z0-9]*' | head -n 1)
chromium --headless --no-sandbox --disable-gpu --no-first-run --disable-background-networking \
  --user-data-dir="$work/profile" --hide-scrollbars --window-size=1100,1500 \
  --screenshot="$work/plan.png" "$site$brief" >/dev/null 2>&1
curl -s -o "$work/card.pdf" "$site$making/card.pdf"
pdftoppm -r 100 -f 1 -l 1 -png "$work/card.pdf" "$work/card"
mkdir -p docs/picture
convert "$work/plan.png" -colors 128 docs/picture/plan.png
convert "$work"/card-*.png -bordercolor '#b9c2bd' -border 1 -colors 64 docs/picture/card.png
ls -l docs/picture
