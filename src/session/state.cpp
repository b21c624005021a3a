#include "session/state.h"

#include <algorithm>
#include <map>
#include <numeric>

#include <fmt/format.h>

#include "base/elementary.h"
#include "base/random.h"
#include "session/fence_verdict.h"
#include "session/model.h"

namespace offsquare::session {
namespace {

using base::Result;
using shop::Fault;

double total_of(const Stack& placed) {
    double sum = 0.0;
    for (const PlacedShim& p : placed) sum += p.true_mm;
    return sum;
}

std::vector<shim::PickedShim> marks_of(const Stack& placed) {
    std::vector<shim::PickedShim> marks;
    for (const PlacedShim& p : placed) marks.push_back(p.picked);
    return marks;
}

/// Whether a check tells about one fault on a saw of these sizes: each kind of check is tried once.
class Telling {
public:
    Telling(Fault fault, const shop::Drawing& drawing) : fault_(fault), model_(model_of(drawing)) {}

    bool operator()(measure::Check check, int clamped_again) {
        // A fence that was never clamped anew has not crept; where shims stand makes no difference.
        const measure::Occasion occasion{check, 0.0, 0.0, std::min(clamped_again, 1)};
        const auto [known, is_new] = known_.try_emplace({check, occasion.clamped_again});
        if (is_new) known->second = diagnose::sees(occasion, fault_, model_, diagnose::declared_prior());
        return known->second;
    }
    bool operator()(const Test& test) {
        return (*this)(test.brushed ? measure::Check::brushed : measure::Check::five_cut, test.clamped_again);
    }
    bool operator()(const Note& note) {
        return (*this)(note.report.occasion.check, note.report.occasion.clamped_again);
    }

private:
    Fault fault_;
    diagnose::Model model_;
    std::map<std::pair<measure::Check, int>, bool> known_;
};

/// The fence as it stands is not the one that was clamped last.
bool stands_otherwise(const Saw& saw) {
    return !same_pieces(saw.clamped_left, saw.behind_left) || !same_pieces(saw.clamped_right, saw.behind_right);
}

// ---- what no longer holds ----

bool nothing_read_since(const Seen& seen, std::size_t event) {
    return (seen.tests.empty() || seen.tests.back().event < event) &&
           (seen.checks.empty() || seen.checks.back().event < event);
}

/// Writes `ended` into every test and check that `which` names.
template <class Which>
void end_those(Seen& seen, const Ended& ended, Which which) {
    for (std::size_t i = 0; i < seen.tests.size(); ++i) {
        if (which(seen.tests[i], false)) seen.tests.change(i).ended = ended;
    }
    for (std::size_t i = 0; i < seen.checks.size(); ++i) {
        if (which(seen.checks[i], seen.checks[i].typed)) seen.checks.change(i).ended = ended;
    }
}

/// Whether the fence stands now as it stood for what was read then.
bool stands_as_then(const State& state, std::size_t test) {
    const CutTestPieces& then = state.saw.tests[test];
    return state.seen.tests[test].clamped_again == state.seen.clamped_again &&
           same_pieces(then.behind_left, state.saw.behind_left) &&
           same_pieces(then.behind_right, state.saw.behind_right);
}

bool stands_as_then(const State& state, const measure::Occasion& then) {
    return then.clamped_again == state.seen.clamped_again && then.behind_left_mm == marked_mm(state.seen.behind_left) &&
           then.behind_right_mm == marked_mm(state.seen.behind_right);
}

/// What a reading's end becomes once other shims stand behind the fence.
std::optional<Ended> with_these_shims(const std::optional<Ended>& ended, bool as_then, std::size_t event) {
    if (ended && ended->why != Ended::Why::shimmed) return ended;
    if (as_then) return std::nullopt;
    return ended ? ended : std::optional(Ended{Ended::Why::shimmed, event, Fault::fence_skew, {}});
}

void strike_out_by_shims(State& state) {
    Seen& seen = state.seen;
    if (nothing_read_since(seen, 0)) return;
    const std::size_t event = this_event(state);
    Telling tells_of_the_fence(Fault::fence_skew, seen.drawing);
    for (std::size_t i = 0; i < seen.tests.size(); ++i) {
        if (!tells_of_the_fence(seen.tests[i])) continue;
        const auto ended = with_these_shims(seen.tests[i].ended, stands_as_then(state, i), event);
        if (ended.has_value() != seen.tests[i].ended.has_value()) seen.tests.change(i).ended = ended;
    }
    for (std::size_t i = 0; i < seen.checks.size(); ++i) {
        const Note& note = seen.checks[i];
        // Who typed how the fence stood has said by that what the reading is about.
        if (note.stood_typed || !tells_of_the_fence(note)) continue;
        const auto ended = with_these_shims(note.ended, stands_as_then(state, note.report.occasion), event);
        if (ended.has_value() != note.ended.has_value()) seen.checks.change(i).ended = ended;
    }
}

/// Whether something was read while the sled went, where it jams now, or the other way round.
bool told_otherwise(const Test& test, bool goes, const shop::Drawing&) {
    return goes ? test.went_mm.has_value() : test.outcome == cut::Outcome::done;
}

bool told_otherwise(const Note& note, bool goes, const shop::Drawing& drawing) {
    if (note.report.occasion.check != measure::Check::push_through)
        return !goes && measure::needs_the_sled_to_go(note.report.occasion.check);
    return (measure::going_of(note.report.readings.front().value, drawing) == measure::Going::goes) != goes;
}

// ---- repairs by shims ----

/// Shims behind a fence that something was read of are a repair, from the first piece until the next reading. Back to
/// what stood there before: none.
void note_the_repair(State& state) {
    Seen& seen = state.seen;
    const bool open = !seen.repairs.empty() && seen.repairs.back().by_shims && seen.repairs.back().of_this_set_up &&
                      nothing_read_since(seen, seen.repairs.back().event);
    const bool other = stands_otherwise(state.saw);
    if (open && !other) seen.repairs.pop_back();
    if (!open && other && !nothing_read_since(seen, 0))
        seen.repairs.push_back({Fault::fence_skew, this_event(state), true, false, true});
}

// ---- where the job stands ----

bool shims_changed_since_last_test(const State& state) {
    if (state.seen.last_test() == nullptr) return false;
    const CutTestPieces& last = state.saw.tests.back();
    return !same_pieces(last.behind_left, state.saw.behind_left) ||
           !same_pieces(last.behind_right, state.saw.behind_right);
}

Stage stage_of(const Seen& seen) {
    const Test* last = seen.last_test();
    if (last == nullptr) return Stage::cut;
    if (seen.shims_changed_since_last_test) return Stage::prove;
    if (last->outcome != cut::Outcome::done) return Stage::cut;
    if (!last->skew_rad) return Stage::read;
    if (!last->worked_out) return Stage::work_out;
    if (last->verdict->state == diagnose::State::pass) return Stage::prove;
    return last->proposal->at == shim::At::none ? Stage::cut : Stage::shim;
}

bool proved(const Seen& seen) {
    const Test* last = seen.last_test();
    const bool passes = last != nullptr && last->verdict && last->verdict->state == diagnose::State::pass;
    return passes && last->worked_out && !seen.shims_changed_since_last_test;
}

/// Whether it may tell more of the fence than was known.
bool tells(const Action& action) {
    return std::holds_alternative<Read>(action) || std::holds_alternative<MakeCheck>(action) ||
           std::holds_alternative<TypeReadings>(action);
}

/// The verdict stays with the last test, and follows what is read until the next.
void judge(Seen& seen) {
    const Test* last = seen.last_test();
    if (last == nullptr || !last->skew_rad) return;
    FenceVerdict verdict = verdict_on_the_fence(seen);
    Test& test = seen.tests.change(seen.tests.size() - 1);
    test.verdict = verdict.verdict;
    test.other_boards = verdict.other_boards;
}

void take_stock(State& state) {
    Seen& seen = state.seen;
    seen.shims_changed_since_last_test = shims_changed_since_last_test(state);
    seen.stage = stage_of(seen);
    seen.proved = proved(seen);
}

void see_the_shims(State& state) {
    state.seen.behind_left = marks_of(state.saw.behind_left);
    state.seen.behind_right = marks_of(state.saw.behind_right);
    state.seen.left_in_drawer.clear();
    for (const auto& heap : state.saw.drawer) state.seen.left_in_drawer.push_back(static_cast<int>(heap.size()));
}

/// A square that was just held to a corner of a board that was cut before used up no board.
Cost cost_now(const Action& action, const Seen& seen) {
    Cost cost = cost_of(action);
    const auto* made = std::get_if<MakeCheck>(&action);
    if (made == nullptr || made->check != measure::Check::square_on_cut) return cost;
    const measure::Occasion& now = seen.checks.back().report.occasion;
    std::vector<measure::Occasion> before;
    for (const Note& note : notes_of(seen)) {
        if (note.holds() && note.event != seen.checks.back().event) before.push_back(note.report.occasion);
    }
    if (measure::corner_is_free(before, now)) cost.stock_mm = 0.0;
    return cost;
}

/// The event of what was just done.
void write_down(State& state, const Action& action, std::string says, std::size_t tests, std::size_t checks) {
    Seen& seen = state.seen;
    const Cost cost = cost_now(action, seen);
    seen.minutes += cost.minutes;
    seen.stock_mm += cost.stock_mm;
    Event event{this_event(state), action, cost, std::move(says), {}, {}};
    const bool reads = std::holds_alternative<Read>(action) || std::holds_alternative<WorkOut>(action);
    if (seen.tests.size() > tests || reads) event.test = seen.tests.size() - 1;
    if (seen.checks.size() > checks) event.note = seen.checks.size() - 1;
    seen.events.push_back(std::move(event));
}

}  // namespace

bool same_pieces(const Stack& a, const Stack& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const PlacedShim& p, const PlacedShim& q) { return p.true_mm == q.true_mm; });
}

shop::Truth as_clamped(const Saw& saw) {
    shop::Truth truth = saw.truth();
    truth.fence_skew_rad += saw.crept_rad;
    return truth;
}

contact::Shims true_shims(const Saw& saw) { return {total_of(saw.behind_left), total_of(saw.behind_right)}; }

double skew_now_rad(const Saw& saw) {
    return base::atan_of(contact::fence_face(saw.scenario.drawing, as_clamped(saw), true_shims(saw)).slope);
}

void fill_drawer(State& state) {
    state.saw.drawer.clear();
    for (const shop::Shim& s : state.seen.drawing.drawer) {
        std::vector<std::uint32_t> heap(static_cast<std::size_t>(std::max(s.count, 0)));
        std::iota(heap.rbegin(), heap.rend(), std::uint32_t{0});
        state.saw.drawer.push_back(std::move(heap));
    }
    see_the_shims(state);
}

void clamp(State& state) {
    auto& [saw, seen] = state;
    if (!stands_otherwise(saw)) return;
    saw.clamped_left = saw.behind_left;
    saw.clamped_right = saw.behind_right;
    ++seen.clamped_again;
    if (seen.precision == measure::Precision::exact) return;
    saw.crept_rad =
        saw.truth().clamp_creep_rad *
        base::standard_normal({seen.seed, base::Purpose::clamp, 0, static_cast<std::uint32_t>(seen.clamped_again)});
}

void shims_changed(State& state) {
    see_the_shims(state);
    strike_out_by_shims(state);
    note_the_repair(state);
}

void strike_out(State& state, Fault repaired) {
    const Ended ended{Ended::Why::repaired, this_event(state), repaired, {}};
    Telling tells(repaired, state.seen.drawing);
    end_those(state.seen, ended, [&](const auto& read, bool) { return read.holds() && tells(read); });
}

void strike_out(State& state, measure::Going felt) {
    const bool goes = felt == measure::Going::goes;
    const Ended ended{goes ? Ended::Why::freed : Ended::Why::jammed, this_event(state), {}, {}};
    end_those(state.seen, ended, [&](const auto& read, bool) {
        return read.holds() && read.event != this_event(state) && told_otherwise(read, goes, state.seen.drawing);
    });
}

void strike_out(State& state, const std::string& key_set) {
    const Ended ended{Ended::Why::value_set, this_event(state), {}, key_set};
    end_those(state.seen, ended, [&](const auto& read, bool typed) {
        return !typed && (!read.ended || read.ended->why != Ended::Why::value_set);
    });
}

State start_of(const scenario::Scenario& scenario, std::uint64_t seed, measure::Precision precision, bool real_saw,
               cut::Grain grain) {
    State state;
    state.saw.scenario = scenario;
    Seen& seen = state.seen;
    seen.title = scenario.title;
    seen.story = scenario.story;
    if (!scenario.complaint.empty() && !real_saw) seen.concern = scenario.speaks_of;
    seen.units = scenario.units;
    seen.drawing = scenario.drawing;
    seen.seed = seed;
    seen.precision = precision;
    seen.real_saw = real_saw;
    seen.grain = grain;
    fill_drawer(state);
    take_stock(state);
    return state;
}

Result<State> after(const State& before, const Action& action) {
    State state = before;
    std::string says = sentence_of(action, before.seen.drawing, before.seen.units);
    const Result<void> done = std::visit([&](const auto& a) { return a.apply(state); }, action);
    if (!done)
        return base::fail(done.error().grade, fmt::format("action {} ({}) is not possible: {}", this_event(before),
                                                          says, done.error().message));
    write_down(state, action, std::move(says), before.seen.tests.size(), before.seen.checks.size());
    if (tells(action)) judge(state.seen);
    take_stock(state);
    return state;
}

}  // namespace offsquare::session
