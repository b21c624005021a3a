#!/usr/bin/env bash
# What is installed beside the program agrees with the program:  bash tests/house/assets_check.sh BUILD_DIR
# The man page and the completions name exactly the verbs and options that --help prints; the files for the desktop are valid; the
# scripts are sound; everything arrives where an installed program's files belong. One "ok", "not ok" or "skipped" line each.
set -uo pipefail
tree=$(realpath -- "$1") || exit 2
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.." && pwd -P) || exit 2
assets=$root/assets
program=$tree/offsquare
work=$(mktemp -d) || exit 2
trap 'rm -rf -- "$work"' EXIT

# verdict NAME COMMAND...: ok if the command succeeds in silence on stderr and stdout or not; its output explains a failure.
verdict() {
    local name=$1
    shift
    if "$@" >"$work/said" 2>&1; then printf 'ok - %s\n' "$name"; else printf 'not ok - %s: %s\n' "$name" "$(head -c 600 "$work/said" | tr '\n' ' ')"; fi
}

# verdict_if TOOL NAME COMMAND...: the same, where the tool is installed.
verdict_if() {
    local tool=$1
    shift
    if command -v "$tool" >/dev/null 2>&1; then verdict "$@"; else printf 'skipped - %s: %s is not installed\n' "$1" "$tool"; fi
}

# same NAME WANTED FOUND: two lists of words, in any order.
same() {
    local wanted found
    wanted=$(tr ' ' '\n' <<<"$2" | sed '/^$/d' | sort -u)
    found=$(tr ' ' '\n' <<<"$3" | sed '/^$/d' | sort -u)
    if [ -z "$wanted" ]; then printf 'not ok - %s: nothing to compare with\n' "$1"
    elif [ "$wanted" = "$found" ]; then printf 'ok - %s\n' "$1"
    else printf 'not ok - %s: %s\n' "$1" "$(diff <(printf '%s\n' "$wanted") <(printf '%s\n' "$found") | sed -n 's/^</not there:/p; s/^>/too many:/p' | tr '\n' ' ')"
    fi
}

# ---- the program and what is written about it
help_verbs() { "$program" --help | sed -n '/^Verbs/,/^$/s/^  \([a-z]\{1,\}\).*/\1/p'; }
help_options() { "$program" "$1" --help | sed -n '/^Options/,/^$/p' | grep -oE '^  (-[a-z], )?--[a-z][a-z-]*' | tr -d ' ' | tr ',' '\n'; }

man_verbs() { sed -n 's/^\.Ss \([a-z]*\)$/\1/p' "$assets/offsquare.1"; }
# man_options VERB: "Fl -set , -shim" is written without the first dash of a long option, which mdoc adds.
man_options() {
    awk -v verb="$1" '
        /^\.S[sh] / { inside = ($0 == ".Ss " verb) }
        inside && /^\.It Fl / {
            on = 0
            for (i = 1; i <= NF; i++) {
                if ($i == "Fl") on = 1
                else if ($i == "Ar") on = 0
                else if (on && $i != ",") print "-" $i
            }
        }' "$assets/offsquare.1"
}
# what bash would offer after "offsquare VERB -"
bash_options() {
    # shellcheck disable=SC1091
    . "$assets/completions/offsquare.bash"
    COMP_WORDS=(offsquare "$1" -)
    COMP_CWORD=2
    COMPREPLY=()
    _offsquare
    printf '%s\n' "${COMPREPLY[@]}"
}
bash_verbs() {
    # shellcheck disable=SC1091
    . "$assets/completions/offsquare.bash"
    COMP_WORDS=(offsquare '')
    COMP_CWORD=1
    COMPREPLY=()
    _offsquare
    printf '%s\n' "${COMPREPLY[@]}" | grep -v '^-'
}
fish_options() {
    # The help option stands without a condition.
    grep -E -- "(seen_subcommand_from( [a-z]+)* $1[ ']|-s h -l help)" "$assets/completions/offsquare.fish" | grep -v 'not __fish' |
        grep -oE -- ' -[ls] [a-z][a-z-]*' | sed 's/^ -l /--/; s/^ -s /-/'
}
fish_verbs() { sed -n "s/^complete -c offsquare -n \$none -a \([a-z]*\) .*/\1/p" "$assets/completions/offsquare.fish"; }
zsh_verbs() { sed -n "s/^        '\([a-z]*\):.*/\1/p" "$assets/completions/_offsquare"; }
# zsh_names OPTION: the zsh file shares lists among verbs, so only that the name is known.
zsh_names() { grep -qE -- "['{,*]$1([[},]|\$)" "$assets/completions/_offsquare"; }

if [ -x "$program" ]; then
    verbs=$(help_verbs)
    same "verbs in the man page" "$verbs" "$(man_verbs)"
    same "verbs in the bash completion" "$verbs" "$(bash_verbs)"
    same "verbs in the zsh completion" "$verbs" "$(zsh_verbs)"
    same "verbs in the fish completion" "$verbs" "$(fish_verbs)"
    for verb in $verbs; do
        options=$(help_options "$verb")
        # -h stands once in the man page, at the first verb.
        same "$verb: options in the man page" "$(grep -vx -- -h <<<"$options")" "$(man_options "$verb" | grep -vx -- -h)"
        same "$verb: options in the bash completion" "$options" "$(bash_options "$verb")"
        same "$verb: options in the fish completion" "$options" "$(fish_options "$verb")"
        for option in $options; do verdict "$verb $option is known to zsh" zsh_names "$option"; done
    done
    verdict "the keys that completion offers are keys" test -n "$("$program" keys | awk '$1 ~ /^[a-z_]+(\.[a-z_]+)+$/ {print $1}' | grep -x 'faults.fence_skew')"
else
    printf 'skipped - man page and completions against --help: %s is not built\n' "$program"
fi

# the table of what each check sees is made by the program
verdict "tests/house/what_checks_see.md is what offsquare faults --table prints" \
    diff <(sed -n '/^<!-- table -->$/,/^<!-- end of table -->$/p' "$root/tests/house/what_checks_see.md" | grep '^|') <("$program" faults --table | grep '^|')

# ---- valid by their own tools
clean_lint() { local said; said=$(mandoc -Tlint -W style "$1"); printf '%s' "$said"; [ -z "$said" ]; }
verdict_if mandoc "man page is clean" clean_lint "$assets/offsquare.1"
verdict_if desktop-file-validate "desktop entry is valid" desktop-file-validate "$assets/offsquare.desktop"
verdict_if appstreamcli "metainfo is valid" appstreamcli validate --no-net "$assets/local.offsquare.offsquare.metainfo.xml"
verdict_if rsvg-convert "icon can be drawn" rsvg-convert -w 256 -h 256 -o "$work/icon.png" "$assets/offsquare.svg"
verdict_if zsh "zsh completion parses" zsh -n "$assets/completions/_offsquare"
verdict_if fish "fish completion parses" fish -n "$assets/completions/offsquare.fish"
scripts=("$root/.ci/run" "$assets/completions/offsquare.bash")
mapfile -d '' -O 2 -t scripts < <(find "$root/src" "$root/tests" "$assets" -name '*.sh' -print0 | sort -z)
for script in "${scripts[@]}"; do
    verdict "${script#"$root"/} parses" bash -n "$script"
    verdict_if shellcheck "${script#"$root"/} is sound" shellcheck --external-sources --source-path="$root" "$script"
done

# ---- everything arrives
if [ -x "$program" ]; then
    verdict "cmake --install" cmake --install "$tree" --prefix "$work/usr"
    for file in share/man/man1/offsquare.1 share/applications/offsquare.desktop share/metainfo/local.offsquare.offsquare.metainfo.xml \
        share/bash-completion/completions/offsquare share/zsh/site-functions/_offsquare share/fish/vendor_completions.d/offsquare.fish \
        share/icons/hicolor/scalable/apps/offsquare.svg share/icons/hicolor/{48x48,64x64,128x128,256x256}/apps/offsquare.png; do
        case $file in *.png) command -v rsvg-convert >/dev/null 2>&1 || continue ;; esac
        verdict "installs $file" test -s "$work/usr/$file"
    done
    verdict "installs the scenarios" test -n "$(find "$work/usr/share/offsquare/scenarios" -name '*.toml' 2>/dev/null)"
    verdict "the installed program runs" "$work/usr/bin/offsquare" --version
fi
