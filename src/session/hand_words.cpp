#include "session/hand_words.h"

#include <cmath>

#include <fmt/format.h>

namespace offsquare::session {
namespace {

using contact::PushedPass;
using contact::Stuck;

/// Of what nobody has tried.
std::string would_come_of(const PushedPass& pass) {
    switch (pass.stuck) {
        case Stuck::no: return fmt::format("it would go with {:.0f} N", std::ceil(pass.push_needed_n));
        case Stuck::jams: return "it would still jam";
        case Stuck::too_weak: return fmt::format("it would still need {:.0f} N", std::ceil(pass.push_needed_n));
        case Stuck::does_not_fit: break;
    }
    return "the runners would still not fit";
}

std::string came_of(const PushedPass& pass) {
    switch (pass.stuck) {
        case Stuck::no: return fmt::format("it goes with {:.0f} N", std::ceil(pass.push_needed_n));
        case Stuck::jams: return "it jams, however hard the push";
        case Stuck::too_weak: return fmt::format("it would need {:.0f} N", std::ceil(pass.push_needed_n));
        case Stuck::does_not_fit: break;
    }
    return "the runners do not fit";
}

}  // namespace

std::string hand_words(const shop::Feed& feed, const HandTries& tries, base::Units units) {
    const bool beside = std::abs(feed.at_mm) >= 1.0;
    std::string words =
        beside ? fmt::format("Pushed {} {} of the blade {}; in the middle {}.",
                             base::show_size(std::abs(feed.at_mm), units), feed.at_mm > 0.0 ? "right" : "left",
                             came_of(tries.there), came_of(tries.middle))
               : fmt::format("Pushed in the middle {}.", came_of(tries.middle));
    if (std::isfinite(feed.force_n)) words += fmt::format(" The hand gives {:.0f} N at most.", feed.force_n);
    if (tries.there.stuck == Stuck::jams || tries.there.stuck == Stuck::too_weak)
        words += fmt::format(" With half the friction at the runners {}.", would_come_of(tries.slicker));
    if (tries.there.stuck == Stuck::jams)
        words += fmt::format(
            " A hand farther than {} from the middle of what guides jams it: longer runners and less "
            "friction move that out.",
            base::show_size(std::round(tries.there.at_worst.critical_mm), units));
    return words;
}

}  // namespace offsquare::session
