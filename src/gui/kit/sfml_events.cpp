#include "gui/kit/sfml_events.h"

namespace offsquare::gui {
namespace {

Key letter_or_digit(sf::Keyboard::Key key) {
    const auto shifted = [key](sf::Keyboard::Key from, Key to) {
        return static_cast<Key>(static_cast<int>(to) + (key - from));
    };
    if (key >= sf::Keyboard::A && key <= sf::Keyboard::Z) return shifted(sf::Keyboard::A, Key::a);
    if (key >= sf::Keyboard::Num0 && key <= sf::Keyboard::Num9) return shifted(sf::Keyboard::Num0, Key::n0);
    if (key >= sf::Keyboard::F1 && key <= sf::Keyboard::F12) return shifted(sf::Keyboard::F1, Key::f1);
    return Key::unknown;
}

Key key_of(sf::Keyboard::Key key) {
    switch (key) {
        case sf::Keyboard::Tab: return Key::tab;
        case sf::Keyboard::Left: return Key::left;
        case sf::Keyboard::Right: return Key::right;
        case sf::Keyboard::Up: return Key::up;
        case sf::Keyboard::Down: return Key::down;
        case sf::Keyboard::PageUp: return Key::page_up;
        case sf::Keyboard::PageDown: return Key::page_down;
        case sf::Keyboard::Home: return Key::home;
        case sf::Keyboard::End: return Key::end;
        case sf::Keyboard::Insert: return Key::insert;
        case sf::Keyboard::Delete: return Key::del;
        case sf::Keyboard::BackSpace: return Key::backspace;
        case sf::Keyboard::Space: return Key::space;
        case sf::Keyboard::Enter: return Key::enter;
        case sf::Keyboard::Escape: return Key::escape;
        case sf::Keyboard::Add:
        case sf::Keyboard::Equal: return Key::plus;
        case sf::Keyboard::Subtract:
        case sf::Keyboard::Hyphen: return Key::minus;
        default: return letter_or_digit(key);
    }
}

int button_of(sf::Mouse::Button button) {
    if (button == sf::Mouse::Left) return 0;
    if (button == sf::Mouse::Right) return 1;
    return button == sf::Mouse::Middle ? 2 : 3;
}

InputEvent key_event(const sf::Event::KeyEvent& key, bool down) {
    InputEvent out;
    out.kind = InputEvent::Kind::key;
    out.key = key_of(key.code);
    out.down = down;
    out.mods = {key.control, key.shift, key.alt};
    return out;
}

InputEvent at_place(InputEvent::Kind kind, int x, int y) {
    InputEvent out;
    out.kind = kind;
    out.x = static_cast<float>(x);
    out.y = static_cast<float>(y);
    return out;
}

void push_button(InputQueue& queue, const sf::Event::MouseButtonEvent& button, bool down) {
    // Where it happened comes first: without a move event before it the press would land at the old place.
    queue.push(at_place(InputEvent::Kind::mouse_move, button.x, button.y));
    InputEvent out;
    out.kind = InputEvent::Kind::mouse_button;
    out.button = button_of(button.button);
    out.down = down;
    queue.push(out);
}

void push_wheel(InputQueue& queue, const sf::Event::MouseWheelScrollEvent& wheel) {
    InputEvent out;
    out.kind = InputEvent::Kind::wheel;
    if (wheel.wheel == sf::Mouse::VerticalWheel) out.y = wheel.delta;
    else out.x = wheel.delta;
    queue.push(out);
}

void push_text(InputQueue& queue, sf::Uint32 unicode) {
    if (unicode < 0x20 || unicode == 0x7F) return;
    InputEvent out;
    out.kind = InputEvent::Kind::text;
    out.character = unicode;
    queue.push(out);
}

}  // namespace

void push_event(InputQueue& queue, const sf::Event& event) {
    switch (event.type) {
        case sf::Event::MouseMoved:
            queue.push(at_place(InputEvent::Kind::mouse_move, event.mouseMove.x, event.mouseMove.y));
            break;
        case sf::Event::MouseLeft: queue.push(at_place(InputEvent::Kind::mouse_left, 0, 0)); break;
        case sf::Event::MouseButtonPressed: push_button(queue, event.mouseButton, true); break;
        case sf::Event::MouseButtonReleased: push_button(queue, event.mouseButton, false); break;
        case sf::Event::MouseWheelScrolled: push_wheel(queue, event.mouseWheelScroll); break;
        case sf::Event::KeyPressed: queue.push(key_event(event.key, true)); break;
        case sf::Event::KeyReleased: queue.push(key_event(event.key, false)); break;
        case sf::Event::TextEntered: push_text(queue, event.text.unicode); break;
        case sf::Event::LostFocus: queue.push(at_place(InputEvent::Kind::focus_lost, 0, 0)); break;
        default: break;
    }
}

Modifiers modifiers_now() {
    const auto either = [](sf::Keyboard::Key a, sf::Keyboard::Key b) {
        return sf::Keyboard::isKeyPressed(a) || sf::Keyboard::isKeyPressed(b);
    };
    return {either(sf::Keyboard::LControl, sf::Keyboard::RControl), either(sf::Keyboard::LShift, sf::Keyboard::RShift),
            either(sf::Keyboard::LAlt, sf::Keyboard::RAlt)};
}

bool asks_to_end(const sf::Event& event) {
    return event.type == sf::Event::KeyPressed && event.key.code == sf::Keyboard::Q && event.key.control &&
           !event.key.alt && !event.key.shift;
}

}  // namespace offsquare::gui
