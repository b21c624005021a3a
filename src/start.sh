#!/usr/bin/env bash
# Installs what is missing, builds offsquare and starts it:  bash src/start.sh [ARGUMENTS OF OFFSQUARE]
# Opens the window; where no window can be opened, does the same job as text. Can be called from any folder.
set -uo pipefail
root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd -P) || exit 1
# shellcheck source=src/setup.sh
. "$root/src/setup.sh"

need_packages "${build_packages[@]}" || exit 1
tree=$root/build/release
[ -x "$tree/offsquare" ] || say "Building offsquare: once, a few minutes..."
make_tree "$root" release "$tree" || exit 1

[ $# -eq 0 ] || exec "$tree/offsquare" "$@"
# The window needs X; a Wayland desktop offers it under DISPLAY too.
if [ -n "${DISPLAY:-}" ]; then
    "$tree/offsquare"
    status=$?
    # Without arguments this means that no window could be opened on that display.
    [ "$status" -eq 66 ] || exit "$status"
fi
say "No window can be opened here, so this is the job as text."
exec "$tree/offsquare" job
