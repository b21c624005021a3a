#include "gui/pages/caution_line.h"

#include "session/story.h"

namespace offsquare::gui {

void draw_caution_line(Kit& kit, Bench& bench, const Area& area) {
    CardOptions card = card_in(area, false);
    card.fill = Role::ground;
    const bool one_line = area.w > 560.0F;
    card.padding = {20.0F, one_line ? (area.h - 18.0F) / 2.0F : 7.0F};
    if (card_begin(kit, "Caution", card)) {
        paragraph(kit, session::cautions().short_line, Role::quiet, Face::body, area.w - 140.0F);
        ImGui::SetCursorPos({kit.px(area.w - 106.0F), kit.px((area.h - 32.0F) / 2.0F)});
        if (button(kit, "! cautions", 92.0F)) bench.sheets.cautions = true;
    }
    card_end(kit);
}

}  // namespace offsquare::gui
