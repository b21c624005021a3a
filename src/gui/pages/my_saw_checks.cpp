// The other checks of a person's own saw: take the proposed one or choose, see how it is done safely, type what was
// read; which ones the tools at hand allow; and what all readings together say.
#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "gui/pages/check_how.h"
#include "gui/pages/my_saw_parts.h"
#include "session/hunt_words.h"

namespace offsquare::gui {
namespace {

using base::Units;

/// So wide that the longest name stands there whole, where the sheet has the room for it.
float check_list_width(const Kit& kit, float room) {
    float widest = 0.0F;
    for (const measure::CheckInfo& check : measure::checks())
        widest = std::max(widest, paragraph_size(kit, check.title, Face::number, 2000.0F).x / kit.theme.scale);
    constexpr float beside = 130.0F;  // "proposed", the scroll bar and the air
    return std::min(widest + beside, 0.5F * room);
}

bool can(const std::vector<measure::Check>& possible, measure::Check check) {
    return std::find(possible.begin(), possible.end(), check) != possible.end();
}

std::string cost_of(const measure::CheckInfo& check, Units units) {
    const std::string stock =
        check.stock_mm > 0.0 ? base::show_size(check.stock_mm, units) + " of board" : std::string("no board");
    return fmt::format("{:g} min, {}", check.minutes, stock);
}

void list_of_checks(Kit& kit, MySawState& state, float width, float height) {
    MyChecks& checks = state.checks;
    const auto possible = saws::possible_with(checks.tools);
    const auto& besides = state.saw.besides();
    if (scroll_begin(kit, "checks##mine", width, height)) {
        for (const measure::CheckInfo& check : measure::checks()) {
            if (checks.only_mine && !can(possible, check.check)) continue;
            const bool proposed = besides && besides->check == check.check;
            const std::string right = proposed ? "proposed" : fmt::format("{:g} min", check.minutes);
            if (list_row(kit, std::string(check.title).c_str(), right, checks.check == check.check))
                checks.check = check.check, state.sheets.written.clear();
        }
    }
    scroll_end(kit);
}

void tools_at_hand(Kit& kit, MySawState& state) {
    MyChecks& checks = state.checks;
    check(kit, "only those that my tools allow", checks.only_mine);
    if (!checks.only_mine) return;
    float used = 0.0F;
    const float room = ImGui::GetContentRegionAvail().x / kit.theme.scale;
    for (std::size_t i = 0; i < saws::tool_count; ++i) {
        const auto tool = static_cast<saws::Tool>(i);
        const std::string name(saws::name_of(tool));
        const auto at = std::find(checks.tools.begin(), checks.tools.end(), tool);
        const bool has = at != checks.tools.end();
        ChipOptions options;
        options.height = 30.0F;
        options.width = chip_width(kit, name, "") + 6.0F;
        if (i > 0 && used + options.width + 8.0F <= room) ImGui::SameLine(0.0F, kit.px(8.0F));
        else if (i > 0) used = 0.0F;
        used += options.width + 8.0F;
        if (!chip(kit, fmt::format("tool {}", i).c_str(), name, "", has, options)) continue;
        if (has) checks.tools.erase(at);
        else checks.tools.push_back(tool);
    }
}

void what_to_get(Kit& kit, MySawState& state) {
    if (!state.checks.only_mine) return;
    const auto to_get = saws::to_get_first(state.checks.tools, session::sight_of(state.saw.set_up().scenario.drawing),
                                           state.saw.findings());
    if (to_get.empty()) return;
    quiet(kit, "To buy or borrow first: " + to_get.front().why);
}

void fields(Kit& kit, Bench& bench, MySawState& state, const measure::CheckInfo& info) {
    const Units units = bench.view.units;
    std::vector<std::string>& texts = state.checks.texts();
    quiet(kit, fmt::format("What you read at your saw, in {} where no unit is typed.",
                           units == Units::metric ? "millimetres" : "inches"));
    bool enter = false;
    for (std::size_t i = 0; i < info.readings.size(); ++i) {
        FieldOptions options;
        options.width = 150.0F;
        options.takes_keyboard = i == 0 && std::exchange(state.checks.takes_keyboard, false);
        options.help = base::said_in(info.readings[i].meaning, units);
        const std::string label =
            fmt::format("{} [{}]##{}", session::name_of_reading(info.readings[i].what), unit_name(units), i);
        text_field(kit, label.c_str(), texts[i], options);
        if (!entered()) continue;
        enter = i + 1 == info.readings.size();
        if (!enter) kit.tab_order.go_on();
    }
    gap(kit, 4.0F);
    MySheets& sheets = state.sheets;
    if (strong_button(kit, "Write it down##check", 170.0F) || enter) {
        const auto made = state.checks.made(state.saw.set_up().scenario.drawing, units);
        saws::Questions asked;
        if (made && sheets.asked != info.check)
            asked = saws::slips_in(state.saw.sled(), saws::What(*made), state.saw.today(), state.saw.today(), units);
        sheets.trouble = !made ? made.error().message : asked.empty() ? "" : asked.front().says;
        // Whoever presses again means it.
        if (!asked.empty()) sheets.asked = info.check;
        else if (made) {
            const auto done = state.saw.write(*made);
            sheets.trouble = done ? "" : done.error().message;
            if (done) {
                state.checks.forget();
                state.checks.typing = false;
                sheets.asked.reset();
                sheets.written = "Written down: " + saws::line_of(*made, units);
                bench.say("Written down.");
            }
        }
    }
    if (sheets.trouble.empty()) return;
    marked(kit, sheets.trouble, Role::wrong);
    if (sheets.asked == info.check) quiet(kit, "If it is meant as it stands, write it down once more.");
}

void details(Kit& kit, Bench& bench, MySawState& state, float width) {
    const measure::CheckInfo& info = measure::info(state.checks.check);
    heading(kit, info.title);
    quiet(kit, fmt::format("With {}. {}. {}", info.instrument, cost_of(info, bench.view.units), info.finds));
    const std::array<std::string, 2> ways{"How it is done", "Type what was read"};
    int way = state.checks.typing ? 1 : 0;
    if (choice(kit, "way", ways, way, 320.0F)) {
        state.checks.typing = state.checks.takes_keyboard = way == 1;
        state.sheets.written.clear();
    }
    gap(kit, 4.0F);
    if (!state.sheets.written.empty()) marked(kit, state.sheets.written, Role::good);
    if (!state.checks.typing) return draw_check_how(kit, info, bench.view.units, width);
    if (info.check == measure::Check::five_cut || info.check == measure::Check::brushed)
        return quiet(kit, "A strip is typed on the page itself, beside its picture.");
    fields(kit, bench, state, info);
}

/// In plain words what all of it says, and what to do next.
void what_they_say(Kit& kit, Bench& bench, MySawState& state) {
    const session::Findings* found = state.saw.findings();
    if (found == nullptr || state.saw.seen() == nullptr) {
        quiet(kit,
              state.saw.weighing() ? "Weighing what was read…" : "Nothing was read yet: any check may come first.");
        return;
    }
    std::string says;
    for (const diagnose::Belief& belief : found->diagnosis.beliefs) {
        if (session::standing_of(belief) == session::Standing::supported)
            says += (says.empty() ? "" : " ") + session::sentence_of(belief, bench.view.units);
    }
    if (says.empty()) says = "Nothing is sure yet.";
    paragraph(kit, says);
    // What is proposed here is what the page proposes.
    const auto& besides = state.saw.besides();
    if (!besides) return;
    for (const std::string& sentence : besides->contradicts) paragraph(kit, sentence, Role::wrong);
    if (besides->contradicts.empty()) quiet(kit, besides->says);
}

}  // namespace

void draw_my_check_sheet(Kit& kit, Bench& bench, MySawState& state) {
    if (!my_sheet_begin(kit, state, MySheet::checks, "Checks of my saw", 960.0F)) return;
    if (ImGui::IsWindowAppearing()) state.sheets.written.clear();
    what_they_say(kit, bench, state);
    gap(kit, 4.0F);
    tools_at_hand(kit, state);
    what_to_get(kit, state);
    const float screen = ImGui::GetIO().DisplaySize.y / kit.theme.scale;
    const float height = std::clamp(screen - ImGui::GetCursorPosY() / kit.theme.scale - 84.0F, 200.0F, 520.0F);
    const float width = ImGui::GetContentRegionAvail().x / kit.theme.scale;
    const ImVec2 at = ImGui::GetCursorPos();
    const float list_width = check_list_width(kit, width);
    list_of_checks(kit, state, list_width, height);
    ImGui::SetCursorPos({at.x + kit.px(list_width + 14.0F), at.y});
    if (plain_begin(kit, "check##mine", width - list_width - 14.0F, height))
        details(kit, bench, state, width - list_width - 40.0F);
    plain_end(kit);
    sheet_end(kit);
}

}  // namespace offsquare::gui
