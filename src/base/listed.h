// Words in a row, as a sentence has them.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace offsquare::base {

/// "a", "a and b", "a, b and c"; empty of none.
std::string listed(std::span<const std::string> words, std::string_view last = "and");

}  // namespace offsquare::base
