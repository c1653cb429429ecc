#!/bin/sh
# make setup: installs what building needs and this machine lacks, and says what.
#
# setup.sh [GOAL...]: for a goal that runs the tests, what the tests need is installed too. What
# they can do without (optional) may fail to install: those tests then say that they are skipped.
set -u

# name | how to tell that it is there | apt-get | dnf | pacman | brew ("-": part of the system)
needed='
C compiler|command -v cc|gcc libc6-dev|gcc|gcc|-
pkg-config|command -v pkg-config|pkg-config|pkgconf-pkg-config|pkgconf|pkgconf
ncurses|pkg-config --exists ncursesw|libncurses-dev|ncurses-devel|ncurses|ncurses
cJSON|pkg-config --exists libcjson|libcjson-dev|cjson-devel|cjson|cjson
'
for_tests='
Check|pkg-config --exists check|check|check-devel|check|check
'
optional='
ALSA|pkg-config --exists alsa|libasound2-dev|alsa-lib-devel|alsa-lib|-
GLPK|has_glpk|libglpk-dev|glpk-devel|glpk|glpk
libvterm|pkg-config --exists vterm|libvterm-dev|libvterm-devel|libvterm|libvterm
libsndfile|pkg-config --exists sndfile|libsndfile1-dev|libsndfile-devel|libsndfile|libsndfile
jsonschema|has_jsonschema|python3-jsonschema|python3-jsonschema|python-jsonschema|-
'

has_glpk() {
    echo '#include <glpk.h>' | cc -E -
}

has_jsonschema() {
    python3 -c 'import jsonschema' || /usr/bin/python3 -c 'import jsonschema'
}

manager() {
    for m in apt-get dnf pacman brew; do
        command -v $m >/dev/null 2>&1 && echo $m && return
    done
}

# The packages of a table whose rows are not there, on one line.
missing() {
    case $tool in
    apt-get) column=3 ;; dnf) column=4 ;; pacman) column=5 ;; *) column=6 ;;
    esac
    echo "$1" | while IFS= read -r row; do
        [ -n "$row" ] || continue
        test_of=$(echo "$row" | cut -d'|' -f2)
        if ! eval "$test_of" >/dev/null 2>&1 </dev/null; then
            package=$(echo "$row" | cut -d'|' -f$column)
            [ "$package" = - ] || printf ' %s' "$package"
        fi
    done
}

install_command() {
    case $tool in
    apt-get) echo "env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends" ;;
    dnf) echo "dnf install -y" ;;
    pacman) echo "pacman -S --needed --noconfirm" ;;
    brew) echo "brew install" ;;
    esac
}

# Installs the packages given.
install() {
    echo "setup: installing with $tool: $*"
    $as_root $(install_command) "$@" >"$log" 2>&1 && return
    tail -n 15 "$log" >&2
    return 1
}

tool=$(manager)
table=$needed
extras=
case " $* " in
*\ test\ * | *\ run-tests\ * | *\ check\ * | *\ asan\ * | *\ hard\ * | *\ cover\ *)
    table=$needed$for_tests
    extras=$optional
    ;;
esac
must=$(missing "$table")
may=$(missing "$extras")
if [ -z "$must$may" ]; then
    echo "setup: nothing is missing"
    exit 0
fi
if [ -z "$tool" ]; then
    echo "setup: none of apt-get, dnf, pacman, brew is here; install by hand (names of Debian):"
    tool=apt-get
    echo " $(missing "$table") $(missing "$extras")"
    exit 1
fi
as_root=
if [ "$(id -u)" -ne 0 ] && [ $tool != brew ]; then
    as_root=sudo
    if ! command -v sudo >/dev/null 2>&1; then
        echo "setup: not root, and there is no sudo; as root run: $(install_command)$must$may"
        exit 1
    fi
fi
log=$(mktemp)
trap 'rm -f "$log"' EXIT
[ $tool = apt-get ] && $as_root apt-get update -q >/dev/null 2>&1
if [ -n "$must" ] && ! install $must; then
    echo "setup: could not install:$must"
    exit 1
fi
for package in $may; do
    install "$package" || echo "setup: could not install $package; tests that need it are skipped"
done
[ -z "$(missing "$table")" ] && exit 0
echo "setup: still not found after installing:$(missing "$table")"
exit 1
