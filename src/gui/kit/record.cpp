#include "gui/kit/record.h"

#include <algorithm>

namespace offsquare::gui {
bool is_pressed_or_typed_into(Kind kind) {
    switch (kind) {
        case Kind::button:
        case Kind::chip:
        case Kind::step:
        case Kind::field:
        case Kind::slider:
        case Kind::choice:
        case Kind::list_row: return true;
        default: return false;
    }
}

const Drawn* Record::find(std::string_view label) const {
    const Drawn* any = nullptr;
    for (const Drawn& item : items_) {
        if (item.label != label) continue;
        if (item.kind == Kind::other || is_pressed_or_typed_into(item.kind)) return &item;
        if (any == nullptr) any = &item;
    }
    return any;
}

const Drawn* Record::find(std::string_view label, Kind kind) const {
    const auto it =
        std::find_if(items_.begin(), items_.end(), [&](const Drawn& d) { return d.kind == kind && d.label == label; });
    return it == items_.end() ? nullptr : &*it;
}

bool Record::says(std::string_view words) const {
    return std::any_of(items_.begin(), items_.end(), [&](const Drawn& d) {
        return d.label.find(words) != std::string::npos || d.value.find(words) != std::string::npos;
    });
}

const Drawn* Record::focused() const {
    const auto it = std::find_if(items_.begin(), items_.end(), [](const Drawn& d) { return d.focused; });
    return it == items_.end() ? nullptr : &*it;
}

}  // namespace offsquare::gui
