// Notation as in diagnose/mixture.h.
#include "session/model.h"

#include "measure/run_check.h"

namespace offsquare::session {
namespace {

using base::Result;
using diagnose::Observable;
using measure::CheckReport;
using measure::Occasion;

shop::Truth assumed(const diagnose::Sizes& sizes) {
    shop::Truth truth;
    for (const shop::FaultInfo& f : shop::faults()) {
        const double size = sizes[static_cast<std::size_t>(f.fault)];
        // A guess may stray below zero where a fault cannot.
        shop::size_of(truth, f.fault) = f.min == 0.0 && size < 0.0 ? 0.0 : size;
    }
    return truth;
}

/// The report with other uncertainties.
Result<std::vector<Observable>> observed_with(CheckReport report, const std::vector<double>& u, const shop::Drawing& drawing) {
    for (std::size_t i = 0; i < report.readings.size(); ++i) report.readings[i].u = u[i];
    return diagnose::observe(report, drawing);
}

/// What the clamps may have moved since the first reading: each time anew, so that it is a spread of whatever depends on the corner.
double creep_variance(const Occasion& occasion, const shop::Truth& truth, double per_rad) {
    return occasion.clamped_again > 0 ? truth.clamp_creep_rad * truth.clamp_creep_rad * per_rad * per_rad : 0.0;
}

/// How much an observable moves with the corner; 0 where it does not look at one.
double per_corner(measure::Check check, std::size_t index, const shop::Drawing& d) {
    using enum measure::Check;
    switch (check) {
        case five_cut:
        case brushed:
        case same_again:
        case long_and_short: return 1.0;
        case flip: return index == 0 ? 2.0 * d.board.length_mm : 0.0;
        case square_on_cut: return index == 0 ? measure::square_on_cut_mm : 0.0;
        default: return 0.0;
    }
}

diagnose::Prediction prediction_of(const Occasion& occasion, const shop::Drawing& d, const shop::Truth& truth, const std::vector<Observable>& chance, const std::vector<Observable>& noise) {
    diagnose::Prediction p;
    for (std::size_t i = 0; i < chance.size(); ++i) {
        p.mean.push_back(chance[i].value);
        p.variance.push_back(chance[i].u * chance[i].u + creep_variance(occasion, truth, per_corner(occasion.check, i, d)));
        p.u.push_back(noise[i].u);
    }
    return p;
}

// ---- test cuts, as the sum of two parts ----
//
// Fence and shims turn the board, runners and slots turn the sled, and a corner is off by the sum: to about a millionth of itself, since both are small. So the
// two parts are simulated apart and remembered apart: a dozen fences and some hundreds of guides stand for thousands of saws.

bool guides(shop::Fault fault) {
    using enum shop::Fault;
    switch (fault) {
        case left_play:
        case right_play:
        case pitch_error:
        case slot_splay:
        case slot_wander:
        case runner_bend:
        case blade_toe: return true;
        default: return false;
    }
}

enum class Part { fence, guide };

/// The sizes of one part; the other part true, but for runners as loose as on any good saw.
diagnose::Sizes only(Part part, const diagnose::Sizes& sizes) {
    diagnose::Sizes out{};
    for (const shop::FaultInfo& f : shop::faults()) {
        const auto i = static_cast<std::size_t>(f.fault);
        if (guides(f.fault) == (part == Part::guide)) out[i] = sizes[i];
    }
    return out;
}

bool cuts_corner(measure::Check check) { return per_corner(check, 0, shop::Drawing{}) != 0.0; }

diagnose::Model whole_model(const shop::Drawing& drawing) {
    return [drawing](const Occasion& occasion, const diagnose::Sizes& sizes) -> std::optional<diagnose::Prediction> {
        const shop::Truth truth = assumed(sizes);
        const contact::Shims shims{occasion.behind_left_mm, occasion.behind_right_mm};
        const measure::Stand stand{drawing, truth, shims, shims, occasion.clamped_again};
        const auto exact = measure::run_check(occasion.check, stand, 0, 0, measure::Precision::exact);
        if (!exact) return std::nullopt;
        const auto chance = observed_with(*exact, measure::scatter_of(occasion.check, stand), drawing);
        const auto noise = observed_with(*exact, measure::instrument_u(occasion.check, drawing), drawing);
        if (!chance || !noise) return std::nullopt;
        return prediction_of(occasion, drawing, truth, *chance, *noise);
    };
}

}  // namespace

diagnose::Model model_of(const shop::Drawing& drawing) {
    const diagnose::Model whole = whole_model(drawing);
    const diagnose::Model remembered = diagnose::remembering(whole);
    return [whole, remembered](const Occasion& occasion, const diagnose::Sizes& sizes) -> std::optional<diagnose::Prediction> {
        if (!cuts_corner(occasion.check)) return whole(occasion, sizes);
        auto sum = remembered(occasion, only(Part::fence, sizes));
        const auto guide = remembered(occasion, only(Part::guide, sizes));
        const auto none = remembered(occasion, {});
        if (!sum || !guide || !none) return std::nullopt;
        for (std::size_t i = 0; i < sum->mean.size(); ++i) {
            sum->mean[i] += guide->mean[i] - none->mean[i];
            sum->variance[i] += guide->variance[i] - none->variance[i];
        }
        return sum;
    };
}

Sight sight_of(const shop::Drawing& drawing) {
    const diagnose::Model model = model_of(drawing);
    Sight sight;
    for (const measure::CheckInfo& check : measure::checks()) sight.push_back(diagnose::seen_by({check.check}, model, diagnose::declared_prior()).any);
    return sight;
}

}  // namespace offsquare::session
