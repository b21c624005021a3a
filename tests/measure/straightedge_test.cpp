// A straightedge whose own edge is bowed: how much of that bow a reading shows, by laying one curve on the other at
// fine steps; and that it is one straightedge for all that is read with it.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "measure/gauges.h"
#include "measure/saw.h"
#include "statistics.h"

using namespace offsquare;
using measure::Check;

namespace {

/// What feelers find where an edge with a parabola of this height over its length lies on a face with one of its own:
/// the open gap in the middle, or half the rock between the two ends, made up to the whole face. Hollow is below 0.
double laid_on(double face_bow, double face_length, double edge_bow, double edge_length) {
    const double half = 0.5 * std::min(face_length, edge_length);
    const auto bow = [](double height, double length, double x) {
        return height * (1.0 - 4.0 * x * x / (length * length));
    };
    constexpr int steps = 20000;
    // The edge hangs over the face and comes down until it touches; both are the same to the left and to the right.
    double middle = 0.0, most = -1e9;
    std::vector<double> stands_out;
    for (int i = -steps; i <= steps; ++i) {
        const double x = half * i / steps;
        stands_out.push_back(bow(face_bow, face_length, x) + bow(edge_bow, edge_length, x));
        most = std::max(most, stands_out.back());
        if (i == 0) middle = stands_out.back();
    }
    const double open_in_the_middle = most - middle, open_at_the_ends = most - stands_out.front();
    const double made_up = face_length > edge_length ? std::pow(face_length / edge_length, 2) : 1.0;
    return made_up * (open_at_the_ends - open_in_the_middle);
}

/// Error of one reading at each of many seeds, its first run.
std::vector<double> errors(const Saw& saw, Check check, int n) {
    const double exact = saw.exact(check)[0];
    std::vector<double> e;
    for (int seed = 1; seed <= n; ++seed) e.push_back(saw.real(check, static_cast<std::uint64_t>(seed))[0] - exact);
    return e;
}

}  // namespace

TEST_CASE("limits of a straightedge by its length: DIN 874, grade 2 (from memory)") {
    CHECK(shop::straightedge_limit_mm({500.0}) == doctest::Approx(0.0205));
    CHECK(shop::straightedge_limit_mm({1000.0}) == doctest::Approx(0.033));
    CHECK(shop::straightedge_limit_mm({2000.0}) == doctest::Approx(0.058));
    CHECK(shop::straightedge_limit_mm({1000.0, 0.005}) == 0.005);  // one that came with a certificate
}

TEST_CASE("how much of a straightedge's own bow a reading shows: one curve laid on the other at fine steps") {
    for (const double edge_length : {300.0, 600.0, 1000.0}) {
        for (const double own : {0.012, -0.012}) {
            for (const double over : {150.0, 330.0, 560.0, 900.0}) {
                for (const double face : {0.0, 0.2, -0.2}) {
                    const double shown = laid_on(face, over, own, edge_length);
                    const double error = own * measure::straightedge_share({edge_length}, over);
                    CHECK(std::abs(shown - face - error) < 1e-12);
                }
            }
        }
    }
}

TEST_CASE("u of what is read with a straightedge: its limits as two standard deviations, by the share that is used") {
    Saw saw;
    saw.drawing.straightedge = {400.0, 0.05};
    struct Row {
        Check check;
        double over;
    };
    for (const Row& row : {Row{Check::fence_straightedge, 560.0},
                           {Check::edge_straightedge, 330.0},
                           {Check::runner_straightedge, 420.0},
                           {Check::slot_ride, 480.0}}) {  // as far as the block goes
        CAPTURE(measure::info(row.check).name);
        Saw perfect = saw;
        perfect.drawing.straightedge.limit_mm = 0.0;
        // What the feelers see of a longer face is made up to the whole, their own error too; an indicator runs along.
        const double u = measure::instrument_u(row.check, saw.drawing)[0],
                     without = measure::instrument_u(row.check, perfect.drawing)[0],
                     own = laid_on(0.0, row.over, 0.025, 400.0);
        CHECK(u == doctest::Approx(std::hypot(without, own)).epsilon(1e-9).scale(0));
        CHECK(own > 0.01);
    }
    const double feelers = measure::instrument_u(Check::edge_straightedge, saw.drawing)[0];
    Saw other = saw;
    other.drawing.board.width_mm = 660.0;
    saw.drawing.straightedge.length_mm = 800.0;
    // The same share of two straightedges, and feelers on a face longer than the one.
    CHECK(measure::instrument_u(Check::edge_straightedge, other.drawing)[0] > 2.0 * feelers);
}

TEST_CASE("one straightedge: its bow is in all that is read with it, in one session and each time") {
    Saw saw;
    saw.drawing.straightedge = {600.0, 0.2};  // a poor one, so that its bow is nearly all of the error
    constexpr int n = 2000;
    const auto fence = errors(saw, Check::fence_straightedge, n), edge = errors(saw, Check::edge_straightedge, n),
               ride = errors(saw, Check::slot_ride, n);
    const auto share = [&](Check check, double over) {
        return 0.1 * measure::straightedge_share(saw.drawing.straightedge, over) /
               measure::instrument_u(check, saw.drawing)[0];
    };
    const double in_fence = share(Check::fence_straightedge, 560.0), in_edge = share(Check::edge_straightedge, 330.0),
                 in_ride = share(Check::slot_ride, 480.0);
    // Two errors that share a part of each: correlation is the product of the shares; (1 - r^2)/sqrt(n) is one standard
    // deviation of it, 4.5 are allowed.
    const auto near = [&](double found, double r) {
        return std::abs(found - r) < 4.5 * (1.0 - r * r) / std::sqrt(double(n)) + 0.01;
    };
    CHECK(near(statistics::correlation(fence, edge), in_fence * in_edge));
    CHECK(near(statistics::correlation(fence, ride), in_fence * in_ride));
    CHECK(in_fence * in_edge > 0.7);
}
