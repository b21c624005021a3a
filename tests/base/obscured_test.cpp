// Text that nobody reads by chance.
#include <doctest/doctest.h>

#include "base/obscured.h"

namespace obscured_test {

using namespace offsquare::base;

TEST_CASE("it comes back, and none of its words stands in it") {
    for (const std::string& text :
         {std::string(), std::string("fence_skew = 0.62"), std::string(5000, 'a'), std::string("\0\xff\n", 3)}) {
        const std::string hidden = obscured(text);
        CHECK(hidden.find_first_not_of("0123456789ABCDEF") == std::string::npos);
        REQUIRE(plain_again(hidden));
        CHECK(*plain_again(hidden) == text);
        CHECK(obscured(text) == hidden);
    }
    // One letter again and again shows no pattern of its own: its two digits are different ones at every place.
    const std::string hidden = obscured(std::string(100, 'a'));
    CHECK(hidden.substr(8, 20) != hidden.substr(10, 20));
}

TEST_CASE("the check is that of the standard") {
    // CRC-32 of "123456789" is 0xCBF43926 (the catalogue's check value, from memory); the lowest byte first.
    CHECK(obscured("123456789").starts_with("2639F4CB"));
}

TEST_CASE("what was changed, cut off or never hidden is refused") {
    std::string hidden = obscured("fence_skew = 0.62");
    for (const std::string& bad :
         {std::string("fence_skew"), hidden.substr(2), hidden.substr(0, 12), std::string("ABC")})
        CHECK(!plain_again(bad));
    hidden[20] = hidden[20] == '0' ? '1' : '0';
    CHECK(plain_again(hidden).error().grade == Grade::bad_data);
}

}  // namespace obscured_test
