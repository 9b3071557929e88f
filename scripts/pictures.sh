#!/bin/sh
# Make the pictures of the README and of docs/tour.md again from the demo plant; needs chromium, pdftoppm (Debian:
# poppler-utils) and a few minutes.
set -eu
cd "$(dirname "$0")/.."
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
root=$PWD
halfbore=$PWD/.venv/bin/halfbore
pictures=$PWD/docs/pictures
cd "$folder"
"$halfbore" demo plant >/dev/null
cd plant
for machine in F1 F3; do "$halfbore" write proposal $machine --date 2026-03-09 >/dev/null; done
"$halfbore" write survey-sheet "head shaft" --tag C1 --out sheet >/dev/null
pdftoppm -png -r 75 -f 1 -l 1 -singlefile F3-proposal.pdf "$pictures/proposal"
pdftoppm -png -r 75 -f 1 -l 1 -singlefile sheet/*.pdf "$pictures/survey-sheet"
page=1
while ! pdftotext -f $page -l $page F1-proposal.pdf - | grep -q "^One-piece bearing, in"; do page=$((page + 1)); done
pdftoppm -png -r 75 -f $page -l $page -singlefile F1-proposal.pdf "$pictures/changeover"

"$halfbore" run >/dev/null
cd "$root"
.venv/bin/python -m scripts.pictures "$folder"/plant/*.halfbore "$pictures"
HALFBORE_PICTURES=$folder .venv/bin/python -m pytest -q tests/web/test_browser_intake.py -k whole_job
cp "$folder"/tour-*.png "$pictures"
pdftoppm -png -r 75 -f 1 -l 1 -singlefile "$folder/E1-proposal.pdf" "$pictures/E1-proposal"
