#include "picture/draw_truth.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/profile.h"
#include "cut/five_cut.h"
#include "picture/parts.h"
#include "session/reveal.h"

namespace offsquare::picture {
namespace {

using base::Profile;
using shop::Fault;

/// As far as a curve may be drawn away from where it should lie [mm].
constexpr double most_away_mm = 30.0;
constexpr int samples = 33;
constexpr double nothing_mm = 1e-9;

double size_of(const session::Revealed& r, Fault fault) { return r.sizes[static_cast<std::size_t>(fault)]; }

Profile shape_of(const session::Revealed& r, std::string_view key) {
    const auto it = std::find_if(r.shapes.begin(), r.shapes.end(), [&](const auto& s) { return s.key == key; });
    return it == r.shapes.end() ? Profile() : it->profile;
}

/// A departure from straight over [from, to]: a bow, and what else there is.
struct Departure {
    Profile bow, rest;
    double from = 0.0, to = 0.0;
    double at(double t) const { return bow.at(t) + rest.at(t); }
    double place(int i) const { return from + (to - from) * i / (samples - 1); }
    double most() const {
        double most = 0.0;
        for (int i = 0; i < samples; ++i) most = std::max(most, std::fabs(at(place(i))));
        return most;
    }
    bool none() const { return most() < nothing_mm; }
};

Departure departure(const session::Revealed& r, double bow_mm, std::string_view key, double half) {
    return {bow_mm == 0.0 ? Profile() : Profile::bow(-half, half, bow_mm), shape_of(r, key), -half, half};
}

double factor_of_departure(double most_mm, double factor) {
    return most_mm > 0.0 ? no_more_than(most_away_mm / most_mm, factor) : factor;
}

void take_fence(const session::Revealed& r, const Scene& scene, TrueShapes& out) {
    const shop::Fence& f = scene.drawing().fence;
    const Departure face = departure(r, size_of(r, Fault::fence_bow), "fence_profile", 0.5 * f.length_mm);
    const bool straight = face.none();
    out.bow_factor = straight ? 0.0 : factor_of_departure(face.most(), scene.factor);
    const double slope = base::tan_of(out.factor * out.skew_rad);
    for (int i = 0; i < samples; i += straight ? samples - 1 : 1) {
        const double x = face.place(i);
        out.fence.push_back(scene.table({x, slope * (x - f.shim_right_x_mm) + out.bow_factor * face.at(x)}));
    }
}

/// Both walls of a slot whose middle departs so from a straight one along y.
template <class Away>
void add_walls(const shop::Drawing& d, double x, Away away, TruePart& out) {
    const double deep = 0.5 * d.table.depth_mm;
    for (const double wall : {-0.5 * d.slots.width_mm, 0.5 * d.slots.width_mm}) {
        Path path;
        for (int i = 0; i < samples; ++i) {
            const double y = -deep + 2.0 * deep * i / (samples - 1);
            path.push_back({x + wall + away(y), y});
        }
        out.paths.push_back(std::move(path));
    }
}

void take_slots(const session::Revealed& r, const Scene& scene, TrueShapes& out) {
    const shop::Drawing& d = scene.drawing();
    const double half = 0.5 * d.table.depth_mm;
    const Departure left = departure(r, size_of(r, Fault::slot_wander), "left_slot_profile", half);
    const Departure right = departure(r, 0.0, "right_slot_profile", half);
    const double splay = size_of(r, Fault::slot_splay);
    if (splay == 0.0 && left.none() && right.none()) return;
    const double bent = factor_of_departure(std::max(left.most(), right.most()), scene.factor);
    const double k = std::min(bent, factor_that_fits(splay, scene.factor));
    TruePart part{"true slots", k, {}};
    if (!left.none())
        add_walls(
            d, d.slots.left_x_mm, [&](double y) { return k * left.at(y); }, part);
    // Turned counter-clockwise about the middle of the table, the far end goes to the left.
    const double turn = base::tan_of(k * splay);
    if (splay != 0.0 || !right.none())
        add_walls(
            d, d.slots.right_x_mm, [&](double y) { return k * right.at(y) - turn * y; }, part);
    out.parts.push_back(std::move(part));
}

void take_blade(const session::Revealed& r, const Scene& scene, TrueShapes& out) {
    const double toe = size_of(r, Fault::blade_toe);
    if (toe == 0.0 || !(scene.chord > 0.0)) return;
    const double k = factor_that_fits(toe, scene.factor);
    const base::Turn turn{base::cos_of(k * toe), base::sin_of(k * toe)};
    const double half = 0.5 * scene.drawing().blade.kerf_mm;
    Path path = rectangle(-half, -0.5 * scene.chord, half, 0.5 * scene.chord);
    path.push_back(path.front());
    for (Vec2& p : path) p = turn * p;
    out.parts.push_back({"true blade", k, {std::move(path)}});
}

/// How much wider than at the fence the strip is, and how far the face that the fifth cut left departs from straight,
/// both by station.
struct StripShape {
    std::vector<double> wider, face;
    double width = 0.0;  ///< at the fence
};
StripShape shape_of(const cut::Strip& strip) {
    StripShape s;
    s.width = strip.width_at(0.0);
    std::vector<double> face;
    for (int i = 0; i < samples; ++i) {
        const double station = strip.length_mm * i / (samples - 1);
        const double width = strip.width_at(station);
        s.wider.push_back(width - s.width);
        face.push_back(strip.old_edge.at(station) - width);
    }
    for (int i = 0; i < samples; ++i) {
        const double t = static_cast<double>(i) / (samples - 1);
        const auto n = static_cast<std::size_t>(i);
        s.face.push_back(face[n] - ((1.0 - t) * face.front() + t * face.back()));
    }
    return s;
}

/// As Scene::piece_factor: one end keeps a third of the width, and the strip never grows to three times it.
double most_of(const StripShape& s, double factor) {
    double limit = factor;
    for (std::size_t i = 0; i < s.wider.size(); ++i) {
        const double room = (s.wider[i] < 0.0 ? 0.66 : 2.0) * s.width;
        if (s.wider[i] != 0.0) limit = std::min(limit, room / std::fabs(s.wider[i]));
        if (s.face[i] != 0.0) limit = std::min(limit, s.width / std::fabs(s.face[i]));
    }
    return no_more_than(limit, factor);
}

void take_strip(const Scene& scene, TrueShapes& out) {
    const session::TrueTest* test = scene.shown.revealed;
    if (test == nullptr || !test->cut || !test->cut->strip || scene.shown.cut != 5 || !scene.parted()) return;
    const StripShape s = shape_of(*test->cut->strip);
    const double k = most_of(s, scene.shown.strip_read ? scene.piece_factor(5) : scene.factor);
    const Quad drawn = scene.offcut(5);
    const auto at = [&](std::size_t i, double from_face, double y0, double y1) {
        const double t = static_cast<double>(i) / (samples - 1);
        return scene.table({drawn.fence_out.x + scene.mirror * (k * s.face[i] + from_face), y0 + t * (y1 - y0)});
    };
    Path path;
    for (std::size_t i = 0; i < s.face.size(); ++i) path.push_back(at(i, 0.0, drawn.fence_out.y, drawn.far_out.y));
    for (std::size_t i = s.face.size(); i-- > 0;)
        path.push_back(at(i, scene.drawing().board.strip_mm + k * s.wider[i], drawn.fence_blade.y, drawn.far_blade.y));
    path.push_back(path.front());
    out.parts.push_back({"true strip", k, {std::move(path)}});
}

}  // namespace

TrueShapes true_shapes(const session::Revealed& revealed, const Scene& scene) {
    TrueShapes out;
    out.skew_rad = scene.shown.revealed == nullptr ? revealed.skew_now_rad : scene.shown.revealed->skew_rad;
    out.factor = factor_that_fits(out.skew_rad, scene.factor);
    take_fence(revealed, scene, out);
    take_slots(revealed, scene, out);
    take_blade(revealed, scene, out);
    take_strip(scene, out);
    return out;
}

void add_true_shapes(const TrueShapes& truth, Picture& out) {
    add(out, Line{truth.fence, Role::wrong, 2.0, true});
    for (const TruePart& part : truth.parts) {
        for (const Path& path : part.paths) add(out, Line{path, Role::wrong, 1.4, true});
    }
}

void add_fence_grip(const TrueShapes& truth, Picture& out) {
    add(out, Dot{truth.fence.front(), 6.0, Role::card, Role::wrong, false}, Handle::fence_end);
}

void add_true_skew_words(const Scene& scene, const TrueShapes& truth, const ViewOptions& options, Picture& out) {
    double up = -3.6 * line_step;
    add_skew_lines(scene, up, "true skew", skew_text(truth.skew_rad, options.units), Role::wrong, out);
    const auto say = [&](double points, std::string words) {
        add(out,
            Words{
                skew_place(scene), {-5.0, points}, std::move(words), Role::wrong, 12.5, Weight::regular, Align::right});
    };
    const auto with_factor = [&](std::string words, const char* between, double factor) {
        return factor == scene.factor ? words : words + between + factor_text(factor);
    };
    say(up + 2.0 * line_step, with_factor("dashed", ", ", truth.factor));
    const bool own_bow = truth.bow_factor > 0.0 && truth.bow_factor != truth.factor;
    if (own_bow) say(up -= line_step, with_factor("its bow", " ", truth.bow_factor));
    for (auto part = truth.parts.rbegin(); part != truth.parts.rend(); ++part)
        say(up -= line_step, with_factor(part->name, " ", part->factor));
}

}  // namespace offsquare::picture
