#include "saws/curve.h"

#include <fmt/format.h>

#include "saws/history.h"
#include "session/findings.h"
#include "session/hunt_words.h"

namespace offsquare::saws {
namespace {

std::string label_of(const ShimsMoved& moved, base::Units units) {
    const double left = total_mm(moved.put_left) - total_mm(moved.taken_left);
    const double right = total_mm(moved.put_right) - total_mm(moved.taken_right);
    std::string text;
    for (const auto& [mm, end] : {std::pair{left, "left"}, {right, "right"}}) {
        if (mm == 0.0) continue;
        text += fmt::format("{}{} {} {}", text.empty() ? "" : ", ", mm > 0.0 ? "shim" : "shim out,",
                            base::show_small(mm > 0.0 ? mm : -mm, units), end);
    }
    return text.empty() ? "clamped again" : text;
}

std::string label_of(const Entry& e, base::Units units) {
    if (const auto* moved = std::get_if<ShimsMoved>(&e.what)) return label_of(*moved, units);
    if (const auto* done = std::get_if<PutRight>(&e.what)) {
        if (!done->what.empty()) return done->what;
        return std::string("put right: ") + std::string(session::name_of(*done->fault));
    }
    if (std::holds_alternative<FenceMoved>(e.what)) return "fence moved";
    if (const auto* made = std::get_if<CheckMade>(&e.what)) return std::string(measure::info(made->check).title);
    return "";
}

bool is_event(const Entry& e) {
    return std::holds_alternative<ShimsMoved>(e.what) || std::holds_alternative<PutRight>(e.what) ||
           std::holds_alternative<FenceMoved>(e.what);
}

}  // namespace

Curve curve_of(const Sled& sled, base::Units units) {
    Curve curve;
    Standing standing;
    for (const Entry* e : in_effect(sled)) {
        if (const auto* moved = std::get_if<ShimsMoved>(&e->what)) standing = moved_on(std::move(standing), *moved);
        const auto* test = std::get_if<StripTest>(&e->what);
        if (test != nullptr && is_strip(*e)) {
            const SetUp then = set_up_of(sled, e->date);
            CurvePoint p;
            p.entry = e->number;
            p.date = e->date;
            p.skew_rad = diagnose::skew_from_strip(strip_readings(test->strip, then));
            p.coverage95 = base::coverage(p.skew_rad);
            p.state = diagnose::state_of(p.coverage95, then.scenario.drawing.tolerance_rad);
            p.behind_left_mm = total_mm(standing.left);
            p.behind_right_mm = total_mm(standing.right);
            curve.points.push_back(std::move(p));
            curve.is_point.push_back(true);
        } else if (is_event(*e)) {
            curve.events.push_back({e->number, e->date, label_of(*e, units)});
            curve.is_point.push_back(false);
        }
    }
    curve.tolerance_rad = set_up_of(sled).scenario.drawing.tolerance_rad;
    return curve;
}

}  // namespace offsquare::saws
