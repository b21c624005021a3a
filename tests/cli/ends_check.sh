#!/usr/bin/env bash
# How the real program ends: closed pipes, full devices, interrupts, no display:  bash tests/cli/ends_check.sh BUILD_DIR
# One "ok", "not ok" or "skipped" line each.
set -uo pipefail
tree=$(realpath -- "$1") || exit 2
program=$tree/offsquare
if [ ! -x "$program" ]; then printf 'skipped - how the program ends: %s is not built\n' "$program"; exit 0; fi
work=$(mktemp -d) || exit 2
trap 'rm -rf -- "$work"' EXIT

# ended NAME WANTED STATUS [WORDS]: the exit status, and words on stderr (none wanted: nothing at all on stderr).
ended() {
    local said
    said=$(<"$work/said")
    if [ "$2" != "$3" ]; then printf 'not ok - %s: exit %s instead of %s; %s\n' "$1" "$3" "$2" "${said:0:200}"
    elif [ -z "${4:-}" ] && [ -n "$said" ]; then printf 'not ok - %s: %s\n' "$1" "${said:0:200}"
    elif [ -n "${4:-}" ] && [[ $said != *"$4"* ]]; then printf 'not ok - %s: does not say "%s" but: %s\n' "$1" "$4" "${said:0:200}"
    else printf 'ok - %s\n' "$1"
    fi
}

# A reader that goes away. The output is longer than a pipe holds, so that the program does notice.
"$program" keys --json 2>"$work/said" | head -n 1 >/dev/null
ended "a closed pipe is quiet" 0 "${PIPESTATUS[0]}"
"$program" picture -o - 2>/dev/null | head -c 1 >/dev/null
: >"$work/said"
ended "a picture into a closed pipe is no fault" 0 "${PIPESTATUS[0]}"
"$program" cut --exact --set faults.fence_skew=3mrad 2>"$work/said" | :
ended "the verdict is the exit status though nobody reads it" 1 "${PIPESTATUS[0]}"

"$program" keys >/dev/full 2>"$work/said"
ended "standard output on a full disk" 74 $? "cannot write the output"
"$program" job --save "$work/no/such/folder/x" >/dev/null 2>"$work/said"
ended "a session where no file can be made" 73 $? "cannot write"
"$program" picture -o /dev/full/x.svg 2>"$work/said"
ended "a picture where no file can be made" 73 $? "cannot write"

# An interrupt while the program waits for its input. (While it writes: tests/base/save_test.cpp.)
mkfifo "$work/pipe"
env --default-signal=INT "$program" cut - <"$work/pipe" >"$work/out" 2>"$work/said" &
reader=$!
exec 5>"$work/pipe"          # opens when the program's end is open
# Again and again until it ends: before the program itself runs, the shell between ignores interrupts.
for _ in $(seq 400); do
    kill -INT "$reader" 2>/dev/null || break
    sleep 0.05
done
kill -KILL "$reader" 2>/dev/null
wait "$reader"
ended "interrupted while it waits for its input" 130 $?
exec 5>&-

if "$program" --help | grep -q '^  window'; then
    env -u DISPLAY "$program" 2>"$work/said"
    ended "no display" 66 $? "offsquare job"
    DISPLAY='' "$program" window 2>"$work/said"
    ended "an empty display" 66 $? "offsquare job"
    DISPLAY=:64999 "$program" 2>"$work/said"
    ended "a display that is not there" 66 $? "cannot be opened"
    env -u DISPLAY "$program" window --screenshoot x.png 2>"$work/said"
    ended "a typo is a typo, display or not" 2 $? "did you mean"
else
    printf 'skipped - no display: built without the window\n'
fi
