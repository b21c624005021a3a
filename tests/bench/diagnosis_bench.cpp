// How long a diagnosis with its advice takes, from nothing: what `offsquare diagnose` does after reading its file. A
// person runs it; no test does. diagnosis_bench.md says how, and what came out.
#include <benchmark/benchmark.h>

#include "bench/fixed_sum.h"
#include "session/findings.h"
#include "session/random_saws.h"

namespace {

using namespace offsquare;
using enum measure::Check;

const std::vector<measure::Check> seven{five_cut, square_on_cut, fence_straightedge, tooth_indicator,
                                        wiggle,   jaws,          kerf_width};

random_saws::Evening repeated(const char* name, const std::vector<measure::Check>& checks, int times) {
    random_saws::Evening evening{name, {}, {}};
    for (int i = 0; i < times; ++i) evening.checks.insert(evening.checks.end(), checks.begin(), checks.end());
    return evening;
}

std::vector<measure::Check> all_checks() {
    std::vector<measure::Check> all;
    for (const measure::CheckInfo& c : measure::checks()) all.push_back(c.check);
    return all;
}

/// The mean of three saws, always the same ones.
void diagnosis(benchmark::State& state, const random_saws::Evening& evening) {
    const shop::Drawing drawing;
    std::vector<std::vector<measure::CheckReport>> files;
    for (std::uint64_t i = 0; i < 3; ++i) files.push_back(random_saws::case_of(evening, drawing, i).reports);
    std::size_t next = 0;
    bench::time(state, [&] { benchmark::DoNotOptimize(session::find_out(files[next++ % files.size()], drawing)); });
}
BENCHMARK_CAPTURE(diagnosis, one_check, repeated("five-cut", {five_cut}, 1))->Iterations(6);
BENCHMARK_CAPTURE(diagnosis, seven_checks, repeated("usual", seven, 1))->Iterations(6);
BENCHMARK_CAPTURE(diagnosis, all_23, repeated("all", all_checks(), 1))->Iterations(6);
BENCHMARK_CAPTURE(diagnosis, seven_nine_times, repeated("large", seven, 9))->Iterations(6);

}  // namespace
