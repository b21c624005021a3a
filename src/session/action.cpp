#include "session/action.h"

#include <cmath>
#include <limits>

#include <fmt/format.h>

namespace offsquare::session {
namespace {

std::string lower_first(std::string_view text) {
    std::string out(text);
    if (out.size() > 1 && out[0] >= 'A' && out[0] <= 'Z') out[0] = static_cast<char>(out[0] - 'A' + 'a');
    return out;
}

struct Teller {
    const shop::Drawing& drawing;
    base::Units units;

    std::string operator()(const SetValue& a) const { return fmt::format("Set {} to {}.", a.key, a.value); }
    std::string operator()(const SetBoth& a) const {
        return fmt::format("Set {} to {} and {} to {}.", a.first.key, a.first.value, a.second.key, a.second.value);
    }
    std::string operator()(const CutTest&) const { return "Cut a five-cut test."; }
    std::string operator()(const PushTest& a) const {
        const char* later = a.pass.hand.grips.size() > 1 ? " at first, and then elsewhere" : "";
        return fmt::format("Cut a five-cut test, pushing the sled by hand {}{}.",
                           beside_line(contact::grip_at(a.pass.hand, -std::numeric_limits<double>::infinity()), units),
                           later);
    }
    std::string operator()(const Read& a) const {
        const char* end = a.end == End::fence ? "fence" : "far";
        if (a.station_mm == 0.0) return fmt::format("Read the strip at its {} end.", end);
        return fmt::format("Read the strip {} in from its {} end.", base::show_size(a.station_mm, units), end);
    }
    std::string operator()(const MakeCheck& a) const {
        return fmt::format("Make a check: {}.", lower_first(measure::info(a.check).title));
    }
    std::string operator()(const TypeReadings& a) const {
        return fmt::format("Write down what was read by hand: {}.", lower_first(measure::info(a.check).title));
    }
    std::string operator()(const Repair& a) const {
        return fmt::format("Repair {}: {}", shop::info(a.fault).key, lower_first(shop::info(a.fault).repair));
    }
    std::string operator()(const WorkOut&) const { return "Work out the shim from the readings."; }
    std::string operator()(const PutShim& a) const {
        const bool known = a.drawer_row >= 0 && a.drawer_row < static_cast<int>(drawing.drawer.size());
        if (!known)
            return fmt::format("Put line {} of the drawer behind the {} end of the fence.", a.drawer_row,
                               shim::name_of(a.at));
        const shop::Shim& s = drawing.drawer[static_cast<std::size_t>(a.drawer_row)];
        return fmt::format("Put {} {} behind the {} end of the fence.", s.name, base::show_small(s.thickness_mm, units),
                           shim::name_of(a.at));
    }
    std::string operator()(const PutThickness& a) const {
        return fmt::format("Put a shim of {} behind the {} end of the fence.", base::show_small(a.thickness_mm, units),
                           shim::name_of(a.at));
    }
    std::string operator()(const TakeShim& a) const {
        return fmt::format("Take the last shim out from behind the {} end of the fence.", shim::name_of(a.at));
    }
};

bool is_within(double value, double least, double most) { return value >= least && value <= most; }

}  // namespace

std::string beside_line(double x_mm, base::Units units) {
    if (x_mm == 0.0) return "on the blade's line";
    return fmt::format("{} {} of the blade's line", base::show_size(std::abs(x_mm), units),
                       x_mm > 0.0 ? "right" : "left");
}

std::string trouble_with(const cut::HandPass& pass) {
    constexpr double farthest = 2000.0;
    const contact::HandPush& hand = pass.hand;
    if (hand.way != contact::Way::push) return "a test is cut pushing, not pulling back";
    if (hand.grips.size() > most_grips)
        return fmt::format("a hand changes its place {} times at most in a pass, not {} times", most_grips,
                           hand.grips.size());
    if (!is_within(hand.force_n, 0.1, 10000.0))
        return fmt::format("a hand gives from 0.1 to 10000 N, not {:g} N", hand.force_n);
    if (!(pass.stops_at_mm >= -farthest)) return "the hand stops within 2 m of the blade";
    for (std::size_t i = 0; i < hand.grips.size(); ++i) {
        if (!is_within(hand.grips[i].x_mm, -farthest, farthest)) return "a hand pushes within 2 m of the blade's line";
        if (i > 0 && !(hand.grips[i].from_mm > hand.grips[i - 1].from_mm))
            return "the places of a hand go by increasing travel";
        if (i > 0 && !is_within(hand.grips[i].from_mm, -farthest, farthest))
            return "a hand changes its place within 2 m of the blade";
    }
    return "";
}

std::string hand_words(const contact::HandPush& hand, base::Units units) {
    constexpr std::size_t most_told = 3;
    std::string text =
        fmt::format("The sled is pushed by hand, with up to {:g} N, {}", hand.force_n,
                    beside_line(contact::grip_at(hand, -std::numeric_limits<double>::infinity()), units));
    for (std::size_t i = 1; i < hand.grips.size() && hand.grips.size() <= most_told; ++i) {
        text += fmt::format("; {} once the fence is at {}", beside_line(hand.grips[i].x_mm, units),
                            base::show_size(hand.grips[i].from_mm, units));
    }
    if (hand.grips.size() > most_told)
        text += fmt::format(" at first; its place changes {} times", hand.grips.size() - 1);
    return text + ".";
}

std::string sentence_of(const Action& action, const shop::Drawing& drawing, base::Units units) {
    return std::visit(Teller{drawing, units}, action);
}

}  // namespace offsquare::session
