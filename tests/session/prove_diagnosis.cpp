// The proof of the diagnosis: thousands of saws drawn from the declared prior, checked for real, diagnosed, and only then compared with the truth.
//   prove_diagnosis [SAWS [SET...]]     2,000 saws and every set without arguments
//   prove_diagnosis SAWS hunt           from the first five-cut test each check that is advised, until nothing more would tell: how many, and how often the same
// Takes minutes; the tests run a few dozen saws of the same kind. DEVELOPERS.md keeps the numbers.
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <thread>

#include "diagnose/advise.h"
#include "session/random_saws.h"

namespace {

using namespace random_saws;

double seconds_of(const Evening& evening, std::size_t from, std::size_t saws, std::size_t step, Score& score) {
    const shop::Drawing drawing;
    const auto model = session::model_of(drawing);
    double seconds = 0.0;
    for (std::size_t i = from; i < saws; i += step) {
        const Case one = case_of(evening, drawing, i);
        const auto begun = std::chrono::steady_clock::now();
        const auto d = diagnose::infer(one.reports, drawing, model);
        seconds += std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
        if (!d) {
            std::printf("refused: %s\n", d.error().message.c_str());
            std::exit(1);
        }
        add(score, *d, one.saw);
    }
    return seconds;
}

void print_bins(const Score& score) {
    std::printf("  said      how many   said      came      off     sampling (2 sd)\n");
    for (std::size_t i = 0; i < score.bins.size(); ++i) {
        const Bin& b = score.bins[i];
        if (b.n == 0) continue;
        std::printf("  %2zu-%3zu %%  %8d   %6.2f %%  %6.2f %%  %+6.2f   %5.2f\n", 10 * i, 10 * i + 10, b.n, 100.0 * b.said / b.n, 100.0 * b.came / b.n, 100.0 * b.off(), 200.0 * b.sampling());
    }
}

void print_faults(const Score& score) {
    std::printf("  fault            asked    coverage  (2 sd)    said      came     off    (2 sd)\n");
    for (const shop::FaultInfo& f : shop::faults()) {
        const auto i = static_cast<std::size_t>(f.fault);
        if (score.asked[i] == 0) continue;
        const double n = score.asked[i];
        const Bin& b = score.by_fault[i];
        std::printf("  %-14s %7d   %6.2f %%  %5.2f   %6.2f %%  %6.2f %%  %+5.2f   %5.2f   below %5.2f above %5.2f\n", std::string(f.key).c_str(), score.asked[i], 100.0 * score.held[i] / n, 200.0 * std::sqrt(0.95 * 0.05 / n),
                    100.0 * b.said / n, 100.0 * b.came / n, 100.0 * b.off(), 200.0 * b.sampling(), 100.0 * score.below[i] / n, 100.0 * score.above[i] / n);
    }
}

void prove(const Evening& evening, std::size_t saws) {
    constexpr std::size_t threads = 2;
    std::array<Score, threads> scores;
    std::array<double, threads> seconds{};
    {
        std::vector<std::jthread> work;
        for (std::size_t t = 0; t < threads; ++t) work.emplace_back([&, t] { seconds[t] = seconds_of(evening, t, saws, threads, scores[t]); });
    }
    Score all = scores[0];
    merge(all, scores[1]);
    std::printf("%s: %d diagnoses, %.1f ms each\n", evening.name, all.diagnoses, 1000.0 * (seconds[0] + seconds[1]) / all.diagnoses);
    print_bins(all);
    print_faults(all);
    std::printf("  named (95 %% or more) %d, wrongly %d (%.2f %%); ruled out (5 %% or less) %d, wrongly %d (%.2f %%)\n", all.named, all.named_wrongly, 100.0 * all.named_wrongly / std::max(1, all.named), all.ruled_out,
                all.ruled_out_wrongly, 100.0 * all.ruled_out_wrongly / std::max(1, all.ruled_out));
    std::printf("  diagnoses with a contradiction %d (%.2f %%)\n\n", all.with_contradiction, 100.0 * all.with_contradiction / all.diagnoses);
    std::fflush(stdout);
}

struct Hunt {
    std::size_t checks = 0;
    std::size_t most_of_one = 0;
    bool ended = false;
};

Hunt hunt_of(const shop::Drawing& drawing, std::uint64_t number) {
    Random random(number);
    const Saw saw = saw_that_goes(drawing, random);
    const std::uint64_t seed = random();
    const auto model = session::model_of(drawing);
    std::vector<measure::CheckReport> reports;
    std::map<measure::Check, std::size_t> made;
    Hunt hunt;
    measure::Check next = measure::Check::five_cut;
    while (!hunt.ended && reports.size() < 40) {
        const auto report = measure::run_check(next, measure::Stand{drawing, saw.truth, {}, {}, 0}, seed, static_cast<std::uint32_t>(reports.size()));
        if (!report) break;
        reports.push_back(*report);
        hunt.most_of_one = std::max(hunt.most_of_one, ++made[next]);
        const auto best = diagnose::advise(*diagnose::infer(reports, drawing, model), {}, model).front();
        hunt.ended = best.bits < 0.05;
        next = best.check;
    }
    hunt.checks = reports.size();
    return hunt;
}

void hunts(std::size_t saws) {
    const shop::Drawing drawing;
    std::map<std::size_t, int> lengths;
    std::map<std::size_t, int> most;
    int endless = 0;
    for (std::size_t i = 0; i < saws; ++i) {
        const Hunt hunt = hunt_of(drawing, i);
        ++lengths[hunt.checks];
        ++most[hunt.most_of_one];
        endless += hunt.ended ? 0 : 1;
    }
    std::printf("hunt: %zu saws, %d without an end\n  checks made: ", saws, endless);
    for (const auto& [n, count] : lengths) std::printf("%zu (%d)  ", n, count);
    std::printf("\n  the same check at most: ");
    for (const auto& [n, count] : most) std::printf("%zu times (%d)  ", n, count);
    std::printf("\n");
}

}  // namespace

int main(int argc, char** argv) {
    const auto saws = static_cast<std::size_t>(argc > 1 ? std::strtoul(argv[1], nullptr, 10) : 2000);
    if (argc > 2 && std::string(argv[2]) == "hunt") {
        hunts(saws);
        return 0;
    }
    for (const Evening& evening : evenings()) {
        bool wanted = argc <= 2;
        for (int i = 2; i < argc; ++i) wanted = wanted || std::string(argv[i]) == evening.name;
        if (wanted) prove(evening, saws);
    }
}
