// The sled under the person's hand: taken hold of, pushed, stuck, and cut with the path that was pushed; driven through
// ImGui's own input, without a display.
#include <doctest/doctest.h>

#include <cmath>

#include "both_sides.h"
#include "repeats.h"
#include "shop/truth.h"
#include "window_support.h"

using namespace offsquare;
using window_test::is_whole;
using window_test::shipped;
using window_test::Window;

namespace {

ImVec2 middle_of(const Window& w, const char* label) {
    const gui::Drawn* d = w.window.record().find(label);
    REQUIRE(d != nullptr);
    return {(d->lo.x + d->hi.x) / 2.0F, (d->lo.y + d->hi.y) / 2.0F};
}

/// The mouse goes down on a control and stays for so many frames of 1/60 s.
void hold(Window& w, const char* label, int frames) {
    const ImVec2 at = middle_of(w, label);
    w.window.mouse_move(at.x, at.y);
    w.window.mouse_button(true);
    w.frames(frames);
    w.window.mouse_button(false);
    w.frames(2);
}

/// Holds the push until the fence has passed the blade.
void push_through(Window& w) {
    for (int i = 0; i < 20 && !w.state.push.pushing.through(); ++i) hold(w, "Hold: push (F)", 60);
    REQUIRE(w.state.push.pushing.through());
}

}  // namespace

TEST_CASE("the push page opens and closes by its key and by its button, and the notebook takes its place") {
    Window w;
    w.bench.open(shipped("needs-oil"));
    w.type("h");
    CHECK(w.state.push.pushing.open);
    CHECK(w.window.record().says("Take hold of the sled and push"));
    CHECK_FALSE(w.window.record().says("Working"));
    w.type("h");
    CHECK_FALSE(w.state.push.pushing.open);
    REQUIRE(w.press("Push"));
    CHECK(w.state.push.pushing.open);
    w.type("b");
    CHECK_FALSE(w.state.push.pushing.open);
    CHECK(w.state.notebook.hunt.open);
    w.type("h");
    CHECK(w.state.push.pushing.open);
    CHECK_FALSE(w.state.notebook.hunt.open);
    w.window.key(gui::Key::escape);
    w.frames(4);
    CHECK_FALSE(w.state.push.pushing.open);
    CHECK(w.window.record().says("Working"));
}

TEST_CASE("a saw without play says so and offers one, which is undone like anything") {
    for (const char* key : {"faults.left_play", "faults.right_play"}) {
        // One runner that fills its slot is enough: the sled cannot turn.
        std::vector<scenario::Override> fits{{"faults.left_play", "0.1mm"}, {"faults.right_play", "0.1mm"}};
        for (scenario::Override& o : fits) o.value = o.key == key ? "0" : o.value;
        Window w;
        w.bench.open(*scenario::with(scenario::built_in(), fits));
        w.type("h");
        CHECK(w.window.record().says("This sled has no play"));
        is_whole(w, 1280.0F, 800.0F);
        REQUIRE(w.press("Give it play"));
        CHECK(w.state.push.pushing.open);
        CHECK_FALSE(w.window.record().says("This sled has no play"));
        CHECK_FALSE(w.window.record().says("Give it play"));
        const shop::Truth& truth = both_sides::truth_of(w.bench.history());
        // What the table of faults calls a good fit.
        CHECK(truth.left_play_mm == doctest::Approx(0.06));
        CHECK(truth.right_play_mm == doctest::Approx(0.06));
        // It does turn now: a hand at the corner.
        w.state.push.pushing.at_mm = 120.0;
        w.state.push.pushing.force_n = 200.0;
        hold(w, "Hold: push (F)", 60);
        CHECK(std::abs(w.state.push.pushing.state().pose.yaw_rad) > 0.02e-3);
        w.window.key(gui::Key::z, {true, false, false});
        w.frames(4);
        CHECK(w.window.record().says("This sled has no play"));
    }
}

TEST_CASE("the five cuts are made with the path that was pushed, and read like any other") {
    Window w;
    w.bench.open(shipped("needs-oil"));
    w.type("h");
    w.state.push.pushing.at_mm = 120.0;
    w.state.push.pushing.force_n = 200.0;
    push_through(w);
    CHECK(w.window.record().says("Through"));
    const auto pushed = w.state.push.pushing.test();
    REQUIRE(pushed.has_value());
    REQUIRE(w.press("Cut five like this"));
    CHECK_FALSE(w.state.push.pushing.open);
    REQUIRE(w.bench.last_test() != nullptr);
    const session::Test& test = *w.bench.last_test();
    REQUIRE(test.pushed.has_value());
    CHECK(*test.pushed == pushed->pass);
    REQUIRE(test.outcome == cut::Outcome::done);
    // The same from the list of actions alone: nothing of the live sled is in it.
    const session::Log log = w.bench.log();
    const auto again = session::run(log.scenario, w.bench.history().actions(), log.seed, log.precision);
    REQUIRE(again.has_value());
    for (std::size_t i = 0; i < 5; ++i)
        CHECK(both_sides::cut_of(*again).cuts[i].corner_rad ==
              both_sides::cut_of(w.bench.history()).cuts[i].corner_rad);
    // A hand right of the middle turns the sled counter-clockwise; the same hand at the left the other way, by the play
    // of 0.12 mm and more on each side.
    w.type("h");
    REQUIRE(w.press("Start again"));
    w.state.push.pushing.at_mm = -120.0;
    push_through(w);
    REQUIRE(w.press("Cut five like this"));
    REQUIRE(w.bench.last_test()->outcome == cut::Outcome::done);
    CHECK(both_sides::cut_of(*again).cuts[2].corner_rad - both_sides::cut_of(w.bench.history()).cuts[2].corner_rad >
          2e-4);
    // Undone, it is gone.
    w.window.key(gui::Key::z, {true, false, false});
    w.frames(4);
    CHECK(w.bench.seen().tests.size() == 1);
}

TEST_CASE(
    "with the mouse: taken hold of left of the middle it turns clockwise, carried over the middle it turns back") {
    Window w;
    w.bench.open(shipped("needs-oil"));
    w.type("h");
    w.state.push.pushing.force_n = 200.0;
    const gui::Drawn* picture = w.window.record().find("Take hold of the sled");
    REQUIRE(picture != nullptr);
    const float x = (picture->lo.x + picture->hi.x) / 2.0F, y = picture->hi.y - 60.0F;
    w.window.mouse_move(x - 90.0F, y);
    w.window.mouse_button(true);
    w.frames(2);
    CHECK(w.state.push.pushing.at_mm < -50.0);
    const double start = w.state.push.pushing.state().pose.s_mm;
    for (int i = 1; i <= 60; ++i) w.window.mouse_move(x - 90.0F, y - 2.0F * static_cast<float>(i)), w.frames(1);
    const contact::SledPose left = w.state.push.pushing.state().pose;
    CHECK(left.s_mm > start + 50.0);
    CHECK(left.yaw_rad < -1e-4);
    for (int i = 1; i <= 90; ++i)
        w.window.mouse_move(x + 90.0F, y - 120.0F - 2.0F * static_cast<float>(i)), w.frames(1);
    CHECK(w.state.push.pushing.at_mm > 50.0);
    CHECK(w.state.push.pushing.state().pose.yaw_rad > 1e-4);
    // A hand that stands still is not called weak.
    w.frames(90);
    CHECK_FALSE(w.window.record().says("The hand is too weak"));
    // Drawn back it comes back.
    const double there = w.state.push.pushing.state().pose.s_mm;
    for (int i = 1; i <= 60; ++i)
        w.window.mouse_move(x + 90.0F, y - 300.0F + 4.0F * static_cast<float>(i)), w.frames(1);
    CHECK(w.state.push.pushing.state().pose.s_mm < there - 50.0);
    w.window.mouse_button(false);
    w.frames(30);
    CHECK_FALSE(w.state.push.pushing.moving());
    const auto test = w.state.push.pushing.test();
    REQUIRE(test.has_value());
    CHECK(test->pass.hand.grips.size() >= 2);
}

TEST_CASE(
    "a hand too weak and a hand too far out are told apart, and no cut is offered before the sled has moved by "
    "statics") {
    Window w;
    scenario::Scenario s = shipped("needs-oil");
    s.drawing.feed.at_mm = 200.0;
    s.drawing.feed.force_n = 40.0;
    w.bench.open(s);
    w.type("h");
    hold(w, "Hold: push (F)", 150);
    w.window.mouse_button(true);  // still held: what stands there while it sticks
    w.frames(90);
    CHECK(w.window.record().says("The hand is too weak"));
    CHECK(w.window.record().says("Give more, or move the hand to the left"));
    CHECK_FALSE(w.state.push.pushing.test().has_value());
    w.window.mouse_button(false);
    w.frames(2);
    // Four times the friction: L/(2 mu) comes nearer than the hand.
    s.drawing.feed.friction = 1.0;
    s.drawing.feed.force_n = 300.0;
    w.bench.open(s);
    w.frames(2);
    w.state.push.pushing.at_mm = 200.0;
    w.state.push.pushing.force_n = 300.0;
    const ImVec2 at = middle_of(w, "Hold: push (F)");
    w.window.mouse_move(at.x, at.y);
    w.window.mouse_button(true);
    w.frames(150);
    CHECK(w.window.record().says("It jams"));
    CHECK(w.window.record().says("none is enough"));
    // What it needs is said, and stays when the hand lets go.
    w.window.mouse_button(false);
    w.frames(30);
    gui::Pushing& p = w.state.push.pushing;
    const double farther = p.to_come_free_mm();
    CHECK(w.window.record().says("Move it at least " + base::show_size(farther, base::Units::metric) + " to the left"));
    CHECK(p.now().stuck == contact::Stuck::jams);
    p.at_mm -= farther - 1.5;
    w.frames(2);
    CHECK(p.now().stuck == contact::Stuck::jams);
    p.at_mm -= 1.5;
    w.frames(2);
    CHECK(p.now().stuck != contact::Stuck::jams);
    CHECK_FALSE(w.window.record().says("It jams"));
}

TEST_CASE("with keys alone: comma and full stop move the hand, smaller and greater change its push") {
    Window w;
    w.type("h");
    w.state.push.pushing.at_mm = 0.0;
    w.state.push.pushing.force_n = 80.0;
    w.type("...");
    CHECK(w.state.push.pushing.at_mm == 30.0);
    w.type(",,,,");
    CHECK(w.state.push.pushing.at_mm == -10.0);
    w.type(">>");
    CHECK(w.state.push.pushing.force_n == 100.0);
    w.type("<<<<<<<<<<<<<<<<<<<<<<");
    CHECK(w.state.push.pushing.force_n == 10.0);
    CHECK(w.window.record().says("10 N"));
    // Held, a letter pushes; the record of what is down is the window system's, so the key is sent as held.
    ImGui::GetIO().KeysDown[static_cast<int>(gui::Key::f)] = true;
    w.state.push.pushing.force_n = 100.0;
    w.state.push.pushing.at_mm = 0.0;
    const double before = w.state.push.pushing.state().pose.s_mm;
    w.frames(30);
    CHECK(w.state.push.pushing.state().pose.s_mm > before + 20.0);
}

TEST_CASE("a window that was hidden for a minute does not jump") {
    Window w;
    w.type("h");
    gui::Pushing& p = w.state.push.pushing;
    p.holds = true;
    p.speed_mm_s = 120.0;
    p.at_mm = 0.0;
    const double before = p.state().pose.s_mm;
    p.tick(60.0);
    CHECK(p.state().pose.s_mm - before < 120.0 * 2.0 * contact::LiveSled::longest_pause_s);
}

TEST_CASE(
    "on the push page words are whole and targets large enough: small and large, light and dark, free and stuck") {
    for (const auto& [wide, high] : {std::pair{1280, 800}, std::pair{1920, 1080}}) {
        const int width = wide, height = high;  // clang 14 captures no structured binding
        for (const char* name : {"needs-oil", "inch-shop-sled", "like-a-drawer"}) {
            CAPTURE(name);
            CAPTURE(width);
            Window w(width, height);
            w.bench.open(shipped(name));
            w.bench.view.scheme = width > 1500 ? gui::Scheme::dark : gui::Scheme::light;
            w.type("h");
            is_whole(w, static_cast<float>(width), static_cast<float>(height));
            hold(w, "Hold: push (F)", 60);
            is_whole(w, static_cast<float>(width), static_cast<float>(height));
        }
    }
}
