#include "gui/kit/tip.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace offsquare::gui {
namespace {

float shared(const Box& a, const Box& b) {
    const float w = std::min(a.hi.x, b.hi.x) - std::max(a.lo.x, b.lo.x);
    const float h = std::min(a.hi.y, b.hi.y) - std::max(a.lo.y, b.lo.y);
    return w > 0.0F && h > 0.0F ? w * h : 0.0F;
}

/// Of the edges that face each other; sideways counts double.
float distance(const Box& a, const Box& b) {
    const float x = std::max({0.0F, a.lo.x - b.hi.x, b.lo.x - a.hi.x});
    const float y = std::max({0.0F, a.lo.y - b.hi.y, b.lo.y - a.hi.y});
    return std::hypot(2.0F * x, y);
}

/// Where a span of this length may begin along one side of the screen: flush with `from..to`, and right behind or
/// before each thing in the way.
std::vector<float> beginnings(float length, float from, float to, const std::vector<Box>& in_the_way,
                              float ImVec2::*side, float most, float gap) {
    std::vector<float> all{from, to - length, (from + to - length) / 2.0F};
    for (const Box& b : in_the_way) {
        all.push_back(b.hi.*side + gap);
        all.push_back(b.lo.*side - gap - length);
    }
    for (float& at : all) at = std::clamp(at, 0.0F, std::max(0.0F, most - length));
    std::sort(all.begin() + 3, all.end());
    all.erase(std::unique(all.begin() + 3, all.end()), all.end());
    return all;
}

}  // namespace

ImVec2 free_place(ImVec2 size, const Box& of, std::span<const Box> others, ImVec2 screen, float gap) {
    std::vector<Box> in_the_way(others.begin(), others.end());
    in_the_way.insert(in_the_way.begin(), of);
    const auto xs = beginnings(size.x, of.lo.x, of.hi.x, in_the_way, &ImVec2::x, screen.x, gap);
    auto ys = beginnings(size.y, of.lo.y, of.hi.y, in_the_way, &ImVec2::y, screen.y, gap);
    ys.insert(ys.begin(), {std::clamp(of.hi.y + gap, 0.0F, std::max(0.0F, screen.y - size.y)),
                           std::clamp(of.lo.y - gap - size.y, 0.0F, std::max(0.0F, screen.y - size.y))});
    ImVec2 best{xs.front(), ys.front()};
    float least_covered = std::numeric_limits<float>::max();
    float nearest = least_covered;
    for (const float y : ys) {
        for (const float x : xs) {
            const Box here{{x, y}, {x + size.x, y + size.y}};
            const float away = distance(here, of);
            if (least_covered <= 0.0F && away >= nearest) continue;
            float covered = 0.0F;
            for (const Box& b : in_the_way) covered += shared(here, b);
            if (covered > least_covered || (covered >= least_covered && away >= nearest)) continue;
            least_covered = covered;
            nearest = away;
            best = here.lo;
        }
    }
    return best;
}

std::vector<Box> controls_of(const Record& record) {
    std::vector<Box> boxes;
    for (const Drawn& d : record.items()) {
        if (d.kind == Kind::sheet) boxes.clear();
        else if (d.visible && is_pressed_or_typed_into(d.kind)) boxes.push_back({d.lo, d.hi});
    }
    return boxes;
}

}  // namespace offsquare::gui
