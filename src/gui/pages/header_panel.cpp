#include <array>

#include "gui/pages/header.h"

namespace offsquare::gui {
namespace {

constexpr std::array<session::Stage, 6> stages{session::Stage::set_up,   session::Stage::cut,  session::Stage::read,
                                               session::Stage::work_out, session::Stage::shim, session::Stage::prove};

constexpr float right_width = 384.0F;  ///< of the buttons
constexpr float mark_left = 16.0F;
constexpr float title_left = 58.0F;

std::vector<Step> steps_of(const Bench& bench) {
    const session::Stage present = bench.cutting() ? session::Stage::cut : bench.present_stage();
    std::vector<Step> steps;
    for (const session::Stage s : stages) {
        StepState state = s < present ? StepState::done : s == present ? StepState::present : StepState::later;
        if (bench.seen().proved && s == session::Stage::prove) state = StepState::done;
        steps.push_back({std::string(session::name_of(s)), state});
    }
    return steps;
}

/// In the notebook its own pages stand there instead: what is done is ticked, the open one is dark.
std::vector<Step> pages_of(const Bench& bench, const Hunt& hunt) {
    std::vector<Step> steps;
    for (int i = 0; i < hunt_pages; ++i) {
        const auto page = static_cast<session::Leaf>(i);
        const StepState state = page == hunt.page        ? StepState::present
                                : hunt.done(page, bench) ? StepState::done
                                                         : StepState::later;
        steps.push_back({std::string(name_of(page)), state});
    }
    return steps;
}

void go_to_step(Bench& bench, Hunt& hunt, int pressed) {
    if (hunt.open) {
        hunt.page = static_cast<session::Leaf>(pressed);
        return;
    }
    const session::Stage chosen = stages.at(static_cast<std::size_t>(pressed));
    const bool already = bench.view.looking_at == chosen || chosen == bench.present_stage();
    bench.view.looking_at = already ? std::optional<session::Stage>() : std::optional(chosen);
}

Elsewhere right_side(Kit& kit, Bench& bench, bool notebook, bool pushing, const Area& area) {
    Elsewhere to = Elsewhere::nowhere;
    const float y = kit.px(area.y + 12.0F);
    ImGui::SetCursorPos({kit.px(area.x + area.w - right_width - 16.0F), y});
    if (button(kit, pushing ? "Saw##push" : "Push##push", 52.0F)) to = Elsewhere::push;
    tooltip(kit, "Push the sled by hand and see it turn in its play, or press H");
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, notebook ? "The saw##notebook" : "Notebook##notebook", 84.0F)) to = Elsewhere::notebook;
    tooltip(kit, "The notebook of a fault hunt, or press B");
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, "Open", 56.0F)) to = Elsewhere::open_file;
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, "Save", 52.0F)) to = Elsewhere::save_file;
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, "View", 52.0F)) bench.sheets.settings = true;
    ImGui::SameLine(0.0F, kit.px(6.0F));
    if (button(kit, "Keys", 52.0F)) bench.sheets.keys = true;
    return to;
}

}  // namespace

bool draw_mark(Kit& kit, const Area& area) {
    ImGui::SetCursorPos({kit.px(area.x + mark_left), kit.px(area.y + 13.0F)});
    const bool pressed = mark(kit, "To the first screen");
    tooltip(kit, "To the first screen, or press 0. What stands here waits.");
    return pressed;
}

Elsewhere draw_header(Kit& kit, Bench& bench, Hunt& hunt, bool pushing, const Area& area) {
    const std::vector<Step> steps = hunt.open ? pages_of(bench, hunt) : steps_of(bench);
    const float bar = step_bar_width(kit, steps);
    // In a narrow window the steps have a row of their own.
    const bool second_row = area.h > 90.0F;
    const float free = area.w - right_width - 28.0F;
    const float bar_x = second_row ? area.x + 16.0F
                                   : std::clamp((area.w - bar) / 2.0F - 20.0F, area.x + 214.0F,
                                                std::max(area.x + 214.0F, free - bar - 8.0F));
    const float title = (second_row ? area.w - right_width - 36.0F : bar_x - area.x - 12.0F) - title_left;
    constexpr float least_title = 40.0F;  // less says nothing, and stands under the buttons
    const bool back = draw_mark(kit, area);
    ImGui::SetCursorPos({kit.px(area.x + title_left), kit.px(area.y + 17.0F)});
    if (title >= least_title) line(kit, bench.seen().title, Role::text, Face::title, title);
    ImGui::SetCursorPos({kit.px(bar_x), kit.px(area.y + (second_row ? 56.0F : 12.0F))});
    const int viewed = !hunt.open && bench.view.looking_at ? static_cast<int>(*bench.view.looking_at) : -1;
    const int pressed = step_bar(kit, steps, viewed, bar > area.w - 40.0F);
    if (pressed >= 0) go_to_step(bench, hunt, pressed);
    page_rule(kit, area.y + area.h);
    const Elsewhere to = right_side(kit, bench, hunt.open, pushing, area);
    return back ? Elsewhere::start : to;
}

}  // namespace offsquare::gui
