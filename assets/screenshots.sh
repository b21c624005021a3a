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
trap 'stop_display; rm -rf -- "$work"' EXIT
export HOME=$work XDG_CONFIG_HOME='' XDG_STATE_HOME='' XDG_DATA_HOME=''   # a first start, and nothing of the person who runs this

shot() {
    until_true "a still picture" still
    picture "$root/assets/$1.png"
}
still() { picture "$work/still.png" && sleep 0.7 && same_picture "$work/still.png"; }
# press_until WORDS: the next step, until the window says so.
press_until() {
    for _ in $(seq 30); do
        says "$1" && return 0
        cp "$drive_tell" "$work/before"
        keys n
        until_true "something new" told_anew
    done
    echo "screenshots.sh: never came to: $1" >&2
    return 1
}
told_anew() { ! cmp -s "$drive_tell" "$work/before"; }

start_display "$work"
start_window "$program"
xdotool mousemove 300 40
press_until "Work it out"
shot window-read
keys c
until_true "the class view" says "Look at the last column"
shot window-class
keys c
press_until "Put the shim"
shot window-shim
press_until "Proved square"
shot window-proved
keys d
shot window-dark
