// What the verdict about the fence is worth: thousands of saws drawn from the declared prior, the job done on each to
// its end, and only then compared with what the saw really cuts.
//   prove_claim [SAWS [HAND]]     8,000 saws of the whole prior, and a fifth as many with each fault alone;
//                                 HAND: right (as the usual drawing has it), wandering
// prove_claim.md keeps the numbers.
#include <cstdio>
#include <string>

#include "session/random_jobs.h"

namespace {

using namespace random_jobs;

scenario::Scenario usual(shop::Hand hand) {
    scenario::Scenario s = scenario::built_in();
    s.drawing.sled.hand = hand;
    return s;
}

void print(const std::string& name, const Tally& t) {
    const double n = std::max(1, t.jobs);
    const double passes = std::max(1, t.passes);
    double mean = 0.0;
    for (const double m : t.minutes) mean += m / n;
    std::printf(
        "%-18s %6d  held %6.2f %% (2 sd %.2f)  after the first test %6.2f %%  pass %5.1f %%  fail %4.1f %%  open %4.1f "
        "%%  of passes: wrong %5.2f %%, skew out %5.2f %% (not bowed %5.2f %%)  minutes: median %.0f mean %.1f\n",
        name.c_str(), t.jobs, 100.0 * t.held / n, 200.0 * std::sqrt(0.0475 / n), 100.0 * t.first_held / n,
        100.0 * t.passes / n, 100.0 * t.fails / n, 100.0 * t.open / n, 100.0 * t.wrong / passes,
        100.0 * t.skewed / passes, 100.0 * t.skewed_straight / passes, median(t.minutes), mean);
    std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
    const std::size_t saws = argc > 1 ? std::stoul(argv[1]) : 8000;
    const bool wanders = argc > 2 && std::string(argv[2]) == "wandering";
    const scenario::Scenario scenario = usual(wanders ? shop::Hand::wandering : shop::Hand::right);
    session::Ways ways;
    ways.reads = 2;
    Random random(20);
    const auto tally = [&](const std::string& name, std::size_t how_many, auto draw) {
        Tally t;
        for (std::size_t i = 0; i < how_many; ++i) {
            const auto done = job_of(draw(), scenario, random(), ways);
            if (done) add(t, *done);
        }
        print(name, t);
    };
    tally("whole prior", saws, [&] { return saw_that_goes(scenario.drawing, random); });
    tally("clean", saws / 5, [&] { return saw_with_only({}, scenario.drawing, random); });
    for (const shop::FaultInfo& f : shop::faults())
        tally(std::string(f.key), saws / 5, [&] { return saw_with_only(f.fault, scenario.drawing, random); });
}
