// Simulated learners on saws with planted faults: how many minutes of checks until a fault is named, by how the next
// check is chosen. All reason alike (the diagnosis of the program, a fault being named at 95 in 100); only their
// choices differ. Built by its name; run as
//
//     learners [SAWS] [FAULTS] [FIRST]
//
// SAWS a tier (20), FAULTS planted on each (1), FIRST: number of the first (0). What came of it: learners.md.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "diagnose/puzzle_of.h"
#include "session/hunts.h"

using namespace random_saws;
using diagnose::Diagnosis;
using measure::Check;
using shop::Fault;

namespace {

// Blade to slot first, then what the sled runs on, the fence, the cut (common practice, no source).
constexpr std::array shop_order{Check::tooth_indicator,
                                Check::rim_indicator,
                                Check::blade_square,
                                Check::wiggle,
                                Check::runner_fit,
                                Check::slot_widths,
                                Check::slot_ride,
                                Check::runner_spacing,
                                Check::fence_square,
                                Check::runner_straightedge,
                                Check::fence_straightedge,
                                Check::clamp_watch,
                                Check::five_cut,
                                Check::brushed,
                                Check::edge_straightedge,
                                Check::long_and_short,
                                Check::same_again,
                                Check::square_on_cut,
                                Check::flip,
                                Check::board_end,
                                Check::kerf_width,
                                Check::cut_face,
                                Check::jaws,
                                Check::gauge_in_jaws,
                                Check::second_caliper,
                                Check::half_turn,
                                Check::stop_pieces,
                                Check::diagonals};

/// A saw of the prior on which these and no others are there.
Saw planted_on(const std::vector<Fault>& faults, Random& random) {
    Saw saw;
    for (const shop::FaultInfo& f : shop::faults()) {
        const auto i = static_cast<std::size_t>(f.fault);
        const bool there = std::find(faults.begin(), faults.end(), f.fault) != faults.end();
        double whole = 0.0;
        const diagnose::Lobes& lobes = diagnose::declared_prior()[i];
        for (const diagnose::Lobe& l : lobes) whole += l.present == there ? l.weight : 0.0;
        double left = uniform(random) * whole;
        const diagnose::Lobe* chosen = nullptr;
        for (const diagnose::Lobe& l : lobes) {
            if (l.present != there || left < 0.0) continue;
            chosen = &l;
            left -= l.weight;
        }
        const double size = chosen->mean + chosen->sd * std::normal_distribution<double>()(random);
        shop::size_of(saw.truth, f.fault) = std::clamp(size, f.min, f.max);
        saw.present[i] = there;
    }
    return saw;
}

/// Of twenty such saws the first whose sled goes; else one that jams.
Saw case_with(std::size_t faults, Random& random) {
    std::vector<Fault> list;
    while (list.size() < faults) {
        const auto f = static_cast<Fault>(random() % shop::fault_count);
        if (std::find(list.begin(), list.end(), f) == list.end()) list.push_back(f);
    }
    Saw saw;
    for (int i = 0; i < 20; ++i) {
        saw = planted_on(list, random);
        if (goes(shop::Drawing{}, saw.truth)) break;
    }
    return saw;
}

/// The next check, of what is known; `left`: those that can be made and were not.
using Learner = std::function<std::optional<Check>(const Diagnosis&, const measure::Occasion&,
                                                   const std::vector<Check>& left, Random&)>;

struct Way {
    double minutes = 0.0;
    double board_mm = 0.0;
    std::size_t checks = 0;
    bool named = false;
    bool right = false;
};

constexpr double patience = 240.0;  // minutes

std::optional<Check> to_read_again(const Diagnosis& d) {
    for (const diagnose::Contradiction& c : d.contradictions) {
        if (c.to_read_again) return c.occasion.check;
    }
    return std::nullopt;
}

Way hunted(const Saw& saw, const Learner& learner, const session::Assumptions& assumed, std::uint64_t seed) {
    const shop::Drawing drawing;
    Random random(seed);
    Way came;
    std::vector<measure::CheckReport> reports;
    const auto make = [&](Check check) {
        const auto report =
            measure::run_check(check, measure::Stand{drawing, saw.truth, {}, {}, 0, measure::Cuts::coarse}, seed,
                               static_cast<std::uint32_t>(reports.size()));
        came.minutes += measure::info(check).minutes;
        came.board_mm += measure::info(check).stock_mm;
        ++came.checks;
        if (report) reports.push_back(*report);
    };
    // Who pushes a sled feels at once whether it goes.
    if (!goes(drawing, saw.truth)) make(Check::push_through);
    std::vector<Check> left(shop_order.begin(), shop_order.end());
    while (came.minutes < patience) {
        const auto d = diagnose::infer(reports, drawing, assumed.model, assumed.prior);
        if (!d) break;
        for (const diagnose::Belief& b : d->beliefs) {
            if (session::standing_of(b) != session::Standing::supported) continue;
            came.named = true;
            came.right = came.right || saw.present[static_cast<std::size_t>(b.fault)];
        }
        if (came.named) break;
        std::vector<Check> possible;
        for (const Check c : left) {
            if (!d->jams() || !measure::needs_the_sled_to_go(c)) possible.push_back(c);
        }
        const auto next =
            learner(*d, reports.empty() ? measure::Occasion{} : reports.back().occasion, possible, random);
        if (!next) break;
        std::erase(left, *next);
        make(*next);
    }
    return came;
}

std::optional<Check> first_of(const std::vector<Check>& left) {
    return left.empty() ? std::nullopt : std::optional(left.front());
}

double median(std::vector<double> list) {
    std::sort(list.begin(), list.end());
    const std::size_t n = list.size();
    return n == 0 ? 0.0 : 0.5 * (list[(n - 1) / 2] + list[n / 2]);
}

}  // namespace

int main(int argc, char** argv) {
    const auto asked = [&](int i, int usual) { return argc > i ? std::atoi(argv[i]) : usual; };
    const int saws = asked(1, 20);
    const int faults = asked(2, 1);
    const int from = asked(3, 0);
    const session::Assumptions usual = session::usual_assumptions(shop::Drawing{});
    const session::Assumptions assumed{diagnose::remembering(usual.model), usual.prior};
    const auto by_puzzle = [&](const diagnose::Policy& policy) -> Learner {
        return [&, policy](const Diagnosis& d, const measure::Occasion& now, const std::vector<Check>& left, Random&) {
            if (const auto again = to_read_again(d)) return again;
            const auto p = diagnose::puzzle_of(d, now, assumed.model, assumed.prior);
            const auto best = policy(p.puzzle, diagnose::start_of(p.puzzle));
            return best ? std::optional(p.checks[*best]) : first_of(left);
        };
    };
    const std::vector<std::pair<const char*, Learner>> learners{
        {"coach", by_puzzle([](const diagnose::Puzzle& p, const diagnose::Known& now) {
             const auto c = diagnose::next_by_look_ahead(p, now, diagnose::quick_ahead);
             return c ? std::optional(c->check) : std::nullopt;
         })},
        {"bits a minute", by_puzzle(diagnose::next_by_bits)},
        {"half-split", by_puzzle(diagnose::next_by_halves)},
        {"shop order", [](const Diagnosis&, const measure::Occasion&, const std::vector<Check>& left,
                          Random&) { return first_of(left); }},
        {"random", [](const Diagnosis&, const measure::Occasion&, const std::vector<Check>& left, Random& random) {
             return left.empty() ? std::nullopt : std::optional(left[random() % left.size()]);
         }}};
    std::printf("%d saws from %d, %d planted\n", saws, from, faults);
    std::printf("%-14s %8s %8s %8s %8s %8s %8s %8s\n", "learner", "median", "mean", "checks", "board", "named", "right",
                "seconds");
    for (const auto& [name, learner] : learners) {
        const auto start = std::chrono::steady_clock::now();
        std::vector<double> minutes;
        Way all;
        int named = 0;
        int right = 0;
        for (int n = from; n < from + saws; ++n) {
            Random random(static_cast<std::uint64_t>(1000 * faults + n));
            const Saw saw = case_with(static_cast<std::size_t>(faults), random);
            const Way came = hunted(saw, learner, assumed, static_cast<std::uint64_t>(n) + 1);
            minutes.push_back(came.named ? came.minutes : patience);
            all.minutes += came.named ? came.minutes : patience;
            all.board_mm += came.board_mm;
            all.checks += came.checks;
            named += came.named ? 1 : 0;
            right += came.right ? 1 : 0;
        }
        const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        std::printf("%-14s %8.1f %8.1f %8.1f %8.0f %8d %8d %8.0f\n", name, median(minutes), all.minutes / saws,
                    static_cast<double>(all.checks) / saws, all.board_mm / saws, named, right, seconds);
        std::fflush(stdout);
    }
    return 0;
}
