#include "diagnose/prior.h"

namespace offsquare::diagnose {
const Prior& declared_prior() {
    static const Prior prior = [] {
        Prior all;
        for (const shop::FaultInfo& f : shop::faults())
            all[static_cast<std::size_t>(f.fault)].assign(f.lobes.begin(), f.lobes.end());
        return all;
    }();
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
