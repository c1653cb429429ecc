#!/bin/sh
# Whether the list of files in DEVELOPERS.md is the tree: every source stands in it, and it names
# nothing that is not there. An entry is "src/ROOM/" followed by indented "NAME.c", "NAME.h" or
# "NAME.[ch]", each at the start of its line.
list=$(mktemp)
tree=$(mktemp)
trap 'rm -f "$list" "$tree"' EXIT

awk '/^```files/ { on = 1; next } /^```/ { on = 0 }
     on && /^src\// { room = $1; next }
     on && NF { file = $1
                if (sub(/\.\[ch\]$/, "", file)) { print room file ".c"; print room file ".h" }
                else print room file }' DEVELOPERS.md | sort >"$list"
find src -name '*.[ch]' | sort >"$tree"

if [ ! -s "$list" ] || ! cmp -s "$list" "$tree"; then
    comm -13 "$list" "$tree" | sed 's/^/files-check: not in DEVELOPERS.md: /'
    comm -23 "$list" "$tree" | sed 's/^/files-check: in DEVELOPERS.md, but not here: /'
    exit 1
fi
echo "files-check: DEVELOPERS.md lists the tree"
