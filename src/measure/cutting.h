// The boards that a check cuts up, for what it reads (run_check.cpp) and for what chance does to it (scatter.cpp).
#pragma once

#include <optional>
#include <vector>

#include "measure/check.h"
#include "shop/drawing.h"

namespace offsquare::measure {

/// One after the other, and whether chips are brushed away first.
struct Cutting {
    std::vector<shop::Drawing> boards;
    bool brushed = false;
};

/// A saw whose board is the panel of which the diagonals are read: as long as the board, and as wide as nine tenths of
/// the fence or half as wide again as long, whichever is more.
shop::Drawing with_panel(const shop::Drawing& drawing);

/// Empty: it reads no strips.
std::optional<Cutting> cutting_of(Check check, const shop::Drawing& drawing);

}  // namespace offsquare::measure
