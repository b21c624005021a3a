#include "session/push_record.h"

#include <algorithm>
#include <cmath>

#include "shop/truth.h"

namespace offsquare::session {
namespace {

/// A change of place less than a millimetre, or nearer than two to the last one, is a hand that trembles. Two
/// millimetres on the longest travel keep the list below most_grips.
constexpr double least_change_mm = 1.0;
constexpr double least_apart_mm = 2.0;

}  // namespace

void PushRecord::see(double s_mm, double x_mm, double force_n, bool goes) {
    if (!goes) return;
    contact::HandPush& hand = pass_.hand;
    if (hand.grips.empty()) {
        hand.grips.push_back({-std::numeric_limits<double>::infinity(), x_mm});
        pass_.stops_at_mm = s_mm;
    }
    hand.force_n = std::max(hand.force_n, force_n);
    if (s_mm <= pass_.stops_at_mm) return;
    const double from = pass_.stops_at_mm;
    const contact::Grip& last = hand.grips.back();
    if (std::abs(x_mm - last.x_mm) >= least_change_mm && from - last.from_mm >= least_apart_mm)
        hand.grips.push_back({from, x_mm});
    pass_.stops_at_mm = s_mm;
}

bool PushRecord::is_through(const shop::Drawing& drawing) const {
    return !empty() && pass_.stops_at_mm >= contact::usual_pass(drawing).to_mm - 1.0;
}

cut::HandPass PushRecord::pass(const shop::Drawing& drawing) const {
    cut::HandPass pass = pass_;
    if (is_through(drawing)) pass.stops_at_mm = std::numeric_limits<double>::infinity();
    return pass;
}

PushNow push_now(const shop::Drawing& drawing, const shop::Truth& truth, double s_mm, double x_mm, double force_n) {
    constexpr double a_hair = 1e-6;
    const contact::HandPush hand{{{-std::numeric_limits<double>::infinity(), x_mm}}, force_n, contact::Way::push};
    const contact::PushedPass pass =
        contact::push_sled(drawing, truth, hand, contact::rub_of(drawing.feed), s_mm, s_mm + a_hair, 1);
    return {pass.stuck, pass.path.empty() ? pass.at_worst : pass.path.front()};
}

}  // namespace offsquare::session
