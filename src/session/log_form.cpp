#include "session/log_form.h"

#include <algorithm>

#include <nlohmann/json.hpp>

#include "base/obscured.h"

namespace offsquare::session {
namespace {

constexpr const char* sealed_key = "sealed";

/// Changed values put checks on another saw; the others count.
bool of_this_set_up(const Note& note) { return !note.ended || note.ended->why != Ended::Why::value_set; }

void add_checks(Json& to, const Seen& seen) {
    std::size_t count = 0;
    const Note* last = nullptr;
    for (const Note& note : seen.checks) {
        if (!of_this_set_up(note)) continue;
        ++count;
        last = &note;
    }
    if (last == nullptr) return;
    to["checks"] = count;
    for (const measure::CheckReading& r : last->report.readings) to["read_mm"].push_back(r.value);
}

/// Where the job stands by what the strips alone say: that is what files have always recorded, whatever the verdict
/// about the fence says by then.
Stage stage_by_strips(const Seen& seen) {
    const Test* test = seen.last_test();
    const bool worked_out = test != nullptr && test->worked_out && test->pooled_rad && test->proposal;
    if (!worked_out || seen.shims_changed_since_last_test || test->outcome != cut::Outcome::done) return seen.stage;
    const auto strips = diagnose::state_of(*test->pooled_rad, test->drawing.tolerance_rad);
    if (strips == diagnose::State::pass) return Stage::prove;
    return test->proposal->at == shim::At::none ? Stage::cut : Stage::shim;
}

}  // namespace

Json outcome_of(const Seen& seen) {
    Json numbers;
    numbers["stage"] = name_of(stage_by_strips(seen));
    numbers["tests"] = seen.tests_now();
    add_checks(numbers, seen);
    const Test* test = seen.last_test();
    if (test == nullptr) return numbers;
    numbers["outcome"] = cut::name_of(test->outcome);
    if (!test->fence_end.empty()) numbers["fence_end_mm"] = test->fence_end.back().value_mm;
    if (!test->far_end.empty()) numbers["far_end_mm"] = test->far_end.back().value_mm;
    if (!test->pooled_rad) return numbers;
    numbers["fence_skew_rad"] = test->pooled_rad->value;
    numbers["u_rad"] = test->pooled_rad->u;
    numbers["shim_mm"] = test->proposal->ideal_mm.value;
    numbers["at"] = shim::name_of(test->proposal->at);
    return numbers;
}

void put_scenario(Json& head, const scenario::Scenario& scenario) {
    std::string text = scenario::to_text(scenario);
    if (scenario.complaint.empty()) head["scenario"] = std::move(text);
    else head[sealed_key] = base::obscured(text);
}

base::Result<std::string> scenario_text(const Json& head) {
    return head.contains(sealed_key) ? base::plain_again(word(head, sealed_key)) : word(head, "scenario");
}

}  // namespace offsquare::session
