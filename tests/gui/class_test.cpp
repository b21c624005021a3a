// The class view, measured: the shares of the window's height that conventions.md asks for, from what was drawn.
#include <doctest/doctest.h>

#include <algorithm>

#include "repeats.h"
#include "window_support.h"

using namespace offsquare;
using window_test::Window;

namespace {

std::vector<gui::Drawn> words_of(const Window& w) {
    std::vector<gui::Drawn> out;
    for (const gui::Drawn& d : w.window.record().items()) {
        if (d.kind == gui::Kind::text) out.push_back(d);
    }
    return out;
}

/// Every word is large enough, one is the result, no line is thin, nothing runs out of the window or over other words,
/// and nothing else stands there but the mark, clear of the words.
void readable_from_the_back(const Window& w, float width, float height) {
    const std::vector<gui::Drawn> words = words_of(w);
    REQUIRE(words.size() >= 2);
    float largest = 0.0F;
    for (const gui::Drawn& d : words) {
        CHECK_MESSAGE(d.em >= 0.035F * height, d.label);
        CHECK_MESSAGE(d.lo.x >= 0.0F, d.label);
        CHECK_MESSAGE(d.hi.x <= width, d.label);
        CHECK_MESSAGE(d.lo.y >= 0.0F, d.label);
        CHECK_MESSAGE(d.hi.y <= height, d.label);
        largest = std::max(largest, d.em);
        for (const gui::Drawn& other : words) {
            if (&d == &other) continue;
            const bool apart =
                d.hi.x <= other.lo.x || other.hi.x <= d.lo.x || d.hi.y <= other.lo.y || other.hi.y <= d.lo.y;
            CHECK_MESSAGE(apart, d.label << " / " << other.label);
        }
    }
    CHECK(largest >= 0.06F * height);
    int lines = 0;
    const gui::Drawn* mark = w.window.record().find("To the first screen");
    REQUIRE(mark != nullptr);
    for (const gui::Drawn& d : words) CHECK_MESSAGE((d.lo.x >= mark->hi.x || d.lo.y >= mark->hi.y), d.label);
    for (const gui::Drawn& d : w.window.record().items()) {
        CHECK_MESSAGE((d.kind == gui::Kind::text || d.kind == gui::Kind::other || d.label == mark->label), d.label);
        if (d.stroke <= 0.0F) continue;
        ++lines;
        CHECK(d.stroke >= 0.004F * height);
    }
    CHECK(lines > 0);
}

}  // namespace

TEST_CASE(
    "in the class view every step of every scenario can be read from the back of a room, and the same keys step "
    "through it" *
    doctest::skip(repeats::sanitized)) {
    for (const std::string name :
         {"new-apprentice", "old-vernier", "inch-shop-sled", "panel-sled", "teaching-saw", "square-by-noon"}) {
        for (const auto& [wide, high] : {std::pair{1280, 800}, std::pair{1920, 1080}, std::pair{1024, 768}}) {
            const int width = wide, height = high;  // clang 14 captures no structured binding
            CAPTURE(name);
            CAPTURE(width);
            const auto loaded = scenario::load(std::string(OFFSQUARE_SOURCE_DIR) + "/scenarios/" + name + ".toml");
            REQUIRE(loaded);
            Window w(width, height);
            w.bench.open(loaded->scenario);
            w.type("c");
            for (int step = 0; step < 20; ++step) {
                CAPTURE(step);
                REQUIRE(w.bench.view.for_class);
                readable_from_the_back(w, static_cast<float>(width), static_cast<float>(height));
                w.bench.said_for = 0.0;
                w.frames(2);
                readable_from_the_back(w, static_cast<float>(width), static_cast<float>(height));
                if (w.bench.seen().proved) break;
                w.type("n");
                if (w.bench.cutting()) w.bench.view.playing = false;
            }
            const bool ends = name == "teaching-saw" || name == "new-apprentice";
            if (ends) CHECK(w.bench.seen().proved);
        }
    }
}

TEST_CASE("the class view is left by its key, by Escape, and by whoever asks for the cautions") {
    Window w;
    w.bench.view.scheme = gui::Scheme::dark;
    w.type("c");
    CHECK(w.bench.view.for_class);
    CHECK_FALSE(w.window.record().says("Make the five cuts"));
    w.type("c");
    CHECK_FALSE(w.bench.view.for_class);
    CHECK(w.window.record().says("Make the five cuts"));
    w.type("c");
    w.window.key(gui::Key::escape);
    w.frames(4);
    CHECK_FALSE(w.bench.view.for_class);
    w.type("c");
    w.type("!");
    CHECK_FALSE(w.bench.view.for_class);
    CHECK(w.window.record().says("Before you touch a real saw"));
}

TEST_CASE("the cuts, the chart and the verdict come up by themselves, and undo works") {
    Window w;
    w.type("c");
    CHECK(w.window.record().says("Is the fence square?"));
    w.type("n");
    CHECK(w.window.record().says("of 5"));
    w.type("n");
    CHECK(w.window.record().says("Which end is wider?"));
    w.type("n");
    w.type("n");
    CHECK(w.window.record().says("How the corner error adds up"));
    CHECK(w.window.record().says("cut 5"));
    w.window.key(gui::Key::z, {true, false, false});
    w.frames(4);
    CHECK(w.bench.view.for_class);
    w.bench.said_for = 0.0;
    w.frames(2);
    CHECK_FALSE(w.window.record().says("How the corner error adds up"));
    for (int i = 0; i < 40 && !w.bench.seen().proved; ++i) w.type("n");
    w.bench.said_for = 0.0;
    w.frames(2);
    CHECK(w.window.record().says("Square within the tolerance"));
    CHECK(w.window.record().says("read "));
}
