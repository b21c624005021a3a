#include "saws/store.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/read.h"
#include "base/save.h"
#include "saws/form.h"

namespace offsquare::saws {

namespace fs = std::filesystem;

namespace {

using base::fail;
using base::Grade;
using base::Result;

constexpr std::string_view ending = ".jsonl";

constexpr base::Wanted wanted{"the file of a sled", "the-blue-sled.jsonl", std::size_t{16} << 20U};

bool is_ours(std::string_view name) { return name.ends_with(ending) && name.size() > ending.size(); }

std::string folded(std::string_view name) {
    std::string out(name);
    for (char& c : out) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c + 32);
    }
    return out;
}

bool same_name(std::string_view a, std::string_view b) { return folded(a) == folded(b); }

/// Letters, digits and dashes: safe for any file system. Some systems have devices of short names.
std::string slug_of(std::string_view name) {
    constexpr std::size_t longest = 40;
    constexpr std::array<std::string_view, 4> devices{"con", "prn", "aux", "nul"};
    std::string slug;
    for (const char c : folded(name)) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        if (plain) slug += c;
        else if (!slug.empty() && slug.back() != '-') slug += '-';
        if (slug.size() >= longest) break;
    }
    while (!slug.empty() && slug.back() == '-') slug.pop_back();
    const bool device = std::find(devices.begin(), devices.end(), slug) != devices.end() ||
                        (slug.size() == 4 && (slug.starts_with("com") || slug.starts_with("lpt")));
    return slug.empty() || device ? "sled" + (slug.empty() ? "" : "-" + slug) : slug;
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

fs::path lock_of(const fs::path& file) { return fs::path(file).replace_extension(".lock"); }

std::string names_of(const std::vector<Listed>& all) {
    std::string text;
    for (const Listed& one : all) {
        if (one.trouble.empty()) text += (text.empty() ? "" : ", ") + one.name;
    }
    return text;
}

Result<Held> read_into(Held held, const fs::path& file) {
    const auto text = base::read_file(file.string(), file.filename().string(), wanted);
    if (!text) return tl::unexpected(text.error());
    auto read = read_file_text(*text, file.filename().string());
    if (!read) return tl::unexpected(read.error());
    held.file = file;
    held.sled = std::move(read->sled);
    held.notes = std::move(read->notes);
    return held;
}

}  // namespace

Store::Store(const fs::path& data) : folder_(data.empty() ? fs::path() : data / "saws") {}

std::vector<Listed> Store::list() const {
    std::vector<Listed> all;
    std::error_code error;
    if (folder_.empty()) return all;
    for (fs::directory_iterator it(folder_, error); !error && it != fs::directory_iterator(); it.increment(error)) {
        const std::string name = it->path().filename().string();
        if (!is_ours(name)) continue;
        Listed one{"", "", it->path(), ""};
        const auto text = base::read_file(one.file.string(), name, wanted);
        const auto head = text ? read_head(first_line(*text), name) : Result<Head>(tl::unexpected(text.error()));
        if (head) {
            one.name = head->name;
            one.saw = head->saw;
        } else {
            one.trouble = head.error().message;
        }
        all.push_back(std::move(one));
    }
    std::sort(all.begin(), all.end(), [](const Listed& a, const Listed& b) {
        return std::pair(folded(a.name), a.file) < std::pair(folded(b.name), b.file);
    });
    return all;
}

Result<fs::path> Store::file_of(const std::string& name) const {
    if (folder_.empty()) return fail(Grade::no_input, "there is no folder to keep things in: HOME is not set");
    const std::vector<Listed> all = list();
    for (const Listed& one : all) {
        if (same_name(one.name, name)) return one.file;
    }
    const auto on_saw = [&](const Listed& one) { return !one.saw.empty() && same_name(one.saw, name); };
    if (std::count_if(all.begin(), all.end(), on_saw) == 1) return std::find_if(all.begin(), all.end(), on_saw)->file;
    const std::string names = names_of(all);
    return fail(Grade::no_input, names.empty() ? fmt::format("there is no sled \"{}\", and none at all yet", name)
                                               : fmt::format("there is no sled \"{}\". There are: {}", name, names));
}

Result<Held> Store::look(const std::string& name) const {
    const auto file = file_of(name);
    if (!file) return tl::unexpected(file.error());
    Held held;
    held.why_not = "It was opened only to be looked at.";
    return read_into(std::move(held), *file);
}

Result<Held> Store::open(const std::string& name) const {
    const auto file = file_of(name);
    if (!file) return tl::unexpected(file.error());
    Held held;
    auto lock = base::FileLock::take(lock_of(*file));
    if (lock) held.lock = std::move(*lock);
    else if (lock.error().grade == Grade::verdict_no)
        held.why_not = "It is open in another window or another command: it can be looked at here, and not written.";
    else held.why_not = fmt::format("Nothing can be written here: {}.", lock.error().message);
    // After the lock, so that nobody writes between the reading and the first change.
    return read_into(std::move(held), *file);
}

Result<Held> Store::make(const std::string& name, const std::string& saw, base::Units units) const {
    if (auto ok = check_name(name); !ok) return tl::unexpected(ok.error());
    if (!saw.empty()) {
        if (auto ok = check_name(saw); !ok) return tl::unexpected(ok.error());
    }
    if (auto made = base::make_folder(folder_); !made) return tl::unexpected(made.error());
    for (const Listed& one : list()) {
        if (same_name(one.name, name))
            return fail(Grade::usage, fmt::format("there is a sled \"{}\" already", one.name));
    }
    Held held;
    const std::string slug = slug_of(name);
    constexpr int most = 1000;
    for (int i = 1; i <= most && !held.lock; ++i) {
        held.file = folder_ / fmt::format("{}{}{}", slug, i == 1 ? "" : fmt::format("-{}", i), ending);
        std::error_code none;
        if (fs::exists(fs::symlink_status(held.file, none))) continue;
        auto lock = base::FileLock::take(lock_of(held.file));
        if (!lock && lock.error().grade != Grade::verdict_no) return tl::unexpected(lock.error());
        // Somebody may have made one of this name between the look and the lock.
        if (lock && !fs::exists(fs::symlink_status(held.file, none))) held.lock = std::move(*lock);
    }
    if (!held.lock) return fail(Grade::cannot_create, fmt::format("no file for \"{}\" can be made", name));
    Sled sled{name, saw, units, {}};
    if (auto saved = save(held, std::move(sled)); !saved) return tl::unexpected(saved.error());
    return held;
}

Result<void> Store::save(Held& held, Sled sled) const {
    if (!held.may_write()) return fail(Grade::cannot_create, held.why_not);
    // A file of which something had to be left out is kept beside.
    const auto old = held.notes.empty() ? base::Old::drop : base::Old::keep;
    if (auto saved = base::save(held.file.string(), file_text(sled), old); !saved) return saved;
    held.sled = std::move(sled);
    held.notes.clear();
    return {};
}

Result<void> Store::rename(Held& held, const std::string& name, const std::string& saw) const {
    if (auto ok = check_name(name); !ok) return ok;
    if (!saw.empty()) {
        if (auto ok = check_name(saw); !ok) return ok;
    }
    for (const Listed& one : list()) {
        if (same_name(one.name, name) && one.file != held.file)
            return fail(Grade::usage, fmt::format("there is a sled \"{}\" already", one.name));
    }
    Sled sled = held.sled;
    sled.name = name;
    sled.saw = saw;
    return save(held, std::move(sled));
}

Result<void> Store::remove(Held&& held) const {
    if (!held.may_write()) return fail(Grade::cannot_create, held.why_not);
    std::error_code error;
    if (!fs::remove(held.file, error) || error)
        return fail(Grade::io, fmt::format("cannot delete {}: {}", held.file.string(), error.message()));
    std::error_code none;
    fs::remove(fs::path(held.file.string() + ".bak"), none);
    held.lock.reset();
    return {};
}

}  // namespace offsquare::saws
