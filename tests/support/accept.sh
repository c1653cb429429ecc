#!/bin/sh
# accept.sh [NAME...]: writes down what the program says now as what it has to say in these cases of
# tests/cli (in all, without a name). Read the difference before you commit it.
cd "$(dirname "$0")/../cli" || exit 1
program=$PWD/../../build/plain/boothwright
unset TERM
export LC_ALL=C.UTF-8 BOOTHWRIGHT_DATE=2026-11-25
[ $# -gt 0 ] || set -- *.args
for name; do
    name=${name%.args}
    input=/dev/null
    [ -f "./$name.in" ] && input=./$name.in
    set --
    while IFS= read -r argument; do
        set -- "$@" "$argument"
    done <"./$name.args"
    "$program" "$@" <"$input" >"./$name.out" 2>"./$name.err"
    echo $? >"./$name.rc"
    for ending in out err; do
        [ -s "./$name.$ending" ] || rm -f "./$name.$ending"
    done
    [ "$(cat "./$name.rc")" != 0 ] || rm -f "./$name.rc"
done
