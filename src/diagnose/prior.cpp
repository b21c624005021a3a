#include "diagnose/prior.h"

namespace offsquare::diagnose {
namespace {

/// To either side alike.
Lobes either_side(double p, double size, double sd, double rest) {
    return {{false, 1.0 - p, 0.0, rest}, {true, 0.5 * p, -size, sd}, {true, 0.5 * p, size, sd}};
}

/// Only above zero: a fit is never perfect, so that absent has a size too.
Lobes above(double p, double size, double sd, double rest, double rest_sd) {
    return {{false, 1.0 - p, rest, rest_sd}, {true, p, size, sd}};
}

/// A spread: how much something changes by chance. Nothing reads it straight, so its sizes are three narrow lobes and
/// scatter weighs them.
Lobes spread(double p, double small, double rest) {
    return {{false, 1.0 - p, rest, 0.2 * rest},
            {true, p / 3.0, small, 0.12 * small},
            {true, p / 3.0, 1.6 * small, 0.2 * small},
            {true, p / 3.0, 2.5 * small, 0.3 * small}};
}

}  // namespace

const Prior& declared_prior() {
    static const Prior prior{{
        either_side(0.50, 0.8e-3, 0.25e-3, 0.05e-3),   // fence_skew
        either_side(0.25, 0.25, 0.08, 0.015),          // fence_bow
        either_side(0.20, 6e-3, 2e-3, 0.5e-3),         // fence_lean
        spread(0.20, 0.1, 0.005),                      // dust
        spread(0.20, 0.25e-3, 0.01e-3),                // clamp_creep
        above(0.30, 0.25, 0.05, 0.06, 0.012),          // left_play
        above(0.30, 0.25, 0.05, 0.06, 0.012),          // right_play
        either_side(0.15, 0.10, 0.02, 0.008),          // pitch_error
        either_side(0.10, 0.20e-3, 0.04e-3, 0.02e-3),  // slot_splay
        either_side(0.10, 0.08, 0.02, 0.006),          // slot_wander
        either_side(0.10, 0.08, 0.02, 0.006),          // runner_bend
        either_side(0.25, 1.0e-3, 0.3e-3, 0.05e-3),    // blade_toe
        either_side(0.20, 6e-3, 1.8e-3, 0.5e-3),       // blade_tilt
        above(0.20, 0.12, 0.03, 0.02, 0.005),          // blade_runout
        either_side(0.30, 0.4, 0.12, 0.03),            // edge_bow
        either_side(0.20, 0.05, 0.012, 0.004),         // caliper_zero
        spread(0.10, 0.06, 0.002),                     // caliper_step
    }};
    return prior;
}

double mean_of(const Lobes& lobes) {
    double sum = 0.0;
    for (const Lobe& l : lobes) sum += l.weight * l.mean;
    return sum;
}

double variance_of(const Lobes& lobes) {
    const double mean = mean_of(lobes);
    double sum = 0.0;
    for (const Lobe& l : lobes) sum += l.weight * (l.sd * l.sd + (l.mean - mean) * (l.mean - mean));
    return sum;
}

double probability_of(const Lobes& lobes) {
    double sum = 0.0;
    for (const Lobe& l : lobes) sum += l.present ? l.weight : 0.0;
    return sum;
}

}  // namespace offsquare::diagnose
