// How a strip is cut, safely, for who has none yet: six steps that print.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace offsquare::saws {

/// Six sentences or a few each, written in mm (base::said_in says them in inches). Common practice, no source.
std::span<const std::string_view> strip_steps();

/// The steps, numbered, with the cautions before them: one page of plain text for the wall, lines of at most 90
/// columns.
std::string strip_steps_page(bool metric = true);

}  // namespace offsquare::saws
