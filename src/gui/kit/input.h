// Keys, and the queue between the window system and ImGui. No window library here: tests feed it directly.
#pragma once

#include <imgui.h>

#include <cstddef>
#include <deque>
#include <string>
#include <string_view>

namespace offsquare::gui {

/// Keys by meaning; the value is the index in ImGui's KeysDown. Letters and signs that are typed come as text
/// (`typed`), these codes serve editing and Ctrl shortcuts.
enum class Key : int {
    unknown = 0,
    tab,
    left,
    right,
    up,
    down,
    page_up,
    page_down,
    home,
    end,
    insert,
    del,
    backspace,
    space,
    enter,
    escape,
    keypad_enter,
    f1,
    f2,
    f3,
    f4,
    f5,
    f6,
    f7,
    f8,
    f9,
    f10,
    f11,
    f12,
    a,
    b,
    c,
    d,
    e,
    f,
    g,
    h,
    i,
    j,
    k,
    l,
    m,
    n,
    o,
    p,
    q,
    r,
    s,
    t,
    u,
    v,
    w,
    x,
    y,
    z,
    n0,
    n1,
    n2,
    n3,
    n4,
    n5,
    n6,
    n7,
    n8,
    n9,
    plus,
    minus,
    count
};

struct Modifiers {
    bool ctrl = false;
    bool shift = false;
    bool alt = false;
    friend bool operator==(Modifiers, Modifiers) = default;
};

struct InputEvent {
    enum class Kind { mouse_move, mouse_button, wheel, key, text, focus_lost, mouse_left };
    Kind kind = Kind::mouse_move;
    float x = 0.0F;     ///< mouse_move: pixels; wheel: sideways
    float y = 0.0F;     ///< mouse_move: pixels; wheel: up is positive
    int button = 0;     ///< mouse_button: 0 left, 1 right, 2 middle
    bool down = false;  ///< mouse_button, key
    Key key = Key::unknown;
    Modifiers mods;          ///< key, mouse_button
    char32_t character = 0;  ///< text
};

/// Hands events to ImGui so that none is lost: per frame at most one edge of each button and key, no move after a
/// button's edge, no letting go in the frame of a drag, text and editing keys in the order typed. The rest waits for
/// the next frame. A held letter repeats at ImGui's own delay and rate (the window system's repeat is off).
class InputQueue {
public:
    void push(const InputEvent& event);
    /// Before ImGui::NewFrame. `io.DeltaTime` must be set.
    void feed(ImGuiIO& io);
    /// After feed: a modifier that was let go outside the window would stay down for ever. `now`: those that fingers
    /// are on at this moment. A key that went down in this frame keeps the modifiers it went down with: until a slow
    /// frame comes to it the fingers may be up, and Ctrl+Z would be a mere Z.
    void let_go_of_modifiers(ImGuiIO& io, Modifiers now) const;
    /// Whether another frame is needed at once: events wait, or a key or button is held.
    bool busy(const ImGuiIO& io) const;
    bool waiting() const { return !events_.empty(); }
    /// How many edges of keys and buttons frames have been given so far.
    std::size_t edges_given() const { return edges_given_; }

private:
    struct Frame;
    bool accept(const InputEvent& event, const Frame& frame) const;
    void give(const InputEvent& event, Frame& frame, ImGuiIO& io);
    void repeat_text(ImGuiIO& io);

    std::deque<InputEvent> events_;
    char32_t held_text_ = 0;
    Key held_key_ = Key::unknown;
    Key last_key_ = Key::unknown;
    float held_for_ = 0.0F;
    bool key_went_down_ = false;  ///< in the last frame that was fed
    std::size_t edges_given_ = 0;
};

/// A hand that types goes on for a moment when the sheet that it typed into has gone. Those letters are meant for
/// nobody: they are taken away before anything can take them for commands.
class TypingOn {
public:
    /// Once a frame, after ImGui::NewFrame. `sheet`: one stands above the page. A text field gets its letters all the
    /// same.
    void frame(ImGuiIO& io, bool sheet);

private:
    float left_s_ = 0.0F;
};

/// Tells ImGui which indices the editing keys have.
void map_keys(ImGuiIO& io);

/// True once when the character was typed in this frame and no text field has the keyboard, no Ctrl or Alt is held, and
/// no sheet stands above the window being drawn. Letters match in either case. This is how "or press R" is done. (Space
/// and Enter belong to the focused control.)
bool typed(char32_t character);
/// A code key pressed in this frame with exactly these modifiers (repeats while held if `repeat`); same conditions
/// about sheets. Text fields do not hide it when Ctrl is held or it is a function key, so do not take Ctrl+A, C, V, X,
/// Y, Z here without asking `text_field_active()`.
bool pressed(Key key, Modifiers mods = {}, bool repeat = false);
/// Whether the key is down, under the same conditions as a character that is typed.
bool held(Key key);
bool ends_now();  ///< Ctrl+Q, wherever the keyboard is: in a field and on a sheet, too
bool text_field_active();
void leave_field();  ///< as Tab does: what was typed in it is taken in this frame
/// A sheet stands above the window being drawn: its content must not react to shortcuts.
bool under_a_sheet();

/// One stands above the page.
bool a_sheet_stands();

std::u32string decoded(std::string_view utf8);  ///< U+FFFD for bad bytes

/// A sheet or a list stands open, or did a moment ago: ImGui closes one a frame after it was told to, and takes the
/// keyboard with it.
bool a_popup_is_open();

}  // namespace offsquare::gui
