#include "picture/check_view.h"

#include <cmath>

#include "picture/check_parts.h"

namespace offsquare::picture {
namespace {

using measure::Check;
using sketch::at;
using sketch::box;
using sketch::Sketch;

// ---- shared scenes ----

/// A strip read at both ends.
void read_strip(Sketch& s, double x1, double y, double wide) {
    s.strip(50.0, x1, y, wide, 8.0);
    s.caliper(62.0, y - 0.5 * wide, y + 0.5 * wide, 30.0);
    s.caliper(x1 - 12.0, y - 0.5 * wide + 4.0, y + 0.5 * wide - 4.0, x1 + 20.0);
}

/// The sled from above, its fence near you and a board against it.
void sled(Sketch& s, bool board) {
    s.table(16, 10, 344, 200);
    s.slot(110, 10, 200);
    s.slot(250, 10, 200);
    s.base(56, 62, 304, 186);
    if (board) s.wood(box(86, 92, 182, 150));
    s.fence(64, 296, 150, 0.0);
    s.blade_from_above(180, 24, 104);
}

/// Table and slots alone, from above, near edge below.
void bare_table(Sketch& s) {
    s.table(16, 10, 344, 200);
    s.slot(110, 10, 200);
    s.slot(250, 10, 200);
}

/// The table cut across: two slots, seen from the front.
void section(Sketch& s, double y, double depth) {
    s.shape(Polygon{{at(16, y), at(84, y), at(84, y + depth), at(124, y + depth), at(124, y), at(236, y),
                     at(236, y + depth), at(276, y + depth), at(276, y), at(344, y), at(344, y + 46), at(16, y + 46)},
                    Role::table,
                    Role::table_edge,
                    1.2});
}

/// A face with a belly and a straightedge that rocks on it; feelers at its open end.
void rocks(Sketch& s, double face_y) {
    s.straightedge(40, face_y - 32, 320, face_y - 18);
    s.feeler(48, face_y - 10, -14, -34);
    s.tool(180, face_y - 42, "straightedge");
    s.tool(16, face_y - 54, "feeler gauge", Align::left);
}

// ---- one sketch for each check ----

void five_cut(Sketch& s) {
    read_strip(s, 310, 96, 40);
    s.name(98, 60, "fence end");
    s.name(262, 60, "far end");
    s.tool(180, 24, "caliper, at both ends");
    s.shape(Line{{at(62, 148), at(298, 148)}, Role::read, 1.6, false, true});
    s.shape(Line{{at(298, 148), at(62, 148)}, Role::read, 1.6, false, true});
    s.tool(180, 172, "tape");
    s.name(180, 100, "strip of the fifth cut");
}

void same_again(Sketch& s) {
    int n = 1;
    for (const double y : {48.0, 108.0, 168.0}) {
        read_strip(s, 300, y, 24);
        s.name(180, y + 4.5, "strip " + std::to_string(n++));
    }
    s.tool(180, 18, "caliper, on each");
}

void brushed(Sketch& s) {
    sled(s, false);
    s.shape(Polygon{box(92, 132, 168, 142), Role::read_fill, Role::read, 1.4, false, 1.0, 3.0});
    for (double x = 96.0; x < 168.0; x += 6.0) s.line(x, 142, x - 2.0, 150, Role::read, 1.2);
    s.arrow(172, 137, 226, 137);
    s.tool(130, 122, "brush");
    s.name(180, 180, "fence", Align::left);
}

void long_and_short(Sketch& s) {
    read_strip(s, 190, 62, 30);
    read_strip(s, 310, 148, 30);
    s.name(120, 66, "short board");
    s.name(186, 152, "long board");
    s.tool(250, 66, "caliper, on both", Align::left);
}

void flip(Sketch& s) {
    s.wood({at(40, 40), at(186, 40), at(180, 152), at(40, 152)});
    s.wood({at(320, 40), at(186, 40), at(192, 152), at(320, 152)});
    s.straightedge(30, 26, 330, 39);
    s.feeler(186, 140, 0, 40);
    s.tool(180, 18, "straightedge");
    s.tool(198, 188, "feeler gauge", Align::left);
    s.name(106, 100, "one piece");
    s.name(258, 92, "the other,");
    s.name(258, 110, "turned over");
}

void square_on_cut(Sketch& s) {
    s.wood({at(50, 30), at(196, 30), at(206, 160), at(50, 160)});
    s.square(206, 160, 110, 122);
    s.feeler(202, 50, 44, -26);
    s.tool(228, 120, "square", Align::left);
    s.tool(252, 20, "feeler gauge", Align::left);
    s.name(120, 100, "board");
    s.name(20, 194, "the edge that lay on the fence", Align::left);
}

void cut_face(Sketch& s) {
    s.wood(box(30, 62, 330, 102));
    for (double x = 46.0; x < 300.0; x += 22.0)
        s.shape(Line{{at(x, 102), at(x + 12, 84), at(x + 18, 62)}, Role::grain, 1.2});
    s.wood(box(30, 132, 330, 172));
    for (double x = 42.0; x < 308.0; x += 11.0)
        s.shape(Line{{at(x + 18, 172), at(x + 12, 152), at(x, 132)}, Role::steel, 1.6});
    s.shape(Dot{at(180, 32), 12.0, Role::read_fill, Role::read, true});
    s.arrow(180, 45, 180, 60);
    s.tool(202, 36, "eye, up to the light", Align::left);
    s.name(30, 120, "front teeth", Align::left);
    s.name(30, 192, "all of it cut again by the rear teeth", Align::left);
}

void kerf_width(Sketch& s) {
    s.wood({at(30, 60), at(200, 60), at(200, 96), at(90, 96), at(90, 110), at(200, 110), at(200, 150), at(30, 150)});
    s.caliper(150, 96, 110, 224);
    s.tool(250, 100, "caliper,", Align::left);
    s.tool(250, 118, "then on the teeth", Align::left);
    s.name(60, 182, "kerf in a scrap", Align::left);
}

void fence_straightedge(Sketch& s) {
    s.fence(30, 330, 128, 16.0);
    rocks(s, 130);
    s.name(180, 172, "fence, from above");
}

void fence_square(Sketch& s) {
    s.shape(Polygon{box(30, 160, 330, 182), Role::wood, Role::grain, 1.2});
    s.shape(Polygon{{at(90, 160), at(140, 160), at(150, 50), at(100, 50)}, Role::wood, Role::grain, 1.4});
    s.square(151, 147, -90, 100);
    s.feeler(146, 132, 0, 0);
    s.feeler(150, 140, 60, -34);
    s.tool(180, 72, "square", Align::left);
    s.tool(218, 112, "feeler gauge", Align::left);
    s.name(86, 110, "fence", Align::right);
    s.name(60, 202, "base, from the side", Align::left);
}

void clamp_watch(Sketch& s) {
    sled(s, false);
    s.indicator(80, 150, 0, -1);
    for (const double x : {72.0, 288.0})
        s.shape(Polygon{box(x - 8, 156, x + 8, 166), Role::steel, Role::none, 1.0, false, 1.0, 2.0});
    s.name(268, 182, "clamp", Align::right);
    s.tool(100, 92, "indicator", Align::left);
}

void edge_straightedge(Sketch& s) {
    std::vector<Vec2> board;
    for (int i = 0; i <= 12; ++i) board.push_back(at(30 + 25.0 * i, 128 - 4.0 * 16.0 * (i / 12.0) * (1.0 - i / 12.0)));
    board.push_back(at(330, 190));
    board.push_back(at(30, 190));
    s.wood(std::move(board));
    rocks(s, 130);
    s.name(180, 160, "board, its edge for the fence");
}

void wiggle(Sketch& s) {
    sled(s, false);
    s.indicator(304, 74, 1, 0);
    s.indicator(304, 150, 1, 0);
    s.arrow(150, 120, 118, 120, Role::text);
    s.arrow(210, 120, 242, 120, Role::text);
    s.name(180, 138, "push to and fro");
    s.tool(330, 52, "indicator", Align::right);
}

void runner_fit(Sketch& s) {
    section(s, 120, 24);
    for (const double x : {90.0, 242.0}) s.shape(Polygon{box(x, 96, x + 28, 140), Role::wood, Role::grain, 1.2});
    s.shape(Polygon{box(30, 82, 330, 100), Role::wood, Role::grain, 1.2});
    s.bar(84, 124, 156);
    s.bar(242, 270, 68);
    s.tool(180, 160, "caliper: slot", Align::left);
    s.tool(256, 52, "caliper: runner");
    s.name(180, 95, "sled, from the front");
}

void runner_spacing(Sketch& s) {
    section(s, 150, 24);
    s.bar(124, 236, 162);
    s.shape(Polygon{box(30, 48, 330, 66), Role::wood, Role::grain, 1.2});
    for (const double x : {90.0, 242.0}) s.shape(Polygon{box(x, 66, x + 28, 100), Role::wood, Role::grain, 1.2});
    s.bar(118, 242, 86);
    s.tool(180, 112, "inside bar: runners");
    s.tool(180, 142, "inside bar: slots");
    s.name(180, 61, "sled");
    s.name(180, 190, "table");
}

void runner_straightedge(Sketch& s) {
    s.fence(30, 330, 128, 16.0);
    rocks(s, 130);
    s.name(180, 172, "left runner, the sled turned over");
}

void slot_widths(Sketch& s) {
    bare_table(s);
    s.bar(117, 243, 34);
    s.bar(117, 243, 176);
    s.tool(180, 60, "inside bar, far edge");
    s.tool(180, 160, "and near edge");
    s.blade_from_above(180, 76, 136);
}

void slot_ride(Sketch& s) {
    bare_table(s);
    s.straightedge(66, 18, 78, 192);
    s.wood(box(103, 92, 117, 122));
    s.indicator(78, 106, 1, 0);
    s.arrow(140, 128, 140, 168);
    s.arrow(140, 84, 140, 44);
    s.tool(152, 48, "block and indicator", Align::left);
    s.line(79, 186, 121, 186, Role::read, 1.2);
    s.tool(126, 190, "straightedge", Align::left);
    s.blade_from_above(180, 76, 136);
}

void tooth_indicator(Sketch& s) {
    bare_table(s);
    s.blade_from_above(180, 40, 170);
    for (const double y : {52.0, 158.0}) {
        s.shape(Polygon{box(103, y - 12, 117, y + 12), Role::steel, Role::none, 1.0, false, 1.0, 2.0});
        s.indicator(178, y, -1, 0);
        s.shape(Dot{at(180, y), 4.0, Role::card, Role::text});
    }
    s.name(192, 108, "blade", Align::left);
    s.tool(192, 56, "rear", Align::left);
    s.tool(192, 162, "front", Align::left);
    s.tool(192, 192, "indicator in the slot", Align::left);
}

void rim_indicator(Sketch& s) {
    std::vector<Vec2> plate;
    for (int i = 0; i <= 24; ++i) {
        const double t = 3.14159265358979 * i / 24.0;
        plate.push_back(at(180 - 110 * std::cos(t), 160 - 110 * std::sin(t)));
    }
    s.shape(Polygon{plate, Role::slot, Role::steel, 2.0});
    s.table(16, 160, 344, 186);
    s.shape(Dot{at(246, 92), 14.0, Role::read_fill, Role::read, true});
    s.line(256, 102, 296, 158, Role::read, 2.4);
    s.shape(Line{{at(120, 90), at(150, 66), at(186, 60)}, Role::text, 1.6, false, true});
    s.name(160, 110, "blade, from its side");
    s.tool(288, 84, "indicator", Align::left);
    s.name(180, 178, "table");
}

void blade_square(Sketch& s) {
    s.table(16, 160, 344, 186);
    s.shape(Polygon{{at(150, 160), at(156, 160), at(166, 40), at(160, 40)}, Role::steel, Role::none});
    s.square(168, 147, -90, 96);
    s.feeler(162, 138, -50, -36);
    s.tool(196, 72, "square", Align::left);
    s.tool(100, 86, "feeler gauge", Align::right);
    s.name(142, 34, "blade, from the front", Align::left);
    s.name(180, 178, "table");
}

/// A caliper lying, its jaws about something `open` wide.
void lying_caliper(Sketch& s, double open) {
    s.shape(Polygon{box(50, 60, 330, 78), Role::read_fill, Role::read, 1.4, false, 1.0, 3.0});
    s.shape(
        Polygon{{at(64, 60), at(110, 60), at(110, 140), at(102, 150), at(64, 90)}, Role::read_fill, Role::read, 1.4});
    s.shape(Polygon{{at(110 + open, 60), at(190 + open, 60), at(190 + open, 90), at(130 + open, 90),
                     at(118 + open, 150), at(110 + open, 140)},
                    Role::read_fill,
                    Role::read,
                    1.4});
    s.tool(250, 54, "caliper");
}

void jaws(Sketch& s) {
    lying_caliper(s, 0.0);
    s.name(134, 150, "wiped and closed", Align::left);
}

void gauge_in_jaws(Sketch& s) {
    lying_caliper(s, 8.0);
    s.shape(Polygon{box(111, 104, 117, 178), Role::steel, Role::none});
    s.tool(134, 172, "feeler gauge between the jaws", Align::left);
}

void push_through(Sketch& s) {
    s.table(40, 20, 320, 120);
    for (const double x : {110.0, 250.0}) s.slot(x, 20, 120);
    s.base(80, 92, 280, 178);
    s.arrow(180, 196, 180, 150, Role::text);
    s.name(190, 196, "never by force", Align::left);
    s.shape(Polygon{box(296, 72, 304, 120), Role::read_fill, Role::read, 1.2});
    s.tool(292, 62, "tape: how far in", Align::right);
}

void board_end(Sketch& s) {
    s.fence(30, 330, 130, 0.0);
    s.wood(box(130, 50, 300, 128));
    s.blade_from_above(300, 20, 128);
    s.indicator(130, 104, -1, 0);
    s.arrow(200, 92, 236, 92, Role::text);
    s.name(215, 76, "does it slide?");
    s.tool(30, 84, "indicator", Align::left);
    s.name(180, 180, "clamped to the fence, away from the blade");
}

void stop_pieces(Sketch& s) {
    for (int i = 0; i < 3; ++i) {
        const double y = 30.0 + 34.0 * i;
        s.wood(box(90, y, 220 + 9.0 * i, y + 22));
        s.name(70, y + 16, std::to_string(i + 1));
    }
    s.bar(90, 238, 152);
    s.tool(164, 176, "caliper: the three lengths");
    s.shape(Polygon{box(276, 96, 306, 126), Role::steel, Role::none});
    s.arrow(262, 110, 274, 110, Role::text);
    s.name(291, 84, "stop block");
}

void second_caliper(Sketch& s) {
    for (const double x : {70.0, 168.0, 266.0}) s.wood(box(x - 8.0 - 0.1 * x, 84, x + 8.0 + 0.1 * x, 118));
    for (const double x : {70.0, 168.0, 266.0}) {
        s.bar(x - 8.0 - 0.1 * x, x + 8.0 + 0.1 * x, 66);
        s.bar(x - 8.0 - 0.1 * x, x + 8.0 + 0.1 * x, 138);
    }
    s.tool(168, 44, "your caliper");
    s.tool(168, 168, "another, at the same places");
}

void half_turn(Sketch& s) {
    for (const double x : {104.0, 256.0}) {
        std::vector<Vec2> plate;
        for (int i = 0; i <= 36; ++i) {
            const double t = 2.0 * 3.14159265358979 * i / 36.0;
            plate.push_back(at(x + 48 * std::cos(t), 92 + 48 * std::sin(t)));
        }
        s.shape(Polygon{plate, Role::slot, Role::steel, 2.0});
        s.shape(Dot{at(x, 92), 12.0, Role::slot, Role::steel, false});
        s.shape(Dot{at(x, 84), 3.0, Role::text, Role::none, false});
        s.shape(Dot{at(x, x < 180.0 ? 60.0 : 124.0), 5.0, Role::text, Role::none, false});
    }
    s.indicator(56, 92, -1, 0);
    s.indicator(304, 92, 1, 0);
    s.arrow(166, 92, 194, 92, Role::text);
    s.name(104, 168, "as found");
    s.name(256, 168, "after half a turn");
    s.tool(180, 198, "indicator at the rim, both times");
}

void diagonals(Sketch& s) {
    s.wood({at(60, 30), at(310, 30), at(296, 164), at(46, 164)});
    s.line(64, 34, 292, 160, Role::read, 1.6);
    s.line(306, 34, 50, 160, Role::read, 1.6);
    s.shape(Polygon{box(40, 156, 58, 174), Role::read_fill, Role::read, 1.4});
    s.tool(178, 80, "tape");
    s.name(178, 186, "panel, both ends cut");
}

using Draws = void (*)(Sketch&);

/// Null for what is no check.
constexpr Draws sketch_of(Check check) {
    switch (check) {
        case Check::five_cut: return five_cut;
        case Check::same_again: return same_again;
        case Check::brushed: return brushed;
        case Check::long_and_short: return long_and_short;
        case Check::flip: return flip;
        case Check::square_on_cut: return square_on_cut;
        case Check::cut_face: return cut_face;
        case Check::kerf_width: return kerf_width;
        case Check::fence_straightedge: return fence_straightedge;
        case Check::fence_square: return fence_square;
        case Check::clamp_watch: return clamp_watch;
        case Check::edge_straightedge: return edge_straightedge;
        case Check::wiggle: return wiggle;
        case Check::runner_fit: return runner_fit;
        case Check::runner_spacing: return runner_spacing;
        case Check::runner_straightedge: return runner_straightedge;
        case Check::slot_widths: return slot_widths;
        case Check::slot_ride: return slot_ride;
        case Check::tooth_indicator: return tooth_indicator;
        case Check::rim_indicator: return rim_indicator;
        case Check::blade_square: return blade_square;
        case Check::jaws: return jaws;
        case Check::gauge_in_jaws: return gauge_in_jaws;
        case Check::push_through: return push_through;
        case Check::board_end: return board_end;
        case Check::stop_pieces: return stop_pieces;
        case Check::second_caliper: return second_caliper;
        case Check::half_turn: return half_turn;
        case Check::diagonals: return diagonals;
    }
    return nullptr;
}
static_assert(sketch_of(static_cast<Check>(measure::check_count)) == nullptr, "measure::check_count counts too few");

}  // namespace

Picture check_view(Check check) {
    Sketch s;
    sketch_of(check)(s);
    s.out.lo = {0.0, -sketch::height};
    s.out.hi = {sketch::width, 0.0};
    s.out.title = "Where the " + std::string(measure::info(check).instrument) +
                  " goes: " + std::string(measure::info(check).title) + ".";
    return s.out;
}

}  // namespace offsquare::picture
