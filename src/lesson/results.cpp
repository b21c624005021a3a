#include "lesson/results.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/folders.h"
#include "base/lock.h"
#include "base/quantity.h"
#include "base/read.h"
#include "base/save.h"
#include "session/next.h"

namespace offsquare::lesson {

namespace fs = std::filesystem;

namespace {

constexpr const char* file_name = "cases";
constexpr const char* lock_name = "cases.lock";
constexpr base::Wanted small_file{"the list of cases", "two-boards = open, 12 min, 44 mm", std::size_t{1} << 20U};
constexpr std::array<std::string_view, 4> became_words{"new", "open", "not proved", "proved"};

struct Line {
    std::string name;
    Result result;
};

/// What stands after a word such as "min": the number before it.
std::optional<double> number_before(std::string_view text, std::string_view unit) {
    if (!text.ends_with(unit)) return std::nullopt;
    text.remove_suffix(unit.size());
    const auto value = base::parse_number(text);
    if (!value || *value < 0.0) return std::nullopt;
    return *value;
}

std::optional<Line> line_from(std::string_view text) {
    const std::size_t equals = text.find(" = ");
    if (equals == std::string_view::npos) return std::nullopt;
    std::array<std::string_view, 3> parts;
    std::string_view rest = text.substr(equals + 3);
    for (std::string_view& part : parts) {
        part = rest.substr(0, rest.find(", "));
        rest.remove_prefix(std::min(rest.size(), part.size() + 2));
    }
    const auto became = std::find(became_words.begin(), became_words.end(), parts[0]);
    const auto minutes = number_before(parts[1], " min");
    const auto board = number_before(parts[2], " mm");
    if (became == became_words.end() || !minutes || !board || !rest.empty()) return std::nullopt;
    return Line{std::string(text.substr(0, equals)),
                {static_cast<Became>(became - became_words.begin()), *minutes, *board}};
}

std::string line_of(std::string_view name, const Result& r) {
    return fmt::format("{} = {}, {:g} min, {:g} mm\n", name, became_words.at(static_cast<std::size_t>(r.became)),
                       r.minutes, r.board_mm);
}

struct Content {
    std::map<std::string, Result, std::less<>> known;
    std::string others;  ///< lines of a later version, as they stand
};

/// Of a file that is there and cannot be read: why. Nothing may be written in its place.
base::Result<Content> content_of(const fs::path& folder) {
    Content content;
    if (folder.empty()) return content;
    const fs::path path = folder / file_name;
    auto read = base::read_file(path.string(), path.string(), small_file);
    std::error_code none;
    if (!read && fs::exists(path, none)) return tl::unexpected(read.error());
    const std::string text = read ? std::move(*read) : std::string();
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        const std::string_view line = std::string_view(text).substr(at, end - at);
        if (auto found = line_from(line)) content.known[found->name] = found->result;
        else if (!line.empty()) content.others += std::string(line) + "\n";
        at = end + 1;
    }
    return content;
}

}  // namespace

Result result_of(const session::Seen& seen) {
    Result r{Became::open, seen.minutes, seen.stock_mm};
    if (seen.events.size() == 0) return {};
    const session::Proved proof = session::proof_of(seen);
    if (proof == session::Proved::passed) r.became = Became::proved;
    const bool tried = !seen.repairs.empty() || !seen.behind_left.empty() || !seen.behind_right.empty();
    const bool against = proof == session::Proved::failed || proof == session::Proved::changing;
    if (tried && against) r.became = Became::failed;
    return r;
}

bool is_fair(const session::History& history) { return !history.seen().real_saw && is_fair(history.actions()); }

bool is_fair(const std::vector<session::Action>& done) {
    const auto sets_an_error = [](const session::Action& action) {
        if (const auto* one = std::get_if<session::SetValue>(&action)) return scenario::is_hidden(one->key);
        const auto* both = std::get_if<session::SetBoth>(&action);
        return both != nullptr && (scenario::is_hidden(both->first.key) || scenario::is_hidden(both->second.key));
    };
    return std::none_of(done.begin(), done.end(), sets_an_error);
}

Result kept_of(const Result& before, const Result& now) {
    if (now.became == Became::fresh) return before;
    if (before.became != Became::proved) return now;
    const bool cheaper = now.minutes < before.minutes && now.board_mm <= before.board_mm;
    return now.became == Became::proved && cheaper ? now : before;
}

std::string words_of(const Result& result) {
    if (result.became == Became::proved) return fmt::format("proved in {:.0f} min", result.minutes);
    return std::string(became_words.at(static_cast<std::size_t>(result.became)));
}

bool within(const Result& result, const scenario::Budget& budget) {
    const bool minutes = budget.minutes <= 0.0 || result.minutes <= budget.minutes;
    return result.became == Became::proved && minutes && (budget.board_mm <= 0.0 || result.board_mm <= budget.board_mm);
}

Results::Results(fs::path data) : data_(std::move(data)), known_(content_of(data_).value_or(Content{}).known) {}

Result Results::of(std::string_view name) const {
    const auto found = known_.find(name);
    return found == known_.end() ? Result{} : found->second;
}

void Results::note(std::string_view name, const Result& now) {
    const Result kept = kept_of(of(name), now);
    if (kept != of(name)) {
        known_[std::string(name)] = kept;
        unwritten_[std::string(name)] = kept;
    }
    settle();
}

void Results::settle() {
    if (!unwritten_.empty()) write();
}

void Results::write() {
    if (data_.empty()) return unwritten_.clear();
    base::Result<void> done = base::make_folder(data_);
    if (done) {
        const auto lock = base::FileLock::take(data_ / lock_name);  // while the file is read, changed and written
        if (!lock && lock.error().grade == base::Grade::verdict_no) return;  // settle() comes again
        if (auto now = content_of(data_)) {
            for (const auto& [name, result] : unwritten_) now->known[name] = kept_of(now->known[name], result);
            std::string text = now->others;
            for (const auto& [name, result] : now->known) text += line_of(name, result);
            done = base::save((data_ / file_name).string(), text, base::Old::drop);
            if (done) known_ = std::move(now->known);
        } else {
            done = tl::unexpected(now.error());
        }
    }
    unwritten_.clear();
    if (!done && !std::exchange(told_, true))
        trouble_ = fmt::format("What becomes of the cases is not kept: {}.", done.error().message);
}

std::string Results::trouble() { return std::exchange(trouble_, std::string()); }

}  // namespace offsquare::lesson
