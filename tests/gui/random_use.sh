#!/usr/bin/env bash
# The window under a hand that presses anything:  bash tests/gui/random_use.sh PROGRAM [MINUTES [SEED]]
# Random keys, clicks, drags and sizes of the window, some twelve a second, by real events on a display of its own. Prints what the program
# holds in memory every thirty seconds, and how long it took to end by Ctrl Q. Run by hand: what it found is in window_cost.md.
set -uo pipefail
program=$(realpath -- "$1") || exit 2
minutes=${2:-10}
RANDOM=${3:-1}
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.." && pwd -P) || exit 2
# shellcheck source=tests/gui/drive.sh
. "$root/tests/gui/drive.sh"
can_be_driven "random use" "$program" || exit 0

work=$(mktemp -d) || exit 2
trap 'stop_display; rm -rf -- "$work"' EXIT
export HOME=$work XDG_CONFIG_HOME=$work/config XDG_STATE_HOME=$work/state XDG_DATA_HOME=$work/data
cp -r "$root/scenarios" "$work/saws" && cd "$work/saws" || exit 2

# What a hand would press. Not what saves under a name or ends the program: the work goes on.
pressed=(0 1 2 3 4 5 n n n n n n n b h c t r e d s u p bracketleft bracketright plus minus ctrl+z ctrl+y ctrl+o ctrl+p Escape Escape Return Tab space
    Up Down Left Right Home End Prior Next 1 2 3 4 5 0 period BackSpace question exclam)
sizes=("1280 800" "900 700" "1100 760" "1280 720" "1000 800")

event() { # one event or a drag, at a hand's pace
    local x=$((RANDOM % 1280)) y=$((RANDOM % 800)) size
    case $((RANDOM % 40)) in
        0) read -r -a size <<<"${sizes[RANDOM % ${#sizes[@]}]}" && xdotool windowsize "$drive_id" "${size[@]}" ;;
        [1-3]) xdotool mousemove "$x" "$y" mousedown 1 sleep 0.03 mousemove "$((RANDOM % 1280))" "$((RANDOM % 800))" sleep 0.03 mouseup 1 ;;
        [4-9]) xdotool mousemove "$x" "$y" click "$((RANDOM % 2 + 4))" ;;
        1[0-9] | 2[0-5]) xdotool mousemove "$x" "$y" click 1 ;;
        *) xdotool key "${pressed[RANDOM % ${#pressed[@]}]}" ;;
    esac 2>/dev/null
    sleep 0.06
}
resident() { awk '/^VmRSS/ { printf "%.0f MB", $2 / 1024 }' "/proc/$drive_window/status"; }

start_display "$work" && start_window "$program" || exit 1
began=$SECONDS next=30 events=0
while runs "$drive_window" && [ $((SECONDS - began)) -lt $((60 * minutes)) ]; do
    event
    events=$((events + 1))
    [ $((SECONDS - began)) -ge "$next" ] || continue
    printf '%4d s, %5d events: %s\n' "$next" "$events" "$(resident)"
    next=$((next + 30))
done
if gone; then printf 'it ended by itself\n'; wait "$drive_window"; printf 'exit %s\n' "$?"; cat "$work/said"; exit 1; fi
xdotool keyup shift keyup ctrl mouseup 1
asked=$(date +%s%N)
close_window
status=$?
printf 'ended %s ms after Ctrl Q, exit %s\n' "$((($(date +%s%N) - asked) / 1000000))" "$status"
cat "$work/said"
