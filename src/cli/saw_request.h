// What `offsquare saw` is asked to write into a log, as entries.
#pragma once

#include <string>
#include <vector>

#include "cli/arguments.h"
#include "saws/sled.h"

namespace offsquare::cli {

/// The day that an entry is written on, from the clock of this computer, in its own time zone.
saws::Date today();

/// What the options say, in the order in which it happened: sizes, drawer, readings, shims, repairs, notes, and which
/// entry is withdrawn. A strip that was typed in part is filled with the span that the log knows. Grade::usage.
base::Result<std::vector<saws::What>> entries_of(const Arguments& arguments, const saws::Sled& sled);

/// "brass 0.1mm x4" or "0.1mm" as a row of a drawer.
base::Result<shop::Shim> drawer_row(const std::string& typed, base::Units units);

base::LengthUnit unit_of(base::Units units);

}  // namespace offsquare::cli
