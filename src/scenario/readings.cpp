#include "scenario/readings.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <map>

#include <fmt/format.h>

#include "base/read.h"
#include "measure/going.h"
#include "measure/report.h"
#include "measure/run_check.h"
#include "scenario/take.h"
#include "shop/truth.h"

namespace offsquare::scenario {
namespace {

using base::Grade;
using base::Result;
using measure::CheckInfo;
using measure::CheckReport;

constexpr std::string_view prefix = "check.";
constexpr std::string_view went_key = "went";  ///< of push_through
constexpr std::size_t most_checks = 200;       ///< a long day at the saw

/// One [[check]] as it stands in the file.
struct Block {
    Spot spot;
    std::vector<Item> items;  ///< keys without the prefix
};

struct File {
    std::string_view name;
    base::Units bare = base::Units::metric;
};

/// What the file should say is told in its units; what it says stays as it stands there.
tl::unexpected<base::Problem> bad(const File& file, Spot spot, std::string_view message) {
    const std::size_t ours = std::min({message.find("Allowed: "), message.find("Example: "), message.size()});
    return base::fail(
        Grade::bad_data,
        placed(file.name, spot, std::string(message.substr(0, ours)) + base::said_in(message.substr(ours), file.bare)));
}

bool is_check(const Item& item) { return item.key == "check" || item.key.starts_with(prefix); }
bool is_fault(const Item& item) { return item.key == "faults" || item.key.starts_with("faults."); }

/// "check.3.far_end" goes to block 3 as "far_end"; "check.3" opens it.
void sort_in(const Item& item, std::map<std::size_t, Block>& blocks) {
    const std::string rest = item.key.substr(prefix.size());
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), number);
    if (error != std::errc()) return;
    Block& block = blocks[number];
    if (end == rest.data() + rest.size()) block.spot = item.spot;
    else block.items.push_back({std::string(end + 1, rest.data() + rest.size()), item.raw, item.spot});
}

std::string check_names() {
    std::string names;
    for (const CheckInfo& c : measure::checks()) names += (names.empty() ? "" : ", ") + std::string(c.name);
    return names;
}

Result<const CheckInfo*> check_of(const File& file, const Block& block) {
    const auto it = std::find_if(block.items.begin(), block.items.end(), [](const Item& i) { return i.key == "name"; });
    const std::string allowed = "Allowed: one of " + check_names() + ". Example: name = \"five-cut\"";
    if (it == block.items.end()) return bad(file, block.spot, "check: found no name. " + allowed);
    const auto check = measure::check_of(it->raw.text);
    if (it->raw.type != Raw::Type::text || !check)
        return bad(file, it->raw.spot,
                   fmt::format("check.name: found {}, which is no check. {}", shown(it->raw), allowed));
    return &measure::info(*check);
}

Result<double> length_of(const File& file, std::string_view key, const Raw& raw) {
    const bool written = raw.type == Raw::Type::text || raw.type == Raw::Type::number;
    const auto unit = file.bare == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch;
    const auto typed =
        written ? base::parse_length(raw.text, unit) : base::fail(Grade::bad_data, "found " + shown(raw));
    if (!typed)
        return bad(file, raw.spot,
                   fmt::format("check.{}: {}. Allowed: a length, or a length and "
                               "its standard uncertainty in a list{}. "
                               "Example: {} = [\"12.03 mm\", \"0.02 mm\"]",
                               key, typed.error().message,
                               key == went_key ? "; or \"goes\", or \"does not go in\"" : "", key));
    return typed->value;
}

/// What was read, and perhaps its uncertainty.
struct ValueAndU {
    double value = 0.0;
    std::optional<double> u;
};
Result<ValueAndU> value_and_u_of(const File& file, const Item& item) {
    const bool list = item.raw.type == Raw::Type::list;
    if (list && item.raw.list.size() != 2)
        return bad(file, item.raw.spot,
                   fmt::format("check.{0}: found {1}. Allowed: two values, what was read and its standard uncertainty. "
                               "Example: {0} = [\"12.03 mm\", \"0.02 mm\"]",
                               item.key, shown(item.raw)));
    const auto value = length_of(file, item.key, list ? item.raw.list[0] : item.raw);
    if (!value) return tl::unexpected(value.error());
    if (!list) return ValueAndU{*value, std::nullopt};
    const auto u = length_of(file, item.key, item.raw.list[1]);
    if (!u) return tl::unexpected(u.error());
    if (!(*u >= 0.0))
        return bad(file, item.raw.list[1].spot,
                   fmt::format("check.{}: found an uncertainty below 0. Allowed: 0 or above. Example: {} = [\"12.03 "
                               "mm\", \"0.02 mm\"]",
                               item.key, item.key));
    return ValueAndU{*value, *u};
}

Result<int> count_of(const File& file, const Item& item) {
    int n = -1;
    const std::string& text = item.raw.text;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), n);
    const bool whole = item.raw.type == Raw::Type::number && error == std::errc() && end == text.data() + text.size();
    if (!whole || n < 0 || n > 1000)
        return bad(file, item.raw.spot,
                   fmt::format("check.{}: found {}. Allowed: a whole number from 0 to 1000. Example: {} = 1", item.key,
                               shown(item.raw), item.key));
    return n;
}

std::string reading_names(const CheckInfo& check) {
    std::string names;
    for (const measure::ReadingInfo& r : check.readings) names += (names.empty() ? "" : ", ") + std::string(r.what);
    return names;
}

Result<void> take_reading(const File& file, const CheckInfo& check, const Item& item,
                          const std::vector<double>& usual_u, CheckReport& report) {
    const auto it = std::find_if(check.readings.begin(), check.readings.end(),
                                 [&](const measure::ReadingInfo& r) { return r.what == item.key; });
    if (it == check.readings.end()) {
        return bad(file, item.spot,
                   fmt::format("check.{}: the check {} reads no such thing. Allowed: {}; and name, behind_left, "
                               "behind_right, clamped_again. Example: {} = \"12.03 mm\"",
                               shown(item.key), check.name, reading_names(check), check.readings.front().what));
    }
    const auto pair = value_and_u_of(file, item);
    if (!pair) return tl::unexpected(pair.error());
    report.readings.push_back({item.key, it->unit, pair->value,
                               pair->u.value_or(usual_u[static_cast<std::size_t>(it - check.readings.begin())])});
    return {};
}

Result<void> take_item(const File& file, const CheckInfo& check, const Item& item, const std::vector<double>& usual_u,
                       CheckReport& report) {
    if (item.key == "name") return {};
    if (item.key == "behind_left" || item.key == "behind_right") {
        const auto thickness = length_of(file, item.key, item.raw);
        if (!thickness) return tl::unexpected(thickness.error());
        if (!(*thickness >= 0.0 && *thickness <= 20.0))
            return bad(file, item.raw.spot,
                       fmt::format("check.{}: found {}. Allowed: from 0 to 20 mm. Example: {} = \"0.3 mm\"", item.key,
                                   shown(item.raw), item.key));
        (item.key == "behind_left" ? report.occasion.behind_left_mm : report.occasion.behind_right_mm) = *thickness;
        return {};
    }
    if (item.key != "clamped_again") return take_reading(file, check, item, usual_u, report);
    const auto n = count_of(file, item);
    if (!n) return tl::unexpected(n.error());
    report.occasion.clamped_again = *n;
    return {};
}

/// "goes" and "does not go in" stand for numbers.
Item in_numbers(Item item, const shop::Drawing& drawing) {
    Raw& raw = item.raw.type == Raw::Type::list && !item.raw.list.empty() ? item.raw.list.front() : item.raw;
    if (raw.type != Raw::Type::text) return item;
    if (const auto went = measure::went_of(raw.text, drawing)) raw.text = fmt::format("{} mm", *went);
    return item;
}

Result<CheckReport> report_of(const File& file, const Block& block, const shop::Drawing& drawing) {
    const auto check = check_of(file, block);
    if (!check) return tl::unexpected(check.error());
    CheckReport report;
    report.occasion.check = (*check)->check;
    const std::vector<double> usual_u = measure::instrument_u((*check)->check, drawing);
    const bool push = (*check)->check == measure::Check::push_through;
    for (const Item& written : block.items) {
        const Item item = push && written.key != "name" ? in_numbers(written, drawing) : written;
        if (const auto done = take_item(file, **check, item, usual_u, report); !done)
            return tl::unexpected(done.error());
    }
    std::vector<measure::CheckReading> in_order;
    for (const measure::ReadingInfo& wanted : (*check)->readings) {
        const auto it = std::find_if(report.readings.begin(), report.readings.end(),
                                     [&](const measure::CheckReading& r) { return r.what == wanted.what; });
        if (it == report.readings.end())
            return bad(
                file, block.spot,
                fmt::format(
                    "check: the check {} lacks its reading {} ({}). Allowed: all of {}. Example: {} = \"12.03 mm\"",
                    (*check)->name, wanted.what, wanted.meaning, reading_names(**check), wanted.what));
        in_order.push_back(*it);
    }
    report.readings = std::move(in_order);
    if (const std::string trouble = measure::trouble_with(report); !trouble.empty())
        return bad(file, block.spot,
                   fmt::format("check: {}. Example: [\"12.03 mm\", \"0.02 mm\"]", base::said_in(trouble, file.bare)));
    return report;
}

/// Whether some number of it comes without its uncertainty, from a caliper.
bool reads_bare_by_caliper(const Block& block) {
    const auto name =
        std::find_if(block.items.begin(), block.items.end(), [](const Item& i) { return i.key == "name"; });
    const auto check = name == block.items.end() ? std::nullopt : measure::check_of(name->raw.text);
    if (!check || measure::info(*check).instrument.find("caliper") == std::string_view::npos) return false;
    const auto& wanted = measure::info(*check).readings;
    return std::any_of(block.items.begin(), block.items.end(), [&](const Item& item) {
        const bool reading = std::any_of(wanted.begin(), wanted.end(),
                                         [&](const measure::ReadingInfo& r) { return r.what == item.key; });
        return reading && item.raw.type != Raw::Type::list && !item.key.starts_with("length");
    });
}

std::string number_in_mm(double mm) { return fmt::format("\"{} mm\"", mm); }

/// How far the sled went, in words where they say all.
std::string went_text(const measure::CheckReading& r, const shop::Drawing& drawing) {
    const std::string words = measure::words_of_went(r.value, drawing, base::Units::metric);
    if (measure::went_of(words, drawing) == r.value && r.u == measure::push_u_mm)
        return fmt::format("{} = \"{}\"", r.what, words);
    return fmt::format("{} = [{}, {}]", r.what, number_in_mm(r.value), number_in_mm(r.u));
}

std::string block_text(const CheckReport& report, const shop::Drawing& drawing) {
    const CheckInfo& check = measure::info(report.occasion.check);
    std::string out = fmt::format("\n[[check]]  # {}\nname = \"{}\"\n", check.title, check.name);
    if (report.occasion.behind_left_mm != 0.0)
        out += fmt::format("behind_left = {}\n", number_in_mm(report.occasion.behind_left_mm));
    if (report.occasion.behind_right_mm != 0.0)
        out += fmt::format("behind_right = {}\n", number_in_mm(report.occasion.behind_right_mm));
    if (report.occasion.clamped_again != 0) out += fmt::format("clamped_again = {}\n", report.occasion.clamped_again);
    for (std::size_t i = 0; i < report.readings.size(); ++i) {
        const measure::CheckReading& r = report.readings[i];
        const std::string line = check.check == measure::Check::push_through
                                     ? went_text(r, drawing)
                                     : fmt::format("{} = [{}, {}]", r.what, number_in_mm(r.value), number_in_mm(r.u));
        out += fmt::format("{:<46}  # {}\n", line, check.readings[i].meaning);
    }
    return out;
}

}  // namespace

Result<Readings> parse_readings(std::string_view text, std::string_view name) {
    File file{name, base::Units::metric};
    const auto items = take_apart(text);
    if (!items) return bad(file, items.error().spot, items.error().message);
    std::vector<Item> sizes;
    std::map<std::size_t, Block> blocks;
    std::vector<std::string> warnings;
    for (const Item& item : *items) {
        if (is_check(item) && !item.key.starts_with(prefix))
            return bad(file, item.raw.spot,
                       fmt::format("check: found {}. Allowed: one section for each check. Example: [[check]]",
                                   shown(item.raw)));
        if (is_check(item)) sort_in(item, blocks);
        else if (!is_fault(item)) sizes.push_back(item);
        else if (item.key == "faults")
            warnings.push_back(
                placed(name, item.spot,
                       "[faults] was left out: a readings file says what was read, and nobody has read those"));
    }
    auto loaded = take_scenario(sizes, name, {});
    if (!loaded) return tl::unexpected(loaded.error());
    file.bare = loaded->scenario.units;
    if (blocks.empty())
        return bad(file, {1, 1},
                   "found no check. Allowed: at least one section [[check]] with its readings. Example: [[check]] and "
                   "under it name = \"five-cut\"");
    if (blocks.size() > most_checks)
        return bad(file, blocks.rbegin()->second.spot,
                   fmt::format("found {} checks. Allowed: at most {}. Example: a day's work has about ten",
                               blocks.size(), most_checks));
    Readings readings{std::move(loaded->scenario), {}, std::move(warnings)};
    readings.warnings.insert(readings.warnings.end(), loaded->warnings.begin(), loaded->warnings.end());
    const bool names_caliper =
        std::any_of(sizes.begin(), sizes.end(), [](const Item& item) { return item.key.starts_with("caliper"); });
    for (const auto& [number, block] : blocks) {
        readings.common_caliper = readings.common_caliper || (!names_caliper && reads_bare_by_caliper(block));
        auto report = report_of(file, block, readings.scenario.drawing);
        if (!report) return tl::unexpected(report.error());
        readings.reports.push_back(std::move(*report));
    }
    return readings;
}

Result<Readings> load_readings(const std::string& path) {
    const std::string name = shown(path, 200);
    const auto text = base::read_file(path, name, base::readings_wanted);
    if (!text) return tl::unexpected(text.error());
    return parse_readings(*text, name);
}

std::string readings_text(const Scenario& scenario, const std::vector<CheckReport>& reports) {
    Scenario sizes = scenario;
    sizes.truth = shop::Truth{};
    std::string out = to_text(sizes);
    // The faults are the last section; a readings file has none.
    out.resize(std::min(out.size(), out.find("\n[faults]\n")));
    out.replace(0, out.find('\n'),
                "# A readings file of offsquare: the sizes of one saw, and under each [[check]] what was read on it. "
                "Lengths with their standard uncertainty.");
    for (const CheckReport& report : reports) out += block_text(report, scenario.drawing);
    return out;
}

}  // namespace offsquare::scenario
