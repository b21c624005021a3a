#include "picture/table_view.h"

#include <cmath>

#include <fmt/format.h>

#include "picture/draw_truth.h"
#include "picture/parts.h"

namespace offsquare::picture {
namespace {

std::string title_of(const session::Seen& seen, const Scene& scene, const ViewOptions& options) {
    const std::string what = scene.shown.cut == 0 ? "the board ready on the sled"
                                                  : fmt::format("cut {} of the five-cut test", scene.shown.cut);
    const std::string how = error_hidden(scene, options) ? "error hidden until measured"
                                                         : fmt::format("angles drawn ×{:.6g}", scene.factor);
    return fmt::format("{}: the table from above, {}, {}.", seen.title, what, how);
}

}  // namespace

Picture table_view(const session::Seen& seen, const ViewOptions& options) {
    const Scene scene = scene_of(seen, options);
    Picture out;
    out.title = title_of(seen, scene, options);
    set_bounds(scene, out);
    add_table(scene, out);
    add_base(scene, out);
    add_fence(scene, out);
    const OffcutPile offcuts = offcut_pile(scene, out.hi.y - out.lo.y);
    add_offcuts(scene, offcuts, out);
    add_pieces(scene, out);
    add_clamps(scene, out);
    add_blade(scene, out);
    // Under the words: a slot runs the whole length of the table.
    const TrueShapes truth = options.revealed ? true_shapes(*options.revealed, scene) : TrueShapes{};
    if (options.revealed) add_true_shapes(truth, out);
    add_calipers(scene, options, out);
    add_names(scene, options, out);
    if (!options.few_words) add_offcut_names(scene, offcuts, out);
    const bool grips = options.grips && scene.shown.cut == 0;
    if (grips) add_grips(scene, out);
    if (options.revealed) {
        if (grips) add_fence_grip(truth, out);
        add_true_skew_words(scene, truth, options, out);
    }
    add_readings(scene, options, out);
    add_band(scene, options, out);
    return out;
}

}  // namespace offsquare::picture
