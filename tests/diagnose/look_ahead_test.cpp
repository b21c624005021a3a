// The next check by look-ahead, against what is known of such puzzles and against trying everything.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <random>
#include <vector>

#include "diagnose/advise.h"
#include "diagnose/look_ahead.h"

using namespace offsquare;
using diagnose::Known;
using diagnose::Puzzle;
using diagnose::PuzzleCheck;

namespace {

using Random = std::mt19937_64;

double uniform(Random& random) { return static_cast<double>(random() >> 11U) * 0x1p-53; }
int any_of(Random& random, int lo, int hi) { return lo + static_cast<int>(uniform(random) * (hi - lo + 1)); }

/// 2 to 6 hypotheses in two groups at least, 2 to 6 checks of 1 to 15 minutes with 2 or 3 outcomes; a third of the
/// checks never err, the others do in 2 to 32 of 100. In half of them some hypotheses together are an answer too.
Puzzle any_puzzle(Random& random) {
    Puzzle p;
    const int n = any_of(random, 2, 6);
    double sum = 0.0;
    for (int i = 0; i < n; ++i) {
        p.weights.push_back(0.05 - std::log(1.0 - uniform(random)));
        p.groups.push_back(i < 2 ? i : any_of(random, 0, n - 1));
        sum += p.weights.back();
    }
    for (double& w : p.weights) w /= sum;
    const int checks = any_of(random, 2, 6);
    for (int c = 0; c < checks; ++c) {
        PuzzleCheck check{std::pow(15.0, uniform(random)), {}};
        const int outcomes = any_of(random, 2, 3);
        const double errs = any_of(random, 0, 2) == 0 ? 0.0 : 0.02 + 0.3 * uniform(random);
        for (int i = 0; i < n; ++i) {
            std::vector<double> row(static_cast<std::size_t>(outcomes), errs / outcomes);
            row[static_cast<std::size_t>(any_of(random, 0, outcomes - 1))] += 1.0 - errs;
            check.outcome_given.push_back(std::move(row));
        }
        p.checks.push_back(std::move(check));
    }
    for (int answers = any_of(random, 0, 1) == 0 || n < 3 ? 0 : 2; answers > 0; --answers) {
        p.answers.emplace_back();
        for (std::size_t i = 0; i < p.weights.size(); ++i) {
            if (uniform(random) < 0.4) p.answers.back().push_back(i);
        }
    }
    return p;
}

std::optional<std::size_t> by_look_ahead(const Puzzle& puzzle, const Known& now) {
    const auto choice = diagnose::next_by_look_ahead(puzzle, now);
    return choice ? std::optional(choice->check) : std::nullopt;
}

std::vector<std::size_t> shuffled(std::size_t n, Random& random) {
    std::vector<std::size_t> order(n);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::shuffle(order.begin(), order.end(), random);
    return order;
}

/// Yes-or-no tests without error, of a minute each: `says_yes[test][hypothesis]`.
Puzzle of_tests(const std::vector<double>& weights, const std::vector<std::vector<bool>>& says_yes) {
    Puzzle p{weights, {}, {}, 1.0};
    for (std::size_t i = 0; i < weights.size(); ++i) p.groups.push_back(static_cast<int>(i));
    for (const std::vector<bool>& test : says_yes) {
        PuzzleCheck check;
        for (const bool yes : test) check.outcome_given.push_back(yes ? std::vector{1.0, 0.0} : std::vector{0.0, 1.0});
        p.checks.push_back(std::move(check));
    }
    return p;
}

}  // namespace

TEST_CASE("a chain of eight, one broken: three probes by every way but the foolish (arithmetic: log2 8)") {
    std::vector<std::vector<bool>> probes;
    for (std::size_t probe = 1; probe < 8; ++probe) {
        probes.emplace_back();
        for (std::size_t broken = 0; broken < 8; ++broken) probes.back().push_back(broken < probe);
    }
    const Puzzle chain = of_tests(std::vector<double>(8, 0.125), probes);
    const Known start = diagnose::start_of(chain);
    const auto best = diagnose::oracle(chain, start);
    REQUIRE(best.choice);
    CHECK(std::abs(best.choice->minutes - 3.0) < 1e-12);
    CHECK(best.choice->check == 3);  // after the fourth of eight
    for (const diagnose::Policy& way : {diagnose::Policy(diagnose::next_by_bits),
                                        diagnose::Policy(diagnose::next_by_halves), diagnose::Policy(by_look_ahead)}) {
        const diagnose::Walk walk = diagnose::walk(chain, start, way);
        CHECK(std::abs(walk.minutes - 3.0) < 1e-12);
        CHECK(walk.decided == doctest::Approx(1.0));
    }
    // One after the other from the end: (1 + 2 + ... + 7 + 7) / 8.
    const auto in_order = [](const Puzzle& p, const Known& now) -> std::optional<std::size_t> {
        const auto open = diagnose::open_checks(p, now);
        return open.empty() ? std::nullopt : std::optional(open.front());
    };
    CHECK(std::abs(diagnose::walk(chain, start, in_order).minutes - 35.0 / 8.0) < 1e-12);
}

TEST_CASE("all yes-or-no questions allowed: the least number is the mean length of a Huffman code (Huffman 1952)") {
    // Weights and code lengths by hand: merge the two lightest until one is left; the merged weights add up.
    const std::vector<std::pair<std::vector<double>, double>> codes{
        {{0.4, 0.3, 0.2, 0.1}, 0.3 + 0.6 + 1.0},
        {{0.7, 0.1, 0.1, 0.1}, 0.2 + 0.3 + 1.0},
        {{0.25, 0.25, 0.25, 0.25}, 0.5 + 0.5 + 1.0},
    };
    std::vector<std::vector<bool>> every;  // a set and what is left of four are one question: seven
    for (unsigned set = 1; set < 8; ++set) every.push_back({(set & 1U) != 0, (set & 2U) != 0, (set & 4U) != 0, false});
    for (const auto& [weights, length] : codes) {
        const Puzzle puzzle = of_tests(weights, every);
        const auto best = diagnose::oracle(puzzle, diagnose::start_of(puzzle));
        REQUIRE(best.choice);
        CHECK(std::abs(best.choice->minutes - length) < 1e-12);
    }
}

TEST_CASE("a dear check that settles it against a cheap one that may: worked out by hand") {
    // Two faults, even. A settles it for 10 minutes. B for 2 minutes says "first" for sure in half of its cases, and
    // else leaves it as open as 1 to 2.
    Puzzle p{{0.5, 0.5}, {0, 1}, {{10.0, {{1.0, 0.0}, {0.0, 1.0}}}, {2.0, {{0.5, 0.5}, {0.0, 1.0}}}}, 0.95};
    const Known start = diagnose::start_of(p);
    // B first: 2 + 3/4 x 10 = 9.5; A first: 10.
    CHECK(std::abs(diagnose::oracle(p, start).choice->minutes - 9.5) < 1e-12);
    CHECK(diagnose::oracle(p, start).choice->check == 1);
    CHECK(by_look_ahead(p, start) == 1);
    // B at 3 minutes: 10.5. Greed still takes it, for 0.311 bits in 3 minutes (0.1038 a minute) beat 1 bit in 10.
    p.checks[1].minutes = 3.0;
    CHECK(std::abs(diagnose::oracle(p, start).choice->minutes - 10.0) < 1e-12);
    CHECK(diagnose::next_by_bits(p, start) == 1);
    CHECK(by_look_ahead(p, start) == 0);
    CHECK(diagnose::next_by_halves(p, start) == 0);
}

TEST_CASE("the search ends when one group is sure enough, whichever of its hypotheses it is, or nothing tells more") {
    const PuzzleCheck sharp{1.0, {{1.0, 0.0}, {0.0, 1.0}, {0.5, 0.5}}};
    const Puzzle decided{{0.5, 0.46, 0.04}, {7, 7, 1}, {sharp}, 0.95};
    CHECK(diagnose::surest(decided, diagnose::start_of(decided)) == doctest::Approx(0.96));
    CHECK(diagnose::open_checks(decided, diagnose::start_of(decided)).empty());
    CHECK_FALSE(diagnose::next_by_look_ahead(decided, diagnose::start_of(decided)));
    CHECK_FALSE(diagnose::oracle(decided, diagnose::start_of(decided)).choice);
    // An answer across groups ends it too.
    Puzzle across{{0.5, 0.3, 0.2}, {0, 1, 2}, {sharp}, 0.75};
    CHECK(diagnose::next_by_look_ahead(across, diagnose::start_of(across)));
    across.answers = {{1, 2}, {0, 1}};
    CHECK(diagnose::surest(across, diagnose::start_of(across)) == doctest::Approx(0.8));
    CHECK_FALSE(diagnose::next_by_look_ahead(across, diagnose::start_of(across)));
    // Both groups make each outcome as likely: nothing is told, whatever the hypotheses do.
    const PuzzleCheck blind{1.0, {{1.0, 0.0}, {0.0, 1.0}, {0.5, 0.5}}};
    const Puzzle stuck{{0.25, 0.25, 0.5}, {0, 0, 1}, {blind}, 0.95};
    CHECK(diagnose::open_checks(stuck, diagnose::start_of(stuck)).empty());
    // Too many standings to try: said, and not answered wrongly.
    Puzzle large{{0.5, 0.5}, {0, 1}, std::vector<PuzzleCheck>(12, {1.0, {{0.6, 0.4}, {0.4, 0.6}}}), 0.95};
    CHECK(diagnose::oracle(large, diagnose::start_of(large)).too_large);  // 3^12 = 531,441
}

TEST_CASE("martingale: what is believed after a check is, before it, expected to be what is believed now") {
    Random random(20261);
    for (int n = 0; n < 200; ++n) {
        const Puzzle p = any_puzzle(random);
        Known now = diagnose::start_of(p);
        for (std::size_t c = 0; c < p.checks.size(); ++c) {
            const std::vector<double> chance = diagnose::outcomes_of(p, now, c);
            CHECK(std::accumulate(chance.begin(), chance.end(), 0.0) == doctest::Approx(1.0));
            std::vector<double> expected(p.weights.size(), 0.0);
            std::size_t likeliest = 0;
            for (std::size_t o = 0; o < chance.size(); ++o) {
                if (chance[o] > chance[likeliest]) likeliest = o;
                if (chance[o] <= 0.0) continue;
                const Known then = diagnose::after(p, now, c, o);
                for (std::size_t i = 0; i < expected.size(); ++i) expected[i] += chance[o] * then.weights[i];
            }
            for (std::size_t i = 0; i < expected.size(); ++i) CHECK(std::abs(expected[i] - now.weights[i]) < 1e-12);
            now = diagnose::after(p, now, c, likeliest);  // and on from there
        }
    }
}

TEST_CASE("what a check tells about the groups: as diagnose/advise.h has it, and by the chain rule") {
    Random random(20262);
    for (int n = 0; n < 200; ++n) {
        Puzzle p = any_puzzle(random);
        const Known now = diagnose::start_of(p);
        Puzzle each = p;
        std::iota(each.groups.begin(), each.groups.end(), 0);
        for (std::size_t c = 0; c < p.checks.size(); ++c) {
            const auto& given = p.checks[c].outcome_given;
            CHECK(std::abs(diagnose::bits_of(each, now, c) - diagnose::information_bits(p.weights, given)) < 1e-12);
            // About the group = about the hypothesis less what is told within the groups (Shannon 1948).
            std::map<int, std::pair<std::vector<double>, std::vector<std::vector<double>>>> within;
            for (std::size_t i = 0; i < p.weights.size(); ++i) {
                within[p.groups[i]].first.push_back(p.weights[i]);
                within[p.groups[i]].second.push_back(given[i]);
            }
            double bits = diagnose::information_bits(p.weights, given);
            for (auto& [group, part] : within) {
                const double weight = std::accumulate(part.first.begin(), part.first.end(), 0.0);
                for (double& w : part.first) w /= weight;
                bits -= weight * diagnose::information_bits(part.first, part.second);
            }
            CHECK(std::abs(diagnose::bits_of(p, now, c) - bits) < 1e-12);
        }
    }
}

TEST_CASE("relabelling: hypotheses, groups, checks and outcomes in another order choose the same check") {
    Random random(20263);
    for (int n = 0; n < 100; ++n) {
        const Puzzle p = any_puzzle(random);
        const auto hypotheses = shuffled(p.weights.size(), random);
        const auto checks = shuffled(p.checks.size(), random);
        Puzzle q{{}, {}, {}, p.sure};
        for (const auto& answer : p.answers) {
            q.answers.emplace_back();
            for (std::size_t i = 0; i < hypotheses.size(); ++i) {
                if (std::find(answer.begin(), answer.end(), hypotheses[i]) != answer.end())
                    q.answers.back().push_back(i);
            }
        }
        for (const std::size_t i : hypotheses) {
            q.weights.push_back(p.weights[i]);
            q.groups.push_back(100 - 7 * p.groups[i]);
        }
        for (const std::size_t c : checks) {
            const auto outcomes = shuffled(p.checks[c].outcome_given.front().size(), random);
            PuzzleCheck check{p.checks[c].minutes, {}};
            for (const std::size_t i : hypotheses) {
                check.outcome_given.emplace_back();
                for (const std::size_t o : outcomes)
                    check.outcome_given.back().push_back(p.checks[c].outcome_given[i][o]);
            }
            q.checks.push_back(std::move(check));
        }
        const Known at_p = diagnose::start_of(p);
        const Known at_q = diagnose::start_of(q);
        for (const diagnose::Policy& way :
             {diagnose::Policy(diagnose::next_by_bits), diagnose::Policy(diagnose::next_by_halves),
              diagnose::Policy(by_look_ahead)}) {
            const auto here = way(p, at_p);
            const auto there = way(q, at_q);
            REQUIRE(here.has_value() == there.has_value());
            if (here) CHECK(*here == checks[*there]);
        }
        const auto here = diagnose::oracle(p, at_p).choice;
        const auto there = diagnose::oracle(q, at_q).choice;
        REQUIRE(here.has_value() == there.has_value());
        if (here) CHECK(here->check == checks[there->check]);
        if (here) CHECK(std::abs(here->minutes - there->minutes) < 1e-9);
    }
}

// Measured: with this seed look-ahead by two checks needs 0.6 % more minutes than the least possible in the mean of the
// ratios and 0.8 % more in all, greed by bits a minute 5 % and half-split 23 % more in all; with six other seeds of 200
// cases each 0.5 to 1.6 %, 1.0 to 2.8 %, 4 to 8 % and 17 to 27 %. Every number is exact: the way is followed along
// every outcome. In single cases look-ahead was 46 % above the least at worst, of 1200.
TEST_CASE("two hundred small puzzles: look-ahead within 5 % of the least minutes, never below; greed and half-split") {
    Random random(20264);
    double ratios = 0.0;
    double minutes = 0.0;
    double least = 0.0;
    double greedy = 0.0;
    double halves = 0.0;
    for (int n = 0; n < 200;) {
        const Puzzle p = any_puzzle(random);
        const Known start = diagnose::start_of(p);
        const auto best = diagnose::oracle(p, start);
        REQUIRE_FALSE(best.too_large);
        if (!best.choice) continue;  // settled before it begins
        ++n;
        const double ahead = diagnose::walk(p, start, by_look_ahead).minutes;
        CHECK(ahead > best.choice->minutes * (1.0 - 1e-12));
        CHECK(diagnose::walk(p, start, diagnose::next_by_bits).minutes > best.choice->minutes * (1.0 - 1e-12));
        ratios += ahead / best.choice->minutes;
        minutes += ahead;
        least += best.choice->minutes;
        greedy += diagnose::walk(p, start, diagnose::next_by_bits).minutes;
        halves += diagnose::walk(p, start, diagnose::next_by_halves).minutes;
    }
    INFO("look-ahead ", ratios / 200.0, " of the least in the mean, ", minutes / least, " in all; greed ",
         greedy / least, ", half-split ", halves / least);
    CHECK(ratios / 200.0 < 1.05);
    CHECK(minutes / least < 1.05);
    CHECK(minutes < greedy);
    CHECK(greedy < halves);
}

TEST_CASE("the oracle's own way takes the minutes that it says") {
    Random random(20265);
    const auto by_oracle = [](const Puzzle& p, const Known& now) -> std::optional<std::size_t> {
        const auto best = diagnose::oracle(p, now);
        return best.choice ? std::optional(best.choice->check) : std::nullopt;
    };
    for (int n = 0; n < 20; ++n) {
        Puzzle p = any_puzzle(random);
        p.checks.resize(std::min<std::size_t>(4, p.checks.size()));
        const Known start = diagnose::start_of(p);
        const auto best = diagnose::oracle(p, start);
        const double said = best.choice ? best.choice->minutes : 0.0;
        CHECK(std::abs(diagnose::walk(p, start, by_oracle).minutes - said) < 1e-9);
    }
}
