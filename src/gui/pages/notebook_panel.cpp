// The notebook as a whole: the open page at the left, what to do now and the readings in order at the right.
#include <algorithm>

#include "gui/pages/caution_line.h"
#include "gui/pages/layout.h"
#include "gui/pages/notebook_pages.h"

namespace offsquare::gui {

using namespace layout;

namespace {

constexpr float hunt_now_height = 226.0F;
constexpr float least_page = 616.0F;  ///< of the open page; a lower window scrolls

void draw_open_page(Kit& kit, Bench& bench, NotebookState& state, const Area& area) {
    switch (state.hunt.page) {
        case session::Leaf::symptom: return draw_symptom_page(kit, bench, area);
        case session::Leaf::suspects: return draw_suspects_page(kit, bench, state.hunt, area);
        case session::Leaf::checks: return draw_checks_page(kit, bench, state.hunt, state.typed, area);
        case session::Leaf::repairs: return draw_repairs_page(kit, bench, state.hunt, area);
        case session::Leaf::proof: break;
    }
    draw_proof_page(kit, bench, state.proof, area);
}

bool wide(Kit& kit, Bench& bench, NotebookState& state, float w, float h) {
    const float left = w - side - 2.0F * edge - between - 4.0F;
    const float height = std::max(least_page, h - top - edge);
    const float x = edge + left + edge;
    draw_open_page(kit, bench, state, {edge, top, left, height});
    draw_hunt_now(kit, bench, state, {x, top, side, hunt_now_height});
    const float notes_y = top + hunt_now_height + between;
    const float notes_height = top + height - notes_y - caution_height - between;
    const bool to_a_file = draw_notes(kit, bench, state.notes, {x, notes_y, side, notes_height});
    draw_caution_line(kit, bench, {x, top + height - caution_height, side, caution_height});
    return to_a_file;
}

/// One column that scrolls: what to do now first, so that it is seen.
bool one_column(Kit& kit, Bench& bench, NotebookState& state, float w) {
    constexpr float notes_height = 300.0F;
    const float width = w - 2.0F * edge - 10.0F;
    float y = top_of_two_rows;
    draw_hunt_now(kit, bench, state, {edge, y, width, hunt_now_height});
    y += hunt_now_height + between;
    draw_open_page(kit, bench, state, {edge, y, width, least_page + 60.0F});
    y += least_page + 60.0F + between;
    const bool to_a_file = draw_notes(kit, bench, state.notes, {edge, y, width, notes_height});
    draw_caution_line(kit, bench, {edge, y + notes_height + between, width, caution_height});
    return to_a_file;
}

}  // namespace

bool draw_notebook(Kit& kit, Bench& bench, NotebookState& state, float width, float height) {
    state.hunt.follow(bench);
    return width >= narrow ? wide(kit, bench, state, width, height) : one_column(kit, bench, state, width);
}

void draw_hunt_now(Kit& kit, Bench& bench, NotebookState& state, const Area& area) {
    Hunt& hunt = state.hunt;
    CardOptions card = card_in(area);
    card.scrolls = true;
    if (card_begin(kit, "Now##hunt", card)) {
        const session::Now now = hunt.now(bench);
        const bool proved = hunt.page == session::Leaf::proof && hunt.closed(bench);
        heading(kit, now.heading);
        gap(kit, 2.0F);
        if (proved) marked(kit, now.why, Role::good);
        else quiet(kit, now.why);
        gap(kit, 6.0F);
        if (!now.button.empty() && strong_button(kit, (now.button + "##hunt").c_str(), 214.0F, "or press N"))
            hunt.next_step(bench);
        const bool of_a_case = !bench.scenario().complaint.empty() && !bench.of_a_real_saw();
        if (proved && of_a_case && now.button.empty() && strong_button(kit, "The next case##hunt", 214.0F))
            state.next_case = true;
    }
    card_end(kit);
}

}  // namespace offsquare::gui
