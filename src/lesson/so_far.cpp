#include "lesson/so_far.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "lesson/cases.h"
#include "lesson/results.h"
#include "session/next.h"

namespace offsquare::lesson {
namespace {

/// Of what was done, by kind.
struct Counts {
    std::size_t tests = 0, checks = 0, typed = 0, repairs = 0, shims = 0;
    double minutes = 0.0;
};

struct Count {
    Counts& counts;
    void operator()(const session::CutTest&) const { ++counts.tests; }
    void operator()(const session::PushTest&) const { ++counts.tests; }
    void operator()(const session::MakeCheck&) const { ++counts.checks; }
    void operator()(const session::TypeReadings&) const { ++counts.typed; }
    void operator()(const session::Repair&) const { ++counts.repairs; }
    void operator()(const session::PutShim&) const { ++counts.shims; }
    void operator()(const session::PutThickness&) const { ++counts.shims; }
    void operator()(const session::TakeShim&) const { counts.shims -= std::min<std::size_t>(counts.shims, 1); }
    void operator()(const session::Read&) const {}
    void operator()(const session::WorkOut&) const {}
    void operator()(const session::SetValue&) const {}
    void operator()(const session::SetBoth&) const {}
};

Counts counts_of(const std::vector<session::Action>& actions) {
    Counts counts;
    for (const session::Action& action : actions) {
        std::visit(Count{counts}, action);
        counts.minutes += session::cost_of(action).minutes;
    }
    return counts;
}

void add(std::string& list, std::size_t n, std::string_view one, std::string_view many) {
    if (n > 0) list += fmt::format("{}{} {}", list.empty() ? "" : ", ", n, n == 1 ? one : many);
}

std::string spent(const Counts& counts, const scenario::Budget& budget) {
    if (budget.minutes <= 0.0) return fmt::format("; {:.0f} min spent", counts.minutes);
    return fmt::format("; {:.0f} of {:.0f} min spent", counts.minutes, budget.minutes);
}

std::string words_of(const Counts& counts, const scenario::Budget& budget, bool real_saw) {
    std::string words;
    add(words, counts.tests, "test", "tests");
    add(words, counts.checks, "check", "checks");
    add(words, counts.typed, "check typed", "checks typed");
    add(words, counts.repairs, "repair", "repairs");
    add(words, counts.shims, "shim put in", "shims put in");
    if (words.empty()) return "nothing done yet";
    if (!real_saw) words += spent(counts, budget);
    return words;
}

SoFar made(const scenario::Scenario& scenario, const std::vector<session::Action>& actions, bool real_saw,
           std::string_view proof) {
    const bool is_case = !real_saw && !scenario.complaint.empty() && is_fair(actions);
    return {is_case ? in_quotes(scenario.complaint) : scenario.title,
            words_of(counts_of(actions), scenario.budget, real_saw) + std::string(proof)};
}

std::string_view proof_words(const session::Seen& seen) {
    const bool tried = !seen.repairs.empty() || !seen.behind_left.empty() || !seen.behind_right.empty();
    switch (session::proof_of(seen)) {
        case session::Proved::passed: return "; proved square";
        case session::Proved::failed:
        case session::Proved::changing: return tried ? "; not square yet" : "; nothing put right yet";
        case session::Proved::not_cut:
        case session::Proved::marked:
        case session::Proved::undecided: break;
    }
    return tried ? "; not proved yet" : "; nothing put right yet";
}

}  // namespace

SoFar so_far(const session::History& history) {
    const bool started = !history.actions().empty();
    return made(history.start(), history.actions(), history.seen().real_saw,
                started ? proof_words(history.seen()) : std::string_view());
}

SoFar so_far(const session::Log& log) { return made(log.scenario, session::standing(log.entries), log.real_saw, {}); }

}  // namespace offsquare::lesson
