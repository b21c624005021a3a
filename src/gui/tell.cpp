#include "gui/tell.h"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>

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

std::string states_of(const Drawn& d) {
    std::string states;
    for (const auto& [applies, word] :
         {std::pair{!d.enabled, "off"}, {!d.visible, "unseen"}, {d.focused, "focused"}, {d.selected, "selected"}}) {
        if (applies) states += (states.empty() ? "" : ",") + std::string(word);
    }
    return states.empty() ? "-" : states;
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

Tell::Tell() {
    const char* path = std::getenv("OFFSQUARE_TELL");
    if (path != nullptr) path_ = path;
}

void Tell::operator()(const Record& record) {
    if (path_.empty()) return;
    std::string now = as_lines(record);
    if (now == last_) return;
    // Renamed when whole: who reads it never sees half a frame.
    const std::string part = path_ + ".part";
    if (!(std::ofstream(part, std::ios::binary) << now).flush()) return;
    if (std::rename(part.c_str(), path_.c_str()) == 0) last_ = std::move(now);
}

}  // namespace offsquare::gui
