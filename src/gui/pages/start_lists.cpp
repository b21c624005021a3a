// The lists of the first screen: what one can go on with, and the cases.
#include <algorithm>

#include <fmt/format.h>

#include "gui/pages/start_parts.h"

namespace offsquare::gui {
namespace {

using lesson::Became;
using lesson::Case;
using lesson::Result;

constexpr float label_height = 26.0F;
constexpr float line_height = 58.0F;
constexpr float case_height = 52.0F;
constexpr float row_gap = 8.0F;
constexpr std::size_t fewest_cases = 8;
constexpr float row_inset = 20.0F;

void section(Kit& kit, const char* words, const StartSheet& sheet, float y) {
    ImGui::SetCursorPos({kit.px(sheet.left), kit.px(y)});
    line(kit, words, Role::quiet, Face::step_strong, sheet.width - 160.0F);
}

/// "show all" and back, at the right end of a section's line, with quiet words before it.
void more(Kit& kit, const std::string& before, bool& all, const char* id, const StartSheet& sheet, float y) {
    const std::string label = fmt::format("{}##{}", all ? "show fewer" : "show all", id);
    const float link_width =
        paragraph_size(kit, all ? "show fewer" : "show all", Face::small, 400.0F).x / kit.theme.scale;
    const float x = sheet.left + sheet.width - link_width - 2.0F;
    if (!before.empty()) {
        const float words = paragraph_size(kit, before, Face::small, 400.0F).x / kit.theme.scale;
        ImGui::SetCursorPos({kit.px(x - words - 6.0F), kit.px(y + 1.0F)});
        line(kit, before, Role::quiet, Face::small, words + 4.0F);
    }
    ImGui::SetCursorPos({kit.px(x), kit.px(y - 3.0F)});
    if (link(kit, label.c_str())) all = !all;
}

/// Where the work is: beside its name.
std::string place_of(const GoOnLine& l) {
    if (std::holds_alternative<std::monostate>(l.with.what)) return "on the bench";
    if (std::holds_alternative<OwnSled>(l.with.what)) return "from its log";
    return l.when.empty() ? "from its file" : "unsaved, " + l.when;
}

void draw_one_line(Kit& kit, const GoOnLine& l, std::size_t number, const StartSheet& sheet, ImVec2 at,
                   StartWish& wish) {
    CardOptions card;
    card.at = at;
    card.width = sheet.column;
    card.height = line_height;
    card.padding = {row_inset, 9.0F};
    card.shown_title = false;
    const auto* left = std::get_if<std::uint64_t>(&l.with.what);
    if (card_begin(kit, fmt::format("{}##line{}", l.so_far.called, number).c_str(), card)) {
        const float buttons = 92.0F + (left != nullptr ? 68.0F : 0.0F);
        const float room = sheet.column - 2.0F * row_inset - buttons;
        const std::string place = place_of(l);
        const float place_width = paragraph_size(kit, place, Face::note, 400.0F).x / kit.theme.scale;
        const float name =
            std::min(paragraph_size(kit, l.so_far.called, Face::step_strong, 4000.0F).x / kit.theme.scale + 1.0F,
                     room - place_width - 12.0F);
        line(kit, l.so_far.called, Role::text, Face::step_strong, name);
        ImGui::SetCursorPos({kit.px(row_inset + name + 10.0F), kit.px(10.5F)});
        line(kit, place, Role::quiet, Face::note, place_width + 2.0F);
        ImGui::SetCursorPos({kit.px(row_inset), kit.px(31.0F)});
        line(kit, l.so_far.done, Role::quiet, Face::note, room);
        if (left != nullptr) {
            ImGui::SetCursorPos({kit.px(sheet.column - 16.0F - 80.0F - 62.0F), kit.px(17.0F)});
            if (link(kit, fmt::format("Discard##{}", number).c_str())) wish = ThrowAway{*left};
        }
        ImGui::SetCursorPos({kit.px(sheet.column - 16.0F - 80.0F), kit.px(13.0F)});
        if (button(kit, fmt::format("Go on##{}", number).c_str(), 80.0F)) wish = l.with;
    }
    card_end(kit);
}

/// At the right end of a case's row.
void what_became(Kit& kit, const Result& result, const scenario::Budget& budget, ImVec2 at, float width) {
    const bool proved = result.became == Became::proved;
    const Role role = lesson::within(result, budget) ? Role::good : Role::quiet;
    const std::string words = proved ? fmt::format("{:.0f} min", result.minutes) : lesson::words_of(result);
    const float w = paragraph_size(kit, words, Face::note, 200.0F).x / kit.theme.scale;
    ImGui::SetCursorPos({kit.px(at.x + width - w), kit.px(at.y)});
    if (proved) {
        const ImVec2 screen = ImGui::GetCursorScreenPos();
        tick_at(kit, {screen.x - kit.px(16.0F), screen.y + kit.px(9.0F)}, role);
    }
    line(kit, words, role, Face::note, w + 2.0F);
}

void draw_case(Kit& kit, base::Units units, const Case& c, const Result& result, const StartSheet& sheet, ImVec2 at,
               StartWish& wish) {
    const std::string said = lesson::in_quotes(c.scenario.complaint);
    const std::string cost = lesson::cost_words(c.scenario.budget, units);
    ImGui::SetCursorPos({kit.px(at.x), kit.px(at.y)});
    const Plate place = plate(kit, said.c_str(), {sheet.column, case_height}, cost + "; " + lesson::words_of(result));
    if (place.pressed) wish = ChosenCase{c.name};
    if (result.became == Became::proved && !lesson::within(result, c.scenario.budget))
        tooltip(kit, "Proved, for more than it may cost.");
    const float cost_width = paragraph_size(kit, cost, Face::note, 400.0F).x / kit.theme.scale;
    constexpr float state_width = 100.0F;
    const bool cost_shown = sheet.column >= 460.0F;
    const float right = row_inset + state_width + (cost_shown ? 16.0F + cost_width : 0.0F);
    const float room = sheet.column - row_inset - right - 12.0F;
    const Face face = result.became == Became::fresh ? Face::step_strong : Face::step;
    const float high = paragraph_size(kit, said, face, room).y / kit.theme.scale;
    ImGui::SetCursorPos({kit.px(at.x + row_inset), kit.px(at.y + (case_height - high) / 2.0F)});
    paragraph(kit, said, Role::text, face, room);
    const float middle = at.y + (case_height - 18.0F) / 2.0F;
    if (cost_shown) {
        ImGui::SetCursorPos({kit.px(at.x + sheet.column - right), kit.px(middle)});
        line(kit, cost, Role::quiet, Face::note, cost_width + 2.0F);
    }
    what_became(kit, result, c.scenario.budget, {at.x + sheet.column - row_inset - state_width, middle}, state_width);
}

}  // namespace

std::vector<const Case*> cases_shown(const lesson::Results& results, std::size_t room) {
    std::vector<const Case*> shown;
    for (const Case& c : lesson::cases()) shown.push_back(&c);
    constexpr std::ptrdiff_t proofs_shown = 2;
    const auto proved = [&](const Case* c) { return results.of(c->name).became == Became::proved; };
    auto proofs = std::count_if(shown.begin(), shown.end(), proved);
    for (auto it = shown.begin(); shown.size() > room && it != shown.end() && proofs > proofs_shown;) {
        const bool goes = proved(*it);
        it = goes ? shown.erase(it) : it + 1;
        proofs -= goes ? 1 : 0;
    }
    if (shown.size() > room) shown.resize(room);
    return shown;
}

float draw_lines(Kit& kit, StartState& state, const std::vector<GoOnLine>& lines, const StartSheet& sheet, float y,
                 StartWish& wish) {
    const std::size_t few = sheet.two ? 2 : 1;
    section(kit, "Go on where you were", sheet, y);
    if (lines.size() > few) more(kit, fmt::format("{} of them ·", lines.size()), state.all_lines, "lines", sheet, y);
    y += label_height;
    const std::size_t shown = state.all_lines ? lines.size() : std::min(few, lines.size());
    for (std::size_t i = 0; i < shown; ++i) {
        const float row = y + static_cast<float>(sheet.row_of(i)) * (line_height + row_gap);
        draw_one_line(kit, lines[i], i, sheet, {sheet.x_of(i), row}, wish);
    }
    return y + static_cast<float>(sheet.row_of(shown - 1) + 1) * (line_height + row_gap) - row_gap;
}

float draw_cases(Kit& kit, base::Units units, StartState& state, const StartSheet& sheet, float y, float page_height,
                 StartWish& wish) {
    const auto all = lesson::cases();
    const auto proved = std::count_if(all.begin(), all.end(),
                                      [&](const Case& c) { return state.results.of(c.name).became == Became::proved; });
    section(kit, "Cases, as their owners tell them", sheet, y);
    const float top = y + label_height;
    const float rows_that_fit = std::max(0.0F, (page_height - top - 14.0F + row_gap) / (case_height + row_gap));
    const std::size_t room =
        std::max(fewest_cases, static_cast<std::size_t>(rows_that_fit) * (sheet.two ? std::size_t{2} : 1));
    const std::string count = fmt::format("{} of {} proved", proved, all.size());
    if (room < all.size() || state.all_cases) more(kit, count + " ·", state.all_cases, "cases", sheet, y);
    else {
        const float words = paragraph_size(kit, count, Face::small, 400.0F).x / kit.theme.scale;
        ImGui::SetCursorPos({kit.px(sheet.left + sheet.width - words - 2.0F), kit.px(y + 1.0F)});
        line(kit, count, Role::quiet, Face::small, words + 4.0F);
    }
    const auto shown = cases_shown(state.results, state.all_cases ? all.size() : room);
    for (std::size_t i = 0; i < shown.size(); ++i) {
        const float row = top + static_cast<float>(sheet.row_of(i)) * (case_height + row_gap);
        draw_case(kit, units, *shown[i], state.results.of(shown[i]->name), sheet, {sheet.x_of(i), row}, wish);
    }
    const std::size_t rows = shown.empty() ? 0 : sheet.row_of(shown.size() - 1) + 1;
    return top + static_cast<float>(rows) * (case_height + row_gap) - row_gap;
}

}  // namespace offsquare::gui
