#include "saws/slips.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "saws/answer.h"
#include "saws/meant.h"
#include "saws/slips_of_ends.h"
#include "saws/slips_of_fields.h"
#include "session/hunt_words.h"

namespace offsquare::saws {
namespace {

using base::Typed;
using base::Units;

// ---- shims ----

std::string pieces_word(double mm, Units units) { return base::show_reading(mm, units); }

void look_at_pieces(const Sled& sled, const ShimsMoved& moved, Units units, Questions& out) {
    const SetUp set_up = set_up_of(sled);
    std::vector<double> known;
    for (const shop::Shim& s : set_up.scenario.drawing.drawer) known.push_back(s.thickness_mm);
    std::size_t index = 0;
    for (const auto* pieces : {&moved.put_left, &moved.put_right}) {
        for (const Piece& p : *pieces) {
            const bool is_known = std::any_of(known.begin(), known.end(),
                                              [&](double k) { return std::abs(k - p.thickness_mm) <= 0.02 * k; });
            const auto meant = is_known || !set_up.drawer_typed ? std::nullopt : turned_into(p.thickness_mm, known);
            if (meant)
                out.push_back({Field::shims,
                               index,
                               fmt::format("A shim of {}: your drawer has one of {}. Was that meant?",
                                           pieces_word(p.thickness_mm, units), pieces_word(*meant, units)),
                               Typed{*meant, 0.001, false},
                               false,
                               {}});
            ++index;
        }
    }
}

void look_at_taken(const Standing& there, const ShimsMoved& moved, Units units, Questions& out) {
    for (const auto& [taken, stand, end] :
         {std::tuple{&moved.taken_left, &there.left, "left"}, {&moved.taken_right, &there.right, "right"}}) {
        for (const Piece& p : *taken) {
            if (std::find_if(stand->begin(), stand->end(), [&](const Piece& s) {
                    return s.name == p.name && s.thickness_mm == p.thickness_mm;
                }) != stand->end())
                continue;
            out.push_back({Field::shims,
                           0,
                           fmt::format("By the log no {} {} stands behind the {} end.", p.name,
                                       pieces_word(p.thickness_mm, units), end),
                           {},
                           false,
                           {}});
        }
    }
}

/// Against what the newest strip asked for.
void look_at_wish(const Sled& sled, const ShimsMoved& moved, Units units, Questions& out) {
    const auto answer = newest_answer(sled);
    const Entry* newest = newest_test(sled);
    if (!answer || !answer->shim || answer->test.verdict->state == diagnose::State::pass) return;
    if (worked_on_since_test(sled) != nullptr) return;  // it asks for nothing any more
    const StripShim& wish = *answer->shim;
    if (!wish.tells_end() || wish.at == shim::At::none) return;
    const double net =
        total_mm(moved.put_left) - total_mm(moved.taken_left) - total_mm(moved.put_right) + total_mm(moved.taken_right);
    const double wanted = wish.at == shim::At::left ? wish.shim_mm.value : -wish.shim_mm.value;
    if (net == 0.0) return;
    const std::string asked = fmt::format("The newest strip asks for {} behind the {} end",
                                          pieces_word(wish.shim_mm.value, units), shim::name_of(wish.at));
    if (net * wanted < 0.0) {
        out.push_back({Field::shims, 0, asked + ": this goes to the other end.", {}, false, newest->number});
        return;
    }
    const double ratio = net / wanted;
    if (ratio > 1.0 / 3.5 && ratio < 3.5) return;
    if (std::abs(std::abs(net) - std::abs(wanted)) < 0.05) return;
    for (const Way& way : ways) {
        const double meant = ratio * way.factor;
        if (meant < 0.6 || meant > 1.7) continue;
        out.push_back({Field::shims, 0,
                       fmt::format("{}: this is {}. Was {} meant?", asked, pieces_word(std::abs(net), units),
                                   pieces_word(std::abs(net) * way.factor, units)),
                       Typed{std::abs(net) * way.factor, 0.001, way.factor > 20.0}, false, newest->number});
        return;
    }
}

Questions look_at(const Sled& sled, const ShimsMoved& moved, Date date, Units units) {
    Questions out;
    look_at_taken(standing_of(sled, date), moved, units, out);
    if (out.empty()) look_at_pieces(sled, moved, units, out);
    if (out.empty()) look_at_wish(sled, moved, units, out);
    return out;
}

// ---- sizes ----

/// Between which a size of this kind lies on any table saw that a person has: a few times what is usual.
std::optional<Between> usual_of(const std::string& key) {
    constexpr double few_times = 4.0;
    if (key == "fence.span")
        return Between{100.0, 2000.0, "the shim points of a sled's fence are from 100 mm to 2 m apart"};
    if (key == "caliper.step") return Between{0.0005, 0.2, "a caliper reads to 0.2 mm or finer"};
    if (key == "caliper.limit") return Between{0.002, 0.4, "a caliper errs by less than 0.4 mm"};
    if (key == "caliper.repeatability") return Between{0.0, 0.3, "a caliper scatters by less than 0.3 mm"};
    // Not as a temporary: g++ 12 at -O3 takes that for something that was never made.
    const scenario::Scenario as_usual;
    const auto value = base::parse_length(scenario::value_of(as_usual, key), base::LengthUnit::mm);
    if (!value || value->value == 0.0) return std::nullopt;
    const double usual = std::abs(value->value);
    return Between{usual / few_times, usual * few_times, fmt::format("it is usually about {:.3g} mm", usual)};
}

Questions look_at(const Sled& sled, const SizesTyped& typed, Date date, Units units) {
    Questions out;
    const SetUp now = set_up_of(sled, date);
    for (std::size_t i = 0; i < typed.sizes.size(); ++i) {
        const Size& s = typed.sizes[i];
        auto length = base::parse_length(s.value, base::LengthUnit::mm);
        if (!length || s.key == "caliper.name" || s.key == "board.kept" || s.key == "tolerance.corner") continue;
        length->value = std::abs(length->value);
        const std::string name = name_of_size(s.key);
        const auto bounds = usual_of(s.key);
        auto q = bounds ? against(Field::size, i, name.c_str(), *length, *bounds, units) : std::nullopt;
        const auto old =
            std::find_if(now.typed.begin(), now.typed.end(), [&](const Size& o) { return o.key == s.key; });
        const auto before =
            old == now.typed.end() ? std::nullopt : std::optional(base::parse_length(old->value, base::LengthUnit::mm));
        if (!q && before && *before) {
            const double known = std::abs((*before)->value);
            const auto meant = turned_into(length->value, {known});
            if (meant && std::abs(length->value - known) > 0.02 * known)
                q = Question{Field::size,
                             i,
                             fmt::format("{}: {}; it was {} before. Was that meant?", name, as_typed(*length),
                                         as_typed(**before)),
                             **before,
                             false,
                             {}};
        }
        if (q) out.push_back(std::move(*q));
    }
    return out;
}

// ---- dates ----

/// In January the old year is written by habit.
void look_at_date(const Sled& sled, Date date, Date today, Questions& out) {
    const int ago = days_between(date, today);
    if (ago < 330 || sled.entries.empty()) return;
    const Date newest = std::max_element(sled.entries.begin(), sled.entries.end(), [](const Entry& a, const Entry& b) {
                            return a.date < b.date;
                        })->date;
    const Date next_year = date + std::chrono::years(1);
    if (days_between(date, newest) < 270 || !next_year.ok() || next_year > today || days_between(next_year, today) > 60)
        return;
    out.push_back(
        {Field::date,
         0,
         fmt::format("{} is more than {} days ago. Was {} meant?", in_words(date), ago - ago % 10, in_words(next_year)),
         {},
         false,
         {}});
}

// ---- with all that was read ----

/// What the checker of `shim` and `diagnose` says of the newest reading of this trial.
Questions by_all_readings(const Sled& trial, Field field, Units units) {
    const OwnHistory own = history_of(trial);
    const session::Seen& seen = own.history.seen();
    if (!own.left_out.empty() || seen.checks.empty()) return {};
    const session::Note* note = nullptr;
    for (const session::Note& n : seen.checks) {
        if (entry_of(own, n) == trial.entries.back().number) note = &n;
    }
    if (note == nullptr || !note->holds()) return {};
    std::vector<measure::CheckReport> reports = session::holding(seen);
    const auto is_it = [&](const measure::CheckReport& r) {
        return r.occasion.check == note->report.occasion.check &&
               std::equal(r.readings.begin(), r.readings.end(), note->report.readings.begin(),
                          note->report.readings.end(),
                          [](const auto& a, const auto& b) { return a.value == b.value && a.u == b.u; });
    };
    const auto it = std::find_if(reports.rbegin(), reports.rend(), is_it);
    if (it == reports.rend()) return {};
    std::rotate(it.base() - 1, it.base(), reports.end());
    session::Slips slips = session::slips_in_last(reports, seen.drawing, units);
    if (slips.empty()) slips = session::contradictions_of_last(reports, seen.drawing);
    Questions out;
    const bool strip = field == Field::fence_end;
    for (std::string& s : slips)
        out.push_back({field,
                       0,
                       s + (strip ? " If the fence was moved since the last test, write that down first." : ""),
                       {},
                       false,
                       {}});
    return out;
}

}  // namespace

Questions slips_in(const Sled& sled, const Strip& strip, Date date, Units units, std::optional<int> corrects) {
    Questions out = in_fields(sled, strip, date, units, corrects);
    if (out.empty()) out = ends_in_doubt(sled, strip, date, units, corrects);
    return out;
}

Questions slips_in(const Sled& sled, const What& what, Date date, Date today, Units units,
                   std::optional<int> corrects) {
    Questions out;
    if (const auto* test = std::get_if<StripTest>(&what)) {
        out = slips_in(sled, test->strip, date, units, corrects);
    }
    if (const auto* moved = std::get_if<ShimsMoved>(&what)) {
        const auto without = corrects ? added(sled, Withdrawn{}, date, today, corrects) : sled;
        out = look_at(without ? *without : sled, *moved, date, units);
    }
    if (const auto* sizes = std::get_if<SizesTyped>(&what)) out = look_at(sled, *sizes, date, units);
    const bool reads = std::holds_alternative<StripTest>(what) || std::holds_alternative<CheckMade>(what);
    if (out.empty() && reads) {
        if (const auto trial = added(sled, what, date, today, corrects))
            out = by_all_readings(*trial, std::holds_alternative<CheckMade>(what) ? Field::check : Field::fence_end,
                                  units);
    }
    look_at_date(sled, date, today, out);
    return out;
}

session::Slips sentences_of(const Questions& questions) {
    session::Slips all;
    for (const Question& q : questions) all.push_back(q.says);
    return all;
}

}  // namespace offsquare::saws
