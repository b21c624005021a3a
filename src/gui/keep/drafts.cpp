#include "gui/keep/drafts.h"

#include <array>

#include <fmt/format.h>

#include "base/folders.h"
#include "base/read.h"
#include "base/save.h"

namespace offsquare::gui {
namespace {

constexpr base::Wanted wanted_drafts{"a file of offsquare's own", "far end = 12.1", std::size_t{64} << 10U};
constexpr double rest_before_writing_s = 1.0;

void add_line(std::string& to, std::string_view key, std::string_view value) {
    if (!value.empty()) to += fmt::format("{} = {}\n", key, value);
}

std::string block(const std::string& sled, const StripDraft& d) {
    std::string text = fmt::format("sled = {}\n", sled);
    for (std::size_t i = 0; i < most_repeats; ++i) {
        add_line(text, fmt::format("far end {}", i + 1), d.far_end.at(i));
        add_line(text, fmt::format("fence end {}", i + 1), d.fence_end.at(i));
    }
    add_line(text, "between", d.between);
    add_line(text, "span", d.span);
    if (d.fell) add_line(text, "fell", *d.fell == shop::Side::left ? "left" : "right");
    if (d.marked) add_line(text, "marked", *d.marked ? "yes" : "no");
    if (d.brushed) add_line(text, "brushed", "yes");
    if (d.date) add_line(text, "date", saws::iso(*d.date));
    if (d.corrects) add_line(text, "corrects", std::to_string(*d.corrects));
    return text;
}

void take_line(StripDraft& d, std::string_view key, const std::string& value) {
    for (std::size_t i = 0; i < most_repeats; ++i) {
        if (key == fmt::format("far end {}", i + 1)) d.far_end.at(i) = value;
        if (key == fmt::format("fence end {}", i + 1)) d.fence_end.at(i) = value;
    }
    if (key == "between") d.between = value;
    if (key == "span") d.span = value;
    if (key == "fell") d.fell = value == "left" ? shop::Side::left : shop::Side::right;
    if (key == "marked") d.marked = value == "yes";
    if (key == "brushed") d.brushed = value == "yes";
    if (key == "date") {
        if (const auto date = saws::parse_date(value)) d.date = *date;
    }
    if (key == "corrects") {
        if (const auto number = base::parse_number(value)) d.corrects = static_cast<int>(*number);
    }
}

/// Only what somebody has typed.
Drafts typed_ones(const Drafts& all) {
    Drafts typed;
    for (const auto& [sled, draft] : all) {
        if (!draft.untouched()) typed.emplace(sled, draft);
    }
    return typed;
}

}  // namespace

std::string drafts_text(const Drafts& drafts) {
    std::string text;
    for (const auto& [sled, draft] : drafts) text += block(sled, draft);
    return text;
}

Drafts drafts_from(std::string_view text) {
    Drafts drafts;
    StripDraft* open = nullptr;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view line = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        const std::size_t at = line.find(" = ");
        if (at == std::string_view::npos) continue;
        const std::string value(line.substr(at + 3));
        if (line.substr(0, at) == "sled") open = &drafts[value];
        else if (open != nullptr) take_line(*open, line.substr(0, at), value);
    }
    return drafts;
}

DraftKeep::DraftKeep(const std::filesystem::path& state_folder)
    : file_(state_folder.empty() ? state_folder : state_folder / "strips") {
    if (file_.empty()) return;
    if (const auto text = base::read_file(file_.string(), "strips", wanted_drafts)) kept_ = drafts_from(*text);
    seen_ = kept_;
}

void DraftKeep::follow(const Drafts& drafts, double now_s, bool at_once) {
    const Drafts typed = typed_ones(drafts);
    if (typed != seen_) {
        seen_ = typed;
        changed_s_ = now_s;
    }
    // A strip that has gone into the log must not come back from here.
    const bool written = seen_.size() < kept_.size();
    const bool rests = now_s - changed_s_ >= rest_before_writing_s;
    if (file_.empty() || seen_ == kept_ || (!at_once && !written && !rests)) return;
    kept_ = seen_;
    // What cannot be kept is said where entries are: a half typed strip is not worth another word.
    if (base::make_folder(file_.parent_path()))
        static_cast<void>(base::save(file_.string(), drafts_text(kept_), base::Old::drop));
}

}  // namespace offsquare::gui
