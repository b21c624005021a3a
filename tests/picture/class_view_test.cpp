// The pictures for the back of a room: what stands in them, by size and by number.
#include "picture/class_view.h"

#include <doctest/doctest.h>

#include <cmath>
#include <set>

#include "picture/sessions.h"
#include "picture/writers.h"

using namespace offsquare;
using picture::ClassPage;
using picture::Picture;
using picture::ViewOptions;

namespace {

std::set<std::string> words_in(const Picture& p) {
    std::set<std::string> out;
    for (const picture::Item& item : p.items) {
        if (const auto* w = std::get_if<picture::Words>(&item.shape)) out.insert(w->text);
    }
    return out;
}

void sizes_hold(const Picture& p, const ClassPage& page) {
    for (const picture::Item& item : p.items) {
        CHECK_FALSE(std::holds_alternative<picture::Tag>(item.shape));
        if (const auto* w = std::get_if<picture::Words>(&item.shape)) CHECK(w->size >= page.letters);
        if (const auto* l = std::get_if<picture::Line>(&item.shape)) CHECK(l->stroke >= page.stroke);
        if (const auto* g = std::get_if<picture::Polygon>(&item.shape))
            CHECK((g->line == picture::Role::none || g->stroke >= page.stroke));
        if (const auto* d = std::get_if<picture::Dot>(&item.shape)) CHECK(d->line == picture::Role::none);
    }
}

}  // namespace

TEST_CASE(
    "class pictures of every scenario at every stage: letters and lines are as asked for, and an exaggeration is "
    "named") {
    const ClassPage page{1216.0, 560.0, 33.6, 3.6};
    for (const scenario::Scenario& s : sessions::scenarios()) {
        for (const sessions::Stage& stage : sessions::stages(s)) {
            CAPTURE(s.title);
            CAPTURE(stage.name);
            const session::History t = sessions::run(s, stage.actions);
            ViewOptions o;
            o.exaggeration = picture::fitting_exaggeration(t.seen());
            const Picture table = picture::class_table(t.seen(), o, page);
            sizes_hold(table, page);
            const bool known = std::any_of(t.seen().tests.begin(), t.seen().tests.end(),
                                           [](const session::Test& test) { return test.skew_rad.has_value(); });
            CHECK(words_in(table).count("angles drawn") == (known ? 1 : 0));
            CHECK(words_in(table).count("error hidden") == (known ? 0 : 1));
            sizes_hold(picture::class_chart(t.seen(), o, page), page);
            sizes_hold(picture::class_verdict(t.seen(), o, page), page);
        }
    }
}

TEST_CASE("the verdict's bar spans what the error can be, to one scale with the band") {
    const ClassPage page{1216.0, 560.0, 33.6, 3.6};
    const session::History t = sessions::run(scenario::built_in(), sessions::read_actions());
    const Picture p = picture::class_verdict(t.seen(), {}, page);
    // The band is the only filled green; the bar the only thick blue line that lies level.
    double band = 0.0;
    double bar = 0.0;
    for (const picture::Item& item : p.items) {
        if (const auto* g = std::get_if<picture::Polygon>(&item.shape))
            band = std::abs(g->points[1].x - g->points[0].x);
        if (const auto* l = std::get_if<picture::Line>(&item.shape);
            l != nullptr && l->line == picture::Role::read && l->points[0].y == l->points[1].y) {
            bar = std::abs(l->points[1].x - l->points[0].x);
        }
    }
    const auto& v = *t.seen().tests.back().verdict;
    REQUIRE(band > 0.0);
    CHECK(bar / band == doctest::Approx((v.coverage95.hi - v.coverage95.lo) / (2.0 * v.tolerance_rad)).epsilon(1e-12));
}

TEST_CASE("what nobody at a real saw can see is not in the class pictures") {
    const ClassPage page{1216.0, 560.0, 33.6, 3.6};
    const scenario::Scenario askew = sessions::changed(scenario::built_in(), {{"faults.fence_skew", "-1.4mrad"}});
    for (const std::vector<session::Action>& actions :
         {std::vector<session::Action>{}, std::vector<session::Action>{session::CutTest{}}}) {
        const auto one = sessions::run(scenario::built_in(), actions);
        const auto other = sessions::run(askew, actions);
        for (const auto draw : {picture::class_table, picture::class_chart, picture::class_verdict})
            CHECK(*picture::render(draw(one.seen(), {}, page), {}, "svg") ==
                  *picture::render(draw(other.seen(), {}, page), {}, "svg"));
        // Nor for who has asked for it at the bench: a class sees what its own eyes could see.
        ViewOptions asked;
        asked.revealed = sessions::revealed(other);
        CHECK(*picture::render(picture::class_table(other.seen(), asked, page), {}, "svg") ==
              *picture::render(picture::class_table(one.seen(), {}, page), {}, "svg"));
    }
}
