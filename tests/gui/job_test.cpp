// The whole job in the window, driven through ImGui's own input, without a display.
#include <doctest/doctest.h>

#include <cmath>

#include "gui/panels.h"
#include "kit_support.h"

using namespace offsquare;
using gui::Bench;
using gui::Headless;
using gui::PanelState;

namespace {

/// A window of the usual size on one bench.
struct Window {
    Bench bench{scenario::built_in()};
    PanelState state;
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

/// The true skew, by the scenario's fault and the shims that really stand behind the fence; not read off the window.
double true_skew(const session::Trial& trial) {
    double left = 0.0;
    double right = 0.0;
    for (const auto& p : trial.behind_left) left += p.true_mm;
    for (const auto& p : trial.behind_right) right += p.true_mm;
    const auto& fence = trial.scenario.drawing.fence;
    return std::atan(std::tan(trial.scenario.truth.fence_skew_rad) + (right - left) / (fence.shim_right_x_mm - fence.shim_left_x_mm));
}

}  // namespace

TEST_CASE("the whole job with the mouse, from opening to the proof") {
    Window w;
    REQUIRE(w.press("Make the five cuts"));
    REQUIRE(w.press("Show the strip"));
    CHECK(w.window.record().says("Measure the strip at its fence end"));
    REQUIRE(w.press("Read the fence end"));
    REQUIRE(w.press("Read the far end"));
    REQUIRE(w.press("Read both again"));
    CHECK(w.bench.trial().tests.back().fence_end.size() == 2);
    REQUIRE(w.press("Work it out"));
    // The built-in fence is skewed counter-clockwise: the left end sits too near.
    REQUIRE(w.bench.scenario().truth.fence_skew_rad > 0.0);
    CHECK(w.window.record().says("at the left end"));
    REQUIRE(w.press("Put the shim in"));
    CHECK(w.bench.trial().behind_right.empty());
    REQUIRE_FALSE(w.bench.trial().behind_left.empty());
    REQUIRE(w.press("Cut again"));
    REQUIRE(w.press("Show the strip"));
    REQUIRE(w.press("Read the fence end"));
    REQUIRE(w.press("Read the far end"));
    REQUIRE(w.press("Work it out"));
    CHECK(w.bench.trial().proved);
    CHECK(w.window.record().says("Proved square"));
    CHECK(std::abs(true_skew(w.bench.trial())) <= w.bench.scenario().drawing.tolerance_rad);
}

TEST_CASE("the whole job with the keyboard alone, undone to the start and done again") {
    Window w;
    for (int i = 0; i < 40 && !w.bench.trial().proved; ++i) w.type("n");
    REQUIRE(w.bench.trial().proved);
    const std::size_t steps = w.bench.history().done().size();
    const double skew = w.bench.trial().tests.back().skew_rad->value;
    for (std::size_t i = 0; i < steps; ++i) {
        w.window.key(gui::Key::z, {true, false, false});
        w.frames(3);
    }
    CHECK(w.bench.trial().tests.empty());
    for (std::size_t i = 0; i < steps; ++i) {
        w.window.key(gui::Key::y, {true, false, false});
        w.frames(3);
    }
    REQUIRE(w.bench.trial().proved);
    CHECK(w.bench.trial().tests.back().skew_rad->value == skew);
}

TEST_CASE("what nobody at a real saw can see is not on the window until it is asked for") {
    Window w;
    w.press("Make the five cuts");
    w.press("Show the strip");
    CHECK_FALSE(w.window.record().says("true skew"));
    w.type("t");
    CHECK(w.window.record().says("true skew"));
}

TEST_CASE("every sheet opens by its key and closes with Escape; units and paper change") {
    Window w;
    for (const auto& [key, words] : {std::pair{"!", "Before you touch a real saw"}, std::pair{"?", "these keys"}}) {
        w.type(key);
        CHECK_MESSAGE(w.window.record().says(words), words);
        w.window.key(gui::Key::escape);
        w.frames(6);
        CHECK_MESSAGE(!w.window.record().says(words), words);
    }
    w.type("u");
    CHECK(w.bench.view.units == base::Units::imperial);
    w.type("d");
    CHECK(w.bench.view.scheme == gui::Scheme::dark);
    w.window.key(gui::Key::o, {true, false, false});
    w.frames(6);
    CHECK(w.state.chooser.is_open());
}

TEST_CASE("the words on the controls are whole at the usual sizes") {
    // An ellipsis in a control's drawn words would mean that a person cannot read it; the record keeps the whole label, so the drawn width is compared: no
    // control is narrower than the least target, and every control lies within the window.
    for (const auto& [width, height] : {std::pair{1280, 800}, std::pair{1920, 1080}}) {
        Window w(width, height);
        w.press("Make the five cuts");
        w.press("Show the strip");
        for (const gui::Drawn& d : w.window.record().items()) {
            if (d.kind != gui::Kind::button && d.kind != gui::Kind::chip && d.kind != gui::Kind::step) continue;
            CHECK_MESSAGE(d.hi.x <= static_cast<float>(width), d.label);
            CHECK_MESSAGE(d.hi.x - d.lo.x >= 24.0F, d.label);
            CHECK_MESSAGE(d.hi.y - d.lo.y >= 24.0F, d.label);
        }
    }
}

TEST_CASE("a typed value of the set-up changes the saw, and a bad one says what is allowed") {
    Window w;
    w.press("Set up");
    REQUIRE(w.bench.stage() == session::Stage::set_up);
    CHECK(w.bench.act(session::SetValue{"fence.shim_left", "-240mm"}));
    CHECK(w.bench.scenario().drawing.fence.shim_left_x_mm == doctest::Approx(-240.0));
    CHECK_FALSE(w.bench.act(session::SetValue{"fence.shim_left", "far away"}));
    CHECK(w.bench.said_is_bad);
    CHECK_FALSE(w.bench.said.empty());
}
