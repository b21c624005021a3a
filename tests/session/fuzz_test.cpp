// Random lists of actions on random saws within their stated ranges: every answer is a number or an error with a name.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>
#include <string>

#include <fmt/format.h>

#include "measure/report.h"
#include "repeats.h"
#include "session/job.h"

using namespace job;
using base::Units;

namespace {

using Engine = std::mt19937_64;

double uniform(Engine& e) { return static_cast<double>(e() >> 11U) * 0x1p-53; }
int whole(Engine& e, int most) { return static_cast<int>(uniform(e) * (most + 1)); }

/// A value somewhere in its range, as text; extremes now and then.
std::string value_for(const scenario::KeyInfo& key, Engine& e) {
    using Kind = scenario::KeyInfo::Kind;
    const double place = whole(e, 5) == 0 ? static_cast<double>(whole(e, 1)) : uniform(e);
    const double v = key.min + place * (key.max - key.min);
    switch (key.kind) {
        case Kind::length: return fmt::format("{:.6f} mm", v);
        case Kind::angle: return fmt::format("{:.9f} rad", v);
        case Kind::number: return fmt::format("{:.6f}", v);
        case Kind::count: return fmt::format("{}", std::llround(v));
        case Kind::word:
        case Kind::points: return key.example;
    }
    return key.example;
}

/// The built-in saw with a few values changed, as far as they fit together.
scenario::Scenario random_saw(Engine& e) {
    scenario::Scenario s = saw();
    const auto& keys = scenario::keys();
    for (int i = whole(e, 4); i > 0; --i) {
        const scenario::KeyInfo& key = keys[static_cast<std::size_t>(whole(e, static_cast<int>(keys.size()) - 1))];
        if (auto changed = scenario::with(s, {{key.key, value_for(key, e)}})) s = std::move(*changed);
    }
    return s;
}

/// Hands of all kinds, some of which nobody has.
session::PushTest random_push(Engine& e) {
    session::PushTest test;
    const double reach = whole(e, 5) == 0 ? 2500.0 : 250.0;
    test.pass.hand.force_n = whole(e, 9) == 0 ? 0.0 : 400.0 * uniform(e);
    double from = -std::numeric_limits<double>::infinity();
    for (int i = whole(e, 3); i >= 0; --i) {
        test.pass.hand.grips.push_back({from, reach * (2.0 * uniform(e) - 1.0)});
        from = std::isfinite(from) ? from + 200.0 * uniform(e) : -500.0 + 400.0 * uniform(e);
    }
    if (whole(e, 3) == 0) test.pass.stops_at_mm = 700.0 * uniform(e) - 550.0;
    return test;
}

/// What a person, or a file that nobody vouches for, may have written down.
session::TypeReadings random_typed(Engine& e) {
    const measure::CheckInfo& check =
        measure::checks()[static_cast<std::size_t>(whole(e, static_cast<int>(measure::check_count) - 1))];
    session::TypeReadings typed{check.check, {}, {}};
    for (const measure::ReadingInfo& r : check.readings)
        typed.readings.push_back({std::string(r.what), r.unit, whole(e, 9) == 0 ? 3e6 * uniform(e) : 20.0 * uniform(e),
                                  0.2 * uniform(e) - 0.02});
    if (whole(e, 1) == 0) typed.stood = session::FenceStood{25.0 * uniform(e), uniform(e), whole(e, 3) - 1};
    return typed;
}

Action random_action(Engine& e) {
    const At at = whole(e, 1) == 0 ? At::left : At::right;
    switch (whole(e, 11)) {
        case 0: return CutTest{};
        case 1: return random_push(e);
        case 2:
        case 3:
        case 4: return Read{End::fence, whole(e, 3) == 0 ? 150.0 * uniform(e) : 0.0};
        case 5:
        case 6:
        case 7: return Read{End::far, whole(e, 3) == 0 ? 150.0 * uniform(e) : 0.0};
        case 8: return PutShim{at, whole(e, 7) - 1};
        case 9: return PutThickness{at, whole(e, 4) == 0 ? 20.0 * uniform(e) : uniform(e)};
        case 10: return TakeShim{at};
        default: return WorkOut{};
    }
}

bool finite(const base::Uncertain& x) {
    return std::isfinite(x.value) && std::isfinite(x.u) && x.u >= 0.0 && x.dof > 0.0;
}

void check_test(const session::Test& t) {
    if (t.strip_fell) {
        REQUIRE(t.outcome == cut::Outcome::done);
        REQUIRE((std::isfinite(t.furthest_in_mm) && t.furthest_in_mm >= 0.0));  // in whole millimetres
    }
    for (const auto* readings : {&t.fence_end, &t.far_end}) {
        for (const measure::Reading& r : *readings)
            REQUIRE((std::isfinite(r.value_mm) && std::isfinite(r.u_mm) && r.u_mm >= 0.0));
    }
    REQUIRE(t.skew_rad.has_value() == (!t.fence_end.empty() && !t.far_end.empty()));
    if (!t.skew_rad) return;
    REQUIRE(finite(*t.skew_rad));
    REQUIRE(finite(*t.pooled_rad));
    REQUIRE(finite(t.proposal->ideal_mm));
    REQUIRE(finite(t.proposal->best.remainder_rad));
    REQUIRE(t.verdict->coverage95.lo <= t.verdict->coverage95.hi);
    // The best stack never leaves more than there is.
    REQUIRE(std::abs(t.proposal->best.remainder_rad.value) <= std::abs(t.pooled_rad->value) + 1e-12);
}

void check_words(const Trial& t) {
    const session::Now now = job::now(t);
    std::string all = now.heading + now.why + now.button;
    for (const session::Test& test : t.tests) {
        for (const Units units : {Units::metric, Units::imperial}) {
            const session::Working w = session::working(test, units);
            all += w.conclusion + w.because + session::stack_sentence(test, units) +
                   session::verdict_sentence(test, units);
            for (const session::WorkingLine& line : w.lines) all += line.what + line.how + line.result;
        }
    }
    CAPTURE(all);
    for (const char* bad : {"nan", "  ", "{}"}) REQUIRE(all.find(bad) == std::string::npos);
}

}  // namespace

TEST_CASE("5,000 random sessions: no crash, no number that is none, every refusal named") {
    Engine e(424242);
    int read = 0;
    int refused = 0;
    int no_strip = 0;
    constexpr int sessions = repeats::of(5000, 1000);
    for (int i = 0; i < sessions; ++i) {
        const scenario::Scenario s = random_saw(e);
        History run(s, e(), whole(e, 9) == 0 ? measure::Precision::exact : measure::Precision::real);
        CAPTURE(i);
        const auto refuses = [&](const Action& action) {
            const auto done = run.act(action);
            if (done) return false;
            REQUIRE(done.error().grade == base::Grade::usage);
            REQUIRE(done.error().message.find("is not possible: ") != std::string::npos);
            return true;
        };
        for (int k = 4 + whole(e, 12); k > 0; --k) {
            // Between the other steps and not instead of one: a test is only read when cut, fence end and far end come
            // in turn.
            if (whole(e, 9) == 0) refuses(random_typed(e));
            refused += refuses(random_action(e)) ? 1 : 0;
        }
        const Trial t = look(run);
        REQUIRE(std::isfinite(t.skew_now_rad()));
        for (const int n : t.seen.left_in_drawer) REQUIRE(n >= 0);
        for (const session::Note& note : t.notebook) REQUIRE(measure::trouble_with(note.report).empty());
        for (const session::Test& test : t.tests) {
            check_test(test);
            read += test.skew_rad ? 1 : 0;
            no_strip += test.strip_fell ? 0 : 1;
        }
        check_words(t);
    }
    CHECK(read > sessions / 5);
    CHECK(refused > sessions / 5);
    CHECK(no_strip > sessions / 100);
}
