#include <doctest/doctest.h>

#include <string>

#include "kit_support.h"

using namespace offsquare::gui;

namespace {

InputEvent button_event(bool down) {
    InputEvent event;
    event.kind = InputEvent::Kind::mouse_button;
    event.down = down;
    return event;
}

InputEvent move_event(float x, float y) {
    InputEvent event;
    event.kind = InputEvent::Kind::mouse_move;
    event.x = x;
    event.y = y;
    return event;
}

InputEvent key_edge(Key key, bool down) {
    InputEvent event;
    event.kind = InputEvent::Kind::key;
    event.key = key;
    event.down = down;
    return event;
}

InputEvent text_event(char32_t c) {
    InputEvent event;
    event.kind = InputEvent::Kind::text;
    event.character = c;
    return event;
}

/// What a frame leaves behind is taken away by ImGui at its end.
void end_frame(ImGuiIO& io) { io.ClearInputCharacters(); }

bool key_down(const ImGuiIO& io, Key key) { return io.KeysDown[static_cast<int>(key)]; }

}  // namespace

TEST_CASE("queue: a press and a release that come together are seen in two frames") {
    ImGuiIO io;
    InputQueue queue;
    queue.push(button_event(true));
    queue.push(button_event(false));
    queue.feed(io);
    CHECK(io.MouseDown[0]);
    CHECK(queue.waiting());
    queue.feed(io);
    CHECK_FALSE(io.MouseDown[0]);
    CHECK_FALSE(queue.waiting());
}

TEST_CASE("queue: a double click of four edges takes four frames, in order") {
    ImGuiIO io;
    InputQueue queue;
    for (const bool down : {true, false, true, false}) queue.push(button_event(down));
    for (const bool down : {true, false, true, false}) {
        queue.feed(io);
        CHECK(io.MouseDown[0] == down);
    }
}

TEST_CASE("queue: a press happens where the mouse was, not where it went afterwards") {
    ImGuiIO io;
    InputQueue queue;
    queue.push(move_event(10.0F, 10.0F));
    queue.push(button_event(true));
    queue.push(move_event(90.0F, 90.0F));
    queue.push(button_event(false));
    queue.feed(io);
    CHECK(io.MousePos.x == 10.0F);
    CHECK(io.MouseDown[0]);
    queue.feed(io);
    CHECK(io.MousePos.x == 90.0F);
    queue.feed(io);  // one frame later, so that the drag is seen: the case below
    CHECK(io.MousePos.x == 90.0F);
    CHECK_FALSE(io.MouseDown[0]);
}

TEST_CASE("queue: a drag quicker than a frame is seen where it went with the button down; a click is not slowed") {
    ImGuiIO io;
    InputQueue queue;
    for (const InputEvent& event : {move_event(10, 10), button_event(true), move_event(10, 40), button_event(false)})
        queue.push(event);
    queue.feed(io);
    CHECK(io.MouseDown[0]);
    CHECK(io.MousePos.y == 10.0F);
    queue.feed(io);
    CHECK(io.MouseDown[0]);
    CHECK(io.MousePos.y == 40.0F);
    queue.feed(io);
    CHECK_FALSE(io.MouseDown[0]);
    CHECK_FALSE(queue.waiting());
    // The window system tells the place again with each edge.
    for (const InputEvent& event : {move_event(10, 40), button_event(true), move_event(10, 40), button_event(false)})
        queue.push(event);
    queue.feed(io);
    queue.feed(io);
    CHECK_FALSE(queue.waiting());
}

TEST_CASE("queue: a key's two edges are seen in two frames, two keys may share one") {
    ImGuiIO io;
    InputQueue queue;
    queue.push(key_edge(Key::a, true));
    queue.push(key_edge(Key::b, true));
    queue.push(key_edge(Key::a, false));
    queue.feed(io);
    CHECK(key_down(io, Key::a));
    CHECK(key_down(io, Key::b));
    queue.feed(io);
    CHECK_FALSE(key_down(io, Key::a));
    CHECK(key_down(io, Key::b));
}

TEST_CASE("queue: control characters are not text") {
    ImGuiIO io;
    InputQueue queue;
    for (const char32_t c : {U'\b', U'\t', U'\r', U'\x1B', U'\x7F', U'x'}) queue.push(text_event(c));
    queue.feed(io);
    REQUIRE(io.InputQueueCharacters.Size == 1);
    CHECK(io.InputQueueCharacters[0] == 'x');
}

TEST_CASE("queue: an editing key does not overtake the text before it, nor text the key") {
    ImGuiIO io;
    InputQueue queue;
    queue.push(text_event(U'a'));
    queue.push(key_edge(Key::backspace, true));
    queue.push(text_event(U'b'));
    queue.feed(io);
    CHECK(io.InputQueueCharacters.Size == 1);
    CHECK_FALSE(key_down(io, Key::backspace));
    end_frame(io);
    queue.feed(io);
    CHECK(key_down(io, Key::backspace));
    CHECK(io.InputQueueCharacters.Size == 0);
    end_frame(io);
    queue.feed(io);
    REQUIRE(io.InputQueueCharacters.Size == 1);
    CHECK(io.InputQueueCharacters[0] == 'b');
}

TEST_CASE("queue: losing the focus lets every key and button go") {
    ImGuiIO io;
    InputQueue queue;
    queue.push(key_edge(Key::c, true));
    queue.push(button_event(true));
    queue.feed(io);
    CHECK(queue.busy(io));
    InputEvent lost;
    lost.kind = InputEvent::Kind::focus_lost;
    queue.push(lost);
    queue.feed(io);
    CHECK_FALSE(key_down(io, Key::c));
    CHECK_FALSE(io.MouseDown[0]);
    CHECK_FALSE(queue.busy(io));
}

TEST_CASE("queue: a key pressed with Ctrl keeps it though the fingers are up when a slow frame comes to it") {
    ImGuiIO io;
    InputQueue queue;
    InputEvent z = key_edge(Key::z, true);
    z.mods.ctrl = true;
    queue.push(z);
    queue.feed(io);
    queue.let_go_of_modifiers(io, {});  // fingers are up already, but the window was not told so yet
    CHECK(io.KeyCtrl);
    CHECK(key_down(io, Key::z));
    z.down = false;
    queue.push(z);
    queue.feed(io);
    queue.let_go_of_modifiers(io, {});
    CHECK_FALSE(io.KeyCtrl);
}

TEST_CASE("queue: a modifier let go outside the window does not stay down; one that is held does") {
    ImGuiIO io;
    InputQueue queue;
    InputEvent z = key_edge(Key::z, true);
    z.mods = {true, true, true};
    queue.push(z);
    queue.feed(io);
    queue.feed(io);
    queue.let_go_of_modifiers(io, {false, true, false});
    CHECK(io.KeyShift);
    queue.let_go_of_modifiers(io, {});
    CHECK_FALSE(io.KeyCtrl);
    CHECK_FALSE(io.KeyShift);
    CHECK_FALSE(io.KeyAlt);
}

TEST_CASE("queue: it counts the edges of keys and buttons that frames were given, not those that wait") {
    ImGuiIO io;
    InputQueue queue;
    for (const InputEvent& event :
         {move_event(1, 1), button_event(true), button_event(false), key_edge(Key::a, true), text_event(U'a')})
        queue.push(event);
    CHECK(queue.edges_given() == 0);
    queue.feed(io);  // the button down; its letting go waits, and all that follows
    CHECK(queue.edges_given() == 1);
    queue.feed(io);
    CHECK(queue.edges_given() == 3);
}

TEST_CASE("letters typed on after a sheet has gone are taken away, and the key that types them is not held") {
    ImGuiIO io;
    io.DeltaTime = 0.1F;
    TypingOn typing_on;
    const auto letter_comes_through = [&](char32_t c, bool sheet = false) {
        io.AddInputCharacter(c);
        io.KeysDown[static_cast<int>(Key::f)] = true;
        typing_on.frame(io, sheet);
        const bool through = io.InputQueueCharacters.Size == 1;
        CHECK(key_down(io, Key::f) == through);
        end_frame(io);
        return through;
    };
    const auto wait = [&](int frames) {
        for (int i = 0; i < frames; ++i) typing_on.frame(io, false);
    };
    CHECK(letter_comes_through(U'n'));
    CHECK(letter_comes_through(U'n', true));  // a sheet's own field gets it
    CHECK_FALSE(letter_comes_through(U'a'));
    CHECK_FALSE(letter_comes_through(U't'));
    wait(5);
    CHECK(letter_comes_through(U'n'));
    // A hand that goes on typing for longer than the first moment.
    typing_on.frame(io, true);
    for (int i = 0; i < 12; ++i) CHECK_FALSE(letter_comes_through(U's'));
    wait(3);
    CHECK(letter_comes_through(U'n'));
    // Ctrl+Z is no letter, and a field that opens meanwhile is typed into.
    typing_on.frame(io, true);
    io.KeyCtrl = true;
    io.KeysDown[static_cast<int>(Key::z)] = true;
    typing_on.frame(io, false);
    CHECK(key_down(io, Key::z));
    io.KeyCtrl = false;
    io.WantTextInput = true;
    CHECK(letter_comes_through(U'x'));
}

TEST_CASE("text: UTF-8 is told apart, letter by letter") {
    CHECK(decoded("0,4 µm ″ ½ −") == U"0,4 µm ″ ½ −");
    CHECK(decoded("a\xffz") == U"a\uFFFDz");
}

TEST_CASE("typing fast into a field loses and reorders nothing") {
    std::string text;
    Headless window(kit_test::small_window());
    window.frame([&](Kit& kit) {
        page_begin(kit, "page");
        text_field(kit, "Name", text);
        page_end(kit);
    });
    REQUIRE(window.click("Name"));
    window.type("15 3/8 in");
    window.key(Key::backspace);
    window.key(Key::backspace);
    window.type("″");
    window.key(Key::enter);
    CHECK(text == "15 3/8 ″");
}
