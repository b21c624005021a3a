#include "session/seen.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

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

std::optional<Note> note_of(const Test& test) {
    if (!test.strip) return std::nullopt;
    const diagnose::StripReadings& s = *test.strip;
    constexpr auto mm = shop::FaultUnit::mm;
    Note note;
    note.event = test.event;
    note.report = {
        {test.brushed ? measure::Check::brushed : measure::Check::five_cut, marked_mm(test.behind_left), marked_mm(test.behind_right), test.clamped_again},
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

}  // namespace offsquare::session
