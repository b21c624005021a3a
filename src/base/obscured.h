// Text that nobody reads by chance: a file that is looked into does not tell at a glance what is hidden in it. It is no
// secrecy: whoever wants to can turn it back, and this header says how.
//
//     CRC-32 of the text, four bytes; then the text, each byte by exclusive or with a byte that depends on its place
//     only; all of it in hexadecimal digits
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace offsquare::base {

/// The same for the same text; digits 0 to 9 and A to F only.
std::string obscured(std::string_view text);

/// The text again. Grade::bad_data: this is none that `obscured` wrote, or some of it was changed.
Result<std::string> plain_again(std::string_view obscured);

}  // namespace offsquare::base
