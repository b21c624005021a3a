#include "saws/tools.h"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "base/listed.h"
#include "diagnose/prior.h"

namespace offsquare::saws {
namespace {

constexpr std::array<std::string_view, tool_count> names{"caliper",       "rule or tape",      "straightedge",
                                                         "feeler gauges", "engineer's square", "dial indicator",
                                                         "inside bar",    "shim stock",        "second caliper"};

/// What the table of checks calls it; empty: everybody has it (eye, hand, brush).
std::optional<Tool> tool_of(std::string_view words) {
    if (words == "caliper") return Tool::caliper;
    if (words == "tape") return Tool::rule;
    if (words.ends_with("straightedge")) return Tool::straightedge;
    if (words == "feeler gauges") return Tool::feelers;
    if (words == "engineer's square") return Tool::square;
    if (words.ends_with("indicator")) return Tool::indicator;
    if (words == "inside bar") return Tool::inside_bar;
    if (words == "shim stock") return Tool::shim_stock;
    if (words == "second caliper") return Tool::second_caliper;
    return std::nullopt;
}

bool has(std::span<const Tool> tools, Tool tool) { return std::find(tools.begin(), tools.end(), tool) != tools.end(); }

std::vector<Tool> lacking(std::span<const Tool> tools, measure::Check check) {
    std::vector<Tool> missing = needed_for(check);
    std::erase_if(missing, [&](Tool t) { return has(tools, t); });
    return missing;
}

/// How open the question is whether it is there: p (1 - p), the variance of yes or no.
double doubt(shop::Fault fault, const session::Findings* findings) {
    const auto i = static_cast<std::size_t>(fault);
    const double p = findings != nullptr ? findings->diagnosis.beliefs[i].probability
                                         : diagnose::probability_of(diagnose::declared_prior()[i]);
    return p * (1.0 - p);
}

bool sees(const session::Sight& sight, const std::vector<measure::Check>& checks, shop::Fault fault) {
    return std::any_of(checks.begin(), checks.end(), [&](measure::Check c) {
        const auto& all = sight.at(static_cast<std::size_t>(c));
        return std::find(all.begin(), all.end(), fault) != all.end();
    });
}

}  // namespace

std::string_view name_of(Tool tool) { return names.at(static_cast<std::size_t>(tool)); }

std::vector<Tool> needed_for(measure::Check check) {
    std::vector<Tool> tools;
    std::string_view rest = measure::info(check).instrument;
    while (!rest.empty()) {
        const std::size_t end = std::min(rest.find(", "), rest.size());
        if (const auto tool = tool_of(rest.substr(0, end)); tool && !has(tools, *tool)) tools.push_back(*tool);
        rest = rest.substr(std::min(end + 2, rest.size()));
    }
    return tools;
}

std::vector<measure::Check> possible_with(std::span<const Tool> tools) {
    std::vector<measure::Check> checks;
    for (const measure::CheckInfo& c : measure::checks()) {
        if (lacking(tools, c.check).empty()) checks.push_back(c.check);
    }
    return checks;
}

std::vector<ToGet> to_get_first(std::span<const Tool> tools, const session::Sight& sight,
                                const session::Findings* findings) {
    const std::vector<measure::Check> now = possible_with(tools);
    struct Weighed {
        ToGet get;
        double worth = 0.0;
    };
    std::vector<Weighed> all;
    for (const measure::CheckInfo& c : measure::checks()) {
        const std::vector<Tool> missing = lacking(tools, c.check);
        const bool known =
            std::any_of(all.begin(), all.end(), [&](const Weighed& w) { return w.get.tools == missing; });
        if (missing.empty() || missing.size() > 2 || known) continue;
        Weighed w{{missing, {}, {}, {}}, 0.0};
        std::vector<Tool> more(tools.begin(), tools.end());
        more.insert(more.end(), missing.begin(), missing.end());
        for (const measure::Check check : possible_with(more)) {
            if (std::find(now.begin(), now.end(), check) == now.end()) w.get.opens.push_back(check);
        }
        for (const shop::FaultInfo& f : shop::faults()) {
            const double open = doubt(f.fault, findings);
            if (!sees(sight, w.get.opens, f.fault)) continue;
            // One that can be looked at already counts a little: another way of looking tells it from others.
            const bool anew = !sees(sight, now, f.fault);
            w.worth += (anew ? 1.0 : 0.25) * open;
            if (anew && open > 0.01) w.get.sees.push_back(f.fault);
        }
        w.worth /= static_cast<double>(missing.size());
        if (w.worth > 0.0) all.push_back(std::move(w));
    }
    std::stable_sort(all.begin(), all.end(), [](const Weighed& a, const Weighed& b) { return a.worth > b.worth; });
    std::vector<ToGet> out;
    for (Weighed& w : all) {
        if (out.size() == 3) break;
        std::vector<std::string> what, checks, faults;
        for (const Tool t : w.get.tools) what.emplace_back(name_of(t));
        for (const measure::Check c : w.get.opens) checks.emplace_back(fmt::format("\"{}\"", measure::info(c).title));
        for (const shop::Fault f : w.get.sees) faults.emplace_back(session::name_of(f));
        if (checks.size() > 3) checks.resize(3);
        w.get.why = fmt::format("With {} you can also make {}{}.", base::listed(what), base::listed(checks),
                                faults.empty() ? "" : fmt::format(", which see {}", base::listed(faults)));
        out.push_back(std::move(w.get));
    }
    return out;
}

}  // namespace offsquare::saws
