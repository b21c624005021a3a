#include "gui/tell.h"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <initializer_list>
#include <utility>

#include <fmt/format.h>

namespace offsquare::gui {
namespace {

constexpr std::array<const char*, 15> kinds{"card",   "button", "chip",    "step",     "field",
                                            "slider", "choice", "text",    "error",    "row",
                                            "sheet",  "toast",  "tooltip", "list_row", "other"};

/// A label may hold a line break; a line of the file may not.
std::string one_line(std::string text) {
    for (char& c : text) {
        if (c == '\t' || c == '\n') c = ' ';
    }
    return text;
}

std::string states(std::initializer_list<std::pair<bool, const char*>> words) {
    std::string text;
    for (const auto& [applies, word] : words) {
        if (applies) text += (text.empty() ? "" : ",") + std::string(word);
    }
    return text.empty() ? "-" : text;
}

std::string states_of(const Drawn& d) {
    return states({{!d.enabled, "off"}, {!d.visible, "unseen"}, {d.focused, "focused"}, {d.selected, "selected"}});
}

}  // namespace

std::string as_lines(const Record& record) {
    std::string text;
    for (const Drawn& d : record.items()) {
        text += fmt::format("{}\t{}\t{}\t{:.0f}\t{:.0f}\t{}\n", kinds.at(static_cast<std::size_t>(d.kind)),
                            one_line(d.label), one_line(d.value), (d.lo.x + d.hi.x) / 2.0F, (d.lo.y + d.hi.y) / 2.0F,
                            states_of(d));
    }
    return text;
}

std::string as_line(const Pulse& pulse) {
    return fmt::format("window\t{}\t{}\t0\t0\t{}\n", pulse.frames, pulse.edges,
                       states({{pulse.settled, "settled"}, {pulse.at_rest, "rest"}, {pulse.focused, "focused"}}));
}

Tell::Tell() {
    const char* path = std::getenv("OFFSQUARE_TELL");
    if (path != nullptr) path_ = path;
}

void Tell::operator()(const Record& record, const Pulse& pulse) {
    if (path_.empty() || pulse == last_) return;
    // Renamed when whole: who reads it never sees half a frame.
    const std::string part = path_ + ".part";
    if (!(std::ofstream(part, std::ios::binary) << as_line(pulse) << as_lines(record)).flush()) return;
    if (std::rename(part.c_str(), path_.c_str()) == 0) last_ = pulse;
}

}  // namespace offsquare::gui
