#include <algorithm>

#include "gui/panels.h"

namespace offsquare::gui {
namespace {

constexpr float edge = 16.0F;
constexpr float between = 12.0F;
constexpr float header = 56.0F;
constexpr float side = 376.0F;
constexpr float chart_height = 188.0F;
constexpr float caution_height = 54.0F;
constexpr float offer_height = 48.0F;
constexpr float narrow = 1100.0F;   ///< below this the right column stands under the table

void right_column(Kit& kit, Bench& bench, PanelState& state, Area area) {
    const Area caution{area.x, area.y + area.h - caution_height, area.w, caution_height};
    draw_caution_line(kit, bench, state, caution);
    area.h -= caution_height + between;
    if (bench.stage() == session::Stage::set_up) return draw_setup(kit, bench, state, area);
    const bool with_fields = bench.options().fence_station_mm.has_value();
    const bool shim_next = bench.trial().stage == session::Stage::shim && !bench.cutting();
    const float now_height = with_fields ? 288.0F : shim_next ? 192.0F : 212.0F;
    const float drawer_height = std::clamp(area.h - now_height - 2.0F * between - 256.0F, 140.0F, 240.0F);
    draw_now(kit, bench, state, {area.x, area.y, area.w, now_height});
    const float working = area.h - now_height - drawer_height - 2.0F * between;
    draw_working(kit, bench, state, {area.x, area.y + now_height + between, area.w, working});
    draw_drawer(kit, bench, state, {area.x, area.y + area.h - drawer_height, area.w, drawer_height});
}

/// The table, and above it an offer of unsaved work while there is one.
void table_with_offer(Kit& kit, Bench& bench, PanelState& state, Area area) {
    if (state.unsaved != nullptr && state.unsaved->offers()) {
        draw_offer(kit, bench, state, {area.x, area.y, area.w, offer_height});
        area.y += offer_height + between;
        area.h -= offer_height + between;
    }
    draw_table(kit, bench, state, area);
}

void wide_page(Kit& kit, Bench& bench, PanelState& state, float w, float h) {
    const float left = w - side - 2.0F * edge - between - 4.0F;
    const float top = header + between;
    const float table = h - top - chart_height - between - edge;
    table_with_offer(kit, bench, state, {edge, top, left, table});
    draw_chart(kit, bench, state, {edge, top + table + between, left, chart_height});
    right_column(kit, bench, state, {edge + left + edge, top, side, h - top - edge});
}

void narrow_page(Kit& kit, Bench& bench, PanelState& state, float w, float h) {
    const float top = header + between;
    const float width = w - 2.0F * edge;
    const float table = std::max(360.0F, h - top - chart_height - 2.0F * between);
    table_with_offer(kit, bench, state, {edge, top, width, table});
    draw_chart(kit, bench, state, {edge, top + table + between, width, chart_height});
    right_column(kit, bench, state, {edge, top + table + chart_height + 2.0F * between, width, 760.0F});
}

}  // namespace

void draw_page(Kit& kit, Bench& bench, PanelState& state) {
    bench.tick(static_cast<double>(ImGui::GetIO().DeltaTime));
    page_begin(kit, "offsquare");
    handle_keys(kit, bench, state);
    if (bench.view.for_class) {
        draw_class(kit, bench);
        return page_end(kit);
    }
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    const float w = size.x / kit.theme.scale;
    const float h = std::max(560.0F, size.y / kit.theme.scale);
    if (w >= narrow) wide_page(kit, bench, state, w, h);
    else narrow_page(kit, bench, state, w, h);
    draw_header(kit, bench, state, {0.0F, 0.0F, w, header});
    draw_sheets(kit, bench, state);
    if (bench.said_for > 0.0) toast_line(kit, bench.said, bench.said_is_bad ? Role::wrong : Role::text);
    page_end(kit);
}

}  // namespace offsquare::gui
