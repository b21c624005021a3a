// Second page of the notebook: the diagnosis at a glance.
#include <algorithm>

#include "gui/pages/notebook_pages.h"
#include "gui/pages/paint.h"

namespace offsquare::gui {
namespace {

/// The picture as it is, and over each row an unseen control that opens its fault.
void draw_picture(Kit& kit, const Bench& bench, Hunt& hunt, const Area& area) {
    const float y = ImGui::GetCursorPosY() / kit.theme.scale;
    // Wider, and the eye would lose the row.
    const double width = std::min(static_cast<double>(area.w) - 56.0, 1120.0);
    const picture::DiagnosisView* view =
        hunt.view(bench, {width, static_cast<double>(area.h - y) - 22.0, bench.view.units, ""});
    if (view == nullptr) return quiet(kit, hunt.trouble().empty() ? "Weighing the readings…" : hunt.trouble());
    const picture::Vec2 size = view->picture.hi - view->picture.lo;
    const picture::Fit fit = picture::fit(view->picture, size.x, size.y, 0.0);
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    paint(kit, *ImGui::GetWindowDrawList(), view->picture, fit, corner, &kit.record);
    kit.record.add(
        {.kind = Kind::other,
         .label = view->picture.title,
         .value = {},
         .lo = corner,
         .hi = {corner.x + kit.px(static_cast<float>(size.x)), corner.y + kit.px(static_cast<float>(size.y))}});
    // The rows are copied: a press may change the page, and the picture with it.
    const std::vector<picture::DiagnosisRow> rows = view->rows;
    for (const picture::DiagnosisRow& row : rows) {
        const picture::Vec2 at = fit.page({row.lo.x, row.hi.y});
        ImGui::SetCursorScreenPos(
            {corner.x + kit.px(static_cast<float>(at.x)), corner.y + kit.px(static_cast<float>(at.y))});
        const std::string label = "Suspect: " + std::string(session::name_of(row.fault));
        if (hot_area(
                kit, label.c_str(),
                {kit.px(static_cast<float>(row.hi.x - row.lo.x)), kit.px(static_cast<float>(row.hi.y - row.lo.y))}))
            hunt.look_at(row.fault);
        tooltip(kit, base::said_in(shop::info(row.fault).shows, bench.view.units));
    }
    ImGui::SetCursorScreenPos(corner);
    ImGui::Dummy({kit.px(static_cast<float>(size.x)), kit.px(static_cast<float>(size.y))});
}

}  // namespace

void draw_suspects_page(Kit& kit, const Bench& bench, Hunt& hunt, const Area& area) {
    CardOptions card = card_in(area);
    card.scrolls = true;
    if (card_begin(kit, "2  Suspects: what all readings say together", card)) draw_picture(kit, bench, hunt, area);
    card_end(kit);
}

}  // namespace offsquare::gui
