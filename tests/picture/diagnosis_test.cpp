// The diagnosis and the sketches of the checks: readable, complete, and never by colour alone.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "picture/overlap.h"
#include "picture/check_view.h"
#include "picture/diagnosis_view.h"
#include "picture/text_size.h"
#include "picture/sessions.h"

using namespace offsquare;
using picture::Box;

namespace {

struct Placed {
    std::string text;
    Box box;
};

std::vector<Placed> words_of(const picture::Picture& p, const picture::Fit& fit) {
    std::vector<Placed> out;
    for (const picture::Item& item : p.items) {
        if (const auto* w = std::get_if<picture::Words>(&item.shape))
            out.push_back({w->text, picture::box_of(*w, fit)});
    }
    return out;
}

void readable(const picture::Picture& p) {
    const picture::Vec2 size = p.hi - p.lo;
    const std::vector<Placed> words = words_of(p, picture::fit(p, size.x, size.y, 0.0));
    for (std::size_t i = 0; i < words.size(); ++i) {
        CAPTURE(words[i].text);
        CHECK(words[i].box.left >= 0.0);
        CHECK(words[i].box.top >= 0.0);
        CHECK(words[i].box.right <= size.x);
        CHECK(words[i].box.bottom <= size.y);
        for (std::size_t j = i + 1; j < words.size(); ++j) {
            CAPTURE(words[j].text);
            CHECK_FALSE(overlap::overlap(words[i].box, words[j].box));
        }
    }
}

/// Findings that no reading gave: every standing, intervals of all kinds, more pairs than brackets, two contradictions.
session::Findings made_up() {
    session::Findings f;
    for (std::size_t i = 0; i < shop::fault_count; ++i) {
        diagnose::Belief& b = f.diagnosis.beliefs[i];
        const shop::FaultInfo& info = shop::faults()[i];
        b.fault = info.fault;
        b.touched = i % 4 != 3;
        b.probability = i % 4 == 0 ? 0.961 : i % 4 == 1 ? 0.5 : 0.01;
        b.size = 0.4 * info.max;
        b.u = 0.1 * info.max;
        b.coverage95 = {i % 2 == 0 ? 0.2 * info.max : -0.9 * std::max(-info.min, 0.0), info.max};
    }
    using shop::Fault;
    f.diagnosis.unseparated = {{Fault::fence_skew, Fault::fence_bow},   {Fault::left_play, Fault::right_play},
                               {Fault::blade_toe, Fault::blade_runout}, {Fault::fence_skew, Fault::runner_bend},
                               {Fault::dust, Fault::clamp_creep},       {Fault::edge_bow, Fault::dust}};
    f.diagnosis.contradictions = {{{measure::Check::five_cut}, 0, 0, 1e-4},
                                  {{measure::Check::long_and_short}, 3, 1, 1e-6}};
    f.next = session::NextCheck{
        measure::Check::runner_spacing,
        "it tells \"fence creeping when clamped\" from \"left slot not straight\" for the fewest minutes (6 minutes)"};
    return f;
}

std::string all_words(const picture::Picture& p) {
    std::string all;
    for (const Placed& w : words_of(p, {})) all += w.text + "\n";
    return all;
}

}  // namespace

TEST_CASE("the diagnosis: no words overlap or leave the page, in both systems of units, narrow and wide") {
    for (const base::Units units : {base::Units::metric, base::Units::imperial}) {
        for (const double width : {760.0, 816.0, 900.0, 1450.0}) {
            for (const double height : {0.0, 640.0, 960.0}) {
                CAPTURE(width);
                CAPTURE(height);
                readable(picture::diagnosis_view(made_up(), {width, height, units, ""}).picture);
                readable(
                    picture::diagnosis_view(made_up(), {width, height, units,
                                                        "A saw with a long title, which somebody wrote on the back of "
                                                        "the notebook and which goes on into a second line of it"})
                        .picture);
            }
        }
    }
}

TEST_CASE(
    "the diagnosis: each fault has one row, none lies on another, all can be pressed; each standing has a word and a "
    "mark of its own shape") {
    const auto view = picture::diagnosis_view(made_up(), {816.0, 640.0, base::Units::metric, ""});
    std::set<shop::Fault> faults;
    double before = 0.0;
    for (const picture::DiagnosisRow& row : view.rows) {
        faults.insert(row.fault);
        CHECK(row.hi.y - row.lo.y >= 24.0 - 1e-9);
        CHECK(row.hi.y <= before + 1e-9);
        before = row.lo.y;
    }
    CHECK(faults.size() == shop::fault_count);
    const std::string words = all_words(view.picture);
    for (const char* word : {"there, 96 in 100", "open, 50 in 100", "ruled out", "not looked at",
                             "Contradiction:", "Next: Spacing of runners and slots", "And 2 more pairs"})
        CHECK_MESSAGE(words.find(word) != std::string::npos, word);
}

TEST_CASE("the diagnosis: of what is ruled out the end of its interval that is farther from zero is told") {
    for (const base::Interval interval : {base::Interval{-0.012, 0.047}, base::Interval{-0.047, 0.012}}) {
        session::Findings f = made_up();
        diagnose::Belief& bow = f.diagnosis.beliefs[static_cast<std::size_t>(shop::Fault::fence_bow)];
        bow.touched = true;
        bow.probability = 0.01;
        bow.coverage95 = interval;
        const std::string words = all_words(picture::diagnosis_view(f, {}).picture);
        CHECK_MESSAGE(words.find("at most 0.047") != std::string::npos, words);
        CHECK(words.find("at most 0.012") == std::string::npos);
    }
}

TEST_CASE("the diagnosis: of what is open the likeliest stands first") {
    session::Findings f = made_up();
    const auto is_at = [&](shop::Fault fault, double probability) {
        diagnose::Belief& b = f.diagnosis.beliefs[static_cast<std::size_t>(fault)];
        b.touched = true;
        b.probability = probability;
    };
    is_at(shop::Fault::fence_bow, 0.3);
    is_at(shop::Fault::left_play, 0.7);
    const auto top_of = [&](shop::Fault fault) {
        const auto view = picture::diagnosis_view(f, {});
        for (const picture::DiagnosisRow& row : view.rows)
            if (row.fault == fault) return row.hi.y;  // y up
        FAIL("no row");
        return 0.0;
    };
    CHECK(top_of(shop::Fault::left_play) > top_of(shop::Fault::fence_bow));
    is_at(shop::Fault::fence_bow, 0.8);
    CHECK(top_of(shop::Fault::left_play) < top_of(shop::Fault::fence_bow));
}

TEST_CASE("the diagnosis: an interval is drawn where its numbers lie, to one scale with its dot") {
    // One fault looked at. The dot's place between the interval's ends must be the mean's place between the limits.
    session::Findings f = made_up();
    for (diagnose::Belief& b : f.diagnosis.beliefs) b.touched = false;
    diagnose::Belief& bow = f.diagnosis.beliefs[static_cast<std::size_t>(shop::Fault::fence_bow)];
    bow.touched = true;
    bow.probability = 0.99;
    bow.coverage95 = {0.2, 0.6};
    bow.size = 0.3;
    double lo = 0.0, hi = 0.0, dot = 0.0;
    const auto view = picture::diagnosis_view(f, {});
    for (const picture::Item& item : view.picture.items) {
        if (const auto* l = std::get_if<picture::Line>(&item.shape);
            l != nullptr && l->line == picture::Role::read && l->points[0].y == l->points[1].y)
            lo = l->points[0].x, hi = l->points[1].x;
        if (const auto* d = std::get_if<picture::Dot>(&item.shape); d != nullptr && d->fill == picture::Role::read)
            dot = d->at.x;
    }
    REQUIRE(hi > lo);
    CHECK((dot - lo) / (hi - lo) == doctest::Approx(0.25).epsilon(1e-9));
}

TEST_CASE(
    "the sketches: each check has its own, with its instrument in blue and a word at it; no words overlap or leave "
    "it") {
    std::set<std::string> titles;
    for (const measure::CheckInfo& check : measure::checks()) {
        CAPTURE(std::string(check.title));
        const picture::Picture p = picture::check_view(check.check);
        titles.insert(p.title);
        readable(p);
        int blue_words = 0;
        int blue_shapes = 0;
        for (const picture::Item& item : p.items) {
            if (const auto* w = std::get_if<picture::Words>(&item.shape)) {
                CHECK(w->size >= 12.0);
                blue_words += w->role == picture::Role::read ? 1 : 0;
            }
            if (const auto* s = std::get_if<picture::Polygon>(&item.shape))
                blue_shapes += s->line == picture::Role::read ? 1 : 0;
            if (const auto* d = std::get_if<picture::Dot>(&item.shape))
                blue_shapes += d->line == picture::Role::read ? 1 : 0;
        }
        CHECK(blue_words > 0);
        CHECK(blue_shapes > 0);
    }
    CHECK(titles.size() == measure::check_count);
}
