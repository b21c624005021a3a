#include "gui/pages/file_sheet.h"

#include "base/save.h"
#include "gui/keep/files.h"
#include "picture/table_view.h"
#include "picture/writers.h"
#include "scenario/readings.h"
#include "session/hunt_words.h"

namespace offsquare::gui {
namespace {

void say_problem(Bench& bench, const base::Problem& problem) { bench.say(problem.message, true); }

void session_saved(Bench& bench, FileState& files, const std::filesystem::path& path) {
    bench.saved();
    files.save_folder = path.parent_path();
    files.on_bench = path;
    if (files.keep != nullptr) files.keep->opened(path);
}

void chosen(Bench& bench, FileState& files, const std::filesystem::path& path) {
    if (files.choosing == FileState::Choosing::open) return open_chosen(bench, files, path);
    base::Result<void> done;
    if (files.choosing == FileState::Choosing::save) done = base::save(path.string(), session::to_text(bench.log()));
    else if (files.choosing == FileState::Choosing::readings)
        done = base::save(path.string(), scenario::readings_text(bench.scenario(), session::holding(bench.seen())));
    else
        done = picture::write(picture::sheet(bench.seen(), bench.options()), {1000.0, 760.0, bench.view.scheme, 2.0},
                              path.string());
    if (!done) return say_problem(bench, done.error());
    if (files.choosing == FileState::Choosing::save) session_saved(bench, files, path);
    bench.say("Saved " + path.filename().string() + ".");
}

void choose(FileState& files, FileState::Choosing what, ChooserOptions options) {
    files.choosing = what;
    files.chooser.open(std::move(options));
}

std::filesystem::path start_folder() {
    std::error_code ec;
    const std::filesystem::path here = std::filesystem::current_path(ec);
    return std::filesystem::is_directory(here / "scenarios", ec) ? here / "scenarios" : here;
}

/// Where the session was saved last, else where the person's sessions are.
std::filesystem::path folder_to_save_in(FileState& files) {
    if (!files.save_folder.empty() || files.keep == nullptr) return files.save_folder;
    return files.keep->sessions_folder();
}

}  // namespace

void open_chosen(Bench& bench, FileState& files, const std::filesystem::path& path) {
    if (files.unsaved != nullptr) files.unsaved->write(bench);
    const auto said = open_on(bench, path);
    if (!said) return say_problem(bench, said.error());
    if (files.unsaved != nullptr) files.aside = files.unsaved->set_aside();
    if (files.keep != nullptr) files.keep->opened(path);
    files.on_bench = path;
    files.opened = true;
    bench.say(*said);
}

void open_file(FileState& files) {
    choose(files, FileState::Choosing::open,
           {"Open a scenario, a session or readings",
            ChooserUse::open,
            {".toml", ".jsonl"},
            start_folder(),
            "",
            files.keep != nullptr ? files.keep->recent() : Paths()});
}

void save_file(FileState& files) {
    choose(files, FileState::Choosing::save,
           {"Save the session", ChooserUse::save, {".jsonl"}, folder_to_save_in(files), "session.jsonl", {}});
}

void save_readings(FileState& files) {
    choose(files, FileState::Choosing::readings,
           {"Write the readings", ChooserUse::save, {".toml"}, folder_to_save_in(files), "readings.toml", {}});
}

void save_picture(FileState& files) {
    choose(files, FileState::Choosing::picture,
           {"Save the picture", ChooserUse::save, {".svg", ".png", ".pdf"}, {}, "table.svg", {}});
}

void draw_file_sheet(Kit& kit, Bench& bench, FileState& files) {
    if (const auto path = files.chooser.draw(kit)) chosen(bench, files, *path);
}

}  // namespace offsquare::gui
