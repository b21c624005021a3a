// The whole page on one bench, without a display.
#pragma once

#include "gui/pages/page.h"
#include "kit_support.h"

namespace window_test {

using namespace offsquare;
using gui::Bench;
using gui::Headless;
using gui::PageState;

/// A window of the usual size on one bench.
struct Window {
    Bench bench{scenario::built_in()};
    PageState state;
    Headless window;
    explicit Window(int width = 1280, int height = 800) : window(options(width, height)) { frames(3); }

    static gui::HeadlessOptions options(int width, int height) {
        gui::HeadlessOptions o = kit_test::small_window();
        o.width = width;
        o.height = height;
        return o;
    }
    void frames(int n) {
        window.frame([this](gui::Kit& kit) { gui::draw_page(kit, bench, state); });
        window.frames(n);
    }
    bool press(const char* label) {
        const bool found = window.click(label);
        frames(4);
        return found;
    }
    void type(const char* text) {
        window.type(text);
        frames(4);
    }
};

/// Frames until nothing is being weighed.
inline void settle(Window& w) {
    w.frames(2);
    w.state.notebook.hunt.wait();
    w.frames(2);
}

inline scenario::Scenario shipped(const std::string& name) {
    const auto loaded = scenario::load(std::string(OFFSQUARE_SOURCE_DIR) + "/scenarios/" + name + ".toml");
    REQUIRE(loaded);
    return loaded->scenario;
}

/// Every control is large enough and in the window, no words are cut; but a long title ends in an ellipsis, with the
/// whole in a tooltip.
inline void is_whole(const Window& w, float width, float height) {
    for (const gui::Drawn& d : w.window.record().items()) {
        if (d.label != w.bench.scenario().title) CHECK_MESSAGE(!d.cut, d.label);
        if (d.kind != gui::Kind::button && d.kind != gui::Kind::step) continue;
        CHECK_MESSAGE(d.hi.x - d.lo.x >= 24.0F, d.label);
        CHECK_MESSAGE(d.hi.y - d.lo.y >= 24.0F, d.label);
        CHECK_MESSAGE(d.hi.x <= width, d.label);
        CHECK_MESSAGE(d.hi.y <= height, d.label);
    }
}

}  // namespace window_test
