#include "gui/window.h"

#include <cstdio>

#include "gui/files.h"
#include "gui/kit/bridge.h"
#include "gui/panels.h"
#include "gui/tell.h"

namespace offsquare::gui {
namespace {

int report(const base::Problem& problem) {
    std::fprintf(stderr, "offsquare: %s\n", problem.message.c_str());
    return static_cast<int>(problem.grade);
}

int picture_and_leave(Shell& shell, Bench& bench, PanelState& state, const std::string& path) {
    bench.view.playing = false;
    const auto draw = [&] { draw_page(shell.kit(), bench, state); };
    for (int i = 0; i < 8; ++i) {
        shell.wake();
        shell.turn(draw, [] { return true; });
    }
    const auto done = shell.screenshot(path);
    return done ? 0 : report(done.error());
}

}  // namespace

int run_window(const std::string& file, const std::string& screenshot) {
    Bench bench(scenario::built_in());
    if (!file.empty()) {
        const auto said = open_on(bench, file);
        if (!said) return report(said.error());
        bench.say(*said);
    }
    Shell shell(WindowOptions{});
    if (const auto open = shell.open(); !open) return report(open.error());
    PanelState state;
    state.set_scale = [&](float scale) { shell.set_scale(scale); };
    if (!screenshot.empty()) return picture_and_leave(shell, bench, state, screenshot);
    Scheme scheme = bench.view.scheme;
    Tell tell;
    shell.run(
        [&] {
            draw_page(shell.kit(), bench, state);
            tell(shell.kit().record);
            if (scheme != bench.view.scheme) shell.set_scheme(scheme = bench.view.scheme);
        },
        [&] { return bench.view.playing || bench.said_for > 0.0; });
    return 0;
}

}  // namespace offsquare::gui
