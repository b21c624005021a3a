#include "session/class_words.h"

#include <cmath>

#include <fmt/format.h>

namespace offsquare::session {
namespace {

using base::Units;
using Show = ClassWords::Show;

ClassWords running(int cut) {
    const char* look = cut == 1  ? "Look at the blade: this cut only makes the first straight edge."
                       : cut < 5 ? "Look at the edge on the fence: each turn adds the same corner error once more."
                                 : "Look beside the blade: the strip that comes off holds four corner errors.";
    return {Show::table, fmt::format("Cut {} of 5", cut), look};
}

ClassWords before_cutting(const Seen& seen, Units units) {
    if (seen.last_test() == nullptr)
        return {Show::table, "Is the fence square?",
                fmt::format("Look at the fence: no eye sees {}. Five cuts will show it.",
                            units == Units::metric ? "half a millimetre in a metre" : "six thou in a foot")};
    const Test& last = *seen.last_test();
    if (last.outcome != cut::Outcome::done)
        return {Show::table, "No strip to read", std::string(cut::sentence_of(last.outcome))};
    return {Show::verdict, "Not clear yet",
            "Look at the bar: it reaches over the edge of the green band. Another test makes it shorter."};
}

ClassWords reading(const Test& test, Units units) {
    if (test.fence_end.empty() && test.far_end.empty()) {
        return {Show::table, "Which end is wider?",
                "Look at the strip beside the blade: one end lay at the fence, the other far from it."};
    }
    const bool fence = !test.fence_end.empty();
    const std::string read = base::show_reading((fence ? test.fence_end : test.far_end).back().value_mm, units);
    return {Show::table, fmt::format("{} end {}", fence ? "Fence" : "Far", read),
            "Look at the other end: will it be wider or narrower?"};
}

ClassWords both_read(const Test& test, Units units) {
    const double difference = test.strip->fence_end_mm.value - test.strip->far_end_mm.value;
    const std::string where = difference < 0.0 ? "at the far end" : "at the fence";
    return {Show::chart, fmt::format("{} wider {}", base::show_small(std::abs(difference), units), where),
            "Look at the last column: four corner errors stand in this one difference."};
}

ClassWords to_shim(const Test& test, Units units) {
    const shim::Proposal& p = *test.proposal;
    return {Show::table,
            fmt::format("Shim {} at the {} end", base::show_small(p.ideal_mm.value, units), shim::name_of(p.at)),
            fmt::format("Look at the {} end of the fence: it sits too near the operator.", shim::name_of(p.at))};
}

ClassWords proving(const Seen& seen) {
    if (!seen.proved)
        return {Show::table, "Is it square now?", "Look at the fence with its shim: only a second strip can prove it."};
    return {Show::verdict, "Square within the tolerance",
            "Look at the bar: all of what the error can be lies inside the green band."};
}

}  // namespace

ClassWords class_words(const Seen& seen, int running_cut, Units units) {
    if (running_cut > 0) return running(running_cut);
    const Todo todo = next_in_job(seen).todo;
    if (todo == Todo::undecidable)
        return {Show::verdict, "Not clear yet", "Look at the bar: it reaches over the edge of the green band."};
    if (todo == Todo::look_at_play)
        return {Show::verdict, "Not clear yet",
                "Look at the bar: it is long because nobody has looked at the sled's play yet."};
    if (todo == Todo::something_changes)
        return {Show::verdict, "Something changes", "Look at the bar: the tests disagree, and that makes it long."};
    if (todo == Todo::find_the_jam)
        return {Show::table, jam_sentence(seen, units), "Look at the runners: nothing is cut until the sled goes."};
    if (todo == Todo::look_elsewhere)
        return {Show::verdict, "Not square yet", "Look at the bar: shims alone do not bring it into the green band."};
    switch (stage_of(todo)) {
        case Stage::set_up:
        case Stage::cut: return before_cutting(seen, units);
        case Stage::read: return reading(*seen.last_test(), units);
        case Stage::work_out: return both_read(*seen.last_test(), units);
        case Stage::shim: return to_shim(*seen.last_test(), units);
        case Stage::prove: return proving(seen);
    }
    return {};
}

}  // namespace offsquare::session
