#include "picture/parts.h"

namespace offsquare::picture {

void add_table(const Scene& scene, Picture& out) {
    const shop::Drawing& d = scene.drawing();
    const double half = 0.5 * d.table.width_mm;
    const double deep = 0.5 * d.table.depth_mm;
    Polygon table{rectangle(-half, -deep, half, deep), Role::table, Role::table_edge, 1.2, false, 1.0, 6.0};
    add(out, table);
    for (const double x : {d.slots.left_x_mm, d.slots.right_x_mm}) {
        const double w = 0.5 * d.slots.width_mm;
        add(out, Polygon{rectangle(x - w, -deep, x + w, deep), Role::slot, Role::table_edge, 1.0});
    }
    const double plate = 0.5 * scene.chord + 42.0;
    add(out, Polygon{rectangle(-18.0, -plate, 18.0, plate), Role::slot, Role::table_edge, 1.0, false, 0.6, 5.0});
    add(out,
        Polygon{rectangle(-3.4, -plate + 26.0, 3.4, plate - 26.0), Role::card, Role::table_edge, 0.8, false, 1.0, 3.0});
}

void add_blade(const Scene& scene, Picture& out) {
    if (scene.chord <= 0.0) return;
    const double half = 0.5 * scene.drawing().blade.kerf_mm;
    add(out, Polygon{rectangle(-half, -0.5 * scene.chord, half, 0.5 * scene.chord), Role::steel, Role::steel, 0.8,
                     false, 1.0, half});
}

}  // namespace offsquare::picture
