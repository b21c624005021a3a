// Fifth page of the notebook: a case closes only when a cut after the last repair passes.
#include <algorithm>

#include <fmt/format.h>

#include "gui/pages/notebook_pages.h"
#include "gui/pages/table.h"
#include "gui/state/pushing.h"
#include "lesson/cases.h"
#include "session/complaint.h"

namespace offsquare::gui {
namespace {

Role tone_of(session::Proved proved) {
    switch (proved) {
        case session::Proved::passed: return Role::good;
        case session::Proved::marked:
        case session::Proved::changing:
        case session::Proved::failed: return Role::wrong;
        case session::Proved::not_cut:
        case session::Proved::undecided: break;
    }
    return Role::read;
}

/// Tests and repairs in order, with those that no longer hold: a proof that failed does not vanish.
void what_was_done(Kit& kit, const Bench& bench) {
    line(kit, "What was done", Role::quiet, Face::label);
    if (bench.seen().repairs.empty()) quiet(kit, "Nothing has been put right yet.");
    for (const session::DeedWords& deed : session::what_was_done(bench.seen(), bench.view.units)) {
        paragraph(kit, fmt::format("{}. {}", deed.what, deed.came), deed.set_aside.empty() ? Role::text : Role::quiet);
        if (!deed.set_aside.empty()) quiet(kit, deed.set_aside);
        gap(kit, 4.0F);
    }
    key_value(kit, "checks and tests", std::to_string(bench.notes().size()));
    key_value(kit, "time", fmt::format("{:.0f} min", bench.seen().minutes));
    key_value(kit, "board used", base::show_about(bench.seen().stock_mm, bench.view.units));
}

void working(Kit& kit, const Bench& bench) {
    const session::Test* test = bench.last_test();
    if (test == nullptr || !test->worked_out) return;
    line(kit, "The proof's own working", Role::quiet, Face::label);
    const session::Working w = session::working(*test, bench.view.units);
    for (const session::WorkingLine& l : w.lines) working_row(kit, l.what, l.how, l.result, 100.0F);
    if (test->pooled_tests > 1)
        quiet(kit, fmt::format("The verdict rests on the mean of {} tests.", test->pooled_tests));
}

/// What became of what the owner says.
void complaint(Kit& kit, const Bench& bench) {
    const std::string words = session::complaint_words(bench.seen(), bench.took_hold());
    if (words.empty()) return;
    gap(kit, 6.0F);
    line(kit, "What the owner says", Role::quiet, Face::label);
    paragraph(kit, lesson::in_quotes(bench.scenario().complaint), Role::text, Face::number);
    paragraph(kit, words);
    if (session::complaint_of(bench.seen(), bench.took_hold()) == session::Became::felt)
        paragraph(kit, Pushing::found(bench));
}

/// The figures, as high as they are; what does not fit scrolls.
void figures(Kit& kit, const Bench& bench, ProofState& state, float width, float room) {
    if (plain_begin(kit, "figures", width, std::clamp(state.figures, 60.0F, std::max(60.0F, room)))) {
        working(kit, bench);
        gap(kit, 10.0F);
        if (!bench.of_a_real_saw()) what_was_done(kit, bench);
        state.figures = ImGui::GetCursorPosY() / kit.theme.scale + ImGui::GetScrollY() / kit.theme.scale + 8.0F;
    }
    plain_end(kit);
}

}  // namespace

void draw_proof_page(Kit& kit, const Bench& bench, ProofState& state, const Area& area) {
    CardOptions card = card_in(area);
    card.scrolls = true;
    if (card_begin(kit, "5  Proof: cut again", card)) {
        const session::ProofWords proof = session::proof_words(bench.seen(), bench.view.units);
        heading(kit, proof.heading);
        marked(kit, proof.why, tone_of(session::proof_of(bench.seen())));
        complaint(kit, bench);
        gap(kit, 10.0F);
        // Names and figures stay near each other; the strip that says so is seen beside them, or below.
        const float y = ImGui::GetCursorPosY() / kit.theme.scale;
        const float room = area.h - y - 16.0F;
        const float width = std::min(520.0F, area.w - 40.0F);
        ImGui::SetCursorPosX(kit.px(14.0F));
        figures(kit, bench, state, width, room);
        if (bench.has_strip() && !bench.of_a_real_saw()) {
            const bool beside = area.w - width > 560.0F;
            const float below = y + state.figures + 8.0F;
            draw_saw(kit, bench,
                     beside ? Area{width + 40.0F, y, area.w - width - 60.0F, room}
                            : Area{20.0F, below, area.w - 40.0F, area.h - below - 14.0F});
        }
    }
    card_end(kit);
}

}  // namespace offsquare::gui
