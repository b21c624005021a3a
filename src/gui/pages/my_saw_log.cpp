// What was done to it, how square it has been, and a saw like this one.
#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "gui/pages/my_saw_parts.h"
#include "gui/pages/paint.h"
#include "picture/curve_view.h"

namespace offsquare::gui {
namespace {

constexpr float row_height = 24.0F;

struct Row {
    const saws::Entry* entry = nullptr;
    std::string day, what, came;
    bool test = false;
    Role tone = Role::text;
};

std::string capital(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

void say_verdict(Row& row, const saws::CurvePoint& point, base::Units units) {
    const double skew = point.skew_rad.value;
    const char* end = skew > 0.0 ? "left" : "right";
    switch (point.state) {
        case diagnose::State::pass:
            row.came = "square";
            row.tone = Role::good;
            return;
        case diagnose::State::fail:
            row.came = fmt::format("off by {}, {} end", base::show_angle_short(std::abs(skew), units), end);
            row.tone = Role::wrong;
            return;
        case diagnose::State::undecided: break;
    }
    row.came = fmt::format("not clear: {}", base::show_angle_short(std::abs(skew), units));
    row.tone = Role::quiet;
}

std::vector<Row> rows_of(const MySaw& saw, base::Units units) {
    std::vector<Row> rows;
    int tests = 0;
    for (const saws::Entry* e : saws::in_effect(saw.sled())) {
        Row row{e,
                e->date == saw.today() ? std::string("today") : saws::in_words(e->date, saw.today()),
                saws::kind_of(e->what),
                "",
                false,
                Role::text};
        if (std::holds_alternative<saws::StripTest>(e->what)) {
            row.test = true;
            row.what = fmt::format("Test {}", ++tests);
            for (const saws::CurvePoint& p : saw.curve().points) {
                if (p.entry == e->number) say_verdict(row, p, units);
            }
        } else if (const auto* note = std::get_if<saws::Remark>(&e->what)) {
            row.what = note->text;
        } else if (std::holds_alternative<saws::SizesTyped>(e->what) ||
                   std::holds_alternative<saws::DrawerTyped>(e->what)) {
            row.what += " typed: " + saws::line_of(e->what, units);
        } else if (std::holds_alternative<saws::CheckMade>(e->what)) {
            row.what += ": " + saws::line_of(e->what, units);
        }
        for (const saws::CurveEvent& event : saw.curve().events) {
            if (event.entry == e->number) row.what = capital(event.label);
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

void draw_row(Kit& kit, MySawState& state, const Row& row) {
    const ImVec2 lo = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const float day_width = 96.0F;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const std::string label = fmt::format("{}, {}##{}", row.day, row.what, row.entry->number);
    if (hot_area(kit, label.c_str(), {width, kit.px(row_height)}, true, 4.0F)) {
        state.sheets.entry = row.entry->number;
        open_sheet(state, MySheet::entry);
    }
    if (ImGui::IsItemHovered())
        list.AddRectFilled(lo, {lo.x + width, lo.y + kit.px(row_height)}, kit.colour(Role::ground), kit.px(4.0F));
    const float base = lo.y + kit.px(16.5F);
    const ImFont& font = *kit.font(row.test ? Face::number : Face::body);
    const Rgba tone = readable(kit.theme.rgba(row.tone), kit.theme.rgba(Role::card));
    const float came =
        text_at(kit, list, {lo.x + width - kit.px(4.0F), base}, row.came, 13.0, Weight::semibold, packed(tone), 1.0F);
    text_at(kit, list, {lo.x + kit.px(4.0F), base}, row.day, 13.0, Weight::regular, kit.colour(Role::quiet));
    // Its number, by which a question names it.
    const std::string number = fmt::format("entry {}", row.entry->number);
    const float beside = paragraph_size(kit, number, Face::tiny, 2000.0F).x + kit.px(10.0F);
    const float room = width - kit.px(day_width + 16.0F) - came - beside;
    const float what =
        text_at(kit, list, {lo.x + kit.px(day_width), base}, ellipsized(font, font.FontSize, row.what, room), 13.5,
                row.test ? Weight::semibold : Weight::regular, kit.colour(Role::text));
    const float x = lo.x + kit.px(day_width + 8.0F) + what;
    const float wide = text_at(kit, list, {x, base}, number, 11.0, Weight::regular, kit.colour(Role::quiet));
    kit.record.add({.kind = Kind::text, .label = number, .value = {}, .lo = {x, lo.y}, .hi = {x + wide, base}});
}

}  // namespace

void draw_my_log(Kit& kit, Bench& bench, MySawState& state, const Area& area) {
    CardOptions card = card_in(area, false);
    card.padding = {24.0F, 12.0F};
    if (card_begin(kit, "What was done to it##mine", card)) {
        ImGui::SetCursorPosY(kit.px(16.0F));
        line(kit, "What was done to it", Role::quiet, Face::label, 160.0F);
        if (!state.saw.sled().entries.empty() && area.w > 460.0F) {
            ImGui::SetCursorPos({kit.px(188.0F), kit.px(17.0F)});
            line(kit, "press a line to correct it", Role::quiet, Face::small, area.w - 188.0F - 190.0F);
        }
        ImGui::SetCursorPos({kit.px(area.w - 24.0F - 158.0F), kit.px(9.0F)});
        if (button(kit, "Add", 56.0F)) open_sheet(state, MySheet::add);
        tooltip(kit, "A repair, a moved fence, waxed slots, shims, a note; also of another day");
        ImGui::SameLine(0.0F, kit.px(8.0F));
        if (button(kit, "Checks", 94.0F)) open_sheet(state, MySheet::checks);
        tooltip(kit, "The other checks: how each is done safely, and what was read");
        const std::vector<Row> rows = rows_of(state.saw, bench.view.units);
        ImGui::SetCursorPos({kit.px(14.0F), kit.px(44.0F)});
        // Whole rows: the list has 4 of air above and below them.
        const float rows_high = std::max(1.0F, std::floor((area.h - 52.0F) / row_height)) * row_height;
        if (plain_begin(kit, "rows", area.w - 28.0F, rows_high + 8.0F)) {
            ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0.0F, 0.0F});
            if (rows.empty()) quiet(kit, "Nothing yet. Each test, shim, check and repair stands here with its day.");
            for (const Row& row : rows) draw_row(kit, state, row);
            ImGui::PopStyleVar();
            // What was done last is seen, also where the card has become lower.
            const std::pair now{state.saw.changes(), area.h};
            if (std::exchange(state.log_seen, now) != now) state.log_to_end = 3;
            if (state.log_to_end > 0) --state.log_to_end, ImGui::SetScrollHereY(1.0F);
        }
        plain_end(kit);
    }
    card_end(kit);
}

void draw_my_curve(Kit& kit, Bench& bench, MySawState& state, const Area& area) {
    if (card_begin(kit, "How square it has been##mine", card_in(area, false))) {
        const MySaw& saw = state.saw;
        ImGui::SetCursorPosY(kit.px(14.0F));
        line(kit, "How square it has been", Role::text, Face::panel, 260.0F);
        const std::string unit = base::show_angle_unit(bench.view.units);
        const std::string right =
            saw.curve().points.empty() ? "" : fmt::format("each test in {}, with its give or take", unit);
        const float wide = paragraph_size(kit, right, Face::small, 2000.0F).x / kit.theme.scale + 2.0F;
        ImGui::SetCursorPos({kit.px(area.w - 20.0F - wide), kit.px(16.0F)});
        line(kit, right, Role::quiet, Face::small, wide);
        picture::CurvePage page{static_cast<double>(area.w - 40.0F), static_cast<double>(area.h - 46.0F),
                                bench.view.units, saw.today(), std::nullopt};
        for (const saws::CurvePoint& p : saw.curve().points) {
            if (saw.is_draft(p.entry)) page.not_written = p.entry;
        }
        const picture::Picture drawing = picture::curve_view(saw.curve(), page);
        ImGui::SetCursorPos({kit.px(20.0F), kit.px(38.0F)});
        const ImVec2 corner = ImGui::GetCursorScreenPos();
        paint(kit, *ImGui::GetWindowDrawList(), drawing, {1.0, 0.0, 0.0}, corner, &kit.record);
        if (saw.curve().points.empty()) {
            ImGui::SetCursorPos({kit.px(110.0F), kit.px(48.0F)});
            line(kit, "Each test makes a point here, with its give or take.", Role::quiet, Face::small);
        }
    }
    card_end(kit);
}

bool draw_my_practice(Kit& kit, const MySawState& state, const Area& area) {
    bool wanted = false;
    if (card_begin(kit, "Practise##mine", card_in(area, false))) {
        ImGui::SetCursorPosY(kit.px(14.0F));
        line(kit, "Practise on a saw like this one", Role::text, Face::panel);
        quiet(kit, state.saw.tests() == 0 && !state.saw.of_draft()
                       ? "With your sizes; what is off on it is up to it."
                       : "With your sizes, and as far off as yours may be.");
        ImGui::SetCursorPosY(kit.px(area.h - 46.0F));
        wanted = button(kit, "Make one", 150.0F);
    }
    card_end(kit);
    return wanted;
}

}  // namespace offsquare::gui
