// First page of the notebook: what was seen, before anybody knows why.
#include <algorithm>

#include "gui/paint.h"
#include "gui/panels.h"
#include "picture/table_view.h"

namespace offsquare::gui {
namespace {

/// The saw as it stands, in what is left of the card.
void saw(Kit& kit, Bench& bench, const Area& area) {
    const float y = ImGui::GetCursorPosY() / kit.theme.scale;
    const float room = area.h - y - 14.0F;
    if (room < 200.0F) return;
    picture::ViewOptions options = bench.options();
    options.few_words = room < 380.0F;
    options.grips = false;
    const picture::Picture picture = picture::table_view(bench.trial(), options);
    const ImVec2 corner{ImGui::GetWindowPos().x + kit.px(20.0F), ImGui::GetWindowPos().y + kit.px(y)};
    const float width = area.w - 40.0F;
    paint(kit, *ImGui::GetWindowDrawList(), picture, picture::fit(picture, width, room, 4.0), corner);
    kit.record.add({.kind = Kind::other, .label = picture.title, .value = {}, .lo = corner, .hi = {corner.x + kit.px(width), corner.y + kit.px(room)}});
}

void said(Kit& kit, const Bench& bench) {
    const std::string words = session::symptom(bench.trial(), bench.notes(), bench.view.units);
    if (words.empty()) quiet(kit, "No test has been cut yet.");
    else paragraph(kit, words, Role::text);
    if (const std::string face = session::face_sentence(bench.trial(), bench.view.units); !face.empty()) paragraph(kit, face);
}

}  // namespace

void draw_symptom_page(Kit& kit, Bench& bench, PanelState&, const Area& area) {
    if (card_begin(kit, "1  Symptom", card_in(area))) {
        heading(kit, "What is seen");
        if (!bench.scenario().story.empty()) {
            gap(kit, 4.0F);
            line(kit, "What the owner says", Role::quiet, Face::label);
            paragraph(kit, bench.scenario().story);
        }
        gap(kit, 6.0F);
        line(kit, "What the last test said", Role::quiet, Face::label);
        said(kit, bench);
        gap(kit, 8.0F);
        saw(kit, bench, area);
    }
    card_end(kit);
}

}  // namespace offsquare::gui
