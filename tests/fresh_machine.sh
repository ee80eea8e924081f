#!/usr/bin/env bash
# A bare Debian with nothing of ours: the README's commands run there to the letter, and the drawings that come
# out are compared byte for byte with those made on this machine. By hand, as root; needs debootstrap, git and
# python3 with venv.
#
#   bash tests/fresh_machine.sh [--root DIR] [--suite NAME] [--mirror URL] [--setup-only] [--no-tests] [--keep]
#
#   --root DIR     where the bare system is made; one that is there already is used again (default: a new folder)
#   --suite NAME   of Debian (default bookworm); --mirror URL: where its packages come from
#   --setup-only   make the bare system and stop
#   --no-tests     leave out the second command, which passes the tests (it takes minutes)
#   --keep         keep a system made in a new folder
#
# How this machine reaches its package registries (proxy variables, pip.conf, certificates) is handed on.
set -euo pipefail
here="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
root="" suite=bookworm mirror="" setup_only=false tests=true keep=false
while (($#)); do
    case "$1" in
        --root) root="$2"; keep=true; shift ;;
        --suite) suite="$2"; shift ;;
        --mirror) mirror="$2"; shift ;;
        --setup-only) setup_only=true; keep=true ;;
        --no-tests) tests=false ;;
        --keep) keep=true ;;
        *) echo "unknown option: $1" >&2; exit 2 ;;
    esac
    shift
done
[[ $(id -u) == 0 ]] || { echo "run this as root: it makes a system and enters it" >&2; exit 2; }

[[ -n $root ]] || root="$(mktemp -d)"
outside="$(mktemp -d)"
clean() {
    for part in proc sys dev/pts dev; do
        if mountpoint -q "$root/$part"; then umount "$root/$part"; fi
    done
    rm -rf "$outside"
    if ! $keep; then rm -rf --one-file-system "$root"; fi
}
trap clean EXIT

if [[ ! -x $root/usr/bin/python3 ]]; then
    debootstrap --variant=minbase --include=python3,ca-certificates "$suite" "$root" ${mirror:+"$mirror"} >"$outside/log" 2>&1 ||
        { tail -n 5 "$outside/log" >&2; exit 1; }
fi
echo "bare system: $(sed -n 's/^PRETTY_NAME=//p' "$root/etc/os-release" | tr -d '"'), $(chroot "$root" python3 --version)"
for file in /etc/pip.conf /etc/resolv.conf /etc/hosts /etc/apt/apt.conf.d/*proxy* /etc/ssl/certs/ca-certificates.crt; do
    [[ -e $file ]] && mkdir -p "$root$(dirname "$file")" && cp -L "$file" "$root$file"
done
sed -i '/find-links\|file:/d' "$root/etc/pip.conf" 2>/dev/null || true
$setup_only && { echo "made in $root"; exit 0; }

# A clone of what is committed, and nothing else.
rm -rf "$root/root/evencourse"
git clone -q --no-hardlinks "$here" "$root/root/evencourse"

# The README's commands.
system="$(grep -o 'apt-get install [a-z0-9 -]*' "$here/README.md" | head -n 1)"
mapfile -t commands < <(grep '^python3 -m venv' "$here/README.md")
((${#commands[@]} == 2)) || { echo "README.md: two commands wanted, ${#commands[@]} found" >&2; exit 1; }

inside() {
    echo "> $1"
    mountpoint -q "$root/proc" || mount -t proc proc "$root/proc"
    mountpoint -q "$root/dev/pts" || mount --bind /dev/pts "$root/dev/pts"
    env -i HOME=/root PATH=/usr/sbin:/usr/bin:/sbin:/bin LANG=C.UTF-8 DEBIAN_FRONTEND=noninteractive \
        ${https_proxy:+https_proxy="$https_proxy"} ${http_proxy:+http_proxy="$http_proxy"} \
        ${PIP_INDEX_URL:+PIP_INDEX_URL="$PIP_INDEX_URL"} ${PIP_CERT:+PIP_CERT="$PIP_CERT"} \
        chroot "$root" bash -c "cd /root/evencourse && $1"
}
inside "apt-get update -qq && ${system/install/install -y -qq --no-install-recommends} >/dev/null"

# The sample drawn too, in every format; what the first command makes is compared as well.
both="{ ${commands[0]} && .venv/bin/evencourse draw samples/gabled-house.toml -o out; }"
inside "$both >/tmp/first.log 2>&1 || { tail -n 15 /tmp/first.log; false; }"

# The same here, by the same commit in an environment of its own.
git clone -q --no-hardlinks "$here" "$outside/evencourse"
(cd "$outside/evencourse" && bash -c "$both" >"$outside/log" 2>&1) || { tail -n 15 "$outside/log" >&2; exit 1; }
made() {
    (cd "$1" && comm -23 <(find . \( -name .venv -o -name build -o -name .git -o -name '*.egg-info' -o -name __pycache__ \) \
        -prune -o -type f -printf '%P\n' | sort) <(git ls-files | sort))
}
[[ "$(made "$outside/evencourse")" == "$(made "$root/root/evencourse")" ]] ||
    { echo "the bare system made other files" >&2; exit 1; }
count=0
while IFS= read -r file; do
    cmp "$outside/evencourse/$file" "$root/root/evencourse/$file"
    count=$((count + 1))
done < <(made "$outside/evencourse")
((count)) || { echo "nothing was drawn" >&2; exit 1; }
echo "$count files drawn, the same bytes in the bare system and here"

if $tests; then
    inside "rm -rf .venv && ${commands[1]}"
fi
echo "the README's commands work in a bare system"
