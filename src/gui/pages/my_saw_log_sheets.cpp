// What lies over "My saw" and is about the log: another day, something that was done, an entry, another sled, exports.
#include <algorithm>

#include <fmt/format.h>

#include "gui/pages/my_saw_parts.h"
#include "session/hunt_words.h"

namespace offsquare::gui {
namespace {

using base::Units;

base::Result<saws::Date> typed_date(const std::string& text, saws::Date today) {
    return text.empty() || text == "today" ? base::Result<saws::Date>(today) : saws::parse_date(text);
}

/// True when Enter was pressed in it.
bool date_field(Kit& kit, MySheets& sheets, saws::Date today, bool takes_keyboard = false) {
    FieldOptions options;
    options.takes_keyboard = takes_keyboard;
    options.width = 200.0F;
    options.hint = "today";
    const auto date = typed_date(sheets.date, today);
    options.help = date ? saws::in_words(*date) : std::string("such as ") + saws::iso(today);
    text_field(kit, "the day##date", sheets.date, options);
    return entered();
}

/// A field from which Enter goes on.
void passing_field(Kit& kit, const char* label, std::string& text, const FieldOptions& options = {}) {
    text_field(kit, label, text, options);
    if (entered()) kit.tab_order.go_on();
}

/// Writes, closes the sheet, or says why not.
void finish(MySheets& sheets, const base::Result<void>& done) {
    sheets.trouble = done ? std::string() : done.error().message;
    if (done) sheets.open = MySheet::none;
}

void day_of_test(Kit& kit, MySawState& state) {
    MySheets& sheets = state.sheets;
    if (sheets.open == MySheet::date && sheets.before != MySheet::date)
        sheets.date = state.saw.draft.date ? saws::iso(*state.saw.draft.date) : "";
    if (!my_sheet_begin(kit, state, MySheet::date, "When was the strip cut?", 440.0F)) return;
    const bool enter = date_field(kit, sheets, state.saw.today(), ImGui::IsWindowAppearing());
    gap(kit, 6.0F);
    if (strong_button(kit, "That day", 130.0F) || enter) {
        const auto date = typed_date(sheets.date, state.saw.today());
        if (!date) sheets.trouble = date.error().message;
        else if (*date > state.saw.today()) sheets.trouble = fmt::format("{} is still to come.", saws::in_words(*date));
        else {
            state.saw.draft.date = *date == state.saw.today() ? std::nullopt : std::optional(*date);
            sheets.open = MySheet::none;
        }
    }
    if (!sheets.trouble.empty()) marked(kit, sheets.trouble, Role::wrong);
    sheet_end(kit);
}

// ---- something that was done ----

void fault_rows(Kit& kit, MySheets& sheets) {
    line(kit, "What was put right", Role::quiet, Face::note);
    if (scroll_begin(kit, "faults", 0.0F, 190.0F)) {
        if (list_row(kit, "something else, in your words", "", !sheets.fault)) sheets.fault.reset();
        for (std::size_t i = 0; i < shop::faults().size(); ++i) {
            const auto fault = shop::faults().at(i).fault;
            const bool chosen = sheets.fault == static_cast<int>(i);
            if (list_row(kit, std::string(session::name_of(fault)).c_str(), "", chosen))
                sheets.fault = static_cast<int>(i);
        }
    }
    scroll_end(kit);
}

base::Result<saws::What> something_done(const MySheets& sheets) {
    switch (sheets.kind) {
        case 0: {
            if (!sheets.fault && sheets.text.empty())
                return base::fail(base::Grade::usage, "Choose what was put right, or say it in your words.");
            saws::PutRight done;
            if (sheets.fault) done.fault = shop::faults().at(static_cast<std::size_t>(*sheets.fault)).fault;
            done.what = sheets.text;
            return done;
        }
        case 1: return saws::FenceMoved{};
        default: break;
    }
    if (sheets.text.empty()) return base::fail(base::Grade::usage, "Write the note first.");
    return saws::Remark{sheets.text};
}

void add(Kit& kit, MySawState& state) {
    MySheets& sheets = state.sheets;
    if (sheets.open == MySheet::add && sheets.before != MySheet::add) {
        sheets.text.clear();
        sheets.date.clear();
        sheets.fault.reset();
    }
    if (!my_sheet_begin(kit, state, MySheet::add, "What was done to it?", 560.0F)) return;
    const bool appears = ImGui::IsWindowAppearing();
    const std::array<std::string, 4> kinds{"put right", "fence moved", "a note", "shims"};
    if (choice(kit, "kind", kinds, sheets.kind, 440.0F) && sheets.kind == 3) {
        sheets.kind = 0;
        open_sheet(state, MySheet::what_is_in);
    }
    gap(kit, 6.0F);
    if (sheets.kind == 0) fault_rows(kit, sheets);
    if (sheets.kind == 1)
        quiet(kit,
              "The fence was set anew, by hand or by a knock. What was read of it before is over; the shims stay "
              "where they are.");
    FieldOptions options;
    options.hint = sheets.kind == 0 ? "slots waxed" : "";
    options.takes_keyboard = appears;
    if (sheets.kind != 1)
        passing_field(kit, sheets.kind == 0 ? "in your words##text" : "the note##text", sheets.text, options);
    const bool enter = date_field(kit, sheets, state.saw.today(), appears && sheets.kind == 1);
    gap(kit, 6.0F);
    if (strong_button(kit, "Write it down##add", 170.0F) || enter) {
        const auto what = something_done(sheets);
        const auto date = typed_date(sheets.date, state.saw.today());
        if (!what) sheets.trouble = what.error().message;
        else if (!date) sheets.trouble = date.error().message;
        else finish(sheets, state.saw.write(*what, *date));
    }
    if (!sheets.trouble.empty()) marked(kit, sheets.trouble, Role::wrong);
    sheet_end(kit);
}

// ---- an entry ----

/// The strip goes back into the fields, to be written in the place of the wrong one.
void correct_test(MySawState& state, const saws::Entry& entry, Units units) {
    const saws::Strip& strip = std::get<saws::StripTest>(entry.what).strip;
    if (std::max(strip.fence_end.size(), strip.far_end.size()) > most_repeats) {
        state.sheets.trouble = fmt::format(
            "More than {} readings at one end do not fit into these fields, and none may be lost. As text: offsquare "
            "saw "
            "\"{}\" --correct {} --read …",
            most_repeats, state.saw.sled().name, entry.number);
        return;
    }
    StripDraft draft;
    const auto fill = [&](std::array<std::string, most_repeats>& texts, const std::vector<base::Typed>& typed) {
        for (std::size_t i = 0; i < std::min(texts.size(), typed.size()); ++i)
            texts.at(i) = field_text(typed[i], units);
    };
    fill(draft.fence_end, strip.fence_end);
    fill(draft.far_end, strip.far_end);
    if (strip.between) draft.between = field_text(*strip.between, units);
    if (strip.span) draft.span = field_text(*strip.span, units);
    draft.fell = strip.fell;
    draft.marked = strip.ends_marked;
    draft.brushed = strip.brushed;
    draft.date = entry.date;
    draft.corrects = entry.number;
    state.saw.correct(draft);
    state.sheets.open = MySheet::none;
}

void what_stood_there(Kit& kit, const MySawState& state, const saws::Entry& entry, Units units) {
    const saws::Entry* at = &entry;
    while (at->corrects) {
        at = saws::find_entry(state.saw.sled(), *at->corrects);
        if (at == nullptr) return;
        quiet(kit, fmt::format("Before it was corrected: {}", saws::line_of(at->what, units)));
    }
}

// ---- shims that were written down wrong ----

/// As it stands in a field.
std::string thickness_text(double mm, Units units) {
    const bool metric = units == Units::metric;
    return base::print_length(mm, metric ? base::LengthStyle::mm : base::LengthStyle::inch, metric ? 3 : 4, false);
}

bool at_left(const saws::ShimsMoved& moved) { return !moved.put_left.empty() || !moved.taken_left.empty(); }
bool at_right(const saws::ShimsMoved& moved) { return !moved.put_right.empty() || !moved.taken_right.empty(); }
bool at_both(const saws::ShimsMoved& moved) { return at_left(moved) && at_right(moved); }

void begin_moved(MySheets& sheets, const saws::ShimsMoved& moved, Units units) {
    sheets.moved.clear();
    for (const auto* pieces : {&moved.put_left, &moved.put_right, &moved.taken_left, &moved.taken_right}) {
        for (const saws::Piece& p : *pieces)
            sheets.moved.push_back({p.name, thickness_text(p.thickness_mm, units), "1"});
    }
    sheets.moved_end = at_right(moved) && !at_left(moved) ? 1 : 0;
}

void fields_of_moved(Kit& kit, MySheets& sheets, const saws::ShimsMoved& moved, Units units) {
    if (sheets.moved.empty()) return;
    const std::array<std::string, 2> ends{"left end", "right end"};
    const std::array<std::string, 2> both{"the ends as they are", "the two ends exchanged"};
    choice(kit, "moved end", at_both(moved) ? both : ends, sheets.moved_end, at_both(moved) ? 360.0F : 260.0F);
    FieldOptions options;
    options.width = 130.0F;
    for (std::size_t i = 0; i < sheets.moved.size(); ++i) {
        const std::string label = fmt::format("{}, how thick [{}]##{}", sheets.moved[i].name, unit_name(units), i);
        passing_field(kit, label.c_str(), sheets.moved[i].thickness, options);
    }
    quiet(kit, "A field that is emptied: that piece was not moved.");
}

/// What the fields say of it. A thickness that was not changed stays as exact as it was.
base::Result<saws::What> corrected(const saws::ShimsMoved& was, const MySheets& sheets, Units units) {
    saws::ShimsMoved now;
    const bool swaps = sheets.moved_end != (at_right(was) && !at_left(was) ? 1 : 0);
    std::size_t row = 0;
    const auto take_over = [&](const std::vector<saws::Piece>& from, std::vector<saws::Piece>& to) {
        base::Result<void> fine;
        for (const saws::Piece& p : from) {
            const std::string& text = sheets.moved.at(row++).thickness;
            if (text == thickness_text(p.thickness_mm, units)) to.push_back(p);
            else if (const auto typed = length_in_field(text, units); !typed) fine = tl::unexpected(typed.error());
            else if (*typed) to.push_back({p.name, (*typed)->value, saws::u_of_marked(**typed)});
        }
        return fine;
    };
    for (const auto& done : {take_over(was.put_left, swaps ? now.put_right : now.put_left),
                             take_over(was.put_right, swaps ? now.put_left : now.put_right),
                             take_over(was.taken_left, swaps ? now.taken_right : now.taken_left),
                             take_over(was.taken_right, swaps ? now.taken_left : now.taken_right)}) {
        if (!done) return tl::unexpected(done.error());
    }
    if (!at_left(now) && !at_right(now) && !sheets.moved.empty())
        return base::fail(base::Grade::usage, "Nothing is left of it: withdraw it instead.");
    return now;
}

void begin_entry(MySheets& sheets, const saws::Entry& entry, Units units) {
    sheets.date = saws::iso(entry.date);
    sheets.text.clear();
    sheets.moved.clear();
    if (const auto* moved = std::get_if<saws::ShimsMoved>(&entry.what)) begin_moved(sheets, *moved, units);
    if (const auto* note = std::get_if<saws::Remark>(&entry.what)) sheets.text = note->text;
    if (const auto* done = std::get_if<saws::PutRight>(&entry.what)) sheets.text = done->what;
}

saws::What with_text(saws::What what, const std::string& text) {
    if (auto* note = std::get_if<saws::Remark>(&what)) note->text = text;
    if (auto* done = std::get_if<saws::PutRight>(&what)) done->what = text;
    return what;
}

void entry(Kit& kit, Bench& bench, MySawState& state) {
    MySheets& sheets = state.sheets;
    const saws::Entry* e = sheets.entry ? saws::find_entry(state.saw.sled(), *sheets.entry) : nullptr;
    if (sheets.open == MySheet::entry && e == nullptr) sheets.open = MySheet::none;
    if (sheets.open == MySheet::entry && sheets.before != MySheet::entry) begin_entry(sheets, *e, bench.view.units);
    if (!my_sheet_begin(kit, state, MySheet::entry, "An entry of the log", 600.0F)) return;
    if (e == nullptr) return sheet_end(kit);
    const auto* shims = std::get_if<saws::ShimsMoved>(&e->what);
    const Units units = bench.view.units;
    heading(kit, fmt::format("{}, {}", saws::kind_of(e->what), saws::in_words(e->date, state.saw.today())));
    quiet(kit, fmt::format("Entry {}.", e->number));
    paragraph(kit, saws::line_of(e->what, units));
    if (e->written != e->date) quiet(kit, "Written " + saws::in_words(e->written, state.saw.today()) + ".");
    what_stood_there(kit, state, *e, units);
    gap(kit, 6.0F);
    const bool has_text =
        std::holds_alternative<saws::Remark>(e->what) || std::holds_alternative<saws::PutRight>(e->what);
    if (has_text) passing_field(kit, "in your words##text", sheets.text);
    if (shims != nullptr) fields_of_moved(kit, sheets, *shims, units);
    date_field(kit, sheets, state.saw.today());
    gap(kit, 8.0F);
    const bool test = std::holds_alternative<saws::StripTest>(e->what);
    if (test) {
        if (button(kit, "Correct its readings")) {
            correct_test(state, *e, units);
            return sheet_end(kit);
        }
        ImGui::SameLine(0.0F, kit.px(10.0F));
    }
    if (std::holds_alternative<saws::DrawerTyped>(e->what)) {
        if (button(kit, "Change the drawer")) open_sheet(state, MySheet::drawer);
        ImGui::SameLine(0.0F, kit.px(10.0F));
    }
    if (button(kit, has_text ? "Correct words and day" : shims != nullptr ? "Correct it" : "Correct the day")) {
        const auto date = typed_date(sheets.date, state.saw.today());
        const auto what = shims != nullptr ? corrected(*shims, sheets, units)
                                           : base::Result<saws::What>(with_text(e->what, sheets.text));
        if (!date) sheets.trouble = date.error().message;
        else if (!what) sheets.trouble = what.error().message;
        else finish(sheets, state.saw.write(*what, *date, e->number));
    }
    ImGui::SameLine(0.0F, kit.px(10.0F));
    if (button(kit, "Withdraw it")) finish(sheets, state.saw.write(saws::Withdrawn{}, e->date, e->number));
    quiet(kit, "What was written stays in the file, with what stands in its place.");
    if (!sheets.trouble.empty()) marked(kit, sheets.trouble, Role::wrong);
    sheet_end(kit);
}

// ---- another sled ----

void another(Kit& kit, MySawState& state) {
    MySheets& sheets = state.sheets;
    if (sheets.open == MySheet::another && sheets.before != MySheet::another) {
        sheets.name.clear();
        sheets.saw = state.saw.sled().saw;
    }
    if (!my_sheet_begin(kit, state, MySheet::another, "Another saw or sled", 560.0F)) return;
    const std::vector<saws::Listed> all = state.saw.listed();
    if (all.empty()) quiet(kit, "Nothing is kept yet. What you type is kept with the first entry.");
    if (!all.empty() &&
        scroll_begin(kit, "sleds", 0.0F, std::min(190.0F, 20.0F + 32.0F * static_cast<float>(all.size())))) {
        for (const saws::Listed& one : all) {
            if (!one.trouble.empty()) {
                marked(kit, one.trouble, Role::wrong);
                continue;
            }
            const bool this_one = state.saw.has_file() && one.name == state.saw.sled().name;
            if (list_row(kit, one.name.c_str(), one.saw, this_one)) finish(sheets, state.saw.switch_to(one.name));
        }
    }
    if (!all.empty()) scroll_end(kit);
    gap(kit, 6.0F);
    line(kit, "A new one, or another name for this one", Role::quiet, Face::label);
    FieldOptions options;
    options.width = 240.0F;
    options.hint = "the blue sled";
    options.takes_keyboard = ImGui::IsWindowAppearing();
    passing_field(kit, "its name##name", sheets.name, options);
    ImGui::SameLine(0.0F, kit.px(12.0F));
    options.hint = "if you like";
    options.takes_keyboard = false;
    text_field(kit, "the saw that it runs on##saw", sheets.saw, options);
    const bool enter = entered();
    gap(kit, 6.0F);
    if (button(kit, "Make a new one") || enter) {
        const auto made = state.saw.make(sheets.name, sheets.saw);
        state.takes_keyboard = made.has_value();
        finish(sheets, made);
    }
    ImGui::SameLine(0.0F, kit.px(10.0F));
    if (button(kit, "Call this one so")) finish(sheets, state.saw.rename(sheets.name, sheets.saw));
    ImGui::SameLine(0.0F, kit.px(10.0F));
    if (button(kit, "Delete this one", 0.0F, state.saw.has_file())) open_sheet(state, MySheet::remove);
    if (!sheets.trouble.empty()) marked(kit, sheets.trouble, Role::wrong);
    sheet_end(kit);
}

void remove(Kit& kit, MySawState& state) {
    if (!my_sheet_begin(kit, state, MySheet::remove, "Delete this sled?", 480.0F)) return;
    paragraph(kit, fmt::format("\"{}\" with its whole log, for ever: {} entries. It cannot be brought back.",
                               state.saw.sled().name, state.saw.sled().entries.size()));
    gap(kit, 8.0F);
    if (button(kit, "Keep it")) state.sheets.open = MySheet::none;
    ImGui::SameLine(0.0F, kit.px(10.0F));
    if (button(kit, "Delete it for ever")) finish(state.sheets, state.saw.remove());
    if (!state.sheets.trouble.empty()) marked(kit, state.sheets.trouble, Role::wrong);
    sheet_end(kit);
}

}  // namespace

void draw_my_log_sheets(Kit& kit, Bench& bench, MySawState& state) {
    day_of_test(kit, state);
    add(kit, state);
    entry(kit, bench, state);
    another(kit, state);
    remove(kit, state);
}

}  // namespace offsquare::gui
