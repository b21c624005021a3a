#include "saws/so_far.h"

#include <fmt/format.h>

#include "saws/curve.h"

namespace offsquare::saws {
namespace {

const char* last_words(diagnose::State state) {
    switch (state) {
        case diagnose::State::pass: return "passed";
        case diagnose::State::fail: return "failed";
        case diagnose::State::undecided: break;
    }
    return "decides nothing";
}

}  // namespace

std::string so_far(const Sled& sled, Date today) {
    const Curve curve = curve_of(sled, sled.units);
    if (curve.points.empty()) return sled.entries.empty() ? "nothing written yet" : "no test yet";
    const std::string first = in_words(curve.points.front().date, today);
    const char* last = last_words(curve.points.back().state);
    const std::size_t tests = curve.points.size();
    std::string words = tests == 1 ? fmt::format("1 test on {}, it {}", first, last)
                                   : fmt::format("{} tests since {}, the last one {}", tests, first, last);
    if (!curve.is_point.back()) words += fmt::format("; {} after it", curve.events.back().label);
    return words;
}

}  // namespace offsquare::saws
