#include "picture/table_view.h"

#include <doctest/doctest.h>

#include <cmath>
#include <set>

#include "picture/drawn.h"
#include "picture/push_view.h"
#include "picture/scene.h"
#include "picture/text_size.h"
#include "picture/sessions.h"
#include "picture/writers.h"
#include "shop/truth.h"

using namespace offsquare;
using picture::Handle;
using picture::Picture;
using picture::Polygon;
using picture::Role;
using picture::ViewOptions;
using sessions::changed;
using namespace in_picture;

namespace {

Polygon polygon_with(const Picture& p, Handle handle) {
    for (const picture::Item& item : p.items) {
        if (item.handle == handle && std::holds_alternative<Polygon>(item.shape)) return std::get<Polygon>(item.shape);
    }
    FAIL("no polygon with this handle");
    return std::get<Polygon>(p.items.front().shape);
}

/// Interior angles of a counter-clockwise outline, by atan2, beginning with the corner nearest to `first`.
std::vector<double> angles_from(const std::vector<base::Vec2>& p, base::Vec2 first) {
    const std::size_t n = p.size();
    std::size_t start = 0;
    for (std::size_t i = 0; i < n; ++i) {
        if (base::norm(p[i] - first) < base::norm(p[start] - first)) start = i;
    }
    std::vector<double> out;
    for (std::size_t i = 0; i < n; ++i) {
        const base::Vec2 at = p[(start + i) % n];
        double a = direction(at, p[(start + i + n - 1) % n]) - direction(at, p[(start + i + 1) % n]);
        while (a < 0.0) a += 2.0 * base::pi;
        out.push_back(a);
    }
    return out;
}

/// The side of a board that neither lies on the fence nor opposite, away from the blade: its lower and upper end.
struct Vec2Pair {
    base::Vec2 bottom, top;
};
Vec2Pair long_side(const std::vector<base::Vec2>& p) {
    const auto away = [](base::Vec2 q) { return std::abs(q.x); };
    std::vector<base::Vec2> sorted = p;
    std::sort(sorted.begin(), sorted.end(), [&](base::Vec2 a, base::Vec2 b) { return away(a) > away(b); });
    if (sorted[0].y > sorted[1].y) std::swap(sorted[0], sorted[1]);
    return {sorted[0], sorted[1]};
}

scenario::Scenario teaching_saw() { return scenario::built_in(); }

}  // namespace

TEST_CASE("before anything is read, two saws that differ only in their hidden errors give the same picture") {
    const scenario::Scenario one = teaching_saw();
    const scenario::Scenario other = changed(
        one, {{"faults.fence_skew", "-1.4mrad"}, {"faults.fence_bow", "0.2mm"}, {"faults.caliper_zero", "0.05mm"}});
    for (const std::vector<session::Action>& actions :
         {std::vector<session::Action>{}, std::vector<session::Action>{session::CutTest{}}}) {
        const session::History a = sessions::run(one, actions);
        const session::History b = sessions::run(other, actions);
        REQUIRE(both_sides::skew_now_rad(a) != both_sides::skew_now_rad(b));
        CHECK(picture::fitting_exaggeration(a.seen()) == picture::fitting_exaggeration(b.seen()));
        for (int cut = 0; cut <= 5; ++cut) {
            for (const double travel : {0.0, 0.5, 0.83, 1.0}) {
                ViewOptions options;
                options.cut = cut;
                options.travel = travel;
                options.fence_station_mm = 12.0;
                CHECK(svg(picture::table_view(a.seen(), options)) == svg(picture::table_view(b.seen(), options)));
            }
        }
        ViewOptions of_a;
        of_a.revealed = sessions::revealed(a);
        ViewOptions of_b;
        of_b.revealed = sessions::revealed(b);
        CHECK(svg(picture::table_view(a.seen(), of_a)) != svg(picture::table_view(b.seen(), of_b)));
    }
}

TEST_CASE("after reading, the picture still follows the readings and not the truth") {
    // A fence that creeps when it is clamped anew: before that nothing that is read tells of it.
    const scenario::Scenario creeping = changed(teaching_saw(), {{"faults.clamp_creep", "0.9mrad"}});
    const session::History history = sessions::run(teaching_saw(), sessions::read_actions());
    const session::History other = sessions::run(creeping, sessions::read_actions());
    REQUIRE(both_sides::truth_of(history).clamp_creep_rad != both_sides::truth_of(other).clamp_creep_rad);
    REQUIRE(history.seen().tests.back().skew_rad->value == other.seen().tests.back().skew_rad->value);
    CHECK(svg(picture::table_view(history.seen(), {})) == svg(picture::table_view(other.seen(), {})));
    CHECK(svg(picture::sheet(history.seen(), {})) == svg(picture::sheet(other.seen(), {})));

    // A liar's truth, asked for: what was read is drawn where it was, and the lie is dashed beside it.
    auto lie = std::make_shared<session::Revealed>(session::reveal(history));
    lie->skew_now_rad = -0.003;
    lie->sizes.fill(0.1);
    cut::FiveCut cuts = both_sides::cut_of(history);
    cuts.skew_rad = -0.003;
    for (auto& cut : cuts.cuts) cut.corner_rad = 0.1;
    cuts.strip->piece.clear();
    cuts.strip->length_mm = 50.0;
    lie->tests.back() = {-0.003, std::vector<double>(5, 0.1), std::make_shared<const cut::FiveCut>(cuts)};
    ViewOptions lied;
    lied.revealed = lie;
    const Picture told = picture::table_view(history.seen(), lied);
    const Picture plain = picture::table_view(history.seen(), {});
    CHECK(svg(told) != svg(plain));
    const auto parts = [](const Picture& p) {
        std::vector<std::vector<base::Vec2>> all;
        for (const picture::Item& item : p.items)
            if (const auto* q = std::get_if<Polygon>(&item.shape); q != nullptr && item.handle != Handle::laid_aside)
                all.push_back(q->points);
        return all;
    };
    CHECK(parts(told).size() > 10);
    CHECK(parts(told) == parts(plain));
    const picture::Chart with = picture::chart(history.seen(), lied);
    const picture::Chart without = picture::chart(history.seen(), {});
    CHECK(with.total == without.total);
    CHECK(with.bars.back().sum_rad == without.bars.back().sum_rad);
}

TEST_CASE("the fence is drawn at the skew that was read times the stated factor") {
    const session::History history = sessions::exact(teaching_saw(), sessions::read_actions());
    for (const double factor : {1.0, 10.0, 50.0}) {
        ViewOptions options;
        options.exaggeration = factor;
        const Picture p = picture::table_view(history.seen(), options);
        const Polygon& fence = polygon_with(p, Handle::fence);
        // Exact readings give back the true skew (0.62 mrad); the far side of the fence runs from its last corner to
        // the one before. Tolerance: 1e-9 rad of the fit.
        CHECK(direction(fence.points[0], fence.points[1]) ==
              doctest::Approx(factor * both_sides::skew_now_rad(history)).epsilon(1e-6));
    }
}

TEST_CASE(
    "a factor that would turn the fence off the sled is cut down, and the picture says the factor that it was drawn "
    "with") {
    const session::History history =
        sessions::exact(changed(teaching_saw(), {{"faults.fence_skew", "1.5mrad"}}), sessions::read_actions());
    ViewOptions options;
    options.exaggeration = 500.0;
    const Picture p = picture::table_view(history.seen(), options);
    const Polygon& fence = polygon_with(p, Handle::fence);
    // 0.08 rad / 1.5 mrad = 53.33, to three figures.
    CHECK(direction(fence.points[0], fence.points[1]) == doctest::Approx(53.3 * 0.0015).epsilon(1e-6));
    // Strip: 4 * 1.5 mrad * 330 mm = 1.98 mm of taper; 0.66 of 12 mm hold four times that.
    CHECK(has_words(p, "angles drawn ×53.3, strip ×4"));
    CHECK(p.title.find("×53.3") != std::string::npos);
}

TEST_CASE("the drawn pieces have the angles that a real five-cut test gives a saw with that much skew") {
    // Second road: the cutting room cuts a board on a saw whose fence really is off by what the picture draws. Angles
    // only: the picture takes nominal lengths.
    for (const char* kept : {"left", "right"}) {
        const scenario::Scenario base_case = changed(teaching_saw(), {{"board.kept", kept},
                                                                      {"board.first_edge", "0"},
                                                                      {"board.strip", "60"},
                                                                      {"board.trim", "40"},
                                                                      {"faults.fence_skew", "0.4mrad"}});
        const session::History history = sessions::exact(base_case, sessions::read_actions());
        ViewOptions options;
        options.exaggeration = 20.0;
        const picture::Scene scene = picture::scene_of(history.seen(), options);
        shop::Truth truth;
        truth.fence_skew_rad = scene.theta;
        const cut::FiveCut real = cut::five_cut(history.seen().drawing, truth, {});
        REQUIRE(real.outcome == cut::Outcome::done);
        for (int k = 1; k <= 5; ++k) {
            const picture::Quad q = scene.kept(k);
            std::vector<base::Vec2> drawn = q.outline();
            if (scene.mirror < 0.0) std::reverse(drawn.begin(), drawn.end());
            std::vector<base::Vec2> cut_piece;
            for (const cut::Corner& c : real.cuts[static_cast<std::size_t>(k - 1)].kept) cut_piece.push_back(c.p);
            REQUIRE(cut_piece.size() == 4);
            const std::vector<double> a = angles_from(drawn, q.fence_blade);
            const std::vector<double> b = angles_from(cut_piece, q.fence_blade);
            CAPTURE(kept);
            CAPTURE(k);
            for (std::size_t i = 0; i < 4; ++i) CHECK(a[i] == doctest::Approx(b[i]).epsilon(1e-8));
            CHECK(std::fabs(a[0] - base::pi / 2.0) == doctest::Approx(20.0 * 0.0004).epsilon(1e-6));
        }
    }
}

TEST_CASE("the fence turns about its right shim point, which stays where it is whatever the factor") {
    const session::History history = sessions::exact(teaching_saw(), sessions::read_actions());
    const shop::Fence& f = history.seen().drawing.fence;
    for (const double factor : {10.0, 50.0}) {
        ViewOptions options;
        options.exaggeration = factor;
        const picture::Scene scene = picture::scene_of(history.seen(), options);
        CHECK(scene.theta > 0.0);
        CHECK(scene.face(f.shim_right_x_mm) == 0.0);
        // Counter-clockwise above zero: the left end comes nearer to the operator, by the span's share of the angle.
        CHECK(scene.face(f.shim_left_x_mm) == doctest::Approx(-std::tan(scene.theta) * f.span_mm()));
    }
}

TEST_CASE("on a square saw the drawn pieces are as large as those that are cut: trim and kerf go with every cut") {
    const scenario::Scenario square = changed(teaching_saw(), {{"faults.fence_skew", "0"}, {"board.first_edge", "0"}});
    const session::History history = sessions::exact(square, sessions::read_actions());
    const picture::Scene scene = picture::scene_of(history.seen(), {});
    const cut::FiveCut real = cut::five_cut(history.seen().drawing, {}, {});
    REQUIRE(real.outcome == cut::Outcome::done);
    const auto box = [](const auto& points, auto place) {
        base::Vec2 lo{1e9, 1e9}, hi{-1e9, -1e9};
        for (const auto& point : points) {
            const base::Vec2 p = place(point);
            lo = {std::min(lo.x, p.x), std::min(lo.y, p.y)};
            hi = {std::max(hi.x, p.x), std::max(hi.y, p.y)};
        }
        return hi - lo;
    };
    for (int k = 1; k <= 5; ++k) {
        CAPTURE(k);
        const base::Vec2 drawn = box(scene.kept(k).outline(), [](base::Vec2 p) { return p; });
        const base::Vec2 cut_piece =
            box(real.cuts[static_cast<std::size_t>(k - 1)].kept, [](const cut::Corner& c) { return c.p; });
        // Exact readings of a square saw: what is drawn of the angles is below 1e-9 rad.
        CHECK(std::abs(drawn.x - cut_piece.x) < 1e-5);
        CHECK(std::abs(drawn.y - cut_piece.y) < 1e-5);
    }
}

TEST_CASE("a strip that fell on the other side is the mirror image") {
    scenario::Scenario left = changed(teaching_saw(), {{"board.kept", "left"}, {"faults.fence_skew", "0.5mrad"}});
    const scenario::Scenario right = changed(left, {{"board.kept", "right"}, {"faults.fence_skew", "-0.5mrad"}});
    ViewOptions options;
    options.exaggeration = 50.0;
    const session::History tl = sessions::exact(left, sessions::read_actions());
    const session::History tr = sessions::exact(right, sessions::read_actions());
    const picture::Scene a = picture::scene_of(tl.seen(), options);
    const picture::Scene b = picture::scene_of(tr.seen(), options);
    // The fence turns about the right shim point, so the mirror image lies higher by what the fence moves at x = 0; the
    // shape is the same to 1e-6 mm (exact readings).
    const double lift = b.face(0.0) - a.face(0.0);
    for (const auto& [p, q] : {std::pair{a.kept(5), b.kept(5)}, std::pair{a.offcut(5), b.offcut(5)}}) {
        CHECK(p.fence_blade.x == doctest::Approx(-q.fence_blade.x).epsilon(1e-6));
        CHECK(p.far_out.x == doctest::Approx(-q.far_out.x).epsilon(1e-6));
        CHECK(p.far_blade.y + lift == doctest::Approx(q.far_blade.y).epsilon(1e-6));
    }
    // Law of the trade: skew > 0 with the kept piece on the left gives a strip that is wider at the fence.
    const picture::Quad strip = a.offcut(5);
    CHECK(strip.fence_blade.x - strip.fence_out.x > strip.far_blade.x - strip.far_out.x + 1.0);
}

TEST_CASE("the pushed sled is turned as a whole: right angles stay, and a yaw above zero is counter-clockwise") {
    const session::History history = sessions::exact(teaching_saw(), {});
    for (const double yaw : {0.4e-3, -0.7e-3}) {
        CAPTURE(yaw);
        picture::PushShown shown{{}, {0.1, 0.2}, 40.0, true};
        shown.state.pose.yaw_rad = yaw;
        const Picture p = picture::push_view(history.seen(), shown, {});
        int runners = 0;
        for (const picture::Item& item : p.items) {
            const auto* runner = std::get_if<Polygon>(&item.shape);
            if (runner == nullptr || runner->fill != Role::steel || runner->line != Role::text) continue;
            ++runners;
            REQUIRE(runner->points.size() == 4);
            const base::Vec2 across = runner->points[1] - runner->points[0];
            const base::Vec2 along = runner->points[3] - runner->points[0];
            CHECK(across.x > 0.0);
            CHECK(along.y > 0.0);
            CHECK(across.y * yaw > 0.0);
            CHECK(along.x * yaw < 0.0);
            // Drawn to first order, where a turn keeps right angles exactly.
            CHECK(std::abs(dot(across, along)) < 1e-9 * base::norm(across) * base::norm(along));
        }
        CHECK(runners == 2);
    }
}

TEST_CASE("what is not an angle is true to scale") {
    const session::History history = sessions::run(teaching_saw(), sessions::read_actions());
    const Picture p = picture::table_view(history.seen(), {});
    const auto& table = std::get<Polygon>(p.items.front().shape);
    CHECK(table.points[2].x - table.points[0].x == doctest::Approx(history.seen().drawing.table.width_mm));
    CHECK(table.points[2].y - table.points[0].y == doctest::Approx(history.seen().drawing.table.depth_mm));
    // The blade is as long as the chord of its circle at the table: Pythagoras, r = 125, h = 60.
    const double half = std::sqrt(125.0 * 125.0 - 65.0 * 65.0);
    const bool found = std::any_of(p.items.begin(), p.items.end(), [&](const picture::Item& i) {
        const auto* s = std::get_if<Polygon>(&i.shape);
        return s != nullptr && s->fill == Role::steel && std::fabs(s->points[2].y - half) < 1e-9 &&
               std::fabs(s->points[0].y + half) < 1e-9;
    });
    CHECK(found);
}

TEST_CASE("a shim moves the fence as marked until the next strip is read") {
    std::vector<session::Action> actions = sessions::read_actions();
    actions.push_back(session::PutThickness{shim::At::left, 0.31});
    const session::History history = sessions::exact(teaching_saw(), actions);
    const picture::Scene scene = picture::scene_of(history.seen(), {});
    // 0.62 mrad over 500 mm is 0.31 mm: the fence is expected square to the second order, 0.62e-3^3/3.
    CHECK(std::fabs(scene.theta / scene.factor) < 1e-9);
    CHECK(scene.shown.cut == 0);
    CHECK(has_words(picture::table_view(history.seen(), {}), "skew expected"));
    CHECK(has_words(picture::table_view(history.seen(), {}), "shim 0.310 mm"));
}

TEST_CASE("everything that can be taken hold of is there") {
    ViewOptions options;
    options.fence_station_mm = 5.0;
    const Picture p = picture::table_view(sessions::run(teaching_saw(), sessions::read_actions()).seen(), options);
    std::set<Handle> handles;
    for (const picture::Item& item : p.items) handles.insert(item.handle);
    for (const Handle h : {Handle::board, Handle::fence, Handle::left_shim_point, Handle::right_shim_point,
                           Handle::caliper_fence_end, Handle::caliper_far_end, Handle::sled}) {
        CHECK(handles.count(h) == 1);
    }
    for (const char* name : {"table", "mitre slot", "blade", "kept", "strip", "fence", "runner", "left shim point",
                             "right shim point", "sled", "feed"})
        CHECK(has_words(p, name));
    CHECK(has_words(p, "fence end"));
    CHECK(has_words(p, "100 mm, true to scale"));
}

TEST_CASE("the truth is drawn only on request, dashed and with its own words") {
    const session::History history = sessions::run(teaching_saw(), sessions::read_actions());
    ViewOptions options;
    options.exaggeration = 50.0;
    CHECK_FALSE(has_words(picture::table_view(history.seen(), options), "true skew"));
    options.revealed = sessions::revealed(history);
    const Picture p = picture::table_view(history.seen(), options);
    CHECK(has_words(p, "true skew"));
    CHECK(has_words(p, "0.62 mm in 1 m"));
    for (const picture::Item& item : p.items) {
        const auto* line = std::get_if<picture::Line>(&item.shape);
        if (line != nullptr && line->line == Role::wrong && line->dashed && line->points.size() == 2)
            CHECK(direction(line->points[0], line->points[1]) == doctest::Approx(50.0 * 0.00062).epsilon(1e-6));
    }
}

TEST_CASE("the fitting exaggeration is round, and smaller for a larger error") {
    double before = 1000.0;
    for (const char* skew : {"0.05mrad", "0.2mrad", "0.6mrad", "2mrad", "8mrad"}) {
        const session::History history = sessions::exact(
            changed(teaching_saw(), {{"faults.fence_skew", skew}, {"board.strip", "40"}}), sessions::read_actions());
        const double factor = picture::fitting_exaggeration(history.seen());
        CHECK(std::set<double>{1, 2, 5, 10, 20, 50, 100, 200, 500}.count(factor) == 1);
        CHECK(factor <= before);
        before = factor;
    }
    CHECK(before <= 5.0);
}

TEST_CASE("a test that gave no strip is still drawn") {
    // The last: 4 * 5 mrad * 300 mm = 6 mm of taper in a strip of 4 mm.
    const std::vector<std::vector<scenario::Override>> cases{
        {{"blade.height", "0"}}, {{"sled.stop", "-200"}}, {{"faults.fence_skew", "5mrad"}, {"board.strip", "4"}}};
    for (const auto& overrides : cases) {
        const scenario::Scenario s = changed(teaching_saw(), overrides);
        const session::History history = sessions::run(s, {session::CutTest{}});
        CAPTURE(overrides.front().key);
        CHECK(history.seen().tests.back().outcome != cut::Outcome::done);
        CHECK(picture::table_view(history.seen(), {}).items.size() > 20);
        CHECK(picture::chart(history.seen(), {}).known == false);
    }
}

TEST_CASE("the strip chart adds one corner a cut, from the readings") {
    const session::History history = sessions::exact(teaching_saw(), sessions::read_actions());
    const picture::Chart chart = picture::chart(history.seen(), {});
    REQUIRE(chart.bars.size() == 5);
    CHECK(chart.known);
    for (int i = 0; i < 5; ++i) {
        const picture::Chart::Bar& bar = chart.bars[static_cast<std::size_t>(i)];
        CHECK(bar.cut == i + 1);
        CHECK(bar.corners == i);
        CHECK(bar.sum_rad == doctest::Approx(i * 0.00062).epsilon(1e-6));
    }
    CHECK(chart.bars[0].label == "–");
    CHECK(chart.bars[4].label == "4×");
    const session::Test& test = history.seen().tests.back();
    CHECK(chart.total ==
          "= " + base::show_small(test.fence_end[0].value_mm - test.far_end[0].value_mm, base::Units::metric));
    ViewOptions half;
    half.cut = 3;
    half.travel = 0.4;
    CHECK(picture::chart(history.seen(), half).bars.size() == 2);
    CHECK(picture::chart(sessions::run(teaching_saw(), {}).seen(), {}).bars.empty());
    const picture::Chart unread = picture::chart(sessions::run(teaching_saw(), {session::CutTest{}}).seen(), {});
    CHECK(unread.bars.size() == 5);
    CHECK_FALSE(unread.known);
    CHECK(unread.bars[4].sum_rad == 0.0);
    CHECK(unread.total.empty());
}

TEST_CASE("words of the strip chart keep off the zero line, however square the fence is") {
    for (const char* skew : {"0mrad", "0.004mrad", "-0.004mrad", "0.02mrad", "-0.05mrad", "0.2mrad", "-2mrad"}) {
        CAPTURE(skew);
        const Picture p = picture::sheet(
            sessions::exact(changed(teaching_saw(), {{"faults.fence_skew", skew}}), sessions::read_actions()).seen(),
            {});
        const picture::Fit fit = picture::fit(p, 1000.0, 900.0);
        const auto line = std::find_if(p.items.begin(), p.items.end(),
                                       [](const picture::Item& i) { return i.handle == Handle::zero_line; });
        REQUIRE(line != p.items.end());
        const base::Vec2 zero = fit.page(std::get<picture::Line>(line->shape).points.front());
        int seen = 0;
        for (const picture::Item& item : p.items) {
            const auto* w = std::get_if<picture::Words>(&item.shape);
            if (w == nullptr || w->at.y > p.hi.y) continue;
            const picture::Box b = picture::box_of(*w, fit);
            CAPTURE(w->text);
            CHECK((b.bottom <= zero.y || b.top >= zero.y));
            seen += w->text.ends_with("×") || w->text.starts_with("= ") || w->text.starts_with("over ");
        }
        CHECK(seen == 6);  // four columns, the sum and what it is over
    }
}

TEST_CASE("the sheet's columns and its tolerance are drawn to one scale") {
    // Exact readings of 0.05 mrad against a tolerance of 0.35: the last column, four corners, is 0.2 / 0.35 as high as
    // the band is to one side.
    const Picture p = picture::sheet(
        sessions::exact(changed(teaching_saw(), {{"faults.fence_skew", "0.05mrad"}, {"tolerance.corner", "0.35mrad"}}),
                        sessions::read_actions())
            .seen(),
        {});
    double band = 0.0;
    double last = 0.0;
    for (const picture::Item& item : p.items) {
        const auto* q = std::get_if<Polygon>(&item.shape);
        if (q == nullptr || q->points.size() != 4) continue;
        const double height = q->points[2].y - q->points[0].y;
        if (q->fill == Role::good_fill) band = 0.5 * height;
        if (q->line == Role::read && q->fill == Role::read) last = height;
    }
    CHECK(last / 0.92 ==
          doctest::Approx(0.05 / 0.35 * band)
              .epsilon(1e-3));  // a block is 0.92 of its step; the readings are exact to 1e-6 of the skew
}

TEST_CASE(
    "a rough first edge is drawn as a parallelogram, at a factor that is named, until the third cut takes it off") {
    for (const char* kept : {"left", "right"}) {
        for (const double mrad : {3.0, -3.0}) {
            CAPTURE(kept);
            CAPTURE(mrad);
            const auto s = changed(
                teaching_saw(),
                {{"board.first_edge", std::to_string(mrad) + "mrad"}, {"board.kept", kept}, {"board.trim", "20mm"}});
            const session::History t = sessions::run(s, {session::CutTest{}});
            ViewOptions options;
            options.exaggeration = 10.0;
            options.cut = 1;
            options.travel = 0.0;
            const Polygon board = polygon_with(picture::table_view(t.seen(), options), Handle::board);
            // The rough board of the cut room is a parallelogram whose far end stands aside by length *
            // tan(first_edge), towards +x for an angle > 0, whatever side is kept.
            Vec2Pair side = long_side(board.points);
            const double lean = std::atan2(side.top.x - side.bottom.x, side.top.y - side.bottom.y);
            CHECK(lean == doctest::Approx(10.0 * mrad * 1e-3)
                              .epsilon(0.002)
                              .scale(0));  // drawn as a tangent in one place, as an angle
                                           // in another: x^2 / 3 at 0.03 is 0.0003
            options.cut = 4;
            for (const double angle :
                 angles_from(polygon_with(picture::table_view(t.seen(), options), Handle::board).points, {0.0, 0.0})) {
                // Inside or, where the mirror image runs clockwise, outside.
                CHECK(std::min(angle, 2.0 * base::pi - angle) == doctest::Approx(base::pi / 2.0).epsilon(1e-9));
            }
        }
    }
    CHECK(has_words(picture::table_view(sessions::run(teaching_saw(), {}).seen(), {}),
                    "error hidden until measured, rough edge ×20"));
}
