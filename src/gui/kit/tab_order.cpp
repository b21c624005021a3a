#include "gui/kit/tab_order.h"

#include <imgui_internal.h>

#include <algorithm>
#include <utility>

#include "gui/kit/input.h"

namespace offsquare::gui {
namespace {

/// The neighbour of `from` in the ring of controls; the first (or last) if `from` is not among them.
ImGuiID neighbour(const std::vector<ImGuiID>& order, ImGuiID from, bool backwards) {
    if (order.empty()) return 0;
    const auto it = std::find(order.begin(), order.end(), from);
    if (it == order.end()) return backwards ? order.back() : order.front();
    if (backwards) return it == order.begin() ? order.back() : *std::prev(it);
    return std::next(it) == order.end() ? order.front() : *std::next(it);
}

}  // namespace

void TabOrder::begin_frame() {
    std::swap(last_, now_);
    now_.clear();
    wanted_ = 0;
    const ImGuiIO& io = ImGui::GetIO();
    chooses_next_ = false;
    const bool goes_on = std::exchange(goes_on_, false);
    const bool tab = !io.KeyCtrl && !io.KeyAlt && ImGui::IsKeyPressed(static_cast<int>(Key::tab), true);
    if (!goes_on && !tab) return;
    wanted_ = neighbour(last_, ImGui::GetFocusID(), tab && io.KeyShift);
    if (wanted_ != 0) ImGui::ClearActiveID();  // a field that is being typed in is left, which commits it
}

bool TabOrder::visit(ImGuiID id) {
    if (under_a_sheet()) return false;
    now_.push_back(id);
    return std::exchange(chooses_next_, false) || id == wanted_;
}

}  // namespace offsquare::gui
