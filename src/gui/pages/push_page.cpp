// The push page: the sled from above under the person's hand at the left, what to do and what it feels like at the
// right.
#include "gui/pages/push_page.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "gui/kit/input.h"
#include "gui/pages/caution_line.h"
#include "gui/pages/layout.h"
#include "gui/pages/paint.h"

namespace offsquare::gui {

using namespace layout;

namespace {

constexpr float push_now_height = 218.0F;
constexpr float hand_height = 162.0F;
constexpr double usual_speed = 120.0;  ///< mm/s, of a hand that feeds a cut
constexpr double weakest_n = 10.0;
constexpr double strongest_n = 300.0;
constexpr double fastest = 400.0;  ///< mm/s, of a hand on the mouse

// ---- what the hand does ----

/// The hand follows the mouse along the slots: the farther it is from where it took hold, the faster.
void drag_sled(Bench& bench, PushState& state, const picture::Fit& fit, ImVec2 corner, float scale) {
    Pushing& p = state.pushing;
    const ImVec2 mouse = ImGui::GetMousePos();
    const base::Vec2 at = fit.mm({(mouse.x - corner.x) / scale, (mouse.y - corner.y) / scale});
    const double s = p.state().pose.s_mm;
    if (ImGui::IsItemActivated()) {
        state.grab_mm = at.y - s;
    }
    constexpr double per_second = 6.0;
    p.holds = true;
    p.speed_mm_s = std::clamp(per_second * (at.y - state.grab_mm - s), -fastest, fastest);
    p.at_mm = std::clamp(std::round(at.x), -p.farthest_hand_mm(), p.farthest_hand_mm());
    bench.view.playing = false;
}

void draw_sled(Kit& kit, Bench& bench, PushState& state, const Area& area) {
    CardOptions card = card_in(area, false);
    card.padding = {0.0F, 0.0F};
    if (card_begin(kit, "The sled from above", card)) {
        constexpr float small = 560.0F;  // narrower than this, the note and the names would run into each other
        picture::ViewOptions options = bench.options();
        options.few_words = area.w < small;
        const picture::Picture picture = picture::push_view(bench.seen(), state.pushing.shown(), options);
        const picture::Fit fit = picture::fit(picture, area.w, area.h, 14.0);
        const ImVec2 lo = ImGui::GetWindowPos();
        const ImVec2 hi{lo.x + kit.px(area.w), lo.y + kit.px(area.h)};
        ImDrawList& list = *ImGui::GetWindowDrawList();
        list.PushClipRect({lo.x + 1.0F, lo.y + 1.0F}, {hi.x - 1.0F, hi.y - 1.0F}, true);
        paint(kit, list, picture, fit, lo);
        list.PopClipRect();
        ImGui::SetCursorScreenPos({lo.x + kit.px(8.0F), lo.y + kit.px(8.0F)});
        hot_area(kit, "Take hold of the sled", {hi.x - lo.x - kit.px(16.0F), hi.y - lo.y - kit.px(16.0F)});
        if (ImGui::IsItemHovered()) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        if (ImGui::IsItemActive() && ImGui::IsMouseDown(ImGuiMouseButton_Left))
            drag_sled(bench, state, fit, lo, kit.theme.scale);
        kit.record.add({Kind::other, picture.title, "", lo, hi});
    }
    card_end(kit);
}

void keys_of_hand(Pushing& p) {
    if (held(Key::f) != held(Key::g)) p.holds = true, p.speed_mm_s = held(Key::f) ? usual_speed : -usual_speed;
    constexpr double step_mm = 10.0;
    if (typed(U',')) p.at_mm = std::max(-p.farthest_hand_mm(), p.at_mm - step_mm);
    if (typed(U'.')) p.at_mm = std::min(p.farthest_hand_mm(), p.at_mm + step_mm);
    constexpr double step_n = 10.0;
    if (typed(U'<')) p.force_n = std::max(weakest_n, p.force_n - step_n);
    if (typed(U'>')) p.force_n = std::min(strongest_n, p.force_n + step_n);
}

/// A button that pushes as long as it is held.
void hold_button(Kit& kit, Pushing& p, const char* label, double speed, float width) {
    button(kit, label, width);
    if (ImGui::IsItemActive()) p.holds = true, p.speed_mm_s = speed;
}

// ---- what is said ----

std::string side_words(double x_mm, base::Units units) {
    if (std::abs(x_mm) < 0.5) return "on the line";
    return fmt::format("{} {}", base::show_size(std::abs(x_mm), units), x_mm > 0.0 ? "right" : "left");
}

/// A distance without its sign, to the millimetre: a hand is no finer.
std::string whole(double mm, base::Units units) { return base::show_size(std::round(std::abs(mm)), units); }

struct Told {
    std::string heading;
    std::string why;
    Role tone = Role::quiet;
};

Told told(const Pushing& p, base::Units units) {
    if (!p.state().fits || (p.stuck() && p.now().stuck == contact::Stuck::does_not_fit))
        return {"The runners do not fit",
                "Here or just ahead the slots are too narrow for the runners. Pull back (at a real saw with the blade "
                "stopped), and look for what is wrong in the notebook.",
                Role::wrong};
    if (p.stuck() && p.now().stuck == contact::Stuck::jams) {
        return {"It jams",
                fmt::format(
                    "No push is enough here: from {} beside the middle of what guides the walls hold the sled, and "
                    "the hand is at {}. Move it at least {} to the {}, or pull back (at a real saw with the blade "
                    "stopped).",
                    whole(p.now().pose.critical_mm, units), whole(p.now().pose.eccentricity_mm, units),
                    base::show_size(p.to_come_free_mm(), units), p.now().pose.eccentricity_mm > 0.0 ? "left" : "right"),
                Role::wrong};
    }
    if (p.stuck())
        return {"The hand is too weak",
                fmt::format("It needs {:.0f} N here, and the hand gives {:.0f} N at most. Give more, or move the hand "
                            "to the {}.",
                            std::ceil(p.now().pose.push_n), p.force_n,
                            p.now().pose.eccentricity_mm > 0.0 ? "left" : "right"),
                Role::wrong};
    if (p.through())
        return {"Through", "Five cuts can be made with this very push. The corner is then measured like any other.",
                Role::good};
    if (p.test())
        return {"Push on until the fence has passed the blade",
                "Move the hand sideways as you go, and see the runners change walls.", Role::quiet};
    if (!p.has_play())
        return {
            "This sled has no play",
            fmt::format("A runner fills its slot, so no hand can turn it: every push gives the same corner. With {} "
                        "on each side, a usual fit, it turns; Ctrl Z takes that back.",
                        base::show_small(Pushing::usual_play_mm(), units)),
            Role::quiet};
    return {"Take hold of the sled and push",
            "Press the mouse anywhere on the picture and drag up the page, or hold F. Where you take hold decides how "
            "the sled turns.",
            Role::quiet};
}

void draw_now_card(Kit& kit, Bench& bench, PushState& state, const Area& area) {
    Pushing& p = state.pushing;
    if (card_begin(kit, "Now##push", card_in(area))) {
        const Told t = told(p, bench.view.units);
        heading(kit, t.heading);
        gap(kit, 2.0F);
        if (t.tone == Role::quiet) quiet(kit, t.why);
        else marked(kit, t.why, t.tone);
        gap(kit, 6.0F);
        const auto test = p.test();
        if (state.for_notebook) {
            // Whoever came to feel it goes back; the push itself can be cut from the saw's own page.
            if (strong_button(kit, "Back to the notebook##push", 176.0F, "or press N", has_pushed(state)))
                state.wants_back = true;
        } else if (strong_button(kit, "Cut five like this", 176.0F, {}, test.has_value()) && test) {
            p.open = false;
            bench.act(*test);
            return card_end(kit);
        }
        ImGui::SameLine(0.0F, kit.px(12.0F));
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() + kit.px(7.0F));
        if (!p.has_play()) {
            if (button(kit, "Give it play##push", 120.0F)) bench.act(Pushing::usual_play());
        } else if (button(kit, "Start again##push", 104.0F)) p.start_again(bench);
    }
    card_end(kit);
}

void draw_hand_card(Kit& kit, Bench& bench, PushState& state, const Area& area) {
    Pushing& p = state.pushing;
    if (card_begin(kit, "The hand", card_in(area))) {
        slider(kit, "Beside the blade##hand", p.at_mm, -p.farthest_hand_mm(), p.farthest_hand_mm(), 5.0,
               side_words(p.at_mm, bench.view.units));
        slider(kit, "Most push##hand", p.force_n, weakest_n, strongest_n, 5.0, fmt::format("{:.0f} N", p.force_n));
        gap(kit, 4.0F);
        hold_button(kit, p, "Hold: push (F)", usual_speed, 164.0F);
        ImGui::SameLine(0.0F, kit.px(8.0F));
        hold_button(kit, p, "Hold: pull back (G)", -usual_speed, 164.0F);
    }
    card_end(kit);
}

/// The share of the way to jamming, as a bar.
void margin_bar(Kit& kit, double share) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = kit.px(10.0F);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float full = static_cast<float>(std::clamp(share, 0.0, 1.0));
    constexpr double near_jamming = 0.8;
    list.AddRectFilled(at, {at.x + width, at.y + height}, kit.colour(Role::hairline), height / 2.0F);
    if (full > 0.02F)
        list.AddRectFilled(at, {at.x + width * full, at.y + height},
                           kit.colour(share > near_jamming ? Role::wrong : Role::read), height / 2.0F);
    ImGui::Dummy({width, height});
}

void draw_feel_card(Kit& kit, Bench& bench, PushState& state, const Area& area) {
    const Pushing& p = state.pushing;
    const base::Units units = bench.view.units;
    if (card_begin(kit, "By statics, here", card_in(area))) {
        const session::PushNow& now = p.now();
        const bool fits = now.stuck != contact::Stuck::does_not_fit;
        const bool jams = now.stuck == contact::Stuck::jams;
        key_value(kit, "Fence from the blade's centre", base::show_size(std::round(p.state().pose.s_mm), units));
        key_value(kit, "Turned in its play", fits ? base::show_angle_short(now.pose.yaw_rad, units) : "–");
        key_value(kit, "Push needed",
                  !fits  ? "–"
                  : jams ? "none is enough"
                         : fmt::format("{:.0f} N", now.pose.push_n),
                  jams ? Role::wrong : Role::text);
        key_value(kit, "Each wall presses with", !fits || jams ? "–" : fmt::format("{:.0f} N", now.pose.wall_n));
        line(kit, "Way to jamming", Role::quiet, Face::label);
        margin_bar(kit, fits ? now.pose.share : 1.0);
        if (fits && std::isfinite(now.pose.critical_mm)) {
            quiet(kit, fmt::format("{} beside the middle of what guides; at {} it jams.",
                                   whole(now.pose.eccentricity_mm, units), whole(now.pose.critical_mm, units)));
        }
    }
    card_end(kit);
}

void right_column(Kit& kit, Bench& bench, PushState& state, const Area& area) {
    draw_now_card(kit, bench, state, {area.x, area.y, area.w, push_now_height});
    if (!state.pushing.open) return;
    float y = area.y + push_now_height + between;
    draw_hand_card(kit, bench, state, {area.x, y, area.w, hand_height});
    y += hand_height + between;
    draw_feel_card(kit, bench, state, {area.x, y, area.w, area.y + area.h - y - caution_height - between});
    draw_caution_line(kit, bench, {area.x, area.y + area.h - caution_height, area.w, caution_height});
}

}  // namespace

bool has_pushed(const PushState& state) { return state.pushing.test().has_value() || state.pushing.stuck(); }

void draw_push(Kit& kit, Bench& bench, PushState& state, float width, float height) {
    Pushing& p = state.pushing;
    p.follow(bench);
    p.holds = false;
    p.speed_mm_s = 0.0;
    keys_of_hand(p);
    const bool beside = width >= narrow;
    const float h = std::max(least_height, height);
    if (beside) {
        const float left = width - side - 2.0F * edge - between - 4.0F;
        draw_sled(kit, bench, state, {edge, top, left, h - top - edge});
        right_column(kit, bench, state, {edge + left + edge, top, side, h - top - edge});
    } else {
        const float w = width - 2.0F * edge - 10.0F;
        const float table = std::max(300.0F, height - top_of_two_rows - push_now_height - 2.0F * between);
        draw_sled(kit, bench, state, {edge, top_of_two_rows, w, table});
        constexpr float column = 760.0F;
        right_column(kit, bench, state, {edge, top_of_two_rows + table + between, w, column});
    }
    p.tick(static_cast<double>(ImGui::GetIO().DeltaTime));
    if (has_pushed(state)) bench.take_hold();
}

}  // namespace offsquare::gui
