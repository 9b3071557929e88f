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
echo "halfbore is installed in $venv. To type halfbore without its folder, once in this shell:"
echo "    . $venv/bin/activate"
