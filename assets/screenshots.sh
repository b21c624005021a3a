#!/usr/bin/env bash
# Makes the pictures of the window in assets/, from the built program, in a real window under Xvfb, with real keys.
#   bash assets/screenshots.sh [path of offsquare]
set -eu
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
program=${1:-$root/build/release/offsquare}
for tool in Xvfb xdotool import; do
    command -v "$tool" >/dev/null || { echo "screenshots.sh: $tool is missing (packages xvfb, xdotool, imagemagick)" >&2; exit 1; }
done
export DISPLAY=:73
Xvfb :73 -screen 0 1280x800x24 -noreset >/dev/null 2>&1 &
server=$!
trap 'kill $window $server 2>/dev/null || true' EXIT
sleep 2
"$program" 2>/dev/null &
window=$!
sleep 4
xdotool search --name offsquare windowmove 0 0
sleep 1
press() { for key in "$@"; do xdotool key "$key"; sleep 0.7; done; }
shot() { import -window root -crop 1280x800+0+0 +repage "$root/assets/$1.png"; }
xdotool mousemove 300 40
press n n n n
shot window-read
press n
shot window-shim
press n n n n n n
shot window-proved
press d
shot window-dark
