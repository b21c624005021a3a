#include <algorithm>

#include <fmt/format.h>

#include "gui/pages/job.h"

namespace offsquare::gui {
namespace {

/// How many pieces of a drawer line stand behind the fence.
int behind(const session::Seen& seen, int row) {
    int n = 0;
    for (const auto& p : seen.behind_left) n += p.drawer_row == row ? 1 : 0;
    for (const auto& p : seen.behind_right) n += p.drawer_row == row ? 1 : 0;
    return n;
}

/// The end that a pressed chip goes to: the proposed one, else the one chosen by hand.
shim::At end_for(const Bench& bench, const JobState& state) {
    if (state.shim_end) return *state.shim_end;
    const session::Test* test = bench.last_test();
    const bool proposed = test != nullptr && test->worked_out && test->proposal && test->proposal->at != shim::At::none;
    return proposed ? test->proposal->at : shim::At::left;
}

void which_end(Kit& kit, Bench& bench, JobState& state) {
    const std::vector<std::string> words{"left end", "right end"};
    int chosen = end_for(bench, state) == shim::At::left ? 0 : 1;
    ImGui::SetCursorPos({kit.px(116.0F), kit.px(8.0F)});
    const bool changed = choice(kit, "shim end", words, chosen, 140.0F);
    const shim::At at = chosen == 0 ? shim::At::left : shim::At::right;
    if (changed) state.shim_end = at;
    ImGui::SameLine(0.0F, kit.px(8.0F));
    const bool any = !(at == shim::At::left ? bench.seen().behind_left : bench.seen().behind_right).empty();
    if (button(kit, "Take out", 88.0F, any)) bench.act(session::TakeShim{at});
}

std::string thickness_words(const shop::Shim& shim, base::Units units) {
    return units == base::Units::metric ? base::print_length(shim.thickness_mm, base::LengthStyle::mm, 3, false)
                                        : base::print_length(shim.thickness_mm, base::LengthStyle::inch, 4, false);
}

void chips(Kit& kit, Bench& bench, const JobState& state, float width) {
    const auto& drawer = bench.seen().drawing.drawer;
    const auto fits_in = [&](float each) {
        return std::all_of(drawer.begin(), drawer.end(), [&](const shop::Shim& s) {
            return chip_width(kit, s.name, thickness_words(s, bench.view.units)) <= each;
        });
    };
    const std::size_t columns = fits_in((width - 16.0F) / 3.0F) ? 3 : 2;
    ChipOptions o;
    o.width = (width - 8.0F * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    o.height = 34.0F;
    for (std::size_t i = 0; i < drawer.size(); ++i) {
        if (i % columns != 0) ImGui::SameLine(0.0F, kit.px(8.0F));
        const int left = bench.seen().left_in_drawer[i];
        o.count = left;
        o.enabled = left > 0;
        const std::string value = thickness_words(drawer[i], bench.view.units);
        const std::string id = fmt::format("{} {}##drawer{}", drawer[i].name, value, i);
        if (chip(kit, id.c_str(), drawer[i].name, value, behind(bench.seen(), static_cast<int>(i)) > 0, o)) {
            bench.act(session::PutShim{end_for(bench, state), static_cast<int>(i)});
        }
    }
}

std::string behind_words(const Bench& bench) {
    std::string text;
    const auto say = [&](const char* end, const std::vector<shim::PickedShim>& placed) {
        if (placed.empty()) return;
        double sum = 0.0;
        for (const auto& p : placed) sum += p.thickness_mm;
        text += fmt::format("{}{} end: {} piece{}, {} marked", text.empty() ? "Behind the " : "; ", end, placed.size(),
                            placed.size() == 1 ? "" : "s", base::show_small(sum, bench.view.units));
    };
    say("left", bench.seen().behind_left);
    say("right", bench.seen().behind_right);
    return text.empty() ? "" : text + ".";
}

}  // namespace

void draw_drawer(Kit& kit, Bench& bench, JobState& state, const Area& area) {
    CardOptions card = card_in(area);
    card.scrolls = true;
    const std::string unit = bench.view.units == base::Units::metric ? "Shims [mm]" : "Shims [in]";
    if (card_begin(kit, (unit + "###drawer").c_str(), card)) {
        which_end(kit, bench, state);
        const session::Test* test = bench.last_test();
        const std::string placed = behind_words(bench);
        const std::string proposed =
            test != nullptr && test->worked_out ? session::stack_line(*test, bench.view.units) : "";
        // What was chosen stands above the pieces: where a large drawer scrolls, it stays in sight.
        if (!placed.empty()) paragraph(kit, placed, Role::read);
        else if (!proposed.empty()) paragraph(kit, proposed);
        gap(kit, 2.0F);  // the badges stand out above the chips
        chips(kit, bench, state, area.w - 40.0F - 12.0F);
    }
    card_end(kit);
}

}  // namespace offsquare::gui
