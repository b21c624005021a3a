#!/usr/bin/env bash
# A log survives what can happen to it:  bash tests/saws/store_check.sh BUILD_DIR [TRIES]
# kill -9 at any point (200 tries), a full disk, a home that cannot be written, two programs at once; and through the built program its
# numbers are those of shim and diagnose. One "ok", "not ok" or "skipped" line each.
set -uo pipefail
program=$(realpath -- "$1")/offsquare || exit 2
tries=${2:-200}
work=$(mktemp -d) || exit 2
trap 'rm -rf -- "$work"' EXIT
export XDG_DATA_HOME=$work/home
store=$work/home/offsquare/saws
tell() { if [ "$2" = 0 ]; then printf 'ok - %s\n' "$1"; else printf 'not ok - %s: %s\n' "$1" "$3"; fi; }

file=$store/sled.jsonl
saw() { "$program" saw sled "$@"; }
saw --new --log >/dev/null || { echo "not ok - a log can be begun"; exit 1; }

# ---- kill -9: after each, the file is the old one or the new one, whole, and nothing that was said to be written is lost
lost='' written=0 kept=0 killed=0
for ((i = 1; i <= tries; i++)); do
    before=$(wc -l <"$file")
    "$program" saw sled --note "note $i" --log >"$work/said" 2>&1 &
    pid=$!
    # From before the program is loaded until it has ended: 0 to 24 ms.
    sleep "0.0$(printf '%02d' $((RANDOM % 25)))"
    kill -9 "$pid" 2>/dev/null && killed=$((killed + 1))
    wait "$pid" 2>/dev/null
    code=$?
    after=$(wc -l <"$file")
    [ "$after" -gt "$before" ] && kept=$((kept + 1))
    if [ "$code" = 0 ]; then
        written=$((written + 1))
        grep -q "\"note $i\"" "$file" || lost+=" $i:said-and-lost"
    fi
    [ "$after" -ge "$before" ] && [ "$after" -le $((before + 1)) ] || lost+=" $i:$before->$after"
    saw --log >"$work/log" 2>"$work/err" || lost+=" $i:unreadable"
    [ "$(grep -c ' Note: ' "$work/log")" = $((after - 1)) ] || lost+=" $i:log"
    [ ! -s "$work/err" ] || lost+=" $i:$(head -c 100 "$work/err")"
done
[ -z "$lost" ]
tell "kill -9, $tries tries: $killed killed, $kept written of them and of the others, $written said so; none lost" $? "$lost"
saw --note last --log >/dev/null
left=$(find "$store" -type f ! -name '*.jsonl' | wc -l)
[ "$left" = 0 ]
tell "after them a write leaves nothing lying about" $? "$(ls "$store")"

# ---- a full disk
cp "$file" "$work/before"
full() { # a limit on the size of files stands for the disk; the signal is ignored, so that write() fails
    (trap '' XFSZ; ulimit -f 1; saw --note "$(printf 'x%.0s' {1..1500})" --log) >"$work/said" 2>&1
}
full
code=$?
[ "$code" = 74 ] && cmp -s "$file" "$work/before"
tell "a disk that is full: exit code 74, and the old log is there" $? "code $code: $(head -c 200 "$work/said")"
left=$(find "$store" -type f ! -name '*.jsonl' | wc -l)
[ "$left" = 0 ]
tell "and no half file lies about" $? "$(ls "$store")"
if [ "$(id -u)" = 0 ] && mkdir -p "$work/small" && mount -t tmpfs -o size=16k tmpfs "$work/small" 2>/dev/null; then
    ok=0
    (
        export XDG_DATA_HOME=$work/small
        saw --new --log >/dev/null || exit 1
        for ((i = 1; i <= 200; i++)); do saw --note "$(printf 'y%.0s' {1..300}) $i" --log >/dev/null 2>"$work/err" || break; done
        [ "$i" -lt 200 ] && [ "$(saw --log 2>/dev/null | grep -c ' Note:')" = $((i - 1)) ]
    ) || ok=1
    tell "a disk of 16 kB that fills up: all that was said to be written is there" $ok "$(head -c 200 "$work/err")"
    umount "$work/small"
else
    echo "skipped - a small disk: no tmpfs can be mounted here"
fi

# ---- a home that cannot be written
cp "$program" "$work/program"
chmod 755 "$work" "$work/home" "$work/home/offsquare"
chmod 555 "$store"
chmod 444 "$file"
as_nobody=()
[ "$(id -u)" != 0 ] || as_nobody=(setpriv --reuid=65534 --regid=65534 --clear-groups)
if [ "$(id -u)" != 0 ] || command -v setpriv >/dev/null; then
    "${as_nobody[@]}" "$work/program" saw sled --log >"$work/said" 2>"$work/err"
    code=$?
    [ "$code" = 0 ] && grep -q ' Note: last' "$work/said"
    tell "a home that cannot be written: the log is shown" $? "code $code: $(head -c 200 "$work/err")"
    "${as_nobody[@]}" "$work/program" saw sled --note no >"$work/said" 2>"$work/err"
    code=$?
    [ "$code" = 73 ] && cmp -s "$file" "$work/before" && grep -q 'Nothing can be written here' "$work/err"
    tell "and a note is refused with exit code 73" $? "code $code: $(head -c 200 "$work/err")"
else
    echo "skipped - a home that cannot be written: no setpriv for root"
fi
chmod 755 "$store"
chmod 644 "$file"

# ---- two at once
(
    exec 9>"$store/sled.lock"
    flock -x 9
    saw --log >"$work/said" 2>"$work/err" 9>&-
    echo "$?" >"$work/look"
    saw --note no >"$work/said2" 2>"$work/err2" 9>&-
    echo "$?" >"$work/write"
)
rm -f "$store/sled.lock"
[ "$(cat "$work/look")" = 0 ] && [ "$(cat "$work/write")" = 73 ] && grep -q 'open in another' "$work/err2" && cmp -s "$file" "$work/before"
tell "two at once: the second is told, may look, and may not write" $? "$(cat "$work/err" "$work/err2")"
before=$(grep -c '"note"' "$file")
pids=()
for i in {1..24}; do
    "$program" saw sled --note "at once $i" --log >/dev/null 2>&1 &
    pids+=($!)
done
said=0
for pid in "${pids[@]}"; do if wait "$pid"; then said=$((said + 1)); fi; done
after=$(grep -c '"note"' "$file")
[ $((before + said)) = "$after" ] && saw --log >/dev/null
tell "24 writers at once: $said were told that it is written, and as many are" $? "$before + $said, found $after"

# ---- the same numbers through the built program
same() { # KEY FILE FILE
    grep -q "\"$1\": " "$2" && [ "$(grep -o "\"$1\": [^,]*" "$2" | head -1)" = "$(grep -o "\"$1\": [^,]*" "$3" | head -1)" ]
}
"$program" saw other --new --read fence-end=12.62mm --read far-end=12.02mm --read length=305mm --read span=500mm --json >"$work/mine.json"
"$program" shim --fence-end 12.62mm --far-end 12.02mm --length 305mm --span 500mm --json >"$work/shim.json"
differs=''
for key in fence_skew_rad shim_mm u_shim_mm u_skew_rad; do same "$key" "$work/mine.json" "$work/shim.json" || differs+=" $key"; done
[ -z "$differs" ]
tell "my saw against offsquare shim, to the last digit" $? "$differs"
"$program" saw other --export "$work/readings.toml" >/dev/null && "$program" diagnose "$work/readings.toml" --json >"$work/diagnosis.json"
sed -n '/"diagnosis": {/,$p' "$work/mine.json" | grep -o '"[a-z_0-9]*": [0-9.e-]*' | grep -v diagnosis >"$work/a"
grep -o '"[a-z_0-9]*": [0-9.e-]*' "$work/diagnosis.json" | grep -v schema_version >"$work/b"
[ "$(wc -l <"$work/a")" -gt 40 ] && cmp -s "$work/a" "$work/b"
tell "my saw against offsquare diagnose, to the last digit" $? "$(diff "$work/a" "$work/b" | head -3 | tr '\n' ' ')"
