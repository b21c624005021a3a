// Which checks the instruments in a shop allow, and which instrument to buy or borrow first.
#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "measure/check.h"
#include "session/findings.h"

namespace offsquare::saws {

/// What a check may need besides eyes, hands and a brush.
enum class Tool {
    caliper,
    rule,  ///< a tape or a steel rule
    straightedge,
    feelers,
    square,
    indicator,
    inside_bar,
    shim_stock,
    second_caliper,
};
inline constexpr std::size_t tool_count = 9;
std::string_view name_of(Tool tool);  ///< "feeler gauges"

/// What measure::info(check).instrument names.
std::vector<Tool> needed_for(measure::Check check);

/// In the order of the table.
std::vector<measure::Check> possible_with(std::span<const Tool> tools);

/// Something to buy or borrow: one instrument, or two that are of use only together.
struct ToGet {
    std::vector<Tool> tools;
    std::vector<measure::Check> opens;  ///< checks that become possible with them
    std::vector<shop::Fault> sees;      ///< of the faults that are open and that no possible check sees, those that
                                        ///< they see
    std::string why;                    ///< one sentence
};
/// The most useful first, three at most: by how much doubt about the faults they can look at for each instrument. With
/// `findings` the doubt is what the readings have left; without, what is usual. Empty: nothing more would help.
std::vector<ToGet> to_get_first(std::span<const Tool> tools, const session::Sight& sight,
                                const session::Findings* findings);

}  // namespace offsquare::saws
