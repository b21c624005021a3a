// The answer, and what goes with it: how thick, behind which end, from which pieces; what looks like a slip; what else
// would look the same.
#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "gui/pages/my_saw_parts.h"
#include "session/story.h"

namespace offsquare::gui {
namespace {

constexpr float padding = 24.0F;

/// The question with both readings of it: what would fit, and what stands there.
void question(Kit& kit, MySawState& state, const saws::Question& q, base::Units units) {
    MySaw& saw = state.saw;
    heading(kit, "Is this meant?");
    gap(kit, 2.0F);
    marked(kit, q.says, Role::wrong);
    gap(kit, 8.0F);
    const auto take = [&](const std::string& words) {
        if (!button(kit, words.c_str())) return;
        saw.take(q);
        state.rest_s = 10.0;  // nobody is typing
    };
    if (q.ends_exchanged) take("Exchange the two ends");
    else if (q.exchanged_with) take("Exchange them");
    else if (q.meant) {
        const std::string text = saw.meant_text(q);
        const bool bare = text.find(' ') == std::string::npos;
        take(bare ? fmt::format("{} {} was meant", text, unit_name(units)) : text + " was meant");
    }
    if (q.ends_exchanged || q.meant) ImGui::SameLine(0.0F, kit.px(10.0F));
    if (button(kit, "It is meant as it stands")) saw.is_meant(q);
    if (!q.other_entry) return;
    gap(kit, 4.0F);
    if (!link(kit, fmt::format("Look at entry {}##entry", *q.other_entry).c_str())) return;
    state.sheets.entry = q.other_entry;
    open_sheet(state, MySheet::entry);
}

/// Without its unit, which stands behind the sum.
std::string thickness_number(double mm, base::Units units) {
    const std::string text = base::show_small(mm, units);
    return text.substr(0, text.rfind(' '));
}

void drawer_line(Kit& kit, MySawState& state, const saws::Answer& a, base::Units units) {
    if (!state.saw.asks_for_shim()) return;
    gap(kit, 4.0F);
    if (!a.drawer_typed) {
        if (button(kit, "Type what is in your drawer, once")) open_sheet(state, MySheet::drawer);
        return;
    }
    const auto& best = a.test.proposal->best;
    if (best.pieces.empty()) return quiet(kit, session::stack_sentence(a.test, units));
    line(kit, "From your drawer. Unplug the saw first", Role::quiet, Face::label);
    const float room = ImGui::GetContentRegionAvail().x / kit.theme.scale;
    float used = 0.0F;
    for (std::size_t i = 0; i < best.pieces.size(); ++i) {
        const shim::PickedShim& piece = best.pieces[i];
        const std::string value = thickness_number(piece.thickness_mm, units);
        ChipOptions options;
        options.height = 34.0F;
        options.width = chip_width(kit, piece.name, value) + 10.0F;
        if (i > 0 && used + options.width + 8.0F <= room) ImGui::SameLine(0.0F, kit.px(8.0F));
        else if (i > 0) used = 0.0F;
        used += options.width + 8.0F;
        if (chip(kit, fmt::format("piece {}", i).c_str(), piece.name, value, true, options))
            open_sheet(state, MySheet::what_is_in);
    }
    const std::string sum = fmt::format("= {}, leaves {}", base::show_small(best.thickness_mm, units),
                                        base::show_angle_short(std::abs(best.remainder_rad.value), units));
    const float wide = paragraph_size(kit, sum, Face::number, 2000.0F).x / kit.theme.scale;
    if (used + wide + 6.0F <= room) {
        ImGui::SameLine(0.0F, kit.px(12.0F));
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() + kit.px(10.0F));
    }
    line(kit, sum, Role::text, Face::number);
}

void buttons(Kit& kit, Bench& bench, MySawState& state, const MyNow& now) {
    if (now.button.empty() || now.todo == MyTodo::answer_first) return;
    gap(kit, 8.0F);
    if (std::exchange(state.goes_to, MyPlace::none) == MyPlace::button) kit.tab_order.choose_next();
    if (strong_button(kit, (now.button + "##next").c_str(), 200.0F)) my_next_step(bench, state);
    const float y = ImGui::GetItemRectMin().y + kit.px(7.0F);
    const auto beside = [&](const char* label) {
        ImGui::SameLine(0.0F, kit.px(10.0F));
        ImGui::SetCursorScreenPos({ImGui::GetCursorScreenPos().x, y});
        return button(kit, label);
    };
    const auto& a = state.saw.answer();
    const bool may_shim = a && state.saw.asks_for_shim() && !state.saw.draft.corrects;
    if (may_shim && beside("Other shims")) open_sheet(state, MySheet::what_is_in);
    if (state.saw.answer() && state.saw.answer()->shim && beside("Why? the working"))
        open_sheet(state, MySheet::working);
    if (!state.saw.answer() && state.saw.tests() == 0 && beside("My drawer")) open_sheet(state, MySheet::drawer);
}

/// `scrolls`: there is no room for all of it. Then what is to be done stands before what can be read on.
void answer(Kit& kit, Bench& bench, MySawState& state, bool scrolls) {
    const base::Units units = bench.view.units;
    const MyNow now = state.saw.now();
    const auto& a = state.saw.answer();
    paragraph(kit, now.heading, Role::text, a && a->shim ? Face::large : Face::heading);
    gap(kit, 4.0F);
    for (const std::string& trouble : troubles_in(state.saw.draft, units)) {
        if (hand_at_rest(state)) marked(kit, trouble, Role::wrong);
    }
    const std::string why = now.give_or_take.empty() ? now.why : now.give_or_take + " " + now.why;
    if (now.good) marked(kit, now.square, Role::good);
    else if (a && !a->cannot_be.empty()) marked(kit, why, Role::wrong);
    // What is to be looked at first is seen without scrolling, and so are the pieces and what is to be pressed.
    if (now.look_first) paragraph(kit, now.proof);
    if (scrolls && a) drawer_line(kit, state, *a, units);
    if (scrolls) buttons(kit, bench, state, now);
    if (!(a && !a->cannot_be.empty()) && !why.empty() && !now.good) quiet(kit, why);
    if (a && !a->shim && !now.square.empty()) quiet(kit, now.square);
    if (!now.which_end.empty() && !now.good) quiet(kit, now.which_end);
    if (!now.proof.empty() && !now.look_first) quiet(kit, now.proof);
    if (!scrolls && a) drawer_line(kit, state, *a, units);
    if (!scrolls) buttons(kit, bench, state, now);
}

/// Readings that agree are no comfort where a shim did not do what it should.
bool says_they_agree(const MySawState& state) {
    const MySaw& saw = state.saw;
    return saw.besides()->agree && saw.questions().empty() && !state.look_first;
}

float besides_height(const Kit& kit, const MySawState& state, float width) {
    const saws::Besides& b = *state.saw.besides();
    const auto height = [&](const std::string& words) {
        return words.empty() ? 0.0F : paragraph_size(kit, words, Face::body, width).y / kit.theme.scale + 6.0F;
    };
    float lines = says_they_agree(state) ? 24.0F : 0.0F;
    for (const std::string& sentence : b.contradicts) lines += height(sentence);
    return std::max(66.0F, 12.0F + lines + (b.contradicts.empty() ? height(b.says) : 0.0F) + 14.0F);
}

/// The line that the lower edge of a card that scrolls would cut through is not seen.
void cover_half_line(Kit& kit, const Area& area) {
    const ImVec2 card = ImGui::GetWindowPos();
    const float bottom = card.y + kit.px(area.h) - 1.0F;
    for (const Drawn& d : kit.record.items()) {
        const bool cut = d.kind == Kind::text && d.lo.x >= card.x && d.lo.y < bottom && d.hi.y > bottom - kit.px(4.0F);
        if (!cut || d.hi.x > card.x + kit.px(area.w)) continue;
        // One line is the letters, each further one a step.
        const float letters = kit.font(Face::body)->FontSize;
        const float step = paragraph_size(kit, "a\na", Face::body, 2000.0F).y - letters;
        float line = d.lo.y;
        while (line + letters <= bottom - kit.px(4.0F)) line += step;
        if (line >= bottom) continue;
        const float right = card.x + kit.px(area.w) - ImGui::GetStyle().ScrollbarSize - 1.0F;
        ImGui::GetWindowDrawList()->AddRectFilled({card.x + kit.px(8.0F), line - 1.0F}, {right, bottom},
                                                  kit.colour(Role::card));
    }
}

}  // namespace

void draw_my_now(Kit& kit, Bench& bench, MySawState& state, const Area& area) {
    CardOptions card = card_in(area);
    card.padding = {padding, 14.0F};
    card.scrolls = area.h < state.now_height - 1.0F;
    if (card_begin(kit, "Now##mine", card)) {
        const MySaw& saw = state.saw;
        state.look_first = saw.look_first();
        const std::string kept = saw.why_not_kept();
        if (!saw.questions().empty() && !hand_at_rest(state)) heading(kit, "Go on typing");
        else if (!saw.questions().empty()) question(kit, state, saw.questions().front(), bench.view.units);
        else answer(kit, bench, state, card.scrolls);
        if (!kept.empty()) {
            gap(kit, 6.0F);
            marked(kit, kept, Role::wrong);
        }
        state.goes_to = MyPlace::none;  // there was nothing to go to
        if (card.scrolls) cover_half_line(kit, area);
        state.now_height = std::round(ImGui::GetCursorPosY() / kit.theme.scale) + 6.0F;
    }
    card_end(kit);
}

void draw_my_besides(Kit& kit, Bench& bench, MySawState& state, const Area& area) {
    static_cast<void>(bench);
    const MySaw& saw = state.saw;
    CardOptions card = card_in(area, false);
    card.padding = {padding, 14.0F};
    if (card_begin(kit, "Readings##mine", card)) {
        const bool there = saw.besides().has_value();
        const float text = area.w - 2.0F * padding - 140.0F;
        if (!there) {
            const bool weighing = saw.weighing();
            quiet(kit, weighing ? "Weighing what was read…"
                                : "What else would look the same stands here once a strip is typed.");
            ImGui::SetCursorPos({kit.px(area.w - padding - 116.0F), kit.px(12.0F)});
            if (button(kit, "Other checks", 116.0F)) open_sheet(state, MySheet::checks);
        } else {
            const saws::Besides& b = *saw.besides();
            ImGui::BeginGroup();
            if (says_they_agree(state)) marked(kit, "Your readings agree with each other.", Role::good), gap(kit, 2.0F);
            for (const std::string& sentence : b.contradicts) paragraph(kit, sentence, Role::wrong, Face::body, text);
            // What does not fit is read again before anything else is checked.
            if (b.contradicts.empty()) paragraph(kit, b.says, Role::quiet, Face::body, text);
            ImGui::EndGroup();
            ImGui::SetCursorPos({kit.px(area.w - padding - 116.0F), kit.px(16.0F)});
            if (button(kit, b.check ? "Show how" : "Other checks", 116.0F)) {
                if (b.check) state.checks.check = *b.check;
                state.checks.typing = false;
                open_sheet(state, MySheet::checks);
            }
            state.besides_height = besides_height(kit, state, text);
        }
        if (!there) state.besides_height = 58.0F;
    }
    card_end(kit);
}

}  // namespace offsquare::gui
