// Pairs of sessions in which a person has seen the same, though the saws differ: whatever a door shows of one it must
// show of the other, byte by byte.
#pragma once

#include <doctest/doctest.h>

#include <array>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "both_sides.h"
#include "session/action.h"
#include "session/history.h"

namespace same_seen {

using namespace offsquare;

// ---- all that is seen, as text ----

/// Whole to the last bit.
inline std::string text(double v) { return fmt::format("{:a} ", v); }
inline std::string text(int v) { return fmt::format("{} ", v); }
inline std::string text(bool v) { return v ? "yes " : "no "; }
inline std::string text(std::size_t v) { return fmt::format("{} ", v); }
inline std::string text(std::string_view v) { return fmt::format("'{}' ", v); }
inline std::string text(const std::string& v) { return text(std::string_view(v)); }
template <class E>
requires std::is_enum_v<E> std::string text(E v) { return fmt::format("{} ", static_cast<int>(v)); }

// Each value by all its members: a member that is added does not compile until it stands here.
inline std::string text(const base::Uncertain& x) {
    const auto& [value, u, dof] = x;
    return text(value) + text(u) + text(dof);
}
inline std::string text(const base::Interval& x) {
    const auto& [lo, hi] = x;
    return text(lo) + text(hi);
}
inline std::string text(const measure::Reading& x) {
    const auto& [station, value, u] = x;
    return text(station) + text(value) + text(u);
}
inline std::string text(const measure::CheckReading& x) {
    const auto& [what, unit, value, u] = x;
    return text(what) + text(unit) + text(value) + text(u);
}
inline std::string text(const shim::PickedShim& x) {
    const auto& [name, thickness, u, row] = x;
    return text(name) + text(thickness) + text(u) + text(row);
}
inline std::string text(const session::Ended& x) {
    const auto& [why, since, fault, key] = x;
    return text(why) + text(since) + (fault ? text(*fault) : "- ") + text(key);
}
inline std::string text(const session::RepairNote& x) {
    const auto& [fault, event, by_shims, of_this_set_up] = x;
    return text(fault) + text(event) + text(by_shims) + text(of_this_set_up);
}
inline std::string text(const cut::FaceMarks& x) {
    const auto& [kerf, step, depth, marks, bevel] = x;
    return text(kerf) + text(step) + text(depth) + text(marks) + text(bevel);
}
template <class T>
std::string text(const std::optional<T>& x) {
    return x ? "(" + text(*x) + ") " : "- ";
}
template <class List>
std::string text_of_all(const List& list) {
    std::string out = "[";
    for (const auto& x : list) out += text(x);
    return out + "] ";
}
inline std::string text(const shop::Drawing& x) {
    scenario::Scenario s;
    s.drawing = x;
    return scenario::to_text(s);  // every value, to the last bit
}
inline std::string text(const diagnose::StripReadings& x) {
    const auto& [fence_end, far_end, between, side] = x;
    return text(fence_end) + text(far_end) + text(between) + text(side);
}
inline std::string text(const diagnose::Verdict& x) {
    const auto& [state, tolerance, coverage, tests] = x;
    return text(state) + text(tolerance) + text(coverage) + text(tests);
}
inline std::string text(const shim::Stack& x) {
    const auto& [at, pieces, thickness, remainder] = x;
    return text(at) + text_of_all(pieces) + text(thickness) + text(remainder);
}
inline std::string text(const shim::OtherWay& x) {
    const auto& [add_left, add_right, take_left, take_right, remainder] = x;
    return text_of_all(add_left) + text_of_all(add_right) + text_of_all(take_left) + text_of_all(take_right) +
           text(remainder);
}
inline std::string text(const shim::Proposal& x) {
    const auto& [ideal, at, tells_end, best, other_way, why] = x;
    return text(ideal) + text(at) + text(tells_end) + text(best) + text(other_way) + text(why);
}
inline std::string text(const cut::HandPass& x) {
    const auto& [hand, stops_at] = x;
    std::string grips;
    for (const contact::Grip& g : hand.grips) grips += text(g.from_mm) + text(g.x_mm);
    return grips + text(hand.force_n) + text(hand.way) + text(stops_at);
}
inline std::string text(const session::Test& x) {
    const auto& [event, drawing, left, right, clamped, pushed, round, in_round, outcome, cuts_made, strip_fell,
                 furthest, face, fence_end, far_end, between, strip, skew, pooled, pooled_tests, worked_out, proposal,
                 verdict, depends_on, ended] = x;
    return text(event) + text(drawing) + text_of_all(left) + text_of_all(right) + text(clamped) + text(pushed) +
           text(round) + text(in_round) + text(outcome) + text(cuts_made) + text(strip_fell) + text(furthest) +
           text(face) + text_of_all(fence_end) + text_of_all(far_end) + text(between) + text(strip) + text(skew) +
           text(pooled) + text(pooled_tests) + text(worked_out) + text(proposal) + text(verdict) +
           text_of_all(depends_on) + text(ended) + "\n";
}
inline std::string text(const session::Note& x) {
    const auto& [event, report, typed, stood_typed, depends_on, ended] = x;
    const auto& [check, left, right, clamped] = report.occasion;
    return text(event) + text(check) + text(left) + text(right) + text(clamped) + text_of_all(report.readings) +
           text(typed) + text(stood_typed) + text_of_all(depends_on) + text(ended) + "\n";
}
inline std::string text(const session::Event& x) {
    const auto& [number, action, cost, says, test, note] = x;
    return text(number) + session::form_of(action).dump() + text(cost.minutes) + text(cost.stock_mm) + text(says) +
           text(test) + text(note) + "\n";
}
inline std::string text(const session::Seen& x) {
    const auto& [title, story, units, seed, precision, real_saw, drawing, left, right, left_in_drawer, events, tests,
                 first_now, checks, repairs, clamped, minutes, stock, shims_changed, stage, proved] = x;
    return text(title) + text(story) + text(units) + text(seed) + text(precision) + text(real_saw) + text(drawing) +
           text_of_all(left) + text_of_all(right) + text_of_all(left_in_drawer) + text_of_all(events) +
           text_of_all(tests) + text(first_now) + text_of_all(checks) + text_of_all(repairs) + text(clamped) +
           text(minutes) + text(stock) + text(shims_changed) + text(stage) + text(proved);
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
    REQUIRE(text(pair.one.seen()) == text(pair.other.seen()));
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

}  // namespace same_seen
