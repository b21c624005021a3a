#include <array>

#include <fmt/format.h>

#include "base/save.h"
#include "gui/files.h"
#include "gui/kit/input.h"
#include "gui/panels.h"
#include "picture/writers.h"

namespace offsquare::gui {
namespace {

void cautions_sheet(Kit& kit, Bench& bench) {
    const session::Cautions& c = session::cautions();
    if (!sheet_begin(kit, c.title.c_str(), bench.sheets.cautions, 640.0F)) return;
    for (const std::string& text : c.lines) {
        marked(kit, text, Role::wrong);
        gap(kit, 4.0F);
    }
    sheet_end(kit);
}

void keys_sheet(Kit& kit, Bench& bench) {
    if (!sheet_begin(kit, "Keys", bench.sheets.keys, 520.0F)) return;
    constexpr std::array<std::array<const char*, 2>, 25> keys{{{"N", "the next step"},
                                                               {"R", "read the strip again, both ends"},
                                                               {"Ctrl Z", "undo"},
                                                               {"Ctrl Y", "redo"},
                                                               {"Ctrl O", "open a scenario or a session"},
                                                               {"Ctrl S", "save the session"},
                                                               {"Ctrl P", "save the picture"},
                                                               {"P", "play or pause the cuts"},
                                                               {"[ and ]", "one cut back, one on"},
                                                               {"+ and −", "zoom"},
                                                               {"U", "millimetres or inches"},
                                                               {"D", "light or dark"},
                                                               {"T", "show or hide the truth"},
                                                               {"S", "set up"},
                                                               {"B", "the notebook of a fault hunt"},
                                                               {"E", "there: type what was read"},
                                                               {"H", "push the sled by hand"},
                                                               {"F and G", "there: hold to push, to pull back"},
                                                               {", and .", "there: the hand to the left, to the right"},
                                                               {"< and >", "there: a weaker hand, a stronger one"},
                                                               {"C", "class view: large, for the back of a room"},
                                                               {"!", "cautions"},
                                                               {"?", "these keys"},
                                                               {"Tab", "next control; Space presses it"},
                                                               {"Ctrl Q", "close the window"}}};
    for (const auto& [key, what] : keys) key_value(kit, what, key);
    sheet_end(kit);
}

void units_and_light(Kit& kit, Bench& bench) {
    const std::array<std::string, 2> units{"millimetres", "inches"};
    int unit = bench.view.units == base::Units::metric ? 0 : 1;
    line(kit, "Units", Role::quiet, Face::label);
    if (choice(kit, "units", units, unit, 260.0F))
        bench.choose_units(unit == 0 ? base::Units::metric : base::Units::imperial);
    const std::array<std::string, 2> schemes{"light", "dark"};
    int scheme = bench.view.scheme == Scheme::light ? 0 : 1;
    line(kit, "Paper", Role::quiet, Face::label);
    if (choice(kit, "paper", schemes, scheme, 260.0F)) bench.view.scheme = scheme == 0 ? Scheme::light : Scheme::dark;
}

void scale_choice(Kit& kit, Bench& bench, PanelState& state) {
    const std::array<std::string, 5> words{"1×", "1.25×", "1.5×", "2×", "3×"};
    constexpr std::array<float, 5> scales{1.0F, 1.25F, 1.5F, 2.0F, 3.0F};
    int chosen = 0;
    for (int i = 0; i < 5; ++i) {
        if (kit.theme.scale >= scales.at(static_cast<std::size_t>(i)) - 0.01F) chosen = i;
    }
    line(kit, "Size of everything", Role::quiet, Face::label);
    if (!choice(kit, "scale", words, chosen, 360.0F) || !state.set_scale) return;
    bench.view.scale = scales.at(static_cast<std::size_t>(chosen));
    state.set_scale(bench.view.scale);
}

void settings_sheet(Kit& kit, Bench& bench, PanelState& state) {
    if (!sheet_begin(kit, "View", bench.sheets.settings, 480.0F)) return;
    units_and_light(kit, bench);
    scale_choice(kit, bench, state);
    gap(kit, 6.0F);
    check(kit, "Show the truth (what nobody at a real saw can see)", bench.view.reveal);
    check(kit, "Reduced motion: show cuts at once", bench.view.reduced_motion);
    gap(kit, 6.0F);
    if (button(kit, "Class view, for the back of a room (C)")) {
        bench.sheets.settings = false;
        bench.show_class(true);
    }
    if (button(kit, "Choose the exaggeration for me", 0.0F, bench.view.exaggeration > 0.0))
        bench.view.exaggeration = 0.0;
    sheet_end(kit);
}

// ---- files ----

void say_problem(Bench& bench, const base::Problem& problem) { bench.say(problem.message, true); }

void session_saved(Bench& bench, PanelState& state, const std::filesystem::path& path) {
    bench.saved();
    state.save_folder = path.parent_path();
    if (state.keep != nullptr) state.keep->opened(path);
}

void chosen(Bench& bench, PanelState& state, const std::filesystem::path& path) {
    if (state.choosing == PanelState::Choosing::open) return open_chosen(bench, state, path);
    base::Result<void> done;
    if (state.choosing == PanelState::Choosing::save) done = base::save(path.string(), session::to_text(bench.log()));
    else if (state.choosing == PanelState::Choosing::readings)
        done = base::save(path.string(), scenario::readings_text(bench.scenario(), session::holding(bench.seen())));
    else
        done = picture::write(picture::sheet(bench.seen(), bench.options()), {1000.0, 760.0, bench.view.scheme, 2.0},
                              path.string());
    if (!done) return say_problem(bench, done.error());
    if (state.choosing == PanelState::Choosing::save) session_saved(bench, state, path);
    bench.say("Saved " + path.filename().string() + ".");
}

void choose(PanelState& state, PanelState::Choosing what, ChooserOptions options) {
    state.choosing = what;
    state.chooser.open(std::move(options));
}

std::filesystem::path start_folder() {
    std::error_code ec;
    const std::filesystem::path here = std::filesystem::current_path(ec);
    return std::filesystem::is_directory(here / "scenarios", ec) ? here / "scenarios" : here;
}

/// Where the session was saved last, else where the person's sessions are.
std::filesystem::path folder_to_save_in(PanelState& state) {
    if (!state.save_folder.empty() || state.keep == nullptr) return state.save_folder;
    return state.keep->sessions_folder();
}

}  // namespace

void open_chosen(Bench& bench, PanelState& state, const std::filesystem::path& path) {
    // What is unsaved now is not lost by it: it is offered again.
    if (state.unsaved != nullptr) state.unsaved->write(bench);
    const auto said = open_on(bench, path);
    if (!said) return say_problem(bench, said.error());
    if (state.unsaved != nullptr) state.unsaved->set_aside();
    if (state.keep != nullptr) state.keep->opened(path);
    bench.say(*said);
}

void open_file(Bench&, PanelState& state) {
    choose(state, PanelState::Choosing::open,
           {"Open a scenario, a session or readings",
            ChooserUse::open,
            {".toml", ".jsonl"},
            start_folder(),
            "",
            state.keep != nullptr ? state.keep->recent() : Paths()});
}

void save_file(Bench&, PanelState& state) {
    choose(state, PanelState::Choosing::save,
           {"Save the session", ChooserUse::save, {".jsonl"}, folder_to_save_in(state), "session.jsonl", {}});
}

void save_readings(Bench&, PanelState& state) {
    choose(state, PanelState::Choosing::readings,
           {"Write the readings", ChooserUse::save, {".toml"}, folder_to_save_in(state), "readings.toml", {}});
}

void draw_sheets(Kit& kit, Bench& bench, PanelState& state) {
    cautions_sheet(kit, bench);
    keys_sheet(kit, bench);
    settings_sheet(kit, bench, state);
    if (const auto path = state.chooser.draw(kit)) chosen(bench, state, *path);
}

namespace {

bool any_sheet(const Bench& bench, const PanelState& state) {
    return bench.sheets.cautions || bench.sheets.keys || bench.sheets.settings || state.chooser.is_open();
}

void control_keys(Bench& bench, PanelState& state) {
    constexpr Modifiers ctrl{true, false, false};
    constexpr Modifiers ctrl_shift{true, true, false};
    if (pressed(Key::q, ctrl)) state.wants_close = true;
    if (pressed(Key::o, ctrl)) open_file(bench, state);
    if (pressed(Key::s, ctrl)) save_file(bench, state);
    if (pressed(Key::p, ctrl))
        choose(state, PanelState::Choosing::picture,
               {"Save the picture", ChooserUse::save, {".svg", ".png", ".pdf"}, {}, "table.svg", {}});
    if (text_field_active()) return;
    if (pressed(Key::z, ctrl)) bench.undo();
    if (pressed(Key::y, ctrl) || pressed(Key::z, ctrl_shift)) bench.redo();
}

void view_keys(Bench& bench, PanelState& state) {
    if (typed(U'b')) open_notebook(state, !state.hunt.open);
    if (typed(U'h')) open_push(state, !state.pushing.open);
    if (typed(U'u'))
        bench.choose_units(bench.view.units == base::Units::metric ? base::Units::imperial : base::Units::metric);
    if (typed(U'd')) bench.view.scheme = bench.view.scheme == Scheme::light ? Scheme::dark : Scheme::light;
    if (typed(U't')) bench.view.reveal = !bench.view.reveal;
    if (typed(U'+')) bench.view.zoom = std::min(12.0, bench.view.zoom * 1.3);
    if (typed(U'-')) bench.view.zoom = std::max(1.0, bench.view.zoom / 1.3);
    if (typed(U'!')) bench.sheets.cautions = true;
    if (typed(U'?')) bench.sheets.keys = true;
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

void cut_keys(Bench& bench, PanelState& state) {
    if (state.pushing.open) return;
    if (state.hunt.open) {
        if (typed(U'n')) state.hunt.next_step(bench);
        if (typed(U'e') && state.hunt.page == session::Leaf::checks) state.hunt.typing.open = !state.hunt.typing.open;
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

void handle_keys(Kit&, Bench& bench, PanelState& state) {
    if (any_sheet(bench, state)) return;
    control_keys(bench, state);
    view_keys(bench, state);
    cut_keys(bench, state);
    // Sheets have small letters: whoever opens one has left the class view.
    if (bench.view.for_class && (any_sheet(bench, state) || bench.view.looking_at)) bench.view.for_class = false;
}

}  // namespace offsquare::gui
