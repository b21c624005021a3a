// What a strip says of the shims that were moved since the test before it: whether they did what they should.
#pragma once

#include <optional>
#include <string>

#include "saws/history.h"
#include "saws/set_up.h"

namespace offsquare::saws {

/// This strip against the newest test before it on a fence that was only shimmed since (nothing was put right between
/// them, and the fence was not moved).
struct AgainstBefore {
    const Entry* before = nullptr;
    base::Uncertain was;     ///< the skew by the strip before [rad]
    base::Uncertain is;      ///< by this one
    double turned = 0.0;     ///< by how much the shims since should have turned the fence [rad], > 0: left end nearer
    double by_chance = 0.0;  ///< what changes from one test to the next on a saw that is in order, of one test [rad]
    double should_be() const { return was.value + turned; }
    /// Standard uncertainty of the difference of the two tests.
    double u() const;
};

/// nullopt: there is no such test, or this is no whole strip. `corrects`: this strip stands in the place of that entry.
std::optional<AgainstBefore> against_before(const Sled& sled, const Strip& strip, Date date,
                                            std::optional<int> corrects = std::nullopt);

/// What changes the skew that a strip shows from one test of an untouched fence to the next on a saw that is in order:
/// chips, the hand in the play, and, after shims, the clamp. One standard deviation [rad].
double usual_scatter_rad(const shop::Drawing& drawing, bool clamped_again, bool brushed);

/// What the shims before the newest test did.
struct ShimsTold {
    std::string heading;   ///< "The shim hardly moved the fence: look at it first"; empty: they did as they should
    std::string sentence;  ///< before, what they should have done, and what the strip says
};
/// nullopt: no two tests with nothing but shims between them.
std::optional<ShimsTold> shims_told(const Sled& sled, base::Units units);

}  // namespace offsquare::saws
