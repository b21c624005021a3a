// What SFML says, in the words of input.h. SFML is seen in bridge.cpp and here only.
#pragma once

#include <SFML/Window.hpp>

#include "gui/kit/input.h"

namespace offsquare::gui {

/// What the window system said, into the queue. Resizing and closing are handled elsewhere.
void push_event(InputQueue& queue, const sf::Event& event);
/// Those that fingers are on at this moment.
Modifiers modifiers_now();
/// Ctrl+Q goes down.
bool asks_to_end(const sf::Event& event);

}  // namespace offsquare::gui
