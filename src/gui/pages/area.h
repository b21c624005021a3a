// What every page starts from: a place on it, a card that fills the place, the fields in which text is being typed.
#pragma once

#include <map>
#include <string>

#include "gui/kit/widgets.h"
#include "gui/state/bench.h"

namespace offsquare::gui {

/// A rectangle in design pixels of the page.
struct Area {
    float x = 0.0F, y = 0.0F, w = 0.0F, h = 0.0F;
};

/// A card that fills an area; its small title is shown unless the panel draws its own.
inline CardOptions card_in(const Area& area, bool shown_title = true) {
    CardOptions card;
    card.at = {area.x, area.y};
    card.width = area.w;
    card.height = area.h;
    card.shown_title = shown_title;
    return card;
}

/// Text that is being typed, by field; each page has its own.
using FieldTexts = std::map<std::string, FieldState>;

}  // namespace offsquare::gui
