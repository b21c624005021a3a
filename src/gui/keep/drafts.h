// Strips that are half typed, kept between starts: $XDG_STATE_HOME/offsquare/strips, `key = value` lines, a block for
// each sled. No ImGui here. Reading never fails: what cannot be understood is as if it were not there.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>

#include "gui/state/my_strip.h"

namespace offsquare::gui {

using Drafts = std::map<std::string, StripDraft>;  ///< by the name of the sled

std::string drafts_text(const Drafts& drafts);
Drafts drafts_from(std::string_view text);

/// The file, written when what is typed has changed and the hand has rested.
class DraftKeep {
public:
    explicit DraftKeep(const std::filesystem::path& state_folder);
    const Drafts& found() const { return kept_; }  ///< of the start before
    /// Once a turn of the window. `now_s`: a clock that only goes on; `at_once`: the window is closing.
    void follow(const Drafts& drafts, double now_s, bool at_once = false);

private:
    std::filesystem::path file_;  ///< empty: nowhere
    Drafts kept_, seen_;
    double changed_s_ = 0.0;
};

}  // namespace offsquare::gui
