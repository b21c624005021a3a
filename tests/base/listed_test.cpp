// Words in a row.
#include <doctest/doctest.h>

#include <vector>

#include "base/listed.h"

TEST_CASE("words in a row have commas and one last word between them") {
    using offsquare::base::listed;
    const std::vector<std::string> words{"dust", "a bow", "play"};
    CHECK(listed({}) == "");
    CHECK(listed(std::span(words).first(1)) == "dust");
    CHECK(listed(std::span(words).first(2)) == "dust and a bow");
    CHECK(listed(words) == "dust, a bow and play");
    CHECK(listed(words, "or") == "dust, a bow or play");
}
