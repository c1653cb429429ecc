# bash completion for boothwright: verbs, options, venue files

_boothwright() {
    local verbs='check route heard order plan diagnose failures compare restore budget sheet ident'
    local cur=${COMP_WORDS[COMP_CWORD]} verb='' ended='' i word
    for ((i = 1; i < COMP_CWORD; i++)); do
        word=${COMP_WORDS[i]}
        [[ $word == -- ]] && ended=yes && break
        [[ -z $verb && $word != -* && " $verbs " == *" $word "* ]] && verb=$word
    done

    COMPREPLY=()
    if [[ $cur == -* && -z $ended ]]; then
        local options='--json --ascii --help'
        [[ $verb == plan ]] && options='--json --apply --ascii --help'
        [[ $verb == diagnose ]] && options='--json --not --ascii --help'
        [[ $verb == budget ]] && options='--json --level --ascii --help'
        [[ $verb == sheet ]] && options='--csv --svg --help'
        [[ $verb == ident ]] && options='--all --into --rate --ebu --play --level --ascii --help'
        [[ -z $verb ]] && options='--json --ascii --mono --help --version'
        mapfile -t COMPREPLY < <(compgen -W "$options" -- "$cur")
        return
    fi
    [[ -z $verb && -z $ended ]] && mapfile -t COMPREPLY < <(compgen -W "$verbs" -- "$cur")
    local files
    mapfile -t files < <(compgen -d -- "$cur"; compgen -f -X '!*.json' -- "$cur")
    COMPREPLY+=("${files[@]}")
    compopt -o filenames 2>/dev/null
}

complete -F _boothwright boothwright
