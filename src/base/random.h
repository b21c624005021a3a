// Counter-based random numbers (Philox4x32-10, Salmon and others 2011): a value is a pure function of seed, stream and
// index, so that one more draw somewhere shifts nobody else, and any single draw can be repeated alone.
#pragma once

#include <array>
#include <cstdint>

namespace offsquare::base {

/// The raw block: four 32-bit words from a 128-bit counter and a 64-bit key. Known answers in
/// tests/base/random_test.cpp.
std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter, std::array<std::uint32_t, 2> key);

/// What a draw is for; each purpose is a stream of its own. Never renumber: stored sessions depend on it.
enum class Purpose : std::uint32_t {
    caliper_limit = 1,
    caliper_repeat = 2,
    caliper_spread = 3,
    tape_limit = 4,
    shim_thickness = 5,
    gauge_limit = 6,  ///< a = which instrument and place
    gauge_repeat = 7,
    chip = 8,    ///< whether and where a chip lies, cut by cut
    hand = 9,    ///< where the hand pushes, cut by cut
    clamp = 10,  ///< how far the fence turns, clamping by clamping
    repair = 11,
    advice = 12,         ///< places at which information is weighed
    caliper_scale = 13,  ///< the error of a caliper that is the same at every place
    straightedge = 14,   ///< the bow of its own edge
    like_mine = 30,      ///< the errors of a saw to practise on that is like a person's own; a = try, b = which
    made_case = 31,      ///< sizes, faults and words of a case made from a seed; a = attempt, b = which
    test_case = 100,     ///< for tests and studies
};

/// Where a draw stands.
struct Draw {
    std::uint64_t seed = 0;
    Purpose purpose = Purpose::test_case;
    std::uint32_t a = 0;  ///< e.g. which test of the session
    std::uint32_t b = 0;  ///< e.g. which end, which repeat
};

double uniform01(
    const Draw& d);  ///< in (0, 1), never 0 or 1: an odd multiple of 2^-53, so that u and 1-u are equally exact
double standard_normal(
    const Draw& d);  ///< mean 0, sd 1, by the inverse of the normal distribution (one uniform per normal)
double inverse_normal(
    double p);  ///< quantile of the normal distribution, 0 < p < 1; relative error < 1e-14 (Wichura 1988, AS 241)

/// Draws one after the other, each at a place of its own: b counts from 0.
class Draws {
public:
    Draws(std::uint64_t seed, Purpose purpose, std::uint32_t a) : at_{seed, purpose, a, 0} {}
    double uniform() { return uniform01(next()); }
    double normal() { return standard_normal(next()); }

private:
    Draw next() {
        const Draw now = at_;
        ++at_.b;
        return now;
    }
    Draw at_;
};

}  // namespace offsquare::base
