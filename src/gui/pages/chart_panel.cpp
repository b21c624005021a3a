#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "gui/pages/job.h"

namespace offsquare::gui {
namespace {

/// The chart's own paper [screen pixels].
struct Sheet {
    ImVec2 lo;
    ImVec2 hi;
    float zero_y = 0.0F;   ///< where the sum is zero
    float per_rad = 0.0F;  ///< pixels upwards per radian
    float column(int cut) const { return lo.x + (hi.x - lo.x) * (0.21F + 0.148F * static_cast<float>(cut - 1)); }
};

Sheet sheet_of(const Kit& kit, const picture::Chart& chart, ImVec2 lo, ImVec2 hi) {
    double least = -chart.tolerance_rad;
    double most = chart.tolerance_rad;
    for (const auto& bar : chart.bars) {
        least = std::min(least, bar.sum_rad);
        most = std::max(most, bar.sum_rad);
    }
    Sheet s{lo, {hi.x, hi.y - kit.px(20.0F)}, 0.0F, 0.0F};
    const float room = s.hi.y - s.lo.y - kit.px(8.0F);
    s.per_rad = room / static_cast<float>(most - least);
    s.zero_y = s.lo.y + kit.px(4.0F) + static_cast<float>(most) * s.per_rad;
    if (chart.known || chart.bars.empty()) return s;
    // Nothing read yet: a narrow band low down leaves room for the blocks that wait for their height.
    s.per_rad = kit.px(12.0F) / static_cast<float>(chart.tolerance_rad);
    s.zero_y = s.hi.y - kit.px(15.0F);
    return s;
}

/// Words of the chart, noted where they stand.
void chart_words(Kit& kit, ImDrawList& list, ImVec2 baseline, const std::string& words, double em, Weight weight,
                 Role role) {
    const float width = text_at(kit, list, baseline, words, em, weight, kit.colour(role));
    kit.record.add({Kind::text,
                    words,
                    "",
                    {baseline.x, baseline.y - kit.px(0.75F * static_cast<float>(em))},
                    {baseline.x + width, baseline.y + kit.px(0.2F * static_cast<float>(em))}});
}

void tolerance_band(Kit& kit, ImDrawList& list, const Sheet& s, const picture::Chart& chart) {
    const float half = static_cast<float>(chart.tolerance_rad) * s.per_rad;
    list.AddRectFilled({s.lo.x, s.zero_y - half}, {s.hi.x, s.zero_y + half}, kit.colour(Role::good_fill));
    list.AddLine({s.lo.x, s.zero_y}, {s.hi.x, s.zero_y}, kit.colour(Role::quiet), kit.px(1.0F));
    kit.record.add(
        {Kind::other, "zero line", "", {s.lo.x, s.zero_y - kit.px(0.5F)}, {s.hi.x, s.zero_y + kit.px(0.5F)}});
    const float inside = half > kit.px(16.0F) ? s.zero_y - half + kit.px(13.0F) : s.zero_y - half - kit.px(4.0F);
    chart_words(kit, list, {s.lo.x + kit.px(6.0F), inside}, "tolerance on one corner", 12.0, Weight::regular,
                Role::good);
}

/// Baseline of words beside the end of a column (`y`): wholly on the column's side of the zero line, `more` pixels of
/// further lines counted.
float beside(const Kit& kit, const Sheet& s, float y, bool up, float more = 0.0F) {
    return up ? std::min(y + kit.px(13.0F), s.zero_y - kit.px(5.0F) - more)
              : std::max(y - kit.px(3.0F), s.zero_y + kit.px(14.0F));
}

/// One block per corner, the newest filled.
void column(Kit& kit, ImDrawList& list, const Sheet& s, const picture::Chart::Bar& bar) {
    const float x = s.column(bar.cut);
    const float half = kit.px(28.0F);
    const float each = bar.corners == 0 ? 0.0F : static_cast<float>(bar.sum_rad / bar.corners) * s.per_rad;
    for (int i = 0; i < bar.corners; ++i) {
        const float a = s.zero_y - each * static_cast<float>(i);
        const float b = s.zero_y - each * static_cast<float>(i + 1);
        const ImVec2 lo{x - half, std::min(a, b) + 1.0F};
        const ImVec2 hi{x + half, std::max(a, b)};
        list.AddRectFilled(lo, hi, kit.colour(i + 1 == bar.corners ? Role::read : Role::read_fill));
        list.AddRect(lo, hi, kit.colour(Role::read), 0.0F, 0, kit.px(1.0F));
    }
    const float top = s.zero_y - each * static_cast<float>(bar.corners);
    if (bar.corners > 0)
        chart_words(kit, list, {x + half + kit.px(8.0F), beside(kit, s, top, each >= 0.0F)}, bar.label, 13.0,
                    Weight::semibold, Role::read);
}

void columns_unknown(const Kit& kit, ImDrawList& list, const Sheet& s, const picture::Chart::Bar& bar) {
    const float x = s.column(bar.cut);
    for (int i = 0; i < bar.corners; ++i) {
        const float y = s.zero_y - kit.px(16.0F) * static_cast<float>(i + 1);
        list.AddRect({x - kit.px(28.0F), y}, {x + kit.px(28.0F), y + kit.px(14.0F)}, kit.colour(Role::hairline), 0.0F,
                     0, kit.px(1.0F));
    }
    if (bar.corners > 0)
        text_at(kit, list, {x, s.zero_y - kit.px(4.0F)}, "?", 12.0, Weight::semibold, kit.colour(Role::quiet), 0.5F);
}

void axis(const Kit& kit, ImDrawList& list, const Sheet& s, int newest) {
    for (int cut = 1; cut <= 5; ++cut) {
        const bool strong = cut == newest;
        text_at(kit, list, {s.column(cut), s.hi.y + kit.px(16.0F)}, fmt::format("cut {}", cut), 13.0,
                strong ? Weight::semibold : Weight::regular, kit.colour(strong ? Role::text : Role::quiet), 0.5F);
    }
}

void total(Kit& kit, ImDrawList& list, const Sheet& s, const picture::Chart& chart) {
    if (!chart.known || chart.bars.size() < 5) return;
    const float x = s.column(5) + kit.px(66.0F);
    const float y = s.zero_y - static_cast<float>(chart.bars.back().sum_rad) * s.per_rad;
    const bool up = chart.bars.back().sum_rad >= 0.0;
    const float base = beside(kit, s, std::clamp(y, s.lo.y, s.hi.y - kit.px(24.0F)), up, kit.px(17.0F));
    chart_words(kit, list, {x, base}, chart.total, 13.5, Weight::semibold, Role::read);
    chart_words(kit, list, {x, base + kit.px(17.0F)}, chart.over, 12.0, Weight::regular, Role::quiet);
}

void player(Kit& kit, Bench& bench, float width) {
    const double last = bench.last_cut();
    const bool any = last > 0.0;
    if (button(kit, bench.view.playing ? "Pause" : "Play", 62.0F, any)) {
        if (!bench.view.playing && bench.view.progress >= last) bench.view.progress = 0.0;
        bench.view.playing = !bench.view.playing;
    }
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, "Back", 54.0F, any && bench.view.progress > 0.0))
        bench.view.progress = std::ceil(bench.view.progress) - 1.0, bench.view.playing = false;
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, "Step", 54.0F, any && bench.view.progress < last))
        bench.view.progress = std::floor(bench.view.progress) + 1.0, bench.view.playing = false;
    ImGui::SameLine(0.0F, kit.px(12.0F));
    const std::string shown =
        any ? fmt::format("cut {} of 5", static_cast<int>(std::ceil(bench.view.progress))) : "no cuts yet";
    if (slider(kit, "Cuts shown", bench.view.progress, 0.0, std::max(1.0, last), 0.25, shown, 6, width - 200.0F))
        bench.view.playing = false;
    bench.view.progress = std::min(bench.view.progress, last);
}

}  // namespace

void draw_chart(Kit& kit, Bench& bench, const Area& area) {
    CardOptions card = card_in(area, false);
    card.padding = {18.0F, 12.0F};
    if (card_begin(kit, "How the corner error adds up", card)) {
        const ImVec2 origin = ImGui::GetWindowPos();
        ImDrawList& list = *ImGui::GetWindowDrawList();
        text_at(kit, list, {origin.x + kit.px(18.0F), origin.y + kit.px(26.0F)}, "How the corner error adds up", 15.0,
                Weight::semibold, kit.colour(Role::text));
        ImGui::SetCursorPos({kit.px(area.w - 500.0F), kit.px(8.0F)});
        player(kit, bench, 482.0F);
        const picture::Chart chart = picture::chart(bench.seen(), bench.options());
        const Sheet sheet = sheet_of(kit, chart, {origin.x + kit.px(18.0F), origin.y + kit.px(44.0F)},
                                     {origin.x + kit.px(area.w - 18.0F), origin.y + kit.px(area.h - 8.0F)});
        tolerance_band(kit, list, sheet, chart);
        for (const auto& bar : chart.bars)
            chart.known ? column(kit, list, sheet, bar) : columns_unknown(kit, list, sheet, bar);
        axis(kit, list, sheet, chart.bars.empty() ? 0 : chart.bars.back().cut);
        total(kit, list, sheet, chart);
    }
    card_end(kit);
}

}  // namespace offsquare::gui
