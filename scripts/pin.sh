#!/bin/sh
# Write requirements.txt, requirements-test.txt and scripts/uv.txt again from pyproject.toml; needs the test environment.
# One version of each library serves all Pythons, so that types and last digits do not depend on the interpreter.
# A pin that still fits is kept; give --upgrade to take the newest of everything, or --upgrade-package NAME.
set -eu
cd "$(dirname "$0")/.."
pin() {
    .venv/bin/uv pip compile --universal --python-version 3.11 --fork-strategy fewest --generate-hashes \
        --no-header --no-annotate --quiet "$@"
}
# The build backend stands in both files: the package is installed without a download of its own.
echo 'hatchling>=1.27' | pin - pyproject.toml --all-extras -o requirements-test.txt "$@" >/dev/null
echo 'hatchling>=1.27' | pin - pyproject.toml -c requirements-test.txt -o requirements.txt "$@" >/dev/null
echo uv | pin - -o scripts/uv.txt "$@" >/dev/null
