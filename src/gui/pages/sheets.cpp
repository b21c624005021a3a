#include "gui/pages/sheets.h"

#include <array>

#include <fmt/format.h>

#include "session/story.h"

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
    constexpr std::array<std::array<const char*, 2>, 28> keys{
        {{"N", "the next step; on My saw Ctrl N too, in a field"},
         {"R", "read the strip again, both ends"},
         {"Ctrl Z", "undo"},
         {"Ctrl Y", "redo"},
         {"Ctrl O", "open a scenario or a session"},
         {"Ctrl S", "save the session"},
         {"Ctrl P", "save the picture"},
         {"P", "play or pause the cuts"},
         {"[ and ]", "square brackets: one cut back, one on"},
         {"+ and −", "plus and minus: zoom in, out"},
         {"U", "millimetres or inches"},
         {"D", "light or dark"},
         {"T", "show or hide the truth"},
         {"S", "set up"},
         {"B", "the notebook of a fault hunt"},
         {"E", "in the notebook: type what was read"},
         {"H", "push the sled by hand"},
         {"M", "my saw"},
         {"F and G", "on the push page: hold to push, to pull back"},
         {", and .", "there, comma and full stop: the hand left, right"},
         {"< and >", "there, less-than and greater-than: push less, more"},
         {"C", "class view: large, for the back of a room"},
         {"!", "exclamation mark: cautions"},
         {"?", "question mark: these keys"},
         {"0", "the first screen (Ctrl 0 while you type a strip)"},
         {"1 to 5", "there: its doors"},
         {"Tab", "next control (Enter too, in a field of My saw); Space presses it"},
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
    const std::array<std::string, 2> angles{bench.view.units == base::Units::metric ? "mm in 1 m" : "thou in 12 in",
                                            "mrad as well"};
    int angle = bench.view.units.angles == base::Units::Angles::slope ? 0 : 1;
    line(kit, "Angles", Role::quiet, Face::label);
    if (choice(kit, "angles", angles, angle, 260.0F))
        bench.view.units.angles = angle == 0 ? base::Units::Angles::slope : base::Units::Angles::mrad;
    const std::array<std::string, 2> schemes{"light", "dark"};
    int scheme = bench.view.scheme == Scheme::light ? 0 : 1;
    line(kit, "Paper", Role::quiet, Face::label);
    if (choice(kit, "paper", schemes, scheme, 260.0F)) bench.view.scheme = scheme == 0 ? Scheme::light : Scheme::dark;
}

void scale_choice(Kit& kit, Bench& bench, const std::function<void(float)>& set_scale) {
    const std::array<std::string, 5> words{"1×", "1.25×", "1.5×", "2×", "3×"};
    constexpr std::array<float, 5> scales{1.0F, 1.25F, 1.5F, 2.0F, 3.0F};
    int chosen = 0;
    for (int i = 0; i < 5; ++i) {
        if (kit.theme.scale >= scales.at(static_cast<std::size_t>(i)) - 0.01F) chosen = i;
    }
    line(kit, "Size of everything", Role::quiet, Face::label);
    if (!choice(kit, "scale", words, chosen, 360.0F) || !set_scale) return;
    bench.view.scale = scales.at(static_cast<std::size_t>(chosen));
    set_scale(bench.view.scale);
}

void settings_sheet(Kit& kit, Bench& bench, const std::function<void(float)>& set_scale, bool on_the_saw) {
    if (!sheet_begin(kit, "View", bench.sheets.settings, 480.0F)) return;
    units_and_light(kit, bench);
    scale_choice(kit, bench, set_scale);
    gap(kit, 6.0F);
    if (on_the_saw) check(kit, "Show the truth (what nobody at a real saw can see)", bench.view.reveal);
    check(kit, "Reduced motion: show cuts at once", bench.view.reduced_motion);
    if (!on_the_saw) return sheet_end(kit);
    gap(kit, 6.0F);
    if (button(kit, "Class view, for the back of a room (C)")) {
        bench.sheets.settings = false;
        bench.show_class(true);
    }
    if (button(kit, "Draw angles as at the job's first test", 0.0F, bench.view.exaggeration > 0.0))
        bench.view.exaggeration = 0.0;
    sheet_end(kit);
}

}  // namespace

bool any_sheet_open(const Sheets& sheets) { return sheets.cautions || sheets.keys || sheets.settings; }

void draw_sheets(Kit& kit, Bench& bench, const std::function<void(float)>& set_scale, bool on_the_saw) {
    cautions_sheet(kit, bench);
    keys_sheet(kit, bench);
    settings_sheet(kit, bench, set_scale, on_the_saw);
}

}  // namespace offsquare::gui
