#include "gui/keep/unsaved.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <ctime>
#include <utility>

#include "base/folders.h"
#include "base/read.h"
#include "base/save.h"

namespace offsquare::gui {

namespace fs = std::filesystem;

namespace {

constexpr const char* ending = ".jsonl";

bool is_ours(std::string_view name) { return name.starts_with("unsaved-") && name.ends_with(ending); }

/// The slot if nobody holds it.
std::unique_ptr<Slot> taken(const fs::path& file) {
    fs::path lock = file;
    lock.replace_extension(".lock");
    const int fd = ::open(lock.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    auto slot = std::unique_ptr<Slot>(new Slot{file, lock, base::Descriptor(fd)});
    if (fd < 0 || ::flock(fd, LOCK_EX | LOCK_NB) != 0) return nullptr;
    return slot;
}

void remove(const Slot& slot) {
    std::error_code none;
    fs::remove(slot.file, none);
    fs::remove(slot.lock, none);
}

std::time_t written_at(const fs::path& file) {
    struct stat info {};
    return ::stat(file.c_str(), &info) == 0 ? info.st_mtime : 0;
}

std::vector<fs::path> files_in(const fs::path& folder) {
    std::vector<fs::path> files;
    std::error_code error;
    for (fs::directory_iterator it(folder, error); !error && it != fs::directory_iterator(); it.increment(error)) {
        if (is_ours(it->path().filename().string())) files.push_back(it->path());
    }
    return files;
}

std::string in_words(std::time_t when, std::time_t now) {
    std::tm then{};
    std::tm today{};
    ::localtime_r(&when, &then);
    ::localtime_r(&now, &today);
    const bool same_day = then.tm_year == today.tm_year && then.tm_yday == today.tm_yday;
    constexpr std::array<const char*, 12> months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                 "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    const std::string day =
        same_day ? "" : fmt::format("{} {} ", then.tm_mday, months.at(static_cast<std::size_t>(then.tm_mon)));
    return fmt::format("{}{:02}:{:02}", day, then.tm_hour, then.tm_min);
}

}  // namespace

Unsaved::Unsaved(fs::path state) : state_(std::move(state)) {
    if (state_.empty()) return;
    base::clear_leftovers(state_, is_ours);  // no save of the same name will come to do it
    for (const fs::path& file : files_in(state_)) {
        if (auto slot = taken(file)) left_.push_back(std::move(slot));
    }
    std::sort(left_.begin(), left_.end(),
              [](const auto& a, const auto& b) { return written_at(a->file) < written_at(b->file); });
}

bool Unsaved::get_slot() {
    constexpr int most = 100;
    if (own_) return true;
    auto made = base::make_folder(state_);
    for (int i = 0; made && i < most; ++i) {
        const fs::path file = state_ / fmt::format("unsaved-{}-{}{}", ::getpid(), i, ending);
        std::error_code none;
        if (fs::exists(file, none)) continue;
        own_ = taken(file);
        if (own_) return true;
    }
    if (!told_)
        trouble_ = fmt::format("Unsaved work is not kept: {}.",
                               made ? "no file can be made in " + state_.string() : made.error().message);
    told_ = true;
    return false;
}

void Unsaved::write(const Bench& bench) {
    if (!bench.unsaved() || (written_ && written_changes_ == bench.changes()) || !get_slot()) return;
    const auto saved = base::save(own_->file.string(), session::to_text(bench.log()), base::Old::drop);
    if (!saved && !std::exchange(told_, true)) trouble_ = "Unsaved work is not kept: " + saved.error().message + ".";
    written_ = written_ || saved.has_value();
    if (saved) written_changes_ = bench.changes();
}

void Unsaved::clear() {
    if (own_) remove(*own_);
    own_.reset();
    written_ = false;
    due_s_ = -1.0;
}

void Unsaved::tick(const Bench& bench, double now_s) {
    if (!bench.unsaved()) return clear();
    if (written_ && written_changes_ == bench.changes()) return;
    if (due_s_ < 0.0) due_s_ = now_s + autosave_every_s;
    if (now_s < due_s_) return;
    due_s_ = -1.0;
    write(bench);
}

void Unsaved::set_aside() {
    if (own_ && written_) left_.push_back(std::move(own_));
    clear();
}

std::string Unsaved::when() const {
    return left_.empty() ? std::string() : in_words(written_at(left_.back()->file), std::time(nullptr));
}

base::Result<void> Unsaved::take_up(Bench& bench) {
    if (left_.empty()) return {};
    std::unique_ptr<Slot> slot = std::move(left_.back());
    left_.pop_back();
    const auto text = base::read_file(slot->file.string(), "The unsaved work", base::session_wanted);
    auto replay =
        text ? session::replay(*text, "The unsaved work") : base::Result<session::Replay>(tl::unexpected(text.error()));
    if (!replay) {
        std::error_code none;
        const fs::path kept = slot->file.string() + ".kept";
        fs::rename(slot->file, kept, none);
        fs::remove(slot->lock, none);
        return base::fail(replay.error().grade,
                          fmt::format("{}. It is kept as {}.", replay.error().message, kept.string()));
    }
    write(bench);
    set_aside();
    bench.take_up(std::move(*replay));
    own_ = std::move(slot);
    written_ = true;
    written_changes_ = bench.changes();
    return {};
}

void Unsaved::throw_away() {
    if (left_.empty()) return;
    remove(*left_.back());
    left_.pop_back();
}

std::string Unsaved::trouble() { return std::exchange(trouble_, std::string()); }

}  // namespace offsquare::gui
