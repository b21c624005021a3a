#include <algorithm>

#include "gui/pages/set_up.h"
#include "gui/state/set_up_field.h"
#include "session/reveal.h"
#include "shop/sense.h"

namespace offsquare::gui {
namespace {

constexpr const char* groups[] = {"fence", "board",   "blade", "slots",     "sled",
                                  "table", "caliper", "tape",  "tolerance", "faults"};

std::string group_of(const std::string& key) { return key.substr(0, key.find('.')); }
std::string name_of_key(const std::string& key) {
    std::string name = key.substr(key.find('.') + 1);
    std::replace(name.begin(), name.end(), '_', ' ');
    return name;
}

/// The hidden errors are shown, and can be set, only by who asks for them: here and as the handle on the table alike.
void ask_for_faults(Kit& kit, Bench& bench, SetUpState& state) {
    check(kit, "Show and set the hidden errors myself", bench.view.reveal);
    tooltip(kit,
            "Nobody at a real saw can see them. With this on, the fence's true line can be dragged by its left end.");
    if (!bench.view.reveal && state.group == "faults") state.group = "fence";
}

/// What does not make sense before anything is cut, the most dangerous first.
void advice(Kit& kit, const Bench& bench) {
    const std::vector<shop::Advice> all = shop::sense_of(bench.seen().drawing, bench.view.units);
    for (const shop::Advice& a : all) marked(kit, a.sentence, Role::wrong);
}

void group_buttons(Kit& kit, Bench& bench, SetUpState& state) {
    int i = 0;
    for (const char* group : groups) {
        if (std::string_view(group) == "faults" && !bench.view.reveal) continue;
        if (i++ % 4 != 0) ImGui::SameLine(0.0F, kit.px(6.0F));
        ChipOptions o;
        o.width = std::string_view(group).size() > 7 ? 110.0F : 78.0F;
        o.height = 28.0F;
        if (chip(kit, (std::string(group) + "##group").c_str(), group, "", state.group == group, o))
            state.group = group;
    }
}

/// As it is now: of a hidden error only for who has asked to see them.
std::string present_value(const Bench& bench, const scenario::KeyInfo& key) {
    const std::string text = bench.view.reveal ? session::revealed_value(bench.history(), key.key)
                                               : scenario::value_of(bench.scenario(), key.key);
    return field_text(text, key.kind, bench.scenario().units, bench.view.units);
}

/// A field for one key. What is typed goes to the session as it stands, with the unit that a bare number has here, and
/// the session parses and checks it.
void key_field(Kit& kit, Bench& bench, SetUpState& state, const scenario::KeyInfo& key) {
    FieldOptions o;
    o.width = 130.0F;
    o.label_width = 162.0F;
    // A gap per length is a long unit: it stands under the field, where the name would be cut for it.
    const std::string unit = field_unit(key.kind, bench.view.units);
    const bool long_unit = unit.find(" in ") != std::string::npos;
    o.help = (long_unit ? unit.substr(1) + " " : "") + base::said_in(key.meaning, bench.view.units);
    std::string typed;
    const auto parse = [&](std::string_view text) -> base::Result<double> {
        if (auto good = field_trouble(bench.scenario(), key, text, bench.view.units); !good)
            return tl::unexpected(good.error());
        typed = std::string(text);
        return 0.0;
    };
    const std::string label = name_of_key(key.key) + (long_unit ? "" : unit) + "##" + key.key;
    const std::string now = present_value(bench, key);
    const auto committed = number_field(kit, label.c_str(), state.fields[key.key], now, parse, o);
    if (committed && typed != now) {
        bench.act(session::SetValue{key.key, with_unit(typed, key.kind, bench.scenario().units, bench.view.units)});
        bench.view.looking_at = session::Stage::set_up;
    }
}

}  // namespace

void draw_setup(Kit& kit, Bench& bench, SetUpState& state, const Area& area) {
    CardOptions card = card_in(area);
    if (card_begin(kit, "Set up", card)) {
        heading(kit, "The saw on this bench");
        quiet(kit, bench.seen().story);
        gap(kit, 4.0F);
        ask_for_faults(kit, bench, state);
        gap(kit, 4.0F);
        group_buttons(kit, bench, state);
        gap(kit, 4.0F);
        if (scroll_begin(kit, "values", 0.0F, area.h - (ImGui::GetCursorPosY() / kit.theme.scale) - 74.0F)) {
            advice(kit, bench);
            for (const scenario::KeyInfo& key : scenario::keys()) {
                const bool list = key.key.ends_with("_profile");
                if (group_of(key.key) == state.group && !list) key_field(kit, bench, state, key);
            }
        }
        scroll_end(kit);
        if (strong_button(kit, "Back to the job", 190.0F, "or press Escape")) bench.view.looking_at.reset();
    }
    card_end(kit);
}

}  // namespace offsquare::gui
