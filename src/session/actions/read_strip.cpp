#include "session/actions/read_strip.h"

#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "session/state.h"

namespace offsquare::session {
namespace {

/// Readings taken at the place where the caliper stood last; readings elsewhere at that end are set aside.
std::vector<measure::Reading> at_last_place(const std::vector<measure::Reading>& readings) {
    std::vector<measure::Reading> kept;
    for (const measure::Reading& r : readings) {
        if (r.station_mm == readings.back().station_mm) kept.push_back(r);
    }
    return kept;
}

/// The mean with the tests just before it of the same round.
void pool(const Seen& seen, Test& test) {
    std::vector<base::Uncertain> skews{*test.skew_rad};
    for (std::size_t i = seen.tests_now() - 1; i-- > 0 && seen.test_now(i).round == test.round;) {
        if (seen.test_now(i).skew_rad) skews.push_back(*seen.test_now(i).skew_rad);
    }
    test.pooled_rad = skews.size() == 1 ? skews.front() : diagnose::average(skews);
    test.pooled_tests = static_cast<int>(skews.size());
}

/// Everything that follows from the readings of the last test.
void work_out(const Seen& seen, const measure::Place& place, Test& test) {
    if (test.fence_end.empty() || test.far_end.empty()) return;
    const shop::Drawing& d = test.drawing;
    const double between = test.far_end.back().station_mm - test.fence_end.back().station_mm;
    measure::Place tape_place = place;
    tape_place.end = 0;
    test.between = measure::read_tape(d.tape, between, tape_place, seen.precision);
    const auto fence_end = at_last_place(test.fence_end);
    const auto far_end = at_last_place(test.far_end);
    test.strip = diagnose::StripReadings{measure::mean_of_repeats(d.caliper, fence_end, seen.precision),
                                         measure::mean_of_repeats(d.caliper, far_end, seen.precision),
                                         measure::tape_value(d.tape, *test.between, seen.precision), *test.strip_fell};
    test.skew_rad = diagnose::skew_from_strip(*test.strip);
    pool(seen, test);
    test.proposal = shim::propose(*test.pooled_rad, d, seen.left_in_drawer, {test.behind_left, test.behind_right});
}

base::Result<void> may_be_read(const State& state, double station_mm) {
    using base::fail;
    using base::Grade;
    const Test* test = state.seen.last_test();
    if (test == nullptr) return fail(Grade::usage, "there is no strip to read yet; cut a test first");
    if (!test->strip_fell)
        return fail(Grade::usage,
                    "the last test gave no strip to read: " + std::string(cut::sentence_of(test->outcome)));
    if (station_mm >= 0.0 && station_mm <= furthest_in_mm(*state.saw.tests.back().cut->strip)) return {};
    return fail(Grade::usage,
                fmt::format("the caliper must stand between 0 and {} from the end that it reads, not at {}",
                            base::show_size(std::floor(test->furthest_in_mm), state.seen.units),
                            base::show_size(station_mm, state.seen.units)));
}

}  // namespace

std::string Read::sentence(const shop::Drawing&, base::Units units) const {
    const char* which = end == End::fence ? "fence" : "far";
    if (station_mm == 0.0) return fmt::format("Read the strip at its {} end.", which);
    return fmt::format("Read the strip {} in from its {} end.", base::show_size(station_mm, units), which);
}

void Read::write(Json& to) const {
    to["end"] = end == End::fence ? "fence" : "far";
    to["in_mm"] = station_mm;
}

base::Result<Read> Read::read(const Json& from) {
    const std::string in = session::word(from, "end");
    const auto station = real(from, "in_mm");
    if ((in != "fence" && in != "far") || !station)
        return bad_form(station ? "end" : "in_mm",
                        "a reading needs \"end\":\"fence\" or \"far\" and a number \"in_mm\", for example "
                        "{\"do\":\"read\",\"end\":\"far\",\"in_mm\":0}");
    return Read{in == "fence" ? End::fence : End::far, *station};
}

base::Result<void> Read::apply(State& state) const {
    auto& [saw, seen] = state;
    if (auto may = may_be_read(state, station_mm); !may) return may;
    const cut::Strip& strip = *saw.tests.back().cut->strip;
    Test& test = seen.tests.change(seen.tests.size() - 1);
    auto& readings = end == End::fence ? test.fence_end : test.far_end;
    const double station = end == End::fence ? station_mm : strip.length_mm - station_mm;
    measure::Place place{seen.seed, saw.tests_cut, 0, static_cast<std::uint32_t>(readings.size())};
    // A place of its own for every tenth of a millimetre: the caliper's error there stays the same when it is put back.
    place.end = static_cast<std::uint32_t>(std::lround(station * 10.0)) * 2U + (end == End::fence ? 0U : 1U);
    const shop::Truth& truth = saw.truth();
    readings.push_back(measure::read_caliper(test.drawing.caliper, truth.caliper_zero_mm, strip.width_at(station),
                                             station, place, seen.precision, truth.caliper_step_mm));
    work_out(seen, place, test);
    return {};
}

}  // namespace offsquare::session
