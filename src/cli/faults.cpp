// offsquare faults, offsquare checks: the two tables, and which check sees which fault.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "cli/request.h"
#include "cli/json.h"
#include "cli/verb.h"
#include "measure/gauges.h"
#include "session/findings.h"
#include "session/model.h"

namespace offsquare::cli {

namespace {

using measure::CheckInfo;
using shop::Fault;
using shop::FaultInfo;
using shop::FaultUnit;

bool among(const std::vector<Fault>& faults, Fault fault) {
    return std::find(faults.begin(), faults.end(), fault) != faults.end();
}

std::string_view turns_word(shop::Turns turns) {
    return turns == shop::Turns::yes ? "yes" : turns == shop::Turns::no ? "no" : "varies";
}

Json json_of(shop::Turns turns) {
    if (turns == shop::Turns::varies) return "varies";
    return turns == shop::Turns::yes;
}

std::string range_text(const FaultInfo& f, base::Units units) {
    const bool angle = f.unit == FaultUnit::rad;
    const double k = angle ? 1e3 : 1.0;
    return base::said_in(fmt::format("{:g} to {:g} {}", f.min * k, f.max * k, angle ? "mrad" : "mm"), units);
}

/// The saw that is asked about, and how its owner reads numbers.
struct Asked {
    shop::Drawing drawing;
    base::Units units;
};

base::Result<Asked> asked_of(const Arguments& arguments, std::istream& in) {
    const auto loaded = load_scenario(arguments.operand.value_or("built-in"), {}, in);
    if (!loaded) return tl::unexpected(loaded.error());
    const auto units = units_of(arguments, loaded->scenario.units.system);
    if (!units) return tl::unexpected(units.error());
    return Asked{loaded->scenario.drawing, *units};
}

// ---- which check sees which fault ----

diagnose::Sizes good_saw() {
    diagnose::Sizes good{};
    for (std::size_t i = 0; i < good.size(); ++i) good[i] = diagnose::declared_prior()[i].front().mean;
    return good;
}

diagnose::Sizes with_teachable(const FaultInfo& fault) {
    diagnose::Sizes worse = good_saw();
    worse[static_cast<std::size_t>(fault.fault)] += fault.teachable;
    return worse;
}

/// How many smallest teachable sizes of a fault one run of a check sees: the change of what it reads, or of its
/// scatter, in its own standard uncertainties. 0: blind.
double sizes_seen(const diagnose::Model& model, const CheckInfo& check, const FaultInfo& fault) {
    const auto before = model({check.check}, good_saw());
    const auto after = model({check.check}, with_teachable(fault));
    if (!before || !after) return 0.0;
    double most = 0.0;
    for (std::size_t i = 0; i < before->mean.size(); ++i) {
        const double moved = std::abs(after->mean[i] - before->mean[i]);
        const double scatter = std::sqrt(std::max(0.0, after->variance[i] - before->variance[i]));
        most = std::max(most, std::max(moved, scatter) / before->u[i]);
    }
    return most;
}

/// On a good saw with this fault added the sled does not go, and for this check it must.
bool jams(const diagnose::Model& model, const CheckInfo& check, const FaultInfo& fault) {
    const bool asks = measure::needs_the_sled_to_go(check.check) || check.check == measure::Check::push_through;
    return asks && model.felt(with_teachable(fault)) != measure::Going::goes;
}

/// How a check stands to a fault on this saw.
struct Look {
    double sizes = 0.0;   ///< sizes_seen on an otherwise good saw; 0 where that is as good as nothing
    bool jams = false;    ///< the sled does not go, which is seen too
    bool at_all = false;  ///< sees it beside some other fault at least
    bool alone() const { return jams || sizes > 0.0; }
};

constexpr double least_shown = 0.05;  // of a size, as the table rounds it

/// By fault, then by check, in the order of both tables.
using Looks = std::vector<std::vector<Look>>;

Looks looks_on(const shop::Drawing& drawing) {
    const diagnose::Model model = session::model_of(drawing);
    const session::Sight sight = session::sight_of(drawing);
    Looks looks;
    for (const FaultInfo& f : shop::faults()) {
        std::vector<Look>& row = looks.emplace_back();
        for (const CheckInfo& c : measure::checks()) {
            const double sizes = sizes_seen(model, c, f);
            row.push_back({sizes < least_shown ? 0.0 : sizes, jams(model, c, f),
                           among(sight[static_cast<std::size_t>(c.check)], f.fault)});
            if (row.back().alone()) row.back().at_all = true;
        }
    }
    return looks;
}

const Look& look(const Looks& looks, Fault fault, measure::Check check) {
    return looks[static_cast<std::size_t>(fault)][static_cast<std::size_t>(check)];
}

struct Seen {
    std::string alone;
    std::string beside;  ///< only beside other faults

    void add(std::string_view name, const Look& how) {
        if (!how.at_all) return;
        std::string& list = how.alone() ? alone : beside;
        list.append(list.empty() ? "" : ", ").append(name);
    }
    std::string text() const {
        if (beside.empty()) return alone;
        return alone + (alone.empty() ? "" : "; ") + "beside some other fault also " + beside;
    }
};

std::string faults_json(const Looks& looks) {
    Json json = {{"schema_version", schema_version}};
    json["faults"] = Json::array();
    for (const FaultInfo& f : shop::faults()) {
        Json seen = Json::array();
        Json alone = Json::array();
        for (const CheckInfo& c : measure::checks()) {
            const Look& how = look(looks, f.fault, c.check);
            if (how.at_all) seen.push_back(std::string(c.name));
            if (how.alone()) alone.push_back(std::string(c.name));
        }
        json["faults"].push_back(
            {{"key", std::string(f.key)},
             {"unit", f.unit == FaultUnit::mm ? "mm" : "rad"},
             {"min", f.min},
             {"max", f.max},
             {"turns_corner", json_of(f.turns_corner)},
             {"seen_by", seen},
             {"seen_alone_by", alone},
             {"wrong", std::string(f.wrong)},
             {"shows", std::string(f.shows)},
             {"repair", std::string(f.repair)},
             {"stops", std::string(f.stops)},
             {"usually_present",
              diagnose::probability_of(diagnose::declared_prior()[static_cast<std::size_t>(f.fault)])}});
    }
    return printed(json);
}

std::string fault_text(const FaultInfo& f, const Looks& looks, base::Units units, const Ink& ink) {
    Seen by;
    for (const CheckInfo& c : measure::checks()) by.add(c.name, look(looks, f.fault, c.check));
    return fmt::format("{}  ({})\n", ink.heading(f.key), session::name_of(f.fault)) +
           wrapped(base::said_in(std::string(f.wrong) + " " + std::string(f.shows), units), 100) + "\n" +
           columns({{"  range", range_text(f, units)},
                    {"  turns the corner", std::string(turns_word(f.turns_corner))},
                    {"  repair", base::said_in(f.repair, units)},
                    {"  where the model stops", base::said_in(f.stops, units)},
                    {"  seen by", by.text()}}) +
           "\n";
}

std::string checks_json(const Looks& looks) {
    Json json = {{"schema_version", schema_version}};
    json["checks"] = Json::array();
    for (const CheckInfo& c : measure::checks()) {
        Json faults = Json::array();
        for (const FaultInfo& f : shop::faults()) {
            if (look(looks, f.fault, c.check).at_all) faults.push_back(std::string(f.key));
        }
        Json readings = Json::array();
        for (const measure::ReadingInfo& r : c.readings)
            readings.push_back({{"what", std::string(r.what)},
                                {"unit", r.unit == FaultUnit::mm ? "mm" : "rad"},
                                {"meaning", std::string(r.meaning)}});
        Json steps = Json::array();
        for (const std::string_view step : c.steps) steps.push_back(std::string(step));
        json["checks"].push_back({{"name", std::string(c.name)},
                                  {"instrument", std::string(c.instrument)},
                                  {"limits_from", measure::limits_from(c.check)},
                                  {"minutes", c.minutes},
                                  {"stock_mm", c.stock_mm},
                                  {"sees", faults},
                                  {"title", std::string(c.title)},
                                  {"finds", std::string(c.finds)},
                                  {"steps", steps},
                                  {"readings", readings}});
    }
    return printed(json);
}

std::string check_text(const CheckInfo& c, const Looks& looks, base::Units units, const Ink& ink) {
    std::string text =
        fmt::format("{}  ({})\n", ink.heading(c.name), c.title) + wrapped(base::said_in(c.finds, units), 100) + "\n";
    for (std::size_t i = 0; i < c.steps.size(); ++i)
        text += wrapped(fmt::format("  {}. {}", i + 1, base::said_in(c.steps[i], units)), 100) + "\n";
    Seen faults;
    for (const FaultInfo& f : shop::faults()) faults.add(f.key, look(looks, f.fault, c.check));
    const std::string stock = c.stock_mm > 0.0 ? base::show_about(c.stock_mm, units) + " of board" : "no stock";
    return text +
           columns({{"  with", std::string(c.instrument)},
                    {"  limits from", base::said_in(measure::limits_from(c.check), units)},
                    {"  costs", fmt::format("{:g} min, {}", c.minutes, stock)},
                    {"  sees", faults.text()}}) +
           "\n";
}

// ---- faults down, checks across ----

std::string cell(const Look& how) {
    if (how.jams) return "jams";
    if (how.sizes == 0.0) return how.at_all ? "+" : "·";
    return how.sizes < 9.95 ? fmt::format("{:.1f}", how.sizes) : fmt::format("{:.0f}", how.sizes);
}

constexpr std::string_view table_key =
    "How surely one run of the check sees the smallest size worth finding, on an otherwise good saw: by how many of "
    "the check's standard uncertainties it moves the reading or its scatter. +: only beside some other fault. ·: not "
    "at all. jams: the sled does not go.";

std::string table_text(const Looks& looks, base::Units units) {
    std::string head = "| fault (smallest size worth finding) |";
    std::string rule = "|---|";
    for (const CheckInfo& c : measure::checks()) {
        head += fmt::format(" {} |", c.name);
        rule += "--:|";
    }
    std::string text = head + "\n" + rule + "\n";
    for (const FaultInfo& f : shop::faults()) {
        const bool angle = f.unit == FaultUnit::rad;
        text += base::said_in(
            fmt::format("| {} ({:g} {}) |", f.key, f.teachable * (angle ? 1e3 : 1.0), angle ? "mrad" : "mm"), units);
        for (const CheckInfo& c : measure::checks()) text += fmt::format(" {} |", cell(look(looks, f.fault, c.check)));
        text += "\n";
    }
    return text + "\n" + wrapped(std::string(table_key), 100) + "\n";
}

/// Good-enough figures, so that nobody hunts for what no machine holds.
constexpr std::string_view good_enough =
    "How good is good enough: the best published figure for a fence against its travel is 0.35 mm in 1 m (GOST "
    "6853-88, 2.2.7, a tenoning machine); blade against its travel 0.2 mm in 100 mm "
    "(GOST 9335-89, 2.6: loose); run-out of a flange face 0.03 mm on 100 mm (GOST 9335-89, 2.5). An engineer's square "
    "of grade 2 may be off by 0.05 mm in 300 mm itself (DIN 875-1, from memory).";

}  // namespace

base::Result<Answer> faults_verb_answer(const Arguments& arguments, const Door& door) {
    const auto asked = asked_of(arguments, door.in);
    if (!asked) return tl::unexpected(asked.error());
    const Looks looks = looks_on(asked->drawing);
    if (arguments.has("--table")) return Answer{table_text(looks, asked->units), {}, 0};
    if (arguments.has("--json")) return Answer{faults_json(looks), {}, 0};
    std::string text;
    for (const FaultInfo& f : shop::faults()) text += fault_text(f, looks, asked->units, door.ink);
    return Answer{text + wrapped(std::string(shop::not_modelled), 100) + "\n\n" +
                      wrapped(base::said_in(good_enough, asked->units), 100) + "\n\n" +
                      door.ink.strong(fmt::format(
                          "Set one with --set, for example: offsquare cut --set faults.blade_toe={} --reveal",
                          asked->units == base::Units::metric ? "1mm/m" : "12thou/12in")) +
                      "\n",
                  {},
                  0};
}

base::Result<Answer> checks_verb_answer(const Arguments& arguments, const Door& door) {
    const auto asked = asked_of(arguments, door.in);
    if (!asked) return tl::unexpected(asked.error());
    const Looks looks = looks_on(asked->drawing);
    if (arguments.has("--json")) return Answer{checks_json(looks), {}, 0};
    std::string text;
    for (const CheckInfo& c : measure::checks()) text += check_text(c, looks, asked->units, door.ink);
    return Answer{text + door.ink.strong("Do one: offsquare cut --check wiggle") + "\n" +
                      wrapped("At a real saw: where a check cuts, hold still, switch off and let the blade stop before "
                              "you read or reach for anything. Every other check at the saw begins with the saw "
                              "unplugged. Local codes and qualified instruction come first (offsquare cautions).",
                              100) +
                      "\n",
                  {},
                  0};
}

}  // namespace offsquare::cli
