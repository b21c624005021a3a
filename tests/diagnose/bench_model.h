// Forward models of a few lines, for which the right answer is known by another road.
#pragma once

#include <initializer_list>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "diagnose/infer.h"

namespace bench_model {

using namespace offsquare;
using diagnose::Sizes;
using shop::Fault;

inline std::size_t at(Fault f) { return static_cast<std::size_t>(f); }

/// A straightedge without an error of its own, and feelers in hundredths: only half of the feelers' limits lasts.
inline shop::Drawing drawing() {
    shop::Drawing d;
    d.feelers.step_mm = 0.0;
    d.straightedge.limit_mm = 0.0;
    return d;
}

/// How one reading moves with the sizes.
using Row = std::map<Fault, double>;
/// By check, its readings.
using Table = std::map<measure::Check, std::vector<Row>>;

inline double dot(const Row& row, const Sizes& sizes) {
    double sum = 0.0;
    for (const auto& [fault, slope] : row) sum += slope * sizes[at(fault)];
    return sum;
}

/// Straight in all sizes; checks that are not in the table read nothing at all. `u`: of every reading that is not made
/// yet; a thousandth of it counts as nothing, so it is small.
inline diagnose::Model straight(Table table, double u = 1e-6) {
    return [table = std::move(table), u](const measure::Occasion& occasion,
                                         const Sizes& sizes) -> std::optional<diagnose::Prediction> {
        diagnose::Prediction p;
        const std::size_t n = diagnose::observables_of(occasion.check);
        p.mean.assign(n, 0.0);
        p.variance.assign(n, 0.0);
        p.u.assign(n, u);
        if (const auto rows = table.find(occasion.check); rows != table.end()) {
            for (std::size_t i = 0; i < rows->second.size(); ++i) p.mean[i] = dot(rows->second[i], sizes);
        }
        return p;
    };
}

/// A report of a check whose observables are its readings.
inline measure::CheckReport report(measure::Check check, std::initializer_list<std::pair<double, double>> value_and_u) {
    measure::CheckReport out{{check}, {}};
    auto next = value_and_u.begin();
    for (const measure::ReadingInfo& r : measure::info(check).readings) {
        out.readings.push_back({std::string(r.what), r.unit, next->first, next->second});
        ++next;
    }
    return out;
}

/// Every fault of one narrow lobe at zero.
inline diagnose::Prior nothing() {
    diagnose::Prior prior;
    for (auto& lobes : prior) lobes = {{false, 1.0, 0.0, 1e-3}};
    return prior;
}

}  // namespace bench_model
