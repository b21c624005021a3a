// The whole job in the window, driven through ImGui's own input, without a display.
#include <doctest/doctest.h>

#include "repeats.h"

#include <algorithm>
#include <cmath>

#include "both_sides.h"
#include "shop/truth.h"
#include "window_support.h"

using namespace offsquare;
using window_test::Window;

namespace {

/// The true skew, by the scenario's fault and the shims that really stand behind the fence; not read off the window.
double true_skew(const gui::Bench& bench) {
    const session::Saw& saw = session::saw_of(bench.history());
    double left = 0.0;
    double right = 0.0;
    for (const auto& p : saw.behind_left) left += p.true_mm;
    for (const auto& p : saw.behind_right) right += p.true_mm;
    const auto& fence = bench.seen().drawing.fence;
    return std::atan(std::tan(saw.truth().fence_skew_rad) +
                     (right - left) / (fence.shim_right_x_mm - fence.shim_left_x_mm));
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
    CHECK(w.bench.seen().tests.back().fence_end.size() == 2);
    REQUIRE(w.press("Work it out"));
    // The built-in fence is skewed counter-clockwise: the left end sits too near.
    REQUIRE(both_sides::truth_of(w.bench.history()).fence_skew_rad > 0.0);
    CHECK(w.window.record().says("at the left end"));
    REQUIRE(w.press("Put the shim in"));
    CHECK(w.bench.seen().behind_right.empty());
    REQUIRE_FALSE(w.bench.seen().behind_left.empty());
    REQUIRE(w.press("Cut again"));
    REQUIRE(w.press("Show the strip"));
    REQUIRE(w.press("Read the fence end"));
    REQUIRE(w.press("Read the far end"));
    REQUIRE(w.press("Work it out"));
    CHECK(w.bench.seen().proved);
    CHECK(w.window.record().says("Proved square"));
    CHECK(std::abs(true_skew(w.bench)) <= w.bench.scenario().drawing.tolerance_rad);
}

TEST_CASE("one factor for a whole job in the window, chosen again only when asked for") {
    Window w;
    const auto said = [&](const char* words) { return w.window.record().says(words); };
    CHECK(said("error hidden until measured"));
    const auto one_test = [&] {
        REQUIRE(w.bench.act(session::CutTest{}));
        w.bench.view.progress = w.bench.last_cut();
        w.bench.view.playing = false;
        w.bench.read(session::End::fence);
        w.bench.read(session::End::far);
        w.frames(3);
    };
    one_test();
    CHECK_FALSE(said("error hidden until measured"));
    const double first = w.bench.exaggeration();
    const double skew = w.bench.last_test()->skew_rad->value;
    // As much again, by a shim at the wrong end.
    const double span = w.bench.scenario().drawing.fence.span_mm();
    REQUIRE(w.bench.act(session::PutThickness{skew > 0.0 ? shim::At::right : shim::At::left, std::abs(skew) * span}));
    w.frames(3);
    CHECK(w.bench.exaggeration() == first);
    one_test();
    REQUIRE(std::abs(w.bench.last_test()->skew_rad->value) > 1.7 * std::abs(skew));
    CHECK(w.bench.exaggeration() == first);
    REQUIRE(w.press("fit"));
    CHECK(w.bench.exaggeration() < first);
    const double chosen = w.bench.exaggeration();
    w.bench.undo();
    CHECK(w.bench.exaggeration() == chosen);  // a choice of the person's stays
    // Another saw is another job.
    w.bench.open(scenario::built_in());
    w.frames(3);
    CHECK(w.bench.view.exaggeration == 0.0);
    CHECK(said("error hidden until measured"));
}

TEST_CASE("the whole job with the keyboard alone, undone to the start and done again") {
    Window w;
    for (int i = 0; i < 40 && !w.bench.seen().proved; ++i) w.type("n");
    REQUIRE(w.bench.seen().proved);
    const std::vector<session::Action> all = w.bench.history().actions();
    // A stack of several pieces is one thing that was done, and is taken out as one.
    const std::vector<session::Entry>& record = w.bench.history().record();
    const auto steps = static_cast<std::size_t>(
        std::count_if(record.begin(), record.end(), [](const session::Entry& e) { return !e.joins; }));
    REQUIRE(record.size() == all.size());
    const double skew = w.bench.seen().tests.back().skew_rad->value;
    for (std::size_t i = 0; i < steps; ++i) {
        CHECK_FALSE(w.bench.history().actions().empty());
        w.window.key(gui::Key::z, {true, false, false});
        w.frames(3);
    }
    CHECK(w.bench.seen().tests.empty());
    CHECK(w.bench.history().actions().empty());
    for (std::size_t i = 0; i < steps; ++i) {
        CHECK_FALSE(w.bench.seen().proved);
        w.window.key(gui::Key::y, {true, false, false});
        w.frames(3);
    }
    REQUIRE(w.bench.seen().proved);
    CHECK(w.bench.history().actions().size() == all.size());
    CHECK(w.bench.seen().tests.back().skew_rad->value == skew);
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
    for (const auto& [key, said] : {std::pair{"!", "Before you touch a real saw"}, std::pair{"?", "these keys"}}) {
        const char* words = said;  // clang 14 captures no structured binding
        w.type(key);
        CHECK_MESSAGE(w.window.record().says(words), words);
        w.window.key(gui::Key::escape);
        w.frames(6);
        CHECK_MESSAGE(!w.window.record().says(words), words);
        w.frames(40);  // a letter right after it would be one typed on
    }
    w.type("u");
    CHECK(w.bench.view.units == base::Units::imperial);
    w.type("d");
    CHECK(w.bench.view.scheme == gui::Scheme::dark);
    w.window.key(gui::Key::o, {true, false, false});
    w.frames(6);
    CHECK(w.state.files.chooser.is_open());
}

namespace {

const gui::Drawn* card(const gui::Record& record, std::string_view title) {
    for (const gui::Drawn& d : record.items()) {
        if (d.kind == gui::Kind::card && d.label == title) return &d;
    }
    return nullptr;
}

/// No words on a button, a chip or a line of the working were cut by an ellipsis, and every button is large enough and
/// lies in the window.
void words_are_whole(const Window& w, float width, float height) {
    for (const gui::Drawn& d : w.window.record().items()) {
        if (d.label != w.bench.scenario().title) CHECK_MESSAGE(!d.cut, d.label);
        if (d.kind != gui::Kind::button) continue;
        CHECK_MESSAGE(d.hi.x - d.lo.x >= 24.0F, d.label);
        CHECK_MESSAGE(d.hi.y - d.lo.y >= 24.0F, d.label);
        CHECK_MESSAGE(d.hi.x <= width, d.label);
        CHECK_MESSAGE(d.hi.y <= height, d.label);
    }
}

/// What is to be done next is wholly seen: its card does not scroll, and no control of it stands out at the bottom.
void next_step_is_whole(const Window& w) {
    const gui::Drawn* now = card(w.window.record(), "Now");
    if (now == nullptr) return;
    for (const gui::Drawn& d : w.window.record().items()) {
        const bool inside = d.kind == gui::Kind::button || d.kind == gui::Kind::field;
        const bool in_now = d.lo.x >= now->lo.x && d.lo.x < now->hi.x && d.lo.y >= now->lo.y && d.lo.y < now->hi.y;
        if (!inside || !in_now) continue;
        CHECK_MESSAGE(d.hi.y + 4.0F <= now->hi.y, d.label);
        CHECK_MESSAGE(d.hi.x + 12.0F <= now->hi.x, d.label);  // where the card cuts it off
    }
}

}  // namespace

TEST_CASE("at every step of every scenario the words on the controls are whole and the next step is wholly seen" *
          doctest::skip(repeats::sanitized)) {
    for (const std::string name :
         {"new-apprentice", "old-vernier", "inch-shop-sled", "panel-sled", "teaching-saw", "square-by-noon"}) {
        for (const auto& [wide, high] : {std::pair{1280, 800}, std::pair{1920, 1080}}) {
            const int width = wide, height = high;  // clang 14 captures no structured binding
            CAPTURE(name);
            CAPTURE(width);
            const auto loaded = scenario::load(std::string(OFFSQUARE_SOURCE_DIR) + "/scenarios/" + name + ".toml");
            REQUIRE(loaded);
            Window w(width, height);
            w.bench.open(loaded->scenario);
            w.frames(3);
            // Some scenarios want more tests than a few dozen steps: what is looked at is each screen on the way.
            for (int step = 0; step < 24 && !w.bench.seen().proved; ++step) {
                CAPTURE(step);
                REQUIRE(card(w.window.record(), "Now") != nullptr);
                words_are_whole(w, static_cast<float>(width), static_cast<float>(height));
                next_step_is_whole(w);
                w.type("n");
            }
            next_step_is_whole(w);
            w.type("s");
            words_are_whole(w, static_cast<float>(width), static_cast<float>(height));
        }
    }
}

TEST_CASE("under a wandering hand the job asks for the play, by a button and words that are whole and agree") {
    scenario::Scenario saw = scenario::built_in();
    saw.drawing.sled.hand = shop::Hand::wandering;
    for (const auto& [wide, high] : {std::pair{1280, 800}, std::pair{1920, 1080}}) {
        const int width = wide, height = high;  // clang 14 captures no structured binding
        CAPTURE(width);
        Window w(width, height);
        w.bench.open(saw);
        w.frames(3);
        bool asked = false;
        for (int step = 0; step < 24 && !w.bench.seen().proved; ++step) {
            CAPTURE(step);
            words_are_whole(w, static_cast<float>(width), static_cast<float>(height));
            next_step_is_whole(w);
            if (w.window.record().says("Look at the sled's play")) {
                asked = true;
                CHECK_FALSE(w.window.record().says("repeat the test"));
                CHECK_FALSE(w.window.record().says("No shim needed"));
            }
            w.type("n");
        }
        CHECK(asked);
    }
}

TEST_CASE("where no shim fits, and where there is none, the button to the notebook is whole") {
    for (const bool empty : {true, false}) {
        for (const base::Units units : {base::Units::metric, base::Units::imperial}) {
            CAPTURE(empty);
            scenario::Scenario saw = scenario::built_in();
            saw.units = units;
            saw.drawing.drawer = {{"plate", 3.0, 0.01, 2}};
            if (empty) saw.drawing.drawer = {};
            Window w(1280, 800);
            w.bench.open(saw);
            w.frames(3);
            for (int step = 0; step < 6 && w.bench.next().todo != session::Todo::nothing_fits; ++step) w.type("n");
            REQUIRE(w.bench.next().todo == session::Todo::nothing_fits);
            w.frames(3);
            CHECK(w.window.record().says(empty ? "The drawer is empty" : "Find a thinner shim"));
            words_are_whole(w, 1280.0F, 800.0F);
            next_step_is_whole(w);
            CHECK(w.press("Open the notebook"));
        }
    }
}

TEST_CASE("a value typed into the set-up changes the saw, and a bad one says what is allowed") {
    Window w;
    REQUIRE(w.press("Set up"));
    const auto type_into = [&](const char* text) {
        // Twice: the first press gives the field the keyboard and marks its text.
        const gui::Drawn* field = nullptr;
        for (const gui::Drawn& d : w.window.record().items()) {
            if (d.kind == gui::Kind::field && d.label.starts_with("shim left")) field = &d;
        }
        REQUIRE(field != nullptr);
        w.window.click((field->lo.x + field->hi.x) / 2.0F, (field->lo.y + field->hi.y) / 2.0F);
        w.frames(3);
        w.window.key(gui::Key::a, {true, false, false});
        w.frames(2);
        w.type(text);
        w.window.key(gui::Key::enter);
        w.frames(4);
    };
    type_into("-24cm");
    CHECK(w.bench.scenario().drawing.fence.shim_left_x_mm == doctest::Approx(-240.0));
    type_into("far away");
    CHECK(w.bench.scenario().drawing.fence.shim_left_x_mm == doctest::Approx(-240.0));
    CHECK(w.window.record().says("far away"));
    bool error_shown = false;
    for (const gui::Drawn& d : w.window.record().items())
        error_shown = error_shown || (d.kind == gui::Kind::error && !d.label.empty());
    CHECK(error_shown);
}

TEST_CASE("where one end cannot do it, the one button uses both ends") {
    // The drawer holds 0.3 and 0.4 mm only, and the fence wants about 0.1 mm.
    Window w;
    const auto loaded = scenario::load(std::string(OFFSQUARE_SOURCE_DIR) + "/scenarios/square-by-noon.toml");
    REQUIRE(loaded);
    w.bench.open(loaded->scenario);
    w.frames(3);
    for (int i = 0; i < 60 && w.bench.seen().stage != session::Stage::shim; ++i) w.type("n");
    REQUIRE(w.bench.seen().stage == session::Stage::shim);
    REQUIRE(w.press("Put the shims in"));
    CHECK_FALSE(w.bench.seen().behind_left.empty());
    CHECK_FALSE(w.bench.seen().behind_right.empty());
    for (int i = 0; i < 60 && !w.bench.seen().proved; ++i) w.type("n");
    CHECK(w.bench.seen().proved);
    CHECK(std::abs(true_skew(w.bench)) <= w.bench.scenario().drawing.tolerance_rad);
}

TEST_CASE("in the strip chart of a fence that is nearly square no words stand on the zero line") {
    for (const std::string skew : {"0mrad", "0.01mrad", "-0.01mrad", "0.04mrad"}) {
        CAPTURE(skew);
        Window w;
        w.bench.open(*scenario::with(scenario::built_in(), {{"faults.fence_skew", skew}}));
        w.bench.view.reduced_motion = true;
        for (const session::Action& action :
             {session::Action(session::CutTest{}), session::Action(session::Read{session::End::fence}),
              session::Action(session::Read{session::End::far})})
            REQUIRE(w.bench.act(action));
        w.frames(3);
        const gui::Drawn* zero = w.window.record().find("zero line");
        REQUIRE(zero != nullptr);
        int seen = 0;
        for (const gui::Drawn& d : w.window.record().items()) {
            const bool of_the_chart = d.label.ends_with("×") || d.label.starts_with("= ") ||
                                      d.label.starts_with("over ") || d.label == "tolerance on one corner";
            if (d.kind != gui::Kind::text || !of_the_chart) continue;
            ++seen;
            CHECK_MESSAGE((d.hi.y <= zero->lo.y || d.lo.y >= zero->hi.y), d.label);
        }
        CHECK(seen == 7);  // four columns, the sum and what it is over, the band
    }
}
