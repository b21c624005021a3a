#include "picture/door_view.h"

#include <array>
#include <cmath>

#include "picture/parts.h"

namespace offsquare::picture {
namespace {

constexpr double door_width = 200.0;
constexpr double door_height = 120.0;

Polygon box(double x, double y, double w, double h, Role fill, Role line = Role::none) {
    Polygon p;
    p.points = {{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}};
    p.fill = fill;
    p.line = line;
    return p;
}

Polygon shape(std::vector<Vec2> points, Role fill, Role line) {
    Polygon p;
    p.points = std::move(points);
    p.fill = fill;
    p.line = line;
    return p;
}

Line stroke(std::vector<Vec2> points, Role role, double thick, bool dashed = false) {
    Line l;
    l.points = std::move(points);
    l.line = role;
    l.stroke = thick;
    l.dashed = dashed;
    return l;
}

/// What the caliper read there.
void reading(Picture& out, Vec2 at, double to_x, const char* figure) {
    Tag t;
    t.at = at;
    t.nudge = {to_x - at.x, 0.0};
    t.word = figure;
    add(out, std::move(t));
}

/// Where the caliper stands, without figures.
void caliper(Picture& out) {
    for (const Vec2 at : {Vec2{83.2, 98.0}, Vec2{90.4, 30.0}}) {
        add(out, stroke({{58.0, at.y}, at}, Role::read, 2.0));
        add(out, stroke({at, {122.0, at.y}}, Role::read, 1.4, true));
        add(out, box(122.0, at.y - 11.0, 54.0, 22.0, Role::read_fill, Role::read));
    }
}

/// The strip, wider at the fence, with what was read at its two ends.
void my_saw(Picture& out, base::Units units, bool small) {
    const bool metric = units == base::Units::metric;
    add(out, box(22.0, 6.0, 156.0, 9.0, Role::wood, Role::grain));
    add(out, shape({{58.0, 16.0}, {92.0, 16.0}, {82.0, 110.0}, {58.0, 110.0}}, Role::board, Role::grain));
    for (const double x : {65.0, 71.5}) add(out, stroke({{x, 22.0}, {x + 0.8, 104.0}}, Role::grain, 0.8));
    if (small) return caliper(out);
    reading(out, {83.2, 98.0}, 108.0, metric ? "10.63" : "0.4185");
    reading(out, {90.4, 30.0}, 108.0, metric ? "10.95" : "0.4310");
}

/// The sled from above: the fence a little off, the board on it, the blade through both.
void learn(Picture& out, bool small) {
    for (const double x : {64.0, 130.0}) add(out, box(x, 0.0, 7.0, door_height, Role::slot));
    add(out, box(24.0, 14.0, 152.0, 84.0, Role::wood, Role::grain));
    for (const double y : {30.0, 46.0, 62.0, 78.0})
        add(out, stroke({{30.0, y}, {78.0, y + 1.5}, {126.0, y - 1.0}, {170.0, y + 0.5}}, Role::grain, 0.7));
    add(out, shape({{38.0, 27.5}, {98.0, 31.8}, {93.6, 92.7}, {33.6, 88.4}}, Role::board, Role::grain));
    add(out, stroke({{25.0, 28.0}, {175.0, 28.0}}, Role::quiet, 1.0, true));
    add(out, shape({{25.0, 14.4}, {176.0, 25.3}, {175.2, 36.5}, {24.2, 25.6}}, Role::wood, Role::grain));
    add(out, stroke({{101.5, 40.0}, {101.5, 112.0}}, Role::steel, small ? 2.6 : 4.5));
    for (const Vec2 at : {Vec2{34.0, 20.7}, Vec2{166.0, 30.2}}) {
        Dot d;
        d.at = at;
        d.radius = small ? 2.2 : 3.6;
        d.centre = false;
        add(out, d);
    }
}

/// How likely each suspect is.
void practise(Picture& out, bool small) {
    constexpr std::array<double, 5> shares{1.0, 0.63, 0.42, 0.2, 0.08};
    constexpr double left = 44.0, whole = 126.0, high = 11.0;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        const double y = 94.0 - 20.5 * static_cast<double>(i);
        const bool first = i == 0;
        add(out, box(left, y, whole, high, Role::ground, Role::hairline));
        add(out, box(left, y, whole * shares[i], high, first ? Role::wrong : Role::steel));
        if (!first) {
            Dot d;
            d.at = {27.0, y + high / 2.0};
            d.radius = small ? 2.2 : 4.6;
            add(out, d);
            continue;
        }
        add(out, shape({{27.0, y + 13.5}, {19.0, y - 1.0}, {35.0, y - 1.0}}, Role::wrong, Role::none));
        add(out, stroke({{27.0, y + 8.8}, {27.0, y + 4.4}}, Role::card, 1.8));
        add(out, stroke({{27.0, y + 2.4}, {27.0, y + 1.0}}, Role::card, 1.8));
    }
}

/// One value turned, and what the cut makes of it.
void what_if(Picture& out, bool small) {
    add(out, box(14.0, 16.0, 172.0, 24.0, Role::good_fill));
    add(out, stroke({{14.0, 28.0}, {186.0, 28.0}}, Role::quiet, 1.0));
    std::vector<Vec2> curve;
    for (int i = 0; i <= 24; ++i) {
        const double x = i / 24.0;
        curve.push_back({18.0 + 164.0 * x, 25.0 + 82.0 * x * x * (0.4 + 0.6 * x)});
    }
    constexpr std::size_t here = 16;
    add(out, stroke({{curve[here].x, 8.0}, {curve[here].x, 112.0}}, Role::quiet, 1.2, true));
    const Vec2 now = curve[here];
    add(out, stroke(std::move(curve), Role::read, 2.4));
    Dot d;
    d.at = now;
    d.radius = small ? 4.5 : 6.5;
    d.line = Role::read;
    d.centre = !small;
    add(out, d);
}

/// The corner error adding up, and the question that goes with it.
void show_class(Picture& out, bool small) {
    Words question;
    question.at = {100.0, 98.0};
    question.text = "Which end is wider?";
    question.role = Role::text;
    question.size = 14.0;
    question.weight = Weight::semibold;
    question.align = Align::middle;
    if (!small) add(out, std::move(question));
    for (int cut = 1; cut <= 4; ++cut) {
        for (int i = 1; i <= cut; ++i) {
            const bool newest = i == cut;
            add(out, box(30.0 + 38.0 * (cut - 1), 14.0 + 17.5 * (i - 1), 26.0, 15.0,
                         newest ? Role::read : Role::read_fill, Role::read));
        }
    }
    add(out, stroke({{18.0, 11.0}, {182.0, 11.0}}, Role::quiet, 1.0));
}

}  // namespace

Picture door_view(Door door, base::Units units, bool small) {
    Picture out;
    out.lo = {0.0, 0.0};
    out.hi = {door_width, door_height};
    switch (door) {
        case Door::my_saw: my_saw(out, units, small); break;
        case Door::learn: learn(out, small); break;
        case Door::practise: practise(out, small); break;
        case Door::what_if: what_if(out, small); break;
        case Door::show_class: show_class(out, small); break;
    }
    return out;
}

}  // namespace offsquare::picture
