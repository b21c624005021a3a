#include "lesson/hunt.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "session/next.h"

namespace offsquare::lesson {
namespace {

using base::fail;
using base::Grade;

base::Result<void> sureness(int sure) {
    if (sure >= 0 && sure <= 100) return {};
    return fail(Grade::usage, fmt::format("found {} of 100; how sure you are is from 0 to 100", sure));
}

base::Result<void> named_once(const std::vector<shop::Fault>& faults) {
    std::set<shop::Fault> seen;
    for (const shop::Fault f : faults) {
        if (!seen.insert(f).second) return fail(Grade::usage, fmt::format("\"{}\" is named twice", shop::info(f).name));
    }
    return {};
}

/// What a hunt allows at the saw.
base::Result<void> allowed(const session::Action& action) {
    if (std::holds_alternative<session::SetValue>(action) || std::holds_alternative<session::SetBoth>(action))
        return fail(Grade::usage, "while a case is open no value of the saw is set");
    if (std::holds_alternative<session::TypeReadings>(action))
        return fail(Grade::usage, "a case is read here: make the check, and what it reads is written down");
    if (std::holds_alternative<session::PutThickness>(action))
        return fail(Grade::usage, "only what is in the drawer goes behind the fence of a case");
    return {};
}

session::Cost sum(std::span<const session::Action> intention) {
    session::Cost all;
    for (const session::Action& a : intention) {
        const session::Cost one = session::cost_of(a);
        all.minutes += one.minutes;
        all.stock_mm += one.stock_mm;
    }
    return all;
}

/// A hair more than nothing is nothing: minutes and board are sums.
constexpr double hair = 1e-6;

}  // namespace

std::string_view name_of(Ending ending) {
    switch (ending) {
        case Ending::proved: return "proved";
        case Ending::undecidable: return "undecidable";
        case Ending::given_up: return "given-up";
        case Ending::ran_out: break;
    }
    return "ran-out";
}

Hunt::Hunt(const scenario::Scenario& scenario, std::uint64_t seed, std::string name)
    : name_(std::move(name)), history_(scenario, seed) {}

std::optional<double> Hunt::minutes_left() const {
    if (budget().minutes <= 0.0) return std::nullopt;
    return std::max(0.0, budget().minutes - seen().minutes);
}

std::optional<double> Hunt::board_left_mm() const {
    if (budget().board_mm <= 0.0) return std::nullopt;
    return std::max(0.0, budget().board_mm - seen().stock_mm);
}

bool Hunt::runs_out_by(std::span<const session::Action> intention) const {
    const session::Cost cost = sum(intention);
    return (minutes_left() && cost.minutes > *minutes_left() + hair) ||
           (board_left_mm() && cost.stock_mm > *board_left_mm() + hair);
}

base::Result<void> Hunt::take(const Suspects& suspects) {
    std::vector<shop::Fault> all = suspects.ruled_out;
    for (const Suspect& s : suspects.order) {
        if (const auto fine = sureness(s.sure); !fine) return fine;
        all.push_back(s.fault);
    }
    if (const auto fine = named_once(all); !fine) return fine;
    suspects_ = suspects;
    return {};
}

base::Result<void> Hunt::take(const Did& did) {
    if (did.intention.empty()) return fail(Grade::usage, "nothing was done");
    for (const session::Action& action : did.intention) {
        if (const auto fine = allowed(action); !fine) return fine;
    }
    const bool over = runs_out_by(did.intention);
    if (const auto done = history_.act(did.intention); !done) return done;
    hint_now_ = 0;
    if (over) closed_ = Close{Ending::ran_out, named_by(suspects_), 50};
    return {};
}

base::Result<void> Hunt::take(const AskedHint& hint) {
    if (hint.rung < std::max(1, hint_now_) || hint.rung > 3)
        return fail(Grade::usage, fmt::format("found hint {}; there are hints 1 to 3, and none goes back", hint.rung));
    if (hint.rung == hint_now_) return {};
    hint_now_ = hint.rung;
    ++hints_;
    return {};
}

base::Result<void> Hunt::take(const Close& close) {
    if (close.how == Ending::ran_out) return fail(Grade::usage, "a case runs out by itself");
    if (const auto fine = sureness(close.sure); !fine) return fine;
    if (const auto fine = named_once(close.named); !fine) return fine;
    const session::Proved proof = session::proof_of(seen());
    if (close.how == Ending::proved && proof != session::Proved::passed && proof != session::Proved::marked)
        return fail(Grade::usage,
                    "it is not proved: no five-cut test of the saw as it stands now was cut, read, worked out and "
                    "passed");
    closed_ = close;
    return {};
}

base::Result<void> Hunt::make(Move move) {
    if (closed_) return fail(Grade::usage, "the case is closed");
    const std::size_t before = seen().events.size();
    if (const auto done = std::visit([&](const auto& m) { return take(m); }, move); !done) return done;
    moves_.push_back(std::move(move));
    events_before_.push_back(before);
    return {};
}

bool is_in(const std::vector<shop::Fault>& faults, shop::Fault fault) {
    return std::find(faults.begin(), faults.end(), fault) != faults.end();
}

std::vector<shop::Fault> named_by(const Suspects& suspects) {
    constexpr int half = 50;
    std::vector<shop::Fault> named;
    for (const Suspect& s : suspects.order) {
        if (s.sure > half) named.push_back(s.fault);
    }
    return named;
}

}  // namespace offsquare::lesson
