// First page of the notebook: what was seen, before anybody knows why.
#include <algorithm>

#include "gui/pages/notebook_pages.h"
#include "gui/pages/paint.h"
#include "gui/pages/table.h"
#include "lesson/cases.h"
#include "picture/table_view.h"

namespace offsquare::gui {
namespace {

void said(Kit& kit, const Bench& bench) {
    const std::string words = session::symptom(bench.seen(), bench.view.units);
    if (words.empty()) quiet(kit, "No test has been cut yet.");
    else paragraph(kit, words, Role::text);
    if (const std::string face = session::face_sentence(bench.seen(), bench.view.units); !face.empty())
        paragraph(kit, face);
}

}  // namespace

void draw_saw(Kit& kit, const Bench& bench, const Area& place) {
    if (place.h < 200.0F) return;
    picture::ViewOptions options = bench.options();
    options.few_words = place.h < 380.0F;
    options.grips = false;
    const picture::Picture picture = picture::table_view(bench.seen(), options);
    const ImVec2 corner{ImGui::GetWindowPos().x + kit.px(place.x), ImGui::GetWindowPos().y + kit.px(place.y)};
    paint(kit, *ImGui::GetWindowDrawList(), picture, picture::fit(picture, place.w, place.h, 4.0), corner);
    kit.record.add({.kind = Kind::other,
                    .label = picture.title,
                    .value = {},
                    .lo = corner,
                    .hi = {corner.x + kit.px(place.w), corner.y + kit.px(place.h)}});
}

void draw_symptom_page(Kit& kit, const Bench& bench, const Area& area) {
    if (card_begin(kit, "1  Symptom", card_in(area))) {
        heading(kit, "What is seen");
        if (!bench.seen().story.empty()) {
            gap(kit, 4.0F);
            line(kit, "What the owner says", Role::quiet, Face::label);
            if (const std::string& complaint = bench.scenario().complaint; !complaint.empty())
                paragraph(kit, lesson::in_quotes(complaint), Role::text, Face::number);
            paragraph(kit, bench.seen().story);
        }
        gap(kit, 6.0F);
        line(kit, "What the last test said", Role::quiet, Face::label);
        said(kit, bench);
        gap(kit, 6.0F);
        quiet(kit, std::string(shop::not_modelled));
        gap(kit, 8.0F);
        const float y = ImGui::GetCursorPosY() / kit.theme.scale;
        draw_saw(kit, bench, {20.0F, y, area.w - 40.0F, area.h - y - 14.0F});
    }
    card_end(kit);
}

}  // namespace offsquare::gui
