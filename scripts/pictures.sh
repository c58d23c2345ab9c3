#!/usr/bin/env bash
# Makes the pictures of README.md and docs/ with the program itself. Needs poppler-utils.
set -euo pipefail
cd "$(dirname "$0")/.."
program=${CARGO_TARGET_DIR:-target}/release/notchbook
[ -x "$program" ] || cargo build --release
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for garment in concert-dress linen-dress plain-skirt; do
    "$program" make "examples/$garment.kdl" --out "$work" >/dev/null || true
    cp "$work/pieces.png" "docs/pictures/$garment.png"
    [ -f "$work/layers.png" ] && mv "$work/layers.png" "docs/pictures/$garment-layers.png"
    [ "$garment" = concert-dress ] && pdftoppm -r 80 -png -singlefile -f 1 -l 1 "$work/pattern-a4.pdf" docs/pictures/cover
done
ls -la docs/pictures
