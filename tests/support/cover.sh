#!/bin/sh
# cover.sh BUILD: how much of model, engine and file the tests of a build with --coverage ran, in
# lines and in branches (each assert leaves one that can never be taken).
build=$1
if ! command -v gcov >/dev/null 2>&1; then
    echo "cover: skipped, needs gcov"
    exit 0
fi
printf '%-32s %14s %20s\n' file lines branches
for room in model engine file; do
    for data in "$build"/src/$room/*.gcda; do
        [ -f "$data" ] && gcov -b -n "$data" 2>/dev/null
    done | awk -v room=$room '
        function part(text, n) { sub(/.*:/, "", text); sub(/%.*/, "", text); return text * n / 100 }
        function row(name, l, nl, b, nb) {
            printf "%-32s %5.1f%% of %4d     %5.1f%% of %4d\n", name,
                nl ? 100 * l / nl : 100, nl, nb ? 100 * b / nb : 100, nb
        }
        function done() { if (mine) { row(name, l, nl, b, nb)
                              L += l; NL += nl; B += b; NB += nb } mine = 0 }
        /^File / { done(); name = $2; gsub("\047", "", name)
                   mine = index(name, "src/" room "/") == 1 && name ~ /\.c$/
                   l = nl = b = nb = 0 }
        /^Lines executed/ && mine { nl = $NF; l = part($0, nl) }
        /^Taken at least once/ && mine { nb = $NF; b = part($0, nb) }
        /^$/ { done() }
        END { done(); row("all of " room, L, NL, B, NB) }'
done
