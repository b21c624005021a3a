// The text of a typed quantity before it is read, and as a message shows it: pure functions of bytes.
#pragma once

#include <string>
#include <string_view>

namespace offsquare::base {

/// The text fit for a message on one line: no control characters, no broken UTF-8 (each bad byte is shown as '?'), at
/// most 40 characters and then "...".
std::string shown(std::string_view text);

/// Lower case ASCII with spaces only: tabs and the spaces of typesetters become spaces, primes, minus, micro and degree
/// signs what a keyboard has for them. Anything else stays as it is, to be refused by the reader.
std::string cleaned(std::string_view text);

}  // namespace offsquare::base
