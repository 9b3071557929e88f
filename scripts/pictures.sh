#!/bin/sh
# Make the pictures of the README again from the demo's proposals; needs pdftoppm (Debian: poppler-utils).
set -eu
cd "$(dirname "$0")/.."
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
for job in fan head_shaft; do
    .venv/bin/halfbore write proposal "src/halfbore/demo/jobs/$job.toml" --out "$folder" --date 2026-03-09 >/dev/null
    pdftoppm -png -r 75 -f 1 -l 1 -singlefile "$folder/$job-proposal.pdf" "docs/pictures/$job-page-1"
done
page=1
while ! pdftotext -f $page -l $page "$folder/fan-proposal.pdf" - | grep -q "^One-piece bearing, in"; do page=$((page + 1)); done
pdftoppm -png -r 75 -f $page -l $page -singlefile "$folder/fan-proposal.pdf" docs/pictures/fan-changeover
