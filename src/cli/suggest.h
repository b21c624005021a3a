// The likely word for a typo.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace offsquare::cli {

/// How many single letters must be put in, taken out, exchanged or swapped with the neighbour to get from one word to
/// the other.
std::size_t typing_distance(std::string_view a, std::string_view b);

/// The nearest of the words, if it is near enough to be meant (a third of its letters, at least one); else empty. The
/// first of equals.
std::string likely_word(std::string_view typed, const std::vector<std::string>& words);

}  // namespace offsquare::cli
