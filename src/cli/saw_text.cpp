#include "cli/saw_text.h"

#include <algorithm>

#include <fmt/format.h>

#include "saws/answer.h"
#include "saws/curve.h"
#include "session/next.h"
#include "session/story.h"

namespace offsquare::cli {

using base::Units;

namespace {

constexpr std::size_t width = 100;

std::string paragraph(const std::string& text) { return text.empty() ? "" : wrapped(text, width) + "\n"; }

std::string working_text(const session::Test& test, Units units) {
    std::vector<std::vector<std::string>> rows;
    for (const session::WorkingLine& line : session::working(test, units).lines)
        rows.push_back({line.what, line.how, line.result});
    return rows.empty() ? "" : columns(rows, 2, {2});
}

std::string strip_text(const saws::Answer& answer, const saws::InLog& known, Units units, const Ink& ink) {
    const saws::AnswerWords words = saws::words_of(answer, units, known);
    std::string text = ink.strong(words.heading) + "\n";
    if (known.shims) text += paragraph(known.shims->sentence);
    text += paragraph(words.give_or_take) + paragraph(words.why) + paragraph(words.square);
    if (!words.stack.empty()) text += paragraph("From your drawer: " + words.stack);
    else if (answer.shim && !answer.drawer_typed)
        text += paragraph(fmt::format("No shims are in your drawer yet: --drawer \"brass {} x4\" tells what there is.",
                                      units == Units::metric ? "0.1mm" : "0.004in"));
    text += paragraph(words.which_end);
    const std::string working = working_text(answer.test, units);
    return text + (working.empty() ? "" : "\nWorking\n" + working);
}

/// One proposal: the check that was just named, or what should be put right.
std::string next_text(const saws::Besides& besides, const session::Seen& seen, const session::Findings* findings) {
    const session::Next next = session::next_in_hunt(seen, findings);
    if (next.todo == session::Todo::repair_there)
        return fmt::format("Next: put right \"{}\".", session::name_of(*next.fault));
    if (!besides.check) return "";
    return fmt::format("How it is made: offsquare checks ({}).", measure::info(*besides.check).name);
}

}  // namespace

std::string list_text(const std::vector<saws::Listed>& all, const Ink& ink) {
    if (all.empty())
        return "No sled of your own is written down yet. To begin: offsquare saw \"the blue sled\" --new\n";
    std::vector<std::vector<std::string>> rows;
    for (const saws::Listed& one : all) {
        if (one.trouble.empty()) rows.push_back({one.name, one.saw.empty() ? "" : "on " + one.saw});
        else rows.push_back({one.file.filename().string(), "cannot be read: " + one.trouble});
    }
    for (auto& row : rows) {
        for (std::string& cell : row) cell = printable(cell);
    }
    return ink.heading("Your sleds") + "\n" + columns(rows);
}

std::string answer_text(const saws::Sled& sled, const session::Findings* findings, Units units, saws::Date today,
                        const Ink& ink) {
    std::string text =
        ink.heading(printable(sled.name)) + (sled.saw.empty() ? "" : " on " + printable(sled.saw)) + "\n";
    const saws::SetUp set_up = saws::set_up_of(sled);
    for (const std::string& why : set_up.does_not_fit) text += paragraph("Does not fit together: " + why);
    text += "Behind the fence: " + saws::words_of(saws::standing_of(sled), units, today) + ".\n\n";
    const auto answer = saws::newest_answer(sled);
    if (!answer)
        return text + paragraph(
                          "No strip was read yet. How to cut one: offsquare saw --steps. Then: offsquare saw NAME "
                          "--read fence-end=… --read far-end=… --read length=… --read span=…");
    const saws::OwnHistory own = saws::history_of(sled);
    const session::Seen& seen = own.history.seen();
    const auto verdict = saws::fence_verdict(seen);
    const saws::Entry* test = saws::newest_test(sled);
    const auto again = saws::cut_again(sled, units, today);
    const auto besides =
        findings != nullptr ? std::optional(saws::besides_of(*findings, own, sled, today)) : std::nullopt;
    if (again) {
        text += ink.strong(again->heading) + "\n" + paragraph(again->why);
    } else {
        text += fmt::format("Strip of {} (entry {})\n", saws::in_words(test->date, today), test->number);
        saws::InLog known = saws::in_log(sled, seen, units);
        known.contradicted = besides && besides->of_the_fence;
        text += strip_text(*answer, known, units, ink);
    }
    text += "\n";
    for (const std::string& why : own.left_out) text += paragraph("Left out: " + why);
    if (verdict && !again) text += paragraph(saws::verdict_words(*verdict, units));
    if (besides) {
        text += besides->agree ? "Your readings agree with each other.\n" : "";
        for (const std::string& odd : besides->contradicts) text += ink.bad(paragraph(odd));
        text += paragraph(besides->says);
        text += paragraph(next_text(*besides, seen, findings));
    }
    return text + "\n" + paragraph(session::cautions().short_line);
}

std::string log_text(const saws::Sled& sled, Units units, saws::Date today, const Ink& ink) {
    std::string text =
        ink.heading(printable(sled.name)) + (sled.saw.empty() ? "" : " on " + printable(sled.saw)) + "\n";
    const saws::Curve curve = saws::curve_of(sled, units);
    std::vector<const saws::Entry*> order;
    for (const saws::Entry& e : sled.entries) order.push_back(&e);
    std::stable_sort(order.begin(), order.end(),
                     [](const saws::Entry* a, const saws::Entry* b) { return a->date < b->date; });
    for (const saws::Entry* e : order) {
        std::string line = fmt::format("{}: {}", saws::kind_of(e->what), saws::line_of(e->what, units));
        const auto point = std::find_if(curve.points.begin(), curve.points.end(),
                                        [&](const saws::CurvePoint& p) { return p.entry == e->number; });
        if (point != curve.points.end())
            line += fmt::format(". Off by {}",
                                base::show_angle_within(point->skew_rad.value,
                                                        0.5 * (point->coverage95.hi - point->coverage95.lo), units));
        if (e->corrects) line += fmt::format(" (instead of entry {})", *e->corrects);
        if (const saws::Entry* by = saws::corrected_by(sled, e->number))
            line += fmt::format(" [no longer counts: see entry {}]", by->number);
        const std::string head = fmt::format("{:>4}  {:<18}", e->number, saws::in_words(e->date, today));
        std::string body = wrapped(printable(line), width - 24, 24);
        body.erase(0, std::min<std::size_t>(24, body.size()));
        text += head + body + "\n";
    }
    return text + (order.empty() ? "Nothing is written down yet.\n" : "");
}

}  // namespace offsquare::cli
