// Notation. w_i: weight of hypothesis i; p(o|i): its probability of outcome o; g: a group; p(o|g): over the hypotheses
// of one group. What a check tells about the groups:  H(p(o)) - sum_g w_g H(p(o|g)).
#include "diagnose/look_ahead.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

#include "base/elementary.h"

namespace offsquare::diagnose {
namespace {

constexpr double log_of_2 = 0.69314718055994530942;
double part_bits(double p) { return p > 0.0 ? -p * base::log_of(p) / log_of_2 : 0.0; }

/// A puzzle whose groups are numbered from 0, so that sums over them are quick.
class Board {
public:
    explicit Board(const Puzzle& puzzle) : puzzle_(puzzle) {
        std::map<int, std::size_t> numbers;
        for (const int g : puzzle.groups) group_.push_back(numbers.try_emplace(g, numbers.size()).first->second);
        groups_ = numbers.size();
    }

    const Puzzle& puzzle() const { return puzzle_; }
    std::size_t hypotheses() const { return group_.size(); }
    double minutes(std::size_t check) const { return puzzle_.checks[check].minutes; }

    std::vector<double> weights_of_groups(const Known& now) const {
        std::vector<double> out(groups_, 0.0);
        for (std::size_t i = 0; i < group_.size(); ++i) out[group_[i]] += now.weights[i];
        return out;
    }

    /// Of many groups the light ones cost most of the time and change no choice.
    double light() const { return groups_ > 16 ? 1e-3 : 0.0; }

    double surest(const Known& now) const {
        const std::vector<double> all = weights_of_groups(now);
        double most = *std::max_element(all.begin(), all.end());
        for (const std::vector<std::size_t>& answer : puzzle_.answers) {
            double sum = 0.0;
            for (const std::size_t i : answer) sum += now.weights[i];
            most = std::max(most, sum);
        }
        return most;
    }
    bool ended(const Known& now) const { return surest(now) >= puzzle_.sure - 1e-12; }

    /// `lightest`: groups that weigh less are left out, as if they were not.
    double bits(const Known& now, std::size_t check, double lightest = 0.0) const {
        const auto& given = puzzle_.checks[check].outcome_given;
        const std::size_t k = given.front().size();
        std::vector<double> joint(groups_ * k, 0.0);
        const std::vector<double> whole = weights_of_groups(now);
        for (std::size_t i = 0; i < group_.size(); ++i) {
            if (now.weights[i] <= 0.0 || whole[group_[i]] < lightest) continue;
            for (std::size_t o = 0; o < k; ++o) joint[group_[i] * k + o] += now.weights[i] * given[i][o];
        }
        // H(o) + H(g) - H(o, g), each as it comes.
        double told = 0.0;
        for (std::size_t o = 0; o < k; ++o) {
            double p = 0.0;
            for (std::size_t g = 0; g < groups_; ++g) p += joint[g * k + o];
            told += part_bits(p);
        }
        for (std::size_t g = 0; g < groups_; ++g) {
            if (whole[g] <= 0.0 || whole[g] < lightest) continue;
            double p = 0.0;
            for (std::size_t o = 0; o < k; ++o) {
                p += joint[g * k + o];
                told -= part_bits(joint[g * k + o]);
            }
            told += part_bits(p);
        }
        return std::max(0.0, told);
    }

private:
    const Puzzle& puzzle_;
    std::vector<std::size_t> group_{};
    std::size_t groups_ = 0;
};

/// A check that would tell something.
struct Open {
    std::size_t check = 0;
    double bits = 0.0;
};

std::vector<Open> open_on(const Board& board, const Known& now, double lightest = 0.0) {
    std::vector<Open> all;
    if (board.ended(now)) return all;
    for (std::size_t c = 0; c < board.puzzle().checks.size(); ++c) {
        if (now.made[c]) continue;
        if (const double bits = board.bits(now, c, lightest); bits > board.puzzle().least_bits)
            all.push_back({c, bits});
    }
    return all;
}

/// The best of some, by a score of which more is better; of equal ones the cheaper. Sums over the same numbers in
/// another order differ in their last digits: that much is equal.
template <class Score>
std::optional<std::size_t> best_of(const Board& board, const std::vector<Open>& open, Score score) {
    std::optional<std::size_t> best;
    double most = 0.0;
    for (const Open& o : open) {
        const double s = score(o);
        const double rounding = 1e-11 * std::max(std::abs(s), std::abs(most));
        const bool more = !best || s > most + rounding;
        const bool as_good = best && std::abs(s - most) <= rounding;
        if (!more && !(as_good && board.minutes(o.check) < board.minutes(*best))) continue;
        best = o.check;
        most = s;
    }
    return best;
}

/// The weight of the heaviest outcome, each hypothesis going with the one that it makes likeliest; with all of them
/// alike where several are.
double heaviest_part(const Board& board, const Known& now, std::size_t check) {
    const auto& given = board.puzzle().checks[check].outcome_given;
    std::vector<double> parts(given.front().size(), 0.0);
    for (std::size_t i = 0; i < board.hypotheses(); ++i) {
        const double likeliest = *std::max_element(given[i].begin(), given[i].end()) - 1e-12;
        const auto is_one = [&](double p) { return p >= likeliest; };
        const auto ties = static_cast<double>(std::count_if(given[i].begin(), given[i].end(), is_one));
        for (std::size_t o = 0; o < parts.size(); ++o) parts[o] += is_one(given[i][o]) ? now.weights[i] / ties : 0.0;
    }
    return *std::max_element(parts.begin(), parts.end());
}

/// Minutes until the search ends, by what is open now; 0: it has ended.
double estimate(const Board& board, const Known& now, const std::vector<Open>& open) {
    if (open.empty()) return 0.0;
    double left = 0.0;
    for (const double p : board.weights_of_groups(now)) left += part_bits(p);
    const double sure = board.puzzle().sure;
    left -= part_bits(sure) + part_bits(1.0 - sure);
    double rate = 0.0;
    double all = 0.0;
    double cheapest = std::numeric_limits<double>::infinity();
    for (const Open& o : open) {
        rate = std::max(rate, o.bits / board.minutes(o.check));
        all += board.minutes(o.check);
        cheapest = std::min(cheapest, board.minutes(o.check));
    }
    return std::clamp(left / rate, cheapest, all);
}

/// The best by bits a minute, at most `widest`.
std::vector<Open> narrowed(const Board& board, std::vector<Open> open, std::size_t widest) {
    if (open.size() <= widest) return open;
    std::stable_sort(open.begin(), open.end(), [&](const Open& a, const Open& b) {
        return a.bits / board.minutes(a.check) > b.bits / board.minutes(b.check);
    });
    open.resize(widest);
    return open;
}

std::vector<Choice> ahead_on(const Board& board, const Known& now, const Ahead& ahead);

/// Minutes of a check and of what is to be expected after each of its outcomes.
template <class Value>
double minutes_with(const Board& board, const Known& now, std::size_t check, Value value_of) {
    double minutes = board.minutes(check);
    const std::vector<double> outcomes = outcomes_of(board.puzzle(), now, check);
    for (std::size_t o = 0; o < outcomes.size(); ++o) {
        if (outcomes[o] > 0.0) minutes += outcomes[o] * value_of(after(board.puzzle(), now, check, o), o);
    }
    return minutes;
}

std::vector<Choice> ahead_on(const Board& board, const Known& now, const Ahead& ahead) {
    const std::vector<Open> open = narrowed(board, open_on(board, now, board.light()), ahead.widest);
    const Ahead rest{ahead.depth - 1, ahead.widest, 0.0};
    std::vector<double> minutes(board.puzzle().checks.size(), 0.0);
    for (const Open& o : open) {
        minutes[o.check] = minutes_with(board, now, o.check, [&](const Known& then, std::size_t) {
            if (rest.depth == 0) return estimate(board, then, open_on(board, then, board.light()));
            const auto choices = ahead_on(board, then, rest);
            return choices.empty() ? 0.0 : choices.front().minutes;
        });
    }
    const auto least = best_of(board, open, [&](const Open& o) { return -minutes[o.check]; });
    if (!least) return {};
    std::vector<Open> as_good;
    for (const Open& o : open) {
        if (minutes[o.check] <= minutes[*least] * (1.0 + ahead.as_good + 1e-11)) as_good.push_back(o);
    }
    const auto best = best_of(board, as_good, [&](const Open& o) { return o.bits / board.minutes(o.check); });
    std::vector<Choice> all;
    for (const Open& o : open) all.push_back({o.check, minutes[o.check]});
    std::stable_sort(all.begin(), all.end(), [&](const Choice& a, const Choice& b) {
        if ((a.check == *best) != (b.check == *best)) return a.check == *best;
        return a.minutes < b.minutes;
    });
    return all;
}

// ---- trying everything ----

/// What was made and what came of it, as a number in mixed radix: of each check 0, or its outcome from 1.
class Tried {
public:
    explicit Tried(const Board& board) : board_(board) {
        for (const PuzzleCheck& c : board.puzzle().checks) {
            place_.push_back(static_cast<std::size_t>(standings_));
            standings_ *= static_cast<double>(c.outcome_given.front().size() + 1);
            if (standings_ > most_standings) return;
        }
        least_.assign(static_cast<std::size_t>(standings_), unknown);
    }
    bool too_large() const { return standings_ > most_standings; }

    std::optional<Choice> best(const Known& now, std::size_t number) {
        const std::vector<Open> open = open_on(board_, now);
        std::vector<double> minutes(place_.size(), 0.0);
        for (const Open& o : open) {
            minutes[o.check] = minutes_with(board_, now, o.check, [&](const Known& then, std::size_t outcome) {
                return least(then, number + (outcome + 1) * place_[o.check]);
            });
        }
        const auto check = best_of(board_, open, [&](const Open& o) { return -minutes[o.check]; });
        if (!check) return std::nullopt;
        return Choice{*check, minutes[*check]};
    }

private:
    static constexpr double unknown = -1.0;

    double least(const Known& now, std::size_t number) {
        if (least_[number] == unknown) {
            const auto choice = best(now, number);
            least_[number] = choice ? choice->minutes : 0.0;
        }
        return least_[number];
    }

    const Board& board_;
    double standings_ = 1.0;
    std::vector<std::size_t> place_{};
    std::vector<double> least_{};
};

Walk walked(const Puzzle& puzzle, const Known& now, const Policy& policy, double least, double reached) {
    const auto check = policy(puzzle, now);
    if (!check || reached < least) return {0.0, 0.0, surest(puzzle, now) >= puzzle.sure - 1e-12 ? 1.0 : 0.0};
    Walk all{puzzle.checks[*check].minutes, 1.0, 0.0};
    const std::vector<double> outcomes = outcomes_of(puzzle, now, *check);
    for (std::size_t o = 0; o < outcomes.size(); ++o) {
        if (!(outcomes[o] > 0.0)) continue;
        const Walk one = walked(puzzle, after(puzzle, now, *check, o), policy, least, reached * outcomes[o]);
        all.minutes += outcomes[o] * one.minutes;
        all.checks += outcomes[o] * one.checks;
        all.decided += outcomes[o] * one.decided;
    }
    return all;
}

}  // namespace

Known start_of(const Puzzle& puzzle) { return {puzzle.weights, std::vector<bool>(puzzle.checks.size(), false)}; }

std::vector<double> outcomes_of(const Puzzle& puzzle, const Known& now, std::size_t check) {
    const auto& given = puzzle.checks[check].outcome_given;
    std::vector<double> out(given.front().size(), 0.0);
    for (std::size_t i = 0; i < now.weights.size(); ++i) {
        for (std::size_t o = 0; o < out.size(); ++o) out[o] += now.weights[i] * given[i][o];
    }
    return out;
}

Known after(const Puzzle& puzzle, const Known& now, std::size_t check, std::size_t outcome) {
    Known then = now;
    then.made[check] = true;
    double sum = 0.0;
    for (std::size_t i = 0; i < then.weights.size(); ++i) {
        then.weights[i] *= puzzle.checks[check].outcome_given[i][outcome];
        sum += then.weights[i];
    }
    for (double& w : then.weights) w /= sum;
    return then;
}

double bits_of(const Puzzle& puzzle, const Known& now, std::size_t check) { return Board(puzzle).bits(now, check); }

double surest(const Puzzle& puzzle, const Known& now) { return Board(puzzle).surest(now); }

std::vector<std::size_t> open_checks(const Puzzle& puzzle, const Known& now) {
    std::vector<std::size_t> all;
    for (const Open& o : open_on(Board(puzzle), now)) all.push_back(o.check);
    return all;
}

std::optional<std::size_t> next_by_bits(const Puzzle& puzzle, const Known& now) {
    const Board board(puzzle);
    return best_of(board, open_on(board, now), [&](const Open& o) { return o.bits / board.minutes(o.check); });
}

std::optional<std::size_t> next_by_halves(const Puzzle& puzzle, const Known& now) {
    const Board board(puzzle);
    return best_of(board, open_on(board, now), [&](const Open& o) { return -heaviest_part(board, now, o.check); });
}

std::vector<Choice> looked_ahead(const Puzzle& puzzle, const Known& now, const Ahead& ahead) {
    return ahead_on(Board(puzzle), now,
                    {std::max(1, ahead.depth), std::max<std::size_t>(1, ahead.widest), ahead.as_good});
}

std::optional<Choice> next_by_look_ahead(const Puzzle& puzzle, const Known& now, const Ahead& ahead) {
    const std::vector<Choice> all = looked_ahead(puzzle, now, ahead);
    return all.empty() ? std::nullopt : std::optional(all.front());
}

Oracle oracle(const Puzzle& puzzle, const Known& now) {
    const Board board(puzzle);
    Tried tried(board);
    if (tried.too_large()) return {true, std::nullopt};
    return {false, tried.best(now, 0)};
}

Walk walk(const Puzzle& puzzle, const Known& from, const Policy& policy, double least) {
    return walked(puzzle, from, policy, least, 1.0);
}

}  // namespace offsquare::diagnose
