#!/bin/sh
# man-check.sh PROGRAM TESTS: whether the manual pages are sound mdoc, whether they tell what the
# program's own tables tell (the suite "cli/man" compares them), and whether the completions know
# every verb that the program has.
set -u
program=$1
tests=$2
bad=0

for page in man/*.[1-9]; do
    if command -v mandoc >/dev/null 2>&1; then
        mandoc -Tlint -W warning "$page" || bad=1
    else
        echo "man-check: mandoc is not here: $page not linted"
    fi
done
LC_ALL=C.UTF-8 CK_RUN_SUITE=cli/man "$tests" || bad=1

verbs=$("$program" --help | awk '/^Verbs:/ { on = 1; next } /^$/ { on = 0 } on { print $1 }')
[ -n "$verbs" ] || { echo "man-check: --help lists no verbs" && bad=1; }
for verb in $verbs; do
    for shell in bash zsh fish; do
        grep -qw -- "$verb" man/completion.$shell || {
            echo "man-check: man/completion.$shell does not know $verb"
            bad=1
        }
    done
done
[ $bad = 0 ] && echo "man-check: the manual agrees with the program"
exit $bad
