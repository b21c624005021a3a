#include "gui/window.h"

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "gui/kit/bridge.h"
#include "gui/panels.h"

namespace offsquare::gui {
namespace {

int report(const base::Problem& problem) {
    std::fprintf(stderr, "offsquare: %s\n", problem.message.c_str());
    return static_cast<int>(problem.grade);
}

base::Result<void> open_into(Bench& bench, const std::string& file) {
    if (file.empty()) return {};
    if (std::filesystem::path(file).extension() != ".jsonl") {
        auto loaded = scenario::load(file);
        if (!loaded) return tl::unexpected(loaded.error());
        bench.open(std::move(loaded->scenario));
        return {};
    }
    std::ifstream in(file, std::ios::binary);
    if (!in) return base::fail(base::Grade::no_input, file + ": cannot be opened");
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    auto replay = session::replay(text, file);
    if (!replay) return tl::unexpected(replay.error());
    bench.open(std::move(*replay));
    return {};
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
    if (const auto opened = open_into(bench, file); !opened) return report(opened.error());
    Shell shell(WindowOptions{});
    if (const auto open = shell.open(); !open) return report(open.error());
    PanelState state;
    state.set_scale = [&](float scale) { shell.set_scale(scale); };
    if (!screenshot.empty()) return picture_and_leave(shell, bench, state, screenshot);
    Scheme scheme = bench.view.scheme;
    shell.run(
        [&] {
            draw_page(shell.kit(), bench, state);
            if (scheme != bench.view.scheme) shell.set_scheme(scheme = bench.view.scheme);
        },
        [&] { return bench.view.playing || bench.said_for > 0.0; });
    return 0;
}

}  // namespace offsquare::gui
