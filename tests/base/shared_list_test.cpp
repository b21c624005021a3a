// Copies of a list against copies of a vector: whatever is changed in one is not seen in another.
#include "base/shared_list.h"

#include <doctest/doctest.h>

#include <random>
#include <string>
#include <vector>

using offsquare::base::SharedList;

namespace {

bool same(const SharedList<std::string>& list, const std::vector<std::string>& vector) {
    return list.size() == vector.size() && std::equal(list.begin(), list.end(), vector.begin());
}

}  // namespace

TEST_CASE("many copies, changed at random, equal vectors that were changed alike") {
    std::mt19937_64 random(5);
    std::vector<SharedList<std::string>> lists(1);
    std::vector<std::vector<std::string>> vectors(1);
    for (int i = 0; i < 4000; ++i) {
        const std::size_t which = random() % lists.size();
        const std::string text = std::to_string(i);
        const std::size_t size = vectors[which].size();
        switch (random() % 8) {
            case 0:
                if (lists.size() < 12) {
                    lists.push_back(lists[which]);
                    vectors.push_back(vectors[which]);
                }
                break;
            case 1:
            case 2:
                if (size == 0) break;
                lists[which].change(i % size) = text;
                vectors[which][i % size] = text;
                break;
            default: lists[which].push_back(text); vectors[which].push_back(text);
        }
        REQUIRE(same(lists[which], vectors[which]));
    }
    std::size_t longest = 0;
    for (std::size_t k = 0; k < lists.size(); ++k) {
        REQUIRE(same(lists[k], vectors[k]));
        longest = std::max(longest, lists[k].size());
        CHECK(lists[k].back() == vectors[k].back());
        CHECK(lists[k].front() == vectors[k].front());
        CHECK_THROWS_AS(lists[k].at(lists[k].size()), std::out_of_range);
    }
    CHECK(longest > 200);  // several blocks
}
