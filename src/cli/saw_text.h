// A sled's log as text for a person.
#pragma once

#include <string>
#include <vector>

#include "cli/text.h"
#include "saws/history.h"
#include "saws/store.h"

namespace offsquare::cli {

std::string list_text(const std::vector<saws::Listed>& all, const Ink& ink);

/// The answer of the newest strip, what stands behind the fence, the verdict, what else would look the same and what to
/// do next. `findings` nullptr: nothing was read yet.
std::string answer_text(const saws::Sled& sled, const session::Findings* findings, base::Units units, saws::Date today,
                        const Ink& ink);

/// Every entry, the corrected ones with what corrected them.
std::string log_text(const saws::Sled& sled, base::Units units, saws::Date today, const Ink& ink);

}  // namespace offsquare::cli
