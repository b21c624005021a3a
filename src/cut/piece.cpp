#include "cut/piece.h"

#include <algorithm>

namespace offsquare::cut {
namespace {

/// The straight part of a face that holds y; the outer parts go on.
std::size_t part_at(const Face& face, double y) {
    std::size_t i = 0;
    while (i + 2 < face.size() && y > face[i + 1].y) ++i;
    return i;
}

/// How far p lies on the kept side of the face along x, >= 0 inside. `sign` +1 keeps the left, -1 the right.
double inside(const Face& face, Vec2 p, double sign) { return sign * (x_at(face, p.y) - p.x); }

/// Points along an edge where the face has a kink, from a towards b; so that between two of them the face is straight.
using Kinks = boost::container::small_vector<Vec2, 4>;
Kinks points_along(Vec2 a, Vec2 b, const Face& face) {
    Kinks points{a};
    const auto add = [&](double y) {
        if (y > std::min(a.y, b.y) && y < std::max(a.y, b.y)) points.push_back(a + ((y - a.y) / (b.y - a.y)) * (b - a));
    };
    if (b.y > a.y) {
        for (std::size_t i = 1; i + 1 < face.size(); ++i) add(face[i].y);
    } else {
        for (std::size_t i = face.size() - 1; i-- > 1;) add(face[i].y);
    }
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

/// A box around the face: what lies beside it needs no closer look.
class Beside {
public:
    explicit Beside(const Face& face) : low_(face.front()), high_(face.back()) {
        for (const Vec2& p : face) {
            low_.x = std::min(low_.x, p.x);
            high_.x = std::max(high_.x, p.x);
        }
    }
    /// Whether both points lie on the same side of the face for certain: +1 left, -1 right, 0 not known.
    int side(Vec2 a, Vec2 b) const {
        if (std::min(a.y, b.y) < low_.y || std::max(a.y, b.y) > high_.y) return 0;
        if (std::max(a.x, b.x) < low_.x) return 1;
        return std::min(a.x, b.x) > high_.x ? -1 : 0;
    }

private:
    Vec2 low_;
    Vec2 high_;
};

/// Walks the outline once and keeps what is inside. Leaving at one point and coming back at the next, the walk follows the face.
class Walk {
public:
    Walk(const Face& face, double sign, int cut) : face_(face), beside_(face), sign_(sign), cut_(cut) {}

    void edge(const Corner& from, Vec2 to) {
        if (const int side = beside_.side(from.p, to); side != 0) {
            if (side * sign_ > 0.0) kept_.push_back(from);
            return;
        }
        if (face_.size() == 2) return step(from.p, to, from.made_by, true);
        const Kinks points = points_along(from.p, to, face_);
        for (std::size_t i = 0; i + 1 < points.size(); ++i) step(points[i], points[i + 1], from.made_by, i == 0);
    }

    /// The kept part, once the whole outline is walked.
    std::optional<Piece> result() {
        if (crossings_ > 2) return std::nullopt;
        // When the walk began outside, the face was left at the end and met again at the start.
        if (open_) add_face_between(kept_, face_, left_y_, first_back_y_, cut_);
        return std::move(kept_);
    }

private:
    void step(Vec2 a, Vec2 b, int made_by, bool is_corner) {
        const double ga = inside(face_, a, sign_);
        const double gb = inside(face_, b, sign_);
        if (ga >= 0.0 && is_corner) kept_.push_back({a, made_by});
        if ((ga >= 0.0) == (gb >= 0.0)) return;
        ++crossings_;
        const Vec2 p = a + (ga / (ga - gb)) * (b - a);
        if (ga >= 0.0) {
            kept_.push_back({p, cut_});
            left_y_ = p.y;
            open_ = true;
        } else {
            if (open_) add_face_between(kept_, face_, left_y_, p.y, cut_);
            else first_back_y_ = p.y;
            open_ = false;
            kept_.push_back({p, made_by});
        }
    }

    const Face& face_;
    Beside beside_;
    double sign_;
    int cut_;
    Piece kept_;
    int crossings_ = 0;
    bool open_ = false;
    double left_y_ = 0.0;
    double first_back_y_ = 0.0;
};

std::optional<Piece> part_of(const Piece& piece, const Face& face, double sign, int cut) {
    Walk walk(face, sign, cut);
    for (std::size_t i = 0; i < piece.size(); ++i) walk.edge(piece[i], piece[i + 1 == piece.size() ? 0 : i + 1].p);
    return walk.result();
}

}  // namespace

double area_mm2(const Piece& piece) {
    if (piece.size() < 3) return 0.0;
    double twice = 0.0;
    // About the first corner, so that a piece far from the origin loses no digits.
    const Vec2 o = piece.front().p;
    for (std::size_t i = 1; i + 1 < piece.size(); ++i) twice += cross(piece[i].p - o, piece[i + 1].p - o);
    return 0.5 * twice;
}

Piece moved(const base::Pose& X_BA, const Piece& piece) {
    Piece result(piece);
    for (Corner& c : result) c.p = X_BA * c.p;
    return result;
}

double x_at(const Face& face, double y) {
    const std::size_t i = part_at(face, y);
    const Vec2 a = face[i];
    const Vec2 b = face[i + 1];
    return a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
}

std::optional<Piece> part_left_of(const Piece& piece, const Face& face, int cut) { return part_of(piece, face, 1.0, cut); }
std::optional<Piece> part_right_of(const Piece& piece, const Face& face, int cut) { return part_of(piece, face, -1.0, cut); }

boost::container::small_vector<Vec2, 4> chain_made_by(const Piece& piece, int cut) {
    boost::container::small_vector<Vec2, 4> chain;
    const std::size_t n = piece.size();
    for (std::size_t i = 0; i < n; ++i) {
        const bool starts = piece[i].made_by == cut && piece[(i + n - 1) % n].made_by != cut;
        if (!starts) continue;
        for (std::size_t k = i; piece[k % n].made_by == cut && k < i + n; ++k) chain.push_back(piece[k % n].p);
        chain.push_back(piece[(i + chain.size()) % n].p);
        return chain;
    }
    return chain;
}

}  // namespace offsquare::cut
