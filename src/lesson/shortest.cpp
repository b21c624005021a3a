#include "lesson/shortest.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "diagnose/memory.h"
#include "lesson/hunt_words.h"
#include "session/hunt_words.h"
#include "session/next.h"

namespace offsquare::lesson {
namespace {

using measure::Check;
using shop::Fault;

/// Checks that see one of these at all, the cheaper first.
std::vector<Check> that_see(const std::vector<Fault>& faults, const shop::Drawing& drawing) {
    const session::Sight sight = session::sight_of(drawing);
    std::vector<Check> checks;
    for (const measure::CheckInfo& c : measure::checks()) {
        const auto& seen = sight[static_cast<std::size_t>(c.check)];
        // A push says whether the sled goes at all.
        const bool tells = c.check == Check::push_through ||
                           std::any_of(seen.begin(), seen.end(), [&](Fault f) { return is_in(faults, f); });
        if (tells) checks.push_back(c.check);
    }
    std::stable_sort(checks.begin(), checks.end(),
                     [](Check a, Check b) { return measure::info(a).minutes < measure::info(b).minutes; });
    return checks;
}

using Set = std::vector<Check>;

double minutes_of(const Set& set) {
    double sum = 0.0;
    for (const Check c : set) sum += measure::info(c).minutes;
    return sum;
}

/// Up to three of them at a time, by rising minutes.
std::vector<Set> sets_of(const std::vector<Check>& checks) {
    constexpr std::size_t most_checks = 12;  // the cheapest: three of twelve are 298 sets
    const std::size_t n = std::min(checks.size(), most_checks);
    std::vector<Set> sets;
    for (std::size_t i = 0; i < n; ++i) {
        sets.push_back({checks[i]});
        for (std::size_t j = i + 1; j < n; ++j) {
            sets.push_back({checks[i], checks[j]});
            for (std::size_t k = j + 1; k < n; ++k) sets.push_back({checks[i], checks[j], checks[k]});
        }
    }
    std::stable_sort(sets.begin(), sets.end(),
                     [](const Set& a, const Set& b) { return minutes_of(a) < minutes_of(b); });
    if (sets.size() > most_tried) sets.resize(most_tried);
    return sets;
}

class Traveller {
public:
    Traveller(const scenario::Scenario& scenario, std::uint64_t seed, const session::Assumptions& assumed)
        : history_(scenario, seed), assumed_(assumed) {}

    bool all_mended(const Truth& truth) const {
        return std::abs(skew_now_rad(history_)) <= history_.seen().drawing.tolerance_rad &&
               std::all_of(truth.wrong.begin(), truth.wrong.end(), [&](const Wrong& w) {
                   return !w.counts || w.fault == Fault::fence_skew ||
                          std::abs(size_now(history_, w.fault)) < shop::info(w.fault).teachable;
               });
    }

    bool act(const session::Action& action, Leg::Kind kind, std::string what) {
        const session::Seen& seen = history_.seen();
        const double minutes = seen.minutes, board = seen.stock_mm;
        if (!history_.act(action)) return false;
        Leg leg{kind, std::move(what), history_.seen().minutes - minutes, history_.seen().stock_mm - board};
        // Readings at a strip and its working are in its test; pieces that go in together are one stretch.
        const bool goes_on = leg.minutes == 0.0 && leg.board_mm == 0.0 && !road_.legs.empty() &&
                             (kind != Leg::Kind::shims || road_.legs.back().kind == Leg::Kind::shims);
        if (!goes_on) road_.legs.push_back(std::move(leg));
        return true;
    }

    bool check(Check c) { return act(session::MakeCheck{c}, Leg::Kind::check, std::string(measure::info(c).title)); }
    bool repair(Fault f) {
        return act(session::Repair{f}, Leg::Kind::repair, session::repair_heading(f, session::jams(history_.seen())));
    }

    /// Whether the readings name all of these, and nothing else.
    bool names(const std::vector<Fault>& faults) const {
        const auto found = session::find_out(session::holding(history_.seen()), history_.seen().drawing, assumed_);
        if (!found || session::reads_again(*found)) return false;
        return std::all_of(shop::faults().begin(), shop::faults().end(), [&](const shop::FaultInfo& info) {
            const auto& belief = found->diagnosis.beliefs.at(static_cast<std::size_t>(info.fault));
            const bool supported = session::standing_of(belief) == session::Standing::supported;
            if (info.fault == Fault::fence_skew) return true;  // the job finds it
            return supported == is_in(faults, info.fault);
        });
    }

    /// The job from here to its proof, as the program itself would do it.
    bool prove() {
        constexpr int patience = 60;
        for (int i = 0; i < patience; ++i) {
            const session::Next next = session::next_in_job(history_.seen());
            if (next.todo == session::Todo::done) return true;
            if (next.intention.empty()) return false;
            const bool shims = next.todo == session::Todo::put_shims;
            const bool check = next.check.has_value();
            for (const session::Action& a : next.intention) {
                if (!act(a,
                         shims   ? Leg::Kind::shims
                         : check ? Leg::Kind::check
                                 : Leg::Kind::test,
                         shims   ? "Shims behind the fence"
                         : check ? std::string(measure::info(*next.check).title)
                                 : "Five-cut test"))
                    return false;
            }
        }
        return false;
    }

    /// The notebook followed to its end; whether it got there with everything that counts put right.
    bool advised(const Truth& truth) {
        constexpr int patience = 50;
        for (int i = 0; i < patience; ++i) {
            const session::Seen& seen = history_.seen();
            const auto findings = session::find_out(session::holding(seen), seen.drawing, assumed_);
            if (!findings) return false;
            const session::Next next = session::next_in_hunt(seen, &*findings);
            if (next.todo == session::Todo::done) return all_mended(truth);
            if (next.intention.empty()) return false;
            for (const session::Action& a : next.intention) {
                const std::string name = name_of_deed(a, history_.seen());
                if (!act(a, kind_of(a), name.empty() ? "Five-cut test" : name)) return false;
            }
        }
        return false;
    }

    Road road() && { return std::move(road_); }

private:
    session::History history_;
    const session::Assumptions& assumed_;
    Road road_;
};

bool affords(const Road& road, const scenario::Budget& budget) {
    return (budget.minutes <= 0.0 || road.minutes() <= budget.minutes) &&
           (budget.board_mm <= 0.0 || road.board_mm() <= budget.board_mm);
}

}  // namespace

double Road::minutes() const {
    double sum = 0.0;
    for (const Leg& l : legs) sum += l.minutes;
    return sum;
}

double Road::board_mm() const {
    double sum = 0.0;
    for (const Leg& l : legs) sum += l.board_mm;
    return sum;
}

Leg::Kind kind_of(const session::Action& action) {
    if (std::holds_alternative<session::MakeCheck>(action)) return Leg::Kind::check;
    if (std::holds_alternative<session::Repair>(action)) return Leg::Kind::repair;
    const bool shims =
        std::holds_alternative<session::PutShim>(action) || std::holds_alternative<session::TakeShim>(action);
    return shims ? Leg::Kind::shims : Leg::Kind::test;
}

std::optional<Road> advised_road(const scenario::Scenario& scenario, std::uint64_t seed, const Truth& truth) {
    session::Assumptions assumed = session::usual_assumptions(scenario.drawing);
    assumed.model = diagnose::remembering(assumed.model);
    Traveller walk(scenario, seed, assumed);
    if (!walk.advised(truth)) return std::nullopt;
    return std::move(walk).road();
}

std::optional<Road> shortest_road(const scenario::Scenario& scenario, std::uint64_t seed, const Truth& truth) {
    std::vector<Fault> to_find = truth.counting();
    std::erase(to_find, Fault::fence_skew);
    session::Assumptions assumed = session::usual_assumptions(scenario.drawing);
    assumed.model = diagnose::remembering(assumed.model);
    std::vector<Set> sets{{}};
    if (!to_find.empty()) sets = sets_of(that_see(to_find, scenario.drawing));
    for (const Set& set : sets) {
        Traveller walk(scenario, seed, assumed);
        bool fine = std::all_of(set.begin(), set.end(), [&](Check c) { return walk.check(c); });
        fine = fine && (to_find.empty() || walk.names(to_find));
        fine = fine && std::all_of(to_find.begin(), to_find.end(), [&](Fault f) { return walk.repair(f); });
        if (!fine || !walk.prove()) continue;
        Road road = std::move(walk).road();
        // What follows the checks is the same for every set that names the faults: the first is the shortest.
        if (affords(road, scenario.budget)) return road;
    }
    auto advised = advised_road(scenario, seed, truth);
    return advised && affords(*advised, scenario.budget) ? advised : std::nullopt;
}

}  // namespace offsquare::lesson
