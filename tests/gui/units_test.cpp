// Every page of the window, as it was drawn, in the units that were chosen and in no other.
#include <doctest/doctest.h>

#include "repeats.h"
#include "gui/state/set_up_field.h"
#include "units_shown.h"
#include "window_support.h"

using namespace offsquare;
using base::Units;
using session::Leaf;
using window_test::settle;
using window_test::shipped;
using window_test::Window;

namespace {

/// What the scenario itself says, or names what is chosen from.
bool is_its_own(const Window& w, const std::string& text) {
    return text == "mrad as well" || text == "mm in 1 m" || text == "thou in 12 in" || text == w.bench.seen().title ||
           w.bench.seen().story.find(text) != std::string::npos;
}

struct Walk {
    Window w;
    Units units;
    int looked = 0;  ///< texts
    bool mrad_seen = false;

    Walk(const std::string& scenario, Units chosen) : units(chosen) {
        w.bench.open(shipped(scenario));
        w.bench.choose_units(chosen.system);
        w.bench.view.units.angles = chosen.angles;
        w.bench.view.reduced_motion = true;
        w.frames(2);
    }
    void look(const std::string& page) {
        CAPTURE(page);
        for (const gui::Drawn& d : w.window.record().items()) {
            for (const std::string& text : {d.label, d.value}) {
                if (text.empty() || is_its_own(w, text)) continue;
                ++looked;
                const auto other = units_shown::not_chosen(text, units);
                CHECK_MESSAGE(!other, text);
                if (units.angles != Units::Angles::mrad) continue;
                const auto alone = units_shown::without_mrad(text);
                CHECK_MESSAGE(!alone, text);
                mrad_seen = mrad_seen || units_shown::alone(text, "mrad") != std::string::npos;
            }
        }
    }
    void set_up() {
        w.bench.view.reveal = true;
        w.bench.view.looking_at = session::Stage::set_up;
        for (const char* group :
             {"fence", "board", "blade", "slots", "sled", "table", "caliper", "tape", "tolerance", "faults"}) {
            w.frames(2);
            REQUIRE(w.press((std::string(group) + " ").c_str()));  // a chip's words, and no value behind them
            look(group);
        }
        w.bench.view.looking_at.reset();
        w.bench.view.reveal = false;
        w.frames(2);
    }
    /// The job by its one button, the class view of each step beside it, and undo's words.
    void job() {
        for (int i = 0; i < 24 && !w.bench.seen().proved; ++i) {
            look("job");
            w.type("c");
            look("class view");
            w.type("c");
            w.type("n");
        }
        CHECK(w.bench.seen().proved);
        look("proved");
        w.bench.view.reveal = true;
        w.frames(2);
        look("proved, the truth shown");
        w.bench.view.reveal = false;
    }
    void notebook() {
        w.type("b");
        settle(w);
        for (const Leaf page : {Leaf::symptom, Leaf::suspects, Leaf::proof}) {
            w.state.notebook.hunt.page = page;
            settle(w);
            look("notebook");
        }
        w.state.notebook.hunt.page = Leaf::checks;
        for (const measure::CheckInfo& check : measure::checks()) {
            w.state.notebook.hunt.check = check.check;
            for (const bool typing : {false, true}) {
                w.state.notebook.hunt.typing.open = typing;
                w.frames(1);
                look(std::string(check.name));
            }
        }
        w.state.notebook.hunt.page = Leaf::repairs;
        for (const shop::FaultInfo& fault : shop::faults()) {
            w.state.notebook.hunt.fault = fault.fault;
            w.frames(1);
            look(std::string(fault.key));
        }
        w.type("b");
    }
    void push() {
        w.type("h");
        w.frames(2);
        look("push");
        w.type("h");
    }
    void sheets() {
        for (bool* sheet : {&w.bench.sheets.cautions, &w.bench.sheets.keys, &w.bench.sheets.settings}) {
            *sheet = true;
            w.frames(2);
            look("sheet");
            *sheet = false;
        }
    }
};

}  // namespace

TEST_CASE(
    "every page of the window speaks in the units that were chosen, and of milliradians only when they were asked "
    "for" *
    doctest::skip(repeats::sanitized)) {
    // One scenario that speaks millimetres and one that speaks inches, each in both: what is typed in its file must not
    // shine through.
    for (const std::string scenario : {"teaching-saw", "inch-shop-sled"}) {
        for (const auto system : {Units::metric, Units::imperial}) {
            for (const auto angles : {Units::Angles::slope, Units::Angles::mrad}) {
                CAPTURE(scenario);
                CAPTURE(static_cast<int>(system));
                CAPTURE(static_cast<int>(angles));
                Walk walk(scenario, {system, angles});
                walk.set_up();
                walk.job();
                walk.notebook();
                walk.push();
                walk.sheets();
                CHECK(walk.looked > 2000);
                CHECK(walk.mrad_seen == (angles == Units::Angles::mrad));
            }
        }
    }
}

TEST_CASE("the View sheet asks how angles are shown, and it is kept with the other settings") {
    Window w;
    w.bench.sheets.settings = true;
    w.frames(2);
    REQUIRE(w.press("mrad as well"));
    CHECK(w.bench.view.units == Units(Units::metric, Units::Angles::mrad));
    w.type("u");  // a sheet is open: no command
    CHECK(w.bench.view.units == Units::metric);
    REQUIRE(w.press("inches"));
    CHECK(w.bench.view.units == Units(Units::imperial, Units::Angles::mrad));
    CHECK(w.window.record().says("thou in 12 in"));
    w.bench.open(shipped("inch-shop-sled"));  // another scenario changes neither
    CHECK(w.bench.view.units == Units(Units::imperial, Units::Angles::mrad));
}

TEST_CASE(
    "a field of the set-up asks in the chosen units, whatever the file speaks, and takes any other that is typed") {
    using Kind = scenario::KeyInfo::Kind;
    constexpr Units mm = Units::metric;
    constexpr Units in = Units::imperial;
    constexpr Units mrad{Units::metric, Units::Angles::mrad};
    CHECK(gui::field_unit(Kind::length, in) == " [in]");
    CHECK(gui::field_unit(Kind::angle, mm) == " [mm in 1 m]");
    CHECK(gui::field_unit(Kind::angle, in) == " [thou in 12 in]");
    CHECK(gui::field_unit(Kind::angle, mrad) == " [mrad]");
    CHECK(gui::field_unit(Kind::count, in).empty());
    // As the file has it, where the units are the same.
    CHECK(gui::field_text("560", Kind::length, mm, mm) == "560");
    CHECK(gui::field_text("0.35", Kind::angle, mm, mrad) == "0.35");
    CHECK(gui::field_text("560", Kind::length, mm, in) == "22.0472");  // 560 / 25.4 = 22.04724
    CHECK(gui::field_text("0.01", Kind::length, mm, in) == "0.0003937");
    CHECK(gui::field_text("22", Kind::length, in, mm) == "558.8");
    CHECK(gui::field_text("0.35", Kind::angle, mm, mm) == "0.35");  // 1000 tan 0.00035
    CHECK(gui::field_text("0.35", Kind::angle, mm, in) == "4.2");   // 12000 tan 0.00035
    CHECK(gui::field_text("none", Kind::length, mm, in) == "none");
    CHECK(gui::field_text("0", Kind::length, mm, in) == "0");
    CHECK(gui::field_text("left", Kind::word, mm, in) == "left");
    // A bare number is what the field asks for; a unit that was typed stays.
    CHECK(gui::with_unit("22", Kind::length, mm, in) == "22 in");
    CHECK(gui::with_unit("22", Kind::length, in, in) == "22");
    CHECK(gui::with_unit("560", Kind::length, in, mm) == "560 mm");
    CHECK(gui::with_unit("560 mm", Kind::length, mm, in) == "560 mm");
    CHECK(gui::with_unit("15 3/8", Kind::length, mm, in) == "15 3/8 in");
    CHECK(gui::with_unit("4.2", Kind::angle, mm, in) == "4.2 thou/12in");
    CHECK(gui::with_unit("0.35 mrad", Kind::angle, mm, in) == "0.35 mrad");
    CHECK(gui::with_unit("0.35", Kind::angle, mm, mrad) == "0.35");
    CHECK(gui::with_unit("12", Kind::count, mm, in) == "12");

    Window w;
    w.bench.choose_units(Units::imperial);
    w.bench.view.looking_at = session::Stage::set_up;
    w.frames(2);
    const auto type_into = [&](const char* label, const char* text) {
        REQUIRE(w.window.record().find(label, gui::Kind::field) != nullptr);
        REQUIRE(w.press(label));
        w.window.key(gui::Key::a, {true, false, false});
        w.type(text);
        w.window.key(gui::Key::enter);
        w.frames(3);
    };
    type_into("length [in]", "22");
    CHECK(w.bench.scenario().drawing.fence.length_mm == 558.8);
    type_into("length [in]", "560mm");
    CHECK(w.bench.scenario().drawing.fence.length_mm == 560.0);
    REQUIRE(w.press("tolerance "));
    CHECK(w.window.record().says("[thou in 12 in] largest corner error"));
    type_into("corner", "6");
    CHECK(w.bench.scenario().drawing.tolerance_rad ==
          doctest::Approx(0.0005).epsilon(1e-6).scale(0));  // tan = 6 / 12000
    REQUIRE(w.press("fence "));
    // A refusal tells the range and the example in inches, too: 50 mm to 5000 mm.
    type_into("length [in]", "1");
    CHECK(w.bench.scenario().drawing.fence.length_mm == 560.0);
    CHECK(w.window.record().says("from 1.969 in to 196.9 in"));
    for (const gui::Drawn& d : w.window.record().items())
        CHECK_MESSAGE(units_shown::alone(d.label, "mm") == std::string::npos, d.label);
}
