#!/usr/bin/env bash
# How hard the tests are:  bash tests/mutants.sh [NAME...]
# Each block of tests/mutants/*.txt is a mistake of one line: a wrong sign, factor, end or clause. The mistake is made in a copy of the tree, only the tests
# that ought to notice are built and run, and the copy is put right again. NAME may hold wildcards ('shim-*'); without one all are tried, which takes an hour or
# two of one core. Not part of tests/run.sh. Before the names may stand
#     --look    only look whether each old text is still in its file, which takes a second
#     --quick   of the tests only those that are named by a file; who survives that is to be tried without it
# MUTANTS_JOBS: how many files compile at once (1). MUTANTS_WORK: the folder of the copy (build/mutants), so that two runs do not meet.
#
# A block:
#     [name]
#     file: src/...                 where
#     old: the exact text           once in that file; several old: lines are lines of the file one after the other
#     new: what it becomes
#     tests: test_shim/stacks test_shim   who ought to notice, one after the other, and the first that does ends it. test_shim/stacks: first those cases of
#                                   test_shim whose file has "stacks" in its name, which saves time
#     what: what the mistake means
#     stays: why                    only where no test can or should notice
#
# Exit code 1 when fewer than 95 of 100 are noticed, when one that is not noticed has no "stays", when an old text is not in its file exactly once, or when a
# mistake does not compile.
set -uo pipefail
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd -P) || exit 2
# shellcheck source=src/setup.sh
. "$root/src/setup.sh"
work=${MUTANTS_WORK:-$root/build/mutants}
copy=$work/tree
tree=$work/build
jobs=${MUTANTS_JOBS:-1}
log=$work/log
mkdir -p "$copy" "$tree" || exit 2

# ---- the list
names=()
declare -A file_of old_of new_of tests_of what_of stays_of

# read_list FILE
read_list() {
    local line name='' key value
    while IFS= read -r line || [ -n "$line" ]; do
        case $line in
            '' | '#'*) continue ;;
            '['*']')
                name=${line#[}
                name=${name%]}
                [ -z "${file_of[$name]+x}" ] || { say "mutants.sh: two mutants are called $name"; exit 2; }
                names+=("$name")
                file_of[$name]=''
                continue
                ;;
        esac
        key=${line%%:*}
        value=${line#*: }
        case $key in
            file) file_of[$name]=$value ;;
            old) old_of[$name]=${old_of[$name]+${old_of[$name]}$'\n'}$value ;;
            new) new_of[$name]=${new_of[$name]+${new_of[$name]}$'\n'}$value ;;
            tests) tests_of[$name]=$value ;;
            what) what_of[$name]=$value ;;
            stays) stays_of[$name]=$value ;;
            *) say "mutants.sh: $1: what is \"$line\"?"; exit 2 ;;
        esac
    done <"$1"
}

# ---- the copy
refresh_copy() {
    local list=$work/files f
    (cd "$root" && git ls-files --cached --others --exclude-standard) | LC_ALL=C sort >"$list" || exit 2
    # Only what differs is written, and is then newer than what was built of it: times are not copied, for what was built of an older copy may be newer.
    while IFS= read -r f; do
        [ ! -e "$root/$f" ] || cmp -s -- "$root/$f" "$copy/$f" || { mkdir -p -- "$(dirname -- "$copy/$f")" && cp -- "$root/$f" "$copy/$f"; } || exit 2
    done <"$list"
    (cd "$copy" && find src tests scenarios assets -type f) | LC_ALL=C sort | LC_ALL=C comm -13 "$list" - |
        while IFS= read -r f; do rm -f -- "$copy/$f"; done
    # The files of a room are compiled one by one, so that a mistake costs one of them; the tests, which never change here, many at once.
    cat >>"$copy/CMakeLists.txt" <<'END'
foreach(room base shop contact cut measure diagnose shim scenario session study lesson picture cli gui)
  if(TARGET offsquare_${room})
    set_target_properties(offsquare_${room} PROPERTIES UNITY_BUILD OFF)
  endif()
endforeach()
END
    : >"$work/wrong"
}

configure() {
    local linker=gold cache=()
    command -v ld.lld >/dev/null 2>&1 && linker=lld
    # A store of its own: what is put right again need not be compiled again.
    export CCACHE_DIR=$work/ccache
    command -v ccache >/dev/null 2>&1 && cache=(-DCMAKE_CXX_COMPILER_LAUNCHER=ccache)
    (cd "$copy" && cmake --preset dev -B "$tree" "-DCMAKE_CXX_FLAGS_DEBUG=-O1" -DOFFSQUARE_WERROR=OFF "-DCMAKE_EXE_LINKER_FLAGS=-fuse-ld=$linker" \
        -DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=10 "${cache[@]}") >"$log" 2>&1 || { tail -n 20 "$log" >&2; exit 2; }
}

build() { ninja -C "$tree" -j"$jobs" "${1%%/*}" >"$log" 2>&1 </dev/null; }

# run_test TARGET[/FILE] SECONDS: stops at the first case that fails.
run_test() {
    local some=()
    [[ $1 == */* ]] && some=("-sf=*${1#*/}*")
    (cd "$tree" && timeout "$2" "tests/${1%%/*}" -aa=1 "${some[@]}") >"$log" 2>&1 </dev/null
}

case_of_log() { sed -n 's/^TEST CASE: *//p' "$log" | head -n 1; }

# ---- before anything is wrong
declare -A longest
# passes_now TARGET[/FILE]: builds it, runs it, and keeps how long a run may take before it counts as noticed.
passes_now() {
    local began
    [ -z "${longest[$1]+x}" ] || return 0
    build "$1" || { tail -n 30 "$log" >&2; say "mutants.sh: $1 does not build as it is"; exit 2; }
    began=$SECONDS
    run_test "$1" 3600 || { tail -n 30 "$log" >&2; say "mutants.sh: $1 fails as it is"; exit 2; }
    longest[$1]=$((10 * (SECONDS - began) + 60))
}

# ---- one mistake
caught=0 unnoticed=0 explained=0 gone=0 broken=0 tried=0
unnoticed_names=()

content_of() { # with a dot at the end, for "$(...)" takes off the last lines' ends
    cat -- "$1" && printf .
}

# wrong_text NAME: the file with the mistake, and a dot. False: its old text is not in it exactly once.
wrong_text() {
    local text rest
    text=$(content_of "$sound/${file_of[$1]}" 2>/dev/null) || return 1
    rest=${text#*"${old_of[$1]}"}
    [ "$rest" != "$text" ] && [[ $rest != *"${old_of[$1]}"* ]] || return 1
    printf '%s' "${text%%"${old_of[$1]}"*}${new_of[$1]}$rest"
}

write_text() { printf '%s' "${1%.}" >"$2"; } # TEXT FILE
put_right() {                                 # TEXT FILE
    [ -s "$work/wrong" ] || return 0
    write_text "$1" "$2"
    : >"$work/wrong"
}

# try NAME
try() {
    local name=$1 file=$copy/${file_of[$1]} target status text before
    if ! text=$(wrong_text "$name"); then
        printf 'GONE      %s: its old text is not in %s exactly once\n' "$name" "${file_of[$name]}"
        gone=$((gone + 1))
        return
    fi
    tried=$((tried + 1))
    [ "$look" = no ] || return
    before=$(content_of "$file")
    status=unnoticed
    for target in ${tests_of[$name]}; do
        [ "$quick" = no ] || [[ $target == */* || ${tests_of[$name]} != */* ]] || continue
        if [ -z "${longest[$target]+x}" ]; then
            put_right "$before" "$file"
            passes_now "$target"
        fi
        if [ ! -s "$work/wrong" ]; then
            printf '%s' "${file_of[$name]}" >"$work/wrong"
            write_text "$text" "$file"
        fi
        if ! build "$target"; then status=broken; break; fi
        run_test "$target" "${longest[$target]}" && continue
        status=caught
        break
    done
    case $status in
        caught)
            caught=$((caught + 1))
            printf 'caught    %s by %s: %s\n' "$name" "$target" "$(case_of_log)"
            ;;
        broken)
            broken=$((broken + 1))
            printf 'BROKEN    %s does not build: %s\n' "$name" "$(grep -m 1 'error' "$log")"
            ;;
        *)
            unnoticed=$((unnoticed + 1))
            unnoticed_names+=("$name")
            if [ -n "${stays_of[$name]-}" ]; then explained=$((explained + 1)); fi
            printf 'SURVIVES  %s (%s)%s\n' "$name" "${what_of[$name]}" "${stays_of[$name]+: ${stays_of[$name]}}"
            ;;
    esac
    put_right "$before" "$file"
}

# ---- all of them
for list in "$root"/tests/mutants/*.txt; do read_list "$list"; done
look=no quick=no
case ${1-} in
    --look) look=yes; shift ;;
    --quick) quick=yes; shift ;;
esac
wanted=()
for name in "${names[@]}"; do
    [ "$#" -gt 0 ] || { wanted+=("$name"); continue; }
    for pattern in "$@"; do
        # shellcheck disable=SC2053  # NAME may hold wildcards
        [[ $name == $pattern ]] && { wanted+=("$name"); break; }
    done
done
[ "${#wanted[@]}" -gt 0 ] || { say "mutants.sh: no mutant is called so"; exit 2; }
for name in "${wanted[@]}"; do
    for key in file_of old_of new_of tests_of what_of; do
        declare -n value=$key
        [ -n "${value[$name]-}" ] || { say "mutants.sh: $name has no ${key%_of}"; exit 2; }
    done
done

sound=$copy   # where the old texts are looked for
if [ "$look" = yes ]; then
    sound=$root
    for name in "${wanted[@]}"; do try "$name"; done
    printf '%d are where they were, %d gone\n' "$tried" "$gone"
    [ "$gone" -eq 0 ]
    exit
fi
refresh_copy
configure
for name in "${wanted[@]}"; do try "$name"; done
printf '%d of %d caught, %d not (%d of them explained), %d whose text is gone, %d that do not build\n' "$caught" "$tried" "$unnoticed" "$explained" "$gone" "$broken"
[ "$unnoticed" -eq 0 ] || printf 'Not noticed: %s\n' "${unnoticed_names[*]}"
[ $((100 * caught)) -ge $((95 * tried)) ] && [ "$unnoticed" -eq "$explained" ] && [ "$gone" -eq 0 ] && [ "$broken" -eq 0 ]
