#include "gui/pages/keys.h"

#include <algorithm>

#include "gui/kit/input.h"
#include "gui/pages/places.h"
#include "gui/pages/sheets.h"

namespace offsquare::gui {
namespace {

bool any_sheet(const Bench& bench, const PageState& state) {
    return any_sheet_open(bench.sheets) || state.files.chooser.is_open() || any_sheet_open(state.my_saw);
}

void control_keys(Bench& bench, PageState& state) {
    constexpr Modifiers ctrl{true, false, false};
    constexpr Modifiers ctrl_shift{true, true, false};
    if (pressed(Key::o, ctrl)) open_file(state.files);
    if (pressed(Key::s, ctrl)) save_file(state.files);
    if (pressed(Key::p, ctrl)) save_picture(state.files);
    if (text_field_active()) return;
    if (pressed(Key::z, ctrl)) bench.undo();
    if (pressed(Key::y, ctrl) || pressed(Key::z, ctrl_shift)) bench.redo();
}

void units_and_paper(Bench& bench) {
    if (typed(U'u'))
        bench.choose_units(bench.view.units == base::Units::metric ? base::Units::imperial : base::Units::metric);
    if (typed(U'd')) bench.view.scheme = bench.view.scheme == Scheme::light ? Scheme::dark : Scheme::light;
    if (typed(U'!')) bench.sheets.cautions = true;
    if (typed(U'?')) bench.sheets.keys = true;
}

/// The first screen stands in front of the bench: no key reaches what waits there.
void start_keys(Bench& bench, PageState& state) {
    if (pressed(Key::o, {true, false, false})) open_file(state.files);
    units_and_paper(bench);
    for (std::size_t i = 0; i < doorways.size(); ++i) {
        if (typed(U'1' + static_cast<char32_t>(i))) return open_door(bench, state, doorways.at(i));
    }
    if (!pressed(Key::escape)) return;
    if (state.start.from_my_saw) open_my_saw(bench, state);
    else go_on(bench, state);
}

/// Leads back from everywhere: 0, and with Ctrl out of a field too, which takes what was typed. While a strip is typed
/// a bare 0 may be meant for a field.
bool leads_back(PageState& state) {
    const bool bare = typed(U'0') && !(state.my_saw.saw.open && strip_is_typed(state.my_saw));
    if (!bare && !pressed(Key::n0, {true, false, false})) return false;
    leave_field();
    return state.start.wanted = true;
}

void view_keys(Bench& bench, PageState& state) {
    if (typed(U'b')) open_notebook(state, !state.notebook.hunt.open);
    if (typed(U'h')) open_push(state, !state.push.pushing.open);
    units_and_paper(bench);
    if (typed(U't')) bench.view.reveal = !bench.view.reveal;
    if (typed(U'+')) bench.view.zoom = std::min(12.0, bench.view.zoom * 1.3);
    if (typed(U'-')) bench.view.zoom = std::max(1.0, bench.view.zoom / 1.3);
    if (typed(U's')) {
        open_notebook(state, false);
        open_push(state, false);
        bench.view.looking_at =
            bench.view.looking_at == session::Stage::set_up ? std::optional<session::Stage>() : session::Stage::set_up;
    }
    if (typed(U'c')) bench.show_class(!bench.view.for_class);
    if (!pressed(Key::escape)) return;
    if (bench.view.for_class) bench.show_class(false);
    open_notebook(state, false);
    open_push(state, false);
    bench.view.looking_at.reset();
}

/// The bench waits behind it: no key of the bench reaches that.
void my_saw_alone(Bench& bench, PageState& state) {
    units_and_paper(bench);
    my_saw_keys(bench, state.my_saw);
    const bool escape = pressed(Key::escape);
    if (escape && state.my_saw.saw.draft.corrects) return state.my_saw.saw.give_up_correction();
    if (typed(U'm') || escape) lead_back(bench, state);
}

void cut_keys(Bench& bench, PageState& state) {
    if (state.push.pushing.open) {
        if (typed(U'n') && state.push.for_notebook && has_pushed(state.push)) open_push(state, false);
        return;
    }
    if (state.notebook.hunt.open) {
        if (typed(U'n')) state.notebook.hunt.next_step(bench);
        if (typed(U'e') && state.notebook.hunt.page == session::Leaf::checks)
            state.notebook.hunt.typing.open = !state.notebook.hunt.typing.open;
        return;
    }
    if (typed(U'n') && bench.next_step()) open_notebook_at_suspects(state);
    const bool readable = bench.has_strip() && !bench.cutting();
    if (typed(U'r') && readable) {
        bench.read(session::End::fence);
        bench.read(session::End::far);
    }
    if (typed(U'p') && bench.last_cut() > 0.0) {
        if (!bench.view.playing && !bench.cutting()) bench.view.progress = 0.0;
        bench.view.playing = !bench.view.playing;
    }
    if (typed(U'[')) bench.view.progress = std::max(0.0, bench.view.progress - 1.0), bench.view.playing = false;
    if (typed(U']'))
        bench.view.progress = std::min(bench.last_cut(), bench.view.progress + 1.0), bench.view.playing = false;
}

}  // namespace

void handle_keys(Bench& bench, PageState& state) {
    if (ends_now()) state.window.wants_close = true;
    if (any_sheet(bench, state)) return;
    if (state.start.open) return start_keys(bench, state);
    if (leads_back(state)) return;
    if (state.my_saw.saw.open) return my_saw_alone(bench, state);
    if (typed(U'm')) return open_my_saw(bench, state);
    control_keys(bench, state);
    view_keys(bench, state);
    cut_keys(bench, state);
    // Sheets have small letters: whoever opens one has left the class view.
    if (bench.view.for_class && (any_sheet(bench, state) || bench.view.looking_at)) bench.view.for_class = false;
}

}  // namespace offsquare::gui
