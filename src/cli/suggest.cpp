#include "cli/suggest.h"

#include <algorithm>

namespace offsquare::cli {

std::size_t typing_distance(std::string_view a, std::string_view b) {
    // Rows of the usual table, three at a time because a swap looks two rows back (optimal string alignment).
    std::vector<std::size_t> before(b.size() + 1), above(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) above[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t exchange = above[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U);
            row[j] = std::min({above[j] + 1, row[j - 1] + 1, exchange});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], before[j - 2] + 1);
        }
        before = above;
        above = row;
    }
    return above[b.size()];
}

std::string likely_word(std::string_view typed, const std::vector<std::string>& words) {
    // A long stranger is no typo of anything here; not even looking keeps the table small.
    if (typed.empty() || typed.size() > 64) return {};
    std::string best;
    std::size_t best_distance = 0;
    for (const std::string& word : words) {
        const std::size_t distance = typing_distance(typed, word);
        if (distance > std::max<std::size_t>(1, word.size() / 3)) continue;
        if (best.empty() || distance < best_distance) {
            best = word;
            best_distance = distance;
        }
    }
    return best;
}

}  // namespace offsquare::cli
