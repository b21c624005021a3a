// One saw for tests of checks: its drawing, its errors, and what a check reads on it.
#pragma once

#include <cmath>
#include <vector>

#include "measure/run_check.h"
#include "shop/truth.h"

struct Saw {
    offsquare::shop::Drawing drawing;
    offsquare::shop::Truth truth;
    offsquare::contact::Shims shims;

    /// On the coarse grain, which takes a tenth of the time; what the fine one adds is tests/cut/grain_test.cpp's.
    offsquare::measure::Stand stand() const {
        return {drawing, truth, shims, shims, 0, offsquare::measure::Cuts::coarse};
    }
    offsquare::base::Result<offsquare::measure::CheckReport> run(
        offsquare::measure::Check check, std::uint64_t seed = 0, std::uint32_t number = 0,
        offsquare::measure::Precision precision = offsquare::measure::Precision::exact) const {
        return offsquare::measure::run_check(check, stand(), seed, number, precision);
    }
    /// Empty: refused.
    std::vector<double> exact(offsquare::measure::Check check) const { return values(run(check)); }
    std::vector<double> real(offsquare::measure::Check check, std::uint64_t seed, std::uint32_t number = 0) const {
        return values(run(check, seed, number, offsquare::measure::Precision::real));
    }
    std::vector<double> scatter(offsquare::measure::Check check) const {
        return offsquare::measure::scatter_of(check, stand());
    }

private:
    static std::vector<double> values(const offsquare::base::Result<offsquare::measure::CheckReport>& report) {
        std::vector<double> all;
        if (report) {
            for (const auto& r : report->readings) all.push_back(r.value);
        }
        return all;
    }
};

/// A strip's taper over its length, from three readings in order.
inline double taper_rate(const std::vector<double>& v, std::size_t from = 0) {
    return (v[from] - v[from + 1]) / v[from + 2];
}
