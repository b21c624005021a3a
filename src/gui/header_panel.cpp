#include <array>

#include "gui/panels.h"

namespace offsquare::gui {
namespace {

constexpr std::array<session::Stage, 6> stages{session::Stage::set_up, session::Stage::cut,  session::Stage::read,
                                               session::Stage::work_out, session::Stage::shim, session::Stage::prove};

std::vector<Step> steps_of(const Bench& bench) {
    const session::Stage present = bench.cutting() ? session::Stage::cut : bench.trial().stage;
    std::vector<Step> steps;
    for (const session::Stage s : stages) {
        StepState state = s < present ? StepState::done : s == present ? StepState::present : StepState::later;
        if (bench.trial().proved && s == session::Stage::prove) state = StepState::done;
        steps.push_back({std::string(session::name_of(s)), state});
    }
    return steps;
}

void right_side(Kit& kit, Bench& bench, PanelState& state, const Area& area) {
    const float y = kit.px(area.y + 12.0F);
    const float wide = 252.0F;
    ImGui::SetCursorPos({kit.px(area.x + area.w - wide - 16.0F), y});
    if (button(kit, "Open", 56.0F)) open_file(bench, state);
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, "Save", 56.0F)) save_file(bench, state);
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, "View", 56.0F)) bench.sheets.settings = true;
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, "Keys", 62.0F)) bench.sheets.keys = true;
}

}  // namespace

void draw_header(Kit& kit, Bench& bench, PanelState& state, const Area& area) {
    const std::vector<Step> steps = steps_of(bench);
    const float bar = step_bar_width(kit, steps);
    // In a narrow window the steps have a row of their own.
    const bool second_row = area.h > 90.0F;
    const float bar_x = second_row ? area.x + 16.0F : std::max(area.x + 214.0F, (area.w - bar) / 2.0F - 20.0F);
    ImGui::SetCursorPos({kit.px(area.x + 24.0F), kit.px(area.y + 17.0F)});
    line(kit, bench.scenario().title, Role::text, Face::title, second_row ? area.w - 320.0F : bar_x - area.x - 36.0F);
    ImGui::SetCursorPos({kit.px(bar_x), kit.px(area.y + (second_row ? 56.0F : 12.0F))});
    const int viewed = bench.view.looking_at ? static_cast<int>(*bench.view.looking_at) : -1;
    const int pressed = step_bar(kit, steps, viewed);
    if (pressed >= 0) {
        const session::Stage chosen = stages.at(static_cast<std::size_t>(pressed));
        const bool already = bench.view.looking_at == chosen || chosen == bench.trial().stage;
        bench.view.looking_at = already ? std::optional<session::Stage>() : std::optional(chosen);
    }
    right_side(kit, bench, state, area);
    page_rule(kit, area.y + area.h);
}

}  // namespace offsquare::gui
