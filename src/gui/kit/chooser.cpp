#include "gui/kit/chooser.h"

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <system_error>

#include "gui/kit/input.h"
#include "gui/kit/parts.h"

namespace offsquare::gui {
namespace {

namespace fs = std::filesystem;
using base::fail;
using base::Grade;

constexpr float height_beside_list =
    330.0F;  ///< everything else in the sheet, with a message of two lines [design pixels]

std::string lowered(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

bool has_extension(const fs::path& path, const std::vector<std::string>& extensions) {
    return extensions.empty() ||
           std::find(extensions.begin(), extensions.end(), lowered(path.extension().string())) != extensions.end();
}

bool before(const FileEntry& a, const FileEntry& b) {
    if (a.folder != b.folder) return a.folder;
    const std::string x = lowered(a.name);
    const std::string y = lowered(b.name);
    return x != y ? x < y : a.name < b.name;
}

std::string size_in_words(std::uintmax_t bytes) {
    constexpr std::uintmax_t kilo = 1024;
    if (bytes < kilo) return std::to_string(bytes) + " B";
    const std::uintmax_t kilobytes = (bytes + kilo / 2) / kilo;
    return kilobytes < kilo ? std::to_string(kilobytes) + " KiB" : std::to_string(kilobytes / kilo) + " MiB";
}

fs::path home_folder() {
    const char* home = std::getenv("HOME");
    return home != nullptr ? fs::path(home) : fs::path();
}

fs::path with_home(std::string_view text) {
    if (text == "~") return home_folder();
    if (text.substr(0, 2) == "~/") return home_folder() / text.substr(2);
    return fs::path(text);
}

std::string trimmed(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return std::string(text);
}

base::Result<fs::path> accept_open(const fs::path& path) {
    std::error_code error;
    if (!fs::exists(path, error)) return fail(Grade::no_input, "There is no file " + path.string() + ".");
    if (!fs::is_regular_file(path, error))
        return fail(Grade::no_input, path.string() + " is not a file. Choose a file, for example one from the list.");
    return path;
}

base::Result<fs::path> accept_save(fs::path path, const std::vector<std::string>& extensions) {
    std::error_code error;
    if (fs::is_directory(path, error))
        return fail(Grade::cannot_create, path.string() + " is a folder. Type a file name as well.");
    if (path.extension().empty() && !extensions.empty()) path += extensions.front();
    if (!fs::is_directory(path.parent_path(), error))
        return fail(Grade::cannot_create, "There is no folder " + path.parent_path().string() + ".");
    if (fs::exists(path, error) && !fs::is_regular_file(path, error))
        return fail(Grade::cannot_create, path.string() + " is not a file that can be replaced.");
    return path;
}

}  // namespace

Listing list_folder(const fs::path& folder, const std::vector<std::string>& extensions) {
    Listing listing;
    std::error_code error;
    fs::directory_iterator it(folder, fs::directory_options::none, error);
    while (!error && it != fs::directory_iterator()) {
        const std::string name = it->path().filename().string();
        std::error_code quiet;
        const bool is_folder = it->is_directory(quiet);
        const bool is_file = !is_folder && it->is_regular_file(quiet) && has_extension(it->path(), extensions);
        if (!name.empty() && name.front() != '.' && (is_folder || is_file)) {
            const std::uintmax_t bytes = is_file ? it->file_size(quiet) : 0;
            listing.entries.push_back({name, is_folder, quiet ? 0 : bytes});
        }
        it.increment(error);
    }
    if (error) listing.error = "Cannot read the folder " + folder.string() + ": " + error.message() + ".";
    std::sort(listing.entries.begin(), listing.entries.end(), before);
    return listing;
}

base::Result<fs::path> accept_path(std::string_view text, const fs::path& folder, ChooserUse use,
                                   const std::vector<std::string>& extensions) {
    const std::string name = trimmed(text);
    if (name.empty()) return fail(Grade::usage, "Choose a file from the list or type its name.");
    fs::path path = with_home(name);
    if (path.is_relative()) path = folder / path;
    path = path.lexically_normal();
    return use == ChooserUse::open ? accept_open(path) : accept_save(std::move(path), extensions);
}

void Chooser::open(ChooserOptions options) {
    options_ = std::move(options);
    std::error_code error;
    if (options_.folder.empty() || !fs::is_directory(options_.folder, error)) options_.folder = fs::current_path(error);
    text_ = options_.name;
    open_ = true;
    enter(fs::absolute(options_.folder, error).lexically_normal());
}

void Chooser::enter(const fs::path& folder) {
    options_.folder = folder;
    listing_ = list_folder(folder, options_.extensions);
    problem_.clear();
    ask_replace_ = false;
}

void Chooser::try_accept(std::optional<fs::path>& result) {
    std::error_code error;
    // The name of a folder leads into it.
    const fs::path typed_path = with_home(trimmed(text_));
    const fs::path as_folder = typed_path.is_relative() ? options_.folder / typed_path : typed_path;
    if (!trimmed(text_).empty() && fs::is_directory(as_folder, error)) {
        text_.clear();
        enter(as_folder.lexically_normal());
        return;
    }
    const auto path = accept_path(text_, options_.folder, options_.use, options_.extensions);
    problem_ = path ? std::string() : path.error().message;
    if (!path) return;
    if (options_.use == ChooserUse::save && fs::exists(*path, error) && !ask_replace_) {
        ask_replace_ = true;
        return;
    }
    result = *path;
    open_ = false;
}

void Chooser::draw_recent(Kit& kit, std::optional<fs::path>& result) {
    if (options_.recent.empty()) return;
    line(kit, "Opened lately", Role::quiet, Face::label);
    for (const fs::path& path : options_.recent) {
        bool activated = false;
        const std::string label = path.filename().string() + "##lately" + path.string();
        const bool row = list_row(kit, label.c_str(), path.parent_path().string(), text_ == path.string(), &activated);
        if (row || activated) text_ = path.string();
        if (activated && open_) try_accept(result);
    }
    line(kit, "In this folder", Role::quiet, Face::label);
}

void Chooser::draw_list(Kit& kit, std::optional<fs::path>& result) {
    std::optional<fs::path> go;
    // In a low window the list gives way, not the buttons under it.
    const float room = ImGui::GetIO().DisplaySize.y / kit.theme.scale - height_beside_list;
    scroll_begin(kit, "files", 0.0F, std::clamp(room, 90.0F, options_.recent.empty() ? 280.0F : 420.0F));
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {kit.px(8.0F), kit.px(2.0F)});
    draw_recent(kit, result);
    if (options_.folder.has_parent_path() && options_.folder != options_.folder.root_path() &&
        list_row(kit, "Up to the folder above##up", {}, false)) {
        const fs::path here = options_.folder.has_filename() ? options_.folder : options_.folder.parent_path();
        go = here.parent_path();
    }
    for (const FileEntry& entry : listing_.entries) {
        bool activated = false;
        const std::string shown = entry.folder ? entry.name + "/" : entry.name;
        const bool chosen = !entry.folder && text_ == entry.name;
        const bool row = list_row(kit, shown.c_str(), entry.folder ? std::string("folder") : size_in_words(entry.bytes),
                                  chosen, &activated);
        if (row && entry.folder) go = options_.folder / entry.name;
        if (row && !entry.folder) {
            text_ = entry.name;
            ask_replace_ = false;
        }
        if (activated && !entry.folder && open_) try_accept(result);
    }
    if (listing_.entries.empty() && listing_.error.empty()) quiet(kit, "Nothing of this kind in this folder.");
    ImGui::PopStyleVar();
    scroll_end(kit);
    if (go) enter(*go);
}

void Chooser::draw_buttons(Kit& kit, std::optional<fs::path>& result) {
    const bool open_use = options_.use == ChooserUse::open;
    const char* verb = open_use ? "Open file" : ask_replace_ ? "Replace file" : "Save file";
    if (strong_button(kit, verb, 150.0F)) try_accept(result);
    ImGui::SameLine();
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + kit.px(7.0F));
    if (button(kit, "Cancel")) open_ = false;
}

std::optional<fs::path> Chooser::draw(Kit& kit) {
    std::optional<fs::path> result;
    const std::string identity = options_.title + "##chooser";
    if (!sheet_begin(kit, identity.c_str(), open_, 640.0F)) return result;
    line(kit, options_.folder.string(), Role::quiet, Face::note);
    draw_list(kit, result);
    FieldOptions field;
    field.help = options_.use == ChooserUse::open ? "A name in this folder, or a path."
                                                  : "A name for the file in this folder, or a path.";
    field.takes_keyboard = ImGui::IsWindowAppearing();  // whoever opens or saves may type at once
    const std::string typed_before = text_;
    const bool in_field = text_field_active();
    const bool committed = text_field(kit, "File name", text_, field);
    // Escape takes back what was typed; where that is nothing, it closes the sheet as anywhere.
    const bool escaped = ImGui::IsKeyPressed(static_cast<int>(Key::escape), false);
    if (escaped && text_ == typed_before && !ImGui::IsAnyItemActive()) open_ = false;
    // A name that stands there already is entered as well as one that was typed.
    const bool entered = (committed || in_field) && (ImGui::IsKeyPressed(static_cast<int>(Key::enter), false) ||
                                                     ImGui::IsKeyPressed(static_cast<int>(Key::keypad_enter), false));
    if (committed) ask_replace_ = false;
    if (!listing_.error.empty()) marked(kit, listing_.error, Role::wrong);
    if (!problem_.empty()) marked(kit, problem_, Role::wrong);
    if (ask_replace_) marked(kit, "This file exists. Press “Replace file” to write over it.", Role::wrong);
    if (entered && open_) try_accept(result);
    else draw_buttons(kit, result);
    sheet_end(kit);
    return result;
}

}  // namespace offsquare::gui
