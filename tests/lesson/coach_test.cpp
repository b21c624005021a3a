// The coach's ladder: what each rung says, on saws of every kind, and that it is true.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

#include <fmt/format.h>

#include "lesson/coach.h"
#include "lesson/signs.h"
#include "measure/report.h"
#include "repeats.h"
#include "session/hunts.h"

using namespace random_saws;
using lesson::Coaching;
using lesson::Matter;
using measure::Check;
using measure::CheckReport;
using shop::Fault;

namespace {

const shop::Drawing& drawing() {
    static const shop::Drawing d;
    return d;
}
const session::Assumptions& assumed() {
    static const session::Assumptions a = session::usual_assumptions(drawing());
    return a;
}

std::vector<CheckReport> made(const shop::Truth& truth, const std::vector<Check>& checks) {
    std::vector<CheckReport> reports;
    for (const Check check : checks) {
        const auto report =
            measure::run_check(check, measure::Stand{drawing(), truth, {}, {}, 0, measure::Cuts::coarse}, 31,
                               static_cast<std::uint32_t>(reports.size()));
        REQUIRE(report.has_value());
        reports.push_back(*report);
    }
    return reports;
}

Coaching coached(const std::vector<CheckReport>& reports, const lesson::OwnSuspects& own) {
    const auto findings = session::find_out(reports, drawing(), assumed());
    REQUIRE(findings.has_value());
    return lesson::coach(lesson::CoachKnows{reports, drawing(), *findings, assumed()}, own);
}

std::string text(const std::vector<std::string>& sentences) {
    std::string all;
    for (const std::string& s : sentences) all += s + "\n";
    return all;
}
bool has(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

bool names_a_fault(const std::string& said) {
    return std::any_of(shop::faults().begin(), shop::faults().end(),
                       [&](const shop::FaultInfo& f) { return has(said, "\"" + std::string(f.name) + "\""); });
}
bool names_a_check(const std::string& said) {
    return std::any_of(measure::checks().begin(), measure::checks().end(),
                       [&](const measure::CheckInfo& c) { return has(said, "\"" + std::string(c.title) + "\""); });
}

/// A later rung begins with all that the earlier ones say; the first names neither fault nor check, the second no check
/// that was not made, the third what to do.
void check_ladder(const Coaching& c, std::size_t reports) {
    const auto one = lesson::hint(c, 1);
    const auto two = lesson::hint(c, 2);
    const auto three = lesson::hint(c, 3);
    CAPTURE(text(three));
    CHECK(!one.empty());
    REQUIRE(one.size() < two.size());
    REQUIRE(two.size() < three.size());
    CHECK(std::equal(one.begin(), one.end(), two.begin()));
    CHECK(std::equal(two.begin(), two.end(), three.begin()));
    CHECK_FALSE(names_a_fault(text(one)));
    CHECK_FALSE(names_a_check(text(one)));
    for (const std::string& sentence : three) {
        CHECK((sentence.back() == '.' || sentence.back() == '?'));
        CHECK_FALSE(has(sentence, "  "));
        CHECK_FALSE(has(sentence, "nan"));
    }
    if (c.matter == Matter::split) {
        REQUIRE(c.check);
        CHECK(has(text(c.deed), measure::info(*c.check).title));
        CHECK(has(text(c.deed), fmt::format("{:g} minute", measure::info(*c.check).minutes)));
        CHECK(c.would_read.size() >= 1);
        REQUIRE(!c.numbers.empty());
        CHECK(c.numbers.front().check == *c.check);
        CHECK(c.numbers.front().minutes);
    }
    if (c.matter == Matter::repair) {
        REQUIRE(c.fault);
        CHECK(has(text(c.deed), session::name_of(*c.fault)));
    }
    for (const lesson::SuspectNow& s : c.suspects) {
        if (s.own) CHECK(has(text(c.alive), "\"" + std::string(session::name_of(s.fault)) + "\""));
        if (s.ruled_out_by) CHECK(*s.ruled_out_by < reports);
        CHECK(s.ruled_out_by.has_value() <= (s.standing == session::Standing::ruled_out));
    }
}

}  // namespace

TEST_CASE("a later rung never tells less, on random saws, whomever the person suspects" *
          doctest::skip(repeats::sanitized)) {
    const auto all = evenings();
    std::set<Matter> met;
    for (std::uint64_t number = 0; number < static_cast<std::uint64_t>(repeats::of(6, 2)); ++number) {
        const Evening& evening = all[(number + 2) % 6];
        const Case one = case_of(evening, drawing(), 500 + number);
        Random random(number);
        lesson::OwnSuspects own;
        for (const shop::FaultInfo& f : shop::faults()) {
            if (random() % 4 == 0) own.emplace_back(f.fault, static_cast<int>(random() % 101));
        }
        if (number % 5 == 4) own.clear();
        CAPTURE(evening.name);
        CAPTURE(number);
        const Coaching c = coached(one.reports, own);
        met.insert(c.matter);
        check_ladder(c, one.reports.size());
    }
    CHECK(met.contains(Matter::split));
}

TEST_CASE("two that one test cannot tell apart: the question is what differs between them, and the check reads it") {
    // A bowed fence shows in the five-cut test like one off square.
    const Saw saw = hunts::planted({Fault::fence_bow});
    const auto reports = made(saw.truth, {Check::five_cut});
    const Coaching c = coached(reports, {{Fault::fence_skew, 60}, {Fault::fence_bow, 30}});
    check_ladder(c, reports.size());
    CHECK(c.matter == Matter::split);
    CHECK(c.check == Check::fence_straightedge);
    CHECK(text(lesson::hint(c, 1)) ==
          "Which of your suspects would keep the fence's own face from being straight, and which would not?\n");
    CHECK(has(text(lesson::hint(c, 2)), "Still alive: \"fence off square\" and \"fence bowed\"."));
    // A bow of its prior, 0.25 +- 0.08 mm to either side, as the straightedge reads it: between 0.1 and 0.35 mm;
    // without one, no more than the leaf that just goes in (0.05 mm).
    for (const lesson::WouldRead& w : c.would_read) {
        if (w.fault == Fault::fence_bow) CHECK((w.size > 0.1 && w.size < 0.35));
        else CHECK(w.size < 0.05);
    }
    // Read: the bow is there, and the next thing is to put it right.
    const auto after = made(saw.truth, {Check::five_cut, Check::fence_straightedge});
    const Coaching then = coached(after, {{Fault::fence_skew, 60}, {Fault::fence_bow, 30}});
    check_ladder(then, after.size());
    CHECK(then.matter == Matter::repair);
    CHECK(then.fault == Fault::fence_bow);
    CHECK(has(text(then.deed), "only that proves it"));
}

TEST_CASE("who was ruled out is told with the reading that did it") {
    const Saw saw = hunts::planted({Fault::fence_skew});
    const auto reports = made(saw.truth, {Check::jaws, Check::tooth_indicator, Check::fence_straightedge});
    const Coaching c = coached(
        reports, {{Fault::blade_toe, 40}, {Fault::fence_bow, 40}, {Fault::caliper_zero, 10}, {Fault::dust, 10}});
    check_ladder(c, reports.size());
    const std::string said = text(lesson::hint(c, 2));
    CAPTURE(said);
    CHECK(has(said, "Ruled out: \"blade not parallel\", by check 2, \"Indicator on one tooth, front and rear\""));
    CHECK(has(said, "Ruled out: \"fence bowed\", by check 3, \"Straightedge on the fence\""));
    CHECK(has(said, "Ruled out: \"caliper's zero off\", by check 1, \"Close the caliper\""));
    CHECK(has(said, "No reading has looked at \"sawdust at the fence\" yet."));
    // The other road: every beginning of the list weighed.
    for (const lesson::SuspectNow& s : c.suspects) {
        if (!s.ruled_out_by) continue;
        for (std::size_t n = 0; n <= reports.size(); ++n) {
            const auto d = diagnose::infer(std::span(reports).first(n), drawing(), assumed().model, assumed().prior);
            const bool out =
                session::standing_of(d->beliefs[static_cast<std::size_t>(s.fault)]) == session::Standing::ruled_out;
            CHECK(out == (n > *s.ruled_out_by));
        }
    }
    CHECK_FALSE(lesson::ruled_out_by(Fault::dust, reports, drawing(), assumed()));
    CHECK_FALSE(lesson::ruled_out_by(Fault::dust, {}, drawing(), assumed()));
    // All of one's own suspects out: it is said that it must be another.
    const Coaching none = coached(reports, {{Fault::blade_toe, 40}, {Fault::fence_bow, 40}});
    check_ladder(none, reports.size());
    CHECK(has(text(none.question), "What else, that is not on your list or not any more"));
}

TEST_CASE("nothing read yet, a reading that fits no other, and a sled that jams" * doctest::skip(repeats::sanitized)) {
    check_ladder(coached({}, {}), 0);
    const Coaching first = coached({}, {{Fault::caliper_zero, 50}});
    check_ladder(first, 0);
    CHECK(first.check == Check::jaws);
    CHECK(has(text(first.question), "Would your one suspect make the caliper show something when its jaws are closed"));

    // The same straightedge on the same fence, a millimetre apart.
    const Saw saw = hunts::planted({Fault::fence_skew});
    auto reports = made(saw.truth, {Check::fence_straightedge, Check::fence_straightedge, Check::five_cut});
    reports[1].readings.front().value += 1.0;
    const Coaching odd = coached(reports, {{Fault::fence_bow, 50}});
    check_ladder(odd, reports.size());
    CHECK(odd.matter == Matter::read_again);
    CHECK(odd.check == Check::fence_straightedge);
    CHECK(has(text(odd.question), "Do all your readings fit together?"));

    const std::vector<CheckReport> jam{measure::push_report({Check::push_through}, 120.0)};
    const Coaching jammed = coached(jam, {{Fault::slot_splay, 50}, {Fault::runner_bend, 20}});
    check_ladder(jammed, jam.size());
    REQUIRE(jammed.check);
    CHECK_FALSE(measure::needs_the_sled_to_go(*jammed.check));
}

TEST_CASE("the words of the checks: one sign at least for each that has a number, and they fit into their sentences") {
    for (const measure::CheckInfo& check : measure::checks()) {
        CAPTURE(check.name);
        const auto signs = lesson::signs_of(check.check);
        CHECK(signs.empty() == (check.observables == 0));
        for (const lesson::Sign& sign : signs) {
            CHECK(sign.of.size() == check.observables);
            for (const std::string_view words : {sign.asks, sign.reads}) {
                REQUIRE(!words.empty());
                CHECK((words.front() >= 'a' && words.front() <= 'z'));
                CHECK((words.back() != '.' && words.back() != ' '));
            }
        }
    }
}
