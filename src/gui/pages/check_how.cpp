#include "gui/pages/check_how.h"

#include <algorithm>

#include <fmt/format.h>

#include "gui/pages/paint.h"
#include "picture/check_view.h"

namespace offsquare::gui {
namespace {

void where_it_goes(Kit& kit, measure::Check check, float width) {
    const picture::Picture picture = picture::check_view(check);
    const float height = width * 210.0F / 360.0F;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    paint(kit, *ImGui::GetWindowDrawList(), picture, picture::fit(picture, width, height, 0.0), corner, &kit.record);
    kit.record.add({.kind = Kind::other,
                    .label = picture.title,
                    .value = {},
                    .lo = corner,
                    .hi = {corner.x + kit.px(width), corner.y + kit.px(height)}});
    ImGui::Dummy({kit.px(width), kit.px(height)});
}

}  // namespace

void draw_check_how(Kit& kit, const measure::CheckInfo& check, base::Units units, float width) {
    where_it_goes(kit, check.check, std::min(width, 620.0F));
    gap(kit, 4.0F);
    int n = 1;
    for (const std::string_view step : check.steps) {
        // The second line stands under the words, not under the number.
        const ImVec2 at = ImGui::GetCursorPos();
        paragraph(kit, fmt::format("{}.", n++));
        ImGui::SetCursorPos({at.x + kit.px(22.0F), at.y});
        ImGui::BeginGroup();
        paragraph(kit, base::said_in(step, units));
        ImGui::EndGroup();
        ImGui::SetCursorPosX(at.x);
    }
}

}  // namespace offsquare::gui
