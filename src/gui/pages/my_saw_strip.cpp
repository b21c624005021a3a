// The strip that is being typed: each field stands where the caliper stands.
#include <utility>

#include <fmt/format.h>

#include "gui/kit/input.h"
#include "gui/pages/my_saw_parts.h"
#include "gui/pages/paint.h"
#include "picture/strip_view.h"

namespace offsquare::gui {
namespace {

constexpr float strip_head = 50.0F;    ///< of the card, above the pictures
constexpr float inset = 20.0F;         ///< of the card
constexpr float fence_panel = 116.0F;  ///< its height below the strip
constexpr float field_height = 36.0F;
constexpr float label_height = 18.0F;
constexpr float first_width = 104.0F, again_width = 84.0F, field_gap = 7.0F;

std::string text_of_day(const MySaw& saw) {
    const saws::Date date = saw.date_of_draft();
    return date == saw.today() ? std::string("today") : saws::in_words(date, saw.today());
}

void title(Kit& kit, MySawState& state, const Area& area, base::Units units) {
    MySaw& saw = state.saw;
    ImGui::SetCursorPos({kit.px(inset), kit.px(16.0F)});
    const std::string what = saw.draft.corrects ? "Correcting" : fmt::format("Test {}", saw.tests() + 1);
    line(kit, what + ", " + text_of_day(saw), Role::text, Face::title, 240.0F);
    ImGui::SameLine(0.0F, kit.px(10.0F));
    ImGui::SetCursorPosY(kit.px(14.5F));
    if (link(kit, "another day##date")) open_sheet(state, MySheet::date);
    if (saw.draft.corrects) {
        ImGui::SameLine(0.0F, kit.px(12.0F));
        ImGui::SetCursorPosY(kit.px(14.5F));
        if (link(kit, "Cancel##correcting")) saw.give_up_correction();
        tooltip(kit, "The entry stays as it is (Escape)");
    }
    const std::string stands = saws::words_of(saw.standing(), units, saw.today());
    const std::string behind = stands == "nothing" ? "nothing behind the fence" : stands;
    const ImVec2 size = paragraph_size(kit, behind, Face::small, 2000.0F);
    const float room = area.w - 2.0F * inset - 260.0F;
    const float wide = size.x / kit.theme.scale + 2.0F;
    if (wide > room) return;  // it stands beneath the fence, too
    ImGui::SetCursorPos({kit.px(area.w - inset - wide), kit.px(19.0F)});
    line(kit, behind, Role::quiet, Face::small, wide);
}

/// A patch of the ground's colour, on which a picture lies.
ImVec2 panel(Kit& kit, const Area& at) {
    const ImVec2 card = ImGui::GetWindowPos();
    const ImVec2 lo{card.x + kit.px(at.x), card.y + kit.px(at.y) - ImGui::GetScrollY()};
    ImGui::GetWindowDrawList()->AddRectFilled(lo, {lo.x + kit.px(at.w), lo.y + kit.px(at.h)},
                                              kit.colour(Role::ground, 0.6F), kit.px(6.0F));
    return lo;
}

void paint_here(Kit& kit, const picture::Picture& drawing, ImVec2 corner, const Area& at) {
    paint(kit, *ImGui::GetWindowDrawList(), drawing, {1.0, 0.0, 0.0}, corner, &kit.record);
    kit.record.add({.kind = Kind::other,
                    .label = drawing.title,
                    .value = {},
                    .lo = corner,
                    .hi = {corner.x + kit.px(at.w), corner.y + kit.px(at.h)}});
}

/// A field at a place of the card, its words above it. True when Enter left it.
bool reading_field(Kit& kit, MySawState& state, const char* label, std::string& text, float x, float middle_y, float w,
                   base::Units units, const std::string& hint = {}, bool takes_keyboard = false) {
    ImGui::SetCursorPos({kit.px(x), kit.px(middle_y - 0.5F * field_height - label_height)});
    FieldOptions options;
    options.width = w;
    options.reading = true;
    options.hint = hint;
    options.takes_keyboard = takes_keyboard;
    const std::string trouble = hand_at_rest(state) ? trouble_with(text, units) : std::string();
    const bool bad = !trouble.empty();
    // What is wrong stands in the card of the answer: beneath the field there is no room for it.
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {kit.px(4.0F), kit.px(3.0F)});
    text_field(kit, label, text, options);
    const bool enter = entered();
    ImGui::PopStyleVar();
    if (bad) {
        const ImVec2 hi = ImGui::GetItemRectMax();
        const ImVec2 lo{ImGui::GetItemRectMin().x, hi.y - kit.px(field_height)};
        ImGui::GetWindowDrawList()->AddRect(lo, {lo.x + kit.px(w), hi.y}, kit.colour(Role::wrong), kit.px(7.0F), 0,
                                            kit.px(2.0F));
        tooltip(kit, trouble);
    }
    return enter;
}

/// One reading and, beside it, more of them: each next one stands there once the one before it is typed.
void fields_of_end(Kit& kit, MySawState& state, const char* name, std::array<std::string, most_repeats>& texts, float x,
                   float middle_y, float right, base::Units units, bool takes_keyboard) {
    float at = x;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        if (i > 1 && texts.at(i - 1).empty() && texts.at(i).empty()) break;
        const float w = i == 0 ? first_width : again_width;
        if (at + w > right) break;
        const std::string label = i == 0   ? fmt::format("{} [{}]###{}", name, unit_name(units), name)
                                  : i == 1 ? fmt::format("again, if you like##{}", name)
                                           : fmt::format("and again##{}", name);
        if (reading_field(kit, state, label.c_str(), texts.at(i), at, middle_y, w, units, {}, takes_keyboard && i == 0))
            kit.tab_order.go_on();
        at += w + field_gap + (i == 1 ? 18.0F : 0.0F);
    }
}

void small_choice(Kit& kit, const char* id, const char* words, std::array<std::string, 2> names, int& chosen, float x,
                  float y, float width) {
    ImGui::SetCursorPos({kit.px(x), kit.px(y)});
    ImGui::BeginGroup();
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {kit.px(4.0F), kit.px(3.0F)});
    line(kit, words, Role::quiet, Face::note, width + 40.0F);
    choice(kit, id, names, chosen, width);
    ImGui::PopStyleVar();
    ImGui::EndGroup();
}

/// True once: this place is where the keyboard goes.
bool goes_to(MySawState& state, MyPlace place) {
    if (state.goes_to != place) return false;
    state.goes_to = MyPlace::none;
    return true;
}

bool only_the_side_is_missing(const MySaw& saw) {
    const saws::Strip& s = saw.strip();
    return !s.fell && !s.fence_end.empty() && !s.far_end.empty() && s.between && s.span;
}

/// Around the choice that was drawn last.
void mark_as_wanted(Kit& kit, const char* what, float width) {
    const ImVec2 hi = ImGui::GetItemRectMax(), low{ImGui::GetItemRectMin().x, hi.y - kit.px(32.0F)};
    const ImVec2 end{low.x + kit.px(width), hi.y};
    ImGui::GetWindowDrawList()->AddRect(low, end, kit.colour(Role::read), kit.px(8.0F), 0, kit.px(2.0F));
    kit.record.add({.kind = Kind::other, .label = what, .value = {}, .lo = low, .hi = end});
}

/// After the last field: the first thing that is still missing, or what is done with the strip.
MyPlace after_the_span(const MySaw& saw) {
    const saws::Strip& s = saw.strip();
    if (s.far_end.empty()) return MyPlace::far_end;
    if (!s.between) return MyPlace::between;
    if (s.fence_end.empty()) return MyPlace::fence_end;
    return s.fell ? MyPlace::button : MyPlace::side;
}

void questions_beside_strip(Kit& kit, MySawState& state, const Area& at, float room) {
    StripDraft& draft = state.saw.draft;
    const float width = std::clamp(room - 16.0F, 120.0F, 170.0F);
    const float x = at.x + std::max(8.0F, room - width - 60.0F);
    int fell = draft.fell ? (*draft.fell == shop::Side::left ? 0 : 1) : -1;
    if (fell < 0 && goes_to(state, MyPlace::side)) kit.tab_order.choose_next();
    small_choice(kit, "fell", "the strip fell on the", {"left", "right"}, fell, x, at.y + 20.0F, width);
    if (fell >= 0) draft.fell = fell == 0 ? shop::Side::left : shop::Side::right;
    else if (only_the_side_is_missing(state.saw)) mark_as_wanted(kit, "the side where the strip fell is wanted", width);
    int marked = draft.marked ? (*draft.marked ? 0 : 1) : -1;
    small_choice(kit, "marked", "its end at the fence", {"marked", "unsure"}, marked, x, at.y + at.h - 92.0F, width);
    if (marked >= 0) draft.marked = marked == 0;
    ImGui::SetCursorPos({kit.px(x), kit.px(at.y + 84.0F)});
    check(kit, "fence brushed##strip", draft.brushed);
    tooltip(kit, "The fence was brushed before each cut: then no sawdust has turned the board");
}

std::optional<double> mean_of(const std::vector<base::Typed>& all) {
    if (all.empty()) return std::nullopt;
    double sum = 0.0;
    for (const base::Typed& one : all) sum += one.value;
    return sum / static_cast<double>(all.size());
}

/// How much room there is left of the strip.
float strip_panel(Kit& kit, MySawState& state, const Area& at, base::Units units) {
    MySaw& saw = state.saw;
    const saws::Strip& strip = saw.strip();
    picture::StripShown shown{mean_of(strip.fence_end), mean_of(strip.far_end), std::nullopt, strip.fell};
    if (strip.between) shown.between_mm = strip.between->value;
    const picture::StripView view = picture::strip_view(shown, static_cast<double>(at.w), static_cast<double>(at.h));
    const ImVec2 corner = panel(kit, at);
    paint_here(kit, view.picture, corner, at);
    const auto y = [&](double page) { return at.y + static_cast<float>(page); };
    const float x = at.x + static_cast<float>(view.fields_left);
    const float right = at.x + at.w + 6.0F;
    StripDraft& draft = saw.draft;
    // A sheet that is still closing would take it back.
    const bool takes = state.takes_keyboard && !a_popup_is_open();
    if (takes) state.takes_keyboard = false;
    const bool to_far = goes_to(state, MyPlace::far_end), to_between = goes_to(state, MyPlace::between),
               to_fence = goes_to(state, MyPlace::fence_end);
    fields_of_end(kit, state, "far end", draft.far_end, x, y(view.far_y), right, units, takes || to_far);
    const std::string between = fmt::format("between the two places [{}]###between", unit_name(units));
    if (reading_field(kit, state, between.c_str(), draft.between, x, y(view.between_y), 130.0F, units, {}, to_between))
        kit.tab_order.go_on();
    fields_of_end(kit, state, "fence end", draft.fence_end, x, y(view.fence_y), right, units, to_fence);
    return static_cast<float>(view.left_room);
}

/// A value that seldom changes, with what it is; pressing it opens where it is typed.
void seldom(Kit& kit, MySawState& state, const std::string& what, const std::string& value, const char* id,
            MySheet sheet) {
    if (link(kit, fmt::format("{}: {}##{}", what, value, id).c_str(), Role::text)) open_sheet(state, sheet);
}

std::string caliper_words(const MySaw& saw, base::Units units) {
    if (saw.set_up().common_caliper) return "a common one";
    const shop::Caliper& c = saw.set_up().scenario.drawing.caliper;
    return fmt::format("{}, {}", c.name, base::show_reading(c.step_mm, units));
}

void seldom_row(Kit& kit, MySawState& state, base::Units units, bool below_each_other, float room_px) {
    const std::string caliper = caliper_words(state.saw, units);
    const std::string tolerance = base::show_angle_short(state.saw.set_up().scenario.drawing.tolerance_rad, units);
    // Nearer to each other where the names are long.
    float words = 0.0F;
    for (const std::string& one :
         {"caliper: " + caliper, "square enough: " + tolerance, std::string("more sizes"), std::string("my drawer")})
        words += paragraph_size(kit, one, Face::small, 2000.0F).x;
    const float air = std::clamp((room_px - words) / 3.0F, kit.px(6.0F), kit.px(24.0F));
    seldom(kit, state, "caliper", caliper, "caliper", MySheet::sizes);
    if (!below_each_other) ImGui::SameLine(0.0F, air);
    seldom(kit, state, "square enough", tolerance, "tolerance", MySheet::sizes);
    if (!below_each_other) ImGui::SameLine(0.0F, air);
    if (link(kit, "more sizes##sizes", Role::quiet)) open_sheet(state, MySheet::sizes);
    ImGui::SameLine(0.0F, air);
    if (link(kit, "my drawer##pieces", Role::quiet)) open_sheet(state, MySheet::drawer);
}

void fence_panel_at(Kit& kit, MySawState& state, const Area& at, base::Units units, float fields_left, bool upright) {
    MySaw& saw = state.saw;
    picture::FenceShown shown;
    shown.behind_left_mm = saws::total_mm(saw.standing().left);
    shown.behind_right_mm = saws::total_mm(saw.standing().right);
    if (saw.asks_for_shim()) shown.at = saw.answer()->shim->at;
    shown.units = units;
    const Area picture{at.x, at.y, upright ? at.w : fields_left - at.x - 16.0F, 88.0F};
    const ImVec2 corner = panel(kit, at);
    paint_here(kit, picture::fence_view(shown, static_cast<double>(picture.w), 88.0).picture, corner, picture);
    const std::string label = fmt::format("between the shim points [{}]###span", unit_name(units));
    const std::string before =
        saw.draft.span.empty() && saw.strip().span ? field_text(*saw.strip().span, units) : std::string();
    const float x = upright ? at.x + 18.0F : fields_left;
    const float middle = upright ? at.y + 136.0F : at.y + 46.0F;
    if (reading_field(kit, state, label.c_str(), saw.draft.span, x, middle, 130.0F, units, before))
        state.goes_to = after_the_span(saw);
}

void seldom_row_at(Kit& kit, MySawState& state, const Area& at, base::Units units, bool upright) {
    ImGui::SetCursorPos({kit.px(at.x + 18.0F), kit.px(upright ? at.y + 164.0F : at.y + at.h - 26.0F)});
    ImGui::BeginGroup();
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {kit.px(4.0F), kit.px(2.0F)});
    seldom_row(kit, state, units, upright, kit.px(at.w - 2.0F * 18.0F));
    ImGui::PopStyleVar();
    ImGui::EndGroup();
}

}  // namespace

bool hand_at_rest(const MySawState& state) {
    constexpr double moment_s = 0.7;
    return state.rest_s > moment_s || !text_field_active();
}

void draw_my_strip(Kit& kit, Bench& bench, MySawState& state, const Area& area) {
    if (card_begin(kit, "Strip##mine", card_in(area, false))) {
        const base::Units units = bench.view.units;
        title(kit, state, area, units);
        const float width = area.w - 2.0F * inset;
        const float height = area.h - strip_head - 16.0F;
        constexpr float beside = 292.0F, between = 12.0F, least = 440.0F;
        const bool upright = height < 330.0F && width > least + beside + between;
        const Area strip{inset, strip_head, upright ? width - beside - between : width,
                         upright ? height : height - fence_panel - between};
        const Area fence = upright ? Area{inset + width - beside, strip_head, beside, height}
                                   : Area{inset, strip_head + strip.h + between, width, fence_panel};
        const picture::StripView bare =
            picture::strip_view({}, static_cast<double>(strip.w), static_cast<double>(strip.h));
        const float left_room = strip_panel(kit, state, strip, units);
        fence_panel_at(kit, state, fence, units, inset + static_cast<float>(bare.fields_left), upright);
        questions_beside_strip(kit, state, strip, left_room);
        seldom_row_at(kit, state, fence, units, upright);
    }
    card_end(kit);
}

}  // namespace offsquare::gui
