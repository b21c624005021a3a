// A fixed sum that each benchmark times too. A machine that does other work makes every time wrong: the counter
// `per_sum` is a result in units of it. Compare those.
#pragma once

#include <benchmark/benchmark.h>

#include <algorithm>
#include <ctime>

namespace bench {

/// 1,024 multiplications and additions, each of which waits for the one before: three or four cycles each on any
/// processor of the last ten years.
inline void fixed_sum() {
    double x = 0.5;
    benchmark::DoNotOptimize(x);
    for (int i = 0; i < 512; ++i) x = x * 0.999999 + 1e-6;
    benchmark::DoNotOptimize(x);
}

/// Processor time since `from`.
inline double seconds_since(std::clock_t from) { return static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC; }

/// Seconds for the fixed sum, the least of many tries.
inline double fixed_sum_s() {
    constexpr int sums = 1000;
    double least = 1.0;
    for (int i = 0; i < 50; ++i) {
        const std::clock_t from = std::clock();
        for (int k = 0; k < sums; ++k) fixed_sum();
        least = std::min(least, seconds_since(from) / sums);
    }
    return least;
}

/// Times `work`, and reports it in units of the fixed sum as well.
template <typename Work>
void time(benchmark::State& state, Work work) {
    static const double unit_s = fixed_sum_s();
    const std::clock_t from = std::clock();
    for (auto unused : state) {
        (void)unused;
        work();
    }
    state.counters["per_sum"] = seconds_since(from) / static_cast<double>(state.iterations()) / unit_s;
}

}  // namespace bench
