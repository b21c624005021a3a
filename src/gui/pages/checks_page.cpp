// Third page of the notebook: choose a check, and see how it is done.
#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "gui/pages/check_how.h"
#include "gui/pages/layout.h"
#include "gui/pages/notebook_pages.h"

namespace offsquare::gui {

using layout::list_width;

namespace {

constexpr float check_row_height = 46.0F;

std::string cost_of(const Bench& bench, const measure::CheckInfo& check) {
    const std::string stock = check.stock_mm > 0.0 ? base::show_about(check.stock_mm, bench.view.units) + " of board"
                                                   : std::string("no board");
    return fmt::format("{:g} min, {}", check.minutes, stock);
}

/// Two lines: what it is, and what it costs and how many faults it sees.
void check_row(Kit& kit, const Bench& bench, Hunt& hunt, const measure::CheckInfo& check) {
    const ImVec2 lo = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const bool chosen = hunt.check == check.check;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 hi{lo.x + width, lo.y + kit.px(check_row_height)};
    if (chosen) {
        list.AddRectFilled(lo, hi, kit.colour(Role::read_fill), kit.px(5.0F));
        list.AddRectFilled(lo, {lo.x + kit.px(3.0F), hi.y}, kit.colour(Role::read), kit.px(1.5F));
    }
    if (chosen && hunt.shown_check != hunt.check) {
        ImGui::SetScrollFromPosY(lo.y + 0.5F * kit.px(check_row_height) - ImGui::GetWindowPos().y, 0.5F);
        hunt.shown_check = hunt.check;
    }
    if (hot_area(kit, std::string(check.title).c_str(), {width, kit.px(check_row_height)}, true, 5.0F))
        hunt.check = hunt.shown_check.emplace(check.check);
    const auto next = hunt.findings() != nullptr ? hunt.findings()->next : std::nullopt;
    const bool proposed = next && next->check == check.check;
    const std::size_t sees = hunt.sight().empty() ? 0 : hunt.sight()[static_cast<std::size_t>(check.check)].size();
    text_at(kit, list, {lo.x + kit.px(12.0F), lo.y + kit.px(19.0F)}, check.title, 13.5,
            chosen ? Weight::semibold : Weight::regular, kit.colour(Role::text));
    const bool waits = measure::needs_the_sled_to_go(check.check) && session::jams(bench.seen());
    const std::string second = waits ? std::string("not while the sled jams")
                                     : fmt::format("{}, sees {} {}{}", cost_of(bench, check), sees,
                                                   sees == 1 ? "fault" : "faults", proposed ? " · proposed" : "");
    text_at(kit, list, {lo.x + kit.px(12.0F), lo.y + kit.px(37.0F)}, second, 12.5,
            proposed ? Weight::semibold : Weight::regular, chosen ? kit.colour(Role::text) : kit.colour(Role::quiet));
}

std::string names_of(const std::vector<shop::Fault>& faults) {
    std::string names;
    for (const shop::Fault fault : faults) names += (names.empty() ? "" : ", ") + std::string(session::name_of(fault));
    return names;
}

void how_it_is_done(Kit& kit, const Hunt& hunt, const measure::CheckInfo& check, base::Units units, float width) {
    draw_check_how(kit, check, units, width);
    gap(kit, 4.0F);
    if (!hunt.sight().empty())
        quiet(kit, "Sees: " + names_of(hunt.sight()[static_cast<std::size_t>(check.check)]) + ".");
}

void details(Kit& kit, Bench& bench, Hunt& hunt, FieldTexts& typed, float width) {
    const measure::CheckInfo& check = measure::info(hunt.check);
    heading(kit, check.title);
    quiet(kit, fmt::format("With {}. {}.", check.instrument, cost_of(bench, check)));
    const std::array<std::string, 2> ways{"How it is done", "Type what was read (E)"};
    int way = hunt.typing.open ? 1 : 0;
    if (choice(kit, "way", ways, way, 330.0F)) hunt.typing.open = way == 1;
    gap(kit, 4.0F);
    if (hunt.typing.open) draw_typing(kit, bench, hunt, typed);
    else how_it_is_done(kit, hunt, check, bench.view.units, width);
}

}  // namespace

void draw_checks_page(Kit& kit, Bench& bench, Hunt& hunt, FieldTexts& typed, const Area& area) {
    if (card_begin(kit, "3  Checks: choose one and see how it is done", card_in(area))) {
        const float y = ImGui::GetCursorPosY() / kit.theme.scale;
        const float height = area.h - y - 16.0F;
        if (scroll_begin(kit, "checks", list_width, height)) {
            ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0.0F, kit.px(2.0F)});
            for (const measure::CheckInfo& check : measure::checks()) check_row(kit, bench, hunt, check);
            ImGui::PopStyleVar();
        }
        scroll_end(kit);
        ImGui::SetCursorPos({kit.px(20.0F + list_width + 12.0F), kit.px(y)});
        if (plain_begin(kit, "details", area.w - list_width - 48.0F, height))
            details(kit, bench, hunt, typed, area.w - list_width - 64.0F);
        plain_end(kit);
    }
    card_end(kit);
}

}  // namespace offsquare::gui
