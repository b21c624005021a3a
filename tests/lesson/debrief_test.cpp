// The debrief of hunts whose saw is known here: what was found, what decides each verdict, the shortest road.
#include "hunting.h"
#include "lesson/debrief.h"
#include "lesson/hand_in.h"
#include "repeats.h"

namespace debrief_test {

using namespace hunting;
using lesson::Debrief;

constexpr auto metric = base::Units::metric;

void repair(Hunt& hunt, Fault f) { REQUIRE(hunt.make(Did{{session::Repair{f}}})); }
void shims(Hunt& hunt) {
    const session::Next next = session::next_in_job(hunt.seen());
    REQUIRE(next.todo == session::Todo::put_shims);
    REQUIRE(hunt.make(Did{next.intention}));
}
Debrief debriefed(const Hunt& hunt) {
    auto d = lesson::debrief_of(hunt, metric);
    REQUIRE(d);
    return std::move(*d);
}
const lesson::Found& of(const Debrief& d, Fault f) {
    for (const lesson::Found& one : d.found)
        if (one.fault == f) return one;
    FAIL("not in the debrief: " << shop::info(f).key);
    return d.found.front();
}
const lesson::Verdict* saying(const Debrief& d, const std::string& part) {
    for (const lesson::Verdict& v : d.verdicts)
        if (v.says.find(part) != std::string::npos) return &v;
    return nullptr;
}
using Mark = lesson::Verdict::Mark;

TEST_CASE("an open hunt is not debriefed") { CHECK(!lesson::debrief_of(hunt_on("two-boards"), metric)); }

/// The fence is bowed by 0.3 mm and off by 0.46 mrad (scenarios/two-boards.toml).
Hunt sound_hunt() {
    Hunt hunt = hunt_on("two-boards");
    REQUIRE(hunt.make(test()));
    REQUIRE(hunt.make(check(Check::fence_straightedge)));
    REQUIRE(hunt.make(Suspects{{{Fault::fence_bow, 95}, {Fault::fence_skew, 70}}, {}}));
    repair(hunt, Fault::fence_bow);
    REQUIRE(hunt.make(test()));
    shims(hunt);
    REQUIRE(hunt.make(test()));
    REQUIRE(hunt.make(Close{Ending::proved, {Fault::fence_bow, Fault::fence_skew}, 90}));
    return hunt;
}

TEST_CASE("found, put right and proved: each verdict with the reading that decides it" *
          doctest::skip(repeats::sanitized)) {
    const Debrief d = debriefed(sound_hunt());
    CHECK(d.right);
    CHECK(d.brier == doctest::Approx(0.01));  // (0.9 - 1)^2
    CHECK(d.headline.find("Found, put right and proved in") == 0);
    REQUIRE(d.found.size() == 2);
    const lesson::Found& bow = of(d, Fault::fence_bow);
    CHECK(bow.was == doctest::Approx(0.3));
    CHECK((bow.there && bow.counts && bow.named && bow.put_right && bow.within()));
    // The straightedge sees the bow and nothing else of this saw.
    const lesson::Verdict* mended = saying(d, "the right thing was put right");
    REQUIRE(mended != nullptr);
    CHECK(saying(d, "proved by a test that could have failed") != nullptr);
    // The beliefs: none of these readings was needless, and the straightedge made the bow sure.
    REQUIRE(d.moments.size() >= 3);
    CHECK(d.moments.front().what == "start");
    CHECK(d.moments[2].what == measure::info(Check::fence_straightedge).title);
    CHECK(d.moments[2].probability[static_cast<std::size_t>(Fault::fence_bow)] > 0.95);
    // The shortest road finds the bow by its cheapest witness, and costs no more.
    REQUIRE(d.shortest);
    CHECK(d.shortest->minutes() <= d.yours.minutes());
    CHECK(d.shortest->legs.front().what == measure::info(Check::fence_straightedge).title);
    CHECK(d.yours.minutes() == doctest::Approx(sound_hunt().seen().minutes));
}

TEST_CASE("repairs without a reading, and a fault that is named and is not there, are told so" *
          doctest::skip(repeats::sanitized)) {
    Hunt hunt = hunt_on("two-boards");
    repair(hunt, Fault::blade_toe);
    REQUIRE(hunt.make(Close{Ending::given_up, {Fault::blade_toe}, 80}));
    const Debrief d = debriefed(hunt);
    CHECK(!d.right);
    CHECK(d.brier == doctest::Approx(0.64));  // (0.8 - 0)^2
    const lesson::Found& toe = of(d, Fault::blade_toe);
    CHECK((!toe.there && toe.named && toe.put_right));
    CHECK(saying(d, "not named")->mark == Mark::bad);
    CHECK(saying(d, "not put right")->mark == Mark::bad);
    CHECK(saying(d, "nothing was read")->mark == Mark::bad);
    CHECK(saying(d, "not proved")->mark == Mark::bad);
}

TEST_CASE("a sound saw is rightly left alone, and an undecided end is right only where nothing decides it" *
          doctest::skip(repeats::sanitized)) {
    // old-vernier: the fence is within what counts as square, and tests enough can show it.
    Hunt hunt = hunt_on("old-vernier");
    REQUIRE(hunt.make(test()));
    REQUIRE(hunt.make(test()));
    REQUIRE(hunt.make(test()));
    REQUIRE(session::proof_of(hunt.seen()) == session::Proved::passed);
    Hunt proved = hunt;
    REQUIRE(proved.make(Close{Ending::proved, {}, 75}));
    const Debrief d = debriefed(proved);
    CHECK(d.right);
    CHECK(d.headline.find("Rightly left alone") == 0);
    CHECK(!of(d, Fault::fence_skew).counts);
    // It was just proved: whoever says that it cannot be decided is not right.
    REQUIRE(hunt.make(Close{Ending::undecidable, {}, 60}));
    CHECK(!debriefed(hunt).right);
    // With less board than one test takes nothing can be read on a strip, and no road to a proof is there.
    scenario::Scenario s = hunt.history().start();
    s.budget = {5.0, 10.0};
    Hunt poor(s, s.seed);
    REQUIRE(poor.make(Close{Ending::undecidable, {}, 60}));
    CHECK(debriefed(poor).right);
}

TEST_CASE("who shims at once, and who repairs everything, fails where he should" * doctest::skip(repeats::sanitized)) {
    // Sawdust: what one strip says is not what the next one says, and a shim chases it.
    Hunt at_once = hunt_on("no-two-agree");
    const auto unbrushed = [] {
        return Did{{session::CutTest{false}, session::Read{session::End::fence}, session::Read{session::End::far},
                    session::WorkOut{}}};
    };
    REQUIRE(at_once.make(unbrushed()));
    const bool left = at_once.seen().last_test()->skew_rad->value > 0.0;
    REQUIRE(at_once.make(Did{{session::PutShim{left ? shim::At::left : shim::At::right, 0}}}));
    REQUIRE(at_once.make(unbrushed()));
    const bool passes = session::proof_of(at_once.seen()) == session::Proved::passed;
    REQUIRE(at_once.make(Close{passes ? Ending::proved : Ending::given_up, {Fault::fence_skew}, 90}));
    const Debrief d = debriefed(at_once);
    CHECK(!d.right);
    CHECK(saying(d, "not named: \"sawdust at the fence\"") != nullptr);
    // Everything at once costs more than the case may.
    Hunt all = hunt_on("two-boards");
    for (const shop::FaultInfo& info : shop::faults()) {
        if (!all.closed()) repair(all, info.fault);
    }
    REQUIRE(all.closed());
    CHECK(all.closed()->how == Ending::ran_out);
    CHECK(!debriefed(all).right);
}

TEST_CASE("a replayed hand-in has the same debrief, to the last digit" * doctest::skip(repeats::sanitized)) {
    const Hunt hunt = sound_hunt();
    const auto again = lesson::hand_in_of(lesson::to_text(hunt), "a");
    REQUIRE(again);
    const Debrief a = debriefed(hunt), b = debriefed(again->hunt);
    CHECK(a.headline == b.headline);
    CHECK(a.beneath == b.beneath);
    REQUIRE(a.verdicts.size() == b.verdicts.size());
    for (std::size_t i = 0; i < a.verdicts.size(); ++i) CHECK(a.verdicts[i].because == b.verdicts[i].because);
    REQUIRE(a.moments.size() == b.moments.size());
    for (std::size_t i = 0; i < a.moments.size(); ++i) CHECK(a.moments[i].probability == b.moments[i].probability);
}

}  // namespace debrief_test
