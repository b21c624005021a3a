// The readings in order, newest last, with those that no longer hold struck through.
#include <algorithm>

#include <fmt/format.h>

#include "gui/pages/notebook_pages.h"
#include "lesson/cases.h"

namespace offsquare::gui {
namespace {

void strike(Kit& kit, ImVec2 start, std::string_view value) {
    const ImFont* font = kit.font(Face::number);
    const float width = text_width(*font, font->FontSize, value);
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    const float y = start.y + 0.5F * ImGui::GetTextLineHeight() + kit.px(2.0F);
    ImGui::GetWindowDrawList()->AddLine({right - width, y}, {right, y}, kit.colour(Role::quiet), kit.px(1.4F));
}

void draw_note(Kit& kit, const Bench& bench, const session::Note& note, std::size_t number) {
    const session::NoteWords words = session::words_of(note, number, bench.seen().drawing, bench.view.units);
    paragraph(kit, words.title, note.holds() ? Role::text : Role::quiet, Face::label);
    if (!words.source.empty()) quiet(kit, words.source);
    for (const session::ReadingWords& r : words.readings) {
        const ImVec2 start = ImGui::GetCursorScreenPos();
        key_value(kit, r.name, r.value, note.holds() ? Role::read : Role::quiet);
        if (!note.holds()) strike(kit, start, r.value);
    }
    if (!words.set_aside.empty()) quiet(kit, words.set_aside);
    gap(kit, 8.0F);
}

/// Repairs stand among the readings where they were made: those of the events from one number to before another.
void draw_repairs(Kit& kit, const Bench& bench, std::size_t from, std::size_t before) {
    if (bench.of_a_real_saw()) return;
    for (const session::RepairNote& r : bench.seen().repairs) {
        if (r.event < from || r.event >= before) continue;
        marked(kit, fmt::format("{}{}.", session::repair_heading(r.fault, r.eased), r.by_shims ? ", by shims" : ""),
               Role::good);
        gap(kit, 8.0F);
    }
}

std::string cost_of(const Bench& bench) {
    if (bench.of_a_real_saw()) return "";
    return fmt::format("{:.0f} min, {} of board", bench.seen().minutes,
                       base::show_about(bench.seen().stock_mm, bench.view.units));
}

}  // namespace

bool draw_notes(Kit& kit, const Bench& bench, NotesState& state, const Area& area) {
    bool to_a_file = false;
    if (card_begin(kit, "Readings in order (± 95 %)", card_in(area))) {
        ImGui::SetCursorPos({kit.px(area.w - 170.0F), kit.px(12.0F)});
        to_a_file = button(kit, "Write the readings", 152.0F, !bench.notes().empty());
        if (const std::string cost = cost_of(bench); !cost.empty()) key_value(kit, "spent so far", cost);
        const std::string may_cost = lesson::cost_words(bench.scenario().budget, bench.view.units);
        if (!may_cost.empty() && !bench.of_a_real_saw()) key_value(kit, "it may cost", may_cost);
        rule(kit);
        ImGui::SetCursorPosX(kit.px(14.0F));  // its own margin aside, in line with the words above
        if (plain_begin(kit, "notes", area.w - 28.0F, area.h - ImGui::GetCursorPosY() / kit.theme.scale - 8.0F)) {
            std::size_t drawn_to = 0;  // the event up to which repairs are drawn
            for (std::size_t i = 0; i < bench.notes().size(); ++i) {
                const session::Note& note = bench.notes()[i];
                draw_repairs(kit, bench, drawn_to, note.event);
                drawn_to = note.event;
                draw_note(kit, bench, note, i + 1);
            }
            draw_repairs(kit, bench, drawn_to, bench.seen().events.size() + 1);
            if (bench.notes().empty())
                quiet(kit,
                      "Nothing has been read yet. Each check that you do is written down here, with how sure its "
                      "readings are.");
            // What was written last is seen. Three frames: the height of what is new is known only in the next one.
            if (state.seen != bench.changes()) state.to_end = 3;
            state.seen = bench.changes();
            if (state.to_end > 0) ImGui::SetScrollHereY(1.0F);
            state.to_end = std::max(0, state.to_end - 1);
        }
        plain_end(kit);
    }
    card_end(kit);
    return to_a_file;
}

}  // namespace offsquare::gui
