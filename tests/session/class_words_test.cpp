// The words for the back of a room.
#include "session/class_words.h"

#include <doctest/doctest.h>

#include "session/job.h"

using namespace job;
using base::Units;
using session::class_words;
using Show = session::ClassWords::Show;

namespace {

Trial must_run(const scenario::Scenario& s, const Actions& a) {
    const auto t = job::run(s, a, 6);
    REQUIRE_MESSAGE(t.has_value(), (t ? std::string() : t.error().message));
    return *t;
}

}  // namespace

TEST_CASE("at every step there is a short result and one sentence that says where to look") {
    Actions all = cut_and_read();
    all.push_back(WorkOut{});
    all.push_back(PutShim{At::left, 1});
    all = all + cut_and_read() + Actions{WorkOut{}};
    History run(saw(), 6);
    const auto looks = [&] {
        for (const Units units : {Units::metric, Units::imperial}) {
            const session::ClassWords w = class_words(run.seen(), 0, units);
            CAPTURE(w.result);
            CHECK_FALSE(w.result.empty());
            CHECK(w.result.size() <= 40);
            CHECK(w.look.find("Look at ") == 0);
            CHECK(w.look.ends_with('.') != w.look.ends_with('?'));
        }
    };
    looks();
    for (const session::Action& a : all) {
        REQUIRE(run.act(a));
        looks();
    }
}

TEST_CASE("the picture follows the job: table, chart when both ends are read, verdict when it is proved") {
    CHECK(class_words(must_run(saw(), {}).seen, 0, Units::metric).show == Show::table);
    CHECK(class_words(must_run(saw(), cut_and_read()).seen, 0, Units::metric).show == Show::chart);
    for (int cut = 1; cut <= 5; ++cut) {
        const session::ClassWords w = class_words(must_run(saw(), cut_and_read()).seen, cut, Units::metric);
        CHECK(w.show == Show::table);
        CHECK(w.result == "Cut " + std::to_string(cut) + " of 5");
    }
    const Trial square =
        must_run(saw(), Actions{SetValue{"faults.fence_skew", "0"}} + cut_and_read() + Actions{WorkOut{}});
    REQUIRE(square.proved);
    CHECK(class_words(square.seen, 0, Units::metric).show == Show::verdict);
}

TEST_CASE("the wider end is named rightly, and its difference is the readings' own") {
    const Trial t = must_run(saw(), cut_and_read());
    const session::Test& test = t.tests.back();
    const double difference = test.fence_end[0].value_mm - test.far_end[0].value_mm;
    REQUIRE(difference > 0.0);
    CHECK(class_words(t.seen, 0, Units::metric).result ==
          base::show_small(difference, Units::metric) + " wider at the fence");
    const Trial other = must_run(saw(), Actions{SetValue{"faults.fence_skew", "-0.62mrad"}} + cut_and_read());
    CHECK(class_words(other.seen, 0, Units::metric).result.find("wider at the far end") != std::string::npos);
}
