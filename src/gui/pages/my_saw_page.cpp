// "My saw" as a whole: its header, where its cards stand, its keys.
#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "gui/kit/input.h"
#include "gui/pages/caution_line.h"
#include "gui/pages/layout.h"
#include "gui/pages/my_saw_parts.h"

namespace offsquare::gui {

using namespace layout;

namespace {

constexpr float curve_height = 188.0F;
constexpr float practice_width = 376.0F;
constexpr float least_log = 102.0F;   ///< its name and two whole lines
constexpr float least_page = 800.0F;  ///< a lower window scrolls, so that the strong button is never covered

void head(Kit& kit, Bench& bench, MySawState& state, float width) {
    constexpr float buttons = 324.0F;
    constexpr float title_left = 58.0F;  ///< beside the mark
    ImGui::SetCursorPos({kit.px(title_left), kit.px(18.0F)});
    const saws::Sled& sled = state.saw.sled();
    const std::string name = sled.saw.empty() ? sled.name : fmt::format("{}, on {}", sled.name, sled.saw);
    const float room = width - title_left - buttons - 32.0F;
    constexpr float least_room = 60.0F;  // less says nothing, and stands under the buttons
    if (room >= least_room) line(kit, "My saw: " + name, Role::text, Face::title, room);
    ImGui::SetCursorPos({kit.px(width - buttons - edge), kit.px(12.0F)});
    if (button(kit, "Another saw", 108.0F)) open_sheet(state, MySheet::another);
    ImGui::SameLine(0.0F, kit.px(8.0F));
    if (button(kit, "Print", 62.0F)) open_sheet(state, MySheet::print);
    ImGui::SameLine(0.0F, kit.px(8.0F));
    if (button(kit, "View", 58.0F)) bench.sheets.settings = true;
    ImGui::SameLine(0.0F, kit.px(8.0F));
    if (button(kit, "Keys", 62.0F)) bench.sheets.keys = true;
    page_rule(kit, header);
}

/// Answer, what else would look the same, and the log, one below the other in this place.
void right_column(Kit& kit, Bench& bench, MySawState& state, const Area& area) {
    const float besides = state.besides_height;
    const float now = std::min(state.now_height, area.h - besides - least_log - 2.0F * between);
    draw_my_now(kit, bench, state, {area.x, area.y, area.w, now});
    float y = area.y + now + between;
    draw_my_besides(kit, bench, state, {area.x, y, area.w, besides});
    y += besides + between;
    draw_my_log(kit, bench, state, {area.x, y, area.w, area.y + area.h - y});
}

bool practice_and_caution(Kit& kit, Bench& bench, const MySawState& state, const Area& area) {
    const float practice = area.h - caution_height - between;
    const bool wanted = draw_my_practice(kit, state, {area.x, area.y, area.w, practice});
    draw_caution_line(kit, bench, {area.x, area.y + practice + between, area.w, caution_height});
    return wanted;
}

bool wide(Kit& kit, Bench& bench, MySawState& state, float w, float height) {
    const float h = std::max(least_page, height);
    const float right = std::clamp(0.478F * w, 526.0F, 640.0F);
    if (h > height) w -= 10.0F;  // for the scroll bar
    const float left = w - right - 3.0F * edge;
    const float foot = h - edge - curve_height;
    draw_my_strip(kit, bench, state, {edge, top, left, foot - between - top});
    right_column(kit, bench, state, {edge + left + edge, top, right, foot - between - top});
    const float curve = w - practice_width - 2.0F * edge - between;
    draw_my_curve(kit, bench, state, {edge, foot, curve, curve_height});
    return practice_and_caution(kit, bench, state, {edge + curve + between, foot, practice_width, curve_height});
}

/// One column that scrolls: the strip and the answer fill the window, the rest follows.
bool narrow_page(Kit& kit, Bench& bench, MySawState& state, float w, float h) {
    const float width = w - 2.0F * edge - 10.0F;
    const bool two_panels = width > 800.0F;
    const float strip = two_panels ? std::max(318.0F, std::min(400.0F, h - top - between - state.now_height)) : 450.0F;
    draw_my_strip(kit, bench, state, {edge, top, width, strip});
    float y = top + strip + between;
    const auto below = [&](float height) { return std::exchange(y, y + height + between); };
    draw_my_now(kit, bench, state, {edge, below(state.now_height), width, state.now_height});
    draw_my_besides(kit, bench, state, {edge, below(state.besides_height), width, state.besides_height});
    draw_my_log(kit, bench, state, {edge, below(200.0F), width, 200.0F});
    draw_my_curve(kit, bench, state, {edge, below(curve_height), width, curve_height});
    return practice_and_caution(kit, bench, state, {edge, below(curve_height), width, curve_height});
}

void follow(Bench& bench, MySawState& state) {
    const double dt = static_cast<double>(ImGui::GetIO().DeltaTime);
    state.rest_s = state.saw.draft == state.seen ? state.rest_s + dt : 0.0;
    state.field_s = text_field_active() ? 0.0 : state.field_s + dt;
    state.seen = state.saw.draft;
    state.saw.follow(bench.view.units, hand_at_rest(state));
    state.seen.fell = state.saw.draft.fell;
}

/// A hand that types goes on for so long when its field has gone.
constexpr double types_on_s = 1.0;

}  // namespace

bool entered() {
    return ImGui::IsItemDeactivated() && (ImGui::IsKeyPressed(static_cast<int>(Key::enter), false) ||
                                          ImGui::IsKeyPressed(static_cast<int>(Key::keypad_enter), false));
}

bool strip_is_typed(const MySawState& state) { return !state.saw.draft.untouched() || state.field_s < types_on_s; }

void open_my_saw(MySawState& state) {
    state.saw.open = true;
    state.takes_keyboard = true;
}

void my_next_step(Bench& bench, MySawState& state) {
    MySaw& saw = state.saw;
    const MyNow now = saw.now();
    switch (now.todo) {
        case MyTodo::type_on:
        case MyTodo::answer_first: return;
        case MyTodo::how_to_cut: return open_sheet(state, MySheet::how_to_cut);
        case MyTodo::print: return open_sheet(state, MySheet::print);
        case MyTodo::what_is_in:
            if (saw.may_write_strip()) open_sheet(state, MySheet::what_is_in);
            return;
        case MyTodo::write:
        case MyTodo::it_is_in: break;
    }
    if (!saw.may_write_strip()) return;
    const auto moved =
        now.todo == MyTodo::it_is_in ? std::optional(saws::as_moved(*saw.answer())) : std::optional<saws::ShimsMoved>();
    if (const auto done = saw.write_strip(moved); !done) return bench.say(done.error().message, true);
    bench.say(moved ? "Written down. Now cut the second strip: it proves the shim." : "Written down.");
    state.takes_keyboard = moved.has_value();
}

void my_saw_keys(Bench& bench, MySawState& state) {
    // With Ctrl out of a field too, where a letter is only a letter.
    if (typed(U'n') || pressed(Key::n, {true, false, false})) {
        leave_field();
        my_next_step(bench, state);
    }
    if (typed(U'p')) open_sheet(state, MySheet::print);
}

MySawWish draw_my_saw(Kit& kit, Bench& bench, MySawState& state, float width, float height) {
    MySawWish wish;
    follow(bench, state);
    const std::pair heights{state.now_height, state.besides_height};
    const bool practise =
        width >= narrow ? wide(kit, bench, state, width, height) : narrow_page(kit, bench, state, width, height);
    head(kit, bench, state, width);
    const MySheet open = state.sheets.open;
    draw_my_sheets(kit, bench, state);
    draw_my_log_sheets(kit, bench, state);
    draw_my_check_sheet(kit, bench, state);
    draw_my_print(kit, bench, state);
    state.sheets.before = open;
    state.moving = heights != std::pair{state.now_height, state.besides_height} || state.log_to_end > 0 ||
                   (state.field_s > 0.0 && state.field_s < types_on_s);
    if (practise) {
        auto like_it = state.saw.one_like_it();
        if (like_it) wish.practise_on = std::move(*like_it);
        else bench.say(like_it.error().message, true);
    }
    return wish;
}

}  // namespace offsquare::gui
