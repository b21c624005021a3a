#include "session/actions/cut_test.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "measure/run_check.h"
#include "session/state.h"

namespace offsquare::session {
namespace {

constexpr double from_the_start = -std::numeric_limits<double>::infinity();

bool is_within(double value, double least, double most) { return value >= least && value <= most; }

/// "then_x_mm_from_mm": [[x, s], ...].
std::optional<std::vector<contact::Grip>> later_grips(const Json& json) {
    std::vector<contact::Grip> grips;
    if (!json.contains("then_x_mm_from_mm")) return grips;
    const Json& list = json["then_x_mm_from_mm"];
    if (!list.is_array() || list.size() > most_grips) return std::nullopt;
    for (const Json& pair : list) {
        if (!pair.is_array() || pair.size() != 2 || !pair[0].is_number() || !pair[1].is_number()) return std::nullopt;
        grips.push_back({pair[1].get<double>(), pair[0].get<double>()});
    }
    return grips;
}

cut::Chances chances(const State& state, bool brushed) {
    const Saw& saw = state.saw;
    if (state.seen.precision == measure::Precision::exact) return cut::steady(saw.scenario.drawing);
    shop::Truth truth = saw.truth();
    if (brushed) truth.dust_mm = 0.0;
    return cut::chances_of(saw.scenario.drawing, truth, state.seen.seed, saw.tests_cut);
}

/// A test that was cut as the one before it goes on its round.
void take_its_round(const State& state, Test& test) {
    const Seen& seen = state.seen;
    const Test* before = seen.last_test();
    if (before == nullptr) return;
    const CutTestPieces& cut = state.saw.tests.back();
    const bool alike = same_pieces(cut.behind_left, state.saw.behind_left) &&
                       same_pieces(cut.behind_right, state.saw.behind_right) && before->pushed == test.pushed;
    test.round = alike ? before->round : before->round + 1;
    test.in_round = alike ? before->in_round + 1 : 1;
}

/// How far the sled goes in. A hand that turns it may find it tight where a straight push just passes: then it sticks
/// at the very end.
double went_mm(const State& state, const shop::Truth& truth, const contact::Shims& shims) {
    const shop::Drawing& drawing = state.seen.drawing;
    const auto push = measure::run_check(measure::Check::push_through, {drawing, truth, shims, {}, 0}, state.seen.seed,
                                         0, measure::Precision::exact);
    const double most = measure::whole_way_mm(drawing) - 1.0;
    return push ? std::min(push->readings.front().value, most) : most;
}

/// One whole test, the fence clamped as it now is.
void cut_test(State& state, const std::optional<cut::HandPass>& pushed, bool brushed) {
    clamp(state);
    auto& [saw, seen] = state;
    Test test;
    test.event = this_event(state);
    test.drawing = seen.drawing;
    test.behind_left = seen.behind_left;
    test.behind_right = seen.behind_right;
    test.clamped_again = seen.clamped_again;
    test.pushed = pushed;
    test.brushed = brushed;
    take_its_round(state, test);
    const shop::Truth truth = as_clamped(saw);
    const contact::Shims shims = true_shims(saw);
    auto cut = std::make_shared<const cut::FiveCut>(
        pushed ? cut::five_cut_pushed(test.drawing, truth, shims, *pushed, chances(state, brushed), seen.grain)
               : cut::five_cut_each(test.drawing, truth, shims, chances(state, brushed), seen.grain));
    test.outcome = cut->outcome;
    test.cuts_made = cut->cuts_made;
    if (cut->strip) test.strip_fell = cut->strip->side;
    if (cut->strip) test.furthest_in_mm = std::floor(furthest_in_mm(*cut->strip));
    if (cut->outcome == cut::Outcome::runners_bind) test.went_mm = went_mm(state, truth, shims);
    if (cut->cuts_made > 0)
        test.face = cut::marks_of(test.drawing, saw.truth(), cut->cuts[static_cast<std::size_t>(cut->cuts_made - 1)]);
    saw.tests.push_back({std::move(cut), saw.behind_left, saw.behind_right});
    const cut::Outcome outcome = test.outcome;
    seen.tests.push_back(std::move(test));
    ++saw.tests_cut;
    if (outcome == cut::Outcome::done) strike_out(state, measure::Going::goes);
    if (outcome == cut::Outcome::runners_bind) strike_out(state, measure::Going::sticks);
}

Cost cost_of_a_test(bool brushed) {
    const measure::CheckInfo& test = measure::info(brushed ? measure::Check::brushed : measure::Check::five_cut);
    return {test.minutes, test.stock_mm};
}

constexpr const char* and_brushing = ", brushing the fence before each cut";

void write_brushed(Json& to, bool brushed) {
    if (brushed) to["brushed"] = true;
}

/// Empty: it is neither true nor false.
std::optional<bool> read_brushed(const Json& from) {
    if (!from.contains("brushed")) return false;
    if (!from["brushed"].is_boolean()) return std::nullopt;
    return from["brushed"].get<bool>();
}

}  // namespace

std::string CutTest::sentence(const shop::Drawing&, base::Units) const {
    return fmt::format("Cut a five-cut test{}.", brushed ? and_brushing : "");
}
Cost CutTest::cost() const { return cost_of_a_test(brushed); }
void CutTest::write(Json& to) const { write_brushed(to, brushed); }
base::Result<CutTest> CutTest::read(const Json& from) {
    const auto brushed = read_brushed(from);
    if (!brushed) return bad_form("brushed", "\"brushed\" must be true or false");
    return CutTest{*brushed};
}

base::Result<void> CutTest::apply(State& state) const {
    cut_test(state, std::nullopt, brushed);
    return {};
}

std::string PushTest::sentence(const shop::Drawing&, base::Units units) const {
    const char* later = pass.hand.grips.size() > 1 ? " at first, and then elsewhere" : "";
    return fmt::format("Cut a five-cut test, pushing the sled by hand {}{}{}.",
                       beside_line(contact::grip_at(pass.hand, from_the_start), units), later,
                       brushed ? and_brushing : "");
}

Cost PushTest::cost() const { return cost_of_a_test(brushed); }

void PushTest::write(Json& to) const {
    to["force_n"] = pass.hand.force_n;
    to["x_mm"] = contact::grip_at(pass.hand, from_the_start);
    if (std::isfinite(pass.stops_at_mm)) to["stops_at_mm"] = pass.stops_at_mm;
    for (std::size_t i = 1; i < pass.hand.grips.size(); ++i)
        to["then_x_mm_from_mm"].push_back({pass.hand.grips[i].x_mm, pass.hand.grips[i].from_mm});
    write_brushed(to, brushed);
}

base::Result<PushTest> PushTest::read(const Json& from) {
    const auto force = real(from, "force_n");
    const auto x = real(from, "x_mm");
    const auto later = later_grips(from);
    const bool stops = from.contains("stops_at_mm");
    const auto stop = real(from, "stops_at_mm");
    if (!force || !x || !later || (stops && !stop))
        return bad_form(
            !force   ? "force_n"
            : !x     ? "x_mm"
            : !later ? "then_x_mm_from_mm"
                     : "stops_at_mm",
            "a pushed test needs numbers \"force_n\" and \"x_mm\", and may have \"stops_at_mm\" and a list of "
            "places, for example "
            "{\"do\":\"push-test\",\"force_n\":60,\"x_mm\":80,\"then_x_mm_from_mm\":[[-40,0]]}");
    const auto brushed = read_brushed(from);
    if (!brushed) return bad_form("brushed", "\"brushed\" must be true or false");
    PushTest test;
    test.brushed = *brushed;
    test.pass.hand.force_n = *force;
    test.pass.hand.grips.push_back({from_the_start, *x});
    test.pass.hand.grips.insert(test.pass.hand.grips.end(), later->begin(), later->end());
    if (stop) test.pass.stops_at_mm = *stop;
    if (std::string trouble = trouble_with(test.pass); !trouble.empty()) return bad_form("do", std::move(trouble));
    return test;
}

base::Result<void> PushTest::apply(State& state) const {
    if (std::string trouble = trouble_with(pass); !trouble.empty())
        return base::fail(base::Grade::usage, std::move(trouble));
    cut_test(state, pass, brushed);
    return {};
}

std::string beside_line(double x_mm, base::Units units) {
    if (x_mm == 0.0) return "on the blade's line";
    return fmt::format("{} {} of the blade's line", base::show_size(std::abs(x_mm), units),
                       x_mm > 0.0 ? "right" : "left");
}

std::string trouble_with(const cut::HandPass& pass) {
    constexpr double farthest = 2000.0;
    const contact::HandPush& hand = pass.hand;
    if (hand.way != contact::Way::push) return "a test is cut pushing, not pulling back";
    if (hand.grips.size() > most_grips)
        return fmt::format("a hand changes its place {} times at most in a pass, not {} times", most_grips,
                           hand.grips.size());
    if (!is_within(hand.force_n, 0.1, 10000.0))
        return fmt::format("a hand gives from 0.1 to 10000 N, not {:g} N", hand.force_n);
    if (!(pass.stops_at_mm >= -farthest)) return "the hand stops within 2 m of the blade";
    for (std::size_t i = 0; i < hand.grips.size(); ++i) {
        if (!is_within(hand.grips[i].x_mm, -farthest, farthest)) return "a hand pushes within 2 m of the blade's line";
        if (i > 0 && !(hand.grips[i].from_mm > hand.grips[i - 1].from_mm))
            return "the places of a hand go by increasing travel";
        if (i > 0 && !is_within(hand.grips[i].from_mm, -farthest, farthest))
            return "a hand changes its place within 2 m of the blade";
    }
    return "";
}

std::string hand_words(const contact::HandPush& hand, base::Units units) {
    constexpr std::size_t most_told = 3;
    std::string text = fmt::format("The sled is pushed by hand, with up to {:g} N, {}", hand.force_n,
                                   beside_line(contact::grip_at(hand, from_the_start), units));
    for (std::size_t i = 1; i < hand.grips.size() && hand.grips.size() <= most_told; ++i) {
        text += fmt::format("; {} once the fence is at {}", beside_line(hand.grips[i].x_mm, units),
                            base::show_size(hand.grips[i].from_mm, units));
    }
    if (hand.grips.size() > most_told)
        text += fmt::format(" at first; its place changes {} times", hand.grips.size() - 1);
    return text + ".";
}

}  // namespace offsquare::session
