// What a row of the checks must be. For the table in check.cpp alone.
#pragma once

#include <algorithm>

#include "measure/check.h"

namespace offsquare::measure::rows {

constexpr bool says(std::span<const std::string_view> steps, std::string_view words) {
    return std::any_of(steps.begin(), steps.end(), [&](std::string_view s) { return s.find(words) != s.npos; });
}

/// Whether the steps say what they must where hands come near the blade, before anything that could need it.
constexpr bool says_what_is_safe(AtSaw at_saw, std::span<const std::string_view> steps) {
    switch (at_saw) {
        case AtSaw::away: return true;
        case AtSaw::unplugged: return steps.front().starts_with("Unplug the saw");
        case AtSaw::cuts: return says(steps.first(2), "old still, switch off and wait until the blade has stopped");
        case AtSaw::cuts_and_reads: break;
    }
    return says(steps.first(2), "switch off and wait until the blade has stopped. Unplug the saw");
}

/// What is thrown is what the compiler says.
consteval CheckInfo row(CheckInfo c) {
    if (c.name.empty() || c.title.empty() || c.instrument.empty()) throw "a word is empty";
    if (c.finds.size() < 10 || c.finds.back() != '.') throw "what it finds is a whole sentence";
    if (c.steps.empty() || c.readings.empty()) throw "a check has steps and readings";
    if (!says_what_is_safe(c.at_saw, c.steps)) throw "the steps do not say how the blade comes to rest";
    if (!(c.minutes > 0.0 && c.stock_mm >= 0.0)) throw "a check takes time";
    if (c.observables > c.readings.size()) throw "observables come of readings";
    return c;
}

}  // namespace offsquare::measure::rows
