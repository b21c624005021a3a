#!/usr/bin/env bash
# The window ended from outside a moment after something was done in it:  bash tests/gui/endings_check.sh BUILD_DIR
# Whatever ends it, what was done is on the disk and offered at the next start. One "ok", "not ok" or "skipped" line each.
set -uo pipefail
tree=$(realpath -- "$1") || exit 2
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.." && pwd -P) || exit 2
program=$tree/offsquare
# shellcheck source=tests/gui/drive.sh
. "$root/tests/gui/drive.sh"
can_be_driven "endings" "$program" || exit 0

work=$(mktemp -d) || exit 2
trap 'stop_display; rm -rf -- "$work"' EXIT
export HOME=$work
state=$work/state/offsquare

# one_cut: a window without a past, in which the five cuts were made just now.
# A shell lets what it starts in the background ignore SIGINT, and what is ignored stays ignored: put back.
one_cut() {
    rm -rf "$work/state"
    : >"$work/said"
    XDG_STATE_HOME=$work/state start_window env --default-signal=INT "$program" && keys 2 && until_true "the job" sees button "Make the five cuts" && keys n && until_true "the cuts" sees button "Show the strip" &&
        [ -z "$(ls "$state"/unsaved-*.jsonl 2>/dev/null)" ]
}
# ended_with STATUS: the window has ended so, and the cuts are in the one file of unsaved work.
ended_with() {
    local status
    until_true "the program to end" gone || return 1
    wait "$drive_window"
    status=$?
    drive_window=
    [ "$status" -eq "$1" ] || { printf 'exit %s instead of %s\n' "$status" "$1"; cat "$work/said"; return 1; }
    grep -q '"do":"cut"' "$state"/unsaved-*.jsonl && "$program" replay "$state"/unsaved-*.jsonl && [ -z "$(ls "$state"/*.part 2>/dev/null)" ]
}
by_signal() { one_cut && kill -"$1" "$drive_window" && ended_with "$2"; }
# What another door puts aside is on the disk before anything stands in its place, so that not even a kill costs it.
put_aside_and_killed() {
    one_cut && keys 0 && until_true "the first screen" sees button "Practise" && keys 3 && until_true "a case" says "What the owner says" || return 1
    kill -KILL "$drive_window"
    ended_with 137
}
quiet() { cat "$work/said"; [ ! -s "$work/said" ]; }

# The server is killed, as when it crashes or the line to it is cut.
without_display() { one_cut && kill -KILL "$drive_server" && ended_with 66 && grep -q "the display has gone away; unsaved work is kept" "$work/said"; }

start_display "$work" || { printf 'not ok - no display: Xvfb does not start\n'; exit 1; }
# 128 and the signal's number: the shell's way to say that a signal ended it.
verdict "SIGTERM: what was done is kept" by_signal TERM 143
verdict "SIGINT: what was done is kept" by_signal INT 130
verdict "SIGHUP: what was done is kept" by_signal HUP 129
verdict "SIGKILL: what a door has put aside is kept" put_aside_and_killed
verdict "nothing was complained about" quiet
verdict "the display goes away: what was done is kept" without_display
