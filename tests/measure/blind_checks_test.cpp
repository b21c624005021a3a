// Each fault against each check: what a check is blind to leaves its reading alone, what it sees moves it. The list of
// what sees what is written by hand, from what each check looks at (design.md, "the set-up errors and how they show"),
// and not taken from the program.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "measure/saw.h"
#include "shop/truth.h"

using namespace offsquare;
using measure::Check;
using shop::Fault;

namespace {

using Faults = std::set<Fault>;
using enum Fault;

/// A saw whose runners are so loose that no fault binds them, and so wide of each other that both matter.
Saw workable() {
    Saw saw;
    saw.truth.left_play_mm = 0.8;
    saw.truth.right_play_mm = 0.8;
    return saw;
}

/// The fault, on top of what the saw has; play is taken away, so that it matters which runner is the tighter one.
Saw with(Fault fault) {
    Saw saw = workable();
    const std::map<Fault, double> sizes{
        {fence_skew, 1e-3},  {fence_bow, 0.3},     {fence_lean, 0.01},  {dust, 0.2},         {clamp_creep, 1e-3},
        {left_play, 0.5},    {right_play, 0.5},    {pitch_error, 0.2},  {slot_splay, 4e-4},  {slot_wander, 0.1},
        {runner_bend, 0.1},  {blade_toe, 2e-3},    {blade_tilt, 0.01},  {blade_runout, 0.2}, {edge_bow, 0.5},
        {caliper_zero, 0.1}, {caliper_step, 0.05}, {board_creep, 1e-3}, {arbor_runout, 0.2}, {stop_slip, 0.1}};
    shop::size_of(saw.truth, fault) = sizes.at(fault);
    return saw;
}

/// What counts of a check: differences where its readings are meant to be taken from each other, a strip's taper over
/// its length.
std::vector<double> what_counts(Check check, const std::vector<double>& v) {
    switch (check) {
        case Check::five_cut:
        case Check::brushed:
        case Check::same_again:
        case Check::long_and_short: {
            std::vector<double> rates;
            for (std::size_t i = 0; i < v.size(); i += 3) rates.push_back(100 * taper_rate(v, i));  // over 100 mm
            return rates;
        }
        case Check::kerf_width:
        case Check::tooth_indicator:
        case Check::slot_widths:
        case Check::runner_spacing: return {v[1] - v[0]};
        case Check::runner_fit: return {v[0] - v[1], v[2] - v[3]};
        case Check::diagonals: return {v[1] - v[0]};
        case Check::stop_pieces: return {v[2] - v[0]};
        case Check::second_caliper: return {v[0] - v[1] - (v[2] - v[3]), v[2] - v[3] - (v[4] - v[5])};
        default: return v;
    }
}

/// Faults that bend the travel may move a cut or not, as the hand and the place have it.
const Faults guide{slot_splay, slot_wander, runner_bend};

struct Sight {
    Faults sees;  ///< in a reading without chance
    Faults may_see;
};
Sight sight_of(Check check) {
    switch (check) {
        case Check::five_cut:
        case Check::brushed:
        case Check::same_again:
        case Check::long_and_short: return {{fence_skew, fence_bow, board_creep}, guide};
        case Check::flip:
        case Check::square_on_cut: return {{fence_skew, fence_bow, blade_tilt, board_creep}, guide};
        case Check::cut_face: return {{blade_toe}, {}};
        // A tilt of a hundredth widens the kerf by 0.2 um.
        case Check::kerf_width:
            return {{blade_toe, blade_runout, arbor_runout}, {slot_splay, slot_wander, runner_bend, blade_tilt}};
        case Check::fence_straightedge: return {{fence_bow}, {}};
        case Check::fence_square: return {{fence_lean}, {}};
        case Check::clamp_watch: return {};
        case Check::edge_straightedge: return {{edge_bow}, {}};
        // A bent runner rocks about its bulge: its ends reach as far as before until the bulge takes all the play.
        case Check::wiggle: return {{left_play, right_play, pitch_error, slot_splay, slot_wander}, {runner_bend}};
        case Check::runner_fit: return {{left_play, right_play}, {}};
        case Check::runner_spacing: return {{pitch_error, slot_wander, runner_bend}, {}};
        case Check::runner_straightedge: return {{runner_bend}, {}};
        case Check::slot_widths: return {{slot_splay}, {}};
        case Check::slot_ride: return {{slot_wander}, {}};
        case Check::tooth_indicator: return {{blade_toe}, {}};
        case Check::rim_indicator: return {{blade_runout, arbor_runout}, {}};
        case Check::blade_square: return {{blade_tilt}, {}};
        case Check::jaws: return {{caliper_zero}, {}};
        case Check::gauge_in_jaws: return {{caliper_zero}, {}};
        // Sees nothing of a sled that goes (tests/session/jams_test.cpp: of one that jams).
        case Check::push_through: return {};
        case Check::board_end: return {{board_creep}, {}};
        case Check::stop_pieces: return {{stop_slip}, {}};
        case Check::second_caliper: return {};  // of two that read exactly
        case Check::half_turn: return {{blade_runout, arbor_runout}, {}};
        case Check::diagonals: return {{fence_skew, fence_bow, board_creep}, guide};
    }
    return {};
}

/// What makes a check's readings scatter.
Faults scatters(Check check) {
    switch (check) {
        case Check::five_cut:
        case Check::same_again:
        case Check::long_and_short: return {dust, caliper_step};
        case Check::brushed: return {caliper_step};
        case Check::flip:
        case Check::diagonals:
        case Check::square_on_cut: return {dust};
        case Check::clamp_watch: return {clamp_creep};
        case Check::kerf_width:
        case Check::runner_fit:
        case Check::second_caliper:
        case Check::jaws:
        case Check::gauge_in_jaws: return {caliper_step};
        default: return {};
    }
}

double furthest(const std::vector<double>& a, const std::vector<double>& b) {
    double worst = 0;
    for (std::size_t i = 0; i < a.size(); ++i) worst = std::max(worst, std::abs(a[i] - b[i]));
    return worst;
}

}  // namespace

TEST_CASE("every fault against every check, read without chance") {
    for (const shop::Hand hand : {shop::Hand::right, shop::Hand::left, shop::Hand::middle}) {
        for (const measure::CheckInfo& check : measure::checks()) {
            Saw plain = workable();
            plain.drawing.sled.hand = hand;
            const auto before = what_counts(check.check, plain.exact(check.check));
            for (const shop::FaultInfo& f : shop::faults()) {
                CAPTURE(check.name);
                CAPTURE(f.key);
                Saw saw = with(f.fault);
                saw.drawing.sled.hand = hand;
                const auto values = saw.exact(check.check);
                REQUIRE(values.size() == check.readings.size());
                const double moved = furthest(what_counts(check.check, values), before);
                const Sight sight = sight_of(check.check);
                if (sight.sees.contains(f.fault)) CHECK(moved > 0.01);
                else if (!sight.may_see.contains(f.fault)) CHECK(moved < 1e-9);
            }
        }
    }
}

TEST_CASE("every fault against every check: what makes it scatter, foretold and drawn") {
    for (const measure::CheckInfo& check : measure::checks()) {
        const auto none = workable().scatter(check.check);
        CHECK(none.size() == check.readings.size());
        CHECK(std::all_of(none.begin(), none.end(), [](double s) { return s == 0.0; }));
        for (const shop::FaultInfo& f : shop::faults()) {
            CAPTURE(check.name);
            CAPTURE(f.key);
            const bool foretold = furthest(with(f.fault).scatter(check.check), none) > 1e-3;
            CHECK(foretold == scatters(check.check).contains(f.fault));
            if (!Faults{dust, clamp_creep, caliper_step}.contains(f.fault)) continue;
            // Drawn: the same seeds with and without. What does not scatter reads the very same.
            double moved = 0;
            for (std::uint64_t seed = 1; seed <= 6; ++seed)
                moved = std::max(moved,
                                 furthest(with(f.fault).real(check.check, seed), workable().real(check.check, seed)));
            CHECK((moved > 0.0) == scatters(check.check).contains(f.fault));
        }
    }
}

TEST_CASE("every fault is seen by at least one check, and every check sees at least one") {
    Faults seen;
    for (const measure::CheckInfo& check : measure::checks()) {
        Faults here = scatters(check.check);
        for (const shop::FaultInfo& f : shop::faults()) {
            if (furthest(what_counts(check.check, with(f.fault).exact(check.check)),
                         what_counts(check.check, workable().exact(check.check))) > 0.01)
                here.insert(f.fault);
        }
        CAPTURE(check.name);
        CHECK(here.empty() == (check.check == Check::push_through));
        seen.insert(here.begin(), here.end());
    }
    CHECK(seen.size() == shop::fault_count);
}
