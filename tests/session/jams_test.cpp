// A jam is evidence: a sled that does not go in or sticks on the way is a reading, no check is offered that it cannot
// make, and what should be done next leads to a proof.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "contact/runners.h"
#include "measure/going.h"
#include "measure/run_check.h"
#include "repeats.h"
#include "session/findings.h"
#include "session/hunt_words.h"
#include "session/job.h"
#include "session/slide.h"

using namespace offsquare;
using measure::Check;
using measure::Going;
using session::History;
using session::MakeCheck;
using session::Next;
using session::Todo;
using shop::Fault;

namespace {

struct JammingSaw {
    const char* name;
    shop::Truth truth;
};

shop::Truth guides(double left_play, double right_play, double pitch, double splay, double wander, double bend) {
    shop::Truth t;
    t.fence_skew_rad = 0.7e-3;
    t.left_play_mm = left_play;
    t.right_play_mm = right_play;
    t.pitch_error_mm = pitch;
    t.slot_splay_rad = splay;
    t.slot_wander_mm = wander;
    t.runner_bend_mm = bend;
    return t;
}

/// Saws whose sled jams: each cause alone, and in pairs.
std::vector<JammingSaw> planted() {
    return {
        {"spaced too wide", guides(0.05, 0.05, 0.15, 0, 0, 0)},
        {"spaced too narrow", guides(0.06, 0.04, -0.12, 0, 0, 0)},
        {"slots that close", guides(0.15, 0.15, 0.1, 0.4e-3, 0, 0)},
        {"slots that open", guides(0.05, 0.06, 0, -0.35e-3, 0, 0)},
        {"left slot bowed", guides(0.05, 0.05, 0, 0, 0.25, 0)},
        {"left runner bent", guides(0.04, 0.06, 0, 0, 0, 0.15)},
        {"left runner tight", guides(0.0, 0.05, 0, 0, 0.004, 0)},
        {"both runners tight", guides(0.0, 0.005, 0.015, 0, 0, 0)},
        {"spaced wide, slots that close", guides(0.08, 0.08, 0.12, 0.2e-3, 0, 0)},
        {"runner bent, slot bowed", guides(0.06, 0.05, 0, 0, -0.08, 0.12)},
    };
}

/// How many faults are as large as a learner should be able to find. Runners that are too tight have none by name.
std::ptrdiff_t wrong_on(shop::Truth truth) {
    const bool tight = std::min(truth.left_play_mm, truth.right_play_mm) < 0.01;
    return (tight ? 1 : 0) + std::count_if(shop::faults().begin(), shop::faults().end(), [&](const shop::FaultInfo& f) {
               return std::abs(shop::size_of(truth, f.fault)) >= f.teachable;
           });
}

scenario::Scenario scenario_of(const shop::Truth& truth) {
    scenario::Scenario s = scenario::built_in();
    s.truth = truth;
    return s;
}

Going felt(const shop::Drawing& drawing, const shop::Truth& truth) {
    const auto report = measure::run_check(Check::push_through, {drawing, truth, {}, {}, 0}, 1, 0);
    REQUIRE(report.has_value());
    return measure::going_of(report->readings.front().value, drawing);
}

Next next_of(const History& h) {
    const Next next = session::next_in_hunt(h.seen(), nullptr);
    if (next.todo != Todo::weigh) return next;
    const auto found = session::find_out(session::holding(h.seen()), h.seen().drawing);
    REQUIRE(found.has_value());
    return session::next_in_hunt(h.seen(), &*found);
}

}  // namespace

TEST_CASE("a push reads what the contact room says, and the model of the diagnosis says the same of all planted saws") {
    const shop::Drawing drawing;
    for (const JammingSaw& p : planted()) {
        CAPTURE(std::string(p.name));
        CHECK(cut::five_cut(drawing, p.truth, {}).outcome == cut::Outcome::runners_bind);
        const auto report = measure::run_check(Check::push_through, {drawing, p.truth, {}, {}, 0}, 1, 0);
        REQUIRE(report.has_value());
        const double went = report->readings.front().value;
        const Going how = measure::going_of(went, drawing);
        CHECK(how != Going::goes);
        CHECK(session::Slide(drawing).how_it_goes(p.truth) == how);
        if (how == Going::does_not_go_in) {
            CHECK(went == 0.0);
            continue;
        }
        // By another road: it fits 3 mm before, and no longer 3 mm after (the tape reads to 1 mm).
        const auto fits = [&](double gone) {
            const double s = gone - measure::gone_in_mm(drawing, 0.0);
            return contact::seat_runners(drawing, p.truth, {}, s).has_value();
        };
        CHECK(fits(went - 3.0));
        CHECK_FALSE(fits(went + 3.0));
    }
    CHECK(felt(drawing, guides(0.05, 0.05, 0, 0, 0, 0)) == Going::goes);
    // Both kinds of a jam are among them.
    CHECK(felt(drawing, planted()[0].truth) == Going::does_not_go_in);
    CHECK(felt(drawing, planted()[2].truth) == Going::sticks);
}

TEST_CASE("a jam tells: runners spaced wrong become likelier by it, and a sled that goes tells the opposite") {
    const shop::Drawing drawing;
    const auto asked = [&](double went) {
        const auto found = session::find_out(
            std::vector{measure::CheckReport{{Check::push_through}, {{"went", shop::FaultUnit::mm, went, 1.0}}}},
            drawing);
        REQUIRE(found.has_value());
        return *found;
    };
    const auto probability = [](const session::Findings& f, Fault fault) {
        return f.diagnosis.beliefs[static_cast<std::size_t>(fault)].probability;
    };
    const session::Findings not_in = asked(0.0);
    const session::Findings goes = asked(measure::whole_way_mm(drawing));
    CHECK(not_in.diagnosis.jams());
    CHECK_FALSE(goes.diagnosis.jams());
    const double before =
        diagnose::probability_of(diagnose::declared_prior()[static_cast<std::size_t>(Fault::pitch_error)]);
    CHECK(probability(not_in, Fault::pitch_error) > before);
    CHECK(probability(goes, Fault::pitch_error) < before);
    CHECK(probability(not_in, Fault::left_play) < probability(goes, Fault::left_play));
    // Nothing is advised that the sled cannot make.
    REQUIRE(not_in.next.has_value());
    CHECK_FALSE(measure::needs_the_sled_to_go(not_in.next->check));
    for (const diagnose::Advice& advice :
         diagnose::advise(not_in.diagnosis, {}, session::model_of(drawing), diagnose::declared_prior()))
        if (measure::needs_the_sled_to_go(advice.check)) CHECK(advice.bits == 0.0);
}

TEST_CASE("where the sled jams, the check that was to be made becomes the reading that it jams") {
    History h(scenario_of(planted()[2].truth));
    REQUIRE(h.act(MakeCheck{Check::five_cut}).has_value());
    REQUIRE(h.seen().checks.size() == 1);
    CHECK(h.seen().checks[0].report.occasion.check == Check::push_through);
    REQUIRE(session::jams(h.seen()));
    CHECK(session::symptom(h.seen(), base::Units::metric).starts_with("The sled sticks "));
    CHECK(session::next_in_job(h.seen()).todo == Todo::find_the_jam);
    // Nothing that needs it to go is made or offered after that; all else is.
    for (const measure::CheckInfo& c : measure::checks()) {
        CAPTURE(c.name);
        const Next next = session::next_on({session::Leaf::checks, c.check}, h.seen(), nullptr);
        const bool waits = measure::needs_the_sled_to_go(c.check);
        CHECK((next.todo == Todo::wait_for_sled) == waits);
        CHECK(next.intention.empty() == waits);
        History copy = h;
        CHECK(copy.act(MakeCheck{c.check}).has_value() == !waits);
    }
    CHECK(session::next_on({session::Leaf::proof}, h.seen(), nullptr).todo == Todo::look_at_suspects);
    // The job's own test says the same.
    REQUIRE(h.act(session::CutTest{}).has_value());
    CHECK(session::next_in_job(h.seen()).todo == Todo::find_the_jam);
    CHECK(session::notes_of(h.seen()).size() == 2);
    // Put right, the jam no longer holds; a cut that comes of it is read as always.
    REQUIRE(h.act(session::Repair{Fault::slot_splay}).has_value());
    CHECK_FALSE(session::jams(h.seen()));
    CHECK(session::next_in_hunt(h.seen(), nullptr).todo == Todo::prove);
    REQUIRE(h.act(session::proof_intention()).has_value());
    CHECK(h.seen().last_test()->verdict.has_value());
    // Saved and replayed to the same.
    const auto again = session::replay(session::to_text(session::log_of(h)), "again");
    REQUIRE_MESSAGE(again.has_value(), (again ? std::string() : again.error().message));
    CHECK(session::notes_of(again->history.seen()).size() == session::notes_of(h.seen()).size());
}

TEST_CASE("a proof whose sled jams ends with the cut: nothing is read, and undone as one thing") {
    History h(scenario_of(planted()[0].truth));
    REQUIRE(h.act(session::proof_intention()).has_value());
    CHECK(h.seen().events.size() == 1);
    CHECK(session::jams(h.seen()));
    REQUIRE(h.take_back().has_value());
    CHECK(h.seen().events.empty());
    REQUIRE(h.do_again().has_value());
    CHECK(h.seen().events.size() == 1);
}

TEST_CASE("typed at a real saw: a jam ends what was read while it went, and a cut that is typed ends the jam") {
    History h(scenario::built_in(), 1, measure::Precision::real, true);
    constexpr auto mm = shop::FaultUnit::mm;
    const session::TypeReadings cut{
        Check::five_cut, {{"fence_end", mm, 12.3, 0.02}, {"far_end", mm, 12.1, 0.02}, {"length", mm, 298, 0.3}}, {}};
    const auto push = [](double went) {
        return session::TypeReadings{Check::push_through, {{"went", mm, went, 1.0}}, {}};
    };
    REQUIRE(h.act(cut).has_value());
    CHECK_FALSE(session::jams(h.seen()));
    REQUIRE(h.act(push(0.0)).has_value());
    CHECK(session::jam_sentence(h.seen(), base::Units::metric) == "The sled does not go into its slots.");
    CHECK_FALSE(h.seen().checks[0].holds());
    REQUIRE(h.act(push(measure::whole_way_mm(h.seen().drawing))).has_value());
    CHECK_FALSE(session::jams(h.seen()));
    REQUIRE(h.act(push(300.0)).has_value());
    CHECK(session::jam_sentence(h.seen(), base::Units::metric) == "The sled sticks 300 mm in.");
    REQUIRE(h.act(cut).has_value());
    CHECK_FALSE(session::jams(h.seen()));
    CHECK_FALSE(h.seen().checks[3].holds());
}

TEST_CASE("every planted jam: what should be done next leads to the proof" * doctest::skip(repeats::sanitized)) {
    for (const JammingSaw& p : planted()) {
        CAPTURE(std::string(p.name));
        History h(scenario_of(p.truth), 3);
        std::string way;
        bool proved = false;
        for (int i = 0; i < 40 && !proved; ++i) {
            const bool jammed = session::jams(h.seen());
            const Next next = next_of(h);
            proved = next.todo == Todo::done;
            if (proved) break;
            REQUIRE_MESSAGE(!next.intention.empty(), way);
            if (jammed && next.check) CHECK_FALSE(measure::needs_the_sled_to_go(*next.check));
            const auto done = h.act(next.intention);
            REQUIRE_MESSAGE(done.has_value(), (done ? std::string() : done.error().message));
            way += h.seen().events.back().says + "\n";
        }
        CHECK_MESSAGE(proved, way);
        CHECK_FALSE(session::jams(h.seen()));
        // At most the fence and three more things are put right, or all that is wrong enough to be found.
        CHECK_MESSAGE(
            static_cast<std::ptrdiff_t>(h.seen().repairs.size()) <= std::max<std::ptrdiff_t>(4, wrong_on(p.truth)),
            way);
    }
}
