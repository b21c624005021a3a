#!/usr/bin/env bash
# Whether another compiler takes every line, warnings being errors:  bash tests/clang.sh [COMPILER]
# COMPILER is clang++-14 unless named. Nothing is linked or run: each file is read as the developer preset reads it.
# On two cores some six minutes; not a part of tests/run.sh.
set -uo pipefail
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd -P) || exit 1
compiler=${1:-clang++-14}
command -v "$compiler" >/dev/null 2>&1 || { printf '%s is not installed. On Debian: apt-get install clang-14\n' "$compiler" >&2; exit 1; }

tree=$root/build/clang
cmake --preset dev -S "$root" -B "$tree" -DCMAKE_CXX_COMPILER="$compiler" -DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=10 >"$tree.log" 2>&1 ||
    { cat "$tree.log" >&2; exit 1; }
# One command a line, each with its file at the end.
mapfile -t commands < <(sed -n 's/^ *"command": "\(.*\)",$/\1/p' "$tree/compile_commands.json" | sed 's/\\"/"/g; s/\\\\/\\/g; s/ -o [^ ]* -c / -fsyntax-only /')
[ "${#commands[@]}" -gt 0 ] || { printf 'nothing to compile\n' >&2; exit 1; }
# shellcheck disable=SC2016  # the inner shell expands it
printf '%s\0' "${commands[@]}" | (cd "$tree" && xargs -0 -P "$(nproc)" -I{} bash -c '{} || { printf "not ok - %s\n" "${0##* }"; exit 1; }' {}) || exit 1
printf '%d units, no warning\n' "${#commands[@]}"
