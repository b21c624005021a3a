#include "session/fence_verdict.h"

#include <algorithm>
#include <cmath>

#include "diagnose/claim.h"
#include "session/model.h"

namespace offsquare::session {
namespace {

using measure::Check;

/// What is usual on this saw: a fault that was put right is as a repair leaves it.
diagnose::Prior prior_here(const Seen& seen) {
    diagnose::Prior prior = diagnose::declared_prior();
    for (const RepairNote& r : seen.repairs) {
        if (!r.of_this_set_up || r.by_shims) continue;
        diagnose::Lobes& lobes = prior[static_cast<std::size_t>(r.fault)];
        const shop::LeftOver& left = shop::info(r.fault).repair_leaves;
        lobes = {{false, 1.0, left.mean, left.sd}};
    }
    return prior;
}

std::vector<double> values_of(const std::vector<measure::Reading>& readings) {
    std::vector<double> values;
    for (const measure::Reading& r : readings) {
        if (r.station_mm == readings.back().station_mm) values.push_back(r.value_mm);
    }
    return values;
}

/// What the caliper's limits at both ends do to the skew: what of them does not cancel.
double by_limits(const shop::Drawing& d, double per_width) {
    return std::sqrt(2.0) * base::u_rectangular(shop::caliper_place_limit_mm(d.caliper, d.board.strip_mm)) * per_width;
}

diagnose::FenceTest as_told(const Test& test) {
    diagnose::FenceTest out;
    out.skew_rad = *test.skew_rad;
    out.stand = static_cast<int>(test.round);
    out.brushed = test.brushed;
    out.same_push = test.pushed.has_value();
    out.per_width = 0.25 / test.strip->between_mm.value;
    out.u_limits = by_limits(test.drawing, out.per_width);
    out.repeats_mm = {values_of(test.fence_end), values_of(test.far_end)};
    return out;
}

/// The fence as one test saw it.
struct Stand {
    measure::Occasion occasion;  ///< its check does not matter
    const shop::Drawing& drawing;
    int number = 0;  ///< FenceTest::stand
};

Stand stand_of(const Test& test) {
    return {{Check::five_cut, marked_mm(test.behind_left), marked_mm(test.behind_right), test.clamped_again},
            test.drawing,
            static_cast<int>(test.round)};
}

bool stands_as(const measure::Occasion& a, const measure::Occasion& b) {
    return a.clamped_again == b.clamped_again && a.behind_left_mm == b.behind_left_mm &&
           a.behind_right_mm == b.behind_right_mm;
}

/// Which strips of a check are of the drawing's own board.
std::vector<std::size_t> own_boards(Check check) {
    switch (check) {
        case Check::five_cut:
        case Check::brushed: return {0};
        case Check::same_again: return {0, 1, 2};
        case Check::long_and_short: return {1};
        default: return {};
    }
}

/// The five-cut tests of the notebook that were cut on the fence as it stood then, none of them pushed by hand.
void add_those_of_the_notebook(std::vector<diagnose::FenceTest>& tests, const Seen& seen, const Stand& stand) {
    for (const Note& note : seen.checks) {
        const Check check = note.report.occasion.check;
        if (!note.holds() || !stands_as(note.report.occasion, stand.occasion)) continue;
        const auto skews = diagnose::observe(note.report, stand.drawing);
        if (!skews) continue;
        for (const std::size_t i : own_boards(check)) {
            diagnose::FenceTest test;
            test.skew_rad = {(*skews)[i].value, (*skews)[i].u};
            test.stand = stand.number;
            test.brushed = check == Check::brushed;
            test.per_width = 0.25 / note.report.readings[3 * i + 2].value;
            // Who typed it had an instrument of their own.
            test.u_limits = note.typed ? 0.0 : by_limits(stand.drawing, test.per_width);
            tests.push_back(std::move(test));
        }
    }
}

/// So many of the newest tests of one saw are weighed: more boards than anyone cuts for one fence.
constexpr std::size_t most_weighed = 32;

/// The last test comes last.
std::vector<diagnose::FenceTest> tests_of(const Seen& seen) {
    const Test& last = *seen.last_test();
    std::vector<diagnose::FenceTest> tests;
    if (!last.pushed) add_those_of_the_notebook(tests, seen, stand_of(last));
    const std::size_t n = seen.tests_now();
    for (std::size_t i = n > most_weighed ? n - most_weighed : 0; i < n; ++i) {
        if (seen.test_now(i).skew_rad) tests.push_back(as_told(seen.test_now(i)));
    }
    return tests;
}

std::vector<measure::CheckReport> that_hold(const Seen& seen) {
    std::vector<measure::CheckReport> reports;
    for (const Note& note : seen.checks) {
        if (note.holds()) reports.push_back(note.report);
    }
    return reports;
}

// ---- other boards ----

/// How much more a bow of this height turns a board that is half as wide as this one, than this one: both lie with one
/// end at the blade, on the two points that stand out, of a parabola as high as this over the whole fence.
double turns_half_a_board_by(double bow_mm, const shop::Drawing& d) {
    const double on_fence = std::min(d.board.width_mm, 0.5 * d.fence.length_mm);
    const double half = std::min(0.5 * d.board.width_mm, on_fence);
    return std::abs(4.0 * bow_mm * (on_fence - half)) / (d.fence.length_mm * d.fence.length_mm);
}

OtherBoards by_the_straightedge(const diagnose::Observable& bow, const shop::Drawing& d) {
    const base::Interval c = base::coverage({bow.value, bow.u});
    const double most = std::max(std::abs(c.lo), std::abs(c.hi));
    return turns_half_a_board_by(most, d) <= 0.5 * d.tolerance_rad ? OtherBoards::alike : OtherBoards::otherwise;
}

OtherBoards by_two_boards(const diagnose::Observable& small, const diagnose::Observable& large,
                          const shop::Drawing& d) {
    const base::Interval c =
        base::coverage({small.value - large.value, std::sqrt(small.u * small.u + large.u * large.u)});
    return diagnose::state_of(c, d.tolerance_rad) == diagnose::State::pass ? OtherBoards::alike
                                                                           : OtherBoards::otherwise;
}

/// The last word counts.
OtherBoards other_boards(const Seen& seen) {
    OtherBoards known = OtherBoards::unknown;
    for (const Note& note : seen.checks) {
        const Check check = note.report.occasion.check;
        if (!note.holds() || (check != Check::fence_straightedge && check != Check::long_and_short)) continue;
        const auto read = diagnose::observe(note.report, seen.drawing);
        if (!read) continue;
        known = check == Check::fence_straightedge ? by_the_straightedge(read->front(), seen.drawing)
                                                   : by_two_boards((*read)[0], (*read)[1], seen.drawing);
    }
    return known;
}

}  // namespace

FenceVerdict verdict_on_the_fence(const Seen& seen) {
    const Test& last = *seen.last_test();
    const shop::Drawing& d = last.drawing;
    FenceVerdict out;
    out.other_boards = other_boards(seen);
    if (seen.precision == measure::Precision::exact) {
        out.verdict = diagnose::judge(*last.pooled_rad, d.tolerance_rad, last.pooled_tests);
        out.verdict.mean_rad = last.pooled_rad->value;
        out.tests = static_cast<std::size_t>(last.pooled_tests);
        return out;
    }
    const auto may = diagnose::may_change(d, model_of(d), prior_here(seen), that_hold(seen));
    const double repeat = d.caliper.repeat_mm;
    const auto tests = tests_of(seen);
    out.tests = tests.size();
    out.verdict = diagnose::claim_of(tests, may, d.tolerance_rad, repeat, d.caliper.step_mm);
    return out;
}

std::optional<FenceVerdict> verdict_on_typed_tests(const Seen& seen) {
    const Note* newest = nullptr;
    for (const Note& note : seen.checks) {
        if (note.holds() && !own_boards(note.report.occasion.check).empty()) newest = &note;
    }
    if (newest == nullptr) return std::nullopt;
    const shop::Drawing& d = seen.drawing;
    std::vector<diagnose::FenceTest> tests;
    add_those_of_the_notebook(tests, seen, {newest->report.occasion, d, 0});
    if (tests.empty()) return std::nullopt;
    const auto may = diagnose::may_change(d, model_of(d), prior_here(seen), that_hold(seen));
    return FenceVerdict{diagnose::claim_of(tests, may, d.tolerance_rad, d.caliper.repeat_mm, d.caliper.step_mm),
                        other_boards(seen), tests.size()};
}

}  // namespace offsquare::session
