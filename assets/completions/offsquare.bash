# bash completion for offsquare
# shellcheck shell=bash

_offsquare() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} verb=${COMP_WORDS[1]} options=''
    COMPREPLY=()
    # bash splits at '=' and ':'; what stands before the last '=' of "--set KEY=VALUE" is not ours to complete.
    if [ "$COMP_CWORD" -eq 1 ]; then
        mapfile -t COMPREPLY < <(compgen -W 'job cut shim saw push faults checks diagnose coach picture check keys cases drill mark replay cautions window --help --version' -- "$word")
        return
    fi
    case $before in
        --colour) mapfile -t COMPREPLY < <(compgen -W 'auto always never' -- "$word"); return ;;
        --angles) mapfile -t COMPREPLY < <(compgen -W 'slope mrad' -- "$word"); return ;;
        --side) mapfile -t COMPREPLY < <(compgen -W 'right left' -- "$word"); return ;;
        --units) mapfile -t COMPREPLY < <(compgen -W 'mm inch' -- "$word"); return ;;
        --stage) mapfile -t COMPREPLY < <(compgen -W 'set-up cut read prove' -- "$word"); return ;;
        --exaggeration) mapfile -t COMPREPLY < <(compgen -W 'auto fit' -- "$word"); return ;;
        --shim | --take) mapfile -t COMPREPLY < <(compgen -W 'left= right=' -- "$word"); compopt -o nospace; return ;;
        --check) mapfile -t COMPREPLY < <(compgen -W "$("${COMP_WORDS[0]}" checks --json 2>/dev/null | sed -n 's/^ *"name": "\(.*\)",*$/\1/p')" -- "$word"); return ;;
        --set)
            mapfile -t COMPREPLY < <(compgen -S = -W "$("${COMP_WORDS[0]}" keys 2>/dev/null | awk '$1 ~ /^[a-z_]+(\.[a-z_]+)+$/ {print $1}')" -- "$word")
            compopt -o nospace
            return
            ;;
        --tier) mapfile -t COMPREPLY < <(compgen -W '1 2 3 4' -- "$word"); return ;;
        --rung) mapfile -t COMPREPLY < <(compgen -W '1 2 3' -- "$word"); return ;;
        --suspect) mapfile -t COMPREPLY < <(compgen -W "$("${COMP_WORDS[0]}" faults --json 2>/dev/null | sed -n 's/^ *"key": "\(.*\)",*$/\1/p')" -- "$word"); return ;;
        --output | -o | --from | --twin | --save | --screenshot | --picture | --export | --like-mine) compopt -o default; return ;;
        --seed | --case | --again | --saw | --read | --repair | --note | --drawer | --date | --correct | --withdraw | --reads | --fence-end | --far-end | --length | --span | --u-width | --size | --at | --force | --to | --mu | --base-drag | --blade-drag) return ;;
    esac
    case $verb in
        push) options='--at --force --to --mu --base-drag --blade-drag --pull-back --both --set --json --angles --colour --help -h' ;;
        job) options='--set --shim --seed --exact --reads --save --json --angles --colour --help -h' ;;
        cut) options='--set --shim --seed --exact --reads --brushed --reveal --at --force --to --check --output -o --json --angles --colour --help -h' ;;
        shim) options='--fence-end --far-end --length --span --side --u-width --units --insist --json --angles --colour --help -h' ;;
        saw) options='--new --saw --read --side --brushed --marked --unsure --shim --take --repair --note --set --drawer --date --correct --withdraw --log --export --like-mine --seed --steps --delete --units --insist --json --angles --colour --help -h' ;;
        picture) options='--output -o --stage --exaggeration --dark --size --reveal --set --shim --seed --exact --reads --angles --colour --help -h' ;;
        check) options='--set --angles --colour --help -h' ;;
        faults) options='--table --json --angles --colour --help -h' ;;
        keys | cases | mark | replay | checks) options='--json --angles --colour --help -h' ;;
        diagnose) options='--picture --insist --json --angles --colour --help -h' ;;
        coach) options='--suspect --rung --bits --insist --json --angles --colour --help -h' ;;
        drill) options='--case --tier --again --twin --seed --from --output -o --progress --forget --json --angles --colour --help -h' ;;
        cautions) options='--colour --help -h' ;;
        window) options='--screenshot --angles --help -h' ;;
    esac
    if [[ $word == -* ]]; then
        mapfile -t COMPREPLY < <(compgen -W "$options" -- "$word")
    else
        case $verb in
            job | cut | push | picture | check | window) mapfile -t COMPREPLY < <(compgen -W "$("${COMP_WORDS[0]}" cases --json 2>/dev/null | sed -n 's/^ *"name": "\(.*\)",*$/\1/p')" -- "$word") ;;
        esac
        compopt -o default
    fi
}
complete -F _offsquare offsquare
