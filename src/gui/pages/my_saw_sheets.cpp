// What lies over "My saw": how a strip is cut, the working, what was put in, the drawer, sizes and instruments.
#include <algorithm>

#include <fmt/format.h>

#include "gui/kit/input.h"
#include "gui/pages/my_saw_parts.h"
#include "saws/steps.h"
#include "session/slips.h"
#include "session/story.h"

namespace offsquare::gui {
namespace {

using base::Units;

void numbered(Kit& kit, std::size_t n, std::string_view text) {
    const ImVec2 at = ImGui::GetCursorPos();
    paragraph(kit, fmt::format("{}.", n), Role::text, Face::number);
    ImGui::SetCursorPos({at.x + kit.px(24.0F), at.y});
    ImGui::BeginGroup();
    paragraph(kit, text);
    ImGui::EndGroup();
    ImGui::SetCursorPosX(at.x);
    gap(kit, 6.0F);
}

void how_to_cut(Kit& kit, Bench& bench, MySawState& state) {
    if (!my_sheet_begin(kit, state, MySheet::how_to_cut, "How to cut a strip", 760.0F)) return;
    marked(kit, session::cautions().short_line, Role::wrong);
    gap(kit, 6.0F);
    std::size_t n = 1;
    for (const std::string_view step : saws::strip_steps()) numbered(kit, n++, base::said_in(step, bench.view.units));
    if (button(kit, "All cautions (!)")) bench.sheets.cautions = true, state.sheets.open = MySheet::none;
    ImGui::SameLine(0.0F, kit.px(10.0F));
    if (button(kit, "Print them")) open_sheet(state, MySheet::print);
    sheet_end(kit);
}

void working(Kit& kit, Bench& bench, MySawState& state) {
    if (!my_sheet_begin(kit, state, MySheet::working, "Why? the working", 600.0F)) return;
    const auto& a = state.saw.answer();
    if (a && a->shim) {
        const Units units = bench.view.units;
        const saws::AnswerWords words = saws::words_of(*a, units, state.saw.in_log());
        for (const session::WorkingLine& row : session::working(a->test, units).lines)
            working_row(kit, row.what, row.how, row.result);
        rule(kit);
        paragraph(kit,
                  fmt::format("{} behind the {} end", base::show_small(a->shim->shim_mm.value, units),
                              shim::name_of(a->shim->at)),
                  Role::text, Face::heading);
        gap(kit, 4.0F);
        quiet(kit, words.give_or_take);
        quiet(kit, words.why);
        quiet(kit, words.square);
        quiet(kit, std::string(session::which_end_sentence()));
        if (state.saw.set_up().common_caliper)
            quiet(kit, fmt::format("No caliper was named: the widths count as read with {}.",
                                   session::common_caliper_words(units)));
        if (const auto verdict = state.saw.fence_verdict()) quiet(kit, saws::verdict_words(*verdict, units));
    }
    sheet_end(kit);
}

// ---- what is in ----

saws::Piece piece_of(const shop::Shim& shim) { return {shim.name, shim.thickness_mm, shim.u_mm}; }

/// The pieces of the drawer that were chosen; else one of the thickness that was typed.
base::Result<saws::ShimsMoved> chosen_pieces(const MySawState& state, Units units) {
    const MySheets& sheets = state.sheets;
    const auto& drawer = state.saw.set_up().scenario.drawing.drawer;
    std::vector<saws::Piece> pieces;
    for (std::size_t i = 0; i < drawer.size() && i < sheets.chosen.size() && state.saw.set_up().drawer_typed; ++i) {
        for (int n = 0; n < sheets.chosen[i]; ++n) pieces.push_back(piece_of(drawer[i]));
    }
    if (!sheets.put.empty()) {
        const auto typed = length_in_field(sheets.put, units);
        if (!typed) return tl::unexpected(typed.error());
        if (*typed) pieces.push_back({"shim", (*typed)->value, saws::u_of_marked(**typed)});
    }
    if (pieces.empty()) return base::fail(base::Grade::usage, "Choose pieces, or type how thick a shim was put in.");
    saws::ShimsMoved moved;
    (sheets.end == 0 ? moved.put_left : moved.put_right) = std::move(pieces);
    return moved;
}

void chips_of_drawer(Kit& kit, MySawState& state, Units units) {
    const auto& drawer = state.saw.set_up().scenario.drawing.drawer;
    std::vector<int>& chosen = state.sheets.chosen;
    chosen.resize(drawer.size());
    float used = 0.0F;
    const float room = ImGui::GetContentRegionAvail().x / kit.theme.scale;
    for (std::size_t i = 0; i < drawer.size(); ++i) {
        const std::string value = base::show_small(drawer[i].thickness_mm, units);
        ChipOptions options;
        options.width = chip_width(kit, drawer[i].name, value) + 10.0F;
        options.count = chosen[i];
        if (i > 0 && used + options.width + 10.0F <= room) ImGui::SameLine(0.0F, kit.px(10.0F));
        else if (i > 0) used = 0.0F;
        used += options.width + 10.0F;
        if (chip(kit, fmt::format("drawer {}", i).c_str(), drawer[i].name, value, chosen[i] > 0, options))
            chosen[i] = chosen[i] < drawer[i].count ? chosen[i] + 1 : 0;
    }
}

/// What it leaves, if it goes in as it is chosen.
std::string leaves(const MySawState& state, const saws::ShimsMoved& moved, Units units) {
    const auto& a = state.saw.answer();
    const double left = saws::total_mm(moved.put_left), right = saws::total_mm(moved.put_right);
    std::string text = fmt::format("= {} behind the {} end", base::show_small(left + right, units),
                                   state.sheets.end == 0 ? "left" : "right");
    const auto rest = a ? saws::left_over(*a, moved) : std::nullopt;
    return rest ? text + fmt::format(", leaves {}", base::show_angle_short(std::abs(*rest), units)) : text;
}

void what_is_in(Kit& kit, Bench& bench, MySawState& state) {
    if (!my_sheet_begin(kit, state, MySheet::what_is_in, "What was put behind the fence?", 560.0F)) return;
    const Units units = bench.view.units;
    MySheets& sheets = state.sheets;
    marked(kit, "Unplug the saw before you touch the fence. Loosen it, put the shim in, clamp it again.", Role::wrong);
    gap(kit, 6.0F);
    const std::array<std::string, 2> ends{"left end", "right end"};
    choice(kit, "end", ends, sheets.end, 260.0F);
    gap(kit, 6.0F);
    const bool from_drawer = state.saw.set_up().drawer_typed && !state.saw.set_up().scenario.drawing.drawer.empty();
    if (from_drawer) {
        line(kit, "From your drawer: press a piece once for each", Role::quiet, Face::note);
        chips_of_drawer(kit, state, units);
        gap(kit, 6.0F);
    }
    FieldOptions options;
    options.width = 150.0F;
    options.reading = true;
    // Enter must not close it with nothing written: the keyboard is where the thickness is typed, or at what writes.
    const bool appears = ImGui::IsWindowAppearing();
    const bool in_field = text_field_active();
    options.takes_keyboard = appears && !from_drawer;
    text_field(
        kit, fmt::format("{} [{}]##put", from_drawer ? "or another, how thick" : "how thick", unit_name(units)).c_str(),
        sheets.put, options);
    gap(kit, 4.0F);
    const auto moved = chosen_pieces(state, units);
    if (moved) line(kit, leaves(state, *moved, units), Role::text, Face::number);
    else quiet(kit, moved.error().message);
    gap(kit, 8.0F);
    if (appears && from_drawer) ImGui::SetKeyboardFocusHere();
    const bool entered = in_field && (ImGui::IsKeyPressed(static_cast<int>(Key::enter), false) ||
                                      ImGui::IsKeyPressed(static_cast<int>(Key::keypad_enter), false));
    const bool pressed = strong_button(kit, "It is in: write it down", 210.0F, {}, moved.has_value());
    if ((pressed || entered) && moved) {
        const auto done = state.saw.write_strip(*moved);
        sheets.trouble = done ? "" : done.error().message;
        if (done) sheets.open = MySheet::none;
        state.takes_keyboard = done.has_value();  // for the second strip
    }
    if (state.saw.of_draft()) {
        ImGui::SameLine(0.0F, kit.px(10.0F));
        if (button(kit, "Nothing yet: keep the strip")) {
            const auto done = state.saw.write_strip(std::nullopt);
            sheets.trouble = done ? "" : done.error().message;
            if (done) sheets.open = MySheet::none;
        }
    }
    if (!sheets.trouble.empty()) marked(kit, sheets.trouble, Role::wrong);
    sheet_end(kit);
}

// ---- the drawer ----

void begin_drawer(MySawState& state, Units units) {
    state.sheets.pieces.clear();
    if (state.saw.set_up().drawer_typed) {
        for (const shop::Shim& s : state.saw.set_up().scenario.drawing.drawer)
            state.sheets.pieces.push_back(
                {s.name, field_text({s.thickness_mm, 0.0, false}, units), std::to_string(s.count)});
    }
    constexpr std::size_t least_rows = 4;
    while (state.sheets.pieces.size() < least_rows) state.sheets.pieces.push_back({});
}

base::Result<saws::DrawerTyped> typed_drawer(const std::vector<PieceTexts>& rows, Units units) {
    saws::DrawerTyped drawer;
    for (const PieceTexts& row : rows) {
        if (row.thickness.empty()) continue;
        const auto thick = length_in_field(row.thickness, units);
        if (!thick) return tl::unexpected(thick.error());
        const auto count = base::parse_number(row.count.empty() ? "1" : row.count);
        if (!count || *count < 1.0 || *count > 20.0 || *count != std::floor(*count))
            return base::fail(base::Grade::usage,
                              fmt::format("found \"{}\" pieces; expected a whole number, 1 to 20", row.count));
        constexpr double usual_u_mm = 0.005;  // of stock that a micrometer was put to (common practice, no source)
        drawer.pieces.push_back(
            {row.name.empty() ? "shim" : row.name, (*thick)->value, usual_u_mm, static_cast<int>(*count)});
    }
    return drawer;
}

void drawer(Kit& kit, Bench& bench, MySawState& state) {
    MySheets& sheets = state.sheets;
    const Units units = bench.view.units;
    if (sheets.open == MySheet::drawer && sheets.before != MySheet::drawer) begin_drawer(state, units);
    if (!my_sheet_begin(kit, state, MySheet::drawer, "What is in your drawer", 560.0F)) return;
    quiet(kit,
          "Typed once. Every shim that you have: foil, paper, brass, card. Pieces behind the fence count with them.");
    gap(kit, 4.0F);
    FieldOptions name, thickness, count;
    const bool appears = ImGui::IsWindowAppearing();
    bool kept = false;
    const auto untyped_from = [&](std::size_t row) {
        return std::all_of(sheets.pieces.begin() + static_cast<std::ptrdiff_t>(row), sheets.pieces.end(),
                           [](const PieceTexts& p) { return p.name.empty() && p.thickness.empty(); });
    };
    name.width = 190.0F;
    thickness.width = 130.0F;
    count.width = 80.0F;
    for (std::size_t i = 0; i < sheets.pieces.size(); ++i) {
        PieceTexts& row = sheets.pieces[i];
        const bool first = i == 0;
        ImGui::PushID(static_cast<int>(i));
        name.takes_keyboard = appears && first;
        text_field(kit, first ? "what it is##name" : "##name", row.name, name);
        // Enter goes on as Tab does; where nothing more is typed it keeps what stands there.
        if (entered()) {
            if (i > 0 && untyped_from(i)) kept = true;
            else kit.tab_order.go_on();
        }
        ImGui::SameLine(0.0F, kit.px(10.0F));
        const std::string thick = fmt::format("how thick [{}]##thick", unit_name(units));
        text_field(kit, first ? thick.c_str() : "##thick", row.thickness, thickness);
        if (entered()) kit.tab_order.go_on();
        ImGui::SameLine(0.0F, kit.px(10.0F));
        text_field(kit, first ? "pieces##count" : "##count", row.count, count);
        if (entered()) {
            if (i + 1 == sheets.pieces.size()) kept = true;
            else kit.tab_order.go_on();
        }
        ImGui::PopID();
    }
    gap(kit, 4.0F);
    if (sheets.pieces.size() < 12 && button(kit, "Another row")) sheets.pieces.push_back({});
    const auto typed = typed_drawer(sheets.pieces, units);
    gap(kit, 6.0F);
    if (strong_button(kit, "Keep the drawer", 180.0F) || kept) {
        const auto done = typed ? state.saw.write(*typed) : base::Result<void>(tl::unexpected(typed.error()));
        sheets.trouble = done ? "" : done.error().message;
        if (done) sheets.open = MySheet::none;
    }
    if (!sheets.trouble.empty()) marked(kit, sheets.trouble, Role::wrong);
    sheet_end(kit);
}

// ---- sizes ----

void write_size(MySawState& state, const std::string& key, const std::string& text, Units units) {
    std::string& trouble = state.sheets.size_troubles[key];
    trouble.clear();
    if (text.empty()) return;
    const auto size = saws::size_of(key, text, units);
    const auto done =
        size ? state.saw.write(saws::SizesTyped{{*size}}) : base::Result<void>(tl::unexpected(size.error()));
    if (!done) trouble = done.error().message;
}

std::string typed_size(const MySaw& saw, std::string_view key) {
    for (const saws::Size& s : saw.set_up().typed) {
        if (s.key == key) return s.value;
    }
    return "";
}

void size_field(Kit& kit, MySawState& state, const saws::SizeInfo& info, Units units) {
    const std::string key(info.key);
    auto [text, fresh] = state.sheets.sizes.try_emplace(key, typed_size(state.saw, key));
    FieldOptions options;
    options.width = 170.0F;
    options.label_width = 270.0F;
    options.help = base::said_in(info.meaning, units);
    options.error = state.sheets.size_troubles[key];
    if (text_field(kit, fmt::format("{}##size", info.name).c_str(), text->second, options))
        write_size(state, key, text->second, units);
}

void caliper_rows(Kit& kit, MySawState& state, Units units) {
    line(kit, "The caliper that reads the strip", Role::quiet, Face::label);
    const auto& known = saws::known_calipers();
    const shop::Caliper& now = state.saw.set_up().scenario.drawing.caliper;
    for (const saws::KnownCaliper& one : known) {
        const auto step = std::find_if(one.sizes.begin(), one.sizes.end(),
                                       [](const saws::Size& s) { return s.key == "caliper.step"; });
        const auto limit = std::find_if(one.sizes.begin(), one.sizes.end(),
                                        [](const saws::Size& s) { return s.key == "caliper.limit"; });
        const auto name = std::find_if(one.sizes.begin(), one.sizes.end(),
                                       [](const saws::Size& s) { return s.key == "caliper.name"; });
        const bool of_these_units = limit->value.ends_with(unit_name(units));
        const auto step_mm = base::parse_length(step->value, base::LengthUnit::mm);
        const auto limit_mm = base::parse_length(limit->value, base::LengthUnit::mm);
        const bool chosen = !state.saw.set_up().common_caliper && now.name == name->value && step_mm && limit_mm &&
                            std::abs(now.step_mm - step_mm->value) < 1e-9 &&
                            std::abs(now.limit_mm - limit_mm->value) < 1e-9;
        if (!of_these_units && !chosen) continue;
        if (list_row(kit, std::string(one.name).c_str(), "limits ±" + limit->value, chosen))
            static_cast<void>(state.saw.write(saws::SizesTyped{one.sizes}));
    }
    if (state.saw.set_up().common_caliper) quiet(kit, "None is chosen: the widths count as read with a common one.");
}

void sizes(Kit& kit, Bench& bench, MySawState& state) {
    MySheets& sheets = state.sheets;
    if (sheets.open == MySheet::sizes && sheets.before != MySheet::sizes)
        sheets.sizes.clear(), sheets.size_troubles.clear();
    if (!my_sheet_begin(kit, state, MySheet::sizes, "Instruments and sizes", 600.0F)) return;
    const Units units = bench.view.units;
    caliper_rows(kit, state, units);
    gap(kit, 6.0F);
    line(kit, "What counts as square", Role::quiet, Face::label);
    for (const saws::SizeInfo& info : saws::size_infos()) {
        if (info.group == "square") size_field(kit, state, info, units);
    }
    quiet(kit, fmt::format("Now {}. Typed as a gap over a length, such as {}.",
                           base::show_angle_short(state.saw.set_up().scenario.drawing.tolerance_rad, units),
                           units == Units::metric ? "0.25 mm/m" : "1 thou/12in"));
    gap(kit, 6.0F);
    if (!sheets.all_sizes) {
        if (button(kit, "Another caliper; fence, board, sled and saw")) sheets.all_sizes = true;
        quiet(kit, "None of them is needed for the shim. They make the weighing of the readings surer.");
    } else {
        std::string_view group;
        for (const saws::SizeInfo& info : saws::size_infos()) {
            if (info.group == "square") continue;
            if (info.group != group) gap(kit, 6.0F), line(kit, info.group, Role::quiet, Face::label);
            group = info.group;
            size_field(kit, state, info, units);
        }
    }
    for (const std::string& one : state.saw.set_up().does_not_fit) marked(kit, one, Role::wrong);
    sheet_end(kit);
}

/// What is proposed stands there first.
void begin_what_is_in(MySawState& state, Units units) {
    MySheets& sheets = state.sheets;
    const auto& a = state.saw.answer();
    sheets.put.clear();
    sheets.chosen.assign(state.saw.set_up().scenario.drawing.drawer.size(), 0);
    if (!state.saw.asks_for_shim()) return;
    sheets.end = a->shim->at == shim::At::right ? 1 : 0;
    const bool from_drawer = a->drawer_typed && a->test.proposal && !a->test.proposal->best.pieces.empty();
    if (from_drawer) {
        for (const shim::PickedShim& p : a->test.proposal->best.pieces) {
            if (p.drawer_row >= 0) ++sheets.chosen.at(static_cast<std::size_t>(p.drawer_row));
        }
    } else {
        sheets.put = base::print_length(a->shim->shim_mm.value,
                                        units == Units::metric ? base::LengthStyle::mm : base::LengthStyle::inch,
                                        units == Units::metric ? 3 : 4, false);
    }
}

}  // namespace

bool my_sheet_begin(Kit& kit, MySawState& state, MySheet sheet, const char* title, float width) {
    bool open = state.sheets.open == sheet;
    const bool drawn = sheet_begin(kit, title, open, width);
    if (!open && state.sheets.open == sheet) state.sheets.open = MySheet::none;
    return drawn;
}

void open_sheet(MySawState& state, MySheet sheet) {
    state.sheets.open = sheet;
    state.sheets.trouble.clear();
}

bool any_sheet_open(const MySawState& state) { return state.sheets.open != MySheet::none || state.chooser.is_open(); }

void draw_my_sheets(Kit& kit, Bench& bench, MySawState& state) {
    MySheets& sheets = state.sheets;
    if (sheets.open == MySheet::what_is_in && sheets.before != MySheet::what_is_in)
        begin_what_is_in(state, bench.view.units);
    how_to_cut(kit, bench, state);
    working(kit, bench, state);
    what_is_in(kit, bench, state);
    drawer(kit, bench, state);
    sizes(kit, bench, state);
}

}  // namespace offsquare::gui
