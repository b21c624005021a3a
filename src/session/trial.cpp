#include "session/trial.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "base/elementary.h"
#include "measure/report.h"
#include "measure/run_check.h"
#include "session/model.h"
#include "session/repair.h"

namespace offsquare::session {
namespace {

using base::fail;
using base::Grade;
using base::Result;
using measure::Precision;

/// Fills the drawer: each line's pieces lie in a heap, piece 0 on top.
void fill_drawer(Run& run) {
    run.drawer.clear();
    run.trial.left_in_drawer.clear();
    for (const shop::Shim& s : run.trial.scenario.drawing.drawer) {
        std::vector<std::uint32_t> heap(static_cast<std::size_t>(std::max(s.count, 0)));
        std::iota(heap.rbegin(), heap.rend(), std::uint32_t{0});
        run.drawer.push_back(std::move(heap));
        run.trial.left_in_drawer.push_back(std::max(s.count, 0));
    }
}

bool from_drawer(const std::vector<PlacedShim>& placed) {
    return std::any_of(placed.begin(), placed.end(), [](const PlacedShim& p) { return p.picked.drawer_row >= 0; });
}

double total_of(const std::vector<PlacedShim>& placed) {
    double sum = 0.0;
    for (const PlacedShim& p : placed) sum += p.true_mm;
    return sum;
}

contact::Shims shims_of(const std::vector<PlacedShim>& left, const std::vector<PlacedShim>& right) {
    return {total_of(left), total_of(right)};
}

bool same_pieces(const std::vector<PlacedShim>& a, const std::vector<PlacedShim>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const PlacedShim& p, const PlacedShim& q) { return p.true_mm == q.true_mm; });
}

/// Whether they may count as repeats of one test.
bool cut_alike(const Test& a, const Test& b) {
    return same_pieces(a.behind_left, b.behind_left) && same_pieces(a.behind_right, b.behind_right) &&
           a.pushed == b.pushed;
}

std::vector<shim::PickedShim> marks_of(const std::vector<PlacedShim>& placed) {
    std::vector<shim::PickedShim> marks;
    for (const PlacedShim& p : placed) marks.push_back(p.picked);
    return marks;
}

std::vector<PlacedShim>& behind(Trial& t, shim::At at) { return at == shim::At::left ? t.behind_left : t.behind_right; }

/// Readings taken at the place where the caliper stood last; readings elsewhere at that end are set aside.
std::vector<measure::Reading> at_last_place(const std::vector<measure::Reading>& readings) {
    std::vector<measure::Reading> kept;
    for (const measure::Reading& r : readings) {
        if (r.station_mm == readings.back().station_mm) kept.push_back(r);
    }
    return kept;
}

/// The mean with the tests just before it that were cut on the same set-up with the same shims, by the same hand.
void pool(std::vector<Test>& tests) {
    Test& last = tests.back();
    std::vector<base::Uncertain> skews;
    for (auto t = tests.rbegin(); t != tests.rend() && cut_alike(*t, last); ++t) {
        if (t->skew_rad) skews.push_back(*t->skew_rad);
    }
    last.pooled_rad = skews.size() == 1 ? skews.front() : diagnose::average(skews);
    last.pooled_tests = static_cast<int>(skews.size());
}

/// Everything that follows from the readings of the last test.
void work_out(Run& run, const measure::Place& place) {
    Trial& trial = run.trial;
    Test& test = trial.tests.back();
    if (test.fence_end.empty() || test.far_end.empty()) return;
    const shop::Drawing& d = test.drawing;
    const double between = test.far_end.back().station_mm - test.fence_end.back().station_mm;
    measure::Place tape_place = place;
    tape_place.end = 0;
    test.between = measure::read_tape(d.tape, between, tape_place, trial.precision);
    const auto fence_end = at_last_place(test.fence_end);
    const auto far_end = at_last_place(test.far_end);
    test.strip =
        diagnose::StripReadings{measure::mean_of_repeats(d.caliper, fence_end, trial.precision),
                                measure::mean_of_repeats(d.caliper, far_end, trial.precision),
                                measure::tape_value(d.tape, *test.between, trial.precision), test.cut.strip->side};
    test.skew_rad = diagnose::skew_from_strip(*test.strip);
    pool(trial.tests);
    test.verdict = diagnose::judge(*test.pooled_rad, d.tolerance_rad, test.pooled_tests);
    test.proposal = shim::propose(*test.pooled_rad, d, trial.left_in_drawer,
                                  {marks_of(test.behind_left), marks_of(test.behind_right)});
}

// ---- clamping, chance and cost ----

/// A fence that was loosened for its shims is clamped again before the next cut, and may turn while that is done.
void clamp(Run& run) {
    Trial& t = run.trial;
    if (same_pieces(run.clamped_left, t.behind_left) && same_pieces(run.clamped_right, t.behind_right)) return;
    run.clamped_left = t.behind_left;
    run.clamped_right = t.behind_right;
    ++t.clamped_again;
    if (t.precision == Precision::exact) return;
    t.crept_rad = t.scenario.truth.clamp_creep_rad *
                  base::standard_normal({t.seed, base::Purpose::clamp, 0, static_cast<std::uint32_t>(t.clamped_again)});
}

shop::Truth as_clamped(const Trial& t) {
    shop::Truth truth = t.scenario.truth;
    truth.fence_skew_rad += t.crept_rad;
    return truth;
}

cut::Chances chances(const Run& run) {
    const Trial& t = run.trial;
    if (t.precision == Precision::exact) return cut::steady(t.scenario.drawing);
    return cut::chances_of(t.scenario.drawing, t.scenario.truth, t.seed, run.tests_cut);
}

void spend(Trial& t, measure::Check check) {
    t.minutes += measure::info(check).minutes;
    t.stock_mm += measure::info(check).stock_mm;
}

contact::Shims as_marked(const Trial& t) {
    contact::Shims shims;
    for (const PlacedShim& p : t.behind_left) shims.left_mm += p.picked.thickness_mm;
    for (const PlacedShim& p : t.behind_right) shims.right_mm += p.picked.thickness_mm;
    return shims;
}

/// Notes that depend on a fault no longer say anything once it was changed.
void set_aside(Trial& t, shop::Fault fault) {
    const diagnose::Model model = model_of(t.scenario.drawing);
    for (Note& note : t.notebook) {
        const std::vector<shop::Fault> seen =
            diagnose::seen_by(note.report.occasion, model, diagnose::declared_prior()).any;
        if (!note.holds || std::find(seen.begin(), seen.end(), fault) == seen.end()) continue;
        note.holds = false;
        note.set_aside_by = fault;
    }
}

// ---- one function per action ----

Result<void> apply(Run& run, const MakeCheck& a) {
    Trial& t = run.trial;
    clamp(run);
    const shop::Truth truth = as_clamped(t);
    const measure::Stand stand{t.scenario.drawing, truth, shims_of(t.behind_left, t.behind_right), as_marked(t),
                               t.clamped_again};
    auto report = measure::run_check(a.check, stand, t.seed, run.checks_made, t.precision);
    if (!report) return tl::unexpected(report.error());
    ++run.checks_made;
    t.notebook.push_back({std::move(*report), true, {}});
    spend(t, a.check);
    return {};
}

Result<void> apply(Run& run, const TypeReadings& a) {
    Trial& t = run.trial;
    const contact::Shims marked = as_marked(t);
    const FenceStood stood = a.stood.value_or(FenceStood{marked.left_mm, marked.right_mm, t.clamped_again});
    measure::CheckReport report{{a.check, stood.behind_left_mm, stood.behind_right_mm, stood.clamped_again},
                                a.readings};
    if (std::string trouble = measure::trouble_with(report); !trouble.empty())
        return fail(Grade::usage, std::move(trouble));
    // Not before all is well: what is refused changes nothing.
    if (!a.stood) {
        clamp(run);
        report.occasion.clamped_again = t.clamped_again;
    }
    t.notebook.push_back({std::move(report), true, {}, true});
    return {};
}

Result<void> apply(Run& run, const Repair& a) {
    Trial& t = run.trial;
    const auto n = static_cast<std::uint32_t>(t.repairs.size());
    shop::size_of(t.scenario.truth, a.fault) = left_over(a.fault, t.seed, n, t.precision);
    t.minutes += repair_minutes(a.fault);
    set_aside(t, a.fault);
    t.repairs.push_back({a.fault, t.notebook.size()});
    // Earlier tests were cut on another saw.
    t.tests.clear();
    return {};
}

Result<void> set(Run& run, const std::vector<scenario::Override>& changes) {
    Trial& t = run.trial;
    const bool drawer = std::any_of(changes.begin(), changes.end(),
                                    [](const scenario::Override& c) { return c.key.starts_with("drawer"); });
    if (drawer && (from_drawer(t.behind_left) || from_drawer(t.behind_right))) {
        return fail(Grade::usage,
                    "the drawer cannot change while pieces of it stand behind the fence; take them out first");
    }
    Result<scenario::Scenario> changed = scenario::with(t.scenario, changes);
    if (!changed) return tl::unexpected(changed.error());
    t.scenario = std::move(*changed);
    if (drawer) fill_drawer(run);
    // Earlier tests and notes belong to another set-up; what a person has read stands as it is.
    t.tests.clear();
    std::erase_if(t.notebook, [](const Note& n) { return !n.typed; });
    t.repairs.clear();
    return {};
}

Result<void> apply(Run& run, const SetValue& a) { return set(run, {{a.key, a.value}}); }

Result<void> apply(Run& run, const SetBoth& a) {
    return set(run, {{a.first.key, a.first.value}, {a.second.key, a.second.value}});
}

/// One whole test, the fence clamped as it now is.
void cut_test(Run& run, const std::optional<cut::HandPass>& pushed) {
    Trial& t = run.trial;
    Test test;
    test.pushed = pushed;
    test.drawing = t.scenario.drawing;
    test.behind_left = t.behind_left;
    test.behind_right = t.behind_right;
    clamp(run);
    test.clamped_again = t.clamped_again;
    const contact::Shims shims = shims_of(t.behind_left, t.behind_right);
    test.cut = pushed ? cut::five_cut_pushed(t.scenario.drawing, as_clamped(t), shims, *pushed, chances(run))
                      : cut::five_cut_each(t.scenario.drawing, as_clamped(t), shims, chances(run));
    if (test.cut.cuts_made > 0)
        test.face = cut::marks_of(t.scenario.drawing, t.scenario.truth,
                                  test.cut.cuts[static_cast<std::size_t>(test.cut.cuts_made - 1)]);
    spend(t, measure::Check::five_cut);
    t.tests.push_back(std::move(test));
    ++run.tests_cut;
}

Result<void> apply(Run& run, const CutTest&) {
    cut_test(run, std::nullopt);
    return {};
}

Result<void> apply(Run& run, const PushTest& a) {
    if (const std::string trouble = trouble_with(a.pass); !trouble.empty()) return fail(Grade::usage, trouble);
    cut_test(run, a.pass);
    return {};
}

Result<void> apply(Run& run, const Read& a) {
    Trial& t = run.trial;
    if (t.tests.empty()) return fail(Grade::usage, "there is no strip to read yet; cut a test first");
    Test& test = t.tests.back();
    if (!test.cut.strip)
        return fail(Grade::usage,
                    "the last test gave no strip to read: " + std::string(cut::sentence_of(test.cut.outcome)));
    const cut::Strip& strip = *test.cut.strip;
    const bool fits = a.station_mm >= 0.0 && a.station_mm <= furthest_in_mm(strip);
    if (!fits) {
        return fail(
            Grade::usage,
            fmt::format("the caliper must stand between 0 and {:.0f} mm from the end that it reads, not at {:.3f} mm",
                        std::floor(furthest_in_mm(strip)), a.station_mm));
    }
    auto& readings = a.end == End::fence ? test.fence_end : test.far_end;
    const double station = a.end == End::fence ? a.station_mm : strip.length_mm - a.station_mm;
    measure::Place place{t.seed, run.tests_cut, 0, static_cast<std::uint32_t>(readings.size())};
    // A place of its own for every tenth of a millimetre: the caliper's error there stays the same when it is put back.
    place.end = static_cast<std::uint32_t>(std::lround(station * 10.0)) * 2U + (a.end == End::fence ? 0U : 1U);
    readings.push_back(measure::read_caliper(test.drawing.caliper, t.scenario.truth.caliper_zero_mm,
                                             strip.width_at(station), station, place, t.precision,
                                             t.scenario.truth.caliper_step_mm));
    work_out(run, place);
    return {};
}

Result<void> apply(Run& run, const WorkOut&) {
    Trial& t = run.trial;
    if (t.tests.empty() || !t.tests.back().skew_rad)
        return fail(Grade::usage, "there is nothing to work out yet; read the strip at both ends first");
    t.tests.back().worked_out = true;
    return {};
}

Result<void> apply(Run& run, const PutShim& a) {
    Trial& t = run.trial;
    const auto& drawer = t.scenario.drawing.drawer;
    if (a.at == shim::At::none) return fail(Grade::usage, "a shim goes behind the left or the right end");
    if (a.drawer_row < 0 || a.drawer_row >= static_cast<int>(drawer.size())) {
        return fail(Grade::usage, fmt::format("the drawer has no line {}; it has {} lines, counted from 0",
                                              a.drawer_row, drawer.size()));
    }
    const auto row = static_cast<std::size_t>(a.drawer_row);
    if (t.left_in_drawer[row] < 1)
        return fail(Grade::usage, fmt::format("no {} of that thickness is left in the drawer", drawer[row].name));
    --t.left_in_drawer[row];
    const shop::Shim& s = drawer[row];
    const std::uint32_t piece = run.drawer[row].back();
    run.drawer[row].pop_back();
    const double off = t.precision == Precision::exact
                           ? 0.0
                           : s.u_mm * base::standard_normal({t.seed, base::Purpose::shim_thickness,
                                                             static_cast<std::uint32_t>(row), piece});
    behind(t, a.at).push_back(
        {{s.name, s.thickness_mm, s.u_mm, a.drawer_row}, std::max(0.0, s.thickness_mm + off), piece});
    return {};
}

Result<void> apply(Run& run, const PutThickness& a) {
    if (a.at == shim::At::none) return fail(Grade::usage, "a shim goes behind the left or the right end");
    // Thicker than any set-up error that the model holds for; it also keeps the fence's slope small.
    constexpr double thickest = 20.0;
    if (!(a.thickness_mm >= 0.0 && a.thickness_mm <= thickest)) {
        return fail(Grade::usage,
                    fmt::format("a shim is between 0 and {:.0f} mm thick, not {:.6g} mm", thickest, a.thickness_mm));
    }
    behind(run.trial, a.at).push_back({{"shim", a.thickness_mm, 0.0, -1}, a.thickness_mm, 0});
    return {};
}

Result<void> apply(Run& run, const TakeShim& a) {
    auto& placed = behind(run.trial, a.at);
    if (a.at == shim::At::none || placed.empty())
        return fail(Grade::usage, fmt::format("no shim stands behind the {} end", shim::name_of(a.at)));
    const int row = placed.back().picked.drawer_row;
    if (row >= 0) {
        ++run.trial.left_in_drawer[static_cast<std::size_t>(row)];
        // It lies on top of its heap: putting it back gives the same piece again.
        run.drawer[static_cast<std::size_t>(row)].push_back(placed.back().piece);
    }
    placed.pop_back();
    return {};
}

// ---- where the job stands ----

Stage stage_of(const Trial& t) {
    if (t.tests.empty()) return Stage::cut;
    const Test& last = t.tests.back();
    if (t.shims_changed_since_last_test()) return Stage::prove;
    if (last.cut.outcome != cut::Outcome::done) return Stage::cut;
    if (!last.skew_rad) return Stage::read;
    if (!last.worked_out) return Stage::work_out;
    if (last.verdict->state == diagnose::State::pass) return Stage::prove;
    return last.proposal->at == shim::At::none ? Stage::cut : Stage::shim;
}

bool proved(const Trial& t) {
    const bool passes =
        !t.tests.empty() && t.tests.back().verdict && t.tests.back().verdict->state == diagnose::State::pass;
    return passes && t.tests.back().worked_out && !t.shims_changed_since_last_test();
}

void take_stock(Trial& t) {
    t.stage = stage_of(t);
    t.proved = proved(t);
}

}  // namespace

double furthest_in_mm(const cut::Strip& strip) { return 0.45 * strip.length_mm; }

std::string_view name_of(Stage stage) {
    constexpr std::array<std::string_view, 6> names{"Set up", "Cut", "Read", "Work out", "Shim", "Prove"};
    return names.at(static_cast<std::size_t>(stage));
}

bool Trial::shims_changed_since_last_test() const {
    if (tests.empty()) return false;
    return !same_pieces(tests.back().behind_left, behind_left) || !same_pieces(tests.back().behind_right, behind_right);
}

double Trial::skew_now_rad() const {
    return base::atan_of(
        contact::fence_face(scenario.drawing, as_clamped(*this), shims_of(behind_left, behind_right)).slope);
}

Run start(const scenario::Scenario& scenario, std::uint64_t seed, Precision precision) {
    Run run;
    run.trial.scenario = scenario;
    run.trial.seed = seed;
    run.trial.precision = precision;
    fill_drawer(run);
    take_stock(run.trial);
    return run;
}

Result<void> step(Run& run, const Action& action) {
    if (run.actions_done >= most_actions) {
        return fail(
            base::Grade::usage,
            fmt::format("a session holds {} actions at most, and this one has as many; save it, then start again",
                        most_actions));
    }
    const Result<void> done = std::visit([&](const auto& a) { return apply(run, a); }, action);
    if (!done) {
        const std::string what = sentence_of(action, run.trial.scenario.drawing, run.trial.scenario.units);
        return fail(done.error().grade, fmt::format("action {} ({}) is not possible: {}", run.actions_done + 1, what,
                                                    done.error().message));
    }
    ++run.actions_done;
    take_stock(run.trial);
    return {};
}

Result<Trial> run(const scenario::Scenario& scenario, std::span<const Action> actions, std::uint64_t seed,
                  Precision precision) {
    Run run = start(scenario, seed, precision);
    for (const Action& action : actions) {
        if (Result<void> done = step(run, action); !done) return tl::unexpected(std::move(done.error()));
    }
    return std::move(run.trial);
}

}  // namespace offsquare::session
