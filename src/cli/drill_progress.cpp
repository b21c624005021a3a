#include "cli/drill_progress.h"

#include <algorithm>
#include <chrono>

#include <fmt/format.h>

#include "base/folders.h"
#include "cli/json.h"
#include "cli/saw_request.h"
#include "lesson/progress.h"

namespace offsquare::cli {
namespace {

lesson::Progress own_progress() { return lesson::Progress(base::folders_of(base::own_environment()).data); }

/// The day, counted from 1970-01-01.
int day_now() { return static_cast<int>(std::chrono::sys_days(today()).time_since_epoch().count()); }

std::string due_words(const lesson::Family& f, int now) {
    if (!f.due) return "not tried yet";
    if (*f.due <= now) return "due now";
    return *f.due - now == 1 ? "due tomorrow" : fmt::format("due in {} days", *f.due - now);
}

std::string progress_text(const lesson::Progress& progress, const Ink& ink) {
    const auto& attempts = progress.attempts();
    if (attempts.empty()) return "No case was closed yet. To begin: offsquare drill --tier 1\n";
    std::vector<std::vector<std::string>> rows{{"family", "closed", "right", ""}};
    for (const lesson::Family& f : lesson::families_of(attempts))
        rows.push_back({std::string(shop::name_of(f.group)), fmt::format("{}", f.tried), fmt::format("{}", f.right),
                        due_words(f, day_now())});
    std::string text = ink.heading(fmt::format("{} closed", attempts.size())) + "\n" + columns(rows, 2, {1, 2});
    text += fmt::format("\nNext: offsquare drill --tier {}\n", lesson::next_tier(attempts));
    const auto forecasts = lesson::forecasts_of(attempts);
    if (forecasts.size() < lesson::enough_verdicts)
        return text + fmt::format(
                          "How sure you were against how often you were right stands here after {} verdicts; "
                          "so far {}.\n",
                          lesson::enough_verdicts, forecasts.size());
    const lesson::Brier b = lesson::brier_of(forecasts);
    text += "\nHow sure you were, and how often you were right\n";
    std::vector<std::vector<std::string>> bins;
    for (const lesson::Bin& bin : lesson::bins_of(attempts))
        bins.push_back({fmt::format("{} in 100", bin.sure), fmt::format("{} of {} right", bin.right, bin.times)});
    return text + columns(bins) +
           fmt::format(
               "Brier score {:.3f} = {:.3f} (sureness off) - {:.3f} (told apart) + {:.3f} (how mixed they "
               "were); 0 is best.\n",
               b.score, b.reliability, b.resolution, b.uncertainty);
}

Json progress_json(const lesson::Progress& progress) {
    const auto& attempts = progress.attempts();
    Json json{{"schema_version", schema_version},
              {"closed", attempts.size()},
              {"next_tier", lesson::next_tier(attempts)},
              {"families", Json::array()},
              {"bins", Json::array()}};
    for (const lesson::Family& f : lesson::families_of(attempts)) {
        Json one{{"family", shop::name_of(f.group)}, {"closed", f.tried}, {"right", f.right}};
        if (f.due) one["due_in_days"] = std::max(0, *f.due - day_now());
        json["families"].push_back(std::move(one));
    }
    for (const lesson::Bin& bin : lesson::bins_of(attempts))
        json["bins"].push_back({{"sure", bin.sure}, {"times", bin.times}, {"right", bin.right}});
    if (const auto forecasts = lesson::forecasts_of(attempts); !forecasts.empty()) {
        const lesson::Brier b = lesson::brier_of(forecasts);
        json["brier"] = {{"score", number(b.score)},
                         {"reliability", number(b.reliability)},
                         {"resolution", number(b.resolution)},
                         {"uncertainty", number(b.uncertainty)}};
    }
    return json;
}

}  // namespace

base::Result<void> keep_progress(const lesson::Hunt& hunt, const lesson::Debrief& debrief, int tier) {
    lesson::Progress progress = own_progress();
    return progress.add(lesson::attempt_of(hunt, debrief, day_now(), tier));
}

base::Result<Answer> about_progress(const Arguments& arguments, const Door& door) {
    lesson::Progress progress = own_progress();
    if (arguments.has("--forget")) {
        if (auto gone = progress.forget(); !gone) return tl::unexpected(gone.error());
        return Answer{"How practice went is forgotten.\n", {}, 0};
    }
    return Answer{
        arguments.has("--json") ? printed(progress_json(progress)) : progress_text(progress, door.ink), {}, 0};
}

}  // namespace offsquare::cli
