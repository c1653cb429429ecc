#compdef boothwright
# zsh completion for boothwright: verbs, options, venue files

_boothwright() {
    local -a verbs
    local line state
    verbs=(
        'check:what is wrong, one line a fault'
        'route:the table to type into the host'
        'heard:what the ear will find with the decks as set'
        'order:the connection steps, one after the other'
        'plan:the ways into the mixer, ranked by minutes of work'
        'diagnose:explanations of the line check, likeliest first'
        'failures:what each single failure silences, and the way back'
        'compare:what differs between two visits'
        'restore:what to put back to leave the booth as found'
        'budget:what is used of buses, ports, clocks, buffers, levels'
        'sheet:the one-page patch sheet, as text, CSV or SVG'
        'ident:a sound file for each host deck'
    )
    _arguments -S \
        '--json[print one JSON document, for scripts]' \
        '--ascii[draw and print with ASCII only]' \
        '--mono[no colours]' \
        '--apply[print the venue with the plan made, with plan]:way:(mixer-card player-cards patched)' \
        '--csv[for a spreadsheet, with sheet]' \
        '--svg[a picture of one page, with sheet]' \
        '--all[every host deck, with ident]' \
        '--into[the folder to write into, with ident]:folder:_files -/' \
        '--rate[of the sound file, with ident]:rate:(44100 48000)' \
        '--ebu[the EBU stereo ident, with ident]' \
        '--play[play it on a sound device, with ident]:device:' \
        '--level[dB full scale, with ident --play; measured dB(A), with budget]:level:' \
        '*--not[it is not that cause, with diagnose]:cause:' \
        '--help[list the verbs and options]' \
        '--version[print the version]' \
        '1: :->first' \
        '*:venue file:_files -g "*.json"'
    if [[ $state == first ]]; then
        _describe verb verbs
        _files -g '*.json'
    fi
}

_boothwright "$@"
