#include "cli/report.h"

#include <fmt/format.h>

#include "cli/json.h"
#include "session/reveal.h"
#include "session/story.h"

namespace offsquare::cli {

namespace {

constexpr std::size_t text_width = 100;

std::string listed(const std::vector<shim::PickedShim>& shims, std::string_view end, base::Units units) {
    std::string text;
    for (const shim::PickedShim& placed : shims) {
        // The file's word for the material, then the thickness as marked.
        text += (text.empty() ? "" : " + ") +
                fmt::format("{} {}", printable(placed.name), base::show_small(placed.thickness_mm, units));
    }
    return text.empty() ? text : text + fmt::format(" behind the {} end", end);
}

std::vector<std::vector<std::string>> reading_rows(const std::vector<measure::Reading>& readings,
                                                   std::string_view where, base::Units units) {
    std::vector<std::vector<std::string>> rows;
    for (const measure::Reading& reading : readings) {
        rows.push_back({rows.empty() ? std::string(where) : "and again", base::show_reading(reading.value_mm, units),
                        "±", base::show_small(reading.u_mm, units)});
    }
    return rows;
}

std::string drawer_line(const shop::Shim& shim, base::Units units) {
    return fmt::format("{} × {} {}", shim.count, printable(shim.name), base::show_small(shim.thickness_mm, units));
}

std::string drawer_lines(const std::vector<shop::Shim>& drawer, base::Units units) {
    if (drawer.empty()) return "empty";
    std::string text;
    for (const shop::Shim& shim : drawer) text += (text.empty() ? "" : ", ") + drawer_line(shim, units);
    return text;
}

std::string truth_value(const shop::FaultInfo& fault, double size, base::Units units) {
    return fault.unit == shop::FaultUnit::rad ? base::show_angle(size, units) : base::show_small(size, units);
}

}  // namespace

std::string behind_the_fence(const session::Test& test, base::Units units) {
    const std::string left = listed(test.behind_left, "left", units);
    const std::string right = listed(test.behind_right, "right", units);
    if (left.empty() && right.empty()) return "nothing behind the fence";
    return left + (left.empty() || right.empty() ? "" : ", ") + right;
}

std::string cut_lines(const session::Test& test, base::Units units) {
    const shop::Board& board = test.drawing.board;
    std::string text = fmt::format("A board of {} by {}, kept on the {} of the blade, with {}.",
                                   base::show_size(board.width_mm, units), base::show_size(board.length_mm, units),
                                   side_word(board.kept), behind_the_fence(test, units));
    if (test.pushed) text += " " + session::hand_words(test.pushed->hand, units);
    if (test.brushed) text += " The fence was brushed before each cut.";
    if (test.strip_fell) text += fmt::format(" Five cuts; the strip fell on the {}.", side_word(*test.strip_fell));
    return wrapped(text, text_width) + "\n";
}

std::string reading_lines(const session::Test& test, base::Units units, const Ink& ink) {
    if (!test.strip) return {};
    auto rows = reading_rows(test.fence_end, "strip, fence end", units);
    for (auto& row : reading_rows(test.far_end, "strip, far end", units)) rows.push_back(std::move(row));
    if (test.between)
        rows.push_back({"old edge", base::show_reading(test.between->value_mm, units), "±",
                        base::show_small(test.between->u_mm, units)});
    return ink.heading("Readings") + " (each with its standard uncertainty)\n" + columns(rows, 2, {1, 3});
}

std::string working_lines(const session::Test& test, base::Units units, const Ink& ink) {
    const session::Working working = session::working(test, units);
    if (working.lines.empty()) return {};
    std::vector<std::vector<std::string>> rows;
    for (const session::WorkingLine& line : working.lines) rows.push_back({line.what, line.how, line.result});
    return ink.heading("Working") + "\n" + columns(rows, 2, {2}) + "\n" + ink.strong(working.conclusion) + "\n" +
           wrapped(working.because, text_width) + "\n";
}

std::string shim_lines(const session::Test& test, base::Units units) {
    // Where no shim is proposed, the working has said why.
    if (!test.proposal || test.proposal->at == shim::At::none) return {};
    const shim::Proposal& p = *test.proposal;
    if (!p.best.pieces.empty())
        return wrapped("From the drawer: " + session::stack_sentence(test, units), text_width) + "\n";
    return wrapped(session::stack_sentence(test, units), text_width) + "\n";
}

std::string truth_lines(const session::Revealed& revealed, base::Units units, const Ink& ink) {
    const session::TrueTest& test = revealed.tests.back();
    std::vector<std::vector<std::string>> rows = {
        {"fence in this test, shims counted", base::show_angle(test.skew_rad, units)}};
    for (const shop::FaultInfo& f : shop::faults()) {
        const double size = revealed.sizes[static_cast<std::size_t>(f.fault)];
        if (size != 0.0 || f.fault == shop::Fault::fence_skew)
            rows.push_back({"faults." + std::string(f.key), truth_value(f, size, units), std::string(f.name)});
    }
    for (const session::HiddenShape& s : revealed.shapes) {
        if (!s.profile.straight())
            rows.push_back({"faults." + std::string(s.key), fmt::format("{} points", s.profile.points().size())});
    }
    for (std::size_t i = 0; i < test.corners_rad.size(); ++i)
        rows.push_back({fmt::format("corner of cut {} off by", i + 1), base::show_angle(test.corners_rad[i], units)});
    return ink.heading("The truth") + " (which no one at a real saw is told)\n" + columns(rows);
}

std::string set_up_lines(const scenario::Scenario& scenario) {
    const shop::Drawing& d = scenario.drawing;
    const base::Units u = scenario.units;
    const auto size = [u](double mm) { return base::show_size(mm, u); };
    const auto small = [u](double mm) { return base::show_small(mm, u); };
    return columns({
        {"table", fmt::format("{} wide, {} deep", size(d.table.width_mm), size(d.table.depth_mm))},
        {"blade", fmt::format("{} across, {} above the table, kerf {}", size(d.blade.diameter_mm),
                              size(d.blade.height_mm), small(d.blade.kerf_mm))},
        {"slots", fmt::format("{} wide, {} left and {} right of the blade", size(d.slots.width_mm),
                              size(-d.slots.left_x_mm), size(d.slots.right_x_mm))},
        {"sled", fmt::format("{} by {}, runners {}", size(d.sled.width_mm), size(d.sled.depth_mm),
                             size(d.sled.runner_length_mm))},
        {"fence", fmt::format("{} long, shim points {} apart", size(d.fence.length_mm), size(d.fence.span_mm()))},
        {"board", fmt::format("{} by {}, kept on the {} of the blade", size(d.board.width_mm), size(d.board.length_mm),
                              side_word(d.board.kept))},
        {"caliper", fmt::format("{}, step {}, limits of error {}, repeatability {}", printable(d.caliper.name),
                                small(d.caliper.step_mm), small(d.caliper.limit_mm), small(d.caliper.repeat_mm))},
        {"tape", fmt::format("step {}, limits of error {}", small(d.tape.step_mm), small(d.tape.limit_mm))},
        {"drawer", drawer_lines(d.drawer, u)},
        {"tolerance", base::show_angle(d.tolerance_rad, u)},
    });
}

std::string inked_verdict(const session::Test& test, base::Units units, const Ink& ink) {
    const std::string sentence = session::verdict_sentence(test, units);
    if (!test.verdict) return sentence;
    switch (test.verdict->state) {
        case diagnose::State::pass: return ink.good(sentence);
        case diagnose::State::fail: return ink.bad(sentence);
        case diagnose::State::undecided: break;
    }
    return ink.strong(sentence);
}

}  // namespace offsquare::cli
