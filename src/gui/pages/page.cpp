#include "gui/pages/page.h"

#include <algorithm>
#include <utility>

#include "gui/pages/caution_line.h"
#include "gui/pages/class_page.h"
#include "gui/pages/header.h"
#include "gui/pages/keys.h"
#include "gui/pages/layout.h"
#include "gui/pages/places.h"
#include "gui/pages/sheets.h"

namespace offsquare::gui {

using namespace layout;

namespace {

constexpr float chart_height = 188.0F;
constexpr float caution_line = 46.0F;  ///< where it has the width for one line
constexpr float offer_height = 48.0F;
constexpr float low = 790.0F;  ///< below this the caution stands under the chart: the working needs the height
constexpr float scroll_bar = 10.0F;

float now_height(const Bench& bench, bool wide) {
    if (bench.options().fence_station_mm.has_value()) return wide ? 192.0F : 274.0F;
    const bool marked = !bench.cutting() && session::proof_of(bench.seen()) == session::Proved::marked;
    if (marked) return wide ? 200.0F : 224.0F;  // the verdict, and what is seen on the face
    if (wide) return 176.0F;
    const bool short_words = bench.next().todo == session::Todo::put_shims || bench.seen().proved;
    return short_words && !bench.cutting() ? 192.0F : 212.0F;
}

void now_card(Kit& kit, Bench& bench, PageState& state, const Area& area) {
    if (draw_now(kit, bench, state.job, area)) open_notebook_at_suspects(state);
}

void right_column(Kit& kit, Bench& bench, PageState& state, Area area, bool with_caution) {
    if (with_caution) {
        draw_caution_line(kit, bench, {area.x, area.y + area.h - caution_height, area.w, caution_height});
        area.h -= caution_height + between;
    }
    if (bench.stage() == session::Stage::set_up) return draw_setup(kit, bench, state.set_up, area);
    const float now = now_height(bench, false);
    const float drawer_height = std::clamp(area.h - now - 2.0F * between - 256.0F, 154.0F, 240.0F);
    now_card(kit, bench, state, {area.x, area.y, area.w, now});
    const float working = area.h - now - drawer_height - 2.0F * between;
    draw_working(kit, bench, {area.x, area.y + now + between, area.w, working});
    draw_drawer(kit, bench, state.job, {area.x, area.y + area.h - drawer_height, area.w, drawer_height});
}

/// The table, and above it an offer of unsaved work while there is one.
void table_with_offer(Kit& kit, Bench& bench, PageState& state, bool scrolls, Area area) {
    if (!state.start.was_open && state.files.unsaved != nullptr && state.files.unsaved->offers()) {
        draw_offer(kit, bench, *state.files.unsaved, {area.x, area.y, area.w, offer_height});
        area.y += offer_height + between;
        area.h -= offer_height + between;
    }
    draw_table(kit, bench, state.table, scrolls, area);
}

void wide_page(Kit& kit, Bench& bench, PageState& state, float w, float height) {
    const bool scrolls = height < least_height;
    const float h = std::max(least_height, height);
    const float left = w - side - 2.0F * edge - between - 4.0F;
    const float top = header + between;
    const bool caution_left = h < low;
    const float foot = h - edge - (caution_left ? caution_line + between : 0.0F);
    const float table = foot - top - chart_height - between;
    table_with_offer(kit, bench, state, scrolls, {edge, top, left, table});
    draw_chart(kit, bench, {edge, top + table + between, left, chart_height});
    if (caution_left) draw_caution_line(kit, bench, {edge, foot + between, left, caution_line});
    right_column(kit, bench, state, {edge + left + edge, top, side, h - top - edge}, !caution_left);
}

/// Working and drawer beside each other, or one under the other where the width is too small. Returns where they end.
float working_and_drawer(Kit& kit, Bench& bench, JobState& job, float y, float width) {
    constexpr float least = 720.0F;
    constexpr float height = 264.0F;
    const bool beside = width >= least;
    const float each = beside ? (width - between) / 2.0F : width;
    draw_working(kit, bench, {edge, y, each, height});
    const float x = beside ? edge + each + between : edge;
    const float drawer_y = beside ? y : y + height + between;
    draw_drawer(kit, bench, job, {x, drawer_y, each, height});
    return drawer_y + height + between;
}

/// One column that scrolls: the table and what is to be done now fill the window, the rest follows.
void narrow_page(Kit& kit, Bench& bench, PageState& state, float w, float h) {
    constexpr float least_table = 224.0F;
    constexpr float setup_seen = 300.0F;  ///< of the set-up, without scrolling
    constexpr float setup_height = 560.0F;
    const bool set_up = bench.stage() == session::Stage::set_up;
    const float width = w - 2.0F * edge - scroll_bar;
    const float top = two_rows + between;
    const float now = now_height(bench, true);
    const float table = std::max(least_table, h - top - between - (set_up ? setup_seen : now + between));
    table_with_offer(kit, bench, state, true, {edge, top, width, table});
    float y = top + table + between;
    if (set_up) {
        draw_setup(kit, bench, state.set_up, {edge, y, width, setup_height});
        y += setup_height + between;
    } else {
        now_card(kit, bench, state, {edge, y, width, now});
        y += now + between;
        draw_chart(kit, bench, {edge, y, width, chart_height});
        y = working_and_drawer(kit, bench, state.job, y + chart_height + between, width);
    }
    draw_caution_line(kit, bench, {edge, y, width, caution_line});
}

/// True: it has a header of its own.
bool my_saw_page(Kit& kit, Bench& bench, PageState& state, float w, float h) {
    if (!state.my_saw.saw.open) return false;
    const MySawWish wish = draw_my_saw(kit, bench, state.my_saw, w, h);
    if (draw_mark(kit, {0.0F, 0.0F, w, header})) lead_back(bench, state);
    if (wish.practise_on) practise_on(bench, state, *wish.practise_on);
    return true;
}

/// From the notebook to the sled under the hand, and back there afterwards.
void take_hold_if_wanted(PageState& state) {
    if (!std::exchange(state.notebook.hunt.wants_hold, false)) return;
    state.push.for_notebook = true;
    open_push(state, true);
}

/// Each sled in the units that its log was begun in, the bench in those of its saw; who chose units has chosen.
void follow_units(Bench& bench, const MySaw& saw) {
    if (bench.view.units_chosen) return;
    bench.view.units.system = saw.open ? saw.sled().units.system : bench.history().start().units.system;
}

void open_page(Kit& kit, Bench& bench, PageState& state, float w, float h) {
    if (state.push.pushing.open) {
        draw_push(kit, bench, state.push, w, h);
        if (std::exchange(state.push.wants_back, false)) open_push(state, false);
    } else if (state.notebook.hunt.open) {
        if (draw_notebook(kit, bench, state.notebook, w, h)) save_readings(state.files);
        take_hold_if_wanted(state);
    } else if (w >= narrow) wide_page(kit, bench, state, w, h);
    else narrow_page(kit, bench, state, w, h);
}

void go_to(Bench& bench, PageState& state, Elsewhere where) {
    switch (where) {
        case Elsewhere::nowhere: return;
        case Elsewhere::start: return lead_back(bench, state);
        case Elsewhere::push: return open_push(state, !state.push.pushing.open);
        case Elsewhere::notebook: return open_notebook(state, !state.notebook.hunt.open);
        case Elsewhere::open_file: return open_file(state.files);
        case Elsewhere::save_file: return save_file(state.files);
    }
}

}  // namespace

void open_notebook(PageState& state, bool on) {
    state.notebook.hunt.open = on;
    if (on) state.push.pushing.open = state.my_saw.saw.open = false;
}

void open_notebook_at_suspects(PageState& state) {
    open_notebook(state, true);
    state.notebook.hunt.page = session::Leaf::suspects;
}

void open_push(PageState& state, bool on) {
    const bool back = !on && state.push.pushing.open && state.push.for_notebook;
    state.push.pushing.open = on;
    state.push.for_notebook = on && state.push.for_notebook;
    if (back) open_notebook(state, true);
    if (on) state.notebook.hunt.open = state.my_saw.saw.open = false;
}

void open_my_saw(PageState& state, bool on) {
    state.my_saw.saw.open = on;
    if (!on) return;
    open_my_saw(state.my_saw);
    state.notebook.hunt.open = state.push.pushing.open = false;
}

void draw_page(Kit& kit, Bench& bench, PageState& state) {
    bench.tick(static_cast<double>(ImGui::GetIO().DeltaTime));
    follow_units(bench, state.my_saw.saw);
    page_begin(kit, "offsquare");
    state.typing_on.frame(ImGui::GetIO(), a_sheet_stands());
    handle_keys(bench, state);
    note_result(bench, state.start);
    // The class view waits behind one's own saw.
    if (!state.start.open && !state.my_saw.saw.open && bench.view.for_class) {
        if (draw_class(kit, bench) || std::exchange(state.start.wanted, false)) lead_back(bench, state);
        return page_end(kit);
    }
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    const float w = size.x / kit.theme.scale;
    const float h = size.y / kit.theme.scale;
    if (state.start.open) {
        follow(bench, state, draw_start(kit, bench, state.start, lines_to_go_on(bench, state), w, h));
    } else if (!my_saw_page(kit, bench, state, w, h)) {
        open_page(kit, bench, state, w, h);
        const float header_height = w >= narrow ? header : two_rows;
        go_to(bench, state,
              draw_header(kit, bench, state.notebook.hunt, state.push.pushing.open, {0.0F, 0.0F, w, header_height}));
    }
    const After after = std::exchange(state.job.after, After::nothing);
    if (after == After::again) start_again(bench, state);
    if (std::exchange(state.notebook.next_case, false)) open_next_case(bench, state);
    if (std::exchange(state.start.wanted, false) || after == After::what_next) lead_back(bench, state);
    draw_sheets(kit, bench, state.window.set_scale, !state.start.open && !state.my_saw.saw.open);
    draw_file_sheet(kit, bench, state.files);
    if (std::exchange(state.files.opened, false)) file_has_come(bench, state);
    if (bench.said_for > 0.0) toast_line(kit, bench.said, bench.said_is_bad ? Role::wrong : Role::text);
    page_end(kit);
}

}  // namespace offsquare::gui
