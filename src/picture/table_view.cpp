#include "picture/table_view.h"

#include <cmath>

#include <fmt/format.h>

#include "picture/parts.h"
#include "session/reveal.h"

namespace offsquare::picture {
namespace {

std::string title_of(const session::Seen& seen, const Scene& scene) {
    const std::string what = scene.shown.cut == 0 ? "the board ready on the sled"
                                                  : fmt::format("cut {} of the five-cut test", scene.shown.cut);
    return fmt::format("{}: the table from above, {}, angles drawn ×{:.6g}.", seen.title, what, scene.factor);
}

double true_skew(const session::Revealed& revealed, const Scene& scene) {
    return scene.shown.revealed == nullptr ? revealed.skew_now_rad : scene.shown.revealed->skew_rad;
}

}  // namespace

Picture table_view(const session::Seen& seen, const ViewOptions& options) {
    const Scene scene = scene_of(seen, options);
    Picture out;
    out.title = title_of(seen, scene);
    set_bounds(scene, out);
    add_table(scene, out);
    add_base(scene, out);
    add_fence(scene, out);
    const OffcutPile offcuts = offcut_pile(scene, out.hi.y - out.lo.y);
    add_offcuts(scene, offcuts, out);
    add_pieces(scene, out);
    add_clamps(scene, out);
    add_blade(scene, out);
    add_calipers(scene, options, out);
    add_names(scene, options, out);
    if (!options.few_words) add_offcut_names(scene, offcuts, out);
    const bool grips = options.grips && scene.shown.cut == 0;
    if (grips) add_grips(scene, out);
    if (options.revealed) {
        const double skew = true_skew(*options.revealed, scene);
        const double factor = factor_that_fits(skew, scene.factor);
        add_true_fence(scene, skew, factor, out);
        if (grips) add_fence_grip(scene, skew, factor, out);
        add_true_skew_words(scene, skew, factor, options, out);
    }
    add_readings(scene, options, out);
    add_band(scene, options, out);
    return out;
}

}  // namespace offsquare::picture
