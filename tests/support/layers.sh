#!/bin/sh
# The arrows between the rooms: base <- model <- engine <- ui; file stands on model; term on base,
# ui/event.h and ui/grid.h; cli ties all. Curses stays in term/, cJSON in file/, alsa-lib in one file
# of cli/ that the library is without. And no state:
# layers.sh LIBRARY looks for objects that could change in a plain build of libbooth.a.
set -u
bad=$(mktemp)
trap 'rm -f "$bad"' EXIT

# What each room may include, as a pattern.
allowed() {
    case $1 in
    base) echo 'base/' ;;
    model) echo '(base|model)/' ;;
    engine) echo '(base|model|engine)/' ;;
    ui) echo '(base|model|engine|ui)/' ;;
    file) echo '(base|model|file)/' ;;
    term) echo '(base|term)/|ui/(event|grid)\.h' ;;
    cli) echo '(base|model|engine|ui|file|term|cli)/' ;;
    *) echo 'nothing: unknown room' ;;
    esac
}

for room in src/*/; do
    name=$(basename "$room")
    grep -nE '^#include "' "$room"*.[ch] /dev/null |
        grep -vE "#include \"($(allowed "$name"))" >>"$bad"
done
grep -nE '#include <(n?curses|ncursesw/|term)' src/*/*.[ch] | grep -v '^src/term/' >>"$bad"
grep -nE '#include <cjson/|cJSON\.h' src/*/*.[ch] | grep -v '^src/file/json[a-z_]*\.c:' >>"$bad"
grep -nE '#include <(alsa/|sys/asound)' src/*/*.[ch] | grep -v '^src/cli/playback_alsa\.c:' >>"$bad"
if [ $# -gt 0 ] && command -v nm >/dev/null 2>&1; then
    nm -u "$1" 2>/dev/null | awk '/ snd_/ { print "the library needs alsa-lib: " $2 }' >>"$bad"
fi

# A source proves that its own header stands alone by including it first.
for c in src/*/*.c; do
    own=${c#src/}
    own=${own%.c}.h
    [ -f "src/$own" ] || continue
    first=$(grep -m1 '^#include' "$c")
    [ "$first" = "#include \"$own\"" ] || echo "$c: includes its own header late" >>"$bad"
done

# Objects in writable sections; mem.c's hook for last words is the one that may be there.
case $(uname):${1:-none} in
Linux:*/plain/*)
    if command -v objdump >/dev/null 2>&1; then
        objdump -t "$1" |
            awk '/ O / && $0 ~ /\.(data|bss|tdata|tbss|data\.rel|data\.rel\.local)[ \t]|\*COM\*/ &&
                 $NF != "last_words" { print "can change: " $NF " (" $(NF - 2) ")" }' >>"$bad"
    fi
    ;;
*) echo "layers: no plain ELF library to look for state in" ;;
esac

if [ -s "$bad" ]; then
    sed 's/^/layers: /' "$bad"
    exit 1
fi
echo "layers: every arrow points the right way, and nothing keeps state"
