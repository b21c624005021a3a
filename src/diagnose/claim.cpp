#include "diagnose/claim.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "base/elementary.h"
#include "base/random.h"
#include "diagnose/quantile.h"

namespace offsquare::diagnose {
namespace {

using measure::Check;
using measure::Occasion;
using shop::Fault;

std::size_t index_of(Fault fault) { return static_cast<std::size_t>(fault); }

double squared(double x) { return x * x; }

// ---- what may change ----

/// A size whose square has the mean that it has over the lobe: chance grows with the square of what makes it.
double size_of(const Lobe& lobe) { return std::sqrt(squared(lobe.mean) + squared(lobe.sd)); }

/// A bow lets the board rock over a chip, or hides it.
std::vector<ChanceCase> chips(const Model& model, const Prior& prior) {
    std::vector<ChanceCase> cases;
    for (const Lobe& dust : prior[index_of(Fault::dust)]) {
        for (const Lobe& bow : prior[index_of(Fault::fence_bow)]) {
            Sizes sizes{};
            sizes[index_of(Fault::dust)] = size_of(dust);
            sizes[index_of(Fault::fence_bow)] = bow.mean;
            cases.push_back(
                {dust.weight * bow.weight, model.chance_on({Check::five_cut}, sizes).front(), !dust.present});
        }
    }
    return cases;
}

std::vector<ChanceCase> steps(const Prior& prior) {
    std::vector<ChanceCase> cases;
    for (const Lobe& lobe : prior[index_of(Fault::caliper_step)])
        cases.push_back({lobe.weight, 0.0, !lobe.present, lobe.present ? size_of(lobe) : 0.0, lobe.sd});
    return cases;
}

/// One saw of the prior, as far as its guides go; the same for ever.
struct Guides {
    Sizes sizes{};
    bool usual = true;
};

Guides guides_of(std::uint32_t number, const Model& model, const Prior& prior) {
    constexpr std::uint32_t apart = 2000;  // from the other draws of this purpose
    Guides g;
    for (std::uint32_t i = 0; i < model.binding.size(); ++i) {
        const Lobes& lobes = prior[index_of(model.binding[i])];
        double left = base::uniform01({2, base::Purpose::advice, number, apart + 2 * i});
        std::size_t k = 0;
        while (k + 1 < lobes.size() && left >= lobes[k].weight) left -= lobes[k++].weight;
        const double z = base::standard_normal({2, base::Purpose::advice, number, apart + 2 * i + 1});
        g.sizes[index_of(model.binding[i])] = lobes[k].mean + lobes[k].sd * z;
        g.usual = g.usual && !lobes[k].present;
    }
    return g;
}

bool tells_the_play(Check check) { return check == Check::wiggle || check == Check::runner_fit; }

/// What was read of the play, and what a saw would show of it.
struct PlayRead {
    Occasion occasion;
    std::vector<Observable> seen;
};

std::vector<PlayRead> plays_read(std::span<const measure::CheckReport> others, const shop::Drawing& drawing) {
    std::vector<PlayRead> all;
    for (const measure::CheckReport& report : others) {
        if (!tells_the_play(report.occasion.check)) continue;
        if (auto seen = observe(report, drawing)) all.push_back({report.occasion, std::move(*seen)});
    }
    return all;
}

/// A few hundred saws stand for all: each stands for those whose play is as near to its own as this [mm].
constexpr double near_mm = 0.015;

/// How well a saw fits what was read of its play, and by how much more or less play than it has was read.
struct PlayFit {
    double log_weight = 0.0;
    double share = 1.0;  ///< of its turn
};

std::optional<PlayFit> fit_of(const Sizes& sizes, const std::vector<PlayRead>& reads, const Model& model) {
    PlayFit fit;
    double read = 0.0;
    double own = 0.0;
    for (const PlayRead& r : reads) {
        const auto means = model.means_of(r.occasion, sizes);
        if (!means) return std::nullopt;
        for (std::size_t i = 0; i < r.seen.size(); ++i) {
            const double variance = squared(r.seen[i].u) + squared(near_mm);
            fit.log_weight -= 0.5 * squared(r.seen[i].value - (*means)[i]) / variance;
            read += squared(std::max(r.seen[i].value, 0.0)) + squared(r.seen[i].u);
            own += squared((*means)[i]) + squared(r.seen[i].u);
        }
    }
    if (own > 0.0) fit.share = read / own;
    return fit;
}

/// Neighbours become one: a sum over a dozen cases is as good as one over hundreds.
std::vector<ChanceCase> fewer(std::vector<ChanceCase> cases) {
    constexpr std::size_t enough = 16;
    std::sort(cases.begin(), cases.end(), [](const ChanceCase& a, const ChanceCase& b) {
        return a.usual != b.usual ? a.usual : a.variance < b.variance;
    });
    double all = 0.0;
    for (const ChanceCase& c : cases) all += c.weight;
    std::vector<ChanceCase> out;
    for (const ChanceCase& c : cases) {
        const bool joins = !out.empty() && out.back().usual == c.usual && out.back().weight + c.weight <= all / enough;
        if (!joins) {
            out.push_back(c);
            continue;
        }
        const double weight = out.back().weight + c.weight;
        out.back().variance = (out.back().weight * out.back().variance + c.weight * c.variance) / weight;
        out.back().weight = weight;
    }
    return out;
}

std::vector<ChanceCase> hands(const std::vector<PlayRead>& reads, const Model& model, const Prior& prior) {
    constexpr std::uint32_t saws = 240;
    std::vector<ChanceCase> cases;
    std::vector<double> logs;
    for (std::uint32_t i = 0; i < saws; ++i) {
        const Guides g = guides_of(i, model, prior);
        if (model.goes && !model.goes(g.sizes)) continue;
        const auto fit = fit_of(g.sizes, reads, model);
        if (!fit) continue;
        logs.push_back(fit->log_weight);
        cases.push_back({1.0, fit->share * model.chance_on({Check::brushed}, g.sizes).front(), g.usual});
    }
    if (cases.empty()) return {};
    const double best = *std::max_element(logs.begin(), logs.end());
    for (std::size_t i = 0; i < cases.size(); ++i) cases[i].weight = base::exp_of(logs[i] - best);
    std::erase_if(cases, [](const ChanceCase& c) { return c.weight < 1e-6; });
    return fewer(std::move(cases));
}

// ---- a caliper that sticks shows in its repeats ----

/// Integral over the place of the true width, by steps of a thirtieth of the noise, of how probable these displays are
/// [mm]. `lattice`: of the display; each given as a whole number of it above the lowest.
double repeats_integral(const std::vector<long>& shown, double lattice, double noise) {
    const long highest = *std::max_element(shown.begin(), shown.end());
    const double from = -0.5 * lattice - 6.0 * noise;
    const double to = (static_cast<double>(highest) + 0.5) * lattice + 6.0 * noise;
    const int parts = std::clamp(static_cast<int>((to - from) / noise * 8.0), 16, 400);
    const double step = (to - from) / parts;
    double sum = 0.0;
    for (int i = 0; i < parts; ++i) {
        const double place = from + (i + 0.5) * step;
        double product = 1.0;
        for (const long k : shown) {
            const double middle = static_cast<double>(k) * lattice - place;
            product *= quick_below((middle + 0.5 * lattice) / noise) - quick_below((middle - 0.5 * lattice) / noise);
        }
        sum += product * step;
    }
    return sum;
}

/// How probable it is that repeats at one place differ as they do, once the first is known; of a caliper that moves in
/// its own steps, or sticks.
double repeats_likelihood(const std::vector<double>& repeats, const ChanceCase& caliper, double noise, double own) {
    if (repeats.size() < 2 || !(noise > 0.0) || !(own > 0.0)) return 1.0;
    const auto [least, most] = std::minmax_element(repeats.begin(), repeats.end());
    std::vector<long> shown;
    const bool sticks = caliper.step_mm > own;
    if (!sticks) {
        for (const double r : repeats) shown.push_back(std::lround((r - *least) / own));
        return repeats_integral(shown, own, noise) / own;
    }
    // Two neighbouring steps at most; how far they are apart tells the step.
    const double apart = *most - *least;
    for (const double r : repeats) {
        const bool high = r > 0.5 * (*least + *most);
        if (apart > 0.0 && std::min(r - *least, *most - r) > 0.0) return 0.0;
        shown.push_back(high && apart > 0.0 ? 1 : 0);
    }
    const double all = repeats_integral(shown, caliper.step_mm, noise) / caliper.step_mm;
    if (apart <= 0.0) return all;
    const double sd = std::sqrt(squared(caliper.step_sd_mm) + squared(0.5 * own));
    return all * own / sd * 0.3989422804014327 * base::exp_of(-0.5 * squared((apart - caliper.step_mm) / sd));
}

// ---- the sum ----

/// One case of each cause.
struct Case {
    double log_weight = 0.0;
    double chips = 0.0;
    double hand = 0.0;
    double step_mm = 0.0;
    bool usual = true;
};

const std::vector<ChanceCase>& or_none(const std::vector<ChanceCase>& cases) {
    static const std::vector<ChanceCase> none{ChanceCase{}};
    return cases.empty() ? none : cases;
}

/// Probability of all repeats, by cause of the caliper.
std::vector<double> by_repeats(std::span<const FenceTest> tests, const std::vector<ChanceCase>& calipers, double noise,
                               double own) {
    std::vector<double> logs(calipers.size(), 0.0);
    for (std::size_t k = 0; k < calipers.size(); ++k) {
        for (const FenceTest& test : tests) {
            for (const auto& repeats : test.repeats_mm)
                logs[k] += base::log_of(std::max(1e-12, repeats_likelihood(repeats, calipers[k], noise, own)));
        }
    }
    return logs;
}

std::vector<Case> cases_of(std::span<const FenceTest> tests, const MayChange& may, double noise, double own) {
    const bool chips_matter = std::any_of(tests.begin(), tests.end(), [](const auto& t) { return !t.brushed; });
    const bool hand_matters = std::any_of(tests.begin(), tests.end(), [](const auto& t) { return !t.same_push; });
    static const std::vector<ChanceCase> away;
    const auto& calipers = or_none(may.caliper);
    const std::vector<double> repeats = by_repeats(tests, calipers, noise, own);
    std::vector<Case> cases;
    for (std::size_t k = 0; k < calipers.size(); ++k) {
        for (const ChanceCase& c : or_none(chips_matter ? may.chips : away)) {
            for (const ChanceCase& h : or_none(hand_matters ? may.hand : away))
                cases.push_back({base::log_of(calipers[k].weight * c.weight * h.weight) + repeats[k], c.variance,
                                 h.variance, calipers[k].step_mm, calipers[k].usual && c.usual && h.usual});
        }
    }
    return cases;
}

double variance_of(const FenceTest& t, const Case& c) {
    // Few degrees of freedom count as a wider normal distribution.
    const base::Interval all = base::coverage(t.skew_rad);
    const double u = std::isinf(t.skew_rad.dof) ? t.skew_rad.u : 0.5 * (all.hi - all.lo) / 1.959963984540054;
    const double step = c.step_mm * t.per_width;
    const double least = 1e-12;  // [rad]; nothing divides by zero
    return u * u + (t.brushed ? 0.0 : c.chips) + (t.same_push ? 0.0 : c.hand) + 2.0 * step * step / 12.0 +
           least * least;
}

/// What tests of one stand say together.
struct OneStand {
    double weight = 0.0;  ///< sum of 1/variance
    double mean = 0.0;
    double off = 0.0;  ///< sum of squares about the mean, each over its variance
    double logs = 0.0;
    double tests = 0.0;
    double limits = 0.0;  ///< sum of fourth powers of what the caliper's limits do to weight*mean
};

std::map<int, OneStand> together(std::span<const FenceTest> tests, const Case& c) {
    std::map<int, OneStand> stands;
    for (const FenceTest& t : tests) {
        OneStand& s = stands[t.stand];
        const double v = variance_of(t, c);
        const double w = t.times / v;
        const double d = t.skew_rad.value - s.mean;
        s.off += w * s.weight / (w + s.weight) * d * d;
        s.weight += w;
        s.mean += w / s.weight * d;
        s.logs -= 0.5 * t.times * base::log_of(v);
        s.tests += t.times;
        s.limits += t.times * squared(squared(t.u_limits / v));
    }
    return stands;
}

struct Posterior {
    std::vector<Share> shares;
    double unusual = 0.0;
};

/// Two normal distributions beside each other, with mean and variance of the whole, for an error that is in part a sum
/// of two rectangular ones: so far apart that their 2.5 % points are those of that sum, 1.90 deviations out.
void add_shares(std::vector<Share>& shares, const OneStand& s) {
    const double apart = std::sqrt(std::sqrt(0.22 * s.limits)) / s.weight;
    const double sd = std::sqrt(std::max(0.0, 1.0 / s.weight - apart * apart));
    shares.push_back({0.0, s.mean - apart, sd});
    shares.push_back({0.0, s.mean + apart, sd});
}

Posterior posterior_of(std::span<const FenceTest> tests, const std::vector<Case>& cases) {
    Posterior p;
    std::vector<double> logs;
    for (const Case& c : cases) {
        double log = c.log_weight;
        for (const auto& [stand, s] : together(tests, c)) {
            log += s.logs - 0.5 * base::log_of(s.weight) - 0.5 * s.off;
            if (stand == tests.back().stand) add_shares(p.shares, s);
        }
        logs.push_back(log);
    }
    const double best = *std::max_element(logs.begin(), logs.end());
    double sum = 0.0;
    for (std::size_t i = 0; i < logs.size(); ++i) {
        const double weight = base::exp_of(logs[i] - best);
        p.shares[2 * i].weight = p.shares[2 * i + 1].weight = 0.5 * weight;
        sum += weight;
        if (!cases[i].usual) p.unusual += weight;
    }
    for (Share& s : p.shares) s.weight /= sum;
    p.unusual /= sum;
    return p;
}

base::Interval interval_of(const Posterior& p) { return {quantile(p.shares, 0.025), quantile(p.shares, 0.975)}; }

State state_after(std::span<const FenceTest> tests, const std::vector<Case>& cases, double tolerance) {
    return state_of(interval_of(posterior_of(tests, cases)), tolerance);
}

// ---- tests that disagree ----

/// Probability that chi square of a whole number of degrees of freedom lies above x: a finite sum (Abramowitz and
/// Stegun 26.4.4 and 26.4.5, from memory).
double above(double x, int dof) {
    const double root = std::sqrt(x);
    const double density = 0.3989422804014327 * base::exp_of(-0.5 * x);
    if (dof % 2 == 1) {
        double term = root;
        double sum = 0.0;
        for (int k = 1; k <= dof - 2; k += 2) {
            sum += term;
            term *= x / (k + 2);
        }
        return 2.0 * quick_below(-root) + 2.0 * density * sum;
    }
    double term = 1.0;
    double sum = 1.0;
    for (int k = 2; k <= dof - 2; k += 2) {
        term *= x / k;
        sum += term;
    }
    return base::exp_of(-0.5 * x) * sum;
}

/// Whether not even the good saw on which most changes from test to test would often show so much.
bool disagree(std::span<const FenceTest> tests, const std::vector<Case>& cases) {
    constexpr double rare = 0.01;
    double likeliest = 0.0;
    int dof = 0;
    for (const Case& c : cases) {
        if (!c.usual) continue;
        double off = 0.0;
        double n = 0.0;
        for (const auto& [stand, s] : together(tests, c)) {
            off += s.off;
            n += s.tests - 1.0;
        }
        dof = static_cast<int>(std::lround(n));
        if (dof > 0) likeliest = std::max(likeliest, above(off, dof));
    }
    return dof > 0 && likeliest < rare;
}

// ---- what would decide ----

/// The same once more, with the fence brushed, so many times: the mean as it is.
FenceTest as_expected(const FenceTest& last, double mean_rad, int times) {
    FenceTest t = last;
    t.skew_rad.value = mean_rad;
    t.brushed = true;
    t.repeats_mm.clear();
    t.times = times;
    return t;
}

constexpr int most_tests = 100;

/// How many tests more decide it if they come out at the mean; 0: not within a hundred.
int tests_that_decide(std::span<const FenceTest> tests, const std::vector<Case>& cases, double mean_rad,
                      double tolerance) {
    std::vector<FenceTest> more(tests.begin(), tests.end());
    more.push_back(tests.back());
    const auto decided = [&](int n) {
        more.back() = as_expected(tests.back(), mean_rad, n);
        return state_after(more, cases, tolerance) != State::undecided;
    };
    if (!decided(most_tests)) return 0;
    int n = 1;
    while (n < most_tests && !decided(n)) ++n;
    return n;
}

void find_the_work(Verdict& claim, std::span<const FenceTest> tests, const MayChange& may,
                   const std::vector<Case>& cases, double tolerance, double noise, double own) {
    const int n = tests_that_decide(tests, cases, claim.mean_rad, tolerance);
    if (n > 0) {
        claim.work = Work::test;
        claim.more_tests = n;
        claim.work_minutes = n * measure::info(Check::brushed).minutes;
        claim.tests_to_decide = n;
        for (const FenceTest& t : tests)
            claim.tests_to_decide += t.stand == tests.back().stand ? static_cast<int>(t.times) : 0;
    }
    if (!claim.hand_is_open) return;
    // As the wiggle would find a good saw.
    MayChange good = may;
    std::erase_if(good.hand, [](const ChanceCase& c) { return !c.usual; });
    const std::vector<Case> good_cases = cases_of(tests, good, noise, own);
    const double look = measure::info(Check::wiggle).minutes;
    const Posterior known = posterior_of(tests, good_cases);
    double mean = 0.0;
    for (const Share& s : known.shares) mean += s.weight * s.mean;
    const int after = state_of(interval_of(known), tolerance) != State::undecided
                          ? 0
                          : tests_that_decide(tests, good_cases, mean, tolerance);
    const bool decides = after > 0 || state_of(interval_of(known), tolerance) != State::undecided;
    const double minutes = look + after * measure::info(Check::brushed).minutes;
    if (!decides || (n > 0 && minutes >= claim.work_minutes)) return;
    claim.work = after > 0 ? Work::wiggle_and_test : Work::wiggle;
    claim.more_tests = after;
    claim.work_minutes = minutes;
}

}  // namespace

MayChange may_change(const shop::Drawing& drawing, const Model& model, const Prior& prior,
                     std::span<const measure::CheckReport> others) {
    MayChange may;
    may.chips = chips(model, prior);
    may.caliper = steps(prior);
    if (drawing.sled.hand == shop::Hand::wandering) {
        const std::vector<PlayRead> reads = plays_read(others, drawing);
        may.hand = hands(reads, model, prior);
        may.hand_is_unknown = reads.empty();
    }
    return may;
}

Verdict claim_of(std::span<const FenceTest> tests, const MayChange& may, double tolerance_rad, double repeat_mm,
                 double step_mm) {
    const std::vector<Case> cases = cases_of(tests, may, repeat_mm, step_mm);
    const Posterior p = posterior_of(tests, cases);
    Verdict claim;
    for (const Share& s : p.shares) claim.mean_rad += s.weight * s.mean;
    claim.unusual = p.unusual;
    claim.tolerance_rad = tolerance_rad;
    claim.coverage95 = interval_of(p);
    claim.state = state_of(claim.coverage95, tolerance_rad);
    claim.changes = disagree(tests, cases);
    claim.hand_is_open = may.hand_is_unknown && !tests.back().same_push;
    // A pass rests on a look at the play, which takes five minutes, and not on what is usual.
    if (claim.hand_is_open && claim.state == State::pass) claim.state = State::undecided;
    if (claim.state != State::undecided) return claim;
    MayChange steady;
    steady.caliper = may.caliper;
    const std::vector<Case> strips_alone = cases_of(tests, steady, repeat_mm, step_mm);
    claim.scatter_is_open = state_after(tests, strips_alone, tolerance_rad) != State::undecided;
    find_the_work(claim, tests, may, cases, tolerance_rad, repeat_mm, step_mm);
    return claim;
}

}  // namespace offsquare::diagnose
