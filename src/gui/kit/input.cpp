#include "gui/kit/input.h"

#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <cfloat>

namespace offsquare::gui {
namespace {

constexpr std::size_t at(Key key) { return static_cast<std::size_t>(key); }

/// Keys that edit or move; text must not overtake them.
bool edits(Key key) { return key >= Key::tab && key <= Key::keypad_enter && key != Key::space; }

bool letter(char32_t c) { return (c >= U'a' && c <= U'z') || (c >= U'A' && c <= U'Z'); }

char32_t lower(char32_t c) { return c >= U'A' && c <= U'Z' ? c + (U'a' - U'A') : c; }

bool same_letter(char32_t a, char32_t b) { return a == b || (letter(a) && letter(b) && lower(a) == lower(b)); }

}  // namespace

/// What has happened already within one frame.
struct InputQueue::Frame {
    std::array<bool, 5> button_edge{};
    std::array<bool, at(Key::count)> key_edge{};
    bool any_button_edge = false;
    bool dragged = false;  ///< the mouse moved while a button was down
    bool editing_key = false;
    bool text = false;
    bool any_key_edge = false;
};

void InputQueue::push(const InputEvent& event) {
    // Many moves between two frames: only the last place counts.
    const bool move = event.kind == InputEvent::Kind::mouse_move;
    if (move && !events_.empty() && events_.back().kind == InputEvent::Kind::mouse_move) events_.back() = event;
    else events_.push_back(event);
}

bool InputQueue::accept(const InputEvent& event, const Frame& frame) const {
    switch (event.kind) {
        case InputEvent::Kind::mouse_move:
        case InputEvent::Kind::mouse_left: return !frame.any_button_edge;
        case InputEvent::Kind::mouse_button:
            // Let go in the frame of the move, ImGui would never see the button down where it was dragged to: a quick
            // drag would be lost.
            return !frame.button_edge.at(static_cast<std::size_t>(event.button)) && (event.down || !frame.dragged);
        case InputEvent::Kind::wheel: return true;
        case InputEvent::Kind::key:
            if (frame.key_edge.at(at(event.key))) return false;
            return !(edits(event.key) && event.down && (frame.text || frame.any_key_edge));
        case InputEvent::Kind::text: return !frame.editing_key;
        case InputEvent::Kind::focus_lost: return !frame.any_key_edge && !frame.any_button_edge;
    }
    return true;
}

void InputQueue::give(const InputEvent& event, Frame& frame, ImGuiIO& io) {
    switch (event.kind) {
        case InputEvent::Kind::mouse_move:
            frame.dragged =
                frame.dragged || (io.MouseDown[0] && (io.MousePos.x != event.x || io.MousePos.y != event.y));
            io.MousePos = {event.x, event.y};
            break;
        case InputEvent::Kind::mouse_left: io.MousePos = {-FLT_MAX, -FLT_MAX}; break;
        case InputEvent::Kind::mouse_button:
            io.MouseDown[event.button] = event.down;
            frame.button_edge.at(static_cast<std::size_t>(event.button)) = true;
            frame.any_button_edge = true;
            ++edges_given_;
            break;
        case InputEvent::Kind::wheel:
            io.MouseWheel += event.y;
            io.MouseWheelH += event.x;
            break;
        case InputEvent::Kind::key:
            io.KeysDown[at(event.key)] = event.down;
            io.KeyCtrl = event.mods.ctrl;
            io.KeyShift = event.mods.shift;
            io.KeyAlt = event.mods.alt;
            frame.key_edge.at(at(event.key)) = true;
            ++edges_given_;
            if (event.down) {
                frame.any_key_edge = true;
                frame.editing_key = frame.editing_key || edits(event.key);
                last_key_ = event.key;
            }
            held_text_ = 0;
            break;
        case InputEvent::Kind::text:
            if (event.character < 0x20 || event.character == 0x7F) break;
            io.AddInputCharacter(event.character);
            frame.text = true;
            held_text_ = event.character;
            held_key_ = last_key_;
            held_for_ = 0.0F;
            break;
        case InputEvent::Kind::focus_lost:
            for (bool& down : io.KeysDown) down = false;
            for (bool& down : io.MouseDown) down = false;
            io.KeyCtrl = io.KeyShift = io.KeyAlt = io.KeySuper = false;
            io.AddFocusEvent(false);
            held_text_ = 0;
            break;
    }
}

void InputQueue::feed(ImGuiIO& io) {
    Frame frame;
    while (!events_.empty() && accept(events_.front(), frame)) {
        give(events_.front(), frame, io);
        events_.pop_front();
    }
    key_went_down_ = frame.any_key_edge;
    if (!frame.text) repeat_text(io);
}

void InputQueue::let_go_of_modifiers(ImGuiIO& io, Modifiers now) const {
    if (key_went_down_ || waiting() || now != Modifiers{}) return;
    io.KeyCtrl = io.KeyShift = io.KeyAlt = false;
}

void InputQueue::repeat_text(ImGuiIO& io) {
    if (held_text_ == 0 || held_key_ == Key::unknown || !io.KeysDown[at(held_key_)]) return;
    const float before = held_for_;
    held_for_ += io.DeltaTime;
    const int times = ImGui::CalcTypematicRepeatAmount(before, held_for_, io.KeyRepeatDelay, io.KeyRepeatRate);
    // A shortcut must not fire again because a finger rests on the key: only text fields get repeats.
    for (int i = 0; i < times && io.WantTextInput; ++i) io.AddInputCharacter(held_text_);
}

bool InputQueue::busy(const ImGuiIO& io) const {
    if (!events_.empty()) return true;
    for (const bool down : io.MouseDown) {
        if (down) return true;
    }
    for (const bool down : io.KeysDown) {
        if (down) return true;
    }
    return false;
}

void TypingOn::frame(ImGuiIO& io, bool sheet) {
    constexpr float after_sheet_s = 0.5F;
    constexpr float between_letters_s =
        0.25F;  // who types quickly goes on; who wants a command waits to see the sheet go
    if (sheet) {
        left_s_ = after_sheet_s;
        return;
    }
    left_s_ = std::max(0.0F, left_s_ - io.DeltaTime);
    if (left_s_ <= 0.0F || io.WantTextInput) return;
    if (!io.InputQueueCharacters.empty()) left_s_ = std::max(left_s_, between_letters_s);
    io.ClearInputCharacters();
    if (io.KeyCtrl || io.KeyAlt) return;
    for (std::size_t key = at(Key::a); key <= at(Key::z); ++key) io.KeysDown[key] = false;
}

void map_keys(ImGuiIO& io) {
    constexpr std::array<std::pair<ImGuiKey_, Key>, 22> pairs{{
        {ImGuiKey_Tab, Key::tab},
        {ImGuiKey_LeftArrow, Key::left},
        {ImGuiKey_RightArrow, Key::right},
        {ImGuiKey_UpArrow, Key::up},
        {ImGuiKey_DownArrow, Key::down},
        {ImGuiKey_PageUp, Key::page_up},
        {ImGuiKey_PageDown, Key::page_down},
        {ImGuiKey_Home, Key::home},
        {ImGuiKey_End, Key::end},
        {ImGuiKey_Insert, Key::insert},
        {ImGuiKey_Delete, Key::del},
        {ImGuiKey_Backspace, Key::backspace},
        {ImGuiKey_Space, Key::space},
        {ImGuiKey_Enter, Key::enter},
        {ImGuiKey_Escape, Key::escape},
        {ImGuiKey_KeyPadEnter, Key::keypad_enter},
        {ImGuiKey_A, Key::a},
        {ImGuiKey_C, Key::c},
        {ImGuiKey_V, Key::v},
        {ImGuiKey_X, Key::x},
        {ImGuiKey_Y, Key::y},
        {ImGuiKey_Z, Key::z},
    }};
    for (const auto& [theirs, ours] : pairs) io.KeyMap[theirs] = static_cast<int>(ours);
}

bool text_field_active() { return ImGui::GetIO().WantTextInput; }

void leave_field() {
    if (text_field_active()) ImGui::ClearActiveID();
}

bool under_a_sheet() {
    const ImGuiWindow* sheet = ImGui::GetTopMostPopupModal();
    if (sheet == nullptr) return false;
    const ImGuiWindow* here = ImGui::GetCurrentWindowRead();
    return here == nullptr || here->RootWindow != sheet->RootWindow;
}

bool a_sheet_stands() { return ImGui::GetTopMostPopupModal() != nullptr; }

bool typed(char32_t character) {
    const ImGuiIO& io = ImGui::GetIO();
    if (io.WantTextInput || io.KeyCtrl || io.KeyAlt || under_a_sheet()) return false;
    for (const ImWchar c : io.InputQueueCharacters) {
        if (same_letter(c, character)) return true;
    }
    return false;
}

bool pressed(Key key, Modifiers mods, bool repeat) {
    const ImGuiIO& io = ImGui::GetIO();
    if (Modifiers{io.KeyCtrl, io.KeyShift, io.KeyAlt} != mods || under_a_sheet()) return false;
    const bool function_key = key >= Key::f1 && key <= Key::f12;
    if (io.WantTextInput && !mods.ctrl && !function_key) return false;
    return ImGui::IsKeyPressed(static_cast<int>(key), repeat);
}

bool ends_now() {
    const ImGuiIO& io = ImGui::GetIO();
    return Modifiers{io.KeyCtrl, io.KeyShift, io.KeyAlt} == Modifiers{true, false, false} &&
           ImGui::IsKeyPressed(static_cast<int>(Key::q), false);
}

bool held(Key key) {
    const ImGuiIO& io = ImGui::GetIO();
    if (Modifiers{io.KeyCtrl, io.KeyShift, io.KeyAlt} != Modifiers{} || io.WantTextInput || under_a_sheet())
        return false;
    return ImGui::IsKeyDown(static_cast<int>(key));
}

std::u32string decoded(std::string_view utf8) {
    std::u32string out;
    const char* p = utf8.data();
    const char* end = p + utf8.size();
    while (p < end) {
        unsigned int c = 0;
        const int used = ImTextCharFromUtf8(&c, p, end);
        if (used <= 0) break;
        out.push_back(c);
        p += used;
    }
    return out;
}

bool a_popup_is_open() {
    return ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
}

}  // namespace offsquare::gui
