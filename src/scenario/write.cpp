// A scenario as a file that a person can read: sections in the order of the list, each value with its meaning.
#include <fmt/format.h>

#include "scenario/value.h"

namespace offsquare::scenario {
namespace {

constexpr std::size_t meaning_column = 34;

std::string section_of(const Entry& e) {
    return e.key.find('.') == std::string_view::npos ? std::string() : std::string(e.key.substr(0, e.key.find('.')));
}

std::string line_of(const Scenario& s, Found at) {
    const std::string_view key = at.entry->key;
    const std::string line = fmt::format("{} = {}", key.substr(key.rfind('.') + 1), file_text_at(s, at, s.units));
    return fmt::format("{:<{}}  # {}\n", line, meaning_column, at.entry->meaning);
}

std::string section_text(const Scenario& s, const std::string& section, std::size_t row) {
    std::string out;
    for (const Entry& e : schema()) {
        if (section_of(e) == section) out += line_of(s, {&e, row});
    }
    return out;
}

std::string drawer_text(const Scenario& s) {
    std::string out;
    for (std::size_t row = 0; row < s.drawing.drawer.size(); ++row)
        out += "\n[[drawer]]\n" + section_text(s, "drawer", row);
    return out;
}

}  // namespace

std::string to_text(const Scenario& s) {
    const std::string unit = s.units == base::Units::metric ? "mm" : "inches";
    std::string out = "# A scenario of offsquare. Bare lengths are in " + unit +
                      ", bare angles in mrad; quotes allow any unit: \"3/8 in\", \"0.02 deg\".\n";
    out += section_text(s, "", 0);
    std::string last;
    for (const Entry& e : schema()) {
        const std::string section = section_of(e);
        if (section == last || section.empty()) continue;
        last = section;
        out += section == "drawer" ? drawer_text(s) : "\n[" + section + "]\n" + section_text(s, section, 0);
    }
    return out;
}

}  // namespace offsquare::scenario
