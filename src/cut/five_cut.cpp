#include "cut/five_cut.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "cut/set_up.h"
#include "cut/strip_ends.h"
#include "shop/truth.h"

namespace offsquare::cut {
namespace {

using contact::FenceFace;
using shop::Drawing;
using shop::Side;
using shop::Truth;

/// Mark of the rough edge that lies on the fence for the first cut; the other rough edges carry 0.
constexpr int first_edge_mark = -1;

constexpr int coarse_edge_points = 33;

/// The rough edge that is first on the fence, in W, its bow through so many points.
Chain rough_edge(const Drawing& d, const Truth& t, int bow_points) {
    const double w = d.board.width_mm;
    const base::Profile bow =
        t.edge_bow_mm == 0.0 ? base::Profile() : base::Profile::bow(0.0, w, t.edge_bow_mm, bow_points);
    const base::Profile departs = base::sum(bow, t.edge_profile);
    Chain edge{{0.0, 0.0}};
    for (const Vec2& p : departs.points()) {
        if (p.x > 0.0 && p.x < w) edge.push_back({p.x, -p.y});
    }
    edge.push_back({w, 0.0});
    return edge;
}

/// The same to be laid on the fence. On the fine grain a belly turns from point to point by no more than four times the
/// fine slope; of a hollow edge only the ends touch.
Chain edge_on_fence(const Drawing& d, const Truth& t, Grain grain) {
    if (grain == Grain::coarse) return rough_edge(d, t, coarse_edge_points);
    const double turns = 8.0 * std::max(0.0, t.edge_bow_mm) / d.board.width_mm;
    const int parts = std::clamp(static_cast<int>(turns / (4.0 * fine_slope)) + 1, coarse_edge_points - 1, 4096);
    return rough_edge(d, t, parts + 1 + parts % 2);
}

/// The board as it comes: a parallelogram whose lower edge, perhaps bowed, is first on the fence.
Piece rough_board(const Drawing& d, const Truth& t) {
    const double w = d.board.width_mm;
    const double l = d.board.length_mm;
    const double lean = lean_mm(d.board);
    Piece piece;
    const Chain edge = rough_edge(d, t, coarse_edge_points);
    for (std::size_t i = 0; i + 1 < edge.size(); ++i) piece.push_back({edge[i], first_edge_mark});
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

/// The kept corner at the fence less a right angle, from the chords of the edge on the fence (left to right) and of the
/// fresh face (away from the fence).
double corner_error(Vec2 edge, Vec2 face, Side kept) {
    const double error = base::atan_of(dot(edge, face) / cross(edge, face));
    return kept == Side::left ? error : -error;
}

/// The fresh face of the kept piece as a vector away from the fence. In outline order it runs so on the right of a
/// piece, and back on the left. Empty: no face.
std::optional<Vec2> face_away(const Piece& kept, int cut, Side side) {
    const Chain chain = chain_made_by(kept, cut);
    if (chain.empty()) return std::nullopt;
    return side == Side::left ? chain.back() - chain.front() : chain.front() - chain.back();
}

/// Everything that stays the same while the hand pushes alike.
struct Setup {
    const Drawing& drawing;
    const FenceFace& face;
    const Sweep& sweep;
    const Chain& first_edge;  ///< on the fence for the first cut, in W
};

/// x in S where the board's corner is put: so much beside the blade's near side.
double corner_x(const Drawing& d, int cut) {
    const double off = beside_mm(d, cut);
    return d.board.kept == Side::left ? off : -off;
}

const Face& face_towards(const Kerf& kerf, Side side) { return side == Side::left ? kerf.left : kerf.right; }

/// A board as it lies for a cut; kept from cut to cut, so that its memory is.
struct Laid {
    Chain edge;  ///< that lies on the fence, in W
    base::Pose X_SW;
    Piece board;  ///< in S
    Extent y;
};

/// Seats the board for a cut. Not done: it cannot be, or it never meets the blade.
Outcome lay(const Setup& setup, const Piece& board, int number, const std::optional<contact::Chip>& chip, Laid& laid) {
    if (number == 1) laid.edge = setup.first_edge;
    else chain_made_by(board, number - 1, laid.edge);
    const Chain& edge = laid.edge;
    if (edge.size() < 2 || norm(edge.back() - edge.front()) < 1.0) return Outcome::no_strip;
    const auto seat = contact::seat_on_fence(setup.face, {edge.data(), edge.size()}, other(setup.drawing.board.kept),
                                             corner_x(setup.drawing, number), chip);
    if (!seat) return Outcome::off_the_fence;
    laid.X_SW = seat->X_SW;
    move_to(laid.X_SW, board, laid.board);
    laid.y = extent_y(laid.board);
    return setup.sweep.meets(laid.y.to) ? Outcome::done : Outcome::nothing_cut;
}

/// Seats the board, carries it past the blade and parts it.
Outcome make_cut(const Setup& setup, const Piece& board, int number, const std::optional<contact::Chip>& chip,
                 Laid& laid, Cut& cut) {
    const Side kept = setup.drawing.board.kept;
    const Outcome seated = lay(setup, board, number, chip, laid);
    if (seated != Outcome::done) return seated;
    cut.X_SW = laid.X_SW;
    const Piece& before = laid.board;
    cut.kerf = setup.sweep.kerf(laid.y.from, laid.y.to);
    if (!cut.kerf.reaches) return Outcome::stops_short;
    if (!take_part(before, face_towards(cut.kerf, kept), kept, number, cut.kept) || cut.kept.empty())
        return Outcome::no_strip;
    if (!one_part(before, face_towards(cut.kerf, other(kept)), other(kept))) return Outcome::no_strip;
    const std::optional<Vec2> fresh = face_away(cut.kept, number, kept);
    if (!fresh) return Outcome::misses_blade;
    cut.kerf_mm = cut.kerf.right.front().x - cut.kerf.left.front().x;
    cut.corner_rad = corner_error(cut.X_SW.r * (laid.edge.back() - laid.edge.front()), *fresh, kept);
    return Outcome::done;
}

/// The old edge of the strip in its chord's coordinates: departure towards the outside by station.
base::Profile departure(const Chain& chain, Vec2 from, Vec2 along, Vec2 inward) {
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
    Face face = chain_made_by(strip, 5);
    if (face.size() >= 2 && face.back().y < face.front().y) std::reverse(face.begin(), face.end());
    return face;
}

Vec2 inward_of(const Strip& strip) {
    const Vec2 along = unit(strip.far_end - strip.fence_end);
    return strip.side == Side::right ? left_of(along) : -1.0 * left_of(along);
}

/// Fills in the strip that a face parts from the board as it lay for the fifth cut; what it holds counts only when
/// done.
Outcome take_strip(const Piece& before, const Face& face, Side side, Strip& strip) {
    const Chain old_edge = chain_made_by(before, 1);
    strip.side = side;
    if (!take_part(before, face, side, 5, strip.piece)) return Outcome::no_strip;
    strip.new_face = strip_face(strip.piece);
    // Wood of a rough edge in the strip: the trims did not clear it, and the angles of the strip are not those of the
    // test.
    const bool rough =
        std::any_of(strip.piece.begin(), strip.piece.end(), [](const Corner& c) { return c.made_by <= 0; });
    if (rough || old_edge.size() < 2 || strip.new_face.size() < 2) return Outcome::no_strip;
    strip.fence_end = strip.side == Side::right ? old_edge.front() : old_edge.back();
    strip.far_end = strip.side == Side::right ? old_edge.back() : old_edge.front();
    strip.length_mm = norm(strip.far_end - strip.fence_end);
    if (strip.length_mm < 1.0) return Outcome::no_strip;
    strip.old_edge = departure(old_edge, strip.fence_end, unit(strip.far_end - strip.fence_end), inward_of(strip));
    if (strip.width_at(0.0) <= 0.0 || strip.width_at(strip.length_mm) <= 0.0) return Outcome::strip_crosses;
    return Outcome::done;
}

/// One travel for all cuts that are pressed alike; a wandering hand needs one for each.
class Sweeps {
public:
    Sweeps(const Drawing& drawing, const Truth& truth, const Pass& pass, Grain grain)
        : drawing_(drawing), truth_(truth), pass_(pass), grain_(grain) {}

    /// The sweep for a cut, until the next one is asked for. Null: the runners bind.
    const Sweep* pressed(const contact::Push& push) {
        if (sweep_ && push == push_) return &*sweep_;
        const auto travel = travel_under(push);
        if (!travel) return nullptr;
        push_ = push;
        return &sweep_.emplace(drawing_.blade, truth_, *travel, grain_);
    }

private:
    std::optional<contact::Travel> travel_under(const contact::Push& push) const {
        if (grain_ == Grain::coarse) return contact::travel(drawing_, truth_, push, pass_.from, pass_.to);
        const double arm = std::max(drawing_.board.width_mm, drawing_.board.length_mm);
        return contact::fine_travel(drawing_, truth_, push, pass_.from, pass_.to, fine_slope, arm);
    }

    const Drawing& drawing_;
    const Truth& truth_;
    Pass pass_;
    Grain grain_;
    contact::Push push_;
    std::optional<Sweep> sweep_;
};

/// The fifth cut's strip, if it is one.
Outcome keep_strip(FiveCut& test) {
    const Side side = other(test.kept);
    const Outcome outcome =
        take_strip(test.before(5), face_towards(test.cuts[4].kerf, side), side, test.strip.emplace());
    if (outcome != Outcome::done) test.strip.reset();
    return outcome;
}

/// How far the kept face stands out at height y because the sled went no farther than `ends_at` of a whole pass.
double step_at(const Sweep& whole, Side kept, double y, double ends_at) {
    return std::abs(whole.face_at(kept, y, ends_at) - whole.face_at(kept, y));
}

/// The first `cuts` cuts and, after five, the strip. `sweep_for(i)` points to the blade's sweep for cut i, counted from
/// 0; to nothing where the sled does not go. `whole_for(i)`: of the same pass without an early end; asked only where
/// there was one, and nothing where nobody can tell.
template <typename SweepFor, typename WholeFor>
Outcome run_cuts(const Drawing& d, const FenceFace& face, const Chain& first_edge, const Chances& chances, int cuts,
                 const SweepFor& sweep_for, const WholeFor& whole_for, FiveCut& test) {
    const Piece* board = &test.rough;
    Laid laid;
    for (int number = 1; number <= cuts; ++number) {
        const auto i = static_cast<std::size_t>(number - 1);
        const Sweep* sweep = sweep_for(i);
        if (sweep == nullptr) return Outcome::runners_bind;
        Cut& cut = test.cuts[i];
        const Outcome outcome = make_cut({d, face, *sweep, first_edge}, *board, number, chances[i].chip, laid, cut);
        if (outcome != Outcome::done) return outcome;
        const double ends_at = sweep->ends_at();
        const Sweep* whole = cut.kerf.whole ? nullptr : whole_for(i);
        if (whole) cut.step_mm = step_at(*whole, d.board.kept, laid.y.from, ends_at);
        test.cuts_made = number;
        board = &cut.kept;
    }
    return cuts == 5 ? keep_strip(test) : Outcome::done;
}

/// Whether the face on one side of the kerf parts the board into two. The face is only made where that is not sure
/// without.
bool parts(const Sweep& sweep, const Laid& laid, Side side, int number) {
    constexpr double clear_mm = 1e-6;  // far more than rounding
    const double half = 0.5 * (laid.y.to - laid.y.from);
    const double steepest = sweep.steepest(side, std::max(std::abs(laid.y.from), std::abs(laid.y.to)));
    if (surely_parts(laid.board, sweep.face_at(side, laid.y.from + half), steepest * half + clear_mm, steepest))
        return true;
    Piece part;
    return take_part(laid.board, sweep.face(side, laid.y.from, laid.y.to), side, number, part) &&
           !chain_made_by(part, number).empty();
}

/// One cut of a test of which only the strip is asked: into `board` goes the kept piece, of the fifth cut nothing.
/// False: something does not go as it should; make_cut finds out what.
bool make_bare_cut(const Setup& setup, int number, const std::optional<contact::Chip>& chip, Laid& laid, Piece& board) {
    if (lay(setup, board, number, chip, laid) != Outcome::done || !setup.sweep.meets(laid.y.from)) return false;
    const Side kept = setup.drawing.board.kept;
    if (number == 5) return parts(setup.sweep, laid, kept, number);
    return parts(setup.sweep, laid, other(kept), number) &&
           take_part(laid.board, setup.sweep.face(kept, laid.y.from, laid.y.to), kept, number, board);
}

Drawing without_stop(Drawing drawing) {
    drawing.sled.stop_y_mm = std::numeric_limits<double>::infinity();
    return drawing;
}

Outcome pressed_cuts(const Drawing& d, const Truth& truth, const FenceFace& face, const Chances& chances, int cuts,
                     Grain grain, bool turned, FiveCut& test) {
    const std::optional<Pass> pass = pass_of(d, face, turned);
    if (!pass) return Outcome::off_the_table;
    Sweeps sweeps(d, truth, *pass, grain);
    std::optional<Sweeps> whole;
    const auto whole_for = [&](std::size_t i) {
        if (!whole) whole.emplace(d, truth, pass_of(without_stop(d), face, turned).value_or(*pass), grain);
        return whole->pressed(chances[i].push);
    };
    const Chain edge = edge_on_fence(d, truth, grain);
    return run_cuts(
        d, face, edge, chances, cuts, [&](std::size_t i) { return sweeps.pressed(chances[i].push); }, whole_for, test);
}

struct TravelByHand {
    contact::Travel travel;
    contact::Stuck stuck;
};
TravelByHand travel_by_hand(const Drawing& d, const Truth& truth, const contact::HandPush& hand, double from, double to,
                            Grain grain) {
    constexpr int steps = 256;
    const auto places = grain == Grain::fine ? contact::Places::on_runners : contact::Places::even_parts;
    const auto pushed = contact::push_sled(d, truth, hand, contact::rub_of(d.feed), from, to, steps, places);
    return {contact::travel_of(pushed), pushed.stuck};
}

/// A pass under a hand that does not stop before the blade is passed. Where the sled sticks first, it is carried on as
/// it stood there: that is all that can be known of it.
contact::Travel whole_way(const Drawing& d, const Truth& truth, const FenceFace& face, const contact::HandPush& hand,
                          double from, Grain grain) {
    const Drawing free = without_stop(d);
    const double past = 0.5 * shop::chord_mm(d.blade) + 1.0;
    const std::optional<Pass> pass = pass_of(free, face);
    const double to = std::max(from + 1.0, std::min(pass ? pass->to : past, contact::hand_range(free).to_mm));
    contact::Travel travel = travel_by_hand(free, truth, hand, from, to, grain).travel;
    contact::SledPose last = travel.poses.back();
    if (last.s_mm < past) {
        last.s_mm = past;
        travel.poses.push_back(last);
    }
    return travel;
}

/// Where the sled sticks it goes no farther: what is not cut through then is so for that reason.
Outcome pushed_cuts(const Drawing& d, const Truth& truth, const FenceFace& face, const HandPass& by_hand,
                    const Chances& chances, Grain grain, FiveCut& test) {
    const std::optional<Pass> pass = pass_of(d, face);
    const contact::PushRange range = contact::hand_range(d);
    // No farther back than clear of the blade: with less of the runners in their slots the sled would turn more and
    // need more push than for any cut.
    const double clear =
        0.5 * shop::chord_mm(d.blade) + std::max(d.board.width_mm, d.board.length_mm) + std::abs(lean_mm(d.board));
    if (!pass || range.from_mm > -clear) return Outcome::off_the_table;
    const double from = std::max(-(clear + 1.0 + std::abs(face.slope) * d.fence.length_mm), range.from_mm);
    const double to = std::min({pass->to, range.to_mm, by_hand.stops_at_mm});
    if (to <= from) return Outcome::nothing_cut;
    const auto [travel, stuck] = travel_by_hand(d, truth, by_hand.hand, from, to, grain);
    const bool sticks = stuck == contact::Stuck::jams || stuck == contact::Stuck::too_weak;
    if (travel.poses.size() < 2) return sticks ? Outcome::sled_sticks : Outcome::runners_bind;
    const Sweep sweep(d.blade, truth, travel, grain);
    std::optional<Sweep> whole;
    const auto whole_for = [&](std::size_t) {
        if (!whole) whole.emplace(d.blade, truth, whole_way(d, truth, face, by_hand.hand, from, grain), grain);
        return &*whole;
    };
    const Outcome outcome = run_cuts(
        d, face, edge_on_fence(d, truth, grain), chances, 5, [&](std::size_t) { return &sweep; }, whole_for, test);
    if (outcome != Outcome::nothing_cut && outcome != Outcome::stops_short) return outcome;
    return sticks ? Outcome::sled_sticks : stuck == contact::Stuck::no ? outcome : Outcome::runners_bind;
}

/// The test before its first cut. A blade that is too low cuts nothing.
FiveCut ready_test(const Drawing& drawing, const Truth& truth, const FenceFace& face) {
    FiveCut test;
    test.kept = drawing.board.kept;
    test.skew_rad = base::atan_of(face.slope);
    if (drawing.blade.height_mm <= drawing.board.thickness_mm) test.outcome = Outcome::nothing_cut;
    else test.rough = rough_board(drawing, truth);
    return test;
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

Piece FiveCut::before(int cut) const {
    const std::size_t i = static_cast<std::size_t>(cut) - 1;
    return moved(cuts[i].X_SW, i == 0 ? rough : cuts[i - 1].kept);
}

Piece FiveCut::offcut(int cut) const {
    const Side side = other(kept);
    Piece part;
    take_part(before(cut), face_towards(cuts[static_cast<std::size_t>(cut) - 1].kerf, side), side, cut, part);
    return part;
}

std::optional<StripEnds> bare_strip_ends(const Drawing& d, const Truth& truth, const contact::Shims& shims,
                                         const Chances& chances) {
    const FenceFace face = contact::fence_face(d, truth, shims);
    const std::optional<Pass> pass = pass_of(d, face);
    if (d.blade.height_mm <= d.board.thickness_mm || !pass) return std::nullopt;
    Piece board = rough_board(d, truth);
    Sweeps sweeps(d, truth, *pass, Grain::coarse);
    const Chain edge = edge_on_fence(d, truth, Grain::coarse);
    const Sweep* sweep = nullptr;
    Laid laid;
    for (int number = 1; number <= 5; ++number) {
        const Chance& chance = chances[static_cast<std::size_t>(number - 1)];
        sweep = sweeps.pressed(chance.push);
        if (!sweep || !make_bare_cut({d, face, *sweep, edge}, number, chance.chip, laid, board)) return std::nullopt;
    }
    Strip strip;
    const Side side = other(d.board.kept);
    if (take_strip(laid.board, sweep->face(side, laid.y.from, laid.y.to), side, strip) != Outcome::done)
        return std::nullopt;
    return ends_of(strip);
}

FiveCut first_cuts(const Drawing& drawing, const Truth& truth, const contact::Shims& shims, const Chances& chances,
                   int cuts, Grain grain, bool turned) {
    const FenceFace face = contact::fence_face(drawing, truth, shims);
    FiveCut test = ready_test(drawing, truth, face);
    if (test.outcome == Outcome::done)
        test.outcome = pressed_cuts(drawing, truth, face, chances, cuts, grain, turned, test);
    return test;
}

FiveCut five_cut_pushed(const Drawing& drawing, const Truth& truth, const contact::Shims& shims, const HandPass& pass,
                        const Chances& chances, Grain grain) {
    const FenceFace face = contact::fence_face(drawing, truth, shims);
    FiveCut test = ready_test(drawing, truth, face);
    if (test.outcome == Outcome::done) test.outcome = pushed_cuts(drawing, truth, face, pass, chances, grain, test);
    return test;
}

FiveCut five_cut_each(const Drawing& drawing, const Truth& truth, const contact::Shims& shims, const Chances& chances,
                      Grain grain) {
    return first_cuts(drawing, truth, shims, chances, 5, grain);
}

FiveCut five_cut(const Drawing& drawing, const Truth& truth, const contact::Shims& shims, const contact::Push& push) {
    return five_cut_each(drawing, truth, shims, alike(push));
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
        case Outcome::sled_sticks: return "sled-sticks";
        case Outcome::off_the_table: return "off-the-table";
    }
    return "done";
}

std::string_view sentence_of(Outcome outcome) {
    switch (outcome) {
        case Outcome::done: return "Five cuts are made and the strip is off.";
        case Outcome::nothing_cut:
            return "Nothing was cut: the blade stands no higher than the board is thick, or the push stops before the "
                   "board meets the blade.";
        case Outcome::misses_blade:
            return "The board lies beside the blade: no face was cut. Trim more off, or take a wider strip.";
        case Outcome::stops_short:
            return "The push stops with the board not cut through. Push on until the fence has met the blade.";
        case Outcome::strip_crosses:
            return "The strip runs out to nothing before its far end: the skew is too large for so thin a strip. Take "
                   "a wider strip.";
        case Outcome::no_strip:
            return "The board no longer has the edges that the test needs. Start with a larger board, or trim less.";
        case Outcome::runners_bind: return "The runners do not fit in their slots somewhere along the travel.";
        case Outcome::sled_sticks:
            return "The sled sticks before the board is cut through: it jams, or the hand is too weak for it. Push "
                   "nearer the middle, or wax the runners.";
        case Outcome::off_the_table:
            return "The sled would have to start or end with its runners off the table: nothing would guide it. Take a "
                   "smaller board.";
        case Outcome::off_the_fence: return "The board does not meet the fence where it has to lie.";
    }
    return "";
}

}  // namespace offsquare::cut
