#!/bin/sh
# Set up, then run every check and every test; the exit code is 0 only when all of them pass.
#
#   ./test.sh [--long] [--python 3.12] [PYTEST ARGUMENTS]
#
# --long   also the tests that are too long for every day.
# With pytest arguments only those tests run, and docs/validation.md is left alone.
set -u
cd "$(dirname "$0")"

long="" python=""
while [ $# -gt 0 ]; do
    case "$1" in
        --long) long=--long ;;
        --python) python=${2:?--python needs a version such as 3.12}; shift ;;
        --python=*) python=${1#--python=} ;;
        *) break ;;
    esac
    shift
done

venv=$(sh scripts/setup.sh --tests ${python:+--python "$python"} | tail -n 1)
[ -n "$venv" ] || exit 1
bin=$venv/bin
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 NUMBA_NUM_THREADS=1 COLUMNS=80

failed=""
check() {
    name=$1
    shift
    printf '%s ... ' "$name"
    if said=$("$@" 2>&1); then
        echo ok
    else
        printf 'FAILED\n%s\n' "$said"
        failed="$failed $name,"
    fi
}

check "ruff check" "$bin/ruff" check --quiet .
check "ruff format" "$bin/ruff" format --check --quiet .
check "mypy" "$bin/mypy"

[ $# -gt 0 ] || rm -rf tests/.validation
if "$bin/python" -m pytest -n 2 --durations=10 $long "$@"; then
    [ $# -gt 0 ] || check "docs/validation.md" "$bin/python" tests/validation_table.py
else
    failed="$failed pytest,"
fi

[ -z "$failed" ] || { echo "Failed:${failed%,}"; exit 1; }
