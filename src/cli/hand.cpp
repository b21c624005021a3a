#include "cli/hand.h"

#include <cmath>
#include <fmt/format.h>
#include <limits>

#include "cli/text.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;
using base::Units;

namespace {

constexpr double farthest_mm = 2000.0;

Result<double> place_of(const std::string& option, const std::string& typed, Units units) {
    const auto place =
        base::parse_length(typed, units == Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch);
    if (!place) return fail(Grade::usage, fmt::format("{}: {}", option, place.error().message));
    if (!(std::abs(place->value) <= farthest_mm))
        return fail(Grade::usage,
                    fmt::format("{} lies within {} of the blade's line, found {}; for example {} {}", option,
                                base::said_in("2 m", units), in_quotes(typed), option, base::said_in("80mm", units)));
    return place->value;
}

Result<double> newtons_of(const std::string& option, const std::string& typed, double least) {
    std::string number = typed;
    if (number.ends_with("N")) number.pop_back();
    while (number.ends_with(" ")) number.pop_back();
    const auto force = base::parse_number(number);
    if (!force || !(*force >= least) || !(*force <= 10000.0)) {
        return fail(Grade::usage, fmt::format("{} is a force from {:g} to 10000 N, found {}; for example {} 60N",
                                              option, least, in_quotes(typed), option));
    }
    return *force;
}

/// "X2@S".
Result<contact::Grip> grip_of(const std::string& typed, Units units) {
    const std::size_t at = typed.find('@');
    if (at == std::string::npos)
        return fail(Grade::usage,
                    fmt::format("--to is X@S: from the travel S on the hand is at X; found {}; for example --to {}",
                                in_quotes(typed), base::said_in("-60mm@40mm", units)));
    const auto x = place_of("--to", typed.substr(0, at), units);
    if (!x) return tl::unexpected(x.error());
    const auto s = place_of("--to", typed.substr(at + 1), units);
    if (!s) return tl::unexpected(s.error());
    return contact::Grip{*s, *x};
}

Result<std::vector<contact::Grip>> grips_of(const Arguments& arguments, double at_mm, Units units) {
    std::vector<contact::Grip> grips{{-std::numeric_limits<double>::infinity(), at_mm}};
    if (const auto typed = arguments.one("--at")) {
        const auto first = place_of("--at", *typed, units);
        if (!first) return tl::unexpected(first.error());
        grips.front().x_mm = *first;
    }
    for (const std::string& later : arguments.all("--to")) {
        const auto grip = grip_of(later, units);
        if (!grip) return tl::unexpected(grip.error());
        if (!(grip->from_mm > grips.back().from_mm))
            return fail(Grade::usage,
                        fmt::format("--to goes by increasing travel, found {} after a later one", in_quotes(later)));
        grips.push_back(*grip);
    }
    return grips;
}

}  // namespace

Result<void> take_number(const Arguments& arguments, const std::string& option, double least, double& number) {
    const auto typed = arguments.one(option);
    if (!typed) return {};
    const auto value = newtons_of(option, *typed, least);
    if (!value) return tl::unexpected(value.error());
    number = *value;
    return {};
}

Result<contact::HandPush> hand_of(const Arguments& arguments, const shop::Feed& feed, Units units) {
    contact::HandPush hand;
    auto grips = grips_of(arguments, feed.at_mm, units);
    if (!grips) return tl::unexpected(grips.error());
    hand.grips = std::move(*grips);
    hand.force_n = feed.force_n;
    if (auto r = take_number(arguments, "--force", 0.1, hand.force_n); !r) return tl::unexpected(r.error());
    return hand;
}

}  // namespace offsquare::cli
