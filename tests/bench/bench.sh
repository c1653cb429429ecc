#!/bin/sh
# make bench: how fast, and how much, with units; as a ratio (x) where there is something to compare
# with. Nothing here passes or fails.
#
# bench.sh BUILD: the folder with the program and, in tests/bench, what measures it.
set -eu
build=$(cd "$1" && pwd)
tools=$build/tests/bench
venues=10000
runs=3
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export BOOTHWRIGHT_VENUES="$work/saved" LC_ALL=C.UTF-8
unset NO_COLOR ESCDELAY

# row WHAT FIGURE UNIT [A B]: one figure, as the programs print theirs; x is A / B
row() {
    awk -v what="$1" -v value="$2" -v unit="$3" -v a="${4:-0}" -v b="${5:-1}" 'BEGIN {
        printf "  %-48s %10.*f %-5s", what, value < 100 ? 2 : 0, value, unit
        if (a > 0 && b > 0) printf "  x %.2f", a / b
        printf "\n" }'
}

# parse NAME COMMAND...: a general-purpose tool that only parses all the venues
parse() {
    name=$1
    shift
    command -v "$1" >/dev/null 2>&1 || return 0
    figures=$("$tools/measure" $runs "$@") || return 0
    set -- $figures
    row "$name: only parses them" "$2" s "$ours" "$2"
    memory="$memory
$name, the same venues|$3"
}

"$tools/compute"
"$tools/assign"
"$tools/checks" venues/*.json
cp venues/tideline-hall.json "$work/"
"$tools/screen" "$build/boothwright" "$work/tideline-hall.json" "$tools/bare"

mkdir "$work/many"
"$tools/venues" "$work/many" $venues
cd "$work/many"
size=$(cat ./*.json | wc -c)
echo "CPU time over $venues venues of $((size / venues)) bytes on average (x: check beside the tool)"
figures=$("$tools/measure" $runs "$build/boothwright" check ./*.json)
set -- $figures
ours=$2
memory="boothwright check, $venues venues|$3"
row "boothwright check: reads, judges, prints" "$ours" s
parse "python3's json" python3 -c 'import json, sys
for name in sys.argv[1:]:
    with open(name, "rb") as f:
        json.load(f)' ./*.json
parse jq jq empty ./*.json
echo "peak memory"
echo "$memory" | while IFS='|' read -r what kib; do
    row "$what" "$kib" KiB
done
