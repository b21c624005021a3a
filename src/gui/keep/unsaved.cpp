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

/// What is said of a file in a list; a file that cannot be read is told when it is taken up.
LeftWork work_in(const fs::path& file) {
    LeftWork work;
    work.so_far = {"Unsaved work", "it cannot be read here"};
    const auto text = base::read_file(file.string(), "The unsaved work", base::session_wanted);
    if (!text) return work;
    if (const auto log = session::read_log(*text, "The unsaved work")) {
        work.so_far = lesson::so_far(*log);
        if (!log->real_saw) work.complaint = log->scenario.complaint;
    }
    return work;
}

}  // namespace

Unsaved::Unsaved(fs::path state) : state_(std::move(state)) {
    if (state_.empty()) return;
    base::clear_leftovers(state_, is_ours);  // no save of the same name will come to do it
    for (const fs::path& file : files_in(state_)) {
        auto slot = taken(file);
        if (!slot) continue;
        left_.push_back({std::move(slot), "", written_at(file), work_in(file)});
    }
    std::sort(left_.begin(), left_.end(), [](const Left& a, const Left& b) { return a.written < b.written; });
    for (Left& left : left_) left.work.id = next_id_++;
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

void Unsaved::describe(const Bench& bench) {
    present_ = {0, lesson::so_far(bench.history()), bench.of_a_real_saw() ? "" : bench.history().start().complaint, ""};
}

void Unsaved::write(const Bench& bench) {
    if (!bench.unsaved() || (written_ && written_changes_ == bench.changes())) return;
    describe(bench);
    unwritten_ = session::to_text(bench.log());
    if (!get_slot()) return;
    const auto saved = base::save(own_->file.string(), unwritten_, base::Old::drop);
    if (!saved && !std::exchange(told_, true)) trouble_ = "Unsaved work is not kept: " + saved.error().message + ".";
    written_ = written_ || saved.has_value();
    if (!saved) return;
    written_changes_ = bench.changes();
    unwritten_.clear();
}

void Unsaved::clear() {
    if (own_) remove(*own_);
    own_.reset();
    unwritten_.clear();
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

std::optional<std::uint64_t> Unsaved::set_aside() {
    std::optional<std::uint64_t> id;
    if ((own_ && written_) || !unwritten_.empty()) {
        id = next_id_++;
        present_.id = *id;
        const bool on_disk = own_ && written_ && unwritten_.empty();
        // What an older file of it holds is less than what memory holds, and all there is after a crash: it stays too.
        left_.push_back({std::move(own_), on_disk ? "" : std::move(unwritten_), std::time(nullptr), present_});
    }
    clear();
    return id;
}

std::vector<LeftWork> Unsaved::left() const {
    std::vector<LeftWork> all;
    for (auto it = left_.rbegin(); it != left_.rend(); ++it) {
        all.push_back(it->work);
        all.back().when = in_words(it->written, std::time(nullptr));
    }
    return all;
}

std::string Unsaved::when() const {
    return left_.empty() ? std::string() : in_words(left_.back().written, std::time(nullptr));
}

Unsaved::Place Unsaved::place_of(std::optional<std::uint64_t> id) {
    if (left_.empty()) return left_.end();
    if (!id) return left_.end() - 1;
    return std::find_if(left_.begin(), left_.end(), [&](const Left& left) { return left.work.id == *id; });
}

base::Result<void> Unsaved::take_up(Bench& bench, std::optional<std::uint64_t> id,
                                    std::optional<std::uint64_t>* went_aside) {
    const Place place = place_of(id);
    if (place == left_.end()) return {};
    Left taken = std::move(*place);
    left_.erase(place);
    const bool in_memory = !taken.text.empty();
    const auto text = in_memory ? base::Result<std::string>(taken.text)
                                : base::read_file(taken.slot->file.string(), "The unsaved work", base::session_wanted);
    auto replay =
        text ? session::replay(*text, "The unsaved work") : base::Result<session::Replay>(tl::unexpected(text.error()));
    if (!replay && in_memory) return tl::unexpected(replay.error());
    if (!replay) {
        std::error_code none;
        const fs::path kept = taken.slot->file.string() + ".kept";
        fs::rename(taken.slot->file, kept, none);
        fs::remove(taken.slot->lock, none);
        return base::fail(replay.error().grade,
                          fmt::format("{}. It is kept as {}.", replay.error().message, kept.string()));
    }
    write(bench);
    const std::optional<std::uint64_t> aside = set_aside();
    if (went_aside != nullptr) *went_aside = aside;
    bench.take_up(std::move(*replay));
    own_ = std::move(taken.slot);
    written_ = own_ != nullptr;
    written_changes_ = in_memory ? bench.changes() - 1 : bench.changes();
    present_ = taken.work;
    return {};
}

void Unsaved::throw_away(std::optional<std::uint64_t> id) {
    const Place place = place_of(id);
    if (place == left_.end()) return;
    if (place->slot) remove(*place->slot);
    left_.erase(place);
}

std::string Unsaved::trouble() { return std::exchange(trouble_, std::string()); }

}  // namespace offsquare::gui
