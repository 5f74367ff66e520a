# Functions that both commands share; sourced from the top of the checkout, never run.
# shellcheck shell=sh

have() { command -v "$1" >/dev/null 2>&1; }

stop() {
    printf '%s\n' "$@" >&2
    exit 1
}

# Ask Debian for the packages named, as root or through sudo; else say what to type.
install_packages() {
    line="apt-get update && apt-get install -y --no-install-recommends $*"
    have apt-get || stop "missing here: $*" "on Debian they come with, as root:" "  $line"
    if [ "$(id -u)" -eq 0 ]; then
        as_root=env
    elif have sudo; then
        as_root="sudo env"
    else
        stop "missing here: $*" "install them as root, then start again:" "  $line"
    fi
    echo "installing Debian packages: $*"
    # A source that cannot be refreshed need not be the one that has the packages.
    $as_root apt-get update -qq || echo "some package lists could not be refreshed" >&2
    $as_root DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends \
        "$@" >/dev/null || stop "these could not be installed; as root:" "  $line"
}

# Print the first Python that is 3.11 or newer and can run the statement given.
python_that_can() {
    for name in python3.11 python3 python3.12 python3.13 python3.14; do
        if "$name" -c "import sys; assert sys.version_info >= (3, 11); $1" >/dev/null 2>&1; then
            echo "$name"
            return 0
        fi
    done
    return 1
}

# Set `python`; Debian packs the making of virtual environments apart from Python.
find_python() {
    can_make="import ensurepip, venv"
    python=$(python_that_can "$can_make") && return 0
    install_packages python3 python3-venv
    python=$(python_that_can "$can_make") || stop "cardgen needs Python 3.11 or newer"
}

# Make or refresh virtual environment $1 with $2 in it; at once when nothing changed.  $3 is an
# option for pip.
prepare_venv() {
    find_python
    said=$({ cat pyproject.toml cardgen/__init__.py tests/setup.sh; pwd; echo "$2"; } | cksum)
    [ "$(cat "$1/cardgen-setup" 2>/dev/null)" != "$said" ] || return 0
    echo "setting up $1 (a few minutes the first time)"
    # An interrupted or outdated environment is made anew.
    "$1/bin/python" -c "import pip, sys; assert sys.version_info >= (3, 11)" 2>/dev/null ||
        "$python" -m venv --clear "$1"
    # Unquoted on purpose: no option is none.
    "$1/bin/python" -m pip install --quiet --disable-pip-version-check ${3:-} --editable "$2"
    echo "$said" >"$1/cardgen-setup"
}

# Bring what judges scripts and styles, as locked in tests/web, into $1 with the npm of folder $2.
prepare_web_tools() {
    said=$(cat tests/web/*.mjs tests/web/*.json tests/setup.sh | cksum)
    [ "$(cat "$1/cardgen-setup" 2>/dev/null)" != "$said" ] || return 0
    mkdir -p "$1"
    cp tests/web/*.mjs tests/web/*.json "$1"
    # Whatever a package brings is only read by our tests: none of it runs when it is installed.
    PATH=$PWD/$2:$PATH npm ci --prefix "$1" --ignore-scripts --no-audit --no-fund --silent ||
        stop "npm could not install what tests/web/package-lock.json lists"
    echo "$said" >"$1/cardgen-setup"
}
