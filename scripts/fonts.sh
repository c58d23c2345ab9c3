#!/bin/sh
# Copies the fonts of the papers, and their licence, out of the Debian package fonts-sil-andika into crates/sheet/fonts.
# The files are kept as they are: "Andika" is a reserved name of the licence, so a changed file could not bear it.
# The page of the workbench gets them compressed (WOFF2, by woff2_compress of the Debian package woff2), which keeps every table.
set -eu
here=$(cd "$(dirname "$0")/.." && pwd)
from=/usr/share/fonts/truetype/andika
to="$here/crates/sheet/fonts"
if [ ! -f "$from/Andika-Regular.ttf" ]; then
    echo "fonts.sh: $from/Andika-Regular.ttf is missing; install the Debian package fonts-sil-andika" >&2
    exit 1
fi
mkdir -p "$to"
for weight in Regular Bold; do
    cp "$from/Andika-$weight.ttf" "$to/"
done
# The package's copyright file carries the whole licence in Debian's form: one space before each line, "." for a blank.
sed -n '/^License: OFL-1.1-RFN$/,$p' /usr/share/doc/fonts-sil-andika/copyright |
    sed -n '/^ This Font Software is Copyright/,$p' |
    sed -e 's/^ \.$//' -e 's/^ //' >"$to/OFL.txt"
web="$here/crates/workbench/page/fonts"
if ! command -v woff2_compress >/dev/null; then
    echo "fonts.sh: woff2_compress is missing; install the Debian package woff2" >&2
    exit 1
fi
mkdir -p "$web"
for weight in Regular Bold; do
    woff2_compress "$to/Andika-$weight.ttf"
    mv "$to/Andika-$weight.woff2" "$web/"
done
cp "$to/OFL.txt" "$web/"
