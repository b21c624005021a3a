// Pairs of sessions in which a person has seen the same, though the saws differ: whatever a door shows of one it must
// show of the other, byte by byte.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "both_sides.h"
#include "session/action.h"
#include "session/history.h"
#include "session/next.h"

namespace same_seen {

using namespace offsquare;

// ---- all that is seen, as text ----

struct Text {
    /// Whole to the last bit.
    static std::string of(double v) { return fmt::format("{:a} ", v); }
    static std::string of(int v) { return fmt::format("{} ", v); }
    static std::string of(bool v) { return v ? "yes " : "no "; }
    static std::string of(std::size_t v) { return fmt::format("{} ", v); }
    static std::string of(std::string_view v) { return fmt::format("'{}' ", v); }
    static std::string of(const std::string& v) { return of(std::string_view(v)); }
    template <class E>
    requires std::is_enum_v<E>
    static std::string of(E v) { return fmt::format("{} ", static_cast<int>(v)); }

    // Each value by all its members: a member that is added does not compile until it stands here.
    static std::string of(const base::Uncertain& x) {
        const auto& [value, u, dof] = x;
        return of(value) + of(u) + of(dof);
    }
    static std::string of(const base::Interval& x) {
        const auto& [lo, hi] = x;
        return of(lo) + of(hi);
    }
    static std::string of(const measure::Reading& x) {
        const auto& [station, value, u] = x;
        return of(station) + of(value) + of(u);
    }
    static std::string of(const measure::CheckReading& x) {
        const auto& [what, unit, value, u] = x;
        return of(what) + of(unit) + of(value) + of(u);
    }
    static std::string of(const shim::PickedShim& x) {
        const auto& [name, thickness, u, row] = x;
        return of(name) + of(thickness) + of(u) + of(row);
    }
    static std::string of(const session::Ended& x) {
        const auto& [why, since, fault, key] = x;
        return of(why) + of(since) + (fault ? of(*fault) : "- ") + of(key);
    }
    static std::string of(const session::RepairNote& x) {
        const auto& [fault, event, by_shims, eased, of_this_set_up] = x;
        return of(fault) + of(event) + of(by_shims) + of(eased) + of(of_this_set_up);
    }
    static std::string of(const cut::FaceMarks& x) {
        const auto& [kerf, step, depth, on, marks, bevel] = x;
        return of(kerf) + of(step) + of(depth) + of(on) + of(marks) + of(bevel);
    }
    template <class T>
    static std::string of(const std::optional<T>& x) {
        return x ? "(" + of(*x) + ") " : "- ";
    }
    template <class List>
    static std::string all_of(const List& list) {
        std::string out = "[";
        for (const auto& x : list) out += of(x);
        return out + "] ";
    }
    static std::string of(const shop::Drawing& x) {
        scenario::Scenario s;
        s.drawing = x;
        return scenario::to_text(s);  // every value, to the last bit
    }
    static std::string of(const diagnose::StripReadings& x) {
        const auto& [fence_end, far_end, between, side] = x;
        return of(fence_end) + of(far_end) + of(between) + of(side);
    }
    static std::string of(const diagnose::Verdict& x) {
        const auto& [state, tolerance, coverage, tests, mean, unusual, changes, scatter, hand, work, more, minutes] = x;
        return of(state) + of(tolerance) + of(coverage) + of(tests) + of(mean) + of(unusual) + of(changes) +
               of(scatter) + of(hand) + of(work) + of(more) + of(minutes);
    }
    static std::string of(const shim::Stack& x) {
        const auto& [at, pieces, thickness, remainder] = x;
        return of(at) + all_of(pieces) + of(thickness) + of(remainder);
    }
    static std::string of(const shim::OtherWay& x) {
        const auto& [add_left, add_right, take_left, take_right, remainder] = x;
        return all_of(add_left) + all_of(add_right) + all_of(take_left) + all_of(take_right) + of(remainder);
    }
    static std::string of(const shim::Proposal& x) {
        const auto& [ideal, at, tells_end, best, other_way, why] = x;
        return of(ideal) + of(at) + of(tells_end) + of(best) + of(other_way) + of(why);
    }
    static std::string of(const cut::HandPass& x) {
        const auto& [hand, stops_at] = x;
        std::string grips;
        for (const contact::Grip& g : hand.grips) grips += of(g.from_mm) + of(g.x_mm);
        return grips + of(hand.force_n) + of(hand.way) + of(stops_at);
    }
    static std::string of(const session::Test& x) {
        const auto& [event, drawing, left, right, clamped, pushed, brushed, round, in_round, outcome, went, cuts_made,
                     strip_fell, furthest, face, fence_end, far_end, between, strip, skew, pooled, pooled_tests,
                     worked_out, proposal, verdict, other_boards, ended] = x;
        return of(event) + of(drawing) + all_of(left) + all_of(right) + of(clamped) + of(pushed) + of(brushed) +
               of(round) + of(in_round) + of(outcome) + of(went) + of(cuts_made) + of(strip_fell) + of(furthest) +
               of(face) + all_of(fence_end) + all_of(far_end) + of(between) + of(strip) + of(skew) + of(pooled) +
               of(pooled_tests) + of(worked_out) + of(proposal) + of(verdict) + of(other_boards) + of(ended) + "\n";
    }
    static std::string of(const session::Note& x) {
        const auto& [event, report, typed, stood_typed, ended] = x;
        const auto& [check, left, right, clamped] = report.occasion;
        return of(event) + of(check) + of(left) + of(right) + of(clamped) + all_of(report.readings) + of(typed) +
               of(stood_typed) + of(ended) + "\n";
    }
    static std::string of(const session::Event& x) {
        const auto& [number, action, cost, says, test, note] = x;
        return of(number) + session::form_of(action).dump() + of(cost.minutes) + of(cost.stock_mm) + of(says) +
               of(test) + of(note) + "\n";
    }
    static std::string of(const session::Seen& x) {
        const auto& [title, story, concern, units, seed, precision, real_saw, grain, drawing, left, right,
                     left_in_drawer, events, tests, first_now, checks, repairs, clamped, minutes, stock, shims_changed,
                     stage, proved] = x;
        return of(title) + of(story) + of(concern) + of(units.system) + of(seed) + of(precision) + of(real_saw) +
               of(drawing) + all_of(left) + all_of(right) + all_of(left_in_drawer) + all_of(events) + all_of(tests) +
               of(first_now) + all_of(checks) + all_of(repairs) + of(clamped) + of(minutes) + of(stock) +
               of(shims_changed) + of(stage) + of(proved);
    }
};

template <class T>
std::string text(const T& x) {
    return Text::of(x);
}
template <class List>
std::string text_of_all(const List& list) {
    return Text::all_of(list);
}

/// Where two texts part, with what stands around it; empty: nowhere. (Both whole would fill the screen.)
inline std::string difference(const std::string& a, const std::string& b) {
    const auto at = static_cast<std::size_t>(std::mismatch(a.begin(), a.end(), b.begin(), b.end()).first - a.begin());
    if (at == a.size() && a.size() == b.size()) return "";
    const std::size_t from = at > 80 ? at - 80 : 0;
    return fmt::format("at {}: ...{}... and ...{}...", at, a.substr(from, 160), b.substr(from, 160));
}

// ---- pairs ----

struct Pair {
    std::string name;
    session::History one;
    session::History other;
};

/// The saws differ, and what is seen of them does not; else the tests that are handed the pair would show nothing.
inline Pair sound(Pair pair) {
    CAPTURE(pair.name);
    REQUIRE(difference(text(pair.one.seen()), text(pair.other.seen())) == "");
    bool differ = false;
    for (const shop::FaultInfo& f : shop::faults())
        differ = differ ||
                 shop::size_of(*pair.one.start().truth, f.fault) != shop::size_of(*pair.other.start().truth, f.fault);
    REQUIRE(differ);
    return pair;
}

inline scenario::Scenario with_fault(scenario::Scenario s, shop::Fault fault, double size) {
    shop::size_of(*s.truth, fault) = size;
    return s;
}

/// Everything is wrong with it, as far as `share` of what is possible.
inline scenario::Scenario all_wrong(scenario::Scenario s, double share) {
    for (const shop::FaultInfo& f : shop::faults()) shop::size_of(*s.truth, f.fault) = share * f.max;
    s.truth->fence_profile = base::Profile::wave(-280.0, 280.0, share, 120.0);
    s.truth->edge_profile = base::Profile::wave(0.0, 300.0, share, 90.0);
    return s;
}

inline session::History after(const scenario::Scenario& s, const std::vector<std::vector<session::Action>>& intentions,
                              measure::Precision precision, bool real_saw) {
    session::History history(s, s.seed, precision, real_saw);
    for (const std::vector<session::Action>& intention : intentions) {
        const auto done = history.act(intention);
        REQUIRE_MESSAGE(done.has_value(), done.error().message);
    }
    return history;
}

using Intentions = std::vector<std::vector<session::Action>>;

inline Pair made(const std::string& name, const scenario::Scenario& one, const scenario::Scenario& other,
                 const Intentions& intentions, measure::Precision precision = measure::Precision::real,
                 bool real_saw = false) {
    return sound({name, after(one, intentions, precision, real_saw), after(other, intentions, precision, real_saw)});
}

/// Readings of one check as a person would type them: half a millimetre, a milliradian, a strip as long as the board.
inline session::TypeReadings typed(measure::Check check) {
    session::TypeReadings action{check, {}, {}};
    for (const measure::ReadingInfo& r : measure::info(check).readings) {
        const bool angle = r.unit == shop::FaultUnit::rad;
        const bool length = r.what.find("length") != std::string_view::npos;
        action.readings.push_back({std::string(r.what), r.unit,
                                   angle    ? 0.001
                                   : length ? 300.0
                                            : 0.5,
                                   angle ? 1e-4 : 0.02});
    }
    return action;
}

/// A fault that nothing of a five-cut test shows: neither board, strip nor face.
inline scenario::Scenario with_unseen(scenario::Scenario s, bool read_exactly) {
    s.truth->fence_lean_rad = 0.009;   // the board lies on the fence with its lower edge
    s.truth->clamp_creep_rad = 0.004;  // nobody loosens the fence, or it is read exactly
    s.truth->left_play_mm += 0.05;     // the tighter runner guides the sled
    if (!read_exactly) return s;
    s.truth->dust_mm = 0.2;  // chips are chance
    s.truth->caliper_zero_mm = 0.03;
    s.truth->caliper_step_mm = 0.05;
    return s;
}

/// A job from the first cut to the proof, as it is read exactly.
inline Intentions whole_job(const scenario::Scenario& s) {
    Intentions done;
    session::History history(s, s.seed, measure::Precision::exact);
    for (int step = 0; step < 30; ++step) {
        const session::Next next = session::next_in_job(history.seen());
        if (next.todo == session::Todo::done || next.intention.empty()) break;
        REQUIRE(history.act(next.intention).has_value());
        done.push_back(next.intention);
    }
    REQUIRE(history.seen().proved);
    return done;
}

inline std::vector<Pair> pairs_before_a_cut() {
    using measure::Check;
    const scenario::Scenario good = scenario::built_in();
    const scenario::Scenario bad = all_wrong(good, 0.3);
    const Intentions shims{{session::PutShim{shim::At::left, 1}, session::PutShim{shim::At::left, 2}},
                           {session::PutThickness{shim::At::right, 0.25}}};
    const Intentions notes{{typed(Check::jaws)}, {typed(Check::fence_straightedge)}};
    const Intentions shimmed_since{{typed(Check::five_cut)}, {session::PutShim{shim::At::left, 1}}};
    scenario::Scenario inches = good;
    inches.units = base::Units::imperial;
    inches.drawing.board.kept = shop::Side::right;
    constexpr auto real = measure::Precision::real;
    return {made("nothing done", good, bad, {}),
            made("nothing done, in inches, on the right", inches, all_wrong(inches, 0.1), {}),
            made("shims put, nothing read", good, bad, shims),
            made("typed before anything is cut", good, bad, notes),
            made("typed, and shims put since", good, bad, shimmed_since),
            made("of a real saw", good, bad, {{typed(Check::five_cut)}, {typed(Check::fence_square)}}, real, true)};
}

inline std::vector<Pair> pairs_with_a_cut() {
    using session::End;
    using session::Read;
    constexpr auto exact = measure::Precision::exact;
    const scenario::Scenario good = scenario::built_in();
    const scenario::Scenario unseen = with_unseen(good, false);
    const scenario::Scenario unseen_exactly = with_unseen(good, true);
    // A hand turns the sled, and where both runners bear is felt in the last digits.
    scenario::Scenario unseen_pushed = unseen_exactly;
    unseen_pushed.truth->left_play_mm = good.truth->left_play_mm;
    scenario::Scenario caliper = unseen;
    caliper.truth->caliper_zero_mm = 0.04;
    const std::vector<session::Action> both{Read{End::fence, 10.0}, Read{End::far, 10.0}};
    const Intentions read{{session::CutTest{}}, both, {session::WorkOut{}}};
    const Intentions again{{session::CutTest{}}, both, {session::WorkOut{}}, {session::CutTest{}}, both};
    const session::PushTest pushed{{{{{-1e6, 20.0}}, 120.0, contact::Way::push}}};
    return {made("cut and not read, with another caliper", good, caliper, {{session::CutTest{}}}),
            made("one end read", good, unseen, {{session::CutTest{}}, {Read{End::far}}}),
            made("read and worked out", good, unseen, read),
            made("two tests of one round", good, unseen, again),
            made("read exactly", good, unseen_exactly, read, exact),
            made("pushed by hand and read exactly", good, unseen_pushed, {{pushed}, both}, exact),
            made("the whole job, read exactly", good, unseen_exactly, whole_job(good), exact)};
}

inline std::vector<Pair> pairs_in_the_notebook() {
    using measure::Check;
    const scenario::Scenario good = scenario::built_in();
    scenario::Scenario other = good;  // in all that the three checks are blind to
    for (const shop::Fault fault : {shop::Fault::fence_skew, shop::Fault::fence_lean, shop::Fault::blade_tilt,
                                    shop::Fault::blade_runout, shop::Fault::edge_bow})
        shop::size_of(*other.truth, fault) = -0.1 * shop::info(fault).min + 0.2 * shop::info(fault).max;
    const Intentions checks{{session::MakeCheck{Check::fence_straightedge}},
                            {session::MakeCheck{Check::tooth_indicator}},
                            {session::MakeCheck{Check::jaws}}};
    const scenario::Scenario toed = with_fault(good, shop::Fault::blade_toe, 0.004);
    const Intentions repaired{{session::Repair{shop::Fault::blade_toe}}, session::proof_intention()};
    const scenario::Scenario askew = with_fault(good, shop::Fault::fence_skew, -0.002);
    const Intentions set{{session::SetValue{"faults.fence_skew", "0.9 mrad"}}, session::proof_intention()};
    Pair back = made("taken back to the start but for one check", good, other, checks);
    for (session::History* history : {&back.one, &back.other}) {
        REQUIRE(history->take_back().has_value());
        REQUIRE(history->take_back().has_value());
    }
    return {made("checks that are blind to what differs", good, other, checks),
            made("what differed was put right", good, toed, repaired),
            made("what differed was set to the same", good, askew, set), sound(back)};
}

/// Of every stage: before a cut, with one, in the notebook.
inline const std::vector<Pair>& pairs() {
    static const std::vector<Pair> all = [] {
        std::vector<Pair> list = pairs_before_a_cut();
        for (const std::vector<Pair>& more : {pairs_with_a_cut(), pairs_in_the_notebook()})
            list.insert(list.end(), more.begin(), more.end());
        return list;
    }();
    return all;
}

}  // namespace same_seen
