// A whole fault hunt in the notebook, driven through ImGui's own input, without a display.
#include <doctest/doctest.h>

#include <cmath>

#include "base/scratch.h"
#include "both_sides.h"
#include "repeats.h"
#include "shop/truth.h"
#include "window_support.h"

using namespace offsquare;
using session::Leaf;
using window_test::is_whole;
using window_test::settle;
using window_test::shipped;
using window_test::Window;

namespace {

void n(Window& w) {
    settle(w);
    w.type("n");
    settle(w);
}

bool repaired(const session::Seen& seen, shop::Fault fault) {
    for (const session::RepairNote& r : seen.repairs) {
        if (r.fault == fault) return true;
    }
    return false;
}

/// The one button, again and again, until the proof stands. What is looked at on the way is held to be whole.
void hunt_by_key(Window& w, int most = 60) {
    for (int i = 0; i < most && session::proof_of(w.bench.seen()) != session::Proved::passed; ++i) {
        CAPTURE(i);
        is_whole(w, 1280.0F, 800.0F);
        n(w);
    }
}

}  // namespace

TEST_CASE("the notebook opens and closes by its key and by its button, and the steps of the job come back") {
    Window w;
    CHECK(w.window.record().says("Work out"));
    w.type("b");
    CHECK(w.state.notebook.hunt.open);
    CHECK(w.window.record().says("Suspects"));
    CHECK_FALSE(w.window.record().says("Work out"));
    w.type("b");
    CHECK_FALSE(w.state.notebook.hunt.open);
    REQUIRE(w.press("Notebook"));
    CHECK(w.state.notebook.hunt.open);
    REQUIRE(w.press("The saw"));
    CHECK_FALSE(w.state.notebook.hunt.open);
    REQUIRE(w.press("Notebook"));
    w.window.key(gui::Key::escape);
    w.frames(4);
    CHECK_FALSE(w.state.notebook.hunt.open);
}

TEST_CASE("two boards: with the keyboard alone, from opening to the proof; the bowed fence is found and jointed" *
          doctest::skip(repeats::sanitized)) {
    Window w;
    w.bench.open(shipped("two-boards"));
    w.type("b");
    hunt_by_key(w);
    const session::Seen& seen = w.bench.seen();
    CHECK(repaired(seen, shop::Fault::fence_bow));
    CHECK(seen.proved);
    // Held to the truth, which the window does not show: jointed as well as a good fence, square within the tolerance.
    CHECK(std::abs(both_sides::truth_of(w.bench.history()).fence_bow_mm) < 0.1);
    CHECK(std::abs(both_sides::skew_now_rad(w.bench.history())) <= seen.drawing.tolerance_rad);
    CHECK(w.window.record().says("Proved"));
    is_whole(w, 1280.0F, 800.0F);
}

TEST_CASE(
    "square, and yet it burns: with the keyboard alone; the blade is set parallel, and the face is clean in the end" *
    doctest::skip(repeats::sanitized)) {
    Window w;
    w.bench.open(shipped("burns-but-square"));
    w.type("b");
    hunt_by_key(w);
    const session::Seen& seen = w.bench.seen();
    CHECK(repaired(seen, shop::Fault::blade_toe));
    CHECK(seen.proved);
    CHECK_FALSE(seen.tests.back().face.heel_marks);
    CHECK(std::abs(both_sides::truth_of(w.bench.history()).blade_toe_rad) < 5e-4);
}

TEST_CASE("with the mouse: a check is chosen from the list, made, undone and done again; the diagnosis follows") {
    Window w;
    w.bench.open(shipped("two-boards"));
    w.frames(3);
    REQUIRE(w.press("Notebook"));
    REQUIRE(w.press("Checks"));
    settle(w);
    REQUIRE(w.press("A long board and a short board"));
    CHECK(w.state.notebook.hunt.check == measure::Check::long_and_short);
    CHECK(w.window.record().says("Do the five-cut test with a board half as large: "));
    CHECK(w.window.record().says("short board"));
    REQUIRE(w.press("Do this check"));
    settle(w);
    CHECK(w.state.notebook.hunt.page == Leaf::suspects);
    REQUIRE(w.bench.notes().size() == 1);
    const double with_note = w.state.notebook.hunt.findings()
                                 ->diagnosis.beliefs[static_cast<std::size_t>(shop::Fault::fence_bow)]
                                 .probability;
    CHECK(with_note > 0.5);
    w.window.key(gui::Key::z, {true, false, false});
    settle(w);
    CHECK(w.bench.notes().empty());
    CHECK_FALSE(
        w.state.notebook.hunt.findings()->diagnosis.beliefs[static_cast<std::size_t>(shop::Fault::fence_bow)].touched);
    w.window.key(gui::Key::y, {true, false, false});
    settle(w);
    CHECK(w.state.notebook.hunt.findings()
              ->diagnosis.beliefs[static_cast<std::size_t>(shop::Fault::fence_bow)]
              .probability == with_note);
    // A suspect's row opens its repair.
    REQUIRE(w.press("Suspect: fence bowed"));
    CHECK(w.state.notebook.hunt.page == Leaf::repairs);
    CHECK(w.state.notebook.hunt.fault == shop::Fault::fence_bow);
    REQUIRE(w.press("Make this repair"));
    settle(w);
    CHECK_FALSE(w.bench.notes().front().holds());
    CHECK(w.window.record().says("No longer holds: \"fence bowed\" was put right after it."));
    CHECK(w.window.record().says("Put right: fence bowed."));
}

TEST_CASE("a rival that is still open is named before a repair" * doctest::skip(repeats::sanitized)) {
    Window w;
    w.bench.open(shipped("two-boards"));
    w.type("b");
    REQUIRE(w.bench.act(session::MakeCheck{measure::Check::five_cut}));
    settle(w);
    const session::Findings& findings = *w.state.notebook.hunt.findings();
    const auto& pairs = findings.diagnosis.unseparated;
    REQUIRE_FALSE(pairs.empty());
    const auto [one, other] = pairs.front();
    w.state.notebook.hunt.look_at(one);
    settle(w);
    CHECK(w.window.record().says("A rival is still open: \"" + std::string(session::name_of(other)) + "\""));
    // One that no reading looked at has no rival among them; it is said what is missing.
    w.state.notebook.hunt.look_at(shop::Fault::fence_lean);
    settle(w);
    CHECK_FALSE(w.window.record().says("A rival is still open"));
    CHECK(w.window.record().says("No reading that still holds has looked at this fault."));
}

TEST_CASE("nothing of the truth stands in the notebook: two saws with other hidden errors and no reading look alike") {
    std::vector<std::string> seen;
    for (const double bow : {0.0, 1.5}) {
        Window w;
        scenario::Scenario s = shipped("two-boards");
        s.truth->fence_bow_mm = bow;
        w.bench.open(s);
        w.type("b");
        std::string all;
        for (int page = 0; page < gui::hunt_pages; ++page) {
            w.state.notebook.hunt.page = static_cast<Leaf>(page);
            settle(w);
            for (const gui::Drawn& d : w.window.record().items()) all += d.label + "|" + d.value + "\n";
        }
        seen.push_back(all);
    }
    CHECK(seen[0] == seen[1]);
}

TEST_CASE("on every page of both lessons, small and large, light and dark, words are whole and targets large enough" *
          doctest::skip(repeats::sanitized)) {
    for (const char* name : {"two-boards", "burns-but-square"}) {
        for (const auto& [wide, high] : {std::pair{1280, 800}, std::pair{1920, 1080}}) {
            const int width = wide, height = high;  // clang 14 captures no structured binding
            if (repeats::sanitized && (width != 1280 || name[0] != 't')) continue;
            Window w(width, height);
            w.bench.open(shipped(name));
            w.bench.view.scheme = width > 1500 ? gui::Scheme::dark : gui::Scheme::light;
            w.type("b");
            for (const measure::Check check :
                 {measure::Check::five_cut, measure::Check::kerf_width, measure::Check::same_again})
                REQUIRE(w.bench.act(session::MakeCheck{check}));
            for (int page = 0; page < gui::hunt_pages; ++page) {
                CAPTURE(name);
                CAPTURE(width);
                CAPTURE(page);
                w.state.notebook.hunt.page = static_cast<Leaf>(page);
                settle(w);
                is_whole(w, static_cast<float>(width), static_cast<float>(height));
            }
        }
    }
}

TEST_CASE("readings are written to a file, and open again as those of a real saw with the same diagnosis" *
          doctest::skip(repeats::sanitized)) {
    const scratch::Folder folder;
    const std::string path = folder / "readings.toml";
    Window w;
    w.bench.open(shipped("burns-but-square"));
    w.type("b");
    REQUIRE(w.bench.act(session::MakeCheck{measure::Check::kerf_width}));
    REQUIRE(w.bench.act(session::MakeCheck{measure::Check::cut_face}));
    settle(w);
    const double before = w.state.notebook.hunt.findings()
                              ->diagnosis.beliefs[static_cast<std::size_t>(shop::Fault::blade_toe)]
                              .probability;
    REQUIRE(w.press("Write the readings"));
    w.frames(6);
    REQUIRE(w.state.files.chooser.is_open());
    REQUIRE(w.window.click("File name"));
    w.frames(3);
    w.window.key(gui::Key::a, {true, false, false});
    w.frames(2);
    w.type(path.c_str());
    w.window.key(gui::Key::enter);
    w.frames(6);
    REQUIRE(std::filesystem::exists(path));
    CHECK(w.window.record().says("Saved readings.toml."));

    Window other;
    gui::open_chosen(other.bench, other.state.files, path);
    other.type("b");
    settle(other);
    CHECK(other.bench.of_a_real_saw());
    REQUIRE(other.bench.notes().size() == 2);
    CHECK(other.state.notebook.hunt.findings()
              ->diagnosis.beliefs[static_cast<std::size_t>(shop::Fault::blade_toe)]
              .probability == doctest::Approx(before).epsilon(1e-9));
    // Nothing may be made up for a real saw.
    other.state.notebook.hunt.look_at(measure::Check::jaws);
    settle(other);
    CHECK_FALSE(other.window.click("Do this check"));
    other.type("n");
    settle(other);
    CHECK(other.bench.notes().size() == 2);
}
