// Words must be readable: none over another, none outside the page, all with enough contrast.
#include <doctest/doctest.h>

#include <cmath>

#include "picture/overlap.h"
#include "picture/text_size.h"
#include "picture/sessions.h"

using namespace offsquare;
using picture::Box;
using picture::Role;

namespace {

struct Placed {
    std::string text;
    Box box;
};

std::vector<Placed> placed_words(const picture::Picture& p, const picture::Fit& fit) {
    std::vector<Placed> out;
    for (const picture::Item& item : p.items) {
        if (const auto* w = std::get_if<picture::Words>(&item.shape))
            out.push_back({w->text, picture::box_of(*w, fit)});
        if (const auto* t = std::get_if<picture::Tag>(&item.shape))
            out.push_back({t->word + " " + t->figure, picture::box_of(*t, fit)});
    }
    return out;
}

void check_page(const picture::Picture& p, double width, double height) {
    const std::vector<Placed> words = placed_words(p, picture::fit(p, width, height));
    for (std::size_t i = 0; i < words.size(); ++i) {
        const Box& a = words[i].box;
        CAPTURE(words[i].text);
        CHECK(a.left >= 0.0);
        CHECK(a.top >= 0.0);
        CHECK(a.right <= width);
        CHECK(a.bottom <= height);
        for (std::size_t j = i + 1; j < words.size(); ++j) {
            CAPTURE(words[j].text);
            CHECK_FALSE(overlap::overlap(a, words[j].box));
        }
    }
}

void check_pictures(const session::History& history, const picture::ViewOptions& options) {
    const picture::Picture view = picture::table_view(history.seen(), options);
    check_page(view, 900.0, 560.0);
    check_page(view, 1400.0, 900.0);
    check_page(picture::sheet(history.seen(), options), 1000.0, 900.0);
}

/// WCAG 2.2 contrast ratio, from the definition of relative luminance.
double luminance(picture::Rgba c) {
    const auto channel = [](std::uint8_t v) {
        const double s = v / 255.0;
        return s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * channel(c.r) + 0.7152 * channel(c.g) + 0.0722 * channel(c.b);
}
double contrast(Role a, Role b, picture::Scheme scheme) {
    const double x = luminance(picture::colour_of(a, scheme)) + 0.05;
    const double y = luminance(picture::colour_of(b, scheme)) + 0.05;
    return std::max(x, y) / std::min(x, y);
}

}  // namespace

TEST_CASE("no words overlap or leave the page, at any stage of any scenario") {
    for (const scenario::Scenario& s : sessions::scenarios()) {
        for (const sessions::Stage& stage : sessions::stages(s)) {
            const session::History history = sessions::run(s, stage.actions);
            for (const double factor : {1.0, picture::fitting_exaggeration(history.seen()), 500.0}) {
                for (const base::Units units : {base::Units::metric, base::Units::imperial}) {
                    picture::ViewOptions options;
                    options.exaggeration = factor;
                    options.units = units;
                    if (factor == 500.0) options.revealed = sessions::revealed(history);
                    CAPTURE(s.title);
                    CAPTURE(stage.name);
                    CAPTURE(factor);
                    check_pictures(history, options);
                }
            }
        }
    }
}

TEST_CASE("in a small place few words stand, and none over another") {
    for (const scenario::Scenario& s : sessions::scenarios()) {
        for (const sessions::Stage& stage : sessions::stages(s)) {
            const session::History history = sessions::run(s, stage.actions);
            picture::ViewOptions options;
            options.exaggeration = picture::fitting_exaggeration(history.seen());
            options.few_words = true;
            CAPTURE(s.title);
            CAPTURE(stage.name);
            check_page(picture::table_view(history.seen(), options), 760.0, 250.0);
        }
    }
}

TEST_CASE("the clamps are named") {
    for (const scenario::Scenario& s : sessions::scenarios()) {
        CAPTURE(s.title);
        const picture::Picture p = picture::table_view(sessions::run(s, {}).seen(), {});
        const auto words = placed_words(p, picture::fit(p, 900.0, 560.0));
        CHECK(std::any_of(words.begin(), words.end(), [](const Placed& w) { return w.text == "clamps"; }));
    }
}

TEST_CASE("no words overlap while the cuts run") {
    for (const scenario::Scenario& s : sessions::scenarios()) {
        for (const sessions::Stage& stage : sessions::stages(s)) {
            if (stage.name != "cut" && stage.name != "read") continue;
            const session::History history = sessions::run(s, stage.actions);
            for (int cut = 0; cut <= 5; ++cut) {
                for (const double travel : {0.0, 0.3, 0.7, 0.82, 0.95, 1.0}) {
                    picture::ViewOptions options;
                    options.exaggeration = picture::fitting_exaggeration(history.seen());
                    options.cut = cut;
                    options.travel = travel;
                    CAPTURE(s.title);
                    CAPTURE(cut);
                    CAPTURE(travel);
                    check_page(picture::table_view(history.seen(), options), 900.0, 560.0);
                }
            }
        }
    }
}

TEST_CASE("words and marks have the contrast that WCAG 2.2 asks for, in both schemes") {
    for (const picture::Scheme scheme : {picture::Scheme::light, picture::Scheme::dark}) {
        for (const Role ground : {Role::card, Role::ground, Role::table, Role::wood, Role::board})
            CHECK(contrast(Role::text, ground, scheme) >= 4.5);
        for (const Role ground : {Role::card, Role::ground}) {
            for (const Role ink : {Role::quiet, Role::read, Role::good}) CHECK(contrast(ink, ground, scheme) >= 4.5);
        }
        CHECK(contrast(Role::wrong, Role::card, scheme) >= 4.5);
        CHECK(contrast(Role::read, Role::read_fill, scheme) >= 4.5);
        CHECK(contrast(Role::good, Role::good_fill, scheme) >= 4.5);
        CHECK(contrast(Role::wrong, Role::wood, scheme) >= 3.0);
        for (const Role ground : {Role::table, Role::wood, Role::board})
            CHECK(contrast(Role::steel, ground, scheme) >= 3.0);
    }
}
