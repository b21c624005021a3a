# shellcheck shell=bash
# Drives the built program with real mouse and key events on a display of its own, which nobody sees. Read by real_events_check.sh and
# assets/screenshots.sh. Places are not guessed: the program writes after each frame what stands where (OFFSQUARE_TELL, src/gui/tell.h),
# and everything waits for what it needs to see there instead of sleeping.

drive_tools=(Xvfb xdotool import compare)     # packages xvfb, xdotool, imagemagick
drive_patience=${drive_patience:-20}          # seconds until a condition that does not come true is a failure

# missing_tools: prints those that are not installed.
missing_tools() { for tool in "${drive_tools[@]}"; do command -v "$tool" >/dev/null 2>&1 || printf '%s ' "$tool"; done; }

# until_true WHAT COMMAND...: waits until the command succeeds. False: it never did, and WHAT is said on stderr.
until_true() {
    local what=$1 end=$((SECONDS + drive_patience))
    shift
    until "$@"; do
        if [ "$SECONDS" -ge "$end" ]; then
            printf 'waited in vain: %s\n' "$what" >&2
            return 1
        fi
        sleep 0.03
    done
}

# start_display FOLDER: a display of 1280x800 whose number is free. Sets DISPLAY; FOLDER takes what is written on the way.
start_display() {
    drive_folder=$1
    Xvfb -displayfd 3 -screen 0 1280x800x24 -noreset 3>"$drive_folder/display" >/dev/null 2>&1 &
    drive_server=$!
    until_true "a display" test -s "$drive_folder/display" || return 1
    DISPLAY=:$(<"$drive_folder/display")
    export DISPLAY
}

# start_window PROGRAM [ARGUMENT...]: the program, its window in the corner of the display, the mouse in its middle.
start_window() {
    drive_tell=$drive_folder/tell
    rm -f "$drive_tell"
    OFFSQUARE_TELL=$drive_tell "$@" 2>"$drive_folder/said" &
    drive_window=$!
    until_true "a window" told_or_gone || return 1
    [ -s "$drive_tell" ] || { cat "$drive_folder/said" >&2; return 1; }
    drive_id=$(xdotool search --pid "$drive_window" --name offsquare | head -n 1)
    xdotool windowmove --sync "$drive_id" 0 0 mousemove 640 400
}

told_or_gone() { [ -s "$drive_tell" ] || gone; }

# close_window: as a person closes it with the keyboard; waits until the program has ended.
close_window() {
    keys ctrl+q
    until_true "the program to end" gone || return 1
    wait "$drive_window"
    drive_window=
}
gone() { ! kill -0 "$drive_window" 2>/dev/null; }

# stop_window: the program is ended from outside, if it runs.
stop_window() {
    [ -n "${drive_window:-}" ] || return 0
    kill "$drive_window" 2>/dev/null
    wait "$drive_window" 2>/dev/null
    drive_window=
}

stop_display() {
    stop_window
    if [ -n "${drive_server:-}" ]; then kill "$drive_server" 2>/dev/null && wait "$drive_server" 2>/dev/null; fi
    drive_server=
}

# place_of KIND LABEL: "x y" of a thing that is seen and can be used. KIND may be a regular expression.
place_of() {
    awk -F '\t' -v kind="$1" -v label="$2" \
        '$1 ~ "^(" kind ")$" && $2 == label && $6 !~ /off|unseen/ { print $4, $5; found = 1; exit } END { exit !found }' "$drive_tell" 2>/dev/null
}

# says WORDS: they stand somewhere in the window.
says() { grep -qF -- "$1" "$drive_tell" 2>/dev/null; }
says_not() { ! says "$1"; }
# What stands under a sheet is in the file too, but cannot be pressed.
no_sheet() { ! grep -q '^sheet' "$drive_tell"; }
sees() { place_of "$1" "$2" >/dev/null; }

# rests KIND LABEL: it stands where it stood a moment ago (a sheet is centred only in its second frame).
rests() {
    local before
    before=$(place_of "$1" "$2") || return 1
    sleep 0.05
    [ "$before" = "$(place_of "$1" "$2")" ]
}

# click KIND LABEL: the mouse goes there and presses.
click() {
    local x y
    until_true "$1 \"$2\"" rests "$1" "$2" || return 1
    read -r x y < <(place_of "$1" "$2")
    xdotool mousemove "$x" "$y" click 1
}

# drag KIND LABEL DX DY: held, moved in steps, let go.
drag() {
    local x y
    until_true "$1 \"$2\"" rests "$1" "$2" || return 1
    read -r x y < <(place_of "$1" "$2")
    xdotool mousemove "$x" "$y" mousedown 1
    sleep 0.05
    for step in 1 2 3 4; do xdotool mousemove "$((x + $3 * step / 4))" "$((y + $4 * step / 4))"; done
    sleep 0.05
    xdotool mouseup 1
}

# keys KEY...: pressed and let go one after another.
# take_hold DX DY: the mouse goes down on the sled so far from the picture's middle, and pulls it along.   let_go: and up again.
take_hold() {
    local x y
    until_true "the sled" rests ".*" "Take hold of the sled" || return 1
    read -r x y < <(place_of ".*" "Take hold of the sled")
    xdotool mousemove "$((x + $1))" "$((y + $2 + 200))" mousedown 1
    for step in 1 2 3 4 5 6 7 8; do
        sleep 0.05
        xdotool mousemove "$((x + $1))" "$((y + $2 + 200 - 50 * step))"
    done
}
let_go() { xdotool mouseup 1; }

keys() { xdotool key --delay 20 "$@"; }
type_words() { xdotool type --delay 8 "$1"; }

# next_is BUTTON: the next step by its key, until the button of the step after it is there.
next_is() { keys n && until_true "button \"$1\"" sees button "$1"; }
# one_test: from a bench that is ready to the readings of the strip.
one_test() { next_is "Show the strip" && next_is "Read the fence end" && next_is "Read the far end" && next_is "Work it out"; }

# picture FILE: what stands on the display now.
picture() { import -silent -window root "$1"; }
same_picture() { picture "$drive_folder/now.png" && compare -metric AE "$1" "$drive_folder/now.png" null: >/dev/null 2>&1; }
other_picture() { ! same_picture "$1"; }
