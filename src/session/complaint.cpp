#include "session/complaint.h"

#include <algorithm>

#include <fmt/format.h>

#include "measure/going.h"
#include "session/next.h"

namespace offsquare::session {
namespace {

using scenario::Concern;

/// Before the first repair: later it may have come by a repair.
std::size_t first_repair(const Seen& seen) {
    std::size_t first = seen.events.size() + 1;
    for (const RepairNote& r : seen.repairs) first = std::min(first, r.event);
    return first;
}

bool is_push(const Note& note) { return note.report.occasion.check == measure::Check::push_through; }

bool jammed_as_found(const Seen& seen) {
    const std::vector<Note> notes = notes_of(seen);
    return std::any_of(notes.begin(), notes.end(), [&](const Note& n) {
        return n.event < first_repair(seen) && is_push(n) &&
               measure::going_of(n.report.readings.front().value, seen.drawing) != measure::Going::goes;
    });
}

/// What was put right of one kind, by name: "\"blade not parallel\"".
template <class IsOne>
std::string put_right(const Seen& seen, const IsOne& is_one) {
    std::string names;
    for (const RepairNote& r : seen.repairs) {
        const shop::FaultInfo& fault = shop::info(r.fault);
        if (r.of_this_set_up && is_one(fault))
            names += fmt::format("{}\"{}\"", names.empty() ? "" : " and ", fault.name);
    }
    return names;
}

/// What marks a face is in the blade.
std::string blade_put_right(const Seen& seen) {
    return put_right(seen, [](const shop::FaultInfo& f) { return f.group == shop::Group::blade; });
}

/// What comes and goes at the fence by itself.
std::string change_put_right(const Seen& seen) {
    return put_right(seen,
                     [](const auto& f) { return f.fault == shop::Fault::dust || f.fault == shop::Fault::clamp_creep; });
}

bool was_watched(const Seen& seen) {
    return std::any_of(seen.checks.begin(), seen.checks.end(), [](const Note& n) {
        return n.holds() && n.report.occasion.check == measure::Check::clamp_watch;
    });
}

std::string change_words(const Seen& seen) {
    const std::string what = change_put_right(seen);
    constexpr const char* later = "Whether it stays so, only a test on another day can tell.";
    if (!what.empty()) return fmt::format("{} was put right, and that comes and goes. {}", what, later);
    if (was_watched(seen)) return fmt::format("The fence was watched while it was clamped. {}", later);
    return "Not looked into yet. A test says what the saw does now, and not whether it stays so.";
}

std::string face_words(const Seen& seen) {
    const std::string blade = blade_put_right(seen);
    if (blade.empty()) return "That did not show here: the face of the last cut is clean.";
    return fmt::format("{} was put right, and the face of the last cut is clean.", blade);
}

/// The averaged strips, where one alone would not do.
std::string how_many(const Seen& seen) {
    const Test& test = *seen.last_test();
    if (test.pooled_tests < 2) return "";
    return fmt::format(" One strip could not tell with this {}; {} together do.", test.drawing.caliper.name,
                       test.pooled_tests);
}

std::string corner_words(const Seen& seen) {
    const bool any_board = seen.last_test()->other_boards == OtherBoards::alike;
    const std::string now =
        any_board ? "the corner is square now, and the fence straight enough for boards of other sizes too."
                  : "for a board like this the corner is square now.";
    return "The test answers that: " +
           (was_repaired(seen) ? now : "the corner is square as it was found, and nothing had to be put right.") +
           how_many(seen);
}

}  // namespace

bool was_repaired(const Seen& seen) {
    return std::any_of(seen.repairs.begin(), seen.repairs.end(), [](const RepairNote& r) { return r.of_this_set_up; });
}

bool to_be_pushed_first(const Seen& seen) {
    if (seen.concern != Concern::slide) return false;
    std::size_t went = 0;
    for (const Test& test : seen.tests) went = std::max(went, test.event);
    for (const Note& note : seen.checks) went = is_push(note) ? std::max(went, note.event) : went;
    if (went == 0) return true;
    return std::any_of(seen.repairs.begin(), seen.repairs.end(), [&](const RepairNote& r) {
        return r.event > went && r.of_this_set_up && shop::info(r.fault).group == shop::Group::guides;
    });
}

Became complaint_of(const Seen& seen, bool took_hold) {
    if (!seen.concern) return Became::nothing;
    switch (*seen.concern) {
        case Concern::corner: return Became::answered;
        case Concern::face: return blade_put_right(seen).empty() ? Became::answered : Became::mended;
        case Concern::change:
            if (!change_put_right(seen).empty()) return Became::mended;
            return was_watched(seen) ? Became::answered : Became::open;
        case Concern::slide: break;
    }
    if (jammed_as_found(seen)) return Became::mended;
    return took_hold ? Became::felt : Became::open;
}

std::string complaint_words(const Seen& seen, bool took_hold) {
    const Became became = complaint_of(seen, took_hold);
    if (became == Became::nothing || proof_of(seen) != Proved::passed) return "";
    switch (*seen.concern) {
        case Concern::corner: return corner_words(seen);
        case Concern::face: return face_words(seen);
        case Concern::change: return change_words(seen);
        case Concern::slide: break;
    }
    if (became == Became::mended) return "It stuck here too. Since the repair it goes all the way.";
    if (became == Became::felt) return "You took hold of it yourself:";
    return "Not looked into yet. For a test the sled is pressed to one side, so the corner says nothing of how it goes "
           "under a hand.";
}

}  // namespace offsquare::session
