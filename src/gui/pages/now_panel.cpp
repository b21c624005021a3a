#include <fmt/format.h>

#include "gui/pages/job.h"

namespace offsquare::gui {
namespace {

/// Where the caliper goes: typed, or dragged on the table.
void caliper_fields(Kit& kit, Bench& bench, FieldTexts& texts) {
    const auto parse = [&](std::string_view text) -> base::Result<double> {
        const auto typed = base::parse_length(
            text, bench.view.units == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch);
        if (!typed) return tl::unexpected(typed.error());
        return typed->value;
    };
    const char* labels[] = {"Fence end: in by", "Far end: in by"};
    for (int i = 0; i < 2; ++i) {
        if (i == 1) ImGui::SameLine(0.0F, kit.px(16.0F));
        FieldOptions o;
        o.width = 80.0F;
        ImGui::BeginGroup();
        const double now = bench.in_from_end.at(static_cast<std::size_t>(i));
        const auto value =
            number_field(kit, labels[i], texts[labels[i]], base::show_size(now, bench.view.units), parse, o);
        ImGui::EndGroup();
        const double most = bench.has_strip() ? bench.last_test()->furthest_in_mm : 0.0;
        if (value && *value >= 0.0 && *value <= most) bench.in_from_end.at(static_cast<std::size_t>(i)) = *value;
        else if (value)
            bench.say(fmt::format("The caliper may stand up to {} in from an end.",
                                  base::show_size(std::floor(most), bench.view.units)),
                      true);
    }
}

/// Whether something else is offered beside the strong button: to read again, to test again, to start again.
bool has_another(const Bench& bench) {
    switch (bench.next().todo) {
        case session::Todo::work_out:
        case session::Todo::put_shims:
        case session::Todo::nothing_fits:
        case session::Todo::undecidable:
        case session::Todo::look_at_play:
        case session::Todo::something_changes:
        case session::Todo::look_elsewhere:
        case session::Todo::done: return true;
        default: return false;
    }
}

void beside_strong_button(Kit& kit) {
    ImGui::SameLine(0.0F, kit.px(12.0F));
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + kit.px(7.0F));
}

/// What else may be done instead, beside the strong button.
void other_button(Kit& kit, Bench& bench, JobState& state) {
    const session::Stage stage = bench.present_stage();
    if (bench.cutting()) return;
    if (bench.seen().proved) {
        const bool has_strong_one = !bench.now().button.empty();
        if (has_strong_one) beside_strong_button(kit);
        if (button(kit, "Start again")) state.after = After::again;
        if (!has_strong_one) {
            ImGui::SameLine(0.0F, kit.px(12.0F));
            if (button(kit, "What next?")) state.after = After::what_next;
        }
    } else if (has_another(bench)) {
        beside_strong_button(kit);
        if (stage != session::Stage::work_out) {
            if (button(kit, "Repeat the test", 120.0F)) bench.act(session::Ways{}.test);
        } else if (button(kit, "Read both again", 124.0F)) {
            bench.read(session::End::fence);
            bench.read(session::End::far);
        }
    }
}

/// Room beside the strong button for its key.
std::string hint_of(const Bench& bench) { return !bench.cutting() && has_another(bench) ? "" : "or press N"; }

Role tone_of_now(const Bench& bench) {
    const session::Test* test = bench.last_test();
    if (bench.cutting() || test == nullptr || !test->verdict || bench.seen().shims_changed_since_last_test)
        return Role::quiet;
    if (test->worked_out && test->verdict->state == diagnose::State::pass) return Role::good;
    return Role::quiet;
}

}  // namespace

bool draw_now(Kit& kit, Bench& bench, JobState& state, const Area& area) {
    CardOptions card = card_in(area);
    bool to_the_notebook = false;
    if (card_begin(kit, "Now", card)) {
        const session::Now now = bench.now();
        heading(kit, now.heading);
        gap(kit, 2.0F);
        if (tone_of_now(bench) == Role::good) marked(kit, now.why, Role::good);
        else quiet(kit, now.why);
        gap(kit, 6.0F);
        const bool reads = bench.options().fence_station_mm.has_value();
        if (reads) caliper_fields(kit, bench, state.caliper);
        // Where the card is wide the button stands beside the fields: a low window then shows it without scrolling.
        const bool beside = reads && area.w > 560.0F;
        if (beside) ImGui::SameLine(0.0F, kit.px(24.0F));
        else if (reads) gap(kit, 4.0F);
        if (!now.button.empty() && strong_button(kit, (now.button + "##next").c_str(), 200.0F, hint_of(bench)))
            to_the_notebook = bench.next_step();
        other_button(kit, bench, state);
    }
    card_end(kit);
    return to_the_notebook;
}

}  // namespace offsquare::gui
