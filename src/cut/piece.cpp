#include "cut/piece.h"

#include <algorithm>
#include <cmath>

namespace offsquare::cut {
namespace {

/// The straight part of a face that holds y; the outer parts go on. Outlines meet a face near its ends, so it is looked
/// for from the end that is nearer.
std::size_t part_at(const Face& face, double y) {
    const std::size_t last = face.size() - 2;
    std::size_t i = 0;
    if (y <= face[face.size() / 2].y) {
        while (i < last && y > face[i + 1].y) ++i;
    } else {
        i = last;
        while (i > 0 && y <= face[i].y) --i;
    }
    return i;
}

/// Points along an edge where the face has a kink, from a towards b; so that between two of them the face is straight.
using Kinks = boost::container::small_vector<Vec2, 4>;
Kinks points_along(Vec2 a, Vec2 b, const Face& face) {
    Kinks points{a};
    const double high = std::max(a.y, b.y);
    for (std::size_t i = part_at(face, std::min(a.y, b.y)) + 1; i + 1 < face.size() && face[i].y < high; ++i) {
        // A kink right at the lower end is no point between.
        if (face[i].y > std::min(a.y, b.y)) points.push_back(a + ((face[i].y - a.y) / (b.y - a.y)) * (b - a));
    }
    if (b.y < a.y) std::reverse(points.begin() + 1, points.end());
    points.push_back(b);
    return points;
}

/// The kinks of the face strictly between two heights, in order from one to the other.
void add_face_between(Piece& piece, const Face& face, double from_y, double to_y, int cut) {
    const auto add = [&](Vec2 p) {
        if (p.y > std::min(from_y, to_y) && p.y < std::max(from_y, to_y)) piece.push_back({p, cut});
    };
    if (to_y > from_y) {
        for (std::size_t i = 1; i + 1 < face.size(); ++i) add(face[i]);
    } else {
        for (std::size_t i = face.size() - 1; i-- > 1;) add(face[i]);
    }
}

double sign_of(shop::Side side) { return side == shop::Side::left ? 1.0 : -1.0; }

/// A straight face as a line that goes on beyond its ends.
class Line {
public:
    Line(const Face& face, double sign)
        : p_(face[0]), slope_((face[1].x - face[0].x) / (face[1].y - face[0].y)), sign_(sign) {}
    /// How far p lies on the kept side along x, >= 0 inside.
    double inside(Vec2 p) const { return sign_ * (p_.x + slope_ * (p.y - p_.y) - p.x); }

private:
    Vec2 p_;
    double slope_;
    double sign_;  ///< +1 keeps the left, -1 the right
};

/// Where an edge crosses a face, from how far inside its two ends lie (one of them outside).
Vec2 crossing(Vec2 a, double inside_a, Vec2 b, double inside_b) {
    return a + (inside_a / (inside_a - inside_b)) * (b - a);
}

/// Gives `keep` the corners of the part inside a line; returns in how many points the line meets the outline.
template <typename Keep>
int walk_line(const Piece& piece, const Line& line, int cut, Keep keep) {
    int crossings = 0;
    double inside = line.inside(piece[0].p);
    for (std::size_t i = 0; i < piece.size(); ++i) {
        const Corner& from = piece[i];
        const Corner& to = piece[i + 1 == piece.size() ? 0 : i + 1];
        const double inside_next = line.inside(to.p);
        if (inside >= 0.0) keep(from.p, from.made_by);
        if ((inside >= 0.0) != (inside_next >= 0.0)) {
            ++crossings;
            // Going out, the edge from here on is the cut's; coming in, it is the old one.
            keep(crossing(from.p, inside, to.p, inside_next), inside >= 0.0 ? cut : from.made_by);
        }
        inside = inside_next;
    }
    return crossings;
}

/// A face that is not straight, and the side of it that is kept: sign +1 left, -1 right.
class KeptSide {
public:
    KeptSide(const Face& face, double sign) : face_(face), sign_(sign), low_(face.front()), high_(face.back()) {
        for (const Vec2& p : face) {
            low_.x = std::min(low_.x, p.x);
            high_.x = std::max(high_.x, p.x);
        }
    }

    const Face& face() const { return face_; }
    double inside(Vec2 p) const { return sign_ * (x_at(face_, p.y) - p.x); }

    /// Whether a point lies beside a box around the face: 1 kept, -1 not kept, 0 not known. An edge between two points
    /// on one side needs no closer look.
    int beside(Vec2 p) const {
        if (p.y < low_.y || p.y > high_.y) return 0;
        const int left = sign_ > 0.0 ? 1 : -1;
        if (p.x < low_.x) return left;
        return p.x > high_.x ? -left : 0;
    }

private:
    const Face& face_;
    double sign_;
    Vec2 low_;  ///< the box
    Vec2 high_;
};

/// Walks the outline once and keeps what is inside. Leaving at one point and coming back at the next, the walk follows
/// the face.
class Walk {
public:
    /// `kept` may be null: then the walk only counts.
    Walk(const KeptSide& side, int cut, Piece* kept) : side_(side), cut_(cut), kept_(kept) {}

    /// In how many points the face meets the outline.
    int around(const Piece& piece) {
        int here = side_.beside(piece[0].p);
        for (std::size_t i = 0; i < piece.size(); ++i) {
            const Vec2 to = piece[i + 1 == piece.size() ? 0 : i + 1].p;
            const int next = side_.beside(to);
            if (here == 0 || here != next) edge(piece[i], to);
            else if (here > 0) keep(piece[i].p, piece[i].made_by);
            here = next;
        }
        // When the walk began outside, the face was left at the end and met again at the start.
        if (open_) follow_face(first_back_y_);
        return crossings_;
    }

private:
    void keep(Vec2 p, int made_by) {
        if (kept_) kept_->push_back({p, made_by});
    }
    void follow_face(double back_y) {
        if (kept_) add_face_between(*kept_, side_.face(), left_y_, back_y, cut_);
    }

    void edge(const Corner& from, Vec2 to) {
        const Kinks points = points_along(from.p, to, side_.face());
        for (std::size_t i = 0; i + 1 < points.size(); ++i) step(points[i], points[i + 1], from.made_by, i == 0);
    }

    void step(Vec2 a, Vec2 b, int made_by, bool is_corner) {
        const double ga = side_.inside(a);
        const double gb = side_.inside(b);
        if (ga >= 0.0 && is_corner) keep(a, made_by);
        if ((ga >= 0.0) == (gb >= 0.0)) return;
        ++crossings_;
        const Vec2 p = crossing(a, ga, b, gb);
        if (ga >= 0.0) {
            keep(p, cut_);
            left_y_ = p.y;
            open_ = true;
        } else {
            if (open_) follow_face(p.y);
            else first_back_y_ = p.y;
            open_ = false;
            keep(p, made_by);
        }
    }

    const KeptSide& side_;
    int cut_;
    Piece* kept_;
    int crossings_ = 0;
    bool open_ = false;
    double left_y_ = 0.0;
    double first_back_y_ = 0.0;
};

}  // namespace

Piece moved(const base::Pose& X_BA, const Piece& piece) {
    Piece result;
    move_to(X_BA, piece, result);
    return result;
}

void move_to(const base::Pose& X_BA, const Piece& piece, Piece& result) {
    result.clear();
    result.reserve(piece.size());
    for (const Corner& c : piece) result.push_back({X_BA * c.p, c.made_by});
}

double x_at(const Face& face, double y) {
    const std::size_t i = part_at(face, y);
    const Vec2 a = face[i];
    const Vec2 b = face[i + 1];
    return a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
}

bool take_part(const Piece& piece, const Face& face, shop::Side side, int cut, Piece& part) {
    part.clear();
    part.reserve(piece.size() + face.size());
    if (piece.empty()) return true;
    if (face.size() == 2)
        return walk_line(piece, Line(face, sign_of(side)), cut, [&](Vec2 p, int made_by) {
                   part.push_back({p, made_by});
               }) <= 2;
    return Walk(KeptSide(face, sign_of(side)), cut, &part).around(piece) <= 2;
}

bool one_part(const Piece& piece, const Face& face, shop::Side side) {
    if (piece.empty()) return true;
    if (face.size() == 2) return walk_line(piece, Line(face, sign_of(side)), 0, [](Vec2, int) {}) <= 2;
    return Walk(KeptSide(face, sign_of(side)), 0, nullptr).around(piece) <= 2;
}

// An edge flatter than the face is steep is crossed once at most, and from left to right if it runs to the right. Edges
// that do not come near the face stay on one side of it. So where every edge near the face is such a one, a walk around
// the piece that runs to the right once and to the left once, and has corners on both sides, crosses the face exactly
// twice.
bool surely_parts(const Piece& piece, double x_mm, double off_mm, double steepest) {
    bool some_left = false;
    bool some_right = false;
    int turns = 0;
    int first = 0;
    int last = 0;
    for (std::size_t i = 0; i < piece.size(); ++i) {
        const Vec2 a = piece[i].p;
        const Vec2 b = piece[i + 1 == piece.size() ? 0 : i + 1].p;
        const bool left = a.x < x_mm - off_mm;
        const bool right = a.x > x_mm + off_mm;
        some_left = some_left || left;
        some_right = some_right || right;
        if ((left && b.x < x_mm - off_mm) || (right && b.x > x_mm + off_mm)) continue;
        // Twice as flat as it must be: rounding never decides.
        if (!(std::abs(b.x - a.x) > 2.0 * steepest * std::abs(b.y - a.y))) return false;
        const int way = b.x > a.x ? 1 : -1;
        turns += last != 0 && way != last ? 1 : 0;
        if (first == 0) first = way;
        last = way;
    }
    return some_left && some_right && turns + (last != first ? 1 : 0) <= 2;
}

Chain chain_made_by(const Piece& piece, int cut) {
    Chain chain;
    chain_made_by(piece, cut, chain);
    return chain;
}

void chain_made_by(const Piece& piece, int cut, Chain& chain) {
    chain.clear();
    const std::size_t n = piece.size();
    const auto after = [n](std::size_t i) { return i + 1 == n ? 0 : i + 1; };
    for (std::size_t before = n == 0 ? 0 : n - 1, i = 0; i < n; before = i++) {
        if (piece[i].made_by != cut || piece[before].made_by == cut) continue;
        std::size_t k = i;
        for (; piece[k].made_by == cut; k = after(k)) chain.push_back(piece[k].p);
        chain.push_back(piece[k].p);
        return;
    }
}

}  // namespace offsquare::cut
