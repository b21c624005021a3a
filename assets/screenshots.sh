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

shot() {
    until_true "a still picture" still
    picture "$root/assets/$1.png"
}
still() { picture "$work/still.png" && sleep 0.7 && same_picture "$work/still.png"; }
start_display "$work"
start_window "$program"
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
