// Random logs as honest people type them, from simulated saws with every fault of the prior; and slips planted in them.
// Own random numbers; what is asked is only counted.
#pragma once

#include <cmath>
#include <functional>
#include <map>
#include <random>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "logs.h"
#include "saws/answer.h"
#include "saws/slips.h"
#include "session/random_saws.h"

namespace planted {

using namespace logs;
using Random = std::mt19937_64;

inline double between(Random& r, double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(r); }
inline int one_of(Random& r, int n) { return std::uniform_int_distribution<int>(0, n - 1)(r); }
inline bool in_100(Random& r, int n) { return one_of(r, 100) < n; }

/// A person with a sled: the sizes, the instrument, and the saw that nobody sees.
struct Person {
    shop::Drawing drawing;
    shop::Truth truth;
    base::Units units = base::Units::metric;
    double step_mm = 0.01;
    std::uint64_t seed = 0;
    int clamped = 0;
    double crept_rad = 0.0;  ///< how the last clamping turned the fence
    std::uint32_t run = 0;
    shop::Side fell = shop::Side::right;
};

inline base::Typed typed(const Person& p, double mm, double step_mm) {
    return {std::round(mm / step_mm) * step_mm, step_mm, p.units == base::Units::imperial};
}

/// Empty: no strip comes of a board of these sizes, or hardly ever.
inline std::optional<Person> maybe_person(Random& r) {
    Person p;
    p.units = in_100(r, 50) ? base::Units::metric : base::Units::imperial;
    p.step_mm = p.units == base::Units::metric ? (in_100(r, 80) ? 0.01 : 0.05) : (in_100(r, 50) ? 0.0127 : 0.0254);
    shop::Drawing& d = p.drawing;
    const double span = between(r, 280.0, 900.0);
    d.fence.shim_left_x_mm = -0.5 * span;
    d.fence.shim_right_x_mm = 0.5 * span;
    d.fence.length_mm = span + between(r, 20.0, 200.0);
    d.sled.width_mm = d.fence.length_mm + 60.0;
    d.board.length_mm = span * between(r, 0.5, 0.95);
    d.board.width_mm = d.board.length_mm * between(r, 0.9, 1.1);
    d.board.strip_mm = between(r, 4.0, 30.0);
    p.fell = in_100(r, 85) ? shop::Side::right : shop::Side::left;
    d.board.kept = p.fell == shop::Side::right ? shop::Side::left : shop::Side::right;
    p.seed = r();
    d.sled.depth_mm = std::max(d.sled.depth_mm, d.board.length_mm + 120.0);
    d.sled.runner_length_mm = d.sled.depth_mm;
    for (int i = 0; i < 5; ++i) {
        p.truth = random_saws::any_saw(r).truth;
        if (random_saws::goes(d, p.truth)) return p;
    }
    return std::nullopt;
}
inline Person person(Random& r) {
    for (;;) {
        if (auto p = maybe_person(r)) return *p;
    }
}

/// The strip of a test with this much behind the fence, as it is typed; nothing where no strip comes of it.
inline std::optional<Strip> cut(Person& p, const Standing& standing, Random& r) {
    const contact::Shims shims{total_mm(standing.left), total_mm(standing.right)};
    shop::Truth now = p.truth;
    now.fence_skew_rad += p.crept_rad;
    shop::Drawing d = p.drawing;
    d.board.strip_mm *= between(r, 0.7, 1.4);
    d.caliper.step_mm = p.step_mm;
    d.caliper.limit_mm = p.units == base::Units::metric ? 0.02 : 0.0254;
    const auto report = measure::run_check(measure::Check::five_cut,
                                           measure::Stand{d, now, shims, shims, p.clamped, measure::Cuts::first_order},
                                           p.seed, p.run++);
    if (!report) return std::nullopt;
    const double tape = p.units == base::Units::metric ? 1.0 : 25.4 / 16.0;
    Strip s;
    s.fence_end = {typed(p, report->readings[0].value, p.step_mm)};
    s.far_end = {typed(p, report->readings[1].value, p.step_mm)};
    if (in_100(r, 40)) {
        s.fence_end.push_back(
            typed(p, report->readings[0].value + 0.012 * std::normal_distribution<double>()(r), p.step_mm));
        s.far_end.push_back(
            typed(p, report->readings[1].value + 0.012 * std::normal_distribution<double>()(r), p.step_mm));
    }
    s.between = typed(p, report->readings[2].value, tape);
    s.span = typed(p, p.drawing.fence.span_mm() + std::normal_distribution<double>()(r), tape);
    s.fell = p.fell;
    return s;
}

inline std::vector<shop::Shim> drawer(Random& r) {
    std::vector<shop::Shim> all;
    for (const double mm : {0.05, 0.1, 0.2, 0.3, 0.5})
        if (in_100(r, 80)) all.push_back({"stock", mm, 0.003, 4});
    if (all.empty()) all.push_back({"stock", 0.1, 0.003, 4});
    return all;
}

/// A log that grows; `ask` sees each entry before it is written.
struct Writing {
    Person person;
    Sled sled;
    Date date = day(2026, 1, 10);
    std::function<void(const Sled&, const What&, Date)> ask = [](const Sled&, const What&, Date) {};

    void write(What what) {
        ask(sled, what, date);
        sled = with(sled, std::move(what), date);
    }
    void later(Random& r) { date = Date(std::chrono::sys_days(date) + std::chrono::days(one_of(r, 40))); }
    Standing standing() const { return standing_of(sled); }
    /// As the newest strip asks, with what the drawer has.
    bool shim(Random& r) {
        const auto answer = newest_answer(sled);
        if (!answer || !answer->shim) return false;
        const ShimsMoved moved = as_moved(*answer);
        if (moved.put_left.empty() && moved.put_right.empty()) return false;
        write(moved);
        ++person.clamped;
        person.crept_rad = person.truth.clamp_creep_rad * std::normal_distribution<double>()(r);
        return true;
    }
};

inline Writing begun(Random& r) {
    Writing w;
    w.person = person(r);
    w.sled = Sled{"a", "", w.person.units, {}};
    return w;
}

/// Sizes, a drawer, and one to four tests with shims between them, as an honest person writes it.
inline void honest(Writing& w, Random& r) {
    if (in_100(r, 50)) {
        const double mm = w.person.drawing.fence.length_mm;
        w.write(SizesTyped{{{"fence.length", fmt::format("{:.0f} mm", mm)}}});
    }
    if (in_100(r, 70)) w.write(DrawerTyped{drawer(r)});
    const int tests = 1 + one_of(r, 4);
    for (int i = 0; i < tests; ++i) {
        const auto strip = cut(w.person, w.standing(), r);
        if (!strip) return;
        w.write(StripTest{*strip});
        w.later(r);
        if (in_100(r, 80)) w.shim(r);
    }
}

// ---- slips ----

inline base::Typed times(base::Typed t, double factor) {
    t.value *= factor;
    t.step *= factor;
    return t;
}

/// A log with one honest test before or none, then a strip with a slip in it. True: it was asked about.

/// What was planted is handed to `asked`, which says whether anything is asked.

using Plant = std::function<std::optional<What>(Writing&, Random&)>;

inline std::optional<What> strip_with(Writing& w, Random& r, const std::function<bool(Strip&)>& slip) {
    auto strip = cut(w.person, w.standing(), r);
    if (!strip || !slip(*strip)) return std::nullopt;
    return StripTest{*strip};
}

/// Honest tests before; then shims as they ask.
inline void some_tests(Writing& w, Random& r, int n, bool shims) {
    for (int i = 0; i < n; ++i) {
        const auto strip = cut(w.person, w.standing(), r);
        if (!strip) return;
        w.write(StripTest{*strip});
        w.later(r);
        if (shims) w.shim(r);
    }
}

inline std::vector<std::pair<const char*, Plant>> kinds() {
    std::vector<std::pair<const char*, Plant>> all;
    const auto decimal = [](Random& r) { return in_100(r, 50) ? 10.0 : 0.1; };
    const auto unit = [](const Writing& w) { return w.person.units == base::Units::metric ? 1.0 / 25.4 : 25.4; };
    all.emplace_back("a decimal place at the fence end", [=](Writing& w, Random& r) {
        some_tests(w, r, one_of(r, 3), true);
        return strip_with(w, r, [&](Strip& s) {
            return s.fence_end.resize(1), s.fence_end[0] = times(s.fence_end[0], decimal(r)), true;
        });
    });
    all.emplace_back("a decimal place at the far end", [=](Writing& w, Random& r) {
        some_tests(w, r, one_of(r, 3), true);
        return strip_with(
            w, r, [&](Strip& s) { return s.far_end.resize(1), s.far_end[0] = times(s.far_end[0], decimal(r)), true; });
    });
    all.emplace_back("a decimal place in the length", [=](Writing& w, Random& r) {
        some_tests(w, r, one_of(r, 3), true);
        return strip_with(w, r, [&](Strip& s) { return s.between = times(*s.between, decimal(r)), true; });
    });
    all.emplace_back("a decimal place between the shim points", [=](Writing& w, Random& r) {
        some_tests(w, r, one_of(r, 3), true);
        return strip_with(w, r, [&](Strip& s) { return s.span = times(*s.span, decimal(r)), true; });
    });
    all.emplace_back("inches for mm, or mm for inches, in one field", [=](Writing& w, Random& r) {
        some_tests(w, r, one_of(r, 3), true);
        return strip_with(w, r, [&](Strip& s) {
            base::Typed* fields[] = {&s.fence_end[0], &s.far_end[0], &*s.between, &*s.span};
            base::Typed& f = *fields[one_of(r, 4)];
            f = times(f, unit(w));
            return true;
        });
    });
    all.emplace_back("inches for mm, or mm for inches, in all of them", [=](Writing& w, Random& r) {
        some_tests(w, r, one_of(r, 3), true);
        return strip_with(w, r, [&](Strip& s) {
            for (auto* end : {&s.fence_end, &s.far_end})
                for (base::Typed& t : *end) t = times(t, unit(w));
            s.between = times(*s.between, unit(w));
            s.span = times(*s.span, unit(w));
            return true;
        });
    });
    all.emplace_back("two fields exchanged", [=](Writing& w, Random& r) {
        some_tests(w, r, 1 + one_of(r, 2), true);
        return strip_with(w, r, [&](Strip& s) {
            s.fence_end.resize(1);
            s.far_end.resize(1);
            if (std::abs(s.between->value - s.span->value) < 60.0) return false;
            base::Typed* fields[] = {&s.fence_end[0], &s.far_end[0], &*s.span};
            std::swap(*fields[one_of(r, 3)], *s.between);
            return true;
        });
    });
    all.emplace_back("a digit in one of two repeats, 0.2 mm or more", [=](Writing& w, Random& r) {
        return strip_with(w, r, [&](Strip& s) {
            auto& end = in_100(r, 50) ? s.fence_end : s.far_end;
            end.resize(1);
            const double digit = (1 + one_of(r, 9)) * (in_100(r, 50) ? 0.2 : 1.0);
            base::Typed wrong = end[0];
            wrong.value += in_100(r, 50) || wrong.value < 2.0 * digit ? digit : -digit;
            end.push_back(wrong);
            return true;
        });
    });
    // On a fence that is off by more than what strips scatter, shims as asked and nothing else.
    const auto off_enough = [](const Sled& sled, const Person& p, double times_scatter) {
        const auto answer = newest_answer(sled);
        if (!answer || !answer->test.skew_rad) return false;
        const double s = std::hypot(0.15e-3, answer->test.skew_rad->u);
        (void)p;
        return std::abs(answer->test.skew_rad->value) > times_scatter * s;
    };
    all.emplace_back("the ends exchanged, a test on the same fence before",
                     [=](Writing& w, Random& r) -> std::optional<What> {
                         some_tests(w, r, 1, false);
                         if (!off_enough(w.sled, w.person, 6.0)) return std::nullopt;
                         return strip_with(w, r, [&](Strip& s) { return std::swap(s.fence_end, s.far_end), true; });
                     });
    all.emplace_back("the ends exchanged at the first test, shimmed by it, and then a test",
                     [=](Writing& w, Random& r) -> std::optional<What> {
                         auto strip = cut(w.person, {}, r);
                         if (!strip) return std::nullopt;
                         std::swap(strip->fence_end, strip->far_end);
                         w.write(DrawerTyped{drawer(r)});
                         w.write(StripTest{*strip});
                         if (!off_enough(w.sled, w.person, 6.0) || !w.shim(r)) return std::nullopt;
                         return strip_with(w, r, [](Strip&) { return true; });
                     });
    all.emplace_back("the other side where the strip fell, after two tests",
                     [=](Writing& w, Random& r) -> std::optional<What> {
                         some_tests(w, r, 2, true);
                         if (w.sled.entries.size() < 2) return std::nullopt;
                         return strip_with(w, r, [&](Strip& s) {
                             s.fell = *s.fell == shop::Side::left ? shop::Side::right : shop::Side::left;
                             return true;
                         });
                     });
    all.emplace_back("a shim of another decimal place", [=](Writing& w, Random& r) -> std::optional<What> {
        w.write(DrawerTyped{drawer(r)});
        some_tests(w, r, 1, false);
        const auto answer = newest_answer(w.sled);
        if (!answer || !answer->shim) return std::nullopt;
        ShimsMoved moved = as_moved(*answer);
        auto& put = moved.put_left.empty() ? moved.put_right : moved.put_left;
        if (put.empty()) return std::nullopt;
        // In this drawer 0.05 stands beside 0.5: such a slip is another piece.
        const double wrong = put.front().thickness_mm * decimal(r);
        for (const shop::Shim& s : set_up_of(w.sled).scenario.drawing.drawer)
            if (std::abs(s.thickness_mm - wrong) < 0.01 * wrong) return std::nullopt;
        put.front().thickness_mm = wrong;
        return moved;
    });
    all.emplace_back("a shim behind the wrong end", [=](Writing& w, Random& r) -> std::optional<What> {
        w.write(DrawerTyped{drawer(r)});
        some_tests(w, r, 1, false);
        const auto answer = newest_answer(w.sled);
        if (!answer || !answer->shim) return std::nullopt;
        ShimsMoved moved = as_moved(*answer);
        if (moved.put_left.empty() && moved.put_right.empty()) return std::nullopt;
        std::swap(moved.put_left, moved.put_right);
        return moved;
    });
    all.emplace_back("inches for mm in a size", [=](Writing& w, Random& r) -> std::optional<What> {
        const char* keys[] = {"fence.length", "board.length", "board.width", "sled.width", "sled.depth", "fence.span"};
        const double mm = between(r, 300.0, 900.0);
        (void)w;
        return SizesTyped{{{keys[one_of(r, 6)], fmt::format("{:.3f} mm", mm / 25.4)}}};
    });
    all.emplace_back("a decimal place in a size typed before", [=](Writing& w, Random& r) -> std::optional<What> {
        const char* keys[] = {"fence.length", "board.length", "board.width", "sled.width", "sled.depth", "fence.span"};
        const char* key = keys[one_of(r, 6)];
        const double mm = between(r, 300.0, 900.0);
        w.write(SizesTyped{{{key, fmt::format("{:.1f} mm", mm)}}});
        // A metre of fence is refused elsewhere; a tenth or ten times is what a slip makes.
        return SizesTyped{{{key, fmt::format("{:.2f} mm", mm * (in_100(r, 50) ? 0.1 : 10.0))}}};
    });
    all.emplace_back("last year's number in January", [=](Writing& w, Random& r) -> std::optional<What> {
        w.date = day(2026, 11, 1);
        some_tests(w, r, 1, false);
        if (w.sled.entries.empty()) return std::nullopt;
        w.date = day(2025, 11, 2 + static_cast<unsigned>(one_of(r, 27)));
        return Remark{"slots cleaned"};
    });
    return all;
}

/// How many of `n` were asked about.
struct Count {
    int asked = 0;
    int of = 0;
};
inline Count count(const Plant& plant, int n, std::uint64_t seed) {
    Random r(seed);
    Count c;
    for (int tries = 0; c.of < n && tries < 200 * n; ++tries) {
        Writing w = begun(r);
        const auto what = plant(w, r);
        if (!what) continue;
        ++c.of;
        c.asked += slips_in(w.sled, *what, w.date, today, w.person.units).empty() ? 0 : 1;
    }
    return c;
}

}  // namespace planted
