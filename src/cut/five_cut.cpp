#include "cut/five_cut.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"

namespace offsquare::cut {
namespace {

using contact::FenceFace;
using shop::Drawing;
using shop::Side;
using shop::Truth;

/// Mark of the rough edge that lies on the fence for the first cut; the other rough edges carry 0.
constexpr int first_edge = -1;

/// How far the far end of the rough board stands aside of its near end.
double lean_mm(const shop::Board& board) { return board.first_edge_rad == 0.0 ? 0.0 : board.length_mm * base::tan_of(board.first_edge_rad); }

/// The board as it comes: a parallelogram whose lower edge, perhaps bowed, is first on the fence.
Piece rough_board(const Drawing& d, const Truth& t) {
    const double w = d.board.width_mm;
    const double l = d.board.length_mm;
    const double lean = lean_mm(d.board);
    Piece piece{{{0.0, 0.0}, first_edge}};
    if (t.edge_bow_mm != 0.0) {
        const base::Profile bow = base::Profile::bow(0.0, w, t.edge_bow_mm);
        for (std::size_t i = 1; i + 1 < bow.points().size(); ++i) piece.push_back({{bow.points()[i].x, -bow.points()[i].y}, first_edge});
    }
    piece.push_back({{w, 0.0}, 0});
    piece.push_back({{w + lean, l}, 0});
    piece.push_back({{lean, l}, 0});
    return piece;
}

/// How far a piece reaches along y.
struct Extent {
    double from = 0.0;
    double to = 0.0;
};
Extent extent_y(const Piece& piece) {
    Extent e{piece[0].p.y, piece[0].p.y};
    for (const Corner& c : piece) {
        e.from = std::min(e.from, c.p.y);
        e.to = std::max(e.to, c.p.y);
    }
    return e;
}

/// The kept corner at the fence less a right angle, from the chords of the edge on the fence (left to right) and of the fresh face (away from the fence).
double corner_error(Vec2 edge, Vec2 face, Side kept) {
    const double error = base::atan_of(dot(edge, face) / cross(edge, face));
    return kept == Side::left ? error : -error;
}

/// The fresh face of the kept piece as a vector away from the fence. In outline order it runs so on the right of a piece, and back on the left.
Vec2 face_away(const Piece& kept, int cut, Side side) {
    const auto chain = chain_made_by(kept, cut);
    return side == Side::left ? chain.back() - chain.front() : chain.front() - chain.back();
}

/// Everything that stays the same over the five cuts.
struct Setup {
    const Drawing& drawing;
    const Truth& truth;
    const FenceFace& face;
    const contact::Travel& travel;
};

/// x in S where the board's corner is put: so much beside the blade's near side.
double corner_x(const Drawing& d, int cut) {
    const double off = 0.5 * d.blade.kerf_mm + (cut == 5 ? d.board.strip_mm : d.board.trim_mm);
    return d.board.kept == Side::left ? off : -off;
}

Outcome split(const Setup& setup, const Kerf& kerf, int number, Cut& cut) {
    const bool keep_left = setup.drawing.board.kept == Side::left;
    auto left = part_left_of(cut.before, kerf.left, number);
    auto right = part_right_of(cut.before, kerf.right, number);
    if (!left || !right) return Outcome::no_strip;
    cut.kept = std::move(keep_left ? *left : *right);
    cut.offcut = std::move(keep_left ? *right : *left);
    if (cut.kept.empty()) return Outcome::no_strip;
    const bool touched = std::any_of(cut.kept.begin(), cut.kept.end(), [&](const Corner& c) { return c.made_by == number; });
    return touched ? Outcome::done : Outcome::misses_blade;
}

/// Seats the board, carries it past the blade and parts it.
Outcome make_cut(const Setup& setup, const Piece& board, int number, Cut& cut) {
    const Side kept = setup.drawing.board.kept;
    const auto edge = chain_made_by(board, number == 1 ? first_edge : number - 1);
    if (edge.size() < 2 || norm(edge.back() - edge.front()) < 1.0) return Outcome::no_strip;
    const Side corner = kept == Side::left ? Side::right : Side::left;
    const auto seat = contact::seat_on_fence(setup.face, {edge.data(), edge.size()}, corner, corner_x(setup.drawing, number));
    if (!seat) return Outcome::off_the_fence;
    cut.X_SW = seat->X_SW;
    cut.before = moved(cut.X_SW, board);

    const Extent y = extent_y(cut.before);
    if (setup.travel.poses.back().s_mm + y.to < -0.5 * shop::chord_mm(setup.drawing.blade)) return Outcome::nothing_cut;
    const Kerf kerf = kerf_of(setup.drawing.blade, setup.truth, setup.travel, y.from, y.to);
    if (!kerf.reaches) return Outcome::stops_short;
    const Outcome parted = split(setup, kerf, number, cut);
    if (parted != Outcome::done) return parted;
    cut.kerf_mm = x_at(kerf.right, y.from) - x_at(kerf.left, y.from);
    const Vec2 on_fence = cut.X_SW.r * (edge.back() - edge.front());
    cut.corner_rad = corner_error(on_fence, face_away(cut.kept, number, kept), kept);
    return Outcome::done;
}

/// The old edge of the strip in its chord's coordinates: departure towards the outside by station.
base::Profile departure(const boost::container::small_vector<Vec2, 4>& chain, Vec2 from, Vec2 along, Vec2 inward) {
    if (chain.size() <= 2) return {};
    const bool forward = dot(chain.back() - chain.front(), along) > 0.0;
    base::Profile::Points points;
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const Vec2 p = chain[forward ? i : chain.size() - 1 - i] - from;
        points.push_back({dot(p, along), -dot(p, inward)});
    }
    return base::Profile(points);
}

/// The fifth cut's face on the strip, as a graph over y.
Face strip_face(const Piece& strip) {
    const auto chain = chain_made_by(strip, 5);
    Face face(chain.begin(), chain.end());
    if (face.size() >= 2 && face.back().y < face.front().y) std::reverse(face.begin(), face.end());
    return face;
}

Vec2 inward_of(const Strip& strip) {
    const Vec2 along = unit(strip.far_end - strip.fence_end);
    return strip.side == Side::right ? left_of(along) : -1.0 * left_of(along);
}

/// Fills in the strip; what it holds counts only when done.
Outcome take_strip(const Drawing& d, const Cut& fifth, std::optional<Strip>& out) {
    const auto old_edge = chain_made_by(fifth.before, 1);
    Strip& strip = out.emplace();
    strip.piece = fifth.offcut;
    strip.side = d.board.kept == Side::left ? Side::right : Side::left;
    strip.new_face = strip_face(fifth.offcut);
    // Wood of a rough edge in the strip: the trims did not clear it, and the angles of the strip are not those of the test.
    const bool rough = std::any_of(strip.piece.begin(), strip.piece.end(), [](const Corner& c) { return c.made_by <= 0; });
    if (rough || old_edge.size() < 2 || strip.new_face.size() < 2) return Outcome::no_strip;
    strip.fence_end = strip.side == Side::right ? old_edge.front() : old_edge.back();
    strip.far_end = strip.side == Side::right ? old_edge.back() : old_edge.front();
    strip.length_mm = norm(strip.far_end - strip.fence_end);
    if (strip.length_mm < 1.0) return Outcome::no_strip;
    strip.old_edge = departure(old_edge, strip.fence_end, unit(strip.far_end - strip.fence_end), inward_of(strip));
    if (strip.width_at(0.0) <= 0.0 || strip.width_at(strip.length_mm) <= 0.0) return Outcome::strip_crosses;
    return Outcome::done;
}

/// From where to where the sled goes: from clear of the blade to past it, or to where the push stops. The margin covers a skewed fence and the
/// turned board's diagonal; it changes no number.
struct Pass {
    double from = 0.0;
    double to = 0.0;
};
Pass pass_of(const Drawing& d, const FenceFace& face) {
    const double reach = 0.5 * shop::chord_mm(d.blade);
    const double margin = 25.0 + std::abs(face.slope) * d.fence.length_mm;
    const double board = 1.05 * std::max(d.board.width_mm, d.board.length_mm) + std::abs(lean_mm(d.board));
    const Pass pass{-(reach + board + margin), reach + margin};
    return {pass.from, std::max(pass.from + 1.0, std::min(pass.to, d.sled.stop_y_mm))};
}

Outcome run_cuts(const Setup& setup, FiveCut& test) {
    const Piece rough = rough_board(setup.drawing, setup.truth);
    const Piece* board = &rough;
    for (int number = 1; number <= 5; ++number) {
        Cut& cut = test.cuts[static_cast<std::size_t>(number - 1)];
        const Outcome outcome = make_cut(setup, *board, number, cut);
        if (outcome != Outcome::done) return outcome;
        test.cuts_made = number;
        board = &cut.kept;
    }
    const Outcome outcome = take_strip(setup.drawing, test.cuts[4], test.strip);
    if (outcome != Outcome::done) test.strip.reset();
    return outcome;
}

}  // namespace

double Strip::width_at(double station_mm) const {
    const Vec2 along = unit(far_end - fence_end);
    const Vec2 inward = inward_of(*this);
    const Vec2 p = fence_end + station_mm * along;
    double width = 0.0;
    // The part of the face that the jaw meets is known only once the width is; a strip is narrow, so twice is enough.
    for (int round = 0; round < 2; ++round) {
        const double y = p.y + width * inward.y;
        std::size_t i = 0;
        while (i + 2 < new_face.size() && y > new_face[i + 1].y) ++i;
        const double slope = (new_face[i + 1].x - new_face[i].x) / (new_face[i + 1].y - new_face[i].y);
        width = (new_face[i].x + slope * (p.y - new_face[i].y) - p.x) / (inward.x - slope * inward.y);
    }
    return width + old_edge.at(station_mm);
}

FiveCut five_cut(const Drawing& drawing, const Truth& truth, const contact::Shims& shims, const contact::Push& push) {
    FiveCut test;
    const FenceFace face = contact::fence_face(drawing, truth, shims);
    test.skew_rad = base::atan_of(face.slope);
    if (drawing.blade.height_mm <= drawing.board.thickness_mm) {
        test.outcome = Outcome::nothing_cut;
        return test;
    }
    const Pass pass = pass_of(drawing, face);
    const auto travel = contact::travel(drawing, truth, push, pass.from, pass.to);
    test.outcome = travel ? run_cuts({drawing, truth, face, *travel}, test) : Outcome::runners_bind;
    return test;
}

std::string_view name_of(Outcome outcome) {
    switch (outcome) {
        case Outcome::done: return "done";
        case Outcome::nothing_cut: return "nothing-cut";
        case Outcome::misses_blade: return "misses-blade";
        case Outcome::stops_short: return "stops-short";
        case Outcome::strip_crosses: return "strip-crosses";
        case Outcome::no_strip: return "no-strip";
        case Outcome::runners_bind: return "runners-bind";
        case Outcome::off_the_fence: return "off-the-fence";
    }
    return "done";
}

std::string_view sentence_of(Outcome outcome) {
    switch (outcome) {
        case Outcome::done: return "Five cuts are made and the strip is off.";
        case Outcome::nothing_cut: return "Nothing was cut: the blade stands no higher than the board is thick, or the push stops before the board meets the blade.";
        case Outcome::misses_blade: return "The board lies beside the blade: no face was cut. Trim more off, or take a wider strip.";
        case Outcome::stops_short: return "The push stops with the board not cut through. Push on until the fence has met the blade.";
        case Outcome::strip_crosses: return "The strip runs out to nothing before its far end: the skew is too large for so thin a strip. Take a wider strip.";
        case Outcome::no_strip: return "The board no longer has the edges that the test needs. Start with a larger board, or trim less.";
        case Outcome::runners_bind: return "The runners do not fit in their slots somewhere along the travel.";
        case Outcome::off_the_fence: return "The board does not meet the fence where it has to lie.";
    }
    return "";
}

}  // namespace offsquare::cut
