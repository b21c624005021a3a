// The proof of the diagnosis: thousands of saws drawn from the declared prior, checked for real, diagnosed, and only
// then compared with the truth.
//   prove_diagnosis [SAWS [from=NUMBER] [threads=N] [SET...]]     2,000 saws and every set without arguments; the first
//   saw's number, two threads
//       save=FILE                       adds what was counted to a file, a line for each set
//   prove_diagnosis pool FILE           what several runs with other saws have saved there, by set and in all
//   prove_diagnosis SAWS good           full diagnoses of the teaching saw, sound but for its fence, with each good
//   fit: what is named that is not there, and what contradicts prove_diagnosis SAWS hunt           whole hunts by what
//   should be done next, from the first five-cut test to the proof: how many checks and repairs, how often the same
//   check
// Takes minutes; the tests run a few dozen saws of the same kind. prove_diagnosis.md keeps the numbers.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <map>
#include <numeric>
#include <sstream>
#include <string>
#include <thread>

#include "session/findings.h"
#include "session/hunts.h"
#include "session/random_saws.h"
#include "shop/truth.h"

namespace {

using namespace random_saws;

struct Saws {
    std::size_t how_many = 2000;
    std::size_t from = 0;
    std::size_t threads = 2;
};

double seconds_of(const Evening& evening, const Saws& saws, std::size_t which, Score& score) {
    const shop::Drawing drawing;
    const auto model = session::model_of(drawing);
    double seconds = 0.0;
    for (std::size_t i = saws.from + which; i < saws.from + saws.how_many; i += saws.threads) {
        const Case one = case_of(evening, drawing, i);
        const auto begun = std::chrono::steady_clock::now();
        const auto d = diagnose::infer(one.reports, drawing, model, diagnose::declared_prior());
        seconds += std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
        if (!d) {
            std::printf("refused: %s\n", d.error().message.c_str());
            std::exit(1);
        }
        add(score, *d, one.saw);
        replay(score, *d, i);
    }
    return seconds;
}

/// "within 2 points" is decided when the whole of two standard deviations lies on one side.
const char* verdict_of(double off, double two_sd) {
    if (std::abs(off) + two_sd <= 2.0) return "yes";
    return std::abs(off) - two_sd > 2.0 ? "no" : "open";
}

void print_bins(const Score& score) {
    std::printf("  said      how many   said      came      off     sampling (2 sd)   within 2 points\n");
    for (std::size_t i = 0; i < score.bins.size(); ++i) {
        const Bin& b = score.bins[i];
        if (b.n == 0) continue;
        const double two_sd = 200.0 * spread_of(score, i) / b.n;
        std::printf("  %2zu-%3zu %%  %8d   %6.2f %%  %6.2f %%  %+6.2f   %5.2f   %s\n", 10 * i, 10 * i + 10, b.n,
                    100.0 * b.said / b.n, 100.0 * b.came / b.n, 100.0 * b.off(), two_sd,
                    verdict_of(100.0 * b.off(), two_sd));
    }
    std::printf("  all bins together: off as far or farther by chance alone in %.1f %% of %zu replays\n",
                100.0 * chance_of_more(score), replays);
}

/// Mean squared miss and its parts by the ten bins (Murphy 1973, from memory): reliability, how far each bin is off,
/// less resolution, how far the bins are apart, plus what not knowing anything but the share that is there would miss.
/// The rest is what the bins' width leaves out.
void print_brier(const Score& score) {
    double n = 0.0;
    double came = 0.0;
    for (const Bin& b : score.bins) {
        n += b.n;
        came += b.came;
    }
    const double share = came / n;
    double reliability = 0.0;
    double resolution = 0.0;
    for (const Bin& b : score.bins) {
        if (b.n == 0) continue;
        reliability += b.n / n * b.off() * b.off();
        resolution += b.n / n * (b.came / b.n - share) * (b.came / b.n - share);
    }
    std::printf("  Brier score %.5f = reliability %.5f - resolution %.5f + uncertainty %.5f, rest %+.5f\n",
                score.brier / n, reliability, resolution, share * (1.0 - share),
                score.brier / n - (reliability - resolution + share * (1.0 - share)));
}

void print_faults(const Score& score) {
    std::printf("  fault            asked    coverage  (2 sd)    said      came     off    (2 sd)\n");
    for (const shop::FaultInfo& f : shop::faults()) {
        const auto i = static_cast<std::size_t>(f.fault);
        if (score.asked[i] == 0) continue;
        const double n = score.asked[i];
        const Bin& b = score.by_fault[i];
        std::printf("  %-14s %7d   %6.2f %%  %5.2f   %6.2f %%  %6.2f %%  %+5.2f   %5.2f   below %5.2f above %5.2f\n",
                    std::string(f.key).c_str(), score.asked[i], 100.0 * score.held[i] / n,
                    200.0 * std::sqrt(0.95 * 0.05 / n), 100.0 * b.said / n, 100.0 * b.came / n, 100.0 * b.off(),
                    200.0 * b.sampling(), 100.0 * score.below[i] / n, 100.0 * score.above[i] / n);
    }
}

void print_score(const std::string& name, const Score& all) {
    std::printf("%s: %d diagnoses\n", name.c_str(), all.diagnoses);
    print_bins(all);
    print_brier(all);
    print_faults(all);
    std::printf("  named (95 %% or more) %d, wrongly %d (%.2f %%); ruled out (5 %% or less) %d, wrongly %d (%.2f %%)\n",
                all.named, all.named_wrongly, 100.0 * all.named_wrongly / std::max(1, all.named), all.ruled_out,
                all.ruled_out_wrongly, 100.0 * all.ruled_out_wrongly / std::max(1, all.ruled_out));
    std::printf("  diagnoses with a contradiction %d (%.2f %%)\n\n", all.with_contradiction,
                100.0 * all.with_contradiction / all.diagnoses);
    std::fflush(stdout);
}

Score prove(const Evening& evening, const Saws& saws) {
    std::vector<Score> scores(saws.threads);
    std::vector<double> seconds(saws.threads);
    {
        std::vector<std::jthread> work;
        for (std::size_t t = 0; t < saws.threads; ++t)
            work.emplace_back([&, t] { seconds[t] = seconds_of(evening, saws, t, scores[t]); });
    }
    Score all = scores[0];
    for (std::size_t t = 1; t < saws.threads; ++t) merge(all, scores[t]);
    std::printf("%s: %.1f ms a diagnosis\n", evening.name,
                1000.0 * std::accumulate(seconds.begin(), seconds.end(), 0.0) / all.diagnoses);
    print_score(evening.name, all);
    return all;
}

// ---- counts of several runs ----

void save(const std::string& file, const std::string& name, const Score& score) {
    std::ofstream out(file, std::ios::app);
    out.precision(17);
    out << name;
    for (const double n : numbers_of(score)) out << ' ' << n;
    out << '\n';
}

int pool(const std::string& file) {
    std::ifstream in(file);
    std::map<std::string, Score> sets;
    Score pooled;
    for (std::string line; std::getline(in, line);) {
        std::istringstream words(line);
        std::string name;
        words >> name;
        const std::vector<double> numbers{std::istream_iterator<double>(words), {}};
        if (numbers.size() != numbers_of(pooled).size()) {
            std::printf("%s: a line with %zu numbers is none of ours\n", file.c_str(), numbers.size());
            return 1;
        }
        add_numbers(sets[name], numbers);
        add_numbers(pooled, numbers);
    }
    for (const auto& [name, score] : sets) print_score(name, score);
    print_score("all sets pooled", pooled);
    return 0;
}

void print_counts(const char* what, const std::map<std::size_t, int>& counts) {
    std::printf("  %s: ", what);
    for (const auto& [n, count] : counts) std::printf("%zu (%d)  ", n, count);
    std::printf("\n");
}

/// Where p of all lie below.
double share_at(std::vector<double> all, double p) {
    std::sort(all.begin(), all.end());
    return all[std::min(all.size() - 1, static_cast<std::size_t>(p * static_cast<double>(all.size())))];
}

void print_minutes(const char* what, const std::vector<double>& all) {
    std::printf("  %s: median %.0f, 90 %% %.0f, 99 %% %.0f, most %.0f\n", what, share_at(all, 0.5), share_at(all, 0.9),
                share_at(all, 0.99), share_at(all, 1.0));
}

/// Right: it came to an end with a proof and mended nothing sound.
void whole_hunts(const Saws& saws) {
    const session::Assumptions assumed = session::usual_assumptions(shop::Drawing{});
    std::map<std::size_t, int> most, repairs;
    std::vector<double> first, all, stock;
    int ended = 0, proved = 0, sound = 0, right = 0, all_mended = 0;
    for (std::size_t i = saws.from; i < saws.from + saws.how_many; ++i) {
        Random random(i);
        const hunts::Hunt hunt = hunts::hunt_on(saw_that_goes(shop::Drawing{}, random), assumed, random());
        first.push_back(hunt.check_minutes);
        all.push_back(hunt.all_minutes);
        stock.push_back(hunt.stock_mm);
        ++most[hunt.most_of_one()];
        ++repairs[hunt.mended.size()];
        ended += hunt.ended ? 1 : 0;
        proved += hunt.proved ? 1 : 0;
        sound += hunt.sound_mended > 0 ? 1 : 0;
        right += hunt.proved && hunt.sound_mended == 0 ? 1 : 0;
        all_mended += hunt.left == 0 ? 1 : 0;
    }
    const double percent = 100.0 / static_cast<double>(saws.how_many);
    std::printf(
        "hunt: %zu saws; came to an end %.1f %%, with a proof %.1f %%; something sound mended %.1f %%; a proof and "
        "nothing sound mended %.1f %%; all that was there mended %.1f %%\n",
        saws.how_many, percent * ended, percent * proved, percent * sound, percent * right, percent * all_mended);
    print_minutes("minutes of checks to the first repair, or to the end without one", first);
    print_minutes("minutes of checks and tests in all", all);
    print_minutes("board used up [mm]", stock);
    print_counts("the same check at most", most);
    print_counts("repairs", repairs);
}

/// Every check, on the teaching saw with runners that fit like this.
std::vector<measure::CheckReport> all_checks_on(const scenario::Scenario& scenario, double play_mm,
                                                std::uint64_t seed) {
    shop::Truth truth;
    truth.fence_skew_rad = 0.62e-3;
    truth.left_play_mm = truth.right_play_mm = play_mm;
    std::vector<measure::CheckReport> reports;
    for (const measure::CheckInfo& c : measure::checks()) {
        const auto run = static_cast<std::uint32_t>(reports.size());
        const auto report = measure::run_check(c.check, measure::Stand{scenario.drawing, truth, {}, {}, 0}, seed, run);
        if (report) reports.push_back(*report);
    }
    return reports;
}

void good_saws(const Saws& saws) {
    const scenario::Scenario scenario = scenario::built_in();
    const auto model = session::model_of(scenario.drawing);
    for (const double play : good_fits) {
        std::map<std::string, int> named, likely;
        int with_false = 0, with_contradiction = 0;
        for (std::size_t i = saws.from; i < saws.from + saws.how_many; ++i) {
            const auto d =
                diagnose::infer(all_checks_on(scenario, play, i), scenario.drawing, model, diagnose::declared_prior());
            if (!d) std::exit(1);
            bool wrong = false;
            for (const diagnose::Belief& b : d->beliefs) {
                if (b.fault == shop::Fault::fence_skew || b.probability < 0.5) continue;
                ++likely[std::string(shop::info(b.fault).key)];
                if (b.probability < 0.95) continue;
                ++named[std::string(shop::info(b.fault).key)];
                wrong = true;
            }
            with_false += wrong ? 1 : 0;
            with_contradiction += d->contradictions.empty() ? 0 : 1;
        }
        std::printf("play %.2f mm: of %zu full diagnoses %d name what is not there, %d contradict themselves;", play,
                    saws.how_many, with_false, with_contradiction);
        for (const auto& [name, n] : likely)
            std::printf(" %s likely in %d, named in %d;", name.c_str(), n, named[name]);
        std::printf("\n");
        std::fflush(stdout);
    }
}

/// The sets that were named; all, if none was.
bool wanted(const Evening& evening, const std::vector<std::string>& names) {
    return names.empty() || std::find(names.begin(), names.end(), evening.name) != names.end();
}

}  // namespace

int main(int argc, char** argv) {
    Saws saws;
    std::vector<std::string> names;
    std::string file;
    if (argc == 3 && std::string(argv[1]) == "pool") return pool(argv[2]);
    for (int i = 1; i < argc; ++i) {
        const std::string word = argv[i];
        if (i == 1) saws.how_many = std::stoul(word);
        else if (word.starts_with("from=")) saws.from = std::stoul(word.substr(5));
        else if (word.starts_with("threads=")) saws.threads = std::max(1UL, std::stoul(word.substr(8)));
        else if (word.starts_with("save=")) file = word.substr(5);
        else names.push_back(word);
    }
    if (!names.empty() && names.front() == "hunt") {
        whole_hunts(saws);
        return 0;
    }
    if (!names.empty() && names.front() == "good") {
        good_saws(saws);
        return 0;
    }
    Score pooled;
    for (const Evening& evening : evenings()) {
        if (!wanted(evening, names)) continue;
        const Score score = prove(evening, saws);
        if (!file.empty()) save(file, evening.name, score);
        merge(pooled, score);
    }
    print_score("all sets pooled", pooled);
}
