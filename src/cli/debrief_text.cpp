#include "cli/debrief_text.h"

#include <cmath>

#include <fmt/format.h>

#include "session/findings.h"

namespace offsquare::cli {
namespace {

constexpr std::size_t text_width = 100;

using lesson::Verdict;

std::string_view mark_word(Verdict::Mark mark) {
    switch (mark) {
        case Verdict::Mark::good: return "good";
        case Verdict::Mark::so_so: return "so-so";
        case Verdict::Mark::bad: break;
    }
    return "bad";
}

std::string sign_of(Verdict::Mark mark, const Ink& ink) {
    switch (mark) {
        case Verdict::Mark::good: return ink.good("+");
        case Verdict::Mark::so_so: return "~";
        case Verdict::Mark::bad: break;
    }
    return ink.bad("-");
}

std::string wrong_rows(const lesson::Debrief& d, base::Units units) {
    std::vector<std::vector<std::string>> rows{{"what was wrong", "it was", "the readings said", ""}};
    for (const lesson::Found& f : d.found) {
        if (!f.there) continue;
        const std::string said = f.read ? fmt::format("{} to {}", session::size_text(f.fault, f.coverage95.lo, units),
                                                      session::size_text(f.fault, f.coverage95.hi, units))
                                        : "not looked for";
        rows.push_back({std::string(session::name_of(f.fault)), session::size_text(f.fault, f.was, units), said,
                        f.counts ? "" : "within what counts as square: leaving it was right"});
    }
    return rows.size() == 1 ? "Nothing was wrong with this saw that counts.\n" : columns(rows, 0);
}

std::string belief_rows(const lesson::Debrief& d) {
    std::vector<std::vector<std::string>> rows{{"after", "min"}};
    std::vector<shop::Fault> shown;
    for (const lesson::Found& f : d.found) {
        if (shown.size() == 4) break;
        shown.push_back(f.fault);
        rows.front().push_back(std::string(session::name_of(f.fault)));
    }
    rows.front().push_back("");
    for (const lesson::Moment& m : d.moments) {
        std::vector<std::string> row{m.what, fmt::format("{:.0f}", m.minutes)};
        for (const shop::Fault f : shown)
            row.push_back(fmt::format("{}", std::lround(100.0 * m.probability.at(static_cast<std::size_t>(f)))));
        row.push_back(m.reads && m.told_nothing ? "told next to nothing" : "");
        rows.push_back(std::move(row));
    }
    return columns(rows, 2, {1, 2, 3, 4, 5});
}

std::string road_row(const char* whose, const lesson::Road& road) {
    std::string legs;
    for (const lesson::Leg& l : road.legs)
        legs += fmt::format("{}{} {:.0f}", legs.empty() ? "" : "; ", l.what, l.minutes);
    return wrapped(fmt::format("{}: {:.0f} min ({})", whose, road.minutes(), legs), text_width, 2) + "\n";
}

Json road_json(const lesson::Road& road) {
    Json json{{"minutes", number(road.minutes())}, {"board_mm", number(road.board_mm())}, {"legs", Json::array()}};
    for (const lesson::Leg& l : road.legs)
        json["legs"].push_back({{"what", l.what},
                                {"minutes", number(l.minutes)},
                                {"board_mm", number(l.board_mm)},
                                {"told_nothing", l.told_nothing}});
    return json;
}

Json found_json(const lesson::Found& f) {
    const shop::FaultInfo& info = shop::info(f.fault);
    Json json{{"fault", info.key},
              {"unit", info.unit == shop::FaultUnit::mm ? "mm" : "rad"},
              {"was", number(f.was)},
              {"there", f.there},
              {"counts", f.counts},
              {"named", f.named},
              {"put_right", f.put_right},
              {"left", number(f.left)},
              {"read", f.read}};
    if (!f.read) return json;
    json["coverage95"] = interval_of(f.coverage95);
    json["within"] = f.within();
    return json;
}

}  // namespace

std::string debrief_text(const lesson::Debrief& d, base::Units units, const Ink& ink) {
    std::string text =
        ink.heading(d.headline) + "\n" + wrapped(d.beneath, text_width) + "\n\n" + wrong_rows(d, units) + "\n";
    for (const Verdict& v : d.verdicts) {
        text += fmt::format("{} {}\n", sign_of(v.mark, ink), v.says);
        text += wrapped("decided by: " + v.because, text_width, 4) + "\n";
    }
    text += "\nWhat could be believed, in 100\n" + belief_rows(d);
    text += "\nYour road and the shortest one\n" + road_row("you", d.yours);
    if (d.shortest) text += road_row("shortest", *d.shortest);
    return text;
}

Json debrief_json(const lesson::Debrief& d) {
    Json json{{"ending", lesson::name_of(d.closed.how)},
              {"right", d.right},
              {"headline", d.headline},
              {"beneath", d.beneath},
              {"hints", d.hints},
              {"sure", d.closed.sure},
              {"brier", number(d.brier)},
              {"found", Json::array()}};
    for (const lesson::Found& f : d.found) json["found"].push_back(found_json(f));
    json["verdicts"] = Json::array();
    for (const Verdict& v : d.verdicts)
        json["verdicts"].push_back({{"mark", mark_word(v.mark)}, {"says", v.says}, {"because", v.because}});
    json["moments"] = Json::array();
    for (const lesson::Moment& m : d.moments)
        json["moments"].push_back({{"what", m.what},
                                   {"minutes", number(m.minutes)},
                                   {"told_bits", number(m.told_bits)},
                                   {"told_nothing", m.told_nothing}});
    json["yours"] = road_json(d.yours);
    if (d.shortest) json["shortest"] = road_json(*d.shortest);
    return json;
}

}  // namespace offsquare::cli
