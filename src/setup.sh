# shellcheck shell=bash
# Read by src/start.sh and tests/run.sh: which Debian packages offsquare needs, and how a preset is configured and built.
# Everything here speaks on stderr, so that stdout stays free for the program.

# To compile and to run.
# shellcheck disable=SC2034  # used by the scripts that read this file
build_packages=(
    g++ cmake ninja-build pkg-config
    libfmt-dev libboost-dev libexpected-dev librandom123-dev   # every room
    libbox2d-dev                                               # contact
    libtomlplusplus-dev                                        # scenario
    nlohmann-json3-dev                                         # session, cli
    libcairo2-dev libpango1.0-dev                              # picture
    libcli11-dev                                               # cli
    libsfml-dev libimgui-dev libstb-dev libgl-dev libx11-dev   # gui
    libfontconfig-dev libfreetype-dev fonts-inter
    librsvg2-bin                                               # the icon in pixels
)

# To test, on top of those.
# shellcheck disable=SC2034  # used by the scripts that read this file
test_packages=(
    doctest-dev librapidcheck-dev
    libeigen3-dev libtoml11-dev                                # the second road to an answer
    xvfb xauth xdotool imagemagick                             # a display that nobody sees, and pictures of it
    shellcheck mandoc desktop-file-utils appstream             # what goes to the desktop
    clang-format                                               # the layout of the C++
)

say() { printf '%s\n' "$*" >&2; }

# missing_packages NAME...: prints those that are not installed, one a line.
missing_packages() {
    local known
    known=$(dpkg-query -W -f='${db:Status-Status} ${Package}\n' "$@" 2>/dev/null | sed -n 's/^installed //p' | sort -u)
    printf '%s\n' "$@" | grep -vxF -f <(printf '%s\n' "$known")
}

# need_packages NAME...: installs what is missing, or says what is missing and who can help. False: something is still missing.
need_packages() {
    if ! command -v dpkg-query >/dev/null 2>&1; then
        say "No dpkg here: the packages are not checked. In Debian's names, offsquare needs: $*"
        return 0
    fi
    local missing=() as_root=()
    mapfile -t missing < <(missing_packages "$@")
    [ "${#missing[@]}" -gt 0 ] || return 0
    if [ "$(id -u)" -ne 0 ]; then
        if ! sudo -n true >/dev/null 2>&1; then
            say "These packages are missing, and you may not install any here: ${missing[*]}"
            say "Ask whoever has root to run:"
            say "    apt-get update && apt-get install --no-install-recommends ${missing[*]}"
            return 1
        fi
        as_root=(sudo -n)
    fi
    say "Installing ${#missing[@]} packages: ${missing[*]}"
    local apt=("${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -y)
    "${apt[@]}" update >&2 </dev/null || say "apt-get update failed; going on with the package lists that are here."
    "${apt[@]}" install --no-install-recommends "${missing[@]}" >&2 </dev/null && return 0
    say "apt-get could not install: ${missing[*]}"
    return 1
}

# run_logged LOG COMMAND...: silent, but for a running line on a terminal; on failure the end of the log. False: the command failed.
run_logged() {
    local log=$1 status
    shift
    mkdir -p "$(dirname "$log")"
    if [ -t 2 ]; then
        "$@" 2>&1 </dev/null | tee "$log" | while IFS= read -r line; do
            case $line in '['*) printf '\r\033[K%.100s' "$line" >&2 ;; esac
        done
        status=${PIPESTATUS[0]}
        printf '\r\033[K' >&2
    else
        "$@" >"$log" 2>&1 </dev/null
        status=$?
    fi
    [ "$status" -eq 0 ] && return 0
    say "Failed: $*"
    grep -nE 'error|FAILED|undefined reference' "$log" | head -n 20 >&2
    tail -n 40 "$log" >&2
    say "The whole output is in $log"
    return 1
}

# make_tree ROOT PRESET DIR [CMAKE OPTION...]: configures DIR by the preset if it must be, and builds all of it.
make_tree() {
    local root=$1 preset=$2 dir=$3 home='' fresh=()
    shift 3
    if command -v ccache >/dev/null 2>&1; then
        export CMAKE_CXX_COMPILER_LAUNCHER=${CMAKE_CXX_COMPILER_LAUNCHER-ccache}
    fi
    [ -f "$dir/CMakeCache.txt" ] && home=$(sed -n 's/^CMAKE_HOME_DIRECTORY:INTERNAL=//p' "$dir/CMakeCache.txt")
    # A tree that was moved or copied must start afresh: its cache names the old place.
    if [ -n "$home" ] && [ "$home" != "$root" ]; then fresh=(--fresh); fi
    if [ "${#fresh[@]}" -gt 0 ] || [ ! -f "$dir/build.ninja" ] || [ "$root/CMakePresets.json" -nt "$dir/build.ninja" ]; then
        (cd "$root" && run_logged "$dir/configure.log" cmake "${fresh[@]}" --preset "$preset" -B "$dir" "$@") || return 1
    fi
    run_logged "$dir/build.log" cmake --build "$dir" --parallel "$(nproc)"
}
