# shellcheck shell=bash
# Drives the built program with real mouse and key events on a display of its own, which nobody sees. Read by the checks beside it and by
# assets/screenshots.sh. Neither places nor times are guessed: the program writes after each frame what stands where, how many edges of keys
# and buttons it has seen and whether more frames will come (OFFSQUARE_TELL, src/gui/tell.h). Everything waits for what it needs to see there,
# and what was pressed counts as pressed when a frame has seen it: a busy machine makes this slow, never wrong.

drive_tools=(Xvfb xdotool import compare)     # packages xvfb, xdotool, imagemagick
drive_patience=${drive_patience:-60}          # seconds until a condition that does not come true is a failure

# missing_tools: prints those that are not installed.
missing_tools() { for tool in "${drive_tools[@]}"; do command -v "$tool" >/dev/null 2>&1 || printf '%s ' "$tool"; done; }

# can_be_driven NAME PROGRAM: false, and said as one "skipped" line of a check: something is not installed, or the program has no window.
can_be_driven() {
    local lacks
    lacks=$(missing_tools)
    if [ -n "$lacks" ]; then printf 'skipped - %s: not installed: %s\n' "$1" "$lacks"; return 1; fi
    if [ ! -x "$2" ] || ! "$2" --help | grep -q '^  window'; then printf 'skipped - %s: %s is not built\n' "$1" "$2"; return 1; fi
}

# verdict NAME COMMAND...: one line of a check, "ok" or "not ok" with the end of what the command said. $work: the check's own folder.
verdict() {
    local name=$1
    shift
    # shellcheck disable=SC2154  # the check that reads this says which folder is its own
    if "$@" >"$work/why" 2>&1; then printf 'ok - %s\n' "$name"; else printf 'not ok - %s: %s\n' "$name" "$(tail -c 400 "$work/why" | tr '\n' ' ')"; fi
}

# until_true WHAT COMMAND...: waits until the command succeeds. False: it never did, and WHAT is said on stderr.
until_true() {
    local what=$1 end=$((SECONDS + drive_patience))
    shift
    until "$@"; do
        if [ "$SECONDS" -ge "$end" ]; then
            printf 'waited in vain: %s\n' "$what" >&2
            return 1
        fi
        sleep 0.02
    done
}

# start_display FOLDER: a display of 1280x800 whose number is free. Sets DISPLAY; FOLDER takes what is written on the way.
# -r: keys do not repeat. Where a key's two edges are sent by a process that must wait for its turn, the second can be late enough.
start_display() {
    local number=
    drive_folder=$1
    : >"$drive_folder/display"
    Xvfb -displayfd 3 -screen 0 1280x800x24 -noreset -r 3>"$drive_folder/display" >/dev/null 2>&1 &
    drive_server=$!
    until_true "a display" display_or_none || return 1
    read -r number <"$drive_folder/display" || return 1
    export DISPLAY=:$number
}
# The number is there when its line is whole.
display_or_none() { read -r _ <"$drive_folder/display" || ! runs "$drive_server"; }

# runs PROCESS: one that this shell started and that has not ended.
runs() { [ -n "$1" ] && kill -0 "$1" 2>/dev/null; }

# start_window PROGRAM [ARGUMENT...]: the program, its window in the corner of the display and with the keyboard, the mouse in its middle.
start_window() {
    drive_tell=$drive_folder/tell
    rm -f "$drive_tell" "$drive_tell.part"
    OFFSQUARE_TELL=$drive_tell "$@" 2>>"$drive_folder/said" &
    drive_window=$!
    until_true "a window" told_or_gone || return 1
    [ -s "$drive_tell" ] || { cat "$drive_folder/said" >&2; return 1; }
    until_true "the window among those of the display" find_window || return 1
    until_true "the window in the corner" in_the_corner || return 1
    until_true "the keyboard" has_keyboard || return 1
    xdotool mousemove 640 400
}

told_or_gone() { [ -s "$drive_tell" ] || gone; }
find_window() { drive_id=$(xdotool search --onlyvisible --name offsquare 2>/dev/null | head -n 1) && [ -n "$drive_id" ]; }
# Not windowmove --sync: that waits for the window to leave its place, and where it stands in the corner already it has none to leave.
in_the_corner() {
    xdotool getwindowgeometry --shell "$drive_id" 2>/dev/null | grep -cE '^(X|Y)=0$' | grep -qx 2 && return 0
    xdotool windowmove "$drive_id" 0 0
    return 1
}
has_keyboard() {
    look && [[ $drive_state == *focused* ]] && return 0
    xdotool windowfocus "$drive_id"
    return 1
}

# close_window: as a person closes it with the keyboard; waits until the program has ended. False: it did not, or not well.
# No frame tells of these keys: the program ends when it has seen them.
close_window() {
    local status
    runs "${drive_window:-}" || { printf 'no window to close\n' >&2; return 1; }
    xdotool key --delay 20 ctrl+q
    until_true "the program to end" gone || return 1
    wait "$drive_window"
    status=$?
    drive_window=
    return "$status"
}
gone() { ! runs "$drive_window"; }

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

# ---- what is seen

# look: what the window told last, whole: all of it, its frame, the edges that frame has seen, and its state.
look() {
    drive_seen='' drive_state=''
    IFS= read -r -d '' drive_seen 2>/dev/null <"$drive_tell" || true   # no byte 0 ends it
    IFS=$'\t' read -r _ drive_frame drive_edges _ _ drive_state <<<"$drive_seen"
    [ -n "$drive_state" ]
}

# place_in_view KIND LABEL: "x y" of a thing that is seen and can be used, as of the last look. KIND may be a regular expression.
place_in_view() {
    awk -F '\t' -v kind="$1" -v label="$2" \
        '$1 ~ "^(" kind ")$" && $2 == label && $6 !~ /off|unseen/ && !found { print $4, $5; found = 1 } END { exit !found }' <<<"$drive_seen"
}
place_of() { look && place_in_view "$1" "$2"; }

# says WORDS: they stand somewhere in the window.
says() { look && grep -qF -- "$1" <<<"$drive_seen"; }
says_not() { look && ! grep -qF -- "$1" <<<"$drive_seen"; }
# What stands under a sheet is in the file too, but cannot be pressed.
no_sheet() { look && ! grep -q '^sheet' <<<"$drive_seen"; }
sees() { place_of "$1" "$2" >/dev/null; }

# settled: no frame will come by itself, but that of a tooltip.   at_rest: not even that one.
settled() { look && [[ $drive_state == *settled* ]]; }
at_rest() { look && [[ $drive_state == *rest* ]]; }

# frame_or_settled N: frame N has been drawn, or there will not be so many.
frame_or_settled() { look && { [ "$drive_frame" -ge "$1" ] || [[ $drive_state == *settled* ]]; }; }
# frames_later N: waits for N more frames. The first may have begun before this was called, the second has not.
frames_later() { look && until_true "another frame" frame_or_settled "$((drive_frame + $1))"; }

# resting_place KIND LABEL: its place, when it stands where it stood a frame before (a sheet is centred only in its second frame).
resting_place() {
    local before
    look && before=$(place_in_view "$1" "$2") && frames_later 1 && [ "$before" = "$(place_in_view "$1" "$2")" ] && printf '%s\n' "$before"
}

# ---- what is pressed

# press EDGES XDOTOOL-COMMAND...: so many edges of keys and buttons; returns when a frame has seen the last of them and another has shown what
# came of it. With the edges of one press still on their way the next could overtake what it is meant for, and two presses of the same
# key less than 2 ms apart are one that repeats, for SFML.
press() {
    local edges=$1
    shift
    look || return 1
    edges=$((drive_edges + edges))
    xdotool "$@" && until_true "the window to see: $*" edges_seen "$edges" && frames_later 1
}
edges_seen() { look && [ "$drive_edges" -ge "$1" ]; }

# click KIND LABEL: the mouse goes there and presses.
click() {
    local place x y
    place=$(until_true "$1 \"$2\"" resting_place "$1" "$2") || return 1
    read -r x y <<<"$place"
    press 2 mousemove "$x" "$y" click 1
}

# move X Y: the mouse goes there while a button is down; returns when a frame has seen it there (with a button down, frames do not cease).
move() { xdotool mousemove "$1" "$2" && frames_later 2; }

# drag KIND LABEL DX DY: held, moved in steps, let go.
drag() {
    local place x y step
    place=$(until_true "$1 \"$2\"" resting_place "$1" "$2") || return 1
    read -r x y <<<"$place"
    press 1 mousemove "$x" "$y" mousedown 1 || return 1
    for step in 1 2 3 4; do move "$((x + $3 * step / 4))" "$((y + $4 * step / 4))" || return 1; done
    press 1 mouseup 1
}

# take_hold DX DY: the mouse goes down on the sled so far from the picture's middle, and pulls it along.   let_go: and up again.
take_hold() {
    local place x y step
    place=$(until_true "the sled" resting_place ".*" "Take hold of the sled") || return 1
    read -r x y <<<"$place"
    press 1 mousemove "$((x + $1))" "$((y + $2 + 200))" mousedown 1 || return 1
    for step in 1 2 3 4 5 6 7 8; do
        sleep 0.05   # a hand's pace; nothing is waited for by it
        move "$((x + $1))" "$((y + $2 + 200 - 50 * step))" || return 1
    done
}
let_go() { press 1 mouseup 1; }

# keys KEY...: pressed and let go one after another; "ctrl+z" is two keys, four edges.
keys() {
    local key pluses
    for key in "$@"; do
        pluses=${key//[^+]/}
        press "$((2 * (${#pluses} + 1)))" key --delay 20 "$key" || return 1
    done
}

# type_words WORDS: letters, digits and signs that need no other key held. In pieces of which no key is pressed twice, see press.
type_words() {
    local piece='' i
    [[ $1 != *[!a-z0-9.-]* ]] || { printf 'cannot type: %s\n' "$1" >&2; return 1; }
    for ((i = 0; i < ${#1}; i++)); do
        if [[ $piece == *"${1:i:1}"* ]]; then type_piece "$piece" || return 1; piece=; fi
        piece+=${1:i:1}
    done
    type_piece "$piece"
}
type_piece() { press "$((2 * ${#1}))" type --delay 8 -- "$1"; }

# next_is BUTTON: the next step by its key, until the button of the step after it is there.
next_is() { keys n && until_true "button \"$1\"" sees button "$1"; }
# one_test: from a bench that is ready to the readings of the strip.
one_test() { next_is "Show the strip" && next_is "Read the fence end" && next_is "Read the far end" && next_is "Work it out"; }

# ---- pictures

# picture FILE: what stands on the display now.
picture() { import -silent -window root "$1"; }
same_picture() { picture "$drive_folder/now.png" && compare -metric AE "$1" "$drive_folder/now.png" null: >/dev/null 2>&1; }
other_picture() { ! same_picture "$1"; }
# still_picture FILE: nothing moves, no message stands there that will go, and the display shows the last frame.
still_picture() { at_rest && picture "$1" && same_picture "$1"; }
