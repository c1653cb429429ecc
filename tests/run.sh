#!/bin/sh
# Runs the test programs one after the other; each prints Check's closing lines. Ends with the sum.
unset LINES COLUMNS NO_COLOR ESCDELAY BOOTHWRIGHT_VENUES
export LC_ALL=C.UTF-8 BOOTHWRIGHT_DATE=2026-11-25
export CK_DEFAULT_TIMEOUT=120 # seconds for a test: against hanging, not against a slow machine
# Freed memory is watched, but not so much of it that every test's process begins with all of it.
export ASAN_OPTIONS="${ASAN_OPTIONS-quarantine_size_mb=16}"
bad=0
out=$(mktemp)
for t in "$@"; do
    "$t" >"$out" 2>&1 || bad=1
    cat "$out"
    cat "$out" >>"$out.all"
done
awk '/^[0-9]+%: Checks:/ { gsub(",", ""); n += $3; f += $5 + $7 }
     END { printf "%d passed, %d failed\n", n - f, f; exit n == 0 }' "$out.all" || bad=1
rm -f "$out" "$out.all"
exit $bad
