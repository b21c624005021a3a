#include "lesson/truth_of.h"

#include <cmath>

#include "session/reveal.h"

namespace offsquare::lesson {

std::vector<shop::Fault> Truth::counting() const {
    std::vector<shop::Fault> all;
    for (const Wrong& w : wrong) {
        if (w.counts) all.push_back(w.fault);
    }
    return all;
}

Truth truth_of(const scenario::Scenario& scenario) {
    const session::Revealed revealed = session::reveal(scenario);
    Truth truth;
    for (const shop::FaultInfo& info : shop::faults()) {
        const double size = revealed.sizes.at(static_cast<std::size_t>(info.fault));
        if (std::abs(size) < info.teachable) continue;
        const bool within = info.fault == shop::Fault::fence_skew && std::abs(size) <= scenario.drawing.tolerance_rad;
        truth.wrong.push_back({info.fault, size, !within});
    }
    return truth;
}

double size_now(const session::History& history, shop::Fault fault) {
    return session::reveal(history).sizes.at(static_cast<std::size_t>(fault));
}

double skew_now_rad(const session::History& history) { return session::reveal(history).skew_now_rad; }

}  // namespace offsquare::lesson
