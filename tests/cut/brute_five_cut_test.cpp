// A second five-cut test, written another way: Boost.Geometry holds and cuts the wood, the blade's rectangle is swept
// in small steps, the board is set on the fence by trying pairs of contact points again and again, edges are found by
// where they lie, not by marks. Curved everything.
//
// Taken from the code under test: the sled's poses (runners_test.cpp holds them to their definition) and the frames.
// Nothing else.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#define BOOST_GEOMETRY_NO_ROBUSTNESS  // see piece_test.cpp
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include "contact/draws.h"
#include "cut/five_cut.h"
#include "repeats.h"
#include "shop/truth.h"

using namespace offsquare;
using base::Vec2;
using shop::Drawing;
using shop::Side;
using shop::Truth;
namespace bg = boost::geometry;
using Wood = bg::model::polygon<bg::model::d2::point_xy<double>, false>;
using Line = std::vector<Vec2>;

namespace {

struct Placement {
    double angle = 0;
    Vec2 shift;
    Vec2 operator()(Vec2 p) const {
        return {shift.x + std::cos(angle) * p.x - std::sin(angle) * p.y,
                shift.y + std::sin(angle) * p.x + std::cos(angle) * p.y};
    }
};

Line placed(const Line& line, const Placement& where) {
    Line result;
    for (const Vec2& p : line) result.push_back(where(p));
    return result;
}

Wood wood_of(const Line& outline) {
    Wood wood;
    for (const Vec2& p : outline) bg::append(wood.outer(), bg::model::d2::point_xy<double>(p.x, p.y));
    bg::correct(wood);
    return wood;
}

Line outline_of(const Wood& wood) {
    Line line;
    for (std::size_t i = 0; i + 1 < wood.outer().size(); ++i)
        line.push_back({wood.outer()[i].x(), wood.outer()[i].y()});
    return line;
}

/// y over x of a line with increasing x.
double y_over(const Line& line, double x) {
    std::size_t i = 1;
    while (i + 1 < line.size() && line[i].x < x) ++i;
    return line[i - 1].y + (line[i].y - line[i - 1].y) * (x - line[i - 1].x) / (line[i].x - line[i - 1].x);
}

Line fence_line(const contact::FenceFace& face) {
    Line line;
    const double along = std::hypot(1.0, face.slope);
    for (const Vec2& q : face.profile.points()) {  // departures are square to the line
        line.push_back({q.x - q.y * face.slope / along, face.slope * q.x + face.offset_mm + q.y / along});
    }
    return line;
}

/// Turns and lowers an edge until two of its points, on both sides of the push, touch the fence and none is inside.
/// Each round: the gap over x, and that pair of places whose connecting line has no gap below it.
Placement seat(const Line& fence, const Line& edge, bool corner_is_right, double corner_x) {
    Placement where{-std::atan2(edge.back().y - edge.front().y, edge.back().x - edge.front().x), {}};
    for (int round = 0; round < 8; ++round) {
        const Vec2 corner = where(corner_is_right ? edge.back() : edge.front());
        where.shift.x += corner_x - corner.x;
        const Line lying = placed(edge, where);
        const double from = std::max(fence.front().x, lying.front().x), to = std::min(fence.back().x, lying.back().x);
        std::vector<double> xs{from, to};
        for (const Line* line : {&fence, &lying}) {
            for (const Vec2& p : *line) {
                if (p.x > from && p.x < to) xs.push_back(p.x);
            }
        }
        std::sort(xs.begin(), xs.end());
        Line gap;
        for (const double x : xs) gap.push_back({x, y_over(lying, x) - y_over(fence, x)});
        const double push = 0.5 * (from + to);
        double best_slope = 0, best_height = -1e300;
        for (std::size_t i = 0; i < gap.size() && gap[i].x <= push; ++i) {
            // The flattest chord to the right of the push that keeps all gaps above it.
            double slope = 1e300;
            for (const Vec2& g : gap) {
                if (g.x >= push && g.x > gap[i].x) slope = std::min(slope, (g.y - gap[i].y) / (g.x - gap[i].x));
            }
            bool below = false;
            for (const Vec2& g : gap) below |= g.y < gap[i].y + slope * (g.x - gap[i].x) - 1e-12;
            const double height = gap[i].y + slope * (push - gap[i].x);
            if (!below && height > best_height) best_height = height, best_slope = slope;
        }
        // Turned back by the slope about the push, let down by the height there.
        const Vec2 pivot{push, y_over(lying, push)};
        const double turn = -std::atan(best_slope);
        const Vec2 arm = where.shift - pivot;
        where.angle += turn;
        where.shift = pivot + Vec2{std::cos(turn) * arm.x - std::sin(turn) * arm.y,
                                   std::sin(turn) * arm.x + std::cos(turn) * arm.y};
        where.shift.y -= best_height;
    }
    return where;
}

/// The blade's rectangle in the sled frame when the sled is at s.
struct Box {
    Vec2 corner[4];
};

class Sweep {
public:
    Sweep(const shop::Blade& blade, double toe, const contact::Travel& travel) : toe_(toe), poses_(travel.poses) {
        const double k = blade.kerf_mm / 2, c = std::sqrt(blade.height_mm * (blade.diameter_mm - blade.height_mm));
        const Vec2 flat[4] = {{-k, -c}, {k, -c}, {k, c}, {-k, c}};
        for (int i = 0; i < 4; ++i) flat_[i] = flat[i];
        constexpr int steps = 64 * 12;
        for (int i = 0; i <= steps; ++i) boxes_.push_back(box(first() + (last() - first()) * i / steps));
    }

    /// Least and greatest X at which the rectangle meets height Y: at steps of the travel, and at the moments when one
    /// of its corners is at that height.
    std::pair<double, double> at(double Y) const {
        std::pair<double, double> span{1e9, -1e9};
        for (const Box& b : boxes_) widen(span, b, Y);
        for (int c = 0; c < 4; ++c) {
            double lo = first(), hi = last();
            // The further the sled, the lower the rectangle stands in its frame.
            if (box(lo).corner[c].y < Y || box(hi).corner[c].y > Y) continue;
            for (int i = 0; i < 60; ++i) {
                const double middle = 0.5 * (lo + hi);
                (box(middle).corner[c].y > Y ? lo : hi) = middle;
            }
            for (const double s : {lo, hi})
                span.first = std::min(span.first, box(s).corner[c].x),
                span.second = std::max(span.second, box(s).corner[c].x);
        }
        return span;
    }

private:
    double first() const { return poses_.front().s_mm; }
    double last() const { return poses_.back().s_mm; }

    Box box(double s) const {
        std::size_t k = 1;
        while (k + 1 < poses_.size() && poses_[k].s_mm < s) ++k;
        const double f = (s - poses_[k - 1].s_mm) / (poses_[k].s_mm - poses_[k - 1].s_mm);
        const double x = (1 - f) * poses_[k - 1].x_mm + f * poses_[k].x_mm,
                     yaw = (1 - f) * poses_[k - 1].yaw_rad + f * poses_[k].yaw_rad;
        Box b;
        for (int i = 0; i < 4; ++i) {
            const Vec2 p{std::cos(toe_) * flat_[i].x - std::sin(toe_) * flat_[i].y - x,
                         std::sin(toe_) * flat_[i].x + std::cos(toe_) * flat_[i].y - s};
            b.corner[i] = {std::cos(yaw) * p.x + std::sin(yaw) * p.y, -std::sin(yaw) * p.x + std::cos(yaw) * p.y};
        }
        return b;
    }

    static void widen(std::pair<double, double>& span, const Box& b, double Y) {
        for (int i = 0; i < 4; ++i) {
            const Vec2 p = b.corner[i], q = b.corner[(i + 1) % 4];
            if ((p.y > Y) == (q.y > Y)) continue;
            const double X = p.x + (q.x - p.x) * (Y - p.y) / (q.y - p.y);
            span.first = std::min(span.first, X);
            span.second = std::max(span.second, X);
        }
    }

    double toe_;
    std::vector<contact::SledPose> poses_;
    Vec2 flat_[4];
    std::vector<Box> boxes_;  ///< at the steps, the same for all heights
};

double distance_to(const Line& line, Vec2 p) {
    double best = 1e9;
    for (std::size_t i = 1; i < line.size(); ++i) {
        const Vec2 a = line[i - 1], d = line[i] - a;
        const double f = std::clamp(dot(p - a, d) / dot(d, d), 0.0, 1.0);
        best = std::min(best, norm(p - (a + f * d)));
    }
    return best;
}

/// The points of a piece of wood that lie on a line, in the order along it.
Line part_on(const Wood& wood, const Line& line) {
    Line on;
    for (const Vec2& p : outline_of(wood)) {
        if (distance_to(line, p) < 1e-7) on.push_back(p);
    }
    const Vec2 along = line.back() - line.front();
    std::sort(on.begin(), on.end(), [&](Vec2 a, Vec2 b) { return dot(a, along) < dot(b, along); });
    return on;
}

struct Result {
    Line old_edge;  ///< of the strip, from the fence end to the far end
    Line face;      ///< the fifth cut's, as long as the kerf was looked at
    bool strip_on_right = true;
};

/// Width square to the chord of the old edge, at a part of its length; the edge's own departure counted.
double width(const Result& r, double part) {
    const Vec2 chord = r.old_edge.back() - r.old_edge.front();
    const Vec2 along = unit(chord), inward = r.strip_on_right ? left_of(along) : -1.0 * left_of(along);
    const Vec2 p = r.old_edge.front() + part * chord;
    for (std::size_t i = 1; i < r.face.size(); ++i) {
        const Vec2 a = r.face[i - 1], b = r.face[i];
        const double u = dot(a - p, along), v = dot(b - p, along);
        if ((u > 0) == (v > 0)) continue;
        const double to_face = dot(a + (u / (u - v)) * (b - a) - p, inward);
        Line edge;
        for (const Vec2& q : r.old_edge)
            edge.push_back({dot(q - r.old_edge.front(), along), dot(q - r.old_edge.front(), inward)});
        return to_face - y_over(edge, part * norm(chord));
    }
    return std::nan("");
}

/// `steps`: how many parts of the board's depth the kerf's faces are looked at and are straight between.
Result brute_five_cut(const Drawing& d, const Truth& t, const contact::Travel& travel, int steps) {
    const bool left_kept = d.board.kept == Side::left;
    const Line fence = fence_line(contact::fence_face(d, t, {}));
    const Sweep sweep(d.blade, t.blade_toe_rad, travel);
    const double w = d.board.width_mm, l = d.board.length_mm, lean = l * std::tan(d.board.first_edge_rad);
    Line edge;  // to lie on the fence, left to right
    for (int i = 0; i <= 32; ++i) edge.push_back({w * i / 32, -4 * t.edge_bow_mm * (i / 32.0) * (1 - i / 32.0)});
    Line outline(edge);
    outline.push_back({w + lean, l});
    outline.push_back({lean, l});
    Wood board = wood_of(outline);
    Line old_edge;
    Result result;
    for (int number = 1; number <= 5; ++number) {
        const double corner = d.blade.kerf_mm / 2 + (number == 5 ? d.board.strip_mm : d.board.trim_mm);
        const Placement where = seat(fence, edge, left_kept, left_kept ? corner : -corner);
        const Line lying = placed(outline_of(board), where);
        old_edge = placed(old_edge, where);
        double from = 1e9, to = -1e9;
        for (const Vec2& p : lying) from = std::min(from, p.y), to = std::max(to, p.y);
        Line left, right;
        for (int i = 0; i <= steps; ++i) {
            const auto [least, most] = sweep.at(from + (to - from) * i / steps);
            const double beyond = i == 0 ? -1e-6 : i == steps ? 1e-6 : 0.0;  // so that the kerf opens at both ends
            left.push_back({least, from + (to - from) * i / steps + beyond});
            right.push_back({most, from + (to - from) * i / steps + beyond});
        }
        Line kerf(right);
        kerf.insert(kerf.end(), left.rbegin(), left.rend());
        std::vector<Wood> parts;
        bg::difference(wood_of(lying), wood_of(kerf), parts);
        std::erase_if(parts, [](const Wood& p) { return bg::area(p) < 1e-6; });
        REQUIRE(parts.size() == 2);
        const auto x_of = [](const Wood& p) { return bg::return_centroid<bg::model::d2::point_xy<double>>(p).x(); };
        if (x_of(parts[0]) > x_of(parts[1])) std::swap(parts[0], parts[1]);
        const Wood& kept = parts[left_kept ? 0 : 1];
        const Wood& offcut = parts[left_kept ? 1 : 0];
        if (number == 5) {
            result.strip_on_right = left_kept;
            result.old_edge = part_on(offcut, old_edge);
            if (result.old_edge.front().y > result.old_edge.back().y)
                std::reverse(result.old_edge.begin(), result.old_edge.end());
            result.face = left_kept ? right : left;
            return result;
        }
        const Line fresh = part_on(kept, left_kept ? left : right);  // away from the fence
        if (number == 1) old_edge = fresh;
        // A quarter turn: clockwise the fresh face on the right comes down with its near end left; counter-clockwise
        // the mirror.
        const Placement turn{left_kept ? -M_PI / 2 : M_PI / 2, {}};
        board = wood_of(placed(outline_of(kept), turn));
        old_edge = placed(old_edge, turn);
        edge = placed(fresh, turn);
        if (!left_kept) std::reverse(edge.begin(), edge.end());
    }
    return result;
}

}  // namespace

TEST_CASE("five cuts on curved faces, in curved slots, with a bent runner and a toed blade, made a second way") {
    Draws r(71);
    int done = 0;
    constexpr int rounds = repeats::of(10, 2);
    for (int round = 0; round < rounds; ++round) {
        Drawing d;
        d.board.kept = round % 2 ? Side::right : Side::left;
        d.board.width_mm = r.between(200, 300);
        d.board.length_mm = r.between(200, 300);
        d.board.first_edge_rad = r.between(-0.005, 0.005);
        Truth t;
        t.fence_skew_rad = r.between(-2e-3, 2e-3);
        t.fence_profile = r.wavy(-280, 280, 0.05);
        t.left_slot_profile = r.wavy(-280, 280, 0.02);
        t.right_slot_profile = r.wavy(-280, 280, 0.02);
        t.left_play_mm = t.right_play_mm = 0.15;
        t.runner_bend_mm = r.between(-0.05, 0.05);
        t.edge_bow_mm = r.between(
            -0.3, 0);  // hollow: a bellied edge is pushed right at its crown, where the two may settle otherwise
        t.blade_toe_rad = r.between(-1e-3, 1e-3);
        const cut::FiveCut test = cut::five_cut_each(d, t, {}, cut::alike({}), cut::Grain::coarse);
        REQUIRE(test.outcome == cut::Outcome::done);
        // The travel that the test made for itself, asked for again: from clear of the blade to past it.
        const double reach = shop::chord_mm(d.blade) / 2, slope = std::abs(std::tan(t.fence_skew_rad));
        const double lean = std::abs(d.board.length_mm * std::tan(d.board.first_edge_rad)),
                     margin = 25 + slope * d.fence.length_mm;
        const auto travel = contact::travel(
            d, t, {}, -(reach + 1.05 * std::max(d.board.width_mm, d.board.length_mm) + lean + margin), reach + margin);
        REQUIRE(travel);
        ++done;
        // With the faces at our own 33 stations only the second order is left: the board turns by up to 1e-3 on slopes
        // of 1e-3 that lie 0.05 mm high, and enters the chord yaw*2 mm later than ours has it, on faces that drift by
        // 1e-3: some 1e-6 mm a cut.
        const Result same = brute_five_cut(d, t, *travel, 32);
        for (const double part : {0.0, 0.2, 0.5, 0.9, 1.0})
            CHECK(std::abs(width(same, part) - test.strip->width_at(part * test.strip->length_mm)) < 1e-5);
        CHECK(std::abs(norm(same.old_edge.back() - same.old_edge.front()) - test.strip->length_mm) < 1e-5);
        // With five times as many: what 33 stations leave out. They stand 9 mm apart; the runners' next sample takes
        // over with a kink of 1e-5 or so in the yaw, which a board of 250 mm turns into a kink of 1e-3*9/8 mm at worst,
        // 1 um: a three hundredth of the angle that is taught.
        const Result finer = brute_five_cut(d, t, *travel, 160);
        for (const double part : {0.0, 0.2, 0.5, 0.9, 1.0})
            CHECK(std::abs(width(finer, part) - test.strip->width_at(part * test.strip->length_mm)) < 1e-3);
        // That is not because all is straight: the faults move the strip by much more.
        Truth plain;
        plain.fence_skew_rad = t.fence_skew_rad;
        const cut::FiveCut straight = cut::five_cut(d, plain, {});
        const double taper = test.strip->width_at(0) - test.strip->width_at(test.strip->length_mm);
        const double straight_taper = straight.strip->width_at(0) - straight.strip->width_at(straight.strip->length_mm);
        CHECK(std::abs(taper - straight_taper) > 1e-2);
    }
    CHECK(done == rounds);
}
