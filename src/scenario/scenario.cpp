#include "scenario/scenario.h"

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "scenario/built_in_text.h"
#include "scenario/rules.h"
#include "scenario/take.h"
#include "scenario/value.h"
#include "shop/fault.h"

namespace offsquare::scenario {
namespace {

using base::Grade;

constexpr std::size_t most_warnings = 20;  // a file of something else altogether would fill the screen

/// What belongs to reading one file.
struct Reading {
    std::string_view name;
    Loaded loaded;
    base::Units bare = base::Units::metric;
    std::map<std::string, Spot, std::less<>> spots;  ///< where each key's value stands
    std::set<std::string, std::less<>> unknown;      ///< parts of the file already warned about
    std::size_t unsaid = 0;                          ///< warnings beyond `most_warnings`
};

tl::unexpected<base::Problem> bad_file(const Reading& r, Spot spot, std::string_view message) {
    return base::fail(Grade::bad_data, placed(r.name, spot, message));
}

// ---- a file ---------------------------------------------------------------------------------------------------------

/// The part of an unknown key that is unknown by itself: the first word that leads nowhere.
std::string unknown_part(std::string_view key) {
    for (std::size_t dot = key.find('.'); dot != std::string_view::npos; dot = key.find('.', dot + 1)) {
        if (!is_section(key.substr(0, dot))) return std::string(key.substr(0, dot));
    }
    return std::string(key);
}

std::string nearest_section(std::string_view typed) {
    std::string best;
    std::size_t fewest = 1 + typed.size() / 3;
    for (const Entry& e : schema()) {
        const std::string section(e.key.substr(0, e.key.find('.')));
        if (section.size() == e.key.size()) continue;
        const std::size_t n = typed.size() > 64 ? fewest + 1 : slips(typed, section);
        if (n < fewest || (n == fewest && best.empty())) {
            fewest = n;
            best = section;
        }
    }
    return best;
}

void warn(Reading& r, const Item& item) {
    const std::string part = unknown_part(item.key);
    if (!r.unknown.insert(part).second) return;
    if (r.loaded.warnings.size() == most_warnings) {
        ++r.unsaid;
        return;
    }
    const bool section = item.raw.type == Raw::Type::table;
    const std::string near = section ? nearest_section(part) : nearest_key(part);
    const std::string hint = near.empty() ? std::string("nothing known is like it")
                                          : "did you mean " + (section ? "[" + near + "]" : near) + "?";
    r.loaded.warnings.push_back(
        placed(r.name, item.spot, fmt::format("{} is not known and was left out; {}", shown(part), hint)));
}

base::Result<void> wrong_shape(const Reading& r, const Item& item) {
    const bool row = item.key == "drawer" || item.key.starts_with("drawer.");
    return bad_file(r, item.raw.spot,
                    fmt::format("{}: found {}. Allowed: a section. Example: {}", item.key, shown(item.raw),
                                row ? "[[drawer]]" : "[" + item.key + "]"));
}

/// A table or a list where the key names a section: nothing to read in it, but rows must be made.
base::Result<void> take_section(Reading& r, const Item& item) {
    r.spots.emplace(item.key, item.raw.spot);
    auto& drawer = r.loaded.scenario.drawing.drawer;
    const bool no_rows = item.key == "drawer" && item.raw.type == Raw::Type::list && item.raw.list.empty();
    const bool table = item.raw.type == Raw::Type::table && item.key != "drawer";
    if (!table && !no_rows) return wrong_shape(r, item);
    if (!item.key.starts_with("drawer.")) return {};
    if (drawer.size() == drawer_rows) {
        return bad_file(
            r, item.raw.spot,
            fmt::format("drawer: found more than {} rows. Allowed: at most {}. Example: count = 2 instead of two rows",
                        drawer_rows, drawer_rows));
    }
    drawer.emplace_back();
    return {};
}

base::Result<void> take_item(Reading& r, const Item& item) {
    if (is_section(item.key)) return take_section(r, item);
    const auto found = find(item.key);
    const bool no_such_row = found && found->entry->key.find('#') != std::string_view::npos &&
                             found->row >= r.loaded.scenario.drawing.drawer.size();
    if (!found || no_such_row) {
        warn(r, item);
        return {};
    }
    r.spots.emplace(item.key, item.raw.spot);
    if (const auto done = put(r.loaded.scenario, *found, item.raw, r.bare); !done)
        return bad_file(r, item.raw.spot, done.error());
    return {};
}

const Item* item_of(const std::vector<Item>& items, std::string_view key) {
    const auto it = std::find_if(items.begin(), items.end(), [&](const Item& i) { return i.key == key; });
    return it == items.end() ? nullptr : &*it;
}

/// Format and unit first: what the rest means hangs on them.
base::Result<void> take_head(Reading& r, const std::vector<Item>& items) {
    if (item_of(items, "format") == nullptr) {
        return bad_file(
            r, {1, 1},
            fmt::format(
                "found no format number, so this may be another kind of file. Allowed: {}. Example: format = {}",
                file_format, file_format));
    }
    for (const std::string_view key : {"format", "units"}) {
        const Item* item = item_of(items, key);
        if (item == nullptr) continue;
        if (const auto done = take_item(r, *item); !done) return done;
    }
    r.bare = r.loaded.scenario.units;
    return {};
}

/// A row of the drawer without a name or thickness is no shim.
base::Result<void> check_rows(const Reading& r) {
    for (std::size_t row = 0; row < r.loaded.scenario.drawing.drawer.size(); ++row) {
        for (const std::string_view word : {"name", "thickness"}) {
            const std::string key = fmt::format("drawer.{}.{}", row, word);
            if (r.spots.contains(key)) continue;
            const auto at = r.spots.find(fmt::format("drawer.{}", row));
            const auto found = find(key);
            return bad_file(r, at == r.spots.end() ? Spot{1, 1} : at->second,
                            fmt::format("{}: found none. {}", key, allowed(*found->entry, r.bare)));
        }
    }
    return {};
}

base::Result<void> take_items(Reading& r, const std::vector<Item>& items) {
    if (const auto done = take_head(r, items); !done) return done;
    for (const Item& item : items) {
        if (const auto done = take_item(r, item); !done) return done;
    }
    if (r.unsaid > 0) r.loaded.warnings.push_back(fmt::format("{}: and {} more unknown keys", r.name, r.unsaid));
    return check_rows(r);
}

// ---- changes from outside -------------------------------------------------------------------------------------------

std::string trimmed(const std::string& text) {
    const std::size_t from = text.find_first_not_of(" \t");
    return from == std::string::npos ? std::string() : text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

tl::unexpected<base::Problem> bad_change(const Override& o, std::string_view message) {
    return base::fail(Grade::usage, fmt::format("{}={}: {}", shown(o.key), shown(o.value), message));
}

base::Result<void> apply(Scenario& s, const Override& o, base::Units bare) {
    const std::string key = trimmed(o.key);
    const auto found = find(key);
    if (!found) {
        const std::string near = nearest_key(key);
        const std::string hint = near.empty() ? "Allowed: a key of the scenario file" : "Did you mean " + near + "?";
        return bad_change(o, fmt::format("found no key of that name. {}{} Example: fence.shim_left=\"-9 7/8 in\"", hint,
                                         near.empty() ? "." : ""));
    }
    const bool in_rows = found->entry->key.find('#') != std::string_view::npos;
    if (in_rows && found->row >= s.drawing.drawer.size()) {
        const std::string rows = s.drawing.drawer.empty() ? "none, the drawer is empty"
                                                          : fmt::format("0 to {}", s.drawing.drawer.size() - 1);
        return bad_change(
            o, fmt::format("found no row {} in the drawer. Allowed: {}. Example: drawer.0.thickness=0.1mm", found->row,
                           rows));
    }
    const bool free_text = std::holds_alternative<Finder<std::string>>(found->entry->home);  // keeps its blanks
    const Raw raw{Raw::Type::text, free_text ? o.value : trimmed(o.value), {}, {}};
    if (const auto done = put(s, *found, raw, bare); !done) return base::fail(Grade::usage, done.error());
    return {};
}

/// All changes, then the rules: two changes may be right only together.
base::Result<void> apply_all(Scenario& s, const std::vector<Override>& overrides, base::Units bare) {
    for (const Override& o : overrides) {
        if (const auto done = apply(s, o, bare); !done) return done;
    }
    if (const auto broken = broken_rule(s)) return base::fail(Grade::usage, broken->message);
    return {};
}

/// Where to point for a rule that two keys break together.
Spot spot_for(const Reading& r, const Broken& b) {
    for (const std::string& key : {b.first_key, b.second_key, b.first_key.substr(0, b.first_key.rfind('.'))}) {
        if (const auto at = r.spots.find(key); at != r.spots.end()) return at->second;
    }
    return {1, 1};
}

base::Result<void> check_rules(const Reading& r) {
    if (const auto broken = broken_rule(r.loaded.scenario)) return bad_file(r, spot_for(r, *broken), broken->message);
    return {};
}

// ---- the help -------------------------------------------------------------------------------------------------------

/// Of a set-up error also its name, as the notebook and `faults` say it: the key is another word for it.
std::string meaning_of(const Entry& e) {
    constexpr std::string_view faults = "faults.";
    const auto fault = e.key.starts_with(faults) ? shop::fault_of(e.key.substr(faults.size())) : std::nullopt;
    if (!fault || e.meaning.starts_with(shop::info(*fault).name)) return std::string(e.meaning);
    return fmt::format("{}: {}", shop::info(*fault).name, e.meaning);
}

std::vector<KeyInfo> make_keys() {
    Scenario standard;
    standard.drawing.drawer.resize(1);  // so that a row has its standard values, too
    std::vector<KeyInfo> all;
    for (const Entry& e : schema()) {
        all.push_back({key_with_row(e, 0), meaning_of(e), e.kind, e.min, e.max, std::string(e.example),
                       text_at(standard, {&e, 0}, base::Units::metric)});
    }
    return all;
}

}  // namespace

std::string placed(std::string_view name, Spot spot, std::string_view message) {
    return spot.line == 0 ? fmt::format("{}: {}", name, message)
                          : fmt::format("{}:{}:{}: {}", name, spot.line, spot.column, message);
}

base::Result<Loaded> parse(std::string_view text, std::string_view name, const std::vector<Override>& overrides) {
    const auto items = take_apart(text);
    if (!items) return base::fail(Grade::bad_data, placed(name, items.error().spot, items.error().message));
    return take_scenario(*items, name, overrides);
}

base::Result<Loaded> parse_recorded(std::string_view text, std::string_view name) {
    const auto items = take_apart(text);
    if (!items) return base::fail(Grade::bad_data, placed(name, items.error().spot, items.error().message));
    Scenario then;
    then.drawing.caliper.cancels = 0.0;
    then.drawing.straightedge.limit_mm = 0.0;
    then.drawing.block = {0.0, 0.0};
    then.drawing.feelers.step_mm = 0.0;
    then.drawing.board.rough_mm = then.drawing.board.marks_mm = then.drawing.board.parallel_mm = 0.0;
    return take_scenario(*items, name, {}, then);
}

base::Result<Loaded> take_scenario(const std::vector<Item>& items, std::string_view name,
                                   const std::vector<Override>& overrides, const Scenario& left_out) {
    Reading r;
    r.name = name;
    r.loaded.scenario = left_out;
    base::Result<void> done = take_items(r, items);
    if (done) done = check_rules(r);
    if (done && !overrides.empty()) done = apply_all(r.loaded.scenario, overrides, r.bare);
    if (!done) return tl::unexpected<base::Problem>(done.error());
    return std::move(r.loaded);
}

base::Result<Scenario> with(const Scenario& scenario, const std::vector<Override>& overrides) {
    Scenario changed = scenario;
    if (const auto done = apply_all(changed, overrides, scenario.units); !done)
        return tl::unexpected<base::Problem>(done.error());
    return changed;
}

std::string_view built_in_text() { return teaching_saw_text; }

Scenario built_in() { return parse(built_in_text(), "built-in scenario").value().scenario; }

const std::vector<KeyInfo>& keys() {
    static const std::vector<KeyInfo> all = make_keys();
    return all;
}

bool is_hidden(std::string_view key) { return key.starts_with("faults."); }

std::string value_of(const Scenario& scenario, std::string_view key) {
    return is_hidden(key) ? std::string() : any_value_of(scenario, key);
}

}  // namespace offsquare::scenario
