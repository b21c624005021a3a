# fish completion for offsquare

set -l verbs job cut shim push faults checks diagnose picture check keys cases replay cautions window
set -l none "not __fish_seen_subcommand_from $verbs"
complete -c offsquare -n $none -f
complete -c offsquare -n $none -l version -d 'Show the version'
complete -c offsquare -s h -l help -d 'Show help'

complete -c offsquare -n $none -a job -d 'The whole job as a story'
complete -c offsquare -n $none -a cut -d 'Do the five-cut test and all that follows from it'
complete -c offsquare -n $none -a shim -d 'Work out the shim from your own readings'
complete -c offsquare -n $none -a push -d 'Push the sled by hand through its slots'
complete -c offsquare -n $none -a faults -d 'List the set-up errors and which check sees them'
complete -c offsquare -n $none -a checks -d 'List the checks, step by step'
complete -c offsquare -n $none -a diagnose -d 'Weigh readings together'
complete -c offsquare -n $none -a picture -d 'Draw the table from above into a file'
complete -c offsquare -n $none -a check -d 'Validate a scenario file'
complete -c offsquare -n $none -a keys -d 'List every value of a scenario'
complete -c offsquare -n $none -a cases -d 'The saws to practise on, by what their owners say'
complete -c offsquare -n $none -a replay -d 'Run a saved list of actions again and check it'
complete -c offsquare -n $none -a cautions -d 'What to keep in mind at a real saw'
complete -c offsquare -n $none -a window -d 'Open the window'

function __offsquare_keys
    offsquare keys 2>/dev/null | string match -rg '^\s*([a-z_]+(?:\.[a-z_]+)+)\s' | string replace -r '$' '='
end

complete -c offsquare -n '__fish_seen_subcommand_from job cut push picture check' -x -l set -a '(__offsquare_keys)' -d 'Change one value of the scenario'
complete -c offsquare -n '__fish_seen_subcommand_from job cut picture' -x -l shim -a 'left= right=' -d 'Put a shim behind one end of the fence'
complete -c offsquare -n '__fish_seen_subcommand_from job cut picture' -x -l seed -d 'Another run of chance'
complete -c offsquare -n '__fish_seen_subcommand_from job cut picture' -l exact -d 'Read without rounding or noise'
complete -c offsquare -n '__fish_seen_subcommand_from job cut picture' -x -l reads -d 'Readings at each end of the strip'
complete -c offsquare -n '__fish_seen_subcommand_from cut' -l brushed -d 'Brush the fence before each cut'
complete -c offsquare -n '__fish_seen_subcommand_from cut picture' -l reveal -d 'Show the truth as well'
complete -c offsquare -n '__fish_seen_subcommand_from job cut shim push faults checks diagnose keys cases replay' -l json -d 'Print one JSON document'
complete -c offsquare -n '__fish_seen_subcommand_from job cut shim push faults checks diagnose picture check keys cases replay cautions' -x -l colour -a 'auto always never' -d 'Colour of the text'
complete -c offsquare -n '__fish_seen_subcommand_from job cut shim push faults checks diagnose picture check keys cases replay window' -x -l angles -a 'slope mrad' -d 'How angles are shown'

complete -c offsquare -n '__fish_seen_subcommand_from cut' -x -l check -a "(offsquare checks --json 2>/dev/null | string match -rg '\"name\": \"(.*)\"')" -d 'Do this check instead'
complete -c offsquare -n '__fish_seen_subcommand_from faults' -l table -d 'Faults down, checks across'

complete -c offsquare -n '__fish_seen_subcommand_from job' -r -l save -d 'Keep the list of actions'

complete -c offsquare -n '__fish_seen_subcommand_from shim' -x -l fence-end -d 'Width of the strip at the fence end'
complete -c offsquare -n '__fish_seen_subcommand_from shim' -x -l far-end -d 'Width of the strip at the far end'
complete -c offsquare -n '__fish_seen_subcommand_from shim' -x -l length -d 'Length of the old edge between the two places'
complete -c offsquare -n '__fish_seen_subcommand_from shim' -x -l span -d 'Distance between the two shim points'
complete -c offsquare -n '__fish_seen_subcommand_from shim' -x -l side -a 'right left' -d 'Where the strip fell'
complete -c offsquare -n '__fish_seen_subcommand_from shim' -x -l u-width -d 'Standard uncertainty of one width'
complete -c offsquare -n '__fish_seen_subcommand_from shim' -x -l units -a 'mm inch' -d 'Unit of bare numbers'
complete -c offsquare -n '__fish_seen_subcommand_from push cut' -x -l at -d 'Where the hand pushes'
complete -c offsquare -n '__fish_seen_subcommand_from push cut' -x -l force -d 'The most that the hand gives'
complete -c offsquare -n '__fish_seen_subcommand_from push cut' -x -l to -d 'From a travel on the hand is elsewhere'
complete -c offsquare -n '__fish_seen_subcommand_from push' -x -l mu -d 'Friction at the slot walls'
complete -c offsquare -n '__fish_seen_subcommand_from push' -x -l base-drag -d 'Drag of the base on the table'
complete -c offsquare -n '__fish_seen_subcommand_from push' -x -l blade-drag -d 'Drag of the blade while it cuts'
complete -c offsquare -n '__fish_seen_subcommand_from push' -l pull-back -d 'Pull it back instead'
complete -c offsquare -n '__fish_seen_subcommand_from push' -l both -d 'Push the live sled as well'

complete -c offsquare -n '__fish_seen_subcommand_from cut picture' -r -s o -l output -d 'Where to'
complete -c offsquare -n '__fish_seen_subcommand_from picture' -x -l stage -a 'set-up cut read prove' -d 'How far the job has come'
complete -c offsquare -n '__fish_seen_subcommand_from picture' -x -l exaggeration -a 'auto fit' -d 'How many times larger angles are drawn'
complete -c offsquare -n '__fish_seen_subcommand_from picture' -l dark -d 'Light lines on a dark ground'
complete -c offsquare -n '__fish_seen_subcommand_from picture' -x -l size -d 'Size of the page'

complete -c offsquare -n '__fish_seen_subcommand_from shim diagnose' -l insist -d 'What looks like a slip is meant'
complete -c offsquare -n '__fish_seen_subcommand_from diagnose' -r -l picture -d 'Draw the diagnosis at a glance as well'
complete -c offsquare -n '__fish_seen_subcommand_from window' -r -l screenshot -d 'Write a picture of the window and leave'
complete -c offsquare -n '__fish_seen_subcommand_from job cut push picture check window' -a "(offsquare cases --json 2>/dev/null | string match -rg '\"name\": \"(.*)\"')" -d 'A case'
