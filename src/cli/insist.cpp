#include "cli/insist.h"

#include <fmt/format.h>

namespace offsquare::cli {
namespace {

std::string all_of(const session::Slips& slips, std::string_view between) {
    std::string text;
    for (const std::string& slip : slips) text += (text.empty() ? "" : std::string(between)) + slip;
    return text;
}

bool says_yes(std::istream& in) {
    std::string line;
    return std::getline(in, line) && (line == "y" || line == "Y" || line == "yes" || line == "Yes");
}

}  // namespace

base::Result<void> ask_about(const session::Slips& slips, const Arguments& arguments, const Door& door) {
    if (slips.empty() || arguments.has("--insist")) return {};
    if (door.ask == nullptr)
        return base::fail(base::Grade::bad_data, fmt::format("{} If it is meant, add --insist", all_of(slips, " ")));
    *door.ask << printable(wrapped(all_of(slips, "\n"), 100)) << "\nIs that meant? [y/N] " << std::flush;
    if (says_yes(door.in)) return {};
    return base::fail(base::Grade::bad_data, "nothing was worked out; put it right and ask again");
}

}  // namespace offsquare::cli
