#include <fmt/format.h>

#include "gui/panels.h"

namespace offsquare::gui {
namespace {

/// Where the caliper goes: typed, or dragged on the table.
void caliper_fields(Kit& kit, Bench& bench, PanelState& state) {
    const auto parse = [&](std::string_view text) -> base::Result<double> {
        const auto typed = base::parse_length(text, bench.view.units == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch);
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
        const auto value = number_field(kit, labels[i], state.fields[labels[i]], base::show_size(now, bench.view.units), parse, o);
        ImGui::EndGroup();
        const double most = 0.4 * bench.last_test()->cut.strip->length_mm;
        if (value && *value >= 0.0 && *value <= most) bench.in_from_end.at(static_cast<std::size_t>(i)) = *value;
        else if (value) bench.say(fmt::format("The caliper may stand up to {} in from an end.", base::show_size(std::floor(most), bench.view.units)), true);
    }
}

void more_buttons(Kit& kit, Bench& bench) {
    const session::Stage stage = bench.trial().stage;
    if (stage == session::Stage::work_out && !bench.cutting()) {
        if (button(kit, "Read fence end again")) bench.read(session::End::fence);
        ImGui::SameLine(0.0F, kit.px(8.0F));
        if (button(kit, "Read far end again")) bench.read(session::End::far);
    } else if (bench.trial().proved) {
        if (button(kit, "Start again")) bench.start_again();
    } else if (stage == session::Stage::shim && !bench.cutting()) {
        if (button(kit, "Repeat the test instead")) bench.act(session::CutTest{});
    }
}

Role tone_of(const Bench& bench) {
    const session::Test* test = bench.last_test();
    if (bench.cutting() || test == nullptr || !test->verdict || bench.trial().shims_changed_since_last_test()) return Role::quiet;
    if (test->worked_out && test->verdict->state == diagnose::State::pass) return Role::good;
    return Role::quiet;
}

}  // namespace

float draw_now(Kit& kit, Bench& bench, PanelState& state, const Area& area) {
    CardOptions card;
    card.at = {area.x, area.y};
    card.width = area.w;
    card.height = area.h;
    float used = area.h;
    if (card_begin(kit, "Now", card)) {
        const session::Now now = bench.now();
        heading(kit, now.heading);
        gap(kit, 2.0F);
        if (tone_of(bench) == Role::good) marked(kit, now.why, Role::good);
        else quiet(kit, now.why);
        gap(kit, 6.0F);
        const bool reads = bench.options().fence_station_mm.has_value();
        if (reads) caliper_fields(kit, bench, state);
        if (reads) gap(kit, 4.0F);
        if (!now.button.empty() && strong_button(kit, (now.button + "##next").c_str(), 200.0F, "or press N")) bench.next_step();
        more_buttons(kit, bench);
        used = (ImGui::GetCursorPosY() + ImGui::GetScrollY()) / kit.theme.scale + 12.0F;
    }
    card_end(kit);
    return used;
}

}  // namespace offsquare::gui
