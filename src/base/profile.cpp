#include "base/profile.h"

#include <algorithm>

namespace offsquare::base {

Profile sum(const Profile& a, const Profile& b) {
    if (a.straight()) return b;
    if (b.straight()) return a;
    Profile::Points points;
    for (const Vec2 p : a.points()) points.push_back(p);
    for (const Vec2 p : b.points()) points.push_back(p);
    std::sort(points.begin(), points.end(), [](Vec2 p, Vec2 q) { return p.x < q.x; });
    const auto same_place = [](Vec2 p, Vec2 q) { return p.x == q.x; };
    points.erase(std::unique(points.begin(), points.end(), same_place), points.end());
    for (Vec2& p : points) p.y = a.at(p.x) + b.at(p.x);
    return Profile(points);
}

}  // namespace offsquare::base
