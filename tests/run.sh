#!/usr/bin/env bash
# Installs what is missing, builds and tests everything:  bash tests/run.sh [--dev] [--same-bytes] [--asan]
#   --dev         every test, with warnings as errors, and the checks of the installed files
#   --same-bytes  the same command gives the same bytes at -O0 and at -O3
#   --asan        every test under the address and undefined-behaviour sanitizers
# Without options: all three. Ends with "N passed, N failed" and exits non-zero if anything failed.
set -uo pipefail
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd -P) || exit 1
# shellcheck source=src/setup.sh
. "$root/src/setup.sh"

passed=0
failed=0

count() { # count PASSED FAILED WHAT
    passed=$((passed + $1))
    failed=$((failed + $2))
    printf '%s: %d passed, %d failed (after %d s)\n' "$3" "$1" "$2" "$SECONDS"
}

# doctest_counts LOG: "PASSED FAILED" over the test cases of all executables that ctest ran. An executable that fails without a
# failed case (it crashed, a sanitizer stopped it, it ran no case at all) counts as one failed.
doctest_counts() {
    awk '
        / Test +#[0-9]+: / { split($0, part, "#"); number = part[2] + 0; ended[number] = 1; if ($0 !~ / Passed /) broken[number] = 1 }
        /^[0-9]+: \[doctest\] test cases:/ {
            number = $1 + 0; n = split($0, part, "|"); cases[number] = 1
            passed += part[2] + 0; bad[number] += part[3] + 0; failed += part[3] + 0
        }
        END { for (number in ended) if ((broken[number] && !bad[number]) || !cases[number]) failed++; printf "%d %d\n", passed, failed }
    ' "$1"
}

# check_counts LOG: "PASSED FAILED" over lines "ok ..." and "not ok ..." of a check script.
check_counts() { awk '/^ok /{p++} /^not ok /{f++} END {printf "%d %d\n", p, f}' "$1"; }

# log_of TREE SCRIPT: where a check script's lines go.
log_of() { printf '%s/%s.log' "$1" "$(basename "$2" .sh)"; }

# run_check TREE SCRIPT [ARGUMENT...]: runs one check script and counts its lines.
run_check() {
    local tree=$1 script=$2
    shift 2
    bash "$script" "$@" >"$(log_of "$tree" "$script")" 2>&1 </dev/null
    count_check "$tree" "$script" "$?"
}

# count_check TREE SCRIPT STATUS: counts the lines of a check script that has ended.
count_check() {
    local log status=$3 good bad
    log=$(log_of "$1" "$2")
    read -r good bad < <(check_counts "$log")
    # A script that stops early, or that checks nothing, has not passed.
    if [ "$bad" -eq 0 ] && { [ "$status" -ne 0 ] || [ "$good" -eq 0 ]; }; then bad=1; fi
    [ "$bad" -eq 0 ] || { grep '^not ok' "$log"; grep -vE '^((not )?ok|skipped) ' "$log" | tail -n 40; }
    grep '^skipped ' "$log"
    count "$good" "$bad" "$(basename "$2")"
}

# Many files compiled as one: a third of the time. In trees of their own, for who changes one file after another is better off without. A missing
# #include hides in such a heap: test_house looks for those of our own headers, src/start.sh and the presets compile file by file and show all.
at_once=(-DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=10)
# The faster of the two linkers that come with the compiler, where it is there.
! command -v ld.gold >/dev/null 2>&1 || at_once+=(-DCMAKE_EXE_LINKER_FLAGS=-fuse-ld=gold)

# The program under test is compiled at -O3, as it ships, so that one tree serves the tests and the comparison with -O0; the preset itself has -O1 -g, for who looks for a mistake. At -O3
# g++ 12 reports overlaps and overruns of strings inside the headers of libstdc++ and fmt that cannot be: those three warnings are left to the sanitizers' tree, where -O1 makes them true.
tested=$root/build/tested-O3
# The window is not part of that comparison.
as_shipped=("-DCMAKE_CXX_FLAGS_DEBUG=-O3 -Wno-restrict -Wno-stringop-overread -Wno-stringop-overflow" -DOFFSQUARE_QUICK_WINDOW=ON)

# build_tests PRESET TREE [OPTION...]: configures and builds one preset. False, and counted as failed: it does not build.
build_tests() {
    local preset=$1 tree=$2
    shift 2
    say "Building the preset '$preset'..."
    make_tree "$root" "$preset" "$tree" "${at_once[@]}" "$@" || { count 0 1 "build of $preset"; return 1; }
}

# run_tests PRESET TREE: runs the test executables of one preset that was built.
run_tests() {
    local preset=$1 tree=$2 good bad
    (cd "$tree" && ctest --verbose --parallel "$(nproc)" --timeout 600) >"$tree/tests.log" 2>&1 </dev/null
    read -r good bad < <(doctest_counts "$tree/tests.log")
    # Shown without the lines of the cases that passed.
    [ "$bad" -eq 0 ] || { grep -E '^[0-9]+: |Test +#.*(Failed|Exception|Timeout)' "$tree/tests.log" | grep -v '\[doctest\] ' | tail -n 200; }
    [ "$good" -gt 0 ] || bad=$((bad > 0 ? bad : 1))
    count "$good" "$bad" "tests ($preset)"
}

# The check scripts mostly wait, for a window to draw or for a program to end, and run beside the tests. Two cores serve both, and what the scripts
# check does not depend on how busy those are.
run_dev() {
    build_tests dev "$tested" "${as_shipped[@]}" || return
    local script scripts=("$root"/tests/*/*_check.sh) running=() i
    for script in "${scripts[@]}"; do
        bash "$script" "$tested" >"$(log_of "$tested" "$script")" 2>&1 </dev/null &
        running+=("$!")
    done
    run_tests dev "$tested"
    for i in "${!scripts[@]}"; do
        wait "${running[$i]}"
        count_check "$tested" "${scripts[$i]}" "$?"
    done
}

run_asan() {
    # Without -g1, a tenth of the time: a finding names its functions. Who wants its lines builds the preset as it is.
    build_tests asan "$root/build/all-asan" -DOFFSQUARE_QUICK_BUILD=ON -DCMAKE_CXX_FLAGS_DEBUG=-O1 && run_tests asan "$root/build/all-asan"
}

run_same_bytes() {
    say "Building at -O0 and at -O3..."
    make_tree "$root" release "$root/build/same-O0" -DCMAKE_CXX_FLAGS_RELEASE=-O0 -DOFFSQUARE_WINDOW=OFF "${at_once[@]}" || { count 0 1 "build at -O0"; return; }
    make_tree "$root" dev "$tested" "${at_once[@]}" "${as_shipped[@]}" || { count 0 1 "build at -O3"; return; }
    run_check "$root/build/same-O0" "$root/tests/determinism.sh" "$root/build/same-O0/offsquare" "$tested/offsquare"
}

parts=("$@")
[ "${#parts[@]}" -gt 0 ] || parts=(--dev --same-bytes --asan)
for part in "${parts[@]}"; do
    case $part in
        --dev | --same-bytes | --asan) ;;
        -h | --help) sed -n '2,6s/^# //p' "${BASH_SOURCE[0]}"; exit 0 ;;
        *) say "run.sh: unknown option '$part'; known are --dev, --same-bytes and --asan"; exit 2 ;;
    esac
done

need_packages "${build_packages[@]}" "${test_packages[@]}" || exit 1
export ASAN_OPTIONS=${ASAN_OPTIONS-strict_string_checks=1:detect_stack_use_after_return=1}
# shellcheck disable=SC2016  # the single quotes are for the value, not for the shell
export LSAN_OPTIONS="${LSAN_OPTIONS-suppressions='$root/tests/leaks.txt':print_suppressions=0}"
export UBSAN_OPTIONS=${UBSAN_OPTIONS-print_stacktrace=1}
for part in "${parts[@]}"; do
    case $part in
        --dev) run_dev ;;
        --same-bytes) run_same_bytes ;;
        --asan) run_asan ;;
    esac
done

printf '%d passed, %d failed\n' "$passed" "$failed"
[ "$failed" -eq 0 ]
