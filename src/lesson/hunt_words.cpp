#include "lesson/hunt_words.h"

#include <fmt/format.h>

#include "session/hunt_words.h"
#include "session/next.h"
#include "session/story.h"

namespace offsquare::lesson {
namespace {

std::string readings_of(const session::Note& note, const session::Seen& seen, base::Units units) {
    std::string text;
    for (const session::ReadingWords& r : session::words_of(note, 1, seen.drawing, units).readings)
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", r.name, r.value);
    return text;
}

/// What a test left behind: its strip, or why there is none.
std::string strip_of(const session::Test& test, base::Units units) {
    if (test.outcome != cut::Outcome::done) return std::string(cut::sentence_of(test.outcome));
    if (!test.strip || !test.skew_rad) return "the strip is not read yet";
    const double taper = test.strip->fence_end_mm.value - test.strip->far_end_mm.value;
    return fmt::format("fence end less far end {}, over {}", base::show_reading(taper, units),
                       base::show_size(test.strip->between_mm.value, units));
}

struct Told {
    std::string came, set_aside;
};

Told told_by(const session::Event& event, const session::Seen& seen, base::Units units) {
    if (event.note) {
        const session::Note& note = seen.checks[*event.note];
        return {readings_of(note, seen, units), note.ended ? session::sentence_of(*note.ended) : ""};
    }
    const bool cut = std::holds_alternative<session::CutTest>(event.action) ||
                     std::holds_alternative<session::PushTest>(event.action);
    if (!cut || !event.test) return {};
    const session::Test& test = seen.tests[*event.test];
    return {strip_of(test, units), test.ended ? session::sentence_of(*test.ended) : ""};
}

}  // namespace

std::string name_of_deed(const session::Action& action, const session::Seen& before) {
    if (const auto* check = std::get_if<session::MakeCheck>(&action))
        return std::string(measure::info(check->check).title);
    if (const auto* repair = std::get_if<session::Repair>(&action))
        return session::repair_heading(repair->fault, session::jams(before));
    if (std::holds_alternative<session::CutTest>(action) || std::holds_alternative<session::PushTest>(action))
        return "Five-cut test";
    if (std::holds_alternative<session::PutShim>(action)) return "Shim put behind the fence";
    return std::holds_alternative<session::TakeShim>(action) ? "Shim taken out" : "";
}

std::vector<Known> known(const Hunt& hunt, base::Units units) {
    const session::Seen& seen = hunt.seen();
    std::vector<Known> all;
    double minutes = 0.0;
    for (const session::Event& event : seen.events) {
        minutes += event.cost.minutes;
        std::string what = name_of_deed(event.action, seen);
        if (what.empty()) continue;
        // A runner that was eased was so when the sled still jammed.
        for (const session::RepairNote& r : seen.repairs) {
            if (r.event == event.number && !r.by_shims) what = session::repair_heading(r.fault, r.eased);
        }
        Told told = told_by(event, seen, units);
        const bool shim = std::holds_alternative<session::PutShim>(event.action) ||
                          std::holds_alternative<session::TakeShim>(event.action);
        if (shim) all.push_back({minutes, event.says, "", ""});
        else all.push_back({minutes, what, std::move(told.came), std::move(told.set_aside)});
    }
    return all;
}

std::string spent_words(const Hunt& hunt, base::Units units) {
    const double limit = hunt.budget().minutes;
    std::string words = limit > 0.0 ? fmt::format("{:.0f} of {:.0f} min spent", hunt.seen().minutes, limit)
                                    : fmt::format("{:.0f} min spent", hunt.seen().minutes);
    if (const auto left = hunt.board_left_mm())
        words += fmt::format(", {} of board left", base::show_size(*left, units));
    return words;
}

}  // namespace offsquare::lesson
