// What looks different from one frame to the next, so that only that is painted again. No OpenGL here: tests feed it
// directly.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <vector>

namespace offsquare::gui {

/// Whole pixels of the window, the end not included.
struct Patch {
    int x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    friend bool operator==(const Patch&, const Patch&) = default;
    bool empty() const { return x1 <= x0 || y1 <= y0; }
};

class Changes {
public:
    /// Where the window looks different from the last time that this was asked: apart from each other, empty if
    /// nowhere. Outside of them every pixel is made of the same triangles in the same order as before. The whole window
    /// the first time, when it has another size, and when something has come to stand above it or has gone.
    std::vector<Patch> since_last(const ImDrawData& data);
    /// The next time everything is different: the window was uncovered, or the letters are others.
    void forget() { known_ = false; }

private:
    struct Mark {
        std::uint64_t sum = 0;  ///< of all that a triangle is made of
        Patch at;
    };
    using List = std::vector<Mark>;
    static List marks_of(const ImDrawList& list, const ImDrawData& data);
    static Patch difference(const List& before, const List& now);

    std::vector<List> last_;
    ImVec2 size_;
    bool known_ = false;
};

}  // namespace offsquare::gui
