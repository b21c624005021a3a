#include "lesson/debrief.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/listed.h"
#include "diagnose/memory.h"
#include "lesson/hunt_words.h"
#include "session/hunt_words.h"
#include "session/next.h"
#include "session/story.h"

namespace offsquare::lesson {
namespace {

using base::Units;
using session::name_of;
using shop::Fault;

std::size_t at(Fault f) { return static_cast<std::size_t>(f); }

double doubt_bits(double p) {
    const std::array<double, 2> both{p, 1.0 - p};
    return diagnose::entropy_bits(both);
}

std::string quoted(Fault f) { return fmt::format("\"{}\"", name_of(f)); }

std::string listed(const std::vector<Fault>& faults) {
    std::vector<std::string> names;
    for (const Fault f : faults) names.push_back(quoted(f));
    return base::listed(names);
}

// ---- belief, step by step ----

/// What was believed after each stage. Not the hypotheses behind it: they are many.
struct Stage {
    Moment moment;
    std::size_t events = 0;  ///< that the saw had seen by then
    std::optional<std::array<diagnose::Belief, shop::fault_count>> beliefs;
};

/// The hunt once more from its start, weighed wherever something was read or put right.
class Walk {
public:
    explicit Walk(const Hunt& hunt)
        : hunt_(hunt),
          now_(hunt.history().start(), hunt.seen().seed, hunt.name()),
          assumed_(session::usual_assumptions(hunt.seen().drawing)) {
        assumed_.model = diagnose::remembering(assumed_.model);
        stages_.push_back(weighed("start", false));
    }

    void whole() {
        for (const Move& move : hunt_.moves()) {
            if (const auto* did = std::get_if<Did>(&move)) take(*did);
            else if (const auto* said = std::get_if<Suspects>(&move)) stages_.back().moment.said = *said;
            static_cast<void>(now_.make(move));
            if (std::holds_alternative<Did>(move)) after();
        }
    }

    std::vector<Stage>& stages() { return stages_; }
    Road& road() { return road_; }

private:
    void take(const Did& did) {
        what_.clear();
        for (const session::Action& action : did.intention) {
            const std::string what = name_of_deed(action, now_.seen());
            if (what.empty()) continue;
            if (what_.empty()) what_ = what;
            const session::Cost cost = session::cost_of(action);
            const Leg leg{kind_of(action), what, cost.minutes, cost.stock_mm};
            const bool again =
                leg.kind == Leg::Kind::shims && !road_.legs.empty() && road_.legs.back().kind == Leg::Kind::shims;
            if (!again) road_.legs.push_back(leg);
        }
    }

    /// Weighs where a reading came or went.
    void after() {
        const auto reports = session::holding(now_.seen());
        const std::size_t notes = session::notes_of(now_.seen()).size();
        if (reports.size() == reports_ && notes == notes_) return;
        const bool reads = notes != notes_;
        Stage stage = weighed(what_.empty() ? "the strip" : what_, reads);
        compare(stage, stages_.back());
        stage.moment.proves = reads && !road_.legs.empty() && road_.legs.back().kind == Leg::Kind::test;
        if (stage.moment.told_nothing && !road_.legs.empty() && reads) road_.legs.back().told_nothing = true;
        stages_.push_back(std::move(stage));
    }

    Stage weighed(std::string what, bool reads) {
        const auto reports = session::holding(now_.seen());
        reports_ = reports.size();
        notes_ = session::notes_of(now_.seen()).size();
        Stage stage;
        stage.events = now_.seen().events.size();
        stage.moment = {
            std::move(what), now_.seen().minutes, std::vector<double>(shop::fault_count), 0.0, false, reads, false, {}};
        const auto found = session::find_out(reports, now_.seen().drawing, assumed_);
        if (!found) return stage;
        stage.beliefs = found->diagnosis.beliefs;
        for (std::size_t f = 0; f < shop::fault_count; ++f)
            stage.moment.probability[f] = found->diagnosis.beliefs.at(f).probability;
        return stage;
    }

    static void compare(Stage& now, const Stage& before) {
        constexpr double hardly = 0.05;
        double most = 0.0;
        for (std::size_t f = 0; f < shop::fault_count; ++f) {
            const double was = before.moment.probability[f], is = now.moment.probability[f];
            now.moment.told_bits += doubt_bits(was) - doubt_bits(is);
            most = std::max(most, std::abs(is - was));
        }
        now.moment.told_nothing = most < hardly;
    }

    const Hunt& hunt_;
    Hunt now_;
    session::Assumptions assumed_;
    std::vector<Stage> stages_;
    Road road_;
    std::string what_;
    std::size_t reports_ = 0, notes_ = 0;
};

// ---- what was found ----

/// When it was put right: of the repairs the first; of a fence off square also shims.
std::optional<std::size_t> event_of_repair(const session::Seen& seen, Fault fault) {
    for (const session::RepairNote& r : seen.repairs) {
        if (r.fault == fault) return r.event;
    }
    return std::nullopt;
}

Found found_of(const Wrong& wrong, bool there, const Hunt& hunt, const std::vector<Stage>& stages) {
    Found f;
    f.fault = wrong.fault;
    f.was = wrong.size;
    f.there = there;
    f.counts = wrong.counts;
    f.named = is_in(hunt.closed()->named, wrong.fault);
    f.put_right = event_of_repair(hunt.seen(), wrong.fault).has_value();
    f.left = wrong.fault == Fault::fence_skew ? skew_now_rad(hunt.history()) : size_now(hunt.history(), wrong.fault);
    // As the readings had it last before it was put right: afterwards they are struck out.
    const auto mended = event_of_repair(hunt.seen(), wrong.fault);
    for (const Stage& stage : stages) {
        if (!stage.beliefs || (mended && stage.events >= *mended)) continue;
        const diagnose::Belief& b = stage.beliefs->at(at(wrong.fault));
        if (!b.touched) continue;
        f.read = true;
        f.size = {b.size, b.u};
        f.coverage95 = b.coverage95;
    }
    return f;
}

std::vector<Found> all_found(const Truth& truth, const Hunt& hunt, const std::vector<Stage>& stages) {
    std::vector<Found> all;
    std::vector<Fault> known;
    for (const Wrong& w : truth.wrong) {
        all.push_back(found_of(w, true, hunt, stages));
        known.push_back(w.fault);
    }
    std::vector<Fault> besides = hunt.closed()->named;
    for (const session::RepairNote& r : hunt.seen().repairs) besides.push_back(r.fault);
    const session::History start(hunt.history().start());
    for (const Fault f : besides) {
        if (is_in(known, f)) continue;
        known.push_back(f);
        all.push_back(found_of({f, size_now(start, f), false}, false, hunt, stages));
    }
    return all;
}

/// The reading that made the fault likelier, or less likely, than any other did; nullptr: none did.
const Moment* decided(const std::vector<Stage>& stages, Fault fault, bool likelier) {
    const Moment* best = nullptr;
    double most = 0.05;
    for (std::size_t i = 1; i < stages.size(); ++i) {
        const double by = stages[i].moment.probability[at(fault)] - stages[i - 1].moment.probability[at(fault)];
        if (!stages[i].moment.reads || (likelier ? by : -by) <= most) continue;
        most = likelier ? by : -by;
        best = &stages[i].moment;
    }
    return best;
}

std::string decided_words(const std::vector<Stage>& stages, Fault fault, bool likelier) {
    const Moment* m = decided(stages, fault, likelier);
    if (m == nullptr)
        return likelier ? fmt::format("no reading spoke for {}", quoted(fault))
                        : fmt::format("no reading spoke against {}", quoted(fault));
    const auto before = std::find_if(stages.begin(), stages.end(), [&](const Stage& s) { return &s.moment == m; }) - 1;
    return fmt::format("{} ({:.0f} min): {} in 100 before, {} after", m->what, m->minutes,
                       std::lround(100.0 * before->moment.probability[at(fault)]),
                       std::lround(100.0 * m->probability[at(fault)]));
}

// ---- verdicts ----

using Mark = Verdict::Mark;

std::vector<Fault> where(const std::vector<Found>& found, auto&& is_so) {
    std::vector<Fault> all;
    for (const Found& f : found) {
        if (is_so(f)) all.push_back(f.fault);
    }
    return all;
}

Verdict on_naming(const std::vector<Found>& found, const std::vector<Stage>& stages) {
    const auto missed = where(found, [](const Found& f) { return f.there && f.counts && !f.named; });
    const auto wrongly = where(found, [](const Found& f) { return !f.there && f.named; });
    if (!missed.empty())
        return {Mark::bad, "not named: " + listed(missed), decided_words(stages, missed.front(), true)};
    if (!wrongly.empty())
        return {Mark::bad, "named, and not there: " + listed(wrongly), decided_words(stages, wrongly.front(), false)};
    const auto named = where(found, [](const Found& f) { return f.there && f.counts; });
    if (named.empty()) return {Mark::good, "nothing that counts was wrong, and nothing was named", "its tests"};
    return {Mark::good, "named: " + listed(named), decided_words(stages, named.front(), true)};
}

std::vector<Verdict> on_sizes(const std::vector<Found>& found, Units units) {
    std::vector<Verdict> all;
    for (const Found& f : found) {
        if (!f.there || !f.counts || !f.read) continue;
        const std::string was = session::size_text(f.fault, f.was, units);
        const std::string lo = session::size_text(f.fault, f.coverage95.lo, units);
        const std::string hi = session::size_text(f.fault, f.coverage95.hi, units);
        all.push_back({f.within() ? Mark::good : Mark::so_so,
                       fmt::format("{}: it was {}; the readings said {} to {}", name_of(f.fault), was, lo, hi),
                       f.within() ? "within what the readings left possible"
                                  : "outside of what the readings left possible: that happens once in twenty"});
    }
    return all;
}

Verdict on_repairs(const std::vector<Found>& found, const std::vector<Stage>& stages) {
    const auto not_mended = where(found, [](const Found& f) { return f.there && f.counts && !f.put_right; });
    const auto needless = where(found, [](const Found& f) { return f.put_right && !(f.there && f.counts); });
    if (!not_mended.empty())
        return {Mark::bad, "not put right: " + listed(not_mended), decided_words(stages, not_mended.front(), true)};
    if (!needless.empty())
        return {Mark::so_so, "put right although it was sound: " + listed(needless),
                decided_words(stages, needless.front(), false)};
    const auto mended = where(found, [](const Found& f) { return f.put_right; });
    if (mended.empty()) return {Mark::good, "nothing was put right that was sound", "nothing had to be"};
    return {Mark::good, "the right thing was put right: " + listed(mended),
            decided_words(stages, mended.front(), true)};
}

Verdict on_the_corner(const Hunt& hunt, Units units) {
    const double tolerance = hunt.seen().drawing.tolerance_rad;
    const double left = skew_now_rad(hunt.history());
    const std::string says = fmt::format("the fence as it stands is off by {}; {} counts as square",
                                         base::show_angle(std::abs(left), units), base::show_angle(tolerance, units));
    return {std::abs(left) <= tolerance ? Mark::good : Mark::bad, says, "the saw itself"};
}

/// A proof could have failed: it was cut after the last thing that was done to the saw.
Verdict on_the_proof(const Hunt& hunt, Units units) {
    const session::Test* test = hunt.seen().last_test();
    const auto proof = session::proof_of(hunt.seen());
    if (test == nullptr || (proof != session::Proved::passed && proof != session::Proved::marked))
        return {Mark::bad, "not proved", session::proof_words(hunt.seen(), units).heading};
    return {Mark::good, "proved by a test that could have failed",
            fmt::format("the last five-cut test: {}", session::verdict_in_short(*test, units))};
}

Verdict on_the_checks(const std::vector<Stage>& stages) {
    std::size_t reads = 0, checks = 0, told = 0;
    std::string nothing;
    for (const Stage& s : stages) {
        reads += s.moment.reads ? 1 : 0;
        // A test proves, whether it surprises or not.
        if (!s.moment.reads || s.moment.proves) continue;
        ++checks;
        if (!s.moment.told_nothing) ++told;
        else if (nothing.empty()) nothing = s.moment.what;
    }
    if (reads == 0) return {Mark::bad, "nothing was read", "a repair without a reading is a guess"};
    if (checks == 0) return {Mark::good, "no check was made besides the tests", "the tests alone"};
    return {told == checks ? Mark::good : Mark::so_so,
            fmt::format("{} of {} {} changed what could be believed", told, checks, checks == 1 ? "check" : "checks"),
            nothing.empty() ? "each of them" : nothing + " told next to nothing"};
}

Verdict on_sureness(const Debrief& d) {
    const int sure = d.closed.sure;
    const bool fits = d.right ? sure >= 60 : sure <= 40;
    return {fits ? Mark::good : Mark::so_so,
            d.right ? fmt::format("right, and {} in 100 sure of it", sure)
                    : fmt::format("not right, and {} in 100 sure of it", sure),
            "what you said when you closed it"};
}

// ---- as a whole ----

bool is_right(const Hunt& hunt, const std::vector<Found>& found, bool can_be_done) {
    const Close& c = *hunt.closed();
    if (c.how == Ending::undecidable) return !can_be_done;
    if (c.how != Ending::proved) return false;
    const bool named = std::all_of(found.begin(), found.end(), [](const Found& f) {
        return f.there ? !f.counts || (f.named && f.put_right) : !f.named;
    });
    return named && std::abs(skew_now_rad(hunt.history())) <= hunt.seen().drawing.tolerance_rad;
}

std::string spent(const Hunt& hunt) {
    const double limit = hunt.budget().minutes;
    return limit > 0.0 ? fmt::format("{:.0f} minutes of {:.0f}", hunt.seen().minutes, limit)
                       : fmt::format("{:.0f} minutes", hunt.seen().minutes);
}

std::string headline_of(const Debrief& d, const Hunt& hunt) {
    const bool none = std::none_of(d.found.begin(), d.found.end(), [](const Found& f) { return f.there && f.counts; });
    switch (d.closed.how) {
        case Ending::given_up: return fmt::format("Given up after {}.", spent(hunt));
        case Ending::ran_out: return fmt::format("It ran out: {}.", spent(hunt));
        case Ending::undecidable:
            return d.right ? "Left open, and rightly as far as a search can tell: it found no road that decides it."
                           : "It could have been decided with what is here.";
        case Ending::proved: break;
    }
    if (!d.right) return fmt::format("Proved, but not for the right reason, in {}.", spent(hunt));
    return none ? fmt::format("Rightly left alone, and proved, in {}.", spent(hunt))
                : fmt::format("Found, put right and proved in {}.", spent(hunt));
}

std::string beneath_of(const Debrief& d) {
    if (!d.shortest) return "No road was found that decides it for what the case may cost.";
    const std::string shortest = fmt::format("The shortest road that was found takes {:.0f}.", d.shortest->minutes());
    const Leg* worst = nullptr;
    for (const Leg& leg : d.yours.legs) {
        if (leg.kind == Leg::Kind::check && leg.told_nothing && (worst == nullptr || leg.minutes > worst->minutes))
            worst = &leg;
    }
    if (worst == nullptr) return shortest;
    return fmt::format("{} One detour cost most: {} told next to nothing.", shortest, worst->what);
}

}  // namespace

base::Result<Debrief> debrief_of(const Hunt& hunt, Units units) {
    if (!hunt.closed())
        return base::fail(base::Grade::usage, "the case is still open: nothing is told before it is closed");
    const scenario::Scenario& start = hunt.history().start();
    const Truth truth = truth_of(start);
    Walk walk(hunt);
    walk.whole();
    const std::vector<Stage>& stages = walk.stages();
    Debrief d;
    d.closed = *hunt.closed();
    d.hints = hunt.hints_asked();
    d.found = all_found(truth, hunt, stages);
    d.shortest = shortest_road(start, hunt.seen().seed, truth);
    d.right = is_right(hunt, d.found, d.shortest.has_value());
    const double sure = 0.01 * d.closed.sure - (d.right ? 1.0 : 0.0);
    d.brier = sure * sure;
    d.verdicts.push_back(on_naming(d.found, stages));
    for (Verdict& v : on_sizes(d.found, units)) d.verdicts.push_back(std::move(v));
    d.verdicts.push_back(on_repairs(d.found, stages));
    d.verdicts.push_back(on_the_corner(hunt, units));
    d.verdicts.push_back(on_the_proof(hunt, units));
    d.verdicts.push_back(on_the_checks(stages));
    if (d.closed.how == Ending::proved || d.closed.how == Ending::undecidable) d.verdicts.push_back(on_sureness(d));
    for (const Stage& s : stages) d.moments.push_back(s.moment);
    d.yours = std::move(walk.road());
    d.headline = headline_of(d, hunt);
    d.beneath = beneath_of(d);
    return d;
}

}  // namespace offsquare::lesson
