// Notation as in diagnose/mixture.h.
#include "session/model.h"

#include <algorithm>
#include <array>
#include <boost/container/static_vector.hpp>
#include <map>
#include <memory>
#include <unordered_map>

#include "base/elementary.h"
#include "diagnose/memory.h"
#include "measure/run_check.h"
#include "session/slide.h"
#include "shop/truth.h"

namespace offsquare::session {
namespace {

using base::Result;
using diagnose::Observable;
using diagnose::Prediction;
using diagnose::Sizes;
using measure::Check;
using measure::CheckReport;
using measure::Occasion;
using enum shop::Fault;

/// A guess may stray below zero where a fault cannot.
double as_far_as_it_can_be(const shop::FaultInfo& f, double size) { return f.min == 0.0 && size < 0.0 ? 0.0 : size; }

shop::Truth assumed(const Sizes& sizes) {
    shop::Truth truth;
    for (const shop::FaultInfo& f : shop::faults())
        shop::size_of(truth, f.fault) = as_far_as_it_can_be(f, sizes[static_cast<std::size_t>(f.fault)]);
    return truth;
}

measure::Stand stand_of(const Occasion& occasion, const shop::Drawing& drawing, const shop::Truth& truth,
                        measure::Cuts cuts = measure::Cuts::coarse) {
    const contact::Shims shims{occasion.behind_left_mm, occasion.behind_right_mm};
    return {drawing, truth, shims, shims, occasion.clamped_again, cuts};
}

/// The report with other uncertainties.
Result<std::vector<Observable>> observed_with(CheckReport report, const std::vector<double>& u,
                                              const shop::Drawing& drawing) {
    for (std::size_t i = 0; i < report.readings.size(); ++i) report.readings[i].u = u[i];
    return diagnose::observe(report, drawing);
}

std::optional<Prediction> simulated(const Occasion& occasion, const shop::Drawing& drawing, const shop::Truth& truth) {
    const measure::Stand stand = stand_of(occasion, drawing, truth);
    const auto exact = measure::run_check(occasion.check, stand, 0, 0, measure::Precision::exact);
    if (!exact) return std::nullopt;
    const auto chance = observed_with(*exact, measure::scatter_of(occasion.check, stand), drawing);
    const auto noise = observed_with(*exact, measure::instrument_u(occasion.check, drawing), drawing);
    if (!chance || !noise) return std::nullopt;
    Prediction p;
    for (std::size_t i = 0; i < chance->size(); ++i) {
        p.mean.push_back((*chance)[i].value);
        p.variance.push_back((*chance)[i].u * (*chance)[i].u);
        p.u.push_back((*noise)[i].u);
    }
    return p;
}

// ---- test cuts, as the sum of two parts ----
//
// Fence and shims turn the board, runners and slots turn the sled, and a corner is off by the sum: to about a millionth
// of itself, since both are small. A kerf is as wide as the teeth, the wobble, and what toe and a curved way add. So
// the two parts are simulated apart and remembered apart: a dozen fences and some hundreds of guides stand for
// thousands of saws. The guides, of which there are most, are cut to first order (cut/first_order.h): against the rest
// that an instrument leaves that is nothing.

enum class Part { fence, guide };

/// In which part a fault acts, and whether it can keep the sled from moving at all.
struct Acts {
    Part part = Part::fence;
    bool binds = false;
};

constexpr Acts acts(shop::Fault fault) {
    switch (fault) {
        case fence_skew:
        case fence_bow:
        case fence_lean:
        case dust:
        case clamp_creep:
        case blade_tilt:
        case blade_runout:
        case edge_bow:
        case board_creep:
        case arbor_runout:
        case stop_slip:
        case caliper_zero:
        case caliper_step: return {Part::fence, false};
        case left_play:
        case right_play:
        case pitch_error:
        case slot_splay:
        case slot_wander:
        case runner_bend: return {Part::guide, true};
        case blade_toe: return {Part::guide, false};
    }
    return {};
}

constexpr std::size_t how_many(Part part) {
    std::size_t n = 0;
    for (std::size_t i = 0; i < shop::fault_count; ++i) n += acts(static_cast<shop::Fault>(i)).part == part ? 1 : 0;
    return n;
}

/// The sizes of one part; the other part true, but for runners as loose as on any good saw.
Sizes only(Part part, const Sizes& sizes) {
    Sizes out{};
    for (const shop::FaultInfo& f : shop::faults()) {
        const auto i = static_cast<std::size_t>(f.fault);
        if (acts(f.fault).part == part) out[i] = sizes[i];
    }
    return out;
}

/// Of checks that read a corner or a kerf, the one whose cuts tell what it reads: without chance, a test is a test.
/// Empty: it reads neither.
constexpr std::optional<Check> simulated_as(Check check) {
    switch (check) {
        case Check::five_cut:
        case Check::brushed:
        case Check::same_again: return Check::five_cut;
        case Check::flip:
        case Check::square_on_cut: return Check::square_on_cut;
        case Check::long_and_short:
        case Check::diagonals:
        case Check::kerf_width: return check;
        case Check::cut_face:
        case Check::fence_straightedge:
        case Check::fence_square:
        case Check::clamp_watch:
        case Check::edge_straightedge:
        case Check::wiggle:
        case Check::runner_fit:
        case Check::runner_spacing:
        case Check::runner_straightedge:
        case Check::slot_widths:
        case Check::slot_ride:
        case Check::tooth_indicator:
        case Check::rim_indicator:
        case Check::blade_square:
        case Check::jaws:
        case Check::gauge_in_jaws:
        case Check::board_end:
        case Check::stop_pieces:
        case Check::second_caliper:
        case Check::half_turn:
        case Check::push_through: break;
    }
    return std::nullopt;
}

bool cuts(Check check) { return simulated_as(check).has_value(); }

/// What `check` reads where the check that it is simulated as reads this.
std::vector<double> reads_as(Check check, std::vector<double> seen, const shop::Drawing& d) {
    if (check == Check::same_again) return {seen[0], seen[0], seen[0]};
    if (check != Check::flip) return seen;
    const auto doubled = [](double gap, double over, double width) {
        return width * base::tan_of(2.0 * base::atan_of(gap / over));
    };
    return {doubled(seen[0], measure::square_on_cut_mm, d.board.length_mm),
            doubled(seen[1], d.board.thickness_mm, d.board.thickness_mm)};
}

/// How the scatter of each reading of a check comes down to its observables, by rows; and what the instruments leave.
struct Scale {
    std::vector<std::vector<double>> per_reading;
    std::vector<double> u;
};

std::optional<Scale> scale_of(Check check, const shop::Drawing& drawing) {
    const shop::Truth perfect;
    const auto exact = measure::run_check(check, stand_of({check}, drawing, perfect), 0, 0, measure::Precision::exact);
    if (!exact) return std::nullopt;
    Scale scale;
    for (std::size_t k = 0; k < exact->readings.size(); ++k) {
        std::vector<double> one(exact->readings.size(), 0.0);
        one[k] = 1.0;
        const auto seen = observed_with(*exact, one, drawing);
        if (!seen) return std::nullopt;
        scale.per_reading.resize(seen->size());
        for (std::size_t i = 0; i < seen->size(); ++i) scale.per_reading[i].push_back((*seen)[i].u);
    }
    const auto noise = observed_with(*exact, measure::instrument_u(check, drawing), drawing);
    if (!noise) return std::nullopt;
    for (const Observable& o : *noise) scale.u.push_back(o.u);
    return scale;
}

std::vector<double> variances(const Scale& scale, const std::vector<double>& scatter) {
    std::vector<double> out;
    out.reserve(scale.per_reading.size());
    for (const auto& row : scale.per_reading) {
        double sum = 0.0;
        for (std::size_t k = 0; k < row.size(); ++k) sum += row[k] * row[k] * scatter[k] * scatter[k];
        out.push_back(sum);
    }
    return out;
}

/// Everything that is worked out once for a drawing.
struct Prepared {
    shop::Drawing drawing;
    std::map<Check, std::optional<Scale>> scales;
    Slide slide;
};

std::shared_ptr<const Prepared> prepared_for(const shop::Drawing& drawing) {
    Prepared prepared{drawing, {}, Slide(drawing)};
    for (const measure::CheckInfo& c : measure::checks()) {
        prepared.scales.emplace(c.check, scale_of(c.check, drawing));
    }
    return std::make_shared<const Prepared>(std::move(prepared));
}

/// Empty numbers where no such reading comes about on any saw: nobody will ask.
std::vector<double> chance_of(const Occasion& occasion, const Sizes& sizes, const Prepared& prepared) {
    const auto& scale = prepared.scales.at(occasion.check);
    if (!scale) return std::vector<double>(diagnose::observables_of(occasion.check), 0.0);
    const shop::Truth truth = assumed(sizes);
    return variances(*scale, measure::scatter_of(occasion.check, stand_of(occasion, prepared.drawing, truth)));
}

/// A number for each observable of a check.
using Numbers = boost::container::static_vector<double, 8>;

/// What a check reads of a saw on which only one part is not in good order, without chance; remembered.
class PartReadings {
public:
    PartReadings(Part part, std::shared_ptr<const Prepared> prepared) : part_(part), prepared_(std::move(prepared)) {}

    /// Empty: no such reading comes about. Good until the next is asked for by the same thread.
    const std::optional<Numbers>& of(const Occasion& occasion, const Sizes& sizes) const {
        // Enough for one check; a study of thousands of saws must not grow without end.
        constexpr std::size_t most = 40000;
        Answers& answers = memory_->mine();
        if (answers.size() > most) answers.clear();
        const Key key = key_of(occasion, sizes);
        const auto found = answers.find(key);
        return found != answers.end() ? found->second
                                      : answers.emplace(key, simulated_here(occasion, sizes)).first->second;
    }

private:
    /// How the saw stands, and what counts of the sizes. How often it was clamped changes no cut by itself.
    using Key = std::array<double, 3 + std::max(how_many(Part::fence), how_many(Part::guide))>;
    struct HashOf {
        std::size_t operator()(const Key& key) const {
            diagnose::MixedBits bits;
            for (const double x : key) bits.add(x);
            return bits.hash();
        }
    };
    using Answers = std::unordered_map<Key, std::optional<Numbers>, HashOf>;

    Key key_of(const Occasion& occasion, const Sizes& sizes) const {
        Key key{static_cast<double>(occasion.check), occasion.behind_left_mm, occasion.behind_right_mm};
        std::size_t n = 3;
        for (std::size_t i = 0; i < sizes.size(); ++i) {
            if (acts(static_cast<shop::Fault>(i)).part == part_) key[n++] = sizes[i];
        }
        return key;
    }
    std::optional<Numbers> simulated_here(const Occasion& occasion, const Sizes& sizes) const {
        const shop::Truth truth = assumed(only(part_, sizes));
        const measure::Stand stand =
            stand_of(occasion, prepared_->drawing, truth,
                     part_ == Part::guide ? measure::Cuts::first_order : measure::Cuts::coarse);
        const auto exact = measure::run_check(occasion.check, stand, 0, 0, measure::Precision::exact);
        if (!exact) return std::nullopt;
        const auto seen = diagnose::observe(*exact, prepared_->drawing);
        if (!seen) return std::nullopt;
        Numbers means;
        for (const Observable& o : *seen) means.push_back(o.value);
        return means;
    }

    Part part_;
    std::shared_ptr<const Prepared> prepared_;
    std::shared_ptr<diagnose::OnePerThread<Answers>> memory_ = std::make_shared<diagnose::OnePerThread<Answers>>();
};

struct Parts {
    PartReadings fence;
    PartReadings guide;
};

/// What a check that cuts reads, without chance.
std::optional<std::vector<double>> cut_means(const Occasion& occasion, const Sizes& sizes, const Prepared& prepared,
                                             const Parts& parts) {
    Occasion as = occasion;
    as.check = *simulated_as(occasion.check);
    // How often the fence was clamped changes no cut by itself: diagnose/mixture.h adds its turn.
    as.clamped_again = 0;
    const std::optional<Numbers> none = parts.guide.of(as, {});
    if (!none) return std::nullopt;
    const std::optional<Numbers>& fence = parts.fence.of(as, sizes);
    if (!fence) return std::nullopt;
    const std::optional<Numbers>& guide = parts.guide.of(as, sizes);
    if (!guide) return std::nullopt;
    std::vector<double> means(fence->begin(), fence->end());
    for (std::size_t i = 0; i < means.size(); ++i) means[i] += (*guide)[i] - (*none)[i];
    return reads_as(occasion.check, std::move(means), prepared.drawing);
}

std::optional<Prediction> cut_of(const Occasion& occasion, const Sizes& sizes, const Prepared& prepared,
                                 const Parts& parts) {
    const auto& scale = prepared.scales.at(occasion.check);
    auto means = cut_means(occasion, sizes, prepared, parts);
    if (!scale || !means) return std::nullopt;
    return Prediction{std::move(*means), chance_of(occasion, sizes, prepared), scale->u};
}

std::optional<Prediction> wiggle_of(const Sizes& sizes, const Prepared& prepared) {
    const auto& scale = prepared.scales.at(Check::wiggle);
    const auto room = room_of(prepared.drawing, assumed(sizes));
    if (!room || !scale) return std::nullopt;
    return Prediction{{room->front_mm, room->rear_mm}, {0.0, 0.0}, scale->u};
}

/// A zero error smaller than half a step of a sticking caliper does not show at all, and the same each time: no
/// scatter, but a staircase. Chance is what goes beyond the u that comes with the reading; below 0 where the steps make
/// it surer than that. A reading that can only be this one has all its probability on one step of the display, which is
/// as high as a normal distribution of variance step^2/(2 pi).
std::optional<Prediction> jaws_of(const Sizes& sizes, const Prepared& prepared) {
    const auto& scale = prepared.scales.at(Check::jaws);
    if (!scale) return std::nullopt;
    const double u = scale->u[0];
    const double own = prepared.drawing.caliper.step_mm;
    const double noise = std::sqrt(std::max(0.0, u * u - own * own / 12.0));
    const shop::Truth truth = assumed(sizes);
    const measure::Shown seen = measure::shown(truth.caliper_zero_mm, noise, std::max(own, truth.caliper_step_mm));
    constexpr double two_pi = 6.28318530717958647693;
    return Prediction{{seen.mean}, {std::max(own * own / two_pi, seen.variance) - u * u}, {u}};
}

// ---- whether the sled goes ----

constexpr std::size_t how_many_bind() {
    std::size_t n = 0;
    for (std::size_t i = 0; i < shop::fault_count; ++i) n += acts(static_cast<shop::Fault>(i)).binds ? 1 : 0;
    return n;
}

/// In the order of the enum.
constexpr auto binding = [] {
    std::array<shop::Fault, how_many_bind()> all{};
    std::size_t n = 0;
    for (std::size_t i = 0; i < shop::fault_count; ++i) {
        if (acts(static_cast<shop::Fault>(i)).binds) all[n++] = static_cast<shop::Fault>(i);
    }
    return all;
}();

/// Only what can bind the sled: all that its way through the slots depends on.
shop::Truth assumed_guides(const Sizes& sizes) {
    shop::Truth truth;
    for (const shop::Fault fault : binding) {
        const double size = sizes[static_cast<std::size_t>(fault)];
        shop::size_of(truth, fault) = as_far_as_it_can_be(shop::info(fault), size);
    }
    return truth;
}

}  // namespace

diagnose::Model model_of(const shop::Drawing& drawing) {
    const auto prepared = prepared_for(drawing);
    const auto whole = [prepared](const Occasion& occasion, const Sizes& sizes) {
        return simulated(occasion, prepared->drawing, assumed(sizes));
    };
    const Parts parts{{Part::fence, prepared}, {Part::guide, prepared}};
    diagnose::Model model = [prepared, whole, parts](const Occasion& occasion, const Sizes& sizes) {
        if (occasion.check == Check::wiggle) return wiggle_of(sizes, *prepared);
        if (occasion.check == Check::jaws) return jaws_of(sizes, *prepared);
        return cuts(occasion.check) ? cut_of(occasion, sizes, *prepared, parts) : whole(occasion, sizes);
    };
    model.means = [prepared, parts, reads = model.reads](const Occasion& occasion,
                                                         const Sizes& sizes) -> std::optional<std::vector<double>> {
        if (cuts(occasion.check)) return cut_means(occasion, sizes, *prepared, parts);
        auto all = reads(occasion, sizes);
        if (!all) return std::nullopt;
        return std::move(all->mean);
    };
    model.chance = [prepared](const Occasion& occasion, const Sizes& sizes) {
        if (occasion.check != Check::jaws) return chance_of(occasion, sizes, *prepared);
        const auto jaws = jaws_of(sizes, *prepared);
        return jaws ? jaws->variance : std::vector<double>{0.0};
    };
    model.goes = [prepared](const Sizes& sizes) { return prepared->slide.goes(assumed_guides(sizes)); };
    model.felt = [prepared](const Sizes& sizes) { return prepared->slide.how_it_goes(assumed_guides(sizes)); };
    // Taken apart and put together, the guides to first order: the root mean square over saws of the prior, of which
    // half are off by less than 0.1 urad and one in a hundred by more than 38 (tests/session/model_test.cpp).
    constexpr double off_rad = 8e-6;
    for (const measure::CheckInfo& c : measure::checks()) {
        if (c.strips != measure::Strips::none) model.off[c.check] = off_rad;
    }
    model.binding.assign(binding.begin(), binding.end());
    model.memory = diagnose::new_going_memory();
    return model;
}

Assumptions usual_assumptions(const shop::Drawing& drawing) { return {model_of(drawing), diagnose::declared_prior()}; }

Sight sight_of(const Assumptions& assumed) {
    Sight sight;
    for (const measure::CheckInfo& check : measure::checks())
        sight.push_back(diagnose::seen_by({check.check}, assumed.model, assumed.prior).any);
    return sight;
}

Sight sight_of(const shop::Drawing& drawing) { return sight_of(usual_assumptions(drawing)); }

}  // namespace offsquare::session
