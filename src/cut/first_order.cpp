// Notation. Everything as it is where the left piece is kept, in a mirror (every x changes its sign) where the right
// one is. Heights Y are in S, from the fence's face. f(Y): x of the kept face, that is the blade's left side at its
// leftmost while Y is between the teeth; g(Y): the offcut's. e: slope of the fence.
//
// Cut n leaves an edge of the shape f over its span, which is held on the fence along a line of slope s_n = dx/dY. From
// one cut to the next the board turns by s_n + e less a right angle. Before the fifth the first fresh edge stands on
// the right again, turned by s_1 + ... + s_4 + 4e, and shorter by a trim and a kerf at both ends.
#include "cut/first_order.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/lowest_line.h"
#include "base/uncertain.h"
#include "contact/glide.h"
#include "cut/set_up.h"
#include "shop/truth.h"

namespace offsquare::cut {
namespace {

using contact::Glide;
using shop::Drawing;
using shop::Side;
using shop::Truth;

/// One face of the kerf: `sign` makes the least X count on both sides of the blade.
class Swept {
public:
    Swept(const Glide& glide, double sign, double half_kerf, double toe, double creep, double half_chord)
        : glide_(glide), sign_(sign), half_chord_(half_chord) {
        for (std::size_t i = 0; i < Glide::places; ++i) {
            at_0_[i] = -half_kerf - sign * ((toe + creep) * glide.s_mm[i] + glide.x_mm[i]);
            rise_[i] = sign * (glide.yaw_rad[i] - toe);
        }
        per_mm_ = (Glide::places - 1) / (glide.s_mm.back() - glide.s_mm.front());
    }

    /// x of the face at height Y.
    double at(double Y) const {
        const double in = place(-half_chord_ - Y);
        const double out = place(half_chord_ - Y);
        double least = std::min(between(in, Y), between(out, Y));
        const auto first = static_cast<std::size_t>(in) + 1;
        const auto end = static_cast<std::size_t>(std::ceil(out));
        if (first < end) least = std::min(least, base::lowest_line(&at_0_[first], &rise_[first], end - first, Y));
        return sign_ * least;
    }

private:
    /// Travel s in steps from the first place.
    double place(double s) const {
        return std::clamp((s - glide_.s_mm.front()) * per_mm_, 0.0, static_cast<double>(Glide::places - 1));
    }
    double between(double place, double Y) const {
        const std::size_t i = std::min(static_cast<std::size_t>(place), Glide::places - 2);
        const double part = place - static_cast<double>(i);
        const double a = at_0_[i] + rise_[i] * Y;
        const double b = at_0_[i + 1] + rise_[i + 1] * Y;
        return a + part * (b - a);
    }

    const Glide& glide_;
    double sign_;
    double half_chord_;
    double per_mm_ = 0.0;
    Glide::List at_0_;
    Glide::List rise_;
};

/// Both faces of the kerf as the kept piece sees them.
struct Faces {
    Swept left;
    Swept right;
    bool kept_left = true;
    double kept(double Y) const { return kept_left ? left.at(Y) : -right.at(Y); }
    double strip(double Y) const { return kept_left ? right.at(Y) : -left.at(Y); }
};

/// Slope of the line along which the fence holds an edge, of which [from, to] meets it, pressed in the middle of that.
double held_along(const Faces& faces, base::Interval meets) {
    constexpr std::size_t last = 32;
    constexpr std::size_t middle = last / 2;
    std::array<double, last + 1> x;
    for (std::size_t i = 0; i <= last; ++i)
        x[i] = faces.kept(meets.lo + (meets.hi - meets.lo) * static_cast<double>(i) / last);
    const auto slope = [&](std::size_t i, std::size_t k) { return (x[k] - x[i]) / static_cast<double>(k - i); };
    std::size_t before = 0;
    std::size_t behind = last;
    for (std::size_t i = 1; i < middle; ++i) before = slope(i, middle) < slope(before, middle) ? i : before;
    for (std::size_t k = last; k-- > middle + 1;) behind = slope(middle, k) > slope(middle, behind) ? k : behind;
    const double steepest = slope(before, middle);
    const double flattest = slope(middle, behind);
    // The edge stands out under the push: it lies as the belly does there.
    if (flattest <= steepest) return 0.5 * (steepest + flattest) * last / (meets.hi - meets.lo);
    // It is hollow there: the line goes from a point before the push to one behind, above all others.
    for (bool moved = true; moved;) {
        moved = false;
        for (std::size_t k = middle + 1; k <= last; ++k) {
            if (slope(before, k) > slope(before, behind)) behind = k, moved = true;
        }
        for (std::size_t i = 0; i < middle; ++i) {
            if (slope(i, behind) < slope(before, behind)) before = i, moved = true;
        }
    }
    return slope(before, behind) * last / (meets.hi - meets.lo);
}

/// The heights of a faultless test.
struct Plan {
    double off = 0.0;  ///< what each trim takes off, with its kerf
    std::array<double, 4> spans{};
    std::array<base::Interval, 4> meets{};  ///< what of each fresh edge lies on the fence for the next cut
    double strip_length = 0.0;
};

Plan plan_of(const Drawing& d, const contact::FenceFace& fence, double off_mm) {
    Plan p;
    p.off = off_mm;
    const double lean = d.board.kept == Side::left ? lean_mm(d.board) : -lean_mm(d.board);
    const double length = d.board.length_mm;
    // The second cut ends at the rough edge that leans.
    const double across = d.board.width_mm - p.off - lean * (1.0 - p.off / length);
    p.spans = {length, across, length - p.off, across - p.off};
    p.strip_length = length - 2.0 * p.off;
    const double fence_end = d.board.kept == Side::left ? -fence.from_mm : fence.to_mm;
    for (std::size_t i = 0; i < p.spans.size(); ++i) {
        const double there = beside_mm(d, static_cast<int>(i) + 2) + fence_end;
        p.meets[i] = {std::max(0.0, p.spans[i] - there), p.spans[i]};
    }
    return p;
}

/// Nothing comes so near to where a test goes another way that small things could take it there.
bool clearly_done(const Drawing& d, const Truth& truth, const contact::FenceFace& fence) {
    const Plan plan = plan_of(d, fence, d.board.trim_mm + d.blade.kerf_mm);
    constexpr double small_mm = 2.0;  // far more than faults of the table's ranges move anything
    constexpr double shortest_mm = 50.0;
    const double longest = std::max(d.board.width_mm, d.board.length_mm) + std::abs(lean_mm(d.board));
    const double corner = std::max(beside_mm(d, 1), beside_mm(d, 5));
    const double half_fence = 0.5 * d.fence.length_mm;
    const double spans = std::min({plan.spans[1], plan.spans[3], plan.strip_length});
    return d.blade.height_mm > d.board.thickness_mm && d.board.trim_mm - std::abs(lean_mm(d.board)) > small_mm &&
           d.board.strip_mm > small_mm && spans > shortest_mm && std::abs(fence.slope) * longest < small_mm &&
           std::abs(truth.blade_toe_rad) * longest < small_mm && corner < half_fence - small_mm;
}

bool alike_and_clean(const Chances& chances) {
    return std::all_of(chances.begin(), chances.end(),
                       [&](const Chance& c) { return !c.chip && c.push == chances.front().push; });
}

/// What both tests need.
struct Test {
    bool goes = true;
    Glide glide;
    contact::FenceFace fence;

    Faces faces(const Drawing& d, const Truth& t) const {
        const double half = 0.5 * width_at_table(d.blade, t);
        const double half_chord = 0.5 * shop::chord_mm(d.blade);
        return {{glide, 1.0, half, t.blade_toe_rad, t.board_creep_rad, half_chord},
                {glide, -1.0, half, t.blade_toe_rad, t.board_creep_rad, half_chord},
                d.board.kept == Side::left};
    }
    /// As seen in the mirror or without it.
    double slope_for(const Drawing& d) const { return d.board.kept == Side::left ? fence.slope : -fence.slope; }
};

/// False: the road does not lead there.
bool get_ready(Test& test, const Drawing& d, const Truth& truth, const contact::Shims& shims, const Chances& chances,
               bool turned) {
    if (truth.edge_bow_mm != 0.0 || !truth.edge_profile.straight() || !alike_and_clean(chances)) return false;
    test.fence = contact::fence_face(d, truth, shims);
    const std::optional<Pass> pass = pass_of(d, test.fence, turned);
    if (!test.fence.profile.straight() || !pass || !clearly_done(d, truth, test.fence)) return false;
    // The last board must have passed all of the blade.
    if (pass->to < 0.5 * shop::chord_mm(d.blade) + 2.0) return false;
    const contact::Gliding gliding = contact::glide(d, truth, chances.front().push, pass->from, pass->to, test.glide);
    test.goes = gliding != contact::Gliding::binds;
    return gliding != contact::Gliding::ask;
}

}  // namespace

std::optional<StripTest> first_order_strip(const Drawing& d, const Truth& truth, const contact::Shims& shims,
                                           const Chances& chances) {
    Test test;
    if (!get_ready(test, d, truth, shims, chances, true)) return std::nullopt;
    if (!test.goes) return StripTest{Outcome::runners_bind, std::nullopt};
    const Faces faces = test.faces(d, truth);
    // A toed blade and a curved way take off a little more than a kerf.
    const Plan plan = plan_of(d, test.fence, beside_mm(d, 1) - faces.kept(0.0));
    double turned = 4.0 * test.slope_for(d);
    for (const base::Interval& meets : plan.meets) turned += held_along(faces, meets);
    const double corner = beside_mm(d, 5);
    const double far =
        corner + faces.kept(plan.strip_length + plan.off) - faces.kept(plan.off) - turned * plan.strip_length;
    const StripEnds ends{corner - faces.strip(0.0), far - faces.strip(plan.strip_length), plan.strip_length};
    if (!(ends.fence_end_mm > 0.0 && ends.far_end_mm > 0.0)) return std::nullopt;
    return StripTest{Outcome::done, ends};
}

std::optional<FirstCut> first_order_cut(const Drawing& d, const Truth& truth, const contact::Shims& shims,
                                        const Chances& chances, bool turned) {
    Test test;
    if (!get_ready(test, d, truth, shims, chances, turned)) return std::nullopt;
    if (!test.goes) return FirstCut{Outcome::runners_bind};
    const Faces faces = test.faces(d, truth);
    const double span = d.board.length_mm;
    return FirstCut{Outcome::done, (faces.kept(span) - faces.kept(0.0)) / span + test.slope_for(d),
                    faces.right.at(0.0) - faces.left.at(0.0)};
}

}  // namespace offsquare::cut
