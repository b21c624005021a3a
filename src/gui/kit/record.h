// What was drawn in a frame, so that a test can read the window as a person would: by the words on it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <imgui.h>

namespace offsquare::gui {

enum class Kind {
    card,
    button,
    chip,
    step,
    field,
    slider,
    choice,
    text,
    error,
    row,
    sheet,
    toast,
    tooltip,
    list_row,
    other
};

/// What a hand or a key acts on.
bool is_pressed_or_typed_into(Kind kind);

struct Drawn {
    Kind kind = Kind::other;
    std::string label;  ///< the words on it
    std::string value;  ///< what stands in it: field text, slider value, the right side of a row
    ImVec2 lo, hi;      ///< pixels of the screen, as drawn
    bool enabled = true;
    bool selected = false;
    bool focused = false;  ///< has the visible keyboard focus
    bool cut = false;      ///< its words did not fit and end in an ellipsis
    bool visible = true;   ///< inside the clip rectangle, at least in part
    float em = 0.0F;       ///< size of its letters in pixels of the screen, where the one who drew it says so
    float stroke = 0.0F;   ///< a line of a picture: how thick, in pixels of the screen
};

/// One frame's list. The kit clears it at the start of a frame and adds to it while drawing.
class Record {
public:
    void clear() { items_.clear(); }
    void add(Drawn item) { items_.push_back(std::move(item)); }
    /// Says of the last thing whether its words were cut.
    void last_is_cut(bool cut) {
        if (!items_.empty()) items_.back().cut = cut;
    }
    const std::vector<Drawn>& items() const { return items_; }
    /// The first control or text with exactly this label; controls (button, chip, step, field, slider, choice,
    /// list_row) before texts. nullptr if none.
    const Drawn* find(std::string_view label) const;
    const Drawn* find(std::string_view label, Kind kind) const;
    /// Whether these words stand anywhere, as part of a label or a value.
    bool says(std::string_view words) const;
    const Drawn* focused() const;

private:
    std::vector<Drawn> items_;
};

}  // namespace offsquare::gui
