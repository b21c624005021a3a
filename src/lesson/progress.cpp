#include "lesson/progress.h"

#include <algorithm>
#include <map>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/folders.h"
#include "base/lock.h"
#include "base/read.h"
#include "base/save.h"
#include "session/form.h"

namespace offsquare::lesson {
namespace {

namespace fs = std::filesystem;
using session::Json;

constexpr const char* progress_file = "practice.jsonl";
constexpr const char* progress_lock = "practice.lock";
constexpr base::Wanted practice_wanted{"how practice went", "practice.jsonl", std::size_t{8} << 20U};

constexpr std::array<std::string_view, 5> group_keys{"fence", "guides", "blade", "board", "instruments"};

Json line_of(const Attempt& a) {
    Json families = Json::array();
    for (const shop::Group g : a.families) families.push_back(group_keys.at(static_cast<std::size_t>(g)));
    return {{"day", a.day},          {"case", a.name},   {"tier", a.tier}, {"seed", a.seed},   {"families", families},
            {"how", name_of(a.how)}, {"right", a.right}, {"sure", a.sure}, {"hints", a.hints}, {"minutes", a.minutes}};
}

std::optional<Ending> ending_of(std::string_view word) {
    for (const Ending e : {Ending::proved, Ending::undecidable, Ending::given_up, Ending::ran_out}) {
        if (name_of(e) == word) return e;
    }
    return std::nullopt;
}

std::optional<Attempt> attempt_from(std::string_view line) {
    const Json json = Json::parse(line.begin(), line.end(), nullptr, false);
    if (json.is_discarded() || !json.is_object()) return std::nullopt;
    const auto whole = [&](const char* key) -> std::optional<std::int64_t> {
        if (!json.contains(key) || !json[key].is_number_integer()) return std::nullopt;
        return json[key].get<std::int64_t>();
    };
    const auto day = whole("day"), tier = whole("tier"), seed = whole("seed"), sure = whole("sure"),
               hints = whole("hints");
    const auto minutes = session::real(json, "minutes");
    const auto how = ending_of(session::word(json, "how"));
    const bool flags = json.contains("right") && json["right"].is_boolean() && json.contains("families") &&
                       json["families"].is_array();
    if (!day || !tier || !seed || !sure || !hints || !minutes || !how || !flags) return std::nullopt;
    if (*sure < 0 || *sure > 100 || *day < -1000000 || *day > 1000000) return std::nullopt;
    Attempt a{static_cast<int>(*day),
              session::word(json, "case"),
              static_cast<int>(*tier),
              static_cast<std::uint64_t>(*seed),
              {},
              *how,
              json["right"].get<bool>(),
              static_cast<int>(*sure),
              static_cast<int>(*hints),
              *minutes};
    for (const Json& one : json["families"]) {
        const auto key = one.is_string() ? std::find(group_keys.begin(), group_keys.end(), one.get<std::string>())
                                         : group_keys.end();
        if (key == group_keys.end()) return std::nullopt;
        a.families.push_back(static_cast<shop::Group>(key - group_keys.begin()));
    }
    return a;
}

bool concludes(const Attempt& a) { return a.how == Ending::proved || a.how == Ending::undecidable; }

}  // namespace

Attempt attempt_of(const Hunt& hunt, const Debrief& d, int day, int tier) {
    Attempt a{day,          hunt.name(), tier,          hunt.seen().seed, {},
              d.closed.how, d.right,     d.closed.sure, d.hints,          hunt.seen().minutes};
    for (const Found& f : d.found) {
        const shop::Group group = shop::info(f.fault).group;
        const bool known = std::find(a.families.begin(), a.families.end(), group) != a.families.end();
        if (f.there && f.counts && !known) a.families.push_back(group);
    }
    return a;
}

Brier brier_of(std::span<const Forecast> forecasts) {
    struct Sum {
        double n = 0.0, right = 0.0;
    };
    std::map<double, Sum> bins;
    Sum all;
    Brier b;
    for (const Forecast& f : forecasts) {
        const double was = f.right ? 1.0 : 0.0;
        b.score += (f.sure - was) * (f.sure - was);
        for (Sum* s : {&bins[f.sure], &all}) s->n += 1.0, s->right += was;
    }
    const double share = all.right / all.n;
    b.score /= all.n;
    for (const auto& [sure, s] : bins) {
        const double of_bin = s.right / s.n;
        b.reliability += s.n * (sure - of_bin) * (sure - of_bin) / all.n;
        b.resolution += s.n * (of_bin - share) * (of_bin - share) / all.n;
    }
    b.uncertainty = share * (1.0 - share);
    return b;
}

std::vector<Bin> bins_of(std::span<const Attempt> attempts) {
    std::map<int, Bin> bins;
    for (const Attempt& a : attempts) {
        if (!concludes(a)) continue;
        Bin& bin = bins[a.sure];
        bin.sure = a.sure;
        ++bin.times;
        bin.right += a.right ? 1 : 0;
    }
    std::vector<Bin> all;
    for (const auto& [sure, bin] : bins) all.push_back(bin);
    return all;
}

std::vector<Forecast> forecasts_of(std::span<const Attempt> attempts) {
    std::vector<Forecast> all;
    for (const Attempt& a : attempts) {
        if (concludes(a)) all.push_back({0.01 * a.sure, a.right});
    }
    return all;
}

std::array<Family, 5> families_of(std::span<const Attempt> attempts) {
    constexpr std::array<int, 5> gaps{1, 3, 7, 21, 60};
    std::array<Family, 5> all;
    for (std::size_t g = 0; g < all.size(); ++g) all[g].group = static_cast<shop::Group>(g);
    for (const Attempt& a : attempts) {
        for (const shop::Group group : a.families) {
            Family& f = all.at(static_cast<std::size_t>(group));
            ++f.tried;
            f.right += a.right ? 1 : 0;
            f.in_a_row = a.right && a.hints == 0 ? f.in_a_row + 1 : a.right ? f.in_a_row : 0;
            const auto step = static_cast<std::size_t>(std::clamp(f.in_a_row, 1, 5)) - 1;
            f.due = a.right ? a.day + gaps[step] : a.day;
        }
    }
    return all;
}

int next_tier(std::span<const Attempt> attempts) {
    constexpr int highest = 4, look_back = 5;
    int tier = 1;
    std::vector<bool> lately;  // of this tier or a higher one, since the tier was changed
    for (const Attempt& a : attempts) {
        if (a.tier < tier) continue;
        lately.push_back(a.right);
        if (lately.size() > look_back) lately.erase(lately.begin());
        const auto right = std::count(lately.begin(), lately.end(), true);
        const bool full = lately.size() == look_back;
        if (full && right >= 4 && tier < highest) ++tier, lately.clear();
        else if (full && right < 3 && tier > 1) --tier, lately.clear();
    }
    return tier;
}

Progress::Progress(fs::path data) : data_(std::move(data)) {
    if (data_.empty()) return;
    const std::string path = (data_ / progress_file).string();
    const auto text = base::read_file(path, path, practice_wanted);
    if (!text) return;
    for (const std::string_view line : session::lines_of(*text)) {
        if (auto a = attempt_from(line)) attempts_.push_back(std::move(*a));
    }
}

base::Result<void> Progress::add(const Attempt& attempt) {
    attempts_.push_back(attempt);
    if (data_.empty()) return {};
    if (auto made = base::make_folder(data_); !made) return made;
    const auto lock = base::FileLock::take(data_ / progress_lock);
    if (!lock) return tl::unexpected(lock.error());
    const std::string path = (data_ / progress_file).string();
    auto text = base::read_file(path, path, practice_wanted);
    std::error_code none;
    // Of a file that is there and cannot be read nothing may be lost.
    if (!text && fs::exists(path, none)) return tl::unexpected(text.error());
    std::string all = text ? std::move(*text) : std::string();
    if (!all.empty() && !all.ends_with('\n')) all += "\n";
    return base::save(path, all + line_of(attempt).dump() + "\n", base::Old::drop);
}

base::Result<void> Progress::forget() {
    attempts_.clear();
    if (data_.empty()) return {};
    std::error_code error;
    fs::remove(data_ / progress_file, error);
    if (error) return base::fail(base::Grade::cannot_create, fmt::format("{}: {}", progress_file, error.message()));
    return {};
}

}  // namespace offsquare::lesson
