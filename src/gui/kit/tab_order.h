// Tab through every control. ImGui 1.86 stops Tab only at text fields, and from any other control starts again at the
// first; so the kit keeps the order itself.
#pragma once

#include <imgui.h>

#include <vector>

namespace offsquare::gui {

/// The controls in the order drawn. A sheet above the page leaves only its own.
class TabOrder {
public:
    /// Once after ImGui::NewFrame: takes Tab and Shift+Tab, and chooses the control that gets the keyboard in this
    /// frame.
    void begin_frame();
    /// A control that can have the keyboard is being drawn; true if it is the chosen one.
    bool visit(ImGuiID id);
    /// In the next frame as if Tab had been pressed.
    void go_on() { goes_on_ = true; }
    /// The next control that is drawn is the chosen one.
    void choose_next() { chooses_next_ = true; }

private:
    std::vector<ImGuiID> last_;  ///< of the frame before
    std::vector<ImGuiID> now_;
    ImGuiID wanted_ = 0;
    bool goes_on_ = false, chooses_next_ = false;
};

}  // namespace offsquare::gui
