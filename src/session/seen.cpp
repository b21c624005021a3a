#include "session/seen.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "measure/going.h"
#include "measure/report.h"

namespace offsquare::session {

std::string_view name_of(Stage stage) {
    constexpr std::array<std::string_view, 6> names{"Set up", "Cut", "Read", "Work out", "Shim", "Prove"};
    return names.at(static_cast<std::size_t>(stage));
}

double marked_mm(const std::vector<shim::PickedShim>& pieces) {
    double sum = 0.0;
    for (const shim::PickedShim& p : pieces) sum += p.thickness_mm;
    return sum;
}

namespace {

Note jam_of(const Test& test) {
    Note note;
    note.event = test.event;
    note.report = measure::push_report(
        {measure::Check::push_through, marked_mm(test.behind_left), marked_mm(test.behind_right), test.clamped_again},
        *test.went_mm);
    note.ended = test.ended;
    return note;
}

}  // namespace

std::optional<Note> note_of(const Test& test) {
    if (test.went_mm) return jam_of(test);
    if (!test.strip) return std::nullopt;
    const diagnose::StripReadings& s = *test.strip;
    constexpr auto mm = shop::FaultUnit::mm;
    Note note;
    note.event = test.event;
    note.report = {{test.brushed ? measure::Check::brushed : measure::Check::five_cut, marked_mm(test.behind_left),
                    marked_mm(test.behind_right), test.clamped_again},
                   {{"fence_end", mm, s.fence_end_mm.value, s.fence_end_mm.u},
                    {"far_end", mm, s.far_end_mm.value, s.far_end_mm.u},
                    {"length", mm, s.between_mm.value, s.between_mm.u}}};
    note.ended = test.ended;
    return note;
}

std::vector<Note> notes_of(const Seen& seen) {
    std::vector<Note> notes;
    for (const Note& check : seen.checks) {
        if (check.typed || !seen.real_saw) notes.push_back(check);
    }
    if (seen.real_saw) return notes;
    for (const Test& test : seen.tests) {
        if (auto note = note_of(test)) notes.push_back(std::move(*note));
    }
    std::stable_sort(notes.begin(), notes.end(), [](const Note& a, const Note& b) { return a.event < b.event; });
    return notes;
}

std::optional<double> jams_at_mm(const Seen& seen) {
    std::optional<double> went;
    std::size_t last = 0;
    const auto take = [&](std::size_t event, double mm) {
        if (event < last) return;
        went = mm;
        last = event;
    };
    for (const Note& note : seen.checks) {
        const bool push = note.report.occasion.check == measure::Check::push_through;
        if (push && note.holds() && (note.typed || !seen.real_saw))
            take(note.event, note.report.readings.front().value);
    }
    for (const Test& test : seen.tests) {
        if (test.went_mm && test.holds() && !seen.real_saw) take(test.event, *test.went_mm);
    }
    const bool stuck = went && measure::going_of(*went, seen.drawing) != measure::Going::goes;
    return stuck ? went : std::nullopt;
}

std::string jam_sentence(const Seen& seen, base::Units units) {
    const auto at = jams_at_mm(seen);
    if (!at) return "";
    if (measure::going_of(*at, seen.drawing) == measure::Going::does_not_go_in)
        return "The sled does not go into its slots.";
    return fmt::format("The sled {}.", measure::words_of_went(*at, seen.drawing, units));
}

}  // namespace offsquare::session
