#include "saws/exports.h"

#include <cmath>
#include <stdexcept>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "saws/answer.h"
#include "saws/curve.h"

namespace offsquare::saws {
namespace {

using session::Json;

double number(double value) {
    if (!std::isfinite(value)) throw std::logic_error("a number of a document is not finite");
    return value == 0.0 ? 0.0 : value;
}

Json pair_of(const base::Interval& i) { return Json::array({number(i.lo), number(i.hi)}); }

std::string_view word_of(diagnose::State state) {
    switch (state) {
        case diagnose::State::pass: return "pass";
        case diagnose::State::fail: return "fail";
        case diagnose::State::undecided: break;
    }
    return "undecided";
}

std::string_view word_of(measure::Going felt) {
    switch (felt) {
        case measure::Going::goes: return "goes";
        case measure::Going::sticks: return "sticks";
        case measure::Going::does_not_go_in: return "does-not-go-in";
    }
    return "goes";
}

Json belief_form(const diagnose::Belief& b) {
    const shop::FaultInfo& f = shop::info(b.fault);
    const std::string unit = f.unit == shop::FaultUnit::mm ? "mm" : "rad";
    Json json;
    json["key"] = std::string(f.key);
    json["probability"] = number(b.probability);
    json["size_" + unit] = number(b.size);
    json["u_" + unit] = number(b.u);
    json["coverage95_" + unit] = pair_of(b.coverage95);
    json["looked_at"] = b.touched;
    json["disputed"] = b.disputed;
    return json;
}

bool counts(const std::vector<const Entry*>& all, const Entry& e) {
    for (const Entry* one : all) {
        if (one == &e) return true;
    }
    return false;
}

double mean_mm(const std::vector<base::Typed>& all) {
    double sum = 0.0;
    for (const base::Typed& t : all) sum += t.value;
    return sum / static_cast<double>(all.size());
}

// ---- CSV ----

std::string cell(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text) out += c == '"' ? "\"\"" : std::string(1, c);
    return out + "\"";
}

std::string of_strip(const Sled& sled, const Entry& e) {
    const auto* test = std::get_if<StripTest>(&e.what);
    if (test == nullptr) return ",,,,,,,";
    const Strip& s = test->strip;
    const SetUp then = set_up_of(sled, e.date);
    const diagnose::StripReadings r = strip_readings(s, then);
    const bool fits = too_steep(r).empty();
    const base::Uncertain skew = fits ? diagnose::skew_from_strip(r) : base::Uncertain{};
    return fmt::format("{},{},{},{},{},{},{},{}", mean_mm(s.fence_end), mean_mm(s.far_end), s.between->value,
                       s.span->value, *s.fell == shop::Side::left ? "left" : "right",
                       fits ? fmt::format("{}", number(skew.value)) : "", fits ? fmt::format("{}", skew.u) : "",
                       fits ? word_of(diagnose::state_of(skew, then.scenario.drawing.tolerance_rad)) : "");
}

// ---- JSON ----

Json newest_form(const Sled& sled) {
    const Entry* e = newest_test(sled);
    const auto answer = newest_answer(sled);
    if (e == nullptr || !answer || !answer->shim) return nullptr;
    const StripShim& s = *answer->shim;
    Json json{{"entry", e->number}, {"date", iso(e->date)}};
    json["fence_skew_rad"] = number(s.skew_rad.value);
    json["shim_mm"] = number(s.shim_mm.value);
    json["at"] = std::string(shim::name_of(s.at));
    json["u_shim_mm"] = number(s.shim_mm.u);
    json["coverage95_mm"] = pair_of(s.coverage95_mm);
    json["u_skew_rad"] = number(s.skew_rad.u);
    json["why"] = s.why;
    json["u_widths_mm"] =
        Json::array({number(answer->test.strip->fence_end_mm.u), number(answer->test.strip->far_end_mm.u)});
    json["state"] = word_of(answer->test.verdict->state);
    json["cut_again"] = worked_on_since_test(sled) != nullptr;
    json["tolerance_rad"] = number(answer->test.drawing.tolerance_rad);
    json["stack"] = Json::array();
    if (!answer->drawer_typed) return json;
    for (const shim::PickedShim& p : answer->test.proposal->best.pieces)
        json["stack"].push_back({{"name", p.name}, {"mm", number(p.thickness_mm)}});
    json["stack_mm"] = number(answer->test.proposal->best.thickness_mm);
    return json;
}

Json verdict_form(const session::Seen& seen) {
    const auto v = fence_verdict(seen);
    if (!v) return nullptr;
    return {{"state", word_of(v->verdict.state)},
            {"fence_skew_rad", number(v->verdict.mean_rad)},
            {"coverage95_rad", pair_of(v->verdict.coverage95)},
            {"changes_between_tests", v->verdict.changes}};
}

Json curve_form(const Sled& sled) {
    const Curve curve = curve_of(sled, base::Units::metric);
    Json json = Json::array();
    auto point = curve.points.begin();
    auto event = curve.events.begin();
    for (const bool is_point : curve.is_point) {
        if (is_point) {
            json.push_back({{"entry", point->entry},
                            {"date", iso(point->date)},
                            {"fence_skew_rad", number(point->skew_rad.value)},
                            {"coverage95_rad", pair_of(point->coverage95)},
                            {"state", word_of(point->state)},
                            {"behind_left_mm", number(point->behind_left_mm)},
                            {"behind_right_mm", number(point->behind_right_mm)}});
            ++point;
        } else {
            json.push_back({{"entry", event->entry}, {"date", iso(event->date)}, {"event", event->label}});
            ++event;
        }
    }
    return json;
}

Json entries_form(const Sled& sled) {
    const std::vector<const Entry*> all = in_effect(sled);
    Json json = Json::array();
    for (const Entry& e : sled.entries) {
        Json one{{"number", e.number}, {"date", iso(e.date)}, {"written", iso(e.written)}};
        if (e.corrects) one["corrects"] = *e.corrects;
        one["counts"] = counts(all, e);
        one["kind"] = kind_of(e.what);
        one["text"] = line_of(e.what, sled.units);
        json.push_back(std::move(one));
    }
    return json;
}

}  // namespace

Json diagnosis_form(const session::Findings& findings) {
    const auto key_of = [](shop::Fault fault) { return std::string(shop::info(fault).key); };
    Json json;
    json["sled"] = std::string(word_of(findings.diagnosis.felt));
    json["faults"] = Json::array();
    for (const diagnose::Belief& b : findings.diagnosis.beliefs) json["faults"].push_back(belief_form(b));
    json["unseparated"] = Json::array();
    for (const auto& [a, b] : findings.diagnosis.unseparated)
        json["unseparated"].push_back(Json::array({key_of(a), key_of(b)}));
    json["contradictions"] = Json::array();
    for (const diagnose::Contradiction& c : findings.diagnosis.contradictions) {
        json["contradictions"].push_back({{"check", std::string(measure::info(c.occasion.check).name)},
                                          {"number", c.report + 1},
                                          {"probability", number(c.oddness)},
                                          {"explained", !c.unexplained},
                                          {"settled", c.settled},
                                          {"sentence", session::sentence_of(c)}});
    }
    if (findings.next)
        json["next"] = {{"check", std::string(measure::info(findings.next->check).name)}, {"why", findings.next->why}};
    else json["next"] = nullptr;
    return json;
}

std::string csv_text(const Sled& sled) {
    const std::vector<const Entry*> all = in_effect(sled);
    std::string text =
        "number,date,written,corrects,counts,kind,text,fence_end_mm,far_end_mm,length_mm,span_mm,side,fence_skew_rad,"
        "u_skew_rad,state\r\n";
    for (const Entry& e : sled.entries)
        text += fmt::format("{},{},{},{},{},{},{},{}\r\n", e.number, iso(e.date), iso(e.written),
                            e.corrects ? fmt::format("{}", *e.corrects) : "", counts(all, e) ? "yes" : "no",
                            cell(kind_of(e.what)), cell(line_of(e.what, sled.units)), of_strip(sled, e));
    return text;
}

std::string json_text(const Sled& sled, const session::Findings* findings) {
    const OwnHistory own = history_of(sled);
    const Standing standing = standing_of(sled);
    Json json{{"schema_version", schema_version},
              {"name", sled.name},
              {"saw", sled.saw},
              {"units", sled.units == base::Units::metric ? "metric" : "imperial"},
              {"behind_left_mm", number(total_mm(standing.left))},
              {"behind_right_mm", number(total_mm(standing.right))}};
    json["newest"] = newest_form(sled);
    json["verdict"] = verdict_form(own.history.seen());
    json["curve"] = curve_form(sled);
    json["entries"] = entries_form(sled);
    json["diagnosis"] = findings == nullptr ? Json(nullptr) : diagnosis_form(*findings);
    return json.dump(2) + "\n";
}

}  // namespace offsquare::saws
