#!/usr/bin/env bash
# Two builds of one source give the same bytes:  bash tests/determinism.sh OFFSQUARE_A OFFSQUARE_B
# One "ok" or "not ok" line for each command. Stdout, stderr and exit code are compared, and a command that fails in the same way
# in both is not good enough: it must have done its work (exit 0, or 1 for a verdict of no) and, for --json, written a document.
set -uo pipefail
first=$(realpath -- "$1") || exit 2
second=$(realpath -- "$2") || exit 2
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd -P) || exit 2
work=$(mktemp -d) || exit 2
trap 'rm -rf -- "$work"' EXIT

not_ok() { printf 'not ok - %s: %s\n' "$1" "$2"; }

# run_one SIDE PROGRAM ARGUMENT...: leaves stdout, stderr and exit code in $work/SIDE.
run_one() {
    local side=$work/$1
    shift
    mkdir -p "$side"
    (cd "$root/scenarios" && NO_COLOR=1 "$@") >"$side/out" 2>"$side/err" </dev/null
    printf '%s\n' "$?" >"$side/code"
}

# compare ARGUMENT...: the same command in both builds.
compare() {
    local name="offsquare $*" code
    run_one a "$first" "$@" &
    run_one b "$second" "$@"
    wait
    code=$(cat "$work/a/code")
    if [ "$code" -gt 1 ]; then
        not_ok "$name" "exit $code: $(head -c 300 "$work/a/err" | tr '\n' ' ')"
    elif [ ! -s "$work/a/out" ]; then
        not_ok "$name" "nothing written"
    elif [[ " $* " == *" --json "* ]] && [ "$(head -c 1 "$work/a/out")" != "{" ]; then
        not_ok "$name" "no JSON document"
    elif ! diff -r "$work/a" "$work/b" >"$work/diff"; then
        not_ok "$name" "differs: $(head -c 400 "$work/diff" | tr '\n' ' ')"
    else
        printf 'ok - %s\n' "$name"
    fi
}

# compare_picture SCENARIO KIND: the drawing as a file.
compare_picture() {
    local side name="offsquare picture $1 (.$2)" of=("$first" "$second") i=0
    for side in a b; do
        run_one "$side" "${of[$i]}" picture "$1" -o "$work/picture.$2"
        mv -f "$work/picture.$2" "$work/$side/picture" 2>/dev/null || { not_ok "$name" "no picture: $(head -c 300 "$work/$side/err")"; return; }
        i=$((i + 1))
    done
    if diff -r "$work/a" "$work/b" >"$work/diff"; then printf 'ok - %s\n' "$name"; else not_ok "$name" "differs"; fi
    rm -f "$work/a/picture" "$work/b/picture"
}

shopt -s nullglob
scenarios=("$root"/scenarios/*.toml)
[ "${#scenarios[@]}" -gt 0 ] || not_ok "scenarios" "none in $root/scenarios"

# compare_scenario NAME: all that is done with one scenario, in a folder of its own, so that several can run at once.
compare_scenario() {
    local scenario=$1 work=$work/of-$1 seed skew checks hunt
    mkdir -p "$work"
    for seed in 0 1 7 20240229 18446744073709551615; do
        compare cut "$scenario" --seed "$seed" --reveal --json
        compare job "$scenario" --seed "$seed"
    done
    compare cut "$scenario" --exact --reveal --json
    compare push "$scenario" --at 80mm --to -60mm@20mm --force 60N --mu 0.3 --json
    compare push "$scenario" --at -150mm --pull-back
    compare cut "$scenario" --at 90mm --to -60mm@-120mm --force 200N --reveal --json
    for skew in 0 1e-6rad 0.5mrad -0.5mrad 3mrad -5mrad; do
        compare cut "$scenario" --seed 3 --set "faults.fence_skew=$skew" --reveal --json
    done
    compare cut "$scenario" --seed 5 --shim left=0.15mm --reveal --json
    compare cut "$scenario" --seed 5 --shim right=0.15mm --reveal --json
    checks=(--check five-cut --check wiggle --check kerf-width --check straightedge-on-fence --check runner-fit)
    hunt=(--check five-cut --check wiggle --check kerf-width --check tooth-indicator)
    # A sled that binds makes no cut and does not wiggle.
    run_one a "$first" cut "$scenario" --json
    if grep -q '"runners-bind"' "$work/a/out"; then
        checks=(--check slot-widths --check straightedge-on-fence --check runner-fit)
        hunt=(--check slot-widths --check runner-fit --check tooth-indicator)
    fi
    compare cut "$scenario" "${checks[@]}" --json
    run_one a "$first" cut "$scenario" "${hunt[@]}" -o "$work/readings.toml"
    compare diagnose "$work/readings.toml" --json
    # It looks far ahead, which takes the -O0 program seconds: two saws tell whether it does so alike.
    case $scenario in *two-boards.toml | *sticks-half-way.toml) compare coach "$work/readings.toml" --bits --json ;; esac
    compare_picture "$scenario" svg
    compare_picture "$scenario" png
    compare_picture "$scenario" pdf
}

for path in "${scenarios[@]}"; do
    while [ "$(jobs -rp | wc -l)" -ge "$(nproc)" ]; do wait -n; done
    scenario=$(basename "$path")
    compare_scenario "$scenario" >"$work/$scenario.lines" &
done
wait
for path in "${scenarios[@]}"; do cat "$work/$(basename "$path").lines"; done
compare job
compare cases --json
# Logs of a person's own sleds, kept by earlier versions.
mkdir -p "$work/home/offsquare/saws"
cp "$root"/tests/saws/kept/*.jsonl "$work/home/offsquare/saws/"
XDG_DATA_HOME=$work/home compare saw kept --json
compare saw --steps
compare faults --json
compare checks --json
compare faults --table
for widths in "0.4310in 0.4185in" "10.00mm 10.32mm" "12mm 12mm" "1/2in 33/64in"; do
    read -r fence_end far_end <<<"$widths"
    for side in left right; do
        compare shim --fence-end "$fence_end" --far-end "$far_end" --length "12 1/16in" --span "27 1/2in" --side "$side" --u-width 0.01mm --json
    done
done
