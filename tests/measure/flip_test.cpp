// The flip test: two pieces laid together in numbers, with uneven seats, edges that are not parallel, saw marks and a
// bowed straightedge, against the closed forms that say how sure it is. What it says for its minutes:
// diagnose/observe_test.cpp.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>

#include "measure/gauges.h"

using namespace offsquare;

namespace {

struct Foot {
    double x = 0.0, y = 0.0;
};

/// What the shop's imperfections are this time [mm].
struct Luck {
    double left_near = 0.0, left_far = 0.0, right_near = 0.0, right_far = 0.0;  ///< under the ends of the two seats
    double wider = 0.0;             ///< the turned piece's edge, over the whole board
    std::array<double, 4> marks{};  ///< on the two faces at the straightedge and at the far end
    double bow = 0.0;               ///< of the straightedge
};

/// Opening of the joint of two true pieces: at its far end less at the straightedge. The pieces are rectangles of half
/// a board; each stands on two points at the ends of its edge, and is pushed along until it touches the other.
double opens(const shop::Drawing& d, const Luck& luck) {
    const double seat = 0.5 * (d.board.width_mm - d.blade.kerf_mm), length = d.board.length_mm;
    const auto edge = [&](double x) {
        return luck.bow * (1.0 - 4.0 * x * x / (d.straightedge.length_mm * d.straightedge.length_mm));
    };
    // Feet at x = -seat and 0 (left), 0 and seat (right); the face of each piece stands square on the line of its feet.
    const auto face_of = [&](double near, double far, double foot, double marks_near, double marks_far, double out) {
        const Foot at_joint{0.0, edge(0.0) + near}, away{foot, edge(foot) + far};
        const double turn = std::atan2(at_joint.y - away.y, at_joint.x - away.x) + (foot > 0.0 ? std::acos(-1.0) : 0.0);
        const auto on_face = [&](double up, double mark) {
            return at_joint.x - std::sin(turn) * up + std::cos(turn) * out * mark;
        };
        return std::pair{on_face(0.0, marks_near), on_face(length, marks_far)};
    };
    const auto left = face_of(luck.left_near, luck.left_far, -seat, luck.marks[0], luck.marks[1], 1.0);
    const double slope = luck.wider * seat / d.board.width_mm;  // over one seat
    const auto right = face_of(luck.right_near, luck.right_far + slope, seat, luck.marks[2], luck.marks[3], -1.0);
    return (right.second - left.second) - (right.first - left.first);
}

double rms_of(const shop::Drawing& d, double rough, double parallel, double marks, double bow) {
    std::mt19937_64 engine(2026);
    std::normal_distribution<double> z;
    double sum = 0.0;
    constexpr int n = 20000;
    for (int i = 0; i < n; ++i) {
        Luck luck;
        for (double* x : {&luck.left_near, &luck.left_far, &luck.right_near, &luck.right_far}) *x = rough * z(engine);
        luck.wider = parallel * z(engine);
        for (double& x : luck.marks) x = marks * z(engine);
        luck.bow = bow * z(engine);
        const double o = opens(d, luck);
        sum += o * o;
    }
    return std::sqrt(sum / n);
}

}  // namespace

TEST_CASE("two pieces laid together 20,000 times: what opens the joint, part by part and all at once") {
    for (const auto& [wide, long_] : {std::pair{330.0, 320.0}, {180.0, 400.0}, {700.0, 90.0}}) {
        const double width = wide, length = long_;  // clang 14 captures no structured binding
        CAPTURE(width);
        shop::Drawing d;
        d.board.width_mm = width;
        d.board.length_mm = length;
        d.straightedge.length_mm = 800.0;
        const measure::Butted b = measure::butted(d);
        const double bow = 0.5 * shop::straightedge_limit_mm(d.straightedge);
        // An rms of 20,000 normal draws has a relative standard deviation of 1/sqrt(40,000) = 0.005; 4.5 are allowed.
        const auto is = [](double found, double said) { CHECK(std::abs(found / said - 1.0) < 4.5 * 0.005); };
        is(rms_of(d, d.board.rough_mm, 0, 0, 0), b.seat_mm);
        is(rms_of(d, 0, d.board.parallel_mm, 0, 0), b.parallel_mm);
        is(rms_of(d, 0, 0, d.board.marks_mm, 0), b.marks_mm);
        is(rms_of(d, 0, 0, 0, bow), b.straightedge_mm);
        is(rms_of(d, d.board.rough_mm, d.board.parallel_mm, d.board.marks_mm, bow),
           std::sqrt(b.seat_mm * b.seat_mm + b.parallel_mm * b.parallel_mm + b.marks_mm * b.marks_mm +
                     b.straightedge_mm * b.straightedge_mm));
    }
    // A board half as wide is half the seat: all that turns a piece turns it twice as far.
    shop::Drawing wide, narrow;
    narrow.board.width_mm = 0.5 * (wide.board.width_mm + wide.blade.kerf_mm);
    CHECK(measure::butted(narrow).seat_mm == doctest::Approx(2.0 * measure::butted(wide).seat_mm));
}
