#include "gui/pages/file_sheet.h"

namespace offsquare::gui {

void draw_offer(Kit& kit, Bench& bench, Unsaved& unsaved, const Area& area) {
    CardOptions card = card_in(area, false);
    card.padding = {20.0F, 8.0F};
    if (card_begin(kit, "Unsaved work", card)) {
        const float top = ImGui::GetCursorPosY();
        ImGui::SetCursorPosY(top + kit.px(7.0F));
        line(kit, "Unsaved work from " + unsaved.when() + ".", Role::text, Face::body, area.w - 300.0F);
        ImGui::SetCursorPos({kit.px(area.w - 262.0F), top});
        if (button(kit, "Restore it", 110.0F)) {
            const auto taken = unsaved.take_up(bench);
            taken ? bench.say("Your unsaved work is back. It is still to be saved.")
                  : bench.say(taken.error().message, true);
        }
        ImGui::SameLine(0.0F, kit.px(8.0F));
        if (button(kit, "Throw it away", 124.0F)) unsaved.throw_away();
    }
    card_end(kit);
}

}  // namespace offsquare::gui
