#!/usr/bin/env bash
# The whole job in the real window with real mouse and key events:  bash tests/gui/real_events_check.sh BUILD_DIR
# A file is opened by typing its name, the job is done from the first cut to the proof, the session is saved; what is proved, is proved from
# the saved file. One "ok", "not ok" or "skipped" line each.
set -uo pipefail
tree=$(realpath -- "$1") || exit 2
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.." && pwd -P) || exit 2
program=$tree/offsquare
# shellcheck source=tests/gui/drive.sh
. "$root/tests/gui/drive.sh"
can_be_driven "real events" "$program" || exit 0

work=$(mktemp -d) || exit 2
trap 'stop_display; rm -rf -- "$work"' EXIT
mkdir -p "$work"/{config,state,data,saws}
export HOME=$work XDG_CONFIG_HOME=$work/config XDG_STATE_HOME=$work/state XDG_DATA_HOME=$work/data
cp "$root/scenarios/teaching-saw.toml" "$work/saws/my-saw.toml"
log=$work/data/offsquare/sessions/my-session.jsonl   # where sessions are saved unless another folder is chosen

# The program starts with the first screen.
by_a_door() { until_true "the first screen" sees button "Learn the repair" && click button "$1"; }
open_by_name() {
    click button "Open" && click field "File name" && until_true "the field to have the keyboard" field_has_keyboard &&
        type_words "my-saw.toml" && keys Return &&
        until_true "the file to be open" says "Opened my-saw.toml" && until_true "the sheet to go" no_sheet
}
field_has_keyboard() { look && awk -F '\t' '$1 == "field" && $2 == "File name" && $6 ~ /focused/ { found = 1 } END { exit !found }' <<<"$drive_seen"; }

first_test_with_the_mouse() {
    click button "Make the five cuts" && click button "Show the strip" && drag other "Caliper, fence end" 0 -30 && click button "Read the fence end" &&
        click button "Read the far end" && click button "Read both again" && until_true "the readings" says_not "Read the far end" &&
        click button "Work it out" && click button "Put the shim in" && until_true "the next step" sees button "Cut again"
}

second_test_with_keys() { one_test && keys n && until_true "the proof" says "Proved square"; }

# An action is taken back and done again, so that the log is the history and not a mere record of what was pressed.
undo_and_redo() { keys ctrl+z && until_true "the step back" sees button "Work it out" && keys ctrl+y && until_true "the proof again" says "Proved square"; }

save_by_name() {
    keys ctrl+s && click field "File name" && until_true "the field to have the keyboard" field_has_keyboard &&
        keys ctrl+a && type_words "my-session" && keys Return &&
        until_true "the saved session" test -s "$log" && until_true "the word of it" says "Saved my-session.jsonl" && until_true "the sheet to go" no_sheet
}
quiet() { cat "$work/said"; [ ! -s "$work/said" ]; }

# ---- what the file proves
replay_passes() { "$program" replay --json "$log" >"$work/replay.json" && [ "$(grep -o '"state": *"[a-z]*"' "$work/replay.json" | tail -n 1 | grep -o 'pass')" = pass ]; }
actions() { sed -n '2,$p' "$log" | grep -oE '"do":"[a-z-]+"(,"end":"[a-z]+")?' | sed 's/"do"://; s/,"end":/ /; s/"//g' | tr '\n' ','; }
# What was undone and done again stands in it as such.
actions_are() { local found; found=$(actions); printf '%s' "$found"; [[ $found =~ ^cut,read\ fence,read\ far,read\ fence,read\ far,work-out,(put-shim,)+cut,read\ fence,read\ far,work-out,take-back,again,$ ]]; }
caliper_was_dragged() { grep -m 1 '"do":"read"' "$log" | grep -qE '"in_mm":[1-9]'; }

# ---- what is kept
opened_lately() { grep -qx "$work/saws/my-saw.toml" "$work/state/offsquare/recent" && grep -qx "$log" "$work/state/offsquare/recent"; }
closed_and_offered() {
    start_window "$program" && keys 2 && until_true "the job" sees button "Make the five cuts" &&
        keys n && until_true "the cuts" sees button "Show the strip" && keys n && until_true "the strip" sees button "Read the fence end" || return 1
    keys d && until_true "the settings" grep -qsx "paper = dark" "$work/config/offsquare/settings" || return 1
    close_window || return 1
    start_window "$program" && until_true "the offer" says "Go on where you were" && click button "Go on" &&
        until_true "the work of before" sees button "Read the fence end"
}

# ---- the sled under the hand
pushed_by_hand() {
    keys h && take_hold 20 0 && until_true "the fence past the blade" says "Five cuts can be made with this very push" && let_go && click button "Cut five like this" &&
        until_true "the cuts" sees button "Show the strip" && keys n && until_true "the strip" sees button "Read the fence end"
}

# ---- the first screen and back, by the mark and by its key, from a case
there_and_back() {
    click button "To the first screen" && until_true "the first screen" sees button "Practise" &&
        keys 3 && until_true "a case" says "What the owner says" && keys n && until_true "its test" sees button "Weigh the readings" &&
        keys 0 && until_true "both pieces of work" says "Go on where you were" && keys Escape && until_true "the case again" sees button "Weigh the readings"
}

# ---- a window that was covered is drawn again
covered_and_uncovered() {
    local before=$work/before.png cover=
    xdotool mousemove 640 4
    until_true "a still picture" still_picture "$before" || return 1
    # Another program's window over the middle of ours.
    import -silent -window root -crop 400x300+0+0 +repage "$work/cover.png"
    display -geometry +300+200 -negate "$work/cover.png" >/dev/null 2>&1 &
    cover=$!
    until_true "the cover" other_picture "$before" || { kill "$cover"; return 1; }
    kill "$cover"
    wait "$cover" 2>/dev/null
    until_true "the picture as it was before" same_picture "$before"
}

cd "$work/saws" || exit 2   # so that a short name is enough
start_display "$work" || { printf 'not ok - no display: Xvfb does not start\n'; exit 1; }
verdict "the window opens" start_window "$program"
verdict "a door of the first screen leads to the job" by_a_door "Learn the repair"
verdict "covered by another window and uncovered, it is whole" covered_and_uncovered
verdict "a file is opened by typing its name" open_by_name
verdict "the first test with the mouse, down to the shim" first_test_with_the_mouse
verdict "the second test with keys, up to the proof" second_test_with_keys
verdict "undone and done again" undo_and_redo
verdict "the session is saved" save_by_name
stop_window
verdict "files that were opened and saved are remembered" opened_lately
verdict "unsaved work of a closed window is offered at the next start and taken up" closed_and_offered
verdict "the sled is pushed by hand, and the five cuts are made with that push" pushed_by_hand
verdict "the mark and its key lead to the first screen and back, and a case waits there" there_and_back
stop_window
verdict "the saved session replays to the same numbers and passes" replay_passes
verdict "the saved session holds what was done, undone and done again, in order" actions_are
verdict "the caliper stood where it was dragged to" caliper_was_dragged
verdict "nothing was complained about" quiet
