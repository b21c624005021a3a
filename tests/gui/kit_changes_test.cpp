// What is painted again from one frame to the next, against the second road: two whole pictures, pixel by pixel.
#include <doctest/doctest.h>

#include <algorithm>

#include "repeats.h"
#include "gui/kit/changes.h"
#include "window_support.h"

using namespace offsquare;
using gui::Changes;
using gui::Patch;
using window_test::shipped;
using window_test::Window;

namespace {

bool inside(const std::vector<Patch>& patches, int x, int y) {
    return std::any_of(patches.begin(), patches.end(),
                       [&](const Patch& p) { return x >= p.x0 && x < p.x1 && y >= p.y0 && y < p.y1; });
}

double share_of_window(const std::vector<Patch>& patches, const gui::Image& image) {
    double pixels = 0.0;
    for (const Patch& p : patches) pixels += static_cast<double>(p.x1 - p.x0) * (p.y1 - p.y0);
    return pixels / (static_cast<double>(image.width) * image.height);
}

/// A window whose pictures are compared from look to look.
struct Watched {
    Window w;
    Changes changes;
    gui::Image before;

    Watched(int width, int height) : w(width, height) { look(); }

    /// No pixel that differs is left out. The share of the window that is painted again.
    double look() {
        gui::Image now = w.window.image();
        const std::vector<Patch> patches = changes.since_last(*ImGui::GetDrawData());
        int left_out = 0;
        for (int y = 0; y < now.height && !before.rgba.empty(); ++y) {
            const std::size_t row = static_cast<std::size_t>(y) * static_cast<std::size_t>(now.width) * 4;
            for (std::size_t i = 0; i < static_cast<std::size_t>(now.width) * 4; ++i) {
                if (now.rgba[row + i] != before.rgba[row + i] && !inside(patches, static_cast<int>(i / 4), y))
                    ++left_out;
            }
        }
        CHECK(left_out == 0);
        for (std::size_t i = 0; i < patches.size(); ++i) {
            for (std::size_t j = i + 1; j < patches.size(); ++j) {
                const bool apart = patches[i].x1 <= patches[j].x0 || patches[j].x1 <= patches[i].x0 ||
                                   patches[i].y1 <= patches[j].y0 || patches[j].y1 <= patches[i].y0;
                CHECK(apart);
            }
        }
        before = std::move(now);
        return share_of_window(patches, before);
    }
};

}  // namespace

TEST_CASE("changes: the whole window the first time, nothing while nothing changes, all when told to forget") {
    Watched v(640, 480);
    v.w.frames(4);
    v.look();
    v.w.frames(3);
    CHECK(v.look() == 0.0);
    v.changes.forget();
    CHECK(v.look() == 1.0);
    CHECK(v.look() == 0.0);
}

TEST_CASE("changes: through the job, under the mouse, with a sheet and a toast, no pixel that differs is left out" *
          doctest::skip(repeats::sanitized)) {
    Watched v(1100, 500);
    const char* keys[] = {"n", "n", "u", "?", "b"};
    for (const char* key : keys) {
        CAPTURE(key);
        v.w.window.type(key);
        v.w.frames(2);
        v.look();
        if (*key == '?') v.w.window.key(gui::Key::escape), v.w.frames(60);
    }
    v.w.window.mouse_move(1000.0F, 20.0F);
    v.w.frames(2);
    CHECK(v.look() < 0.5);
}

TEST_CASE(
    "changes: while the sled is pushed less than half of the window is painted again, and no difference left out" *
    doctest::skip(repeats::sanitized)) {
    Watched v(1280, 800);
    v.w.bench.open(shipped("needs-oil"));
    v.w.type("h");
    v.w.state.push.pushing.at_mm = 40.0;
    v.w.state.push.pushing.force_n = 200.0;
    v.w.bench.said_for = 0.0;
    v.w.frames(4);
    v.look();
    ImGui::GetIO().KeysDown[static_cast<int>(gui::Key::f)] = true;
    v.w.window.frames(2);
    v.look();
    for (int i = 0; i < 4; ++i) {
        v.w.window.frames(i < 2 ? 1 : 12);
        const double share = v.look();
        CHECK(share > 0.01);
        CHECK(share < 0.5);
    }
}
