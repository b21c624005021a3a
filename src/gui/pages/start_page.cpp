// The first screen: five doors, where one was, the cases by their owners' own sentences.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "gui/pages/header.h"
#include "gui/pages/layout.h"
#include "gui/pages/paint.h"
#include "gui/pages/start_parts.h"

namespace offsquare::gui {
namespace {

constexpr float head = layout::header;

/// What the header of the first screen asks for.
StartWish start_header(Kit& kit, Bench& bench, float w) {
    StartWish wish;
    ImGui::SetCursorPos({kit.px(16.0F), kit.px(13.0F)});
    mark(kit, "The first screen", 30.0F, false);
    ImGui::SetCursorPos({kit.px(58.0F), kit.px(17.0F)});
    line(kit, "offsquare", Role::text, Face::title, 120.0F);
    constexpr float buttons = 108.0F + 56.0F + 62.0F + 2.0F * 8.0F;
    ImGui::SetCursorPos({kit.px(std::max(180.0F, w - buttons - 20.0F)), kit.px(12.0F)});
    if (button(kit, "Open a file", 108.0F)) wish = OpenAFile{};
    tooltip(kit, "A scenario, a saved session or readings of a real saw, or press Ctrl O");
    ImGui::SameLine(0.0F, kit.px(8.0F));
    if (button(kit, "View", 56.0F)) bench.sheets.settings = true;
    ImGui::SameLine(0.0F, kit.px(8.0F));
    if (button(kit, "Keys", 62.0F)) bench.sheets.keys = true;
    page_rule(kit, head);
    return wish;
}

}  // namespace

StartSheet sheet_of(float w) {
    StartSheet s;
    s.left = w >= 1000.0F ? std::max(40.0F, (w - 1600.0F) / 2.0F) : 20.0F;
    s.width = w - 2.0F * s.left - (w >= 1000.0F ? 0.0F : 8.0F);  // a low window has a bar to scroll by
    s.two = w >= 1040.0F;
    s.between = s.two ? 16.0F : 12.0F;
    s.column = s.two ? (s.width - s.between) / 2.0F : s.width;
    return s;
}

DoorWords words_of(Doorway door) {
    switch (door) {
        case Doorway::my_saw:
            return {"My saw", "Type what you read at your own saw: how thick a shim, behind which end, how sure."};
        case Doorway::learn:
            return {"Learn the repair", "The whole job once, step by step, on a saw of ours: cut, read, shim, prove."};
        case Doorway::practise:
            return {"Practise", "A saw with something wrong. Find out what, put it right, prove it."};
        case Doorway::what_if:
            return {"What if", "Turn the fence, splay the slots, loosen a runner, and watch the cut."};
        case Doorway::show_class: break;
    }
    return {"Show a class", "A lesson for the wall: one picture, one question, one sentence."};
}

StartWish draw_start(Kit& kit, Bench& bench, StartState& state, const std::vector<GoOnLine>& lines, float width,
                     float height) {
    const StartSheet sheet = sheet_of(width);
    StartWish wish;
    ImGui::SetCursorPos({kit.px(sheet.left), kit.px(head + 22.0F)});
    paragraph(kit, "What would you like to do?", Role::text, Face::large, sheet.width);
    float y = head + (sheet.width > 420.0F ? 72.0F : 104.0F);
    y = draw_doors(kit, bench.view.units, sheet, y, wish) + 28.0F;
    if (!lines.empty()) y = draw_lines(kit, state, lines, sheet, y, wish) + 20.0F;
    y = draw_cases(kit, bench.view.units, state, sheet, y, height, wish);
    ImGui::SetCursorPos({0.0F, kit.px(y)});
    ImGui::Dummy({0.0F, 0.0F});  // where it ends: a low window scrolls
    const StartWish at_the_top = start_header(kit, bench, width);
    return std::holds_alternative<std::monostate>(at_the_top) ? wish : at_the_top;
}

}  // namespace offsquare::gui
