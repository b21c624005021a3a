#!/usr/bin/env bash
# Makes the pictures of the window in assets/, from the built program, in a real window under Xvfb, with real keys.
#   bash assets/screenshots.sh [path of offsquare]
set -eu
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
program=$(realpath -- "${1:-$root/build/release/offsquare}")
# shellcheck source=tests/gui/drive.sh
. "$root/tests/gui/drive.sh"
lacks=$(missing_tools)
[ -z "$lacks" ] || { echo "screenshots.sh: not installed: $lacks(packages xvfb, xdotool, imagemagick)" >&2; exit 1; }
work=$(mktemp -d)
trap 'stop_display || true; rm -rf -- "$work"' EXIT
export HOME=$work XDG_CONFIG_HOME='' XDG_STATE_HOME='' XDG_DATA_HOME=''   # a first start, and nothing of the person who runs this

shot() { until_true "a still picture" still_picture "$root/assets/$1.png"; }
start_display "$work"
start_window "$program"
xdotool mousemove 640 790
shot window-start
keys 2
until_true "the job" sees button "Make the five cuts"
xdotool mousemove 300 40
one_test
shot window-read
keys c
until_true "the class view, its own sentence back" says "Look at the last column"
shot window-class
keys c
until_true "the window again" sees button "Work it out"
next_is "Put the shim in"
shot window-shim
next_is "Cut again"
one_test
keys n
until_true "the proof" says "Proved square"
shot window-proved
keys d
shot window-dark
keys d
close_window

# one's own saw, with a past
mine() { "$program" saw "blue sled" "$@" >/dev/null; }
mine --new --saw "cabinet saw" --drawer "brass 0.1mm x4" --drawer "paper 0.05mm x6" --date 2026-03-03
mine --read fence-end=12.44mm --read far-end=12.10mm --read length=305mm --read span=560mm --side right --date 2026-03-03
mine --shim left=0.1mm --shim left=0.05mm --date 2026-03-03
mine --read fence-end=12.11mm --read far-end=12.10mm --read length=304mm --date 2026-03-03
mine --read fence-end=11.86mm --read far-end=11.84mm --read length=305mm --date 2026-05-16
mine --read fence-end=12.30mm --read far-end=12.31mm --read length=305mm --date 2026-08-22
mine --repair fence-moved --date 2026-10-20
start_window "$program"
keys 1
until_true "my saw" sees field "far end [mm]"
type_words 12.02
keys Tab Tab
type_words 305
keys Tab
type_words 12.48
xdotool mousemove 640 790
until_true "the answer" says "behind the left end"
shot window-my-saw
close_window

# the sled under a hand
start_window "$program" window "$root/scenarios/needs-oil.toml"
until_true "the words about the file gone" says_not "Opened needs-oil.toml"
keys h
take_hold -130 -60
until_true "the sled to stick" says "The hand is too weak"
picture "$root/assets/window-push.png"
let_go
close_window

# a fault hunt in the notebook
start_window "$program" window "$root/scenarios/two-boards.toml"
xdotool mousemove 640 788
keys b n n
# the blade against the slot comes first, then what tells a turned fence from a bowed one
until_true "the diagnosis" sees button "Choose this check"
keys n
until_true "the first check" sees button "Do this check"
keys n
until_true "the diagnosis after it" sees button "Choose this check"
keys n
until_true "the check" sees button "Do this check"
until_true "the words about the file gone" says_not "Opened two-boards.toml"
shot window-check
keys e
click field "bow [mm]"
until_true "the keyboard in the field" sees field "bow [mm]"
type_words "0.36"
keys Return
until_true "the reading" says "0.360 mm"
shot window-typing
keys e
until_true "the check again" sees button "Do this check"
keys n
until_true "the diagnosis again" sees button "Choose the repair"
shot window-diagnosis
keys n
until_true "the repair" sees button "Make this repair"
shot window-repair
keys n n
until_true "the proof that fails" sees button "Back to the suspects"
shot window-notebook
