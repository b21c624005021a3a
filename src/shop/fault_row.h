// What makes a row of the faults: usual sizes, and what a row must be. For the table in fault.cpp alone.
#pragma once

#include "shop/fault.h"

namespace offsquare::shop::rows {

// ---- usual sizes: invented, from what the words of the table suggest ----

/// To either side alike.
constexpr UsualLobes either_side(double p, double size, double sd, double rest) {
    return {{false, 1.0 - p, 0.0, rest}, {true, 0.5 * p, -size, sd}, {true, 0.5 * p, size, sd}};
}

/// Play of a runner: a good fit has some, down to nothing. In two lobes, of which each is narrow enough that which of
/// two runners stops the sled is mostly plain in it; what of a lobe would lie below zero is a fit without any play.
constexpr UsualLobes play(double p, double size, double sd) {
    return {{false, 0.6 * (1.0 - p), 0.06, 0.0185}, {false, 0.4 * (1.0 - p), 0.02, 0.0125}, {true, p, size, sd}};
}

/// Only above zero: absent has a size too.
constexpr UsualLobes above(double p, double size, double sd, double rest, double rest_sd) {
    return {{false, 1.0 - p, rest, rest_sd}, {true, p, size, sd}};
}

/// A spread: how much something changes by chance. Nothing reads it straight, so its sizes are three narrow lobes and
/// scatter weighs them.
constexpr UsualLobes spread(double p, double small, double rest) {
    return {{false, 1.0 - p, rest, 0.2 * rest},
            {true, p / 3.0, small, 0.12 * small},
            {true, p / 3.0, 1.6 * small, 0.2 * small},
            {true, p / 3.0, 2.5 * small, 0.3 * small}};
}

/// What a repair leaves of a fault that is nothing on a good saw, or nearly: half as much again as on those.
constexpr LeftOver repaired(double mean, double rest_sd) { return {mean, 1.5 * rest_sd}; }

// ---- what a row must be ----

constexpr bool is_sentence(std::string_view text) { return text.size() > 10 && text.back() == '.'; }

constexpr bool are_lobes(const UsualLobes& lobes) {
    double sum = 0.0;
    for (const Lobe& lobe : lobes) {
        if (!(lobe.weight > 0.0) || !(lobe.sd > 0.0)) return false;
        sum += lobe.weight;
    }
    return lobes.size() > 1 && !lobes.absent().present && sum > 1.0 - 1e-12 && sum < 1.0 + 1e-12;
}

/// What is thrown is what the compiler says.
consteval FaultInfo row(FaultInfo f) {
    if (f.key.empty() || f.name.empty() || f.in_file.empty() || f.example.empty()) throw "a word is empty";
    if (!is_sentence(f.wrong) || !is_sentence(f.shows) || !is_sentence(f.repair) || !is_sentence(f.stops))
        throw "wrong, shows, repair and stops are whole sentences";
    if (!(f.min <= 0.0 && f.max > 0.0)) throw "the range holds zero and something above it";
    if (!(f.teachable > 0.0 && f.teachable <= 0.5 * f.max)) throw "the smallest size worth finding lies in the range";
    if (!(f.repair_minutes > 0.0 && f.repair_leaves.sd > 0.0)) throw "a repair costs time and leaves something";
    if (f.repaired_at_saw && !f.repair.starts_with("Unplug the saw")) throw "first the saw is unplugged";
    if (!are_lobes(f.lobes)) throw "lobes: absent first, weights that sum to 1, each with its sd";
    return f;
}

}  // namespace offsquare::shop::rows
