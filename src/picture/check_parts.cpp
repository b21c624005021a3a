#include "picture/check_parts.h"

#include <cmath>

namespace offsquare::picture::sketch {

void Sketch::table(double x0, double y0, double x1, double y1) {
    shape(Polygon{box(x0, y0, x1, y1), Role::table, Role::table_edge, 1.2, false, 1.0, 4.0});
}

void Sketch::slot(double x, double y0, double y1) {
    shape(Polygon{box(x - 7.0, y0, x + 7.0, y1), Role::slot, Role::table_edge, 1.0});
}

void Sketch::blade_from_above(double x, double y0, double y1) {
    shape(Polygon{box(x - 2.0, y0, x + 2.0, y1), Role::steel, Role::none});
}

void Sketch::fence(double x0, double x1, double y, double belly) {
    std::vector<Vec2> points;
    for (int i = 0; i <= 12; ++i) {
        const double t = i / 12.0;
        points.push_back(at(x0 + t * (x1 - x0), y - 4.0 * belly * t * (1.0 - t)));
    }
    points.push_back(at(x1, y + 22.0));
    points.push_back(at(x0, y + 22.0));
    shape(Polygon{std::move(points), Role::wood, Role::grain, 1.4});
}

void Sketch::base(double x0, double y0, double x1, double y1) {
    shape(Polygon{box(x0, y0, x1, y1), Role::wood, Role::grain, 1.2, false, 1.0, 3.0});
}

void Sketch::indicator(double x, double y, double dx, double dy) {
    const double length = std::hypot(dx, dy);
    const double ux = dx / length;
    const double uy = dy / length;
    line(x, y, x + 26.0 * ux, y + 26.0 * uy, Role::read, 2.4);
    shape(Dot{at(x, y), 2.6, Role::read, Role::read});
    shape(Dot{at(x + 40.0 * ux, y + 40.0 * uy), 14.0, Role::read_fill, Role::read});
    line(x + 40.0 * ux, y + 40.0 * uy, x + 40.0 * ux + 6.0, y + 40.0 * uy - 8.0, Role::read, 1.6);
}

void Sketch::caliper(double x, double y0, double y1, double out_to) {
    const double side = out_to > x ? 1.0 : -1.0;
    const auto jaw = [&](double y, double up) {
        shape(Polygon{{at(x, y), at(out_to, y), at(out_to, y + up * 12.0), at(x + side * 5.0, y + up * 7.0)},
                      Role::read_fill,
                      Role::read,
                      1.3});
    };
    shape(
        Polygon{box(std::min(out_to, out_to + side * 8.0), y0 - 13.0, std::max(out_to, out_to + side * 8.0), y1 + 15.0),
                Role::read_fill, Role::read, 1.3});
    jaw(y0, -1.0);
    jaw(y1, 1.0);
}

void Sketch::straightedge(double x0, double y0, double x1, double y1) {
    shape(Polygon{box(x0, y0, x1, y1), Role::read_fill, Role::read, 1.4, false, 1.0, 2.0});
}

void Sketch::square(double x, double y, double stock, double blade) {
    shape(Polygon{box(std::min(x, x - stock), y, std::max(x, x - stock), y + 13.0), Role::read_fill, Role::read, 1.4});
    const double side = stock > 0.0 ? 1.0 : -1.0;
    shape(Polygon{box(std::min(x, x + side * 9.0), y - blade, std::max(x, x + side * 9.0), y + 13.0), Role::read_fill,
                  Role::read, 1.4});
}

void Sketch::feeler(double x, double y, double dx, double dy) {
    line(x, y, x + dx, y + dy, Role::read, 3.4);
    shape(Dot{at(x + dx, y + dy), 5.0, Role::read_fill, Role::read});
}

void Sketch::bar(double x0, double x1, double y) {
    shape(Polygon{box(x0, y - 4.0, x1, y + 4.0), Role::read_fill, Role::read, 1.4, false, 1.0, 4.0});
    for (const double x : {x0, x1}) line(x, y - 8.0, x, y + 8.0, Role::read, 1.8);
}

void Sketch::strip(double x0, double x1, double y, double wide, double taper) {
    wood({at(x0, y - 0.5 * wide), at(x1, y - 0.5 * (wide - taper)), at(x1, y + 0.5 * (wide - taper)),
          at(x0, y + 0.5 * wide)});
}

}  // namespace offsquare::picture::sketch
