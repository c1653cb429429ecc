# fish completion for boothwright: verbs, options, venue files

set -l verbs check route heard order plan diagnose failures compare restore budget sheet ident

complete -c boothwright -f
complete -c boothwright -a '(__fish_complete_suffix .json)'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a check \
    -d 'what is wrong, one line a fault'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a route \
    -d 'the table to type into the host'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a heard \
    -d 'what the ear will find with the decks as set'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a order \
    -d 'the connection steps, one after the other'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a plan \
    -d 'the ways into the mixer, ranked by minutes of work'
complete -c boothwright -n "__fish_seen_subcommand_from plan" -l apply -r \
    -a 'mixer-card player-cards patched' -d 'print the venue with the plan made'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a diagnose \
    -d 'explanations of the line check, likeliest first'
complete -c boothwright -n "__fish_seen_subcommand_from diagnose" -l not -r \
    -d 'it is not that cause: CAUSE:SUBJECTS'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a failures \
    -d 'what each single failure silences, and the way back'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a compare \
    -d 'what differs between two visits'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a restore \
    -d 'what to put back to leave the booth as found'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a budget \
    -d 'what is used of buses, ports, clocks, buffers, levels'
complete -c boothwright -n "__fish_seen_subcommand_from budget" -l level -r \
    -d 'how loud it is, 60 to 140 dB(A)'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a sheet \
    -d 'the one-page patch sheet'
complete -c boothwright -n "__fish_seen_subcommand_from sheet" -l csv -d 'for a spreadsheet'
complete -c boothwright -n "__fish_seen_subcommand_from sheet" -l svg -d 'a picture of one page'
complete -c boothwright -n "not __fish_seen_subcommand_from $verbs" -a ident \
    -d 'a sound file for each host deck'
complete -c boothwright -n "__fish_seen_subcommand_from ident" -l all -d 'every host deck'
complete -c boothwright -n "__fish_seen_subcommand_from ident" -l into -r -d 'the folder to write into'
complete -c boothwright -n "__fish_seen_subcommand_from ident" -l rate -r -d '44100 or 48000'
complete -c boothwright -n "__fish_seen_subcommand_from ident" -l ebu -d 'the EBU stereo ident'
complete -c boothwright -n "__fish_seen_subcommand_from ident" -l play -r -d 'play it on this sound device'
complete -c boothwright -n "__fish_seen_subcommand_from ident" -l level -r -d '-60 to -18 dB, with --play'
complete -c boothwright -l json -d 'print one JSON document, for scripts'
complete -c boothwright -l ascii -d 'draw and print with ASCII only'
complete -c boothwright -l mono -d 'no colours'
complete -c boothwright -l help -d 'list the verbs and options'
complete -c boothwright -l version -d 'print the version'
