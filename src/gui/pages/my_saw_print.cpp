// What goes on paper or into another program: the page beside the saw, the log, how a strip is cut.
#include <filesystem>

#include "base/save.h"
#include "gui/pages/my_saw_parts.h"
#include "picture/saw_page.h"
#include "saws/exports.h"
#include "saws/steps.h"

namespace offsquare::gui {
namespace {

/// Of a file's name: letters and digits of the sled's.
std::string plain_name(const std::string& name) {
    std::string plain;
    for (const char c : name) {
        const bool keeps = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
        if (keeps) plain += c;
        else if (!plain.empty() && plain.back() != '-') plain += '-';
    }
    while (!plain.empty() && plain.back() == '-') plain.pop_back();
    return plain.empty() ? "my-sled" : plain;
}

void choose(MySawState& state, MyExport what, const char* title, const std::string& ending) {
    state.sheets.open = MySheet::none;
    state.exports = what;
    const std::string name = what == MyExport::steps ? "how-to-cut-a-strip" : plain_name(state.saw.sled().name);
    state.chooser.open({title, ChooserUse::save, {ending}, state.chooser.folder(), name + ending, {}});
}

void print_sheet(Kit& kit, MySawState& state) {
    if (!my_sheet_begin(kit, state, MySheet::print, "Print, or take it elsewhere", 520.0F)) return;
    quiet(kit, "Nothing leaves this machine by itself: each of these writes one file where you say.");
    gap(kit, 6.0F);
    if (strong_button(kit, "A page to hang beside the saw (PDF)", 320.0F))
        choose(state, MyExport::page, "The page as PDF", ".pdf");
    gap(kit, 6.0F);
    if (button(kit, "The log as a table (CSV)", 240.0F)) choose(state, MyExport::csv, "The log as CSV", ".csv");
    if (button(kit, "All of it for a program (JSON)", 240.0F))
        choose(state, MyExport::json, "All of it as JSON", ".json");
    if (button(kit, "How to cut a strip (text)", 240.0F)) choose(state, MyExport::steps, "How to cut a strip", ".txt");
    sheet_end(kit);
}

base::Result<void> written(const MySawState& state, base::Units units, const std::string& path) {
    const MySaw& saw = state.saw;
    const bool weighed = state.exports == MyExport::page || state.exports == MyExport::json;
    // Of the log, and not of what is being typed.
    const auto found = weighed ? saws::weigh(saws::history_of(saw.sled()).history.seen())
                               : base::Result<session::Findings>(base::fail(base::Grade::bad_data, ""));
    const session::Findings* findings = found ? &*found : nullptr;
    switch (state.exports) {
        case MyExport::page: return picture::write_saw_page(saw.sled(), findings, units, saw.today(), path);
        case MyExport::csv: return base::save(path, saws::csv_text(saw.sled()));
        case MyExport::json: return base::save(path, saws::json_text(saw.sled(), findings));
        case MyExport::steps: break;
    }
    return base::save(path, saws::strip_steps_page(units == base::Units::metric));
}

}  // namespace

void draw_my_print(Kit& kit, Bench& bench, MySawState& state) {
    print_sheet(kit, state);
    const auto path = state.chooser.draw(kit);
    if (!path) return;
    const auto done = written(state, bench.view.units, path->string());
    const std::string where = std::filesystem::absolute(*path).parent_path().string();
    bench.say(done ? "Saved " + path->filename().string() + " in " + where + "." : done.error().message, !done);
}

}  // namespace offsquare::gui
