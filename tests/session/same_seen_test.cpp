// Two saws of which the same was seen: every word that is told and everything that is advised is the same.
#include "same_seen.h"

#include <doctest/doctest.h>

#include "repeats.h"
#include "scenario/readings.h"
#include "session/advice.h"
#include "session/class_words.h"
#include "session/hunt_words.h"
#include "session/story.h"

using namespace offsquare;
using same_seen::difference;
using same_seen::Pair;
using same_seen::text;
using session::Findings;
using session::History;
using session::Next;
using session::Seen;
using session::Test;

namespace {

std::string told(const Next& next) {
    std::string out = text(next.todo) + text(next.check) + text(next.fault);
    for (const session::Action& a : next.intention) out += session::form_of(a).dump();
    return out;
}

std::string told(const Test& test, base::Units units) {
    const session::Working working = session::working(test, units);
    std::string out = working.conclusion + working.because;
    for (const session::WorkingLine& line : working.lines) out += line.what + line.how + line.result;
    out += session::stack_sentence(test, units) + session::stack_line(test, units);
    if (test.verdict) out += session::verdict_sentence(test, units);
    for (const session::Action& a : session::proposed_actions(test)) out += session::form_of(a).dump();
    if (test.ended) out += session::sentence_of(*test.ended);
    return out + "\n";
}

/// Of every page of the notebook, with each check and each fault chosen there.
std::string told_on_pages(const Seen& seen, const Findings* findings) {
    std::string out = told(session::next_in_hunt(seen, findings));
    for (const session::Leaf leaf : {session::Leaf::symptom, session::Leaf::suspects, session::Leaf::checks,
                                     session::Leaf::repairs, session::Leaf::proof}) {
        for (const measure::CheckInfo& check : measure::checks())
            out += told(session::next_on({leaf, check.check, shop::Fault::fence_skew}, seen, findings));
        for (const shop::FaultInfo& fault : shop::faults())
            out += told(session::next_on({leaf, measure::Check::jaws, fault.fault}, seen, findings));
    }
    return out;
}

std::string told_of_the_notebook(const Seen& seen, base::Units units) {
    std::string out = session::symptom(seen, units) + session::face_sentence(seen, units);
    const session::ProofWords proof = session::proof_words(seen, units);
    out += proof.heading + proof.why + text(session::proof_of(seen));
    for (const session::DeedWords& deed : session::what_was_done(seen, units))
        out += deed.what + deed.came + deed.set_aside + "\n";
    std::size_t number = 0;
    for (const session::Note& note : session::notes_of(seen)) {
        const session::NoteWords words = session::words_of(note, ++number, seen.drawing, units);
        out += words.title + words.source + words.set_aside;
        for (const session::ReadingWords& r : words.readings) out += r.name + r.value;
    }
    return out;
}

/// All that can be said of it without weighing the readings.
std::string told(const History& history) {
    const Seen& seen = history.seen();
    std::string out = told_on_pages(seen, nullptr);
    const Next next = session::next_in_job(seen);
    const session::Now now = session::words_of(next, seen, seen.units);
    out += told(next) + now.heading + now.why + now.button;
    for (const base::Units units : {base::Units::metric, base::Units::imperial}) {
        for (const Test& test : seen.tests) out += told(test, units);
        out += told_of_the_notebook(seen, units) + history.last_intention(units) + history.next_intention(units);
        for (int cut = 0; cut <= 5; ++cut) {
            const session::ClassWords words = session::class_words(seen, cut, units);
            out += text(words.show) + words.result + words.look;
        }
    }
    return out + scenario::readings_text(history.scenario(), session::holding(seen));
}

std::string told(const Findings& findings, const Seen& seen) {
    std::string out = told_on_pages(seen, &findings);
    for (const diagnose::Belief& b : findings.diagnosis.beliefs) {
        out += text(b.touched) + text(b.probability) + text(b.size) + text(b.u) + text(b.coverage95);
        out += session::sentence_of(b, base::Units::metric);
        for (const std::string& against : session::against_repair(findings, b.fault)) out += against;
    }
    for (const auto& pair : findings.diagnosis.unseparated) out += session::sentence_of(pair);
    for (const auto& c : findings.diagnosis.contradictions) out += session::sentence_of(c);
    return findings.next ? out + text(findings.next->check) + findings.next->why : out;
}

}  // namespace

TEST_CASE("two saws of which the same was seen: everything that is told and advised is the same") {
    for (const Pair& pair : same_seen::pairs()) {
        CAPTURE(pair.name);
        const std::string words = told(pair.one);
        CHECK(words.size() > 5000);
        CHECK(difference(words, told(pair.other)) == "");
    }
}

TEST_CASE("two saws of which the same was seen: the readings weigh the same, and so does the advice that follows" *
          doctest::skip(repeats::sanitized)) {
    int weighed = 0;
    for (const Pair& pair : same_seen::pairs()) {
        const auto reports = session::holding(pair.one.seen());
        if (reports.empty() || reports.size() > 3) continue;
        CAPTURE(pair.name);
        const auto one = session::find_out(reports, pair.one.seen().drawing);
        const auto other = session::find_out(session::holding(pair.other.seen()), pair.other.seen().drawing);
        REQUIRE(one.has_value());
        REQUIRE(other.has_value());
        CHECK(difference(told(*one, pair.one.seen()), told(*other, pair.other.seen())) == "");
        if (++weighed == 1) break;  // what weighs gets the readings alone; more pairs would only repeat it
    }
    CHECK(weighed == 1);
}

TEST_CASE("the text of what is seen tells saws apart as soon as something was read of what differs") {
    const scenario::Scenario one = scenario::built_in();
    const scenario::Scenario other = same_seen::with_fault(one, shop::Fault::fence_skew, -0.001);
    const same_seen::Intentions read{{session::CutTest{}}, {session::Read{session::End::fence}}};
    const auto seen = [&](const scenario::Scenario& s, const same_seen::Intentions& done) {
        return text(same_seen::after(s, done, measure::Precision::exact, false).seen());
    };
    CHECK(seen(one, {}) == seen(other, {}));
    CHECK(seen(one, read) != seen(other, read));
    CHECK(told(same_seen::after(one, read, measure::Precision::exact, false)) !=
          told(same_seen::after(one, {}, measure::Precision::exact, false)));
}
