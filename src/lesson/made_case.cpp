#include "lesson/made_case.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/random.h"
#include "lesson/hunt.h"
#include "lesson/shortest.h"

namespace offsquare::lesson {
namespace {

using scenario::Concern;
using shop::Fault;

/// Draws of one attempt.
class CaseDraws : public base::Draws {
public:
    CaseDraws(std::uint64_t seed, std::uint32_t attempt) : Draws(seed, base::Purpose::made_case, attempt) {}
    double between(double lo, double hi) { return lo + (hi - lo) * uniform(); }
    template <class List>
    const auto& one_of(const List& list) {
        const auto n = static_cast<double>(std::size(list));
        return *(std::begin(list) + static_cast<std::ptrdiff_t>(std::min(n - 1.0, std::floor(uniform() * n))));
    }
};

/// What is planted, and what its owner would notice of it. Of look-alikes the concern is the same.
struct Recipe {
    Concern concern = Concern::corner;
    std::vector<Fault> faults;
};

const std::vector<Recipe>& recipes_of(int tier) {
    static const std::array<std::vector<Recipe>, tiers> all{{
        {{Concern::corner, {Fault::fence_skew}},
         {Concern::corner, {Fault::fence_bow}},
         {Concern::change, {Fault::dust}},
         {Concern::face, {Fault::blade_toe}},
         {Concern::face, {Fault::blade_tilt}},
         {Concern::change, {Fault::clamp_creep}},
         {Concern::corner, {Fault::edge_bow}}},
        {{Concern::corner, {Fault::fence_skew}},
         {Concern::corner, {Fault::fence_bow}},
         {Concern::change, {Fault::dust}},
         {Concern::change, {Fault::clamp_creep}},
         {Concern::change, {Fault::left_play, Fault::right_play}},
         {Concern::face, {Fault::blade_toe}},
         {Concern::face, {Fault::blade_runout}},
         {Concern::corner, {}},
         {Concern::change, {}}},
        {{Concern::corner, {Fault::fence_skew, Fault::fence_bow}},
         {Concern::change, {Fault::fence_skew, Fault::dust}},
         {Concern::change, {Fault::fence_skew, Fault::clamp_creep}},
         {Concern::corner, {Fault::fence_skew, Fault::edge_bow}},
         {Concern::face, {Fault::fence_skew, Fault::blade_toe}},
         {Concern::face, {Fault::blade_tilt}},
         {Concern::face, {Fault::blade_toe}}},
        {{Concern::slide, {Fault::runner_bend}},
         {Concern::slide, {Fault::pitch_error}},
         {Concern::slide, {Fault::slot_splay}},
         {Concern::corner, {Fault::caliper_step, Fault::fence_skew}},
         {Concern::corner, {Fault::caliper_zero}}},
    }};
    return all.at(static_cast<std::size_t>(tier - 1));
}

/// Of those that the fault has when it is there: large enough to be found.
double size_of(Fault fault, CaseDraws& draws) {
    const shop::FaultInfo& info = shop::info(fault);
    std::vector<shop::Lobe> present;
    for (const shop::Lobe& lobe : info.lobes) {
        if (lobe.present) present.push_back(lobe);
    }
    const shop::Lobe& lobe = draws.one_of(present);
    const double size = lobe.mean + std::clamp(draws.normal(), -1.5, 1.5) * lobe.sd;
    const double least = 1.6 * info.teachable;
    const double sign = lobe.mean < 0.0 ? -1.0 : 1.0;
    return std::clamp(sign * std::max(least, std::abs(size)), info.min, info.max);
}

// ---- told as an owner would ----

constexpr std::array<std::string_view, 6> places{"a boatyard's joinery",  "a school shop",        "a toy maker's shed",
                                                 "a frame maker's attic", "a theatre's set shop", "a repair café"};
constexpr std::array<std::string_view, 6> things{"boxes",        "trays",  "drawer sides",
                                                 "shelf boards", "frames", "small cupboards"};
constexpr std::array<std::string_view, 4> histories{"It came with the saw, and nobody remembers who built it.",
                                                    "It was rebuilt in the autumn and has been used ever since.",
                                                    "Two people share it, and neither has changed anything.",
                                                    "It hung on the wall all winter."};

const std::vector<std::string_view>& complaints_of(Concern concern) {
    static const std::array<std::vector<std::string_view>, 4> all{{
        {"The last corner never closes.", "My joints show daylight.", "It looks square, and nothing built on it is.",
         "I was told to check it before I cut the good boards.", "Something is off, and I cannot say what."},
        {"The cuts do not look as they did.", "I sand every cut, and I should not have to.",
         "My customer ran a thumb along the cut and shook his head.",
         "The joint closes, and still it does not please me."},
        {"It does not run as it did.", "I push harder than I like.", "It wants to stop before the board is through.",
         "My helper says it drags. I am used to it."},
        {"Monday's boards and Friday's do not match.", "I set it, and it does not stay set.",
         "Two boards from one plank, two corners.", "Some days it is true. Some days it is not."},
    }};
    return all.at(static_cast<std::size_t>(concern));
}

// ---- sizes ----

std::string in_mm(double value) { return fmt::format("{:.1f} mm", value); }

/// Another sled than the one that is built in: longer or shorter, another board, and now and then a vernier.
std::vector<scenario::Override> drawn_sizes(const scenario::Scenario& usual, CaseDraws& draws) {
    const double scale = draws.between(0.9, 1.12);
    const shop::Fence& fence = usual.drawing.fence;
    std::vector<scenario::Override> out{{"fence.length", in_mm(fence.length_mm * scale)},
                                        {"fence.shim_left", in_mm(fence.shim_left_x_mm * scale)},
                                        {"fence.shim_right", in_mm(fence.shim_right_x_mm * scale)}};
    const double board = 10.0 * std::round(0.1 * usual.drawing.board.width_mm * draws.between(0.88, 1.04));
    out.push_back({"board.width", in_mm(board)});
    out.push_back({"board.length", in_mm(board - 10.0)});
    return out;
}

std::vector<scenario::Override> drawn_faults(const Recipe& recipe, CaseDraws& draws) {
    std::vector<scenario::Override> out;
    for (const shop::FaultInfo& info : shop::faults()) {
        const bool planted = is_in(recipe.faults, info.fault);
        // A saw that is in order is not exactly so: as small as on any good saw.
        const shop::Lobe& good = info.lobes.absent();
        const double size = planted ? size_of(info.fault, draws)
                                    : std::clamp(good.mean + 0.5 * good.sd * draws.normal(), info.min, info.max);
        out.push_back({fmt::format("faults.{}", info.key),
                       fmt::format("{:.6f} {}", size, info.unit == shop::FaultUnit::mm ? "mm" : "rad")});
    }
    return out;
}

base::Result<scenario::Scenario> drawn_case(int tier, std::uint64_t seed, CaseDraws& draws) {
    scenario::Scenario usual = scenario::built_in();
    const Recipe& recipe = draws.one_of(recipes_of(tier));
    usual.units = draws.uniform() < 0.7 ? base::Units::metric : base::Units::imperial;
    const auto& complaints = complaints_of(recipe.concern);
    usual.complaint = draws.one_of(complaints);
    usual.speaks_of = recipe.concern;
    usual.title = fmt::format("A sled from {}", draws.one_of(places));
    usual.story =
        fmt::format("{}, used for {} most days. {}", usual.title, draws.one_of(things), draws.one_of(histories));
    usual.seed = seed;
    usual.budget = {};
    auto changes = drawn_sizes(usual, draws);
    for (auto& fault : drawn_faults(recipe, draws)) changes.push_back(std::move(fault));
    return scenario::with(usual, changes);
}

double rounded_up(double value, double step) { return step * std::ceil(value / step - 1e-9); }

}  // namespace

namespace {

/// With what it may cost; nullopt: the advice does not solve it.
std::optional<scenario::Scenario> with_budget(scenario::Scenario made) {
    constexpr double room = 1.25;  // a person may take a detour
    constexpr double minutes_step = 15.0, board_step = 50.0;
    made.budget = {};
    const auto road = advised_road(made, made.seed, truth_of(made));
    if (!road) return std::nullopt;
    made.budget = {rounded_up(room * road->minutes(), minutes_step), rounded_up(room * road->board_mm(), board_step)};
    return made;
}

scenario::Override sized(const shop::FaultInfo& info, double size) {
    return {fmt::format("faults.{}", info.key), fmt::format("{:.6f} {}", std::clamp(size, info.min, info.max),
                                                            info.unit == shop::FaultUnit::mm ? "mm" : "rad")};
}

/// What is wrong with it in other sizes, and, for what may be to either side, perhaps mirrored.
std::vector<scenario::Override> resized(const Truth& truth, CaseDraws& draws) {
    std::vector<scenario::Override> out;
    const double mirror = draws.uniform() < 0.5 ? -1.0 : 1.0;
    for (const Wrong& w : truth.wrong) {
        const shop::FaultInfo& info = shop::info(w.fault);
        const double least = w.counts ? 1.2 * info.teachable : 0.0;
        const double size = std::max(least, std::abs(w.size) * draws.between(0.8, 1.25));
        const bool either = info.min < 0.0;
        out.push_back(sized(info, either ? std::copysign(size, mirror * w.size) : size));
    }
    return out;
}

void tell_anew(scenario::Scenario& s, CaseDraws& draws) {
    s.complaint = draws.one_of(complaints_of(s.speaks_of));
    s.title = fmt::format("A sled from {}", draws.one_of(places));
    s.story = fmt::format("{}, used for {} most days. {}", s.title, draws.one_of(things), draws.one_of(histories));
}

bool same_faults(const Recipe& recipe, const Truth& truth) {
    const std::vector<Fault> counting = truth.counting();
    return std::any_of(recipe.faults.begin(), recipe.faults.end(), [&](Fault f) { return is_in(counting, f); }) ||
           (recipe.faults.empty() && counting.empty());
}

}  // namespace

base::Result<scenario::Scenario> case_again(const scenario::Scenario& scenario, std::uint64_t round) {
    const Truth truth = truth_of(scenario);
    for (std::uint32_t attempt = 0; attempt < most_attempts; ++attempt) {
        CaseDraws draws(scenario.seed + 1000 * round, 100 + attempt);
        scenario::Scenario anew = scenario;
        anew.seed = scenario.seed + 1000 * round;
        tell_anew(anew, draws);
        const auto changed = scenario::with(anew, resized(truth, draws));
        auto made = changed ? with_budget(*changed) : std::nullopt;
        if (made) return std::move(*made);
    }
    return base::fail(base::Grade::bad_data, "this case cannot be made in other sizes");
}

base::Result<scenario::Scenario> twin_of(const scenario::Scenario& scenario, std::uint64_t seed) {
    const Truth truth = truth_of(scenario);
    std::vector<Recipe> others;
    for (int tier = 1; tier <= tiers; ++tier) {
        for (const Recipe& r : recipes_of(tier)) {
            if (r.concern == scenario.speaks_of && !same_faults(r, truth)) others.push_back(r);
        }
    }
    for (std::uint32_t attempt = 0; attempt < most_attempts && !others.empty(); ++attempt) {
        CaseDraws draws(seed, 200 + attempt);
        scenario::Scenario twin = scenario;
        twin.seed = seed;
        const auto changed = scenario::with(twin, drawn_faults(draws.one_of(others), draws));
        auto made = changed ? with_budget(*changed) : std::nullopt;
        if (made) return std::move(*made);
    }
    return base::fail(base::Grade::bad_data, "no other cause with such a complaint could be made");
}

base::Result<scenario::Scenario> made_case(int tier, std::uint64_t seed) {
    if (tier < 1 || tier > tiers)
        return base::fail(base::Grade::usage, fmt::format("found tier {}; there are tiers 1 to {}", tier, tiers));
    for (std::uint32_t attempt = 0; attempt < most_attempts; ++attempt) {
        CaseDraws draws(seed * tiers + static_cast<std::uint64_t>(tier), attempt);
        auto drawn = drawn_case(tier, seed, draws);
        auto made = drawn ? with_budget(std::move(*drawn)) : std::nullopt;
        if (made) return std::move(*made);
    }
    return base::fail(base::Grade::bad_data, fmt::format("no case of tier {} could be made from seed {}", tier, seed));
}

}  // namespace offsquare::lesson
