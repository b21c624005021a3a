// Whole hunts by what should be done next (session/next.h), from the first test to the proof, and what came of them.
// The truth is only looked at afterwards.
#pragma once

#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <vector>

#include "session/findings.h"
#include "session/history.h"
#include "session/hunt_words.h"
#include "session/next.h"
#include "session/random_saws.h"
#include "shop/truth.h"

namespace hunts {

using namespace offsquare;
using random_saws::Random;
using random_saws::Saw;

struct Hunt {
    std::vector<std::string> steps{};            ///< what was done, by the names of checks and faults
    std::map<measure::Check, std::size_t> made;  ///< how often each check
    std::vector<shop::Fault> mended{};
    double check_minutes = 0.0;    ///< of checks and tests before the first repair, or in all where none was made
    double all_minutes = 0.0;      ///< of checks and tests to the end
    double stock_mm = 0.0;         ///< board that checks and tests used up
    bool proved = false;           ///< it ended with a proof
    bool ended = false;            ///< it came to an end by itself
    std::size_t sound_mended = 0;  ///< repairs of what was not wrong
    std::size_t left = 0;          ///< faults that are there and were not mended
    std::size_t most_of_one() const {
        std::size_t most = 0;
        for (const auto& [check, n] : made) most = std::max(most, n);
        return most;
    }
};

inline session::Next next_for(const session::Seen& seen, const session::Assumptions& assumed) {
    const session::Next next = session::next_in_hunt(seen, nullptr);
    if (next.todo != session::Todo::weigh) return next;
    const auto found = session::find_out(session::holding(seen), seen.drawing, assumed);
    return found ? session::next_in_hunt(seen, &*found) : session::Next{session::Todo::cannot_weigh};
}

using Present = std::array<bool, shop::fault_count>;

/// On the saw of a scenario, by the seed of the session: its chips, its hand, the noise of its instruments.
inline Hunt hunt_in(const scenario::Scenario& scenario, const Present& present, const session::Assumptions& assumed,
                    std::uint64_t seed) {
    session::History history(scenario, seed);
    constexpr std::size_t patience = 150;  // events
    Hunt hunt;
    while (history.seen().events.size() < patience) {
        const session::Next next = next_for(history.seen(), assumed);
        hunt.proved = next.todo == session::Todo::done;
        const std::size_t events = history.seen().events.size();
        if (next.intention.empty() || !history.act(next.intention)) {
            hunt.ended = true;
            break;
        }
        const bool repairs = next.todo == session::Todo::repair;
        for (std::size_t i = events; i < history.seen().events.size(); ++i) {
            const session::Cost& cost = history.seen().events[i].cost;
            hunt.stock_mm += cost.stock_mm;
            if (repairs) continue;
            hunt.all_minutes += cost.minutes;
            if (hunt.mended.empty()) hunt.check_minutes += cost.minutes;
        }
        if (repairs) hunt.mended.push_back(*next.fault);
        if (next.check) ++hunt.made[*next.check];
        hunt.steps.emplace_back(repairs      ? "MEND " + std::string(shop::info(*next.fault).key)
                                : next.check ? std::string(measure::info(*next.check).name)
                                             : std::string("test"));
    }
    Present there = present;
    for (const shop::Fault f : hunt.mended) {
        hunt.sound_mended += present[static_cast<std::size_t>(f)] ? 0 : 1;
        there[static_cast<std::size_t>(f)] = false;
    }
    hunt.left = static_cast<std::size_t>(std::count(there.begin(), there.end(), true));
    return hunt;
}

inline Hunt hunt_on(const Saw& saw, const session::Assumptions& assumed, std::uint64_t seed) {
    scenario::Scenario scenario = scenario::built_in();
    scenario.drawing = shop::Drawing{};
    scenario.truth = saw.truth;
    return hunt_in(scenario, saw.present, assumed, seed);
}

/// The mean size of what is no fault.
inline double on_a_good_saw(const diagnose::Lobes& lobes) {
    double weight = 0.0;
    double sum = 0.0;
    for (const diagnose::Lobe& l : lobes) {
        weight += l.present ? 0.0 : l.weight;
        sum += l.present ? 0.0 : l.weight * l.mean;
    }
    return sum / weight;
}

/// A saw on which nothing is wrong but these faults, each of the likeliest size of its kind, and all else as on good
/// saws in the mean. Where the sled would not go, its runners are loose too.
inline Saw planted(std::vector<shop::Fault> faults) {
    Saw saw;
    const diagnose::Prior& prior = diagnose::declared_prior();
    for (const shop::FaultInfo& f : shop::faults())
        shop::size_of(saw.truth, f.fault) = on_a_good_saw(prior[static_cast<std::size_t>(f.fault)]);
    for (const shop::Fault f : faults) {
        const diagnose::Lobes& lobes = prior[static_cast<std::size_t>(f)];
        // Of a spread its middle size, of what goes to both sides the positive one.
        std::vector<double> sizes;
        for (const diagnose::Lobe& l : lobes) {
            if (l.present) sizes.push_back(l.mean);
        }
        shop::size_of(saw.truth, f) = sizes[sizes.size() > 1 ? 1 : 0];
        saw.present[static_cast<std::size_t>(f)] = true;
    }
    using enum shop::Fault;
    if (random_saws::goes(shop::Drawing{}, saw.truth) || saw.present[static_cast<std::size_t>(left_play)]) return saw;
    faults.insert(faults.end(), {left_play, right_play});
    return planted(faults);
}

}  // namespace hunts
