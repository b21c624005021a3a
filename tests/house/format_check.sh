#!/usr/bin/env bash
# The C++ of the tree is laid out as .clang-format says:  bash tests/house/format_check.sh BUILD_DIR
# Of the built program nothing is needed; the argument is there because every check script is called with it. One "ok", "not ok" or
# "skipped" line each.
set -uo pipefail
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.." && pwd -P) || exit 2
cd -- "$root" || exit 2
work=$(mktemp -d) || exit 2
trap 'rm -rf -- "$work"' EXIT
wanted_version=14 # of Debian 12; others lay out some lines differently
most_characters=120

mapfile -d '' -t files < <(find src tests -type f \( -name '*.cpp' -o -name '*.h' \) -print0 | sort -z)

# verdict NAME FOUND: ok if the file FOUND is empty; else its lines are the places to mend.
verdict() {
    if [ ! -s "$2" ]; then printf 'ok - %s\n' "$1"
    else printf 'not ok - %s: %d places: %s\n' "$1" "$(wc -l <"$2")" "$(head -n 20 "$2" | tr '\n' ' ')"
    fi
}

# ---- the layout
major_version() { "$1" --version 2>/dev/null | sed -n 's/.*version \([0-9]*\)\..*/\1/p' | head -n 1; }
formatter=''
for name in "clang-format-$wanted_version" clang-format; do
    if [ "$(major_version "$name")" = "$wanted_version" ]; then formatter=$name; break; fi
done
layout="${#files[@]} C++ files are formatted"
if [ "${#files[@]}" -eq 0 ]; then
    printf 'not ok - %s: nothing to look at\n' "$layout"
elif [ -n "$formatter" ]; then
    printf '%s\0' "${files[@]}" | xargs -0 -n 10 -P "$(nproc)" "$formatter" --style=file --fallback-style=none --dry-run --Werror >"$work/said" 2>&1
    status=$?
    sed -n 's/^\([^ ]*:[0-9]*\):[0-9]*: error: .*/\1/p' "$work/said" | sort -t: -k1,1 -k2,2n -u >"$work/places"
    # What fails without naming a place (a style that cannot be read, say) is told in its own words.
    [ "$status" -eq 0 ] || [ -s "$work/places" ] || { head -n 5 "$work/said"; printf '%s ended with %d\n' "$formatter" "$status"; } >"$work/places"
    verdict "$layout ($formatter -i FILE mends it)" "$work/places"
elif command -v clang-format >/dev/null 2>&1; then
    printf 'skipped - %s: clang-format here is version %s, and version %s decides\n' "$layout" "$(major_version clang-format)" "$wanted_version"
else
    printf 'skipped - %s: clang-format is not installed\n' "$layout"
fi

# ---- what clang-format leaves long: comments and strings without a place to break them. Characters, not bytes: in UTF-8 every
# character has one byte that is no continuation of another, 200 to 277 in octal.
LC_ALL=C awk -v most="$most_characters" '{
    line = $0
    gsub(/[\200-\277]/, "", line)
    if (length(line) > most) print FILENAME ":" FNR
}' "${files[@]}" </dev/null >"$work/long"
verdict "no line of C++ is over $most_characters characters" "$work/long"

# ---- blame passes over commits that there are
passed_over=".git-blame-ignore-revs names commits of this history"
if [ "$(git rev-parse --show-toplevel 2>/dev/null)" != "$root" ] || ! git rev-parse --quiet --verify HEAD >/dev/null 2>&1; then
    printf 'skipped - %s: no history here\n' "$passed_over"
elif [ "$(git rev-parse --is-shallow-repository)" != false ]; then
    printf 'skipped - %s: the history here is cut short\n' "$passed_over"
else
    mapfile -t named < <(sed 's/#.*//; s/[[:space:]]//g; /^$/d' .git-blame-ignore-revs)
    [ "${#named[@]}" -gt 0 ] || echo "none" >"$work/unknown"
    for commit in "${named[@]}"; do
        git merge-base --is-ancestor "$commit" HEAD 2>/dev/null || echo "$commit"
    done >>"$work/unknown"
    verdict "$passed_over" "$work/unknown"
fi
