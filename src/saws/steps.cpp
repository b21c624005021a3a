#include "saws/steps.h"

#include <array>

#include <fmt/format.h>

#include "base/quantity.h"
#include "session/story.h"

namespace offsquare::saws {
namespace {

constexpr std::array<std::string_view, 6> steps{
    "Unplug the saw. See that the sled slides freely, that the fence's screws are tight, that fence and slots are "
    "brushed clean, that the guard and the riving knife are set as your local rules require, that the block behind the "
    "fence covers the blade where it comes out, and that the blade stands just above the board. Take a flat board, "
    "about as long as it is wide, of 300 mm or more: the longer, the finer the test. Then plug the saw in again.",
    "Hold the board hard against the fence and trim one edge: hands never in the line of the cut, yourself to one side "
    "of the blade. Hold still, switch off and wait until the blade has stopped; only then take the offcut away and "
    "turn "
    "the board. Do the same after every cut.",
    "With the blade stopped and the saw unplugged, brush the fence. Turn the board clockwise (the other way if you "
    "keep "
    "the right side), so that the fresh edge lies on the fence; plug in again, and trim the next edge. Go on until all "
    "four are cut.",
    "With the fifth cut take a strip of about 10 to 15 mm off the edge that was cut first. Do not hold it with your "
    "fingers. Hold still, switch off, and leave it lying until the blade has stopped.",
    "Unplug the saw. Before you take the strip away, mark its end at the fence with a pencil, and remember to which "
    "side of the blade "
    "it fell: afterwards nothing shows which end it was.",
    "At the bench read the strip's width with a caliper, square to its old edge, near each end, twice each; and with a "
    "tape the length of the old edge between the two places. Then, with the saw still unplugged, measure how far "
    "apart the two shim points of the fence are.",
};

/// Broken at spaces.
std::string wrapped(std::string_view text, std::size_t width, std::size_t indent) {
    std::string out;
    std::size_t column = 0;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        const std::string_view word = text.substr(0, end);
        if (column > 0 && column + 1 + word.size() > width) {
            out += "\n" + std::string(indent, ' ');
            column = indent;
        } else if (column > 0) {
            out += " ";
            ++column;
        } else {
            column = indent;
        }
        out += word;
        column += word.size();
        text = text.substr(std::min(end + 1, text.size()));
    }
    return out;
}

}  // namespace

std::span<const std::string_view> strip_steps() { return steps; }

std::string strip_steps_page(bool metric) {
    constexpr std::size_t width = 90;
    const session::Cautions& cautions = session::cautions();
    std::string page = "How to cut the strip\n\n" + cautions.title + "\n";
    for (const std::string& line : cautions.lines) page += "  - " + wrapped(line, width, 4) + "\n";
    page += "\n";
    const base::Units units = metric ? base::Units::metric : base::Units::imperial;
    for (std::size_t i = 0; i < steps.size(); ++i)
        page += fmt::format("  {}. {}\n\n", i + 1, wrapped(base::said_in(steps.at(i), units), width, 5));
    page.pop_back();
    return page;
}

}  // namespace offsquare::saws
