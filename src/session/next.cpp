#include "session/next.h"

#include <algorithm>

#include "session/advice.h"
#include "session/complaint.h"

namespace offsquare::session {
namespace {

using Says = diagnose::State;

/// Shims or a repair since the last test was cut.
bool repaired_since_last_test(const Seen& seen) {
    if (seen.shims_changed_since_last_test) return true;
    return seen.last_test() == nullptr && was_repaired(seen);
}

using diagnose::Work;

bool may_decide(const Test& test) {
    return test.verdict->state == Says::undecided && !test.verdict->changes && test.verdict->tests_to_decide != 0 &&
           test.in_round < most_tests;
}

/// A look at the play decides it, or spares tests.
bool play_may_decide(const Test& test) {
    const diagnose::Verdict& v = *test.verdict;
    return v.state == Says::undecided && !v.changes && (v.work == Work::wiggle || v.work == Work::wiggle_and_test);
}

Next play_next() { return {Todo::look_at_play, {MakeCheck{measure::Check::wiggle}}, measure::Check::wiggle}; }

/// Whether the end that the shim is proposed for is the fence's, and not only that of one strip.
bool tells_the_end(const Test& test) { return test.verdict->coverage95.lo > 0.0 || test.verdict->coverage95.hi < 0.0; }

/// After a shim an undecided test is no reason for another one: that would chase noise.
std::vector<Action> pieces_after(const Test& test) {
    if (test.round + 1 >= most_rounds) return {};
    if (test.round > 0 && test.verdict->state == Says::undecided) return {};
    if (!tells_the_end(test)) return {};
    return proposed_actions(test);
}

/// Why a job that has not passed ends here.
Todo end_of(const Test& test) {
    if (test.verdict->state == Says::undecided) return Todo::undecidable;
    return test.round + 1 < most_rounds ? Todo::nothing_fits : Todo::look_elsewhere;
}

/// A test that is worked out.
Next after_the_working(const Test& test, const Ways& ways) {
    if (test.verdict->state == Says::pass) return {Todo::done};
    if (test.verdict->changes) return {Todo::something_changes};
    // The first test need not decide when it already names pieces to put in: the proof will tell.
    const bool names_pieces = test.round == 0 && tells_the_end(test) && !proposed_actions(test).empty();
    if (play_may_decide(test) && !names_pieces) return play_next();
    if (may_decide(test) && !names_pieces) return {Todo::repeat_test, {ways.test}};
    std::vector<Action> pieces = pieces_after(test);
    if (pieces.empty()) return {end_of(test)};
    return {Todo::put_shims, std::move(pieces)};
}

Next check_next(const Seen& seen, measure::Check check) {
    if (jams(seen) && measure::needs_the_sled_to_go(check)) return {Todo::wait_for_sled, {}, check};
    if (seen.real_saw) return {Todo::type_readings, {}, check};
    return {Todo::make_check, {MakeCheck{check}}, check};
}

Next repair_next(const Seen& seen, shop::Fault fault) {
    if (seen.real_saw) return {Todo::repair_there, {}, {}, fault};
    return {Todo::repair, {Repair{fault}}, {}, fault};
}

/// What looks at one part of runners and slots each, and was not read since it was changed.
std::optional<measure::Check> not_looked_at_in_a_jam(const Seen& seen) {
    using enum measure::Check;
    const std::vector<Note> notes = notes_of(seen);
    for (const measure::Check check : {slot_ride, runner_straightedge, slot_widths, runner_fit, runner_spacing}) {
        const bool read = std::any_of(notes.begin(), notes.end(),
                                      [&](const Note& n) { return n.holds() && n.report.occasion.check == check; });
        if (!read) return check;
    }
    return std::nullopt;
}

/// What is ripe was put right before, and the sled still jams: look at all else before it is put right again.
Next next_after_a_repair_in_vain(const Seen& seen, const Findings& findings) {
    if (const auto check = not_looked_at_in_a_jam(seen)) return check_next(seen, *check);
    return repair_next(seen, likeliest_jam(findings, seen.repairs));
}

/// Nothing can be cut: what jams the sled is looked for, and put right.
Next next_while_it_jams(const Seen& seen, const Findings* findings) {
    if (findings == nullptr) return {Todo::weigh};
    if (const auto fault = ripe_for_repair(*findings)) {
        const bool again = std::any_of(seen.repairs.begin(), seen.repairs.end(),
                                       [&](const RepairNote& r) { return r.fault == *fault && r.of_this_set_up; });
        return again ? next_after_a_repair_in_vain(seen, *findings) : repair_next(seen, *fault);
    }
    if (findings->next) return check_next(seen, findings->next->check);
    return repair_next(seen, likeliest_jam(*findings, seen.repairs));
}

Next proof_next(const Seen& seen) {
    if (seen.real_saw) return {Todo::prove_there};
    return {Todo::prove, proof_intention()};
}

/// A test that was begun is read to its end first.
std::optional<Next> the_rest_of_a_test(const Seen& seen) {
    const Test* test = seen.last_test();
    const bool begun = test != nullptr && test->outcome == cut::Outcome::done && !test->worked_out &&
                       !seen.shims_changed_since_last_test;
    return begun ? std::optional(next_in_job(seen)) : std::nullopt;
}

/// What is likelier there than not, and likelier than all else.
std::optional<shop::Fault> likeliest(const Findings& findings) {
    const auto less = [](const diagnose::Belief& a, const diagnose::Belief& b) {
        return (a.touched ? a.probability : 0.0) < (b.touched ? b.probability : 0.0);
    };
    const auto& beliefs = findings.diagnosis.beliefs;
    const diagnose::Belief& best = *std::max_element(beliefs.begin(), beliefs.end(), less);
    return best.touched && best.probability > 0.5 ? std::optional(best.fault) : std::nullopt;
}

/// The surest fault but these, once it should be put right.
std::optional<shop::Fault> ripe_but(const Findings& findings, std::span<const shop::Fault> but) {
    const auto first = first_to_repair(findings, but);
    if (!first || reads_again(findings)) return std::nullopt;
    // Sure enough, whatever may be there besides.
    constexpr double sure = 0.98;
    if (findings.diagnosis.beliefs[static_cast<std::size_t>(*first)].probability >= sure) return first;
    return !findings.next || rivals_of(findings, *first).empty() ? first : std::nullopt;
}

/// Nothing is to be put right any more: what the owner speaks of may not have been looked at.
Next after_the_proof(const Seen& seen, bool took_hold) {
    if (complaint_of(seen, took_hold) != Became::open) return {Todo::done};
    if (seen.concern == scenario::Concern::change) return check_next(seen, measure::Check::clamp_watch);
    return {Todo::take_hold};
}

/// A test that passes ends a hunt: after a repair, or once something else was looked at. A first test that passes does
/// not end what has not begun.
bool is_closed_by_the_test(const Seen& seen) {
    if (proof_of(seen) != Proved::passed) return false;
    return was_repaired(seen) || std::any_of(seen.checks.begin(), seen.checks.end(),
                                             [&](const Note& note) { return note.event < seen.last_test()->event; });
}

Next next_proof(const Seen& seen, bool took_hold) {
    if (jams(seen)) return {Todo::look_at_suspects};
    if (to_be_pushed_first(seen)) return check_next(seen, measure::Check::push_through);
    switch (proof_of(seen)) {
        case Proved::passed: return after_the_proof(seen, took_hold);
        case Proved::marked:
        case Proved::changing:
        case Proved::failed: return {Todo::look_at_suspects};
        case Proved::undecided:
            if (play_may_decide(*seen.last_test())) return play_next();
            if (!may_decide(*seen.last_test())) return {Todo::look_at_suspects};
            return proof_next(seen);
        case Proved::not_cut: break;
    }
    if (const auto rest = the_rest_of_a_test(seen)) return *rest;
    return proof_next(seen);
}

/// A proof that passes closes nothing while something is there that it does not measure.
Next next_on_the_proof(const Opened& opened, const Seen& seen, const Findings* findings) {
    const Next proof = next_proof(seen, opened.took_hold);
    const bool passes = proof_of(seen) == Proved::passed && !to_be_pushed_first(seen) && !jams(seen);
    if (!passes && proof.todo != Todo::look_at_suspects) return proof;
    if (findings == nullptr) return passes ? Next{Todo::weigh} : proof;
    if (passes) return to_put_right(seen, *findings) ? Next{Todo::look_at_suspects} : proof;
    Next next = next_in_hunt(seen, findings, opened.took_hold);
    // Where the hunt itself goes on by the test alone, it is done here.
    return next.todo == Todo::put_shims || next.todo == Todo::repeat_test ? next : proof;
}

/// No test was cut, nor anything else read but how the sled goes where its owner speaks of that.
bool nothing_cut(const Seen& seen) {
    if (seen.last_test() != nullptr) return false;
    const bool slides = seen.concern == scenario::Concern::slide;
    const std::vector<Note> notes = notes_of(seen);
    return std::all_of(notes.begin(), notes.end(), [&](const Note& n) {
        return slides && n.report.occasion.check == measure::Check::push_through;
    });
}

}  // namespace

Next next_in_job(const Seen& seen, const Ways& ways) {
    const Test* test = seen.last_test();
    if (jams(seen)) return {Todo::find_the_jam};
    if (repaired_since_last_test(seen)) return {Todo::prove, {ways.test}};
    if (test == nullptr) return {Todo::cut, {ways.test}};
    if (test->outcome != cut::Outcome::done) return {Todo::cut_otherwise, {ways.test}};
    if (test->worked_out) return after_the_working(*test, ways);
    if (test->fence_end.size() < ways.reads) return {Todo::read_fence_end, {Read{End::fence, ways.fence_in_mm}}};
    if (test->far_end.size() < ways.reads) return {Todo::read_far_end, {Read{End::far, ways.far_in_mm}}};
    return {Todo::work_out, {WorkOut{}}};
}

Next next_in_hunt(const Seen& seen, const Findings* findings, bool took_hold) {
    if (jams(seen)) return next_while_it_jams(seen, findings);
    if (to_be_pushed_first(seen)) return check_next(seen, measure::Check::push_through);
    if (nothing_cut(seen)) return check_next(seen, measure::Check::five_cut);
    if (!seen.real_saw) {
        const Proved proof = proof_of(seen);
        if (repaired_since_last_test(seen)) return proof_next(seen);
        if (const auto rest = the_rest_of_a_test(seen)) return *rest;
        if (was_repaired(seen) && proof == Proved::undecided && play_may_decide(*seen.last_test())) return play_next();
        if (was_repaired(seen) && proof == Proved::undecided && may_decide(*seen.last_test())) return proof_next(seen);
    }
    if (findings == nullptr) return {Todo::weigh};
    if (const auto fault = to_put_right(seen, *findings)) return repair_next(seen, *fault);
    if (!seen.real_saw && is_closed_by_the_test(seen)) return after_the_proof(seen, took_hold);
    if (findings->next) return check_next(seen, findings->next->check);
    if (seen.real_saw) return proof_next(seen);
    const Next proof = next_proof(seen, took_hold);
    if (proof.todo != Todo::look_at_suspects) return proof;
    // It is not square and no check would tell more: what is likelier there than not; else what the test says by
    // itself.
    if (const auto fault = likeliest(*findings)) return repair_next(seen, *fault);
    return next_in_job(seen);
}

Next next_on(const Opened& opened, const Seen& seen, const Findings* findings) {
    switch (opened.leaf) {
        case Leaf::symptom: {
            Next next = next_in_hunt(seen, findings, opened.took_hold);
            const bool begins = notes_of(seen).empty() && !seen.real_saw && next.todo == Todo::make_check;
            return begins ? next : Next{Todo::look_at_suspects};
        }
        case Leaf::suspects: return next_in_hunt(seen, findings, opened.took_hold);
        case Leaf::checks: return check_next(seen, opened.check);
        case Leaf::repairs: return repair_next(seen, opened.fault);
        case Leaf::proof: break;
    }
    return seen.real_saw ? Next{Todo::prove_there} : next_on_the_proof(opened, seen, findings);
}

std::optional<shop::Fault> to_put_right(const Seen& seen, const Findings& findings) {
    if (seen.real_saw || proof_of(seen) != Proved::passed) return ripe_for_repair(findings);
    // What the test measures or counts: the fence's angle, and the hand in the runners' play.
    std::vector<shop::Fault> let_be{shop::Fault::fence_skew, shop::Fault::left_play, shop::Fault::right_play};
    for (const RepairNote& r : seen.repairs) {
        if (r.of_this_set_up) let_be.push_back(r.fault);
    }
    return ripe_but(findings, let_be);
}

std::optional<shop::Fault> ripe_for_repair(const Findings& findings) { return ripe_but(findings, {}); }

shop::Fault likeliest_jam(const Findings& findings, const std::vector<RepairNote>& made) {
    using enum shop::Fault;
    const auto belief = [&](shop::Fault f) { return findings.diagnosis.beliefs[static_cast<std::size_t>(f)]; };
    const bool left_is_tighter = belief(left_play).size <= belief(right_play).size;
    const auto likely = [&](shop::Fault f) {
        if (f == left_play) return left_is_tighter ? 0.5 : 0.25;
        if (f == right_play) return left_is_tighter ? 0.25 : 0.5;
        return belief(f).probability;
    };
    const auto times = [&](shop::Fault f) {
        return std::count_if(made.begin(), made.end(),
                             [&](const RepairNote& r) { return r.fault == f && r.of_this_set_up; });
    };
    shop::Fault best = left_play;
    for (const shop::Fault f : {right_play, pitch_error, slot_splay, slot_wander, runner_bend}) {
        const auto fewer = times(best) - times(f);
        if (fewer > 0 || (fewer == 0 && likely(f) > likely(best))) best = f;
    }
    return best;
}

Proved proof_of(const Seen& seen) {
    const Test* test = seen.last_test();
    if (test == nullptr || !test->verdict || !test->worked_out || seen.shims_changed_since_last_test)
        return Proved::not_cut;
    if (test->verdict->state != Says::pass && test->verdict->changes) return Proved::changing;
    if (test->verdict->state == Says::fail) return Proved::failed;
    if (test->verdict->state == Says::undecided) return Proved::undecided;
    return test->face.heel_marks ? Proved::marked : Proved::passed;
}

std::vector<Action> proof_intention() {
    return {CutTest{true},         Read{End::fence, 0.0}, Read{End::far, 0.0},
            Read{End::fence, 0.0}, Read{End::far, 0.0},   WorkOut{}};
}

Stage stage_of(Todo todo) {
    switch (todo) {
        case Todo::cut:
        case Todo::cut_otherwise:
        case Todo::repeat_test:
        case Todo::look_at_play:
        case Todo::find_the_jam: return Stage::cut;
        case Todo::read_fence_end:
        case Todo::read_far_end: return Stage::read;
        case Todo::work_out: return Stage::work_out;
        case Todo::put_shims:
        case Todo::nothing_fits: return Stage::shim;
        case Todo::prove:
        case Todo::undecidable:
        case Todo::something_changes:
        case Todo::look_elsewhere:
        case Todo::done:
        case Todo::wait_for_sled:
        case Todo::look_at_suspects:
        case Todo::weigh:
        case Todo::cannot_weigh:
        case Todo::make_check:
        case Todo::type_readings:
        case Todo::repair:
        case Todo::repair_there:
        case Todo::prove_there:
        case Todo::take_hold: break;
    }
    return Stage::prove;
}

}  // namespace offsquare::session
