// The parts of the drawing, each added to a picture from a scene. Back to front is the order of the calls in
// table_view.cpp.
#pragma once

#include <array>

#include "picture/scene.h"

namespace offsquare::picture {

// draw_saw.cpp
void add_table(const Scene& scene, Picture& out);  ///< table, slots, throat plate
void add_blade(const Scene& scene, Picture& out);

// draw_sled.cpp
void add_base(const Scene& scene, Picture& out);   ///< base, front rail, runners, kerf line, the line of a square fence
void add_fence(const Scene& scene, Picture& out);  ///< fence, shims, shim points, the arrow of the skew

// draw_board.cpp
void add_pieces(const Scene& scene, Picture& out);  ///< board, or kept piece and offcut
void add_grips(const Scene& scene, Picture& out);   ///< at the board's free corner and the blade's end
void add_clamps(const Scene& scene, Picture& out);
void add_calipers(const Scene& scene, const ViewOptions& options, Picture& out);

// draw_offcuts.cpp: what earlier cuts took off, laid aside on the base of the sled, as large as it is
struct LaidOffcut {
    int cut = 1;
    std::vector<Vec2> outline;  ///< in S
};
/// On the base beyond the runner, from there outwards in the order of the cuts. `near` is its side towards the blade,
/// `step` from one piece to the next, both away from the blade.
struct OffcutPile {
    std::vector<LaidOffcut> pieces;
    double near = 0.0, step = 0.0, words_y = 0.0;  ///< S, `near` before mirroring
    bool roomy = true;                             ///< beside each piece there is room for its number
};
OffcutPile offcut_pile(const Scene& scene,
                       double page_mm);  ///< `page_mm`: height of the picture, by which words are spaced
void add_offcuts(const Scene& scene, const OffcutPile& pile, Picture& out);
void add_offcut_names(const Scene& scene, const OffcutPile& pile, Picture& out);  ///< the number of its cut beside each

// draw_words.cpp
void set_bounds(const Scene& scene,
                Picture& out);  ///< lo and hi, with room for the names at both sides and a band below
void add_names(const Scene& scene, const ViewOptions& options, Picture& out);
void add_readings(const Scene& scene, const ViewOptions& options, Picture& out);
void add_band(const Scene& scene, const ViewOptions& options, Picture& out);  ///< scale bar and exaggeration
/// Two lines in the left column beside the sled; `up_points` < 0: above where the skew that was read stands.
void add_skew_lines(const Scene& scene, double up_points, const std::string& what, const std::string& figure, Role role,
                    Picture& out);
Vec2 skew_place(const Scene& scene);       ///< the foot of those lines, in T
inline constexpr double line_step = 16.0;  ///< from one line of a name to the next [points]
std::string factor_text(double factor);    ///< "×50"

/// Nothing was measured and the truth is not asked for: the fence is drawn square because nobody knows better.
inline bool error_hidden(const Scene& scene, const ViewOptions& options) {
    return !scene.shown.skew_known && options.revealed == nullptr;
}

/// A skew in few letters: "0.52 mm in 1 m", "−6.3 thou in 12 in", "< 0.01 mm in 1 m".
std::string skew_text(double skew_rad, base::Units units);
std::string skew_number(double skew_rad, base::Units units);  ///< without its unit

// helpers of all
/// Not inlined: at -O3 g++ 12 then takes the shapes that this one is not for uninitialised ones.
[[gnu::noinline]] inline void add(Picture& out, Shape shape, Handle handle = Handle::none) {
    out.items.push_back({std::move(shape), handle});
}
inline std::vector<Vec2> rectangle(double x0, double y0, double x1, double y1) {
    return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}
/// Grain between two sides of a piece: lines from one to the other, a little uneven. `from` and `to` are the sides'
/// ends.
void add_grain(Vec2 from0, Vec2 to0, Vec2 from1, Vec2 to1, double spacing_mm, double alpha, Picture& out);

/// Where the two clamps stand on the face of the fence, in S.
std::array<Vec2, 2> clamp_feet(const Scene& scene);
/// y in S of the middle of the strip as it falls.
double strip_middle(const Scene& scene);
/// Where the strip's readings are shown: y in S for a station from the fence end [mm along the old edge].
double station_y(const Scene& scene, double from_fence_mm);
/// Stations of the two places, from the fence end; empty when neither read nor placed.
std::optional<double> fence_station(const Scene& scene, const ViewOptions& options);
std::optional<double> far_station(const Scene& scene, const ViewOptions& options);

}  // namespace offsquare::picture
