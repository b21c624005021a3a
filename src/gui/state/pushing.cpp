#include "gui/state/pushing.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "session/hand_words.h"
#include "session/watch.h"

namespace offsquare::gui {

Pushing::Pushing() = default;
Pushing::~Pushing() = default;
Pushing::Pushing(Pushing&&) noexcept = default;
Pushing& Pushing::operator=(Pushing&&) noexcept = default;

const contact::LiveState& Pushing::state() const { return sled_->state(); }

void Pushing::follow(const Bench& bench) {
    if (sled_ && seen_changes_ == bench.changes()) return;
    const shop::Feed& feed = bench.seen().drawing.feed;
    const bool another = feed.at_mm != drawing_.feed.at_mm || feed.force_n != drawing_.feed.force_n;
    if (!sled_ || another) {
        at_mm = bench.seen().drawing.feed.at_mm;
        force_n = bench.seen().drawing.feed.force_n;
    }
    start_again(bench);
}

void Pushing::start_again(const Bench& bench) {
    seen_changes_ = bench.changes();
    drawing_ = bench.seen().drawing;
    record_ = {};
    held_ = false;
    still_s_ = 0.0;
    at_mm = std::clamp(at_mm, -farthest_hand_mm(), farthest_hand_mm());
    sled_ = std::make_unique<session::WatchedSled>(bench.history(), contact::usual_pass(drawing_).from_mm);
    now_ = sled_->under(at_mm, force_n);
}

void Pushing::tick(double seconds) {
    if (!sled_) return;
    // At the end of the pass the hand stops: there is nothing behind it that a cut needs.
    const bool pushes = holds && speed_mm_s > 0.0 && !through();
    const double wanted = pushes || speed_mm_s < 0.0 ? speed_mm_s : 0.0;
    held_ = holds;
    sled_->advance(seconds, {holds, at_mm, wanted, force_n});
    const contact::LiveState& s = sled_->state();
    constexpr double creeping = 0.5;  // mm/s
    now_ = sled_->under(at_mm, force_n);
    // A hand that wants no more speed stands too, and nothing sticks.
    const bool stands = now_.stuck != contact::Stuck::no && std::abs(s.speed_mm_s) < creeping;
    const bool lets_be = stands && !holds;
    if (!lets_be) still_s_ = stands && pushes ? still_s_ + seconds : 0.0;
    if (pushes && s.fits) record_.see(s.pose.s_mm, at_mm, force_n, now_.stuck == contact::Stuck::no);
}

double Pushing::to_come_free_mm() const {
    return std::max(0.0, std::floor(std::abs(now_.pose.eccentricity_mm) - now_.pose.critical_mm) + 1.0);
}

bool Pushing::moving() const {
    if (!open || !sled_) return false;
    constexpr double rest_mm_s = 0.01;
    return holds || std::abs(state().speed_mm_s) > rest_mm_s;
}

picture::PushShown Pushing::shown() const { return {state(), sled_->play(), at_mm, held_}; }

std::string Pushing::found(const Bench& bench) {
    const shop::Feed& feed = bench.seen().drawing.feed;
    const contact::Rub rub = contact::rub_of(feed);
    contact::Rub slick = rub;
    slick.mu *= 0.5;
    const auto pushed = [&](double at_mm, const contact::Rub& rubs) {
        contact::HandPush hand;
        hand.grips.push_back({.x_mm = at_mm});
        hand.force_n = feed.force_n;
        return session::watch_push(bench.scenario(), hand, rubs, contact::usual_pass(bench.seen().drawing));
    };
    return session::hand_words(feed, {pushed(feed.at_mm, rub), pushed(0.0, rub), pushed(feed.at_mm, slick)},
                               bench.view.units);
}

bool Pushing::has_play() const {
    constexpr double feelable_mm = 0.001;
    return sled_ && std::min(sled_->play().left_mm, sled_->play().right_mm) > feelable_mm;
}

double Pushing::usual_play_mm() { return shop::info(shop::Fault::left_play).repair_leaves.mean; }

session::SetBoth Pushing::usual_play() {
    const std::string play = fmt::format("{:g} mm", usual_play_mm());
    return {{"faults.left_play", play}, {"faults.right_play", play}};
}

std::optional<session::PushTest> Pushing::test() const {
    constexpr double a_millimetre = 1.0;  // less is no push
    if (record_.empty() || record_.reached_mm() < contact::usual_pass(drawing_).from_mm + a_millimetre)
        return std::nullopt;
    return session::PushTest{record_.pass(drawing_)};
}

}  // namespace offsquare::gui
