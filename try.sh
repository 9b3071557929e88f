#!/bin/sh
# Set up, run the demo into ./halfbore-demo and say what is there and what to try next.
#
#   ./try.sh [--python 3.12]
set -eu
cd "$(dirname "$0")"
venv=$(sh scripts/setup.sh "$@" | tail -n 1)
[ -n "$venv" ] || exit 1
"$venv/bin/halfbore" demo halfbore-demo
echo
echo "Before that, once in this shell, so that halfbore is found:"
echo "    . $venv/bin/activate"
