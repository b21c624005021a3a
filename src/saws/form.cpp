#include "saws/form.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "session/form.h"

namespace offsquare::saws {
namespace {

using base::fail;
using base::Grade;
using base::Result;
using session::Json;

constexpr int format = 1;

// ---- writing ----

Json typed(const base::Typed& t) {
    Json json{{"mm", t.value}, {"step_mm", t.step}};
    if (t.inches) json["inches"] = true;
    return json;
}

Json typed(const std::vector<base::Typed>& all) {
    Json json = Json::array();
    for (const base::Typed& t : all) json.push_back(typed(t));
    return json;
}

Json pieces(const std::vector<Piece>& all) {
    Json json = Json::array();
    for (const Piece& p : all) json.push_back({{"name", p.name}, {"mm", p.thickness_mm}, {"u_mm", p.u_mm}});
    return json;
}

void write(Json& to, const StripTest& test) {
    const Strip& s = test.strip;
    to["what"] = "test";
    to["fence_end"] = typed(s.fence_end);
    to["far_end"] = typed(s.far_end);
    to["between"] = typed(*s.between);
    to["span"] = typed(*s.span);
    to["fell"] = *s.fell == shop::Side::left ? "left" : "right";
    if (s.ends_marked) to["ends_marked"] = *s.ends_marked;
    if (s.brushed) to["brushed"] = true;
}

void write(Json& to, const CheckMade& made) {
    to["what"] = "check";
    to["check"] = measure::info(made.check).name;
    for (const measure::CheckReading& r : made.readings) to["readings_mm"][r.what] = {r.value, r.u};
}

void write(Json& to, const ShimsMoved& moved) {
    to["what"] = "shims";
    const auto part = [&](const char* key, const std::vector<Piece>& all) {
        if (!all.empty()) to[key] = pieces(all);
    };
    part("put_left", moved.put_left);
    part("put_right", moved.put_right);
    part("taken_left", moved.taken_left);
    part("taken_right", moved.taken_right);
}

void write(Json& to, const FenceMoved&) { to["what"] = "fence-moved"; }

void write(Json& to, const PutRight& done) {
    to["what"] = "put-right";
    if (done.fault) to["fault"] = shop::info(*done.fault).key;
    if (!done.what.empty()) to["text"] = done.what;
}

void write(Json& to, const Remark& remark) {
    to["what"] = "note";
    to["text"] = remark.text;
}

void write(Json& to, const SizesTyped& sizes) {
    to["what"] = "sizes";
    to["sizes"] = Json::object();
    for (const Size& s : sizes.sizes) to["sizes"][s.key] = s.value;
}

void write(Json& to, const DrawerTyped& drawer) {
    to["what"] = "drawer";
    to["pieces"] = Json::array();
    for (const shop::Shim& s : drawer.pieces)
        to["pieces"].push_back({{"name", s.name}, {"mm", s.thickness_mm}, {"u_mm", s.u_mm}, {"count", s.count}});
}

void write(Json& to, const Withdrawn&) { to["what"] = "withdrawn"; }

// ---- reading ----

/// What is wrong with a line; whoever reads the file adds its name and number.
constexpr std::string_view no_line = "this is not a line of a sled's file";

tl::unexpected<base::Problem> wrong(std::string what) { return fail(Grade::bad_data, std::move(what)); }

Result<double> number(const Json& json, const char* key) {
    const auto value = session::real(json, key);
    if (!value) return wrong(fmt::format("\"{}\" must be a number", key));
    return *value;
}

Result<std::string> text(const Json& json, const char* key) {
    if (!json.contains(key) || !json[key].is_string()) return wrong(fmt::format("\"{}\" must be a text", key));
    return json[key].get<std::string>();
}

Result<bool> flag(const Json& json, const char* key, bool usual) {
    if (!json.contains(key)) return usual;
    if (!json[key].is_boolean()) return wrong(fmt::format("\"{}\" must be true or false", key));
    return json[key].get<bool>();
}

Result<base::Typed> typed_of(const Json& json, const char* what) {
    if (!json.is_object()) return wrong(fmt::format("\"{}\" must be an object with \"mm\" and \"step_mm\"", what));
    const auto mm = number(json, "mm");
    if (!mm) return tl::unexpected(mm.error());
    const auto step = number(json, "step_mm");
    if (!step) return tl::unexpected(step.error());
    const auto inches = flag(json, "inches", false);
    if (!inches) return tl::unexpected(inches.error());
    return base::Typed{*mm, *step, *inches};
}

Result<base::Typed> one_of(const Json& json, const char* key) {
    if (!json.contains(key)) return wrong(fmt::format("\"{}\" is missing", key));
    return typed_of(json[key], key);
}

Result<std::vector<base::Typed>> all_of(const Json& json, const char* key) {
    if (!json.contains(key) || !json[key].is_array()) return wrong(fmt::format("\"{}\" must be a list", key));
    std::vector<base::Typed> all;
    for (const Json& one : json[key]) {
        auto t = typed_of(one, key);
        if (!t) return tl::unexpected(t.error());
        all.push_back(*t);
    }
    return all;
}

Result<What> test_of(const Json& json) {
    StripTest test;
    for (const auto& [key, to] : {std::pair{"fence_end", &test.strip.fence_end}, {"far_end", &test.strip.far_end}}) {
        auto all = all_of(json, key);
        if (!all) return tl::unexpected(all.error());
        *to = std::move(*all);
    }
    for (const auto& [key, to] : {std::pair{"between", &test.strip.between}, {"span", &test.strip.span}}) {
        const auto one = one_of(json, key);
        if (!one) return tl::unexpected(one.error());
        *to = *one;
    }
    const std::string fell = session::word(json, "fell");
    if (fell != "left" && fell != "right") return wrong("\"fell\" must be \"left\" or \"right\"");
    test.strip.fell = fell == "left" ? shop::Side::left : shop::Side::right;
    if (json.contains("ends_marked")) {
        const auto marked = flag(json, "ends_marked", true);
        if (!marked) return tl::unexpected(marked.error());
        test.strip.ends_marked = *marked;
    }
    const auto brushed = flag(json, "brushed", false);
    if (!brushed) return tl::unexpected(brushed.error());
    test.strip.brushed = *brushed;
    return test;
}

Result<What> check_made_of(const Json& json) {
    const auto check = measure::check_of(session::word(json, "check"));
    if (!check) return wrong("\"check\" must be the name of a check, as offsquare checks lists them");
    CheckMade made{*check, {}};
    const bool object = json.contains("readings_mm") && json["readings_mm"].is_object();
    for (const measure::ReadingInfo& wanted : measure::info(*check).readings) {
        const std::string key(wanted.what);
        const bool there = object && json["readings_mm"].contains(key) && json["readings_mm"][key].is_array() &&
                           json["readings_mm"][key].size() == 2 && json["readings_mm"][key][0].is_number() &&
                           json["readings_mm"][key][1].is_number();
        if (!there)
            return wrong(fmt::format("\"readings_mm\" lacks \"{}\": a value and its standard uncertainty", key));
        const Json& pair = json["readings_mm"][key];
        made.readings.push_back({key, wanted.unit, pair[0].get<double>(), pair[1].get<double>()});
    }
    return made;
}

/// One piece of the list that stands under `key`.
Result<Piece> piece_of(const Json& json, const char* key) {
    if (!json.is_object()) return wrong(fmt::format("\"{}\" must be a list of pieces", key));
    const auto name = text(json, "name");
    if (!name) return tl::unexpected(name.error());
    const auto mm = number(json, "mm");
    if (!mm) return tl::unexpected(mm.error());
    const auto u = number(json, "u_mm");
    if (!u) return tl::unexpected(u.error());
    return Piece{*name, *mm, *u};
}

Result<std::vector<Piece>> pieces_of(const Json& json, const char* key) {
    std::vector<Piece> all;
    if (!json.contains(key)) return all;
    if (!json[key].is_array()) return wrong(fmt::format("\"{}\" must be a list", key));
    for (const Json& one : json[key]) {
        auto piece = piece_of(one, key);
        if (!piece) return tl::unexpected(piece.error());
        all.push_back(std::move(*piece));
    }
    return all;
}

Result<What> shims_of(const Json& json) {
    ShimsMoved moved;
    for (const auto& [key, to] : {std::pair{"put_left", &moved.put_left},
                                  {"put_right", &moved.put_right},
                                  {"taken_left", &moved.taken_left},
                                  {"taken_right", &moved.taken_right}}) {
        auto all = pieces_of(json, key);
        if (!all) return tl::unexpected(all.error());
        *to = std::move(*all);
    }
    return moved;
}

Result<What> put_right_of(const Json& json) {
    PutRight done;
    if (json.contains("fault")) {
        done.fault = shop::fault_of(session::word(json, "fault"));
        if (!done.fault) return wrong("\"fault\" must be the key of a fault, as offsquare faults lists them");
    }
    done.what = session::word(json, "text");
    return done;
}

Result<What> remark_of(const Json& json) {
    const auto says = text(json, "text");
    if (!says) return tl::unexpected(says.error());
    return Remark{*says};
}

Result<What> sizes_of(const Json& json) {
    if (!json.contains("sizes") || !json["sizes"].is_object()) return wrong("\"sizes\" must be an object");
    SizesTyped sizes;
    for (const auto& [key, value] : json["sizes"].items()) {
        if (!value.is_string()) return wrong(fmt::format("the size \"{}\" must be a text", key));
        sizes.sizes.push_back({key, value.get<std::string>()});
    }
    return sizes;
}

Result<What> drawer_of(const Json& json) {
    if (!json.contains("pieces") || !json["pieces"].is_array()) return wrong("\"pieces\" must be a list");
    DrawerTyped drawer;
    for (const Json& one : json["pieces"]) {
        const auto piece = piece_of(one, "pieces");
        if (!piece) return tl::unexpected(piece.error());
        const auto count = number(one, "count");
        if (!count) return tl::unexpected(count.error());
        if (!(*count >= 0.0 && *count <= 20.0) || std::trunc(*count) != *count)
            return wrong("\"count\" must be a whole number from 0 to 20");
        drawer.pieces.push_back({piece->name, piece->thickness_mm, piece->u_mm, static_cast<int>(*count)});
    }
    return drawer;
}

Result<What> what_of(const Json& json) {
    const std::string what = session::word(json, "what");
    if (what == "test") return test_of(json);
    if (what == "check") return check_made_of(json);
    if (what == "shims") return shims_of(json);
    if (what == "fence-moved") return FenceMoved{};
    if (what == "put-right") return put_right_of(json);
    if (what == "note") return remark_of(json);
    if (what == "sizes") return sizes_of(json);
    if (what == "drawer") return drawer_of(json);
    if (what == "withdrawn") return Withdrawn{};
    return wrong("\"what\" must be test, check, shims, fence-moved, put-right, note, sizes, drawer or withdrawn");
}

Result<Date> date_of(const Json& json, const char* key) {
    const std::string text = session::word(json, key);
    auto date = parse_date(text);
    if (date && iso(*date) == text) return date;
    return wrong(fmt::format("\"{}\" must be a date such as 2026-11-29", key));
}

Result<int> entry_number(const Json& json, const char* key) {
    if (!json.contains(key) || !json[key].is_number_integer())
        return wrong(fmt::format("\"{}\" must be a whole number", key));
    const auto n = json[key].get<std::int64_t>();
    if (n < 1 || n > 1000000) return wrong(fmt::format("\"{}\" must be from 1 to 1000000", key));
    return static_cast<int>(n);
}

/// Adds the entry of a line as `added` would have, so that a file holds nothing that could not be typed.
Result<void> take_entry(Sled& sled, const Json& json) {
    const auto n = entry_number(json, "n");
    if (!n) return tl::unexpected(n.error());
    const auto date = date_of(json, "date");
    if (!date) return tl::unexpected(date.error());
    const auto written = date_of(json, "written");
    if (!written) return tl::unexpected(written.error());
    std::optional<int> corrects;
    if (json.contains("corrects")) {
        const auto which = entry_number(json, "corrects");
        if (!which) return tl::unexpected(which.error());
        corrects = *which;
    }
    auto what = what_of(json);
    if (!what) return tl::unexpected(what.error());
    if (!sled.entries.empty() && *n <= sled.entries.back().number)
        return wrong("entries are numbered upwards, each number once");
    auto more = added(sled, std::move(*what), *date, std::max(*date, *written), corrects);
    if (!more) return wrong(more.error().message);
    sled = std::move(*more);
    sled.entries.back().number = *n;
    sled.entries.back().written = *written;
    return {};
}

Result<Sled> head_of(const Json& json) {
    if (!json.contains("offsquare_sled")) return wrong("the first line names the format: {\"offsquare_sled\":1, ...}");
    if (json["offsquare_sled"] != format)
        return wrong(
            fmt::format("this file is of another format; this program reads format {}. It is left as it is", format));
    Sled sled;
    const auto name = text(json, "name");
    if (!name) return tl::unexpected(name.error());
    if (auto ok = check_name(*name); !ok) return wrong(ok.error().message);
    sled.name = *name;
    sled.saw = session::word(json, "saw");
    if (!sled.saw.empty()) {
        if (auto ok = check_name(sled.saw); !ok) return wrong(ok.error().message);
    }
    const std::string units = session::word(json, "units");
    if (units != "metric" && units != "imperial") return wrong("\"units\" must be \"metric\" or \"imperial\"");
    sled.units = units == "imperial" ? base::Units::imperial : base::Units::metric;
    return sled;
}

tl::unexpected<base::Problem> at_line(std::string_view name, std::size_t line, const base::Problem& problem) {
    return fail(problem.grade, fmt::format("{}:{}: {}", name, line, problem.message));
}

}  // namespace

std::string file_text(const Sled& sled) {
    Json head{{"offsquare_sled", format},
              {"program", OFFSQUARE_VERSION},
              {"name", sled.name},
              {"saw", sled.saw},
              {"units", sled.units == base::Units::metric ? "metric" : "imperial"}};
    std::string text = head.dump() + "\n";
    for (const Entry& e : sled.entries) {
        Json line{{"n", e.number}, {"date", iso(e.date)}, {"written", iso(e.written)}};
        if (e.corrects) line["corrects"] = *e.corrects;
        std::visit([&](const auto& what) { write(line, what); }, e.what);
        text += line.dump() + "\n";
    }
    return text;
}

Result<Read> read_file_text(std::string_view text, std::string_view name) {
    std::vector<std::string_view> lines = session::lines_of(text);
    Read read;
    if (lines.empty()) return fail(Grade::bad_data, fmt::format("{}: the file is empty", name));
    if (lines.size() > 1 && !text.ends_with('\n') && !Json::accept(lines.back())) {
        lines.pop_back();
        read.notes.emplace_back("the last line was incomplete and has been left out");
    }
    if (lines.size() > most_entries + 1)
        return fail(Grade::bad_data,
                    fmt::format("{}: {} lines; a log has {} entries at most", name, lines.size(), most_entries));
    const auto head = session::object_of(lines.front(), no_line);
    if (!head) return at_line(name, 1, head.error());
    auto sled = head_of(*head);
    if (!sled) return at_line(name, 1, sled.error());
    read.sled = std::move(*sled);
    for (std::size_t i = 1; i < lines.size(); ++i) {
        const auto json = session::object_of(lines[i], no_line);
        if (!json) return at_line(name, i + 1, json.error());
        if (auto taken = take_entry(read.sled, *json); !taken) return at_line(name, i + 1, taken.error());
    }
    return read;
}

Result<Head> read_head(std::string_view first_line, std::string_view name) {
    const auto json = session::object_of(first_line, no_line);
    if (!json) return at_line(name, 1, json.error());
    const auto sled = head_of(*json);
    if (!sled) return at_line(name, 1, sled.error());
    return Head{sled->name, sled->saw};
}

}  // namespace offsquare::saws
