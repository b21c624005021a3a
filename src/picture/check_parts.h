// Parts of the sketches of checks. Points from the top left, y DOWN, 360 by 210.
#pragma once

#include <string>

#include "picture/parts.h"

namespace offsquare::picture::sketch {

inline constexpr double width = 360.0;
inline constexpr double height = 210.0;

inline Vec2 at(double x, double y) { return {x, -y}; }
inline std::vector<Vec2> box(double x0, double y0, double x1, double y1) { return rectangle(x0, -y1, x1, -y0); }

/// One sketch in the making.
struct Sketch {
    Picture out;

    void shape(Shape s) { add(out, std::move(s)); }
    void name(double x, double y, const std::string& text, Align align = Align::middle) {
        word(x, y, text, Role::text, align, Weight::regular);
    }
    /// The word at the instrument.
    void tool(double x, double y, const std::string& text, Align align = Align::middle) {
        word(x, y, text, Role::read, align, Weight::semibold);
    }
    void word(double x, double y, const std::string& text, Role role, Align align, Weight weight) {
        shape(Words{at(x, y), {}, text, role, 12.5, weight, align});
    }
    void arrow(double x0, double y0, double x1, double y1, Role role = Role::read) {
        shape(Line{{at(x0, y0), at(x1, y1)}, role, 1.6, false, true});
    }
    void line(double x0, double y0, double x1, double y1, Role role, double stroke = 1.4) {
        shape(Line{{at(x0, y0), at(x1, y1)}, role, stroke});
    }
    void wood(std::vector<Vec2> points) { shape(Polygon{std::move(points), Role::board, Role::grain, 1.2}); }

    // ---- the saw ----
    void table(double x0, double y0, double x1, double y1);  ///< from above
    void slot(double x, double y0, double y1);               ///< from above, 14 wide
    void blade_from_above(double x, double y0, double y1);
    void fence(double x0, double x1, double y,
               double belly);                               ///< from above; the face is its upper side, bellied upwards
    void base(double x0, double y0, double x1, double y1);  ///< of the sled, from above

    // ---- instruments, blue ----
    void indicator(double x, double y, double dx,
                   double dy);  ///< its tip at x, y; (dx, dy) leads back to its dial, 40 long
    void caliper(double x, double y0, double y1,
                 double out_to);  ///< two jaws that hold what lies between y0 and y1; its beam at out_to beside them
    void straightedge(double x0, double y0, double x1, double y1);  ///< a steel bar, horizontal, in a box
    void square(double x, double y, double stock, double blade);    ///< inner corner at x, y; the stock goes left by
                                                                  ///< `stock` (right below 0), the blade up by `blade`
    void feeler(double x, double y, double dx,
                double dy);                    ///< a leaf whose end is pushed in at x, y, from (dx, dy) off
    void bar(double x0, double x1, double y);  ///< between two walls
    /// A strip with its ends to be read: wide at the left, `taper` narrower at the right.
    void strip(double x0, double x1, double y, double wide, double taper);
};

}  // namespace offsquare::picture::sketch
