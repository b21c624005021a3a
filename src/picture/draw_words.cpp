#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "picture/parts.h"

namespace offsquare::picture {
namespace {

/// Room for names beside the table, and for the band below, as shares of the height that the table and the sled's way
/// take.
constexpr double column_share = 0.28;
constexpr double band_share = 0.075;

double lowest(const Scene& scene, double sled_y) {
    const shop::Drawing& d = scene.drawing();
    const double fence = std::min(scene.face(-0.5 * d.fence.length_mm), scene.face(0.5 * d.fence.length_mm)) -
                         d.fence.thickness_mm - 6.0;
    return std::min(-0.5 * d.table.depth_mm, sled_y + std::min(scene.rear(), fence));
}

double band_y(const Picture& out) { return out.lo.y + 0.36 * band_share / (1.0 + band_share) * (out.hi.y - out.lo.y); }

void name_at(Picture& out, Vec2 at, Vec2 nudge, std::string text, Align align = Align::left, Role role = Role::text) {
    add(out, Words{at, nudge, std::move(text), role, 12.5, Weight::regular, align});
}

double free_table_above(const Scene& scene) {
    return 0.5 * scene.drawing().table.depth_mm - (scene.sled_y + scene.front());
}

/// The name of the blade stands on the table or on the base, not across the edges of the rail.
double clear_of_rail(const Scene& scene, double y) {
    const double front = scene.sled_y + scene.front();
    if (y < front - scene.rail() - 24.0 || y > front + 8.0) return y;
    const double above = front + 14.0;
    return above < 0.5 * scene.drawing().table.depth_mm - 22.0 ? above : front - scene.rail() - 26.0;
}

/// Names on the table: only while the sled leaves it bare.
void add_table_names(const Scene& scene, bool few, Picture& out) {
    const shop::Drawing& d = scene.drawing();
    const double top = 0.5 * d.table.depth_mm;
    if (!few && free_table_above(scene) > 42.0) {
        name_at(out, {-0.5 * d.table.width_mm, top}, {12.0, 21.0}, "table");
        name_at(out, {d.slots.right_x_mm + 0.5 * d.slots.width_mm, top}, {8.0, 21.0}, "mitre slot");
    }
    // On the kept side: the other one is full of what is cut off.
    const double side = -scene.mirror;
    const Vec2 tip{side * (0.5 * d.blade.kerf_mm + 1.0), 0.5 * scene.chord - 6.0};
    const Vec2 foot{side * 44.0, clear_of_rail(scene, 0.5 * scene.chord + 58.0)};
    if (scene.chord > 0.0) add(out, Line{{foot, tip}, Role::text, 1.0, false, false, 0.8});
    name_at(out, foot, {side * 4.0, 0.0}, scene.chord > 0.0 ? "blade" : "blade (down)",
            side > 0.0 ? Align::left : Align::right);
}

/// Letters on the fence need a fence thick enough; else they stand on the base before it.
void add_fence_name(const Scene& scene, Picture& out) {
    const shop::Fence& f = scene.drawing().fence;
    const double x = 0.20 * f.length_mm * scene.mirror;
    if (f.thickness_mm >= 30.0)
        return name_at(out, scene.table({x, scene.face(x) - 0.5 * f.thickness_mm}), {0.0, 4.5}, "fence", Align::middle);
    const double clear = scene.mirror * (0.5 * f.length_mm - 30.0);
    name_at(out, scene.table({clear, scene.face(clear)}), {0.0, -7.0}, "fence",
            scene.mirror > 0.0 ? Align::right : Align::left);
}

void add_sled_names(const Scene& scene, Picture& out) {
    const shop::Drawing& d = scene.drawing();
    const double half = 0.5 * d.sled.width_mm;
    const double page = out.hi.y - out.lo.y;  // the names keep clear of the strip's, which stands at its middle
    const double middle = strip_middle(scene);
    const bool left_kept = scene.mirror > 0.0;
    // Beside the runner, on the blade's side: beyond it lies what was cut off.
    const double slot =
        left_kept ? d.slots.right_x_mm - 0.4 * d.slots.width_mm : d.slots.left_x_mm + 0.4 * d.slots.width_mm;
    const auto beside_runner = [&](double up, const char* name) {
        name_at(out, scene.table({slot, middle + up}), {scene.mirror * -8.0, 4.0}, name,
                left_kept ? Align::right : Align::left);
    };
    beside_runner(-0.055 * page, "runner");
    // On the rail where that is deep enough for letters, away from the readings.
    if (scene.rail() <= 0.033 * page) beside_runner(0.14 * page, "sled");
    else
        name_at(out, scene.table({-scene.mirror * half, scene.front() - 0.5 * scene.rail()}),
                {scene.mirror * 14.0, 4.5}, "sled", left_kept ? Align::left : Align::right);
    add_fence_name(scene, out);
}

/// Between the two clamps where they leave room for the word, else above them.
void add_clamp_names(const Scene& scene, Picture& out) {
    const std::array<Vec2, 2> feet = clamp_feet(scene);
    const Vec2 a = scene.table(feet[0]);
    const Vec2 b = scene.table(feet[1]);
    const bool room = std::fabs(a.x - b.x) > 0.15 * (out.hi.y - out.lo.y);
    name_at(out, 0.5 * (a + b) + Vec2{0.0, room ? 22.0 : 62.0}, {0.0, 4.5}, "clamps", Align::middle);
}

Vec2 middle_of(const Quad& q) { return 0.25 * (q.fence_blade + q.far_blade + q.far_out + q.fence_out); }

void add_piece_names(const Scene& scene, Picture& out) {
    const int cut = std::max(scene.shown.cut, 1);
    const bool parted = scene.parted();
    const Vec2 middle = middle_of(parted ? scene.kept(cut) : scene.before(cut)) + Vec2{0.0, 20.0};
    add(out, Words{scene.table(middle),
                   {0.0, 4.0},
                   parted ? "kept" : "board",
                   Role::text,
                   13.5,
                   Weight::medium,
                   Align::middle});
    if (!parted) return;
    const Quad off = scene.offcut(cut);
    const Vec2 edge = 0.5 * (off.fence_blade + off.far_blade);
    name_at(out, scene.table(edge), {scene.mirror * 9.0, 4.0}, cut == 5 ? "strip" : "offcut",
            scene.mirror > 0.0 ? Align::left : Align::right);
}

std::string thickness(double mm, base::Units units) { return base::show_small(mm, units); }

/// At most 14 letters: the column is no wider.
std::string shortened(const std::string& name) {
    std::size_t letters = 0;
    for (std::size_t i = 0; i < name.size(); ++i) {
        const bool begins = (static_cast<unsigned char>(name[i]) & 0xC0U) != 0x80U;  // UTF-8: not a following byte
        if (begins && ++letters > 14) return name.substr(0, i) + "…";
    }
    return name;
}

/// What stands behind an end, a line each; of more than three pieces, the number and the sum.
std::vector<std::string> shim_lines(const std::vector<shim::PickedShim>& shims, base::Units units) {
    std::vector<std::string> lines;
    double sum = 0.0;
    for (const shim::PickedShim& s : shims) {
        lines.push_back(fmt::format("{} {}", shortened(s.name), thickness(s.thickness_mm, units)));
        sum += s.thickness_mm;
    }
    if (lines.size() > 3) lines = {fmt::format("{} shims", shims.size()), thickness(sum, units)};
    return lines;
}

/// Name of a shim point in the column beside the table, with a leader; what stands behind the fence there above it.
void add_shim_point(const Scene& scene, double side, double x, const std::vector<shim::PickedShim>& shims,
                    base::Units units, Picture& out) {
    const double y = scene.face(x) - 0.5 * scene.drawing().fence.thickness_mm;
    // Low enough to pass below the arrow of the skew.
    const Vec2 foot{side * (scene.side_edge() + 8.0),
                    scene.sled_y + std::min(y, -scene.drawing().fence.thickness_mm) - 4.0};
    const Align align = side > 0.0 ? Align::left : Align::right;
    add(out, Line{{foot, scene.table({x + side * 12.0, y})}, Role::quiet, 1.0});
    name_at(out, foot, {side * 5.0, 4.0}, side > 0.0 ? "right shim point" : "left shim point", align, Role::quiet);
    const std::vector<std::string> lines = shim_lines(shims, units);
    double up = -6.0;
    for (std::size_t i = lines.size(); i-- > 0;) {
        up -= line_step;
        add(out, Words{foot, {side * 5.0, 4.0 + up}, lines[i], Role::text, 12.5, Weight::medium, align});
    }
}

void add_feed_arrow(const Scene& scene, const Picture& bounds, Picture& out) {
    const double x = scene.side_edge() + 0.12 * (bounds.hi.y - bounds.lo.y);
    const double y = 0.12 * scene.drawing().table.depth_mm;
    add(out, Line{{{x, y}, {x, y + 110.0}}, Role::quiet, 2.0, false, true});
    name_at(out, {x, y}, {0.0, 18.0}, "feed", Align::middle, Role::quiet);
}

Tag tag_at(const Scene& scene, double station, std::string word, std::string figure) {
    const Quad strip = scene.offcut(5);
    const double y = station_y(scene, station);
    // From the end of the caliper's beam.
    const double t = (y - strip.fence_blade.y) / (strip.far_blade.y - strip.fence_blade.y);
    const double x = strip.fence_blade.x + t * (strip.far_blade.x - strip.fence_blade.x);
    return Tag{scene.table({x + scene.mirror * 30.0, y + 13.5}),
               {scene.mirror * 22.0, -11.0},
               std::move(word),
               std::move(figure),
               Role::read,
               Role::read_fill,
               true};
}

double mean(const std::vector<measure::Reading>& readings) {
    double sum = 0.0;
    for (const measure::Reading& r : readings) sum += r.value_mm;
    return sum / static_cast<double>(readings.size());
}

std::string reading_text(const std::vector<measure::Reading>& readings, base::Units units) {
    return readings.empty() ? std::string{} : base::show_reading(mean(readings), units);
}

}  // namespace

Vec2 skew_place(const Scene& scene) { return {-(scene.side_edge() + 8.0), scene.sled_y + 0.42 * scene.front()}; }

/// Two lines in the left column beside the sled.
void add_skew_lines(const Scene& scene, double up_points, const std::string& what, const std::string& figure, Role role,
                    Picture& out) {
    const Vec2 at = skew_place(scene);
    add(out, Words{at, {-5.0, up_points}, what, role, 12.5, Weight::regular, Align::right});
    add(out, Words{at, {-5.0, up_points + line_step}, figure, role, 13.5, Weight::semibold, Align::right});
}

std::string factor_text(double factor) { return fmt::format("×{:.6g}", factor); }

std::string skew_number(double skew_rad, base::Units units) {
    constexpr std::string_view long_words = "less than ";
    const std::string text = base::show_angle_number(skew_rad, units);
    return text.starts_with(long_words) ? "< " + text.substr(long_words.size()) : text;
}

std::string skew_text(double skew_rad, base::Units units) {
    return fmt::format("{} {}", skew_number(skew_rad, units), base::show_angle_unit(units));
}

namespace {

void add_scale_bar(Picture& out, double y, double length, const std::string& text) {
    const double x = out.lo.x + 6.0;
    const double tick = 0.009 * (out.hi.y - out.lo.y);
    add(out, Line{{{x, y}, {x + length, y}}, Role::text, 2.0});
    add(out, Line{{{x, y - tick}, {x, y + tick}}, Role::text, 2.0});
    add(out, Line{{{x + length, y - tick}, {x + length, y + tick}}, Role::text, 2.0});
    name_at(out, {x + length, y}, {10.0, 4.5}, text, Align::left, Role::quiet);
}

}  // namespace

void set_bounds(const Scene& scene, Picture& out) {
    const Stations at = stations_of(scene);
    const double moving = lowest(scene, at.back);
    const double resting = lowest(scene, at.rest);
    const double bottom = moving + scene.settled * (resting - moving);
    const double table = 0.5 * scene.drawing().table.depth_mm + 4.0;
    const double through = std::max(table, at.through + scene.front() + 4.0);
    const double top = through + scene.settled * (std::max(table, at.rest + scene.front() + 4.0) - through);
    const double height = top - bottom;
    const double half = scene.side_edge() + column_share * height;
    out.lo = {-half, bottom - band_share * height};
    out.hi = {half, top};
}

void add_names(const Scene& scene, const ViewOptions& options, Picture& out) {
    const shop::Fence& f = scene.drawing().fence;
    const bool few = options.few_words;
    add_table_names(scene, few, out);
    if (!few) add_sled_names(scene, out);
    if (!few) add_clamp_names(scene, out);
    add_piece_names(scene, out);
    if (!few) add_shim_point(scene, -1.0, f.shim_left_x_mm, *scene.shown.left, options.units, out);
    if (!few) add_shim_point(scene, 1.0, f.shim_right_x_mm, *scene.shown.right, options.units, out);
    if (scene.shown.skew_known)
        add_skew_lines(scene, 0.0, scene.shown.strip_read ? "skew as read" : "skew expected",
                       skew_text(scene.shown.skew_rad, options.units), Role::read, out);
    if (!few) add_feed_arrow(scene, out, out);
}

void add_readings(const Scene& scene, const ViewOptions& options, Picture& out) {
    if (scene.settled < 1.0) return;
    const session::Test& test = *scene.shown.test;
    if (const auto s = fence_station(scene, options)) {
        add(out, tag_at(scene, *s, "fence end", reading_text(test.fence_end, options.units)),
            Handle::caliper_fence_end);
    }
    if (const auto s = far_station(scene, options)) {
        add(out, tag_at(scene, *s, "far end", reading_text(test.far_end, options.units)), Handle::caliper_far_end);
    }
}

void add_band(const Scene& scene, const ViewOptions& options, Picture& out) {
    const bool metric = options.units == base::Units::metric;
    const int times = out.hi.x - out.lo.x > 1500.0 ? 2 : 1;
    const double length = times * (metric ? 100.0 : 6.0 * base::mm_per_inch);
    const double y = band_y(out);
    if (!options.few_words)
        add_scale_bar(out, y, length,
                      fmt::format("{} {}, true to scale", times * (metric ? 100 : 6), metric ? "mm" : "in"));
    const bool hidden = error_hidden(scene, options);
    std::string words = hidden ? "error hidden until measured" : "angles drawn " + factor_text(scene.factor);
    const int cut = std::max(scene.shown.cut, 1);
    const bool tapered = scene.shown.strip_read && scene.shown.cut > 0 && scene.piece_factor(cut) != scene.factor;
    if (tapered) words += (cut == 5 ? ", strip " : ", offcut ") + factor_text(scene.piece_factor(cut));
    const bool rough = scene.edge_lean(cut) != 0.0 && (hidden || scene.edge_factor() != scene.factor);
    if (rough) words += ", rough edge " + factor_text(scene.edge_factor());
    add(out, Tag{{out.hi.x - 2.0, y},
                 {-1.0, 0.0},
                 words,
                 "",
                 hidden && !rough ? Role::quiet : Role::wrong,
                 Role::card,
                 false});
}

}  // namespace offsquare::picture
