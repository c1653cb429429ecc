#!/bin/sh
# man-check.sh PROGRAM TESTS: whether the manual pages are sound mdoc, whether they tell what the
# program's own tables tell (the suite "cli/man" compares them), and whether the completions know
# every verb and option that the program has.
set -u
program=$1
tests=$2
bad=0

complain() {
    echo "man-check: $*"
    bad=1
}

if command -v mandoc >/dev/null 2>&1; then
    # the pages that ours name are ours, and need not be installed
    mandoc -Tlint man/*.[1-9] | grep -v 'referenced manual not found' && complain "not sound mdoc"
else
    echo "man-check: no mandoc here: the pages are not linted"
fi
LC_ALL=C.UTF-8 CK_RUN_SUITE=cli/man "$tests" || bad=1

listed() {
    "$program" --help | awk -v title="$1:" '$0 == title { on = 1; next } /^$/ { on = 0 }
                                           on { print $1 }'
}
for word in $(listed Verbs) $(listed Options); do
    for shell in bash zsh; do
        grep -q -e "[ '*]$word[]: '\[]" man/completion.$shell ||
            complain "man/completion.$shell does not know $word"
    done
    plain=${word#--}
    grep -q -e "-[al] $plain " man/completion.fish ||
        complain "man/completion.fish does not know $word"
done
[ "$(listed Verbs | wc -l)" -ge 4 ] || complain "--help lists too few verbs"

# What bash would complete the last of the words given with.
completed() {
    bash -c 'source man/completion.bash; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1))
             _boothwright; printf "%s\n" "${COMPREPLY[@]}"' bash "$@" 2>/dev/null | tr '\n' ' '
}
if command -v bash >/dev/null 2>&1; then
    [ "$(completed boothwright ro)" = 'route ' ] || complain "bash does not complete a verb"
    [ "$(completed boothwright check --j)" = '--json ' ] || complain "nor an option"
    [ "$(completed boothwright check venues/tideline-h)" = 'venues/tideline-hall.json ' ] ||
        complain "nor a file"
fi
[ $bad = 0 ] && echo "man-check: the manual and the completions agree with the program"
exit $bad
