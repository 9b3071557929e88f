#!/bin/sh
# Make the environment and install halfbore into it; a second run finds it done and is instant.
#
#   scripts/setup.sh [--tests] [--python 3.12]
#
# --tests    also what the tests and checks need (requirements-test.txt, chromium, postgresql); else what running needs.
# --python   a version such as 3.12, or the path of an interpreter; its environment has a name of its own.
# Prints the folder of the environment on its last line; everything else goes to stderr.
set -eu
cd "$(dirname "$0")/.."

say() { echo "$@" >&2; }
fail() { say "$@"; exit 1; }

wanted="" requirements=requirements.txt
while [ $# -gt 0 ]; do
    case "$1" in
        --tests) requirements=requirements-test.txt ;;
        --python) [ $# -gt 1 ] || fail "--python needs a version such as 3.12"; wanted=$2; shift ;;
        --python=*) wanted=${1#--python=} ;;
        *) fail "unknown option $1; known: --tests, --python VERSION" ;;
    esac
    shift
done

serves() { "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; }

if [ -z "$wanted" ]; then
    venv=.venv candidates="python3 python3.13 python3.12 python3.11 python"
else
    venv=.venv-$(basename "$wanted" | sed 's/^python//')
    case "$wanted" in [0-9]*) candidates="python$wanted" ;; *) candidates=$wanted ;; esac
fi
python=""
for candidate in $candidates; do
    if serves "$candidate"; then python=$candidate; break; fi
done
[ -n "$python" ] || fail "Python 3.11 or newer is needed; looked for: $candidates.
On Debian, as root: apt-get install python3 python3-venv"

# The tests of the pages run in Chromium, those of a team's database on a PostgreSQL of their own; what needs one says
# so and is left out where it is not there.
package() {
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
        say "Installing $1 for $2 ..."
        { apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -qq -y "$1"; } >/dev/null 2>&1 && return
    fi
    say "SKIPPED: $2: $1 is not there. On Debian: sudo apt-get install $1"
}
if [ "$requirements" != requirements.txt ]; then
    command -v chromium >/dev/null || package chromium "the tests of the pages in a browser"
    ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 || command -v initdb >/dev/null ||
        package postgresql "the tests on a team's database"
fi

stamp() { cat pyproject.toml scripts/setup.sh scripts/uv.txt requirements.txt "$1" | cksum; }

if [ "$(cat "$venv/$requirements.stamp" 2>/dev/null)" = "$(stamp "$requirements")" ] &&
    serves "$venv/bin/python"; then
    echo "$venv"
    exit 0
fi

make_venv() { "$python" -m venv --clear "$venv" >&2; }

if ! { [ -x "$venv/bin/pip" ] && serves "$venv/bin/python"; }; then
    say "Making the environment $venv with $("$python" --version) ..."
    package=python$("$python" -c 'import sys; print("%d.%d" % sys.version_info[:2])')-venv
    if ! "$python" -c 'import ensurepip' 2>/dev/null; then
        if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
            say "Python's venv is not there: installing $package ..."
            { apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -qq -y "$package"; } >&2 ||
                fail "apt-get could not install $package"
        else
            fail "Python's venv is not there. Type this, then run the command again:
    sudo apt-get install $package"
        fi
    fi
    make_venv || fail "$python -m venv $venv failed, see above"
fi

rm -f "$venv"/*.stamp
say "Installing from $requirements ..."
pip="$venv/bin/python -m pip --disable-pip-version-check --quiet"
by_uv() {
    { [ -x "$venv/bin/uv" ] || $pip install --require-hashes -r scripts/uv.txt >/dev/null 2>&1; } &&
        "$venv/bin/uv" pip install --quiet --python "$venv/bin/python" --require-hashes -r "$requirements" >&2
}
by_pip() { $pip install --require-hashes -r "$requirements" >&2; }
by_uv || { say "uv does not serve here, pip does it ..."; by_pip; } ||
    fail "The libraries could not be installed. Is there a way to a package registry?"
$pip install --no-deps --no-build-isolation --editable . >&2 || fail "halfbore itself could not be installed"

stamp requirements.txt > "$venv/requirements.txt.stamp"
stamp "$requirements" > "$venv/$requirements.stamp"
echo "$venv"
