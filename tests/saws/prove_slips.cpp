// The proof of the slips by numbers: each kind planted, and honest logs. Usage: prove_slips [planted each] [honest
// logs]
#include <fmt/format.h>

#include <chrono>
#include <cstdlib>

#include "planted.h"

int main(int argc, char** argv) {
    const int each = argc > 1 ? std::atoi(argv[1]) : 50;
    const int logs = argc > 2 ? std::atoi(argv[2]) : 5000;
    const bool instant = argc > 3;
    std::uint64_t seed = 1;
    for (const auto& [name, plant] : planted::kinds()) {
        const auto t0 = std::chrono::steady_clock::now();
        const planted::Count c = planted::count(plant, each, seed++);
        const double s = std::chrono::duration<double>(std::chrono::steady_clock::now() - t0).count();
        fmt::print("{:<75} {:>3} of {} ({:.1f} s)\n", name, c.asked, c.of, s);
        std::fflush(stdout);
    }
    int asked = 0;
    std::map<std::string, int> about;
    planted::Random r(77);
    const auto t0 = std::chrono::steady_clock::now();
    for (int i = 0; i < logs; ++i) {
        planted::Writing w = planted::begun(r);
        bool any = false;
        w.ask = [&](const offsquare::saws::Sled& sled, const offsquare::saws::What& what, offsquare::saws::Date date) {
            const auto* test = std::get_if<offsquare::saws::StripTest>(&what);
            const auto q = test != nullptr && instant
                               ? offsquare::saws::slips_in(sled, test->strip, date, w.person.units)
                               : offsquare::saws::slips_in(sled, what, date, planted::today, w.person.units);
            if (q.empty()) return;
            if (!any && about.size() < 60) fmt::print("honest log {}: {}\n", i, q.front().says);
            any = true;
            ++about[fmt::format("field {}", static_cast<int>(q.front().field))];
        };
        planted::honest(w, r);
        asked += any ? 1 : 0;
        if (i % 250 == 249) fmt::print("  so far {} of {}\n", asked, i + 1);
        std::fflush(stdout);
    }
    const double s = std::chrono::duration<double>(std::chrono::steady_clock::now() - t0).count();
    fmt::print("honest logs: {} of {} asked about ({:.0f} s)\n", asked, logs, s);
    for (const auto& [what, n] : about) fmt::print("  {}: {}\n", what, n);
}
