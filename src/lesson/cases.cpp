#include "lesson/cases.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <vector>

#include <fmt/format.h>

#include "lesson/case_texts.h"

namespace offsquare::lesson {
namespace {

std::vector<Case> made() {
    std::vector<Case> all;
    for (const CaseText& text : case_texts) {
        auto loaded = scenario::parse(text.text, text.name);  // a test holds every one of them to this
        if (loaded && !loaded->scenario.complaint.empty())
            all.push_back({std::string(text.name), std::move(loaded->scenario)});
    }
    const auto order = [](const Case& c) {
        return std::tuple(c.scenario.budget.minutes, c.scenario.budget.board_mm, std::string_view(c.name));
    };
    std::sort(all.begin(), all.end(), [&](const Case& a, const Case& b) { return order(a) < order(b); });
    return all;
}

const Case* first(const auto& fits) {
    const auto found = std::find_if(cases().begin(), cases().end(), fits);
    return found == cases().end() ? nullptr : &*found;
}

std::string board_words(double board_mm, base::Units units) {
    if (units == base::Units::metric) return fmt::format("{:.0f} mm", board_mm);
    return base::show_about(board_mm, units);
}

}  // namespace

std::span<const Case> cases() {
    static const std::vector<Case> all = made();
    return all;
}

const Case* find_case(std::string_view name) {
    return first([&](const Case& c) { return c.name == name; });
}

base::Result<scenario::Loaded> load_case(std::string_view name, const std::vector<scenario::Override>& overrides) {
    for (const CaseText& text : case_texts) {
        if (text.name == name) return scenario::parse(text.text, name, overrides);
    }
    return base::fail(base::Grade::no_input, fmt::format("there is no case {}", name));
}

const Case* case_of(const scenario::Scenario& scenario) {
    return first([&](const Case& c) { return c.scenario.complaint == scenario.complaint; });
}

std::string in_quotes(std::string_view complaint) { return fmt::format("“{}”", complaint); }

std::string cost_words(const scenario::Budget& budget, base::Units units) {
    std::string words;
    if (budget.minutes > 0.0) words = fmt::format("{:.0f} min", budget.minutes);
    if (budget.board_mm > 0.0) words += (words.empty() ? std::string() : ", ") + board_words(budget.board_mm, units);
    return words;
}

}  // namespace offsquare::lesson
