// What every file of an action starts from.
#pragma once

#include <string>
#include <string_view>

#include "base/quantity.h"
#include "base/result.h"
#include "session/form.h"
#include "shop/drawing.h"

namespace offsquare::session {

struct State;  // session/state.h: only the .cpp files look into it

/// What an action cost. Invented, for a practised person.
struct Cost {
    double minutes = 0.0;
    double stock_mm = 0.0;  ///< of board
};

/// A title within a sentence: its first letter small.
std::string lower_first(std::string_view text);

}  // namespace offsquare::session
