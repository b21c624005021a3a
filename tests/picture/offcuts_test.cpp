// What earlier cuts took off lies aside on the picture: the right pieces, of the right size, in nobody's way.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include "area.h"
#include "picture/text_size.h"
#include "picture/sessions.h"

using namespace offsquare;
using picture::Handle;
using picture::Picture;
using picture::Polygon;
using picture::ViewOptions;
using sessions::changed;

namespace {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Ring = bg::model::polygon<Point>;

/// A general library for areas and meetings of polygons: the second road.
Ring ring(const std::vector<base::Vec2>& points) {
    Ring r;
    for (const base::Vec2& p : points) bg::append(r.outer(), Point{p.x, p.y});
    bg::correct(r);
    return r;
}

std::vector<Ring> laid_aside(const Picture& p) {
    std::vector<Ring> out;
    for (const picture::Item& item : p.items) {
        if (item.handle == Handle::laid_aside) out.push_back(ring(std::get<Polygon>(item.shape).points));
    }
    return out;
}

/// The numbers that stand beside the pieces.
std::vector<std::string> numbers(const Picture& p) {
    std::vector<std::string> out;
    for (const picture::Item& item : p.items) {
        const auto* w = std::get_if<picture::Words>(&item.shape);
        if (w != nullptr && w->text.size() == 1 && w->text[0] >= '1' && w->text[0] <= '9') out.push_back(w->text);
    }
    return out;
}

ViewOptions at(int cut, double travel) {
    ViewOptions options;
    options.cut = cut;
    options.travel = travel;
    return options;
}

/// Of the piece's bounding box, along the fence and away from it [mm].
base::Vec2 size_of(const Ring& r) {
    const auto box = bg::return_envelope<bg::model::box<Point>>(r);
    return {box.max_corner().x() - box.min_corner().x(), box.max_corner().y() - box.min_corner().y()};
}

bool meet(const Ring& a, const Ring& b) {
    std::vector<Ring> common;
    bg::intersection(a, b, common);
    double area = 0.0;
    for (const Ring& r : common) area += bg::area(r);
    return area > 1e-6;
}

}  // namespace

TEST_CASE("what the cuts before took off lies aside, with the numbers of their cuts; scrubbed back it is gone again") {
    const session::History history = sessions::run(scenario::built_in(), sessions::read_actions());
    const std::map<int, std::vector<std::string>> expected{
        {0, {}}, {1, {}}, {2, {"1"}}, {3, {"1", "2"}}, {4, {"1", "2", "3"}}, {5, {"1", "2", "3", "4"}}};
    for (const int cut : {0, 1, 2, 3, 4, 5, 4, 2, 0}) {
        for (const double travel : {0.0, 0.5, 1.0}) {
            CAPTURE(cut);
            const Picture p = picture::table_view(history.seen(), at(cut, travel));
            CHECK(numbers(p) == expected.at(cut));
            CHECK(laid_aside(p).size() == expected.at(cut).size());
        }
    }
    // A shim put in since: a new board lies ready, and nothing was cut off it.
    std::vector<session::Action> actions = sessions::read_actions();
    actions.push_back(session::PutThickness{shim::At::left, 0.3});
    CHECK(laid_aside(picture::table_view(sessions::run(scenario::built_in(), actions).seen(), {})).empty());
}

TEST_CASE("the pieces aside have the sizes that a board loses cut by cut") {
    // By hand, a square saw: 330 along the fence and 320 away from it; trim 8 and kerf 3.2 go with each cut, and the
    // clockwise turn swaps the sides. Cut off are 320, 330 - 11.2 = 318.8, 320 - 11.2 = 308.8 and 318.8 - 11.2 = 307.6
    // mm, each 8 mm wide. Exact arithmetic; 1e-9 mm is left to rounding.
    const auto square = changed(scenario::built_in(), {{"board.first_edge", "0"},
                                                       {"board.width", "330"},
                                                       {"board.length", "320"},
                                                       {"board.trim", "8"},
                                                       {"blade.kerf", "3.2"}});
    const auto pieces = laid_aside(picture::table_view(sessions::run(square, {session::CutTest{}}).seen(), {}));
    REQUIRE(pieces.size() == 4);
    const double lengths[] = {320.0, 318.8, 308.8, 307.6};
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(size_of(pieces[i]).x == doctest::Approx(8.0).epsilon(1e-10));
        CHECK(size_of(pieces[i]).y == doctest::Approx(lengths[i]).epsilon(1e-10));
    }
    // No trim: all of it goes into chips, and nothing is laid aside.
    CHECK(laid_aside(picture::table_view(
                         sessions::run(changed(square, {{"board.trim", "-1"}}), {session::CutTest{}}).seen(), {}))
              .empty());
}

TEST_CASE("asked for the truth, the very pieces of this test lie there; before, their taper tells nothing") {
    const auto askew = changed(scenario::built_in(), {{"faults.fence_skew", "4mrad"}});
    const session::History history = sessions::run(askew, {session::CutTest{}});
    ViewOptions reveal;
    reveal.revealed = sessions::revealed(history);
    const auto pieces = laid_aside(picture::table_view(history.seen(), reveal));
    const auto untold = laid_aside(picture::table_view(history.seen(), {}));
    REQUIRE(pieces.size() == 4);
    REQUIRE(untold.size() == 4);
    for (int cut = 1; cut <= 4; ++cut) {
        const auto i = static_cast<std::size_t>(cut - 1);
        const cut::Piece real = both_sides::cut_of(history).offcut(cut);
        // Moved as it is, neither turned nor stretched: the shoelace sum to rounding.
        CHECK(bg::area(pieces[i]) == doctest::Approx(area::area_mm2(real)).epsilon(1e-9));
        // Law of the trade: corners add up from cut 2 on, so that the fourth piece tapers by 4 * 4 mrad * 308 mm = 4.9
        // mm.
        if (cut == 4) CHECK(std::fabs(bg::area(pieces[i]) - bg::area(untold[i])) > 0.4 * 4.9 * 308.0);
    }
}

TEST_CASE("the pieces aside cover nothing that must be seen") {
    for (const scenario::Scenario& s : sessions::scenarios()) {
        const session::History history = sessions::run(s, {session::CutTest{}});
        for (const int cut : {2, 5}) {
            for (const double travel : {0.0, 1.0}) {
                const Picture p = picture::table_view(history.seen(), at(cut, travel));
                const auto fit = picture::fit(p, 900.0, 560.0);
                CAPTURE(s.title);
                CAPTURE(cut);
                CAPTURE(travel);
                for (const Ring& piece : laid_aside(p)) {
                    for (const picture::Item& item : p.items) {
                        const auto* other = std::get_if<Polygon>(&item.shape);
                        const bool blade = other != nullptr && other->fill == picture::Role::steel;
                        if (item.handle == Handle::fence || item.handle == Handle::board || blade)
                            CHECK_FALSE(meet(piece, ring(other->points)));
                        if (const auto* dot = std::get_if<picture::Dot>(&item.shape))
                            CHECK(bg::distance(piece, Point{dot->at.x, dot->at.y}) * fit.scale > dot->radius);
                        if (const auto* words = std::get_if<picture::Words>(&item.shape)) {
                            const picture::Box b = picture::box_of(*words, fit);
                            const base::Vec2 lo = fit.mm({b.left, b.bottom});
                            const base::Vec2 hi = fit.mm({b.right, b.top});
                            CAPTURE(words->text);
                            CHECK_FALSE(meet(piece, ring({lo, {hi.x, lo.y}, hi, {lo.x, hi.y}})));
                        }
                    }
                }
            }
        }
    }
}
