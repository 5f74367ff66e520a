#!/bin/sh
# Set up what the tests need, then judge style, types and behavior.
# `quick` leaves out the tests that take long; other arguments go to pytest.
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh

missing=
# The second one opens pages without windows, which takes a third of the time.
have chromium || missing="$missing chromium chromium-headless-shell"
have git || missing="$missing git"
have ngspice || missing="$missing ngspice"
have pdftoppm || missing="$missing poppler-utils"
find_python
has_library() { "$python" -c "import ctypes.util as c; assert c.find_library('$1')" 2>/dev/null; }
# The driver of the browser comes as a wheel, but not with all that its own node needs.
has_library atomic || missing="$missing libatomic1"
has_library zbar || missing="$missing libzbar0"
for models in eng spa; do
    ls /usr/share/tesseract-ocr/*/tessdata/$models.traineddata >/dev/null 2>&1 ||
        missing="$missing tesseract-ocr-$models"
done
# Unquoted on purpose: one word for each package.
[ -z "$missing" ] || install_packages $missing

# What pip would compile is where nobody looks: see the folder of bytecode below.
prepare_venv .venv-test ".[test]" --no-compile
prepare_web_tools .web-tools .venv-test/bin
tool=.venv-test/bin/python
failed=

judge() {
    what=$1
    shift
    echo "== $what"
    "$tool" -m "$@" || failed="$failed $what"
}

# What is compiled is kept beside the tools, in no folder of the checkout; else each worker, and
# each program that a test starts, compiles everything again.
unset PYTHONDONTWRITEBYTECODE
PYTHONPYCACHEPREFIX=$PWD/.venv-test/bytecode
export PYTHONPYCACHEPREFIX

[ "${1:-}" != quick ] || { shift && set -- -m "not long" "$@"; }
compiles=
if [ ! -d "$PYTHONPYCACHEPREFIX" ]; then
    # The first time: one core compiles the tests for all workers while another judges types.
    # What is wrong with them is told below.
    "$tool" -m pytest -q --collect-only "$@" >/dev/null 2>&1 &
    compiles=$!
fi
judge style ruff check --quiet --output-format concise
judge format ruff format --check --quiet
judge types mypy
[ -z "$compiles" ] || wait "$compiles" || :
# In the order of tests/conftest.py, which xdist would change: what takes long is begun first.
judge tests pytest -q -n logical --dist loadgroup --no-loadscope-reorder "$@"

[ -z "$failed" ] || stop "FAILED:$failed"
echo "all passed: style, format, types, tests"
