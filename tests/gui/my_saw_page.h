// The page "My saw" on a window without a display, typed into as a person would.
#pragma once

#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>

#include "saws/store.h"
#include "window_support.h"

namespace my_saw_test {

using namespace offsquare;
using gui::Key;
using gui::Kind;
namespace fs = std::filesystem;

inline constexpr saws::Date today = std::chrono::year(2026) / 11 / 29;

struct DataFolder {
    fs::path path = fs::temp_directory_path() / ("offsquare-my-saw-" + std::to_string(getpid()));
    DataFolder() { fs::remove_all(path); }
    ~DataFolder() { fs::remove_all(path); }
};

/// The page, with nothing kept unless a folder is given.
struct Page : window_test::Window {
    explicit Page(int width = 1280, int height = 800, const fs::path& data = {}) : Window(width, height) {
        bench.view.reduced_motion = true;
        state.my_saw.saw.today_is(today);
        state.my_saw.saw.keep_in(data);
        type("m");
        frames(4);
    }
    gui::MySaw& saw() { return state.my_saw.saw; }
    /// Frames until the hand is at rest and nothing is being weighed.
    void rest() {
        frames(50);
        saw().wait();
        frames(4);
    }
    void into(const char* label, const char* text) {
        REQUIRE_MESSAGE(press(label), label);
        window.key(Key::a, {true, false, false});
        window.key(Key::del);
        type(text);
    }
    void tab(int times = 1) {
        for (int i = 0; i < times; ++i) window.key(Key::tab);
        frames(3);
    }
    /// The strip of the sketch, in inches; keyboard alone, from the first field, which has the cursor.
    void strip(const char* far, const char* between, const char* fence, const char* span) {
        type(far), tab(2);
        type(between), tab();
        type(fence), tab(2);
        type(span), tab();
    }
    bool says(std::string_view words) const { return window.record().says(words); }
    /// What can be pressed is seen as a whole, and no words are cut.
    void nothing_is_cut(float width) {
        for (const gui::Drawn& d : window.record().items()) {
            CHECK_MESSAGE(!d.cut, d.label);
            const bool control = d.kind == Kind::button || d.kind == Kind::field || d.kind == Kind::choice;
            if (!control || !d.visible) continue;
            CHECK_MESSAGE(d.lo.x >= 0.0F, d.label);
            CHECK_MESSAGE(d.hi.x <= width, d.label);
            CHECK_MESSAGE(d.hi.y - d.lo.y >= 24.0F, d.label);
            for (const gui::Drawn& e : window.record().items()) {
                const bool other = &e != &d && e.visible &&
                                   (e.kind == Kind::button || e.kind == Kind::field || e.kind == Kind::choice);
                const bool apart = e.hi.x <= d.lo.x + 1.0F || d.hi.x <= e.lo.x + 1.0F || e.hi.y <= d.lo.y + 1.0F ||
                                   d.hi.y <= e.lo.y + 1.0F;
                if (other) CHECK_MESSAGE(apart, d.label << " / " << e.label);
            }
        }
    }
};

}  // namespace my_saw_test
