#include "base/profile.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/quantity.h"

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

Profile Profile::wave(double from, double to, double height, double wave_mm) {
    constexpr int per_wave = 12;
    Points p;
    const double step = wave_mm / per_wave;
    for (double k = std::ceil(from / step); k * step <= to; k += 1.0)
        p.push_back({k * step, 0.5 * height * sin_of(2.0 * pi * std::fmod(k, per_wave) / per_wave)});
    return Profile(p);
}

}  // namespace offsquare::base
