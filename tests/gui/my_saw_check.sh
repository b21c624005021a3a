#!/usr/bin/env bash
# "My saw" in the real window with real mouse and key events:  bash tests/gui/my_saw_check.sh BUILD_DIR
# From the start to a thickness and an end, by mouse and by keyboard alone: at most two clicks and the values. What stands there is what
# `offsquare shim` prints. What was written down stands in the file after the program was killed. One "ok", "not ok" or "skipped" line each.
set -uo pipefail
tree=$(realpath -- "$1") || exit 2
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.." && pwd -P) || exit 2
program=$tree/offsquare
# shellcheck source=tests/gui/drive.sh
. "$root/tests/gui/drive.sh"
can_be_driven "my saw" "$program" || exit 0

work=$(mktemp -d) || exit 2
trap 'stop_display; rm -rf -- "$work"' EXIT
mkdir -p "$work"/{config,state,data}
export HOME=$work XDG_CONFIG_HOME=$work/config XDG_STATE_HOME=$work/state XDG_DATA_HOME=$work/data
far=12.1 between=305 fence=12.6 span=500
said=$("$program" shim --fence-end "${fence}mm" --far-end "${far}mm" --length "${between}mm" --span "${span}mm" | tr '\n' ' ')
# "Shim 0.205 mm behind the left end of the fence" and "(95 %: 0.193 mm to 0.217 mm)"
thick=$(grep -oE 'Shim [0-9.]+ mm behind the (left|right) end' <<<"$said" | sed 's/^Shim //')

clicks=0
counted() { clicks=$((clicks + 1)); click "$@"; }
values() {
    type_words "$far" && keys Tab Tab && type_words "$between" && keys Tab && type_words "$fence" && keys Tab Tab && type_words "$span"
}
answered() { until_true "the answer" says "Put $thick" && [ -n "$thick" ]; }

by_mouse() {
    clicks=0
    counted button "My saw" && until_true "the page" says "How thick, behind which end?" && values && counted choice "right" && answered && [ "$clicks" -le 2 ]
}
by_keyboard() { keys 1 && until_true "the page" says "How thick, behind which end?" && values && keys Tab Tab space && answered; }

written() {
    keys Return && click choice "marked" && keys n && until_true "the sheet" says "What was put behind the fence?" &&
        until_true "the sheet at rest" settled && click button "It is in: write it down" && until_true "the proof to be asked for" says "Now prove it"
}
stands_after_a_kill() {
    kill -9 "$drive_window"
    wait "$drive_window" 2>/dev/null
    drive_window=
    start_window "$program" && keys 1 && until_true "the log" says "Now prove it" && says "Test 1"
}

start_display "$work" || exit 1
start_window "$program" || exit 1
verdict "by mouse: two clicks and the values, and the answer of offsquare shim" by_mouse
verdict "the window closes" close_window
rm -f "$work/state/offsquare/strips"   # what was half typed would stand there again
start_window "$program" || exit 1
verdict "by keyboard alone: the same" by_keyboard
verdict "it is in: the strip and the shim are written down, and the proof is asked for" written
verdict "killed, and all of it stands there" stands_after_a_kill
verdict "the window closes again" close_window
