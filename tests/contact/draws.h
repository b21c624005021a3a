// Random numbers for these tests: mt19937_64 is fixed by the standard, its distributions are not, so this makes its
// own.
#pragma once

#include <random>

#include "base/profile.h"

class Draws {
public:
    explicit Draws(unsigned long long seed) : engine_(seed) {}
    double between(double lo, double hi) { return lo + (hi - lo) * (static_cast<double>(engine_() >> 11) * 0x1p-53); }
    int whole(int lo, int hi) {
        return lo + static_cast<int>(engine_() % static_cast<unsigned long long>(hi - lo + 1));
    }
    bool coin() { return engine_() & 1U; }
    double sign() { return coin() ? 1.0 : -1.0; }

    /// n points evenly over [from, to], each within +-size.
    offsquare::base::Profile rough(double from, double to, double size, int n = 33) {
        offsquare::base::Profile::Points points;
        for (int i = 0; i < n; ++i) points.push_back({from + (to - from) * i / (n - 1), between(-size, size)});
        return offsquare::base::Profile(points);
    }

    /// n points of a gentle cubic with a little roughness, as a worn or badly planed face has.
    offsquare::base::Profile wavy(double from, double to, double size, int n = 33) {
        const double a = between(-1, 1), b = between(-1, 1), c = between(-1, 1);
        offsquare::base::Profile::Points points;
        for (int i = 0; i < n; ++i) {
            const double u = 2.0 * i / (n - 1) - 1.0;
            points.push_back(
                {from + (to - from) * i / (n - 1), size * (a * u + b * u * u + c * u * u * u + between(-0.05, 0.05))});
        }
        return offsquare::base::Profile(points);
    }

private:
    std::mt19937_64 engine_;
};
