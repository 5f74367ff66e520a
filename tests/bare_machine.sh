#!/bin/sh
# Try both commands of the README, as committed, in a chroot that is a bare Debian 12.
# As root: sh tests/bare_machine.sh [folder to make it in [arguments for pytest ...]]
set -eu
cd "$(dirname "$0")/.."
. tests/setup.sh

# Mounts are made in a namespace of their own. They end with it, and so does all that runs there,
# however it ends: nothing is mounted any more in the folder that is removed.
if [ "${1-}" != --inside ]; then
    [ "$(id -u)" -eq 0 ] || stop "only root can make a chroot"
    have debootstrap || stop "missing here: debootstrap; on Debian it comes with, as root:" \
        "  apt-get update && apt-get install -y --no-install-recommends debootstrap"
    folder=$(mktemp -d "${1:-${TMPDIR:-/tmp}}/bare-machine.XXXXXX")
    [ $# -eq 0 ] || shift
    inside=
    remove() {
        [ -z "$inside" ] || kill -KILL "$inside" 2>/dev/null || true
        wait
        # What was killed may need a moment to be gone.
        rm -rf --one-file-system "$folder" 2>/dev/null ||
            { sleep 5 && rm -rf --one-file-system "$folder"; }
    }
    trap remove EXIT
    trap 'exit 130' HUP INT TERM
    unshare --mount --pid --fork --kill-child sh tests/bare_machine.sh --inside "$folder" "$@" &
    inside=$!
    result=0
    wait "$inside" || result=$?
    inside=
    exit "$result"
fi
root=$2/root
shift 2

# Of this machine's environment only the way to the package sources goes along.
pip_of_user=${HOME-/root}/.config/pip
for name in $(env | sed -n 's/^\([A-Za-z_][A-Za-z0-9_]*\)=.*/\1/p'); do
    case $name in
    PATH | PIP_* | *_proxy | *_PROXY | SSL_CERT_* | REQUESTS_CA_BUNDLE) ;;
    NPM_CONFIG_* | npm_config_* | NODE_EXTRA_CA_CERTS) ;;
    *) unset "$name" ;;
    esac
done
export PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LANG=C.UTF-8
# Errors of pip are wanted, but not a warning of each folder of this machine that is not in there.
export PIP_QUIET=1

carry() {
    for path in "$@"; do
        [ -e "$path" ] || continue
        mkdir -p "$root${path%/*}"
        cp -RH "$path" "$root${path%/*}/"
    done
}

# Print where this machine has Debian 12 from; nothing if it does not say.
mirror() {
    apt-get indextargets --format '$(REPO_URI)' \
        'Origin: Debian' 'Codename: bookworm' 'Created-By: Packages' 2>/dev/null | head -n 1
}

make_machine() {
    mirror=$(mirror)
    # Unquoted on purpose: without a mirror debootstrap takes its own.
    debootstrap --variant=minbase bookworm "$root" $mirror >"$root.log" 2>&1 ||
        stop "$(tail -n 20 "$root.log")" "debootstrap failed"
    mount -t proc proc "$root/proc"
    mount -t devpts -o newinstance,ptmxmode=666 devpts "$root/dev/pts"
    mount -t tmpfs tmpfs "$root/dev/shm"
    carry /etc/hosts /etc/resolv.conf
    carry /etc/ssl/certs /usr/share/ca-certificates /usr/local/share/ca-certificates
    carry "${SSL_CERT_FILE-}" "${REQUESTS_CA_BUNDLE-}" "${PIP_CERT-}" "${PIP_CONFIG_FILE-}"
    carry "${NODE_EXTRA_CA_CERTS-}" "${NPM_CONFIG_CAFILE-}"
    carry /etc/apt/apt.conf /etc/apt/apt.conf.d /etc/pip.conf
    mkdir "$root/root/.config"
    [ ! -e "$pip_of_user" ] || cp -RH "$pip_of_user" "$root/root/.config/pip"
    [ -n "$mirror" ] || return 0
    rm "$root/etc/apt/sources.list"
    carry /etc/apt/sources.list /etc/apt/sources.list.d /etc/apt/preferences.d
    carry /etc/apt/trusted.gpg /etc/apt/trusted.gpg.d /etc/apt/keyrings /usr/share/keyrings
}

results=
failed=0
try() {
    echo "== $*"
    began=$(date +%s)
    result=passed
    chroot "$root" sh -c 'cd /root/cardgen && exec "$@"' sh "$@" || result=FAILED failed=1
    took=$(($(date +%s) - began))
    results="$results$result after $((took / 60)) min $((took % 60)) s: $*
"
}

echo "== a bare Debian 12 in $root, with $(git log -1 --format='%h, %s')"
make_machine
git clone --quiet --no-hardlinks . "$root/root/cardgen"
try sh sample_jobs/try.sh
try sh tests/run.sh "$@"
printf '%s' "$results"
exit "$failed"
