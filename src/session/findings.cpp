#include "session/findings.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace offsquare::session {
namespace {

using diagnose::Belief;
using diagnose::Diagnosis;
using shop::Fault;

constexpr double sure = 0.95;

measure::Occasion present(std::span<const measure::CheckReport> reports) {
    return reports.empty() ? measure::Occasion{} : reports.back().occasion;
}

std::string minutes_text(const measure::CheckInfo& check) {
    return fmt::format("{:g} {}", check.minutes, check.minutes == 1.0 ? "minute" : "minutes");
}

/// The one of several open questions that matters most: the pair that is least decided.
diagnose::LookAlikes most_open(const Diagnosis& d, const std::vector<diagnose::LookAlikes>& pairs) {
    const auto doubt = [&](const diagnose::LookAlikes& p) {
        const double a = d.beliefs[static_cast<std::size_t>(p.first)].probability;
        const double b = d.beliefs[static_cast<std::size_t>(p.second)].probability;
        return a * (1.0 - a) + b * (1.0 - b);
    };
    return *std::max_element(pairs.begin(), pairs.end(),
                             [&](const auto& a, const auto& b) { return doubt(a) < doubt(b); });
}

/// A reading that contradicts is read again before anything else is asked.
std::optional<NextCheck> to_read_again(const Diagnosis& d) {
    const auto it = std::find_if(d.contradictions.begin(), d.contradictions.end(),
                                 [](const diagnose::Contradiction& c) { return c.to_read_again; });
    if (it == d.contradictions.end()) return std::nullopt;
    return NextCheck{it->occasion.check, it->unexplained
                                             ? "none of the faults modelled here explains what it read: read it again"
                                             : "what it read does not fit the others: read it again"};
}

bool is_among(Fault fault, const std::vector<Fault>& faults) {
    return std::find(faults.begin(), faults.end(), fault) != faults.end();
}

std::string cost_text(const diagnose::Proposal& p) {
    const std::string minutes = minutes_text(measure::info(p.check));
    return p.on_free_corner ? minutes + ", on the free corner of the board that was cut" : minutes;
}

/// Of the pair only what the check sees is named.
std::string why_separating(const diagnose::LookAlikes& pair, const diagnose::Proposal& p) {
    const bool first = is_among(pair.first, p.sees);
    const bool second = is_among(pair.second, p.sees);
    if (first != second)
        return fmt::format("for the minutes it takes it shows best whether it is \"{}\" ({})",
                           name_of(first ? pair.first : pair.second), cost_text(p));
    if (!first) return fmt::format("it tells you most for the minutes it takes ({})", cost_text(p));
    return fmt::format("for the minutes it takes it tells \"{}\" from \"{}\" best ({})", name_of(pair.first),
                       name_of(pair.second), cost_text(p));
}

std::string why_learning(const Diagnosis& d, const diagnose::Proposal& p) {
    std::string about;
    std::size_t named = 0;
    for (const Fault f : p.sees) {
        const double probability = d.beliefs[static_cast<std::size_t>(f)].probability;
        if (named == 2 || probability <= 1.0 - sure || probability >= sure) break;
        about += fmt::format("{}\"{}\"", named++ == 0 ? " about " : " and ", name_of(f));
    }
    return fmt::format("it tells you most{} for the minutes it takes ({})", about, cost_text(p));
}

/// By common practice, no source: the blade is set parallel to the slot before anything is set to the blade.
std::optional<NextCheck> blade_first(const Diagnosis& d, const measure::Occasion& now) {
    constexpr auto toe = static_cast<std::size_t>(Fault::blade_toe);
    measure::Occasion at_the_blade = now;
    at_the_blade.check = measure::Check::tooth_indicator;
    const bool known =
        d.beliefs[toe].touched && (d.beliefs[toe].probability <= 1.0 - sure || d.beliefs[toe].probability >= sure);
    const bool made = std::any_of(d.made.begin(), d.made.end(),
                                  [](const auto& o) { return o.check == measure::Check::tooth_indicator; });
    if (d.made.empty() || known || made) return std::nullopt;
    return NextCheck{at_the_blade.check,
                     fmt::format("\"{}\" comes first: everything else is set to the blade ({})",
                                 name_of(Fault::blade_toe), minutes_text(measure::info(at_the_blade.check)))};
}

/// Whether the last test of the saw as it stands was square as far as it could tell: then what is left to look for is
/// worth less.
bool looks_square(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing, measure::Occasion now) {
    now.check = measure::Check::five_cut;
    for (auto report = reports.rbegin(); report != reports.rend(); ++report) {
        if (report->occasion != now) continue;
        const auto skew = diagnose::observe(*report, drawing);
        return skew && std::abs(skew->front().value) + 2.0 * skew->front().u <= drawing.tolerance_rad;
    }
    return false;
}

bool one_is_there(const Diagnosis& d, const diagnose::LookAlikes& pair) {
    const auto p = [&](Fault f) { return d.beliefs[static_cast<std::size_t>(f)].probability; };
    return p(pair.first) + p(pair.second) >= sure;
}

std::optional<NextCheck> next_check(const Diagnosis& d, std::span<const measure::CheckReport> reports,
                                    const shop::Drawing& drawing, const Assumptions& assumed) {
    const measure::Occasion now = present(reports);
    if (auto first = d.jams() ? std::nullopt : blade_first(d, now)) return first;
    diagnose::Adviser adviser(d, now, assumed.model, assumed.prior);
    // What a check must tell for its minutes: on a saw that cuts square less is worth a look.
    constexpr double on_a_saw_that_is_off = 0.015;
    const double worth = looks_square(reports, drawing, now) ? 0.10 : on_a_saw_that_is_off;
    std::vector<diagnose::LookAlikes> pairs = d.unseparated;
    if (d.jams()) std::erase_if(pairs, [](const auto& p) { return !may_jam(p.first) && !may_jam(p.second); });
    if (!pairs.empty()) {
        const diagnose::LookAlikes pair = most_open(d, pairs);
        // One of the two is there for sure: which, is worth a look on a saw that cuts square too.
        const double worth_telling = one_is_there(d, pair) ? on_a_saw_that_is_off : worth;
        if (const auto p = adviser.best({pair, 0.05, worth_telling}))
            return NextCheck{p->check, why_separating(pair, *p)};
    }
    if (const auto p = adviser.best({{}, 0.05, worth})) return NextCheck{p->check, why_learning(d, *p)};
    return std::nullopt;
}

/// "0.62 mm in 1 m give or take 0.04 (95 %)"
std::string within_text(Fault fault, double middle, double half, base::Units units) {
    const bool angle = shop::info(fault).unit == shop::FaultUnit::rad;
    return fmt::format("{} give or take {} (95 %)",
                       angle ? base::show_angle_short(middle, units) : base::show_small(middle, units),
                       angle ? base::show_angle_number(half, units) : base::show_small(half, units));
}

}  // namespace

base::Result<Findings> find_out(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing,
                                const Assumptions& handed) {
    const Assumptions assumed{diagnose::remembering(handed.model), handed.prior};
    auto diagnosis = diagnose::infer(reports, drawing, assumed.model, assumed.prior);
    if (!diagnosis) return tl::unexpected(diagnosis.error());
    auto next = to_read_again(*diagnosis);
    if (!next) next = next_check(*diagnosis, reports, drawing, assumed);
    return Findings{std::move(*diagnosis), std::move(next)};
}

base::Result<Findings> find_out(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing) {
    return find_out(reports, drawing, usual_assumptions(drawing));
}

Standing standing_of(const Belief& b) {
    if (!b.touched) return Standing::untouched;
    if (b.probability >= sure) return b.disputed ? Standing::open : Standing::supported;
    // What the sled's going alone makes unlikely, no reading has ruled out.
    const bool fell = b.probability <= 0.5 * b.before;
    return b.probability <= 1.0 - sure && fell ? Standing::ruled_out : Standing::open;
}

std::string_view name_of(Fault fault) { return shop::info(fault).name; }

std::string size_text(Fault fault, double size, base::Units units) {
    return shop::info(fault).unit == shop::FaultUnit::mm ? base::show_small(size, units)
                                                         : base::show_angle(size, units);
}

std::string sentence_of(const Belief& b, base::Units units) {
    const std::string name(name_of(b.fault));
    const double half = 0.5 * (b.coverage95.hi - b.coverage95.lo);
    const std::string size = within_text(b.fault, 0.5 * (b.coverage95.hi + b.coverage95.lo), half, units);
    const bool either_side = b.coverage95.lo < 0.0 && b.coverage95.hi > 0.0;
    if (standing_of(b) == Standing::supported && either_side) {
        return fmt::format("There: {}, up to {}; to which side, these readings do not say.", name,
                           size_text(b.fault, std::max(-b.coverage95.lo, b.coverage95.hi), units));
    }
    switch (standing_of(b)) {
        case Standing::supported: return fmt::format("There: {}, {}.", name, size);
        case Standing::ruled_out:
            return fmt::format(
                "Ruled out: {} (at most {}).", name,
                size_text(b.fault, std::max(std::abs(b.coverage95.lo), std::abs(b.coverage95.hi)), units));
        case Standing::open: return fmt::format("Open: {}, {:.0f} in 100.", name, 100.0 * b.probability);
        case Standing::untouched: break;
    }
    return fmt::format("Not looked at: {}.", name);
}

std::string sentence_of(const diagnose::LookAlikes& pair) {
    return fmt::format("These readings cannot tell \"{}\" from \"{}\".", name_of(pair.first), name_of(pair.second));
}

std::string sentence_of(const diagnose::Contradiction& c) {
    const measure::CheckInfo& check = measure::info(c.occasion.check);
    const std::string which = fmt::format("\"{}\" (check {} of the list)", check.title, c.report + 1);
    if (c.settled) return fmt::format("{} is set aside: the check was done again, and that one fits.", which);
    if (c.unexplained)
        return fmt::format(
            "{}: none of the faults modelled here explains this reading; read it again. Nothing is built on it.",
            which);
    constexpr double rare = 1e4;
    const std::string often = 1.0 < rare * c.oddness ? fmt::format("about once in {:.0f}", 1.0 / c.oddness)
                                                     : std::string("less than once in 10,000");
    return fmt::format("{} does not fit the others: a reading as odd comes {}. Do it again before you believe either.",
                       which, often);
}

bool reads_again(const Findings& findings) {
    const auto& all = findings.diagnosis.contradictions;
    return std::any_of(all.begin(), all.end(), [](const diagnose::Contradiction& c) { return c.to_read_again; });
}

bool may_jam(Fault fault) {
    return fault == Fault::pitch_error || fault == Fault::slot_splay || fault == Fault::slot_wander ||
           fault == Fault::runner_bend;
}

std::vector<Fault> rivals_of(const Findings& findings, Fault fault) {
    std::vector<Fault> out;
    for (const auto& [a, b] : findings.diagnosis.unseparated) {
        if (a != fault && b != fault) continue;
        const Fault other = a == fault ? b : a;
        if (standing_of(findings.diagnosis.beliefs[static_cast<std::size_t>(other)]) == Standing::open)
            out.push_back(other);
    }
    return out;
}

std::optional<Fault> first_to_repair(const Findings& findings, std::span<const Fault> but) {
    const Belief* best = nullptr;
    for (const Belief& b : findings.diagnosis.beliefs) {
        if (findings.diagnosis.jams() && !may_jam(b.fault)) continue;
        if (std::find(but.begin(), but.end(), b.fault) != but.end()) continue;
        if (standing_of(b) == Standing::supported && (best == nullptr || b.probability > best->probability)) best = &b;
    }
    return best == nullptr ? std::nullopt : std::optional(best->fault);
}

}  // namespace offsquare::session
