// offsquare push: the sled pushed by hand through its slots.
#include <cmath>
#include <fmt/format.h>
#include <tuple>

#include "base/elementary.h"
#include "cli/request.h"
#include "cli/hand.h"
#include "cli/json.h"
#include "cli/verb.h"
#include "contact/live_pass.h"
#include "session/action.h"
#include "session/watch.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;
using base::Units;
using contact::PushedPass;
using contact::PushedPose;
using contact::Stuck;

namespace {

struct Asked {
    contact::HandPush hand;
    contact::Rub rub;
};

/// What stands in the scenario, and over it what was typed.
Result<Asked> asked_of(const Arguments& arguments, const shop::Feed& feed, Units units) {
    Asked asked;
    asked.rub = contact::rub_of(feed);
    auto hand = hand_of(arguments, feed, units);
    if (!hand) return tl::unexpected(hand.error());
    asked.hand = std::move(*hand);
    asked.hand.way = arguments.has("--pull-back") ? contact::Way::pull_back : contact::Way::push;
    if (auto r = take_number(arguments, "--base-drag", 0.1, asked.rub.base_n); !r) return tl::unexpected(r.error());
    if (auto r = take_number(arguments, "--blade-drag", 0.0, asked.rub.blade_n); !r) return tl::unexpected(r.error());
    if (const auto typed = arguments.one("--mu")) {
        const auto mu = base::parse_number(*typed);
        if (!mu || !(*mu >= 0.0) || !(*mu <= 2.0))
            return fail(Grade::usage,
                        fmt::format("--mu is a coefficient of friction from 0 to 2, found {}; for example --mu 0.25",
                                    in_quotes(*typed)));
        asked.rub.mu = *mu;
    }
    return asked;
}

std::string_view motion_of(const Asked& asked) { return asked.hand.way == contact::Way::push ? "push" : "pull"; }

std::string_view word_of_stuck(Stuck stuck) {
    switch (stuck) {
        case Stuck::no: return "free";
        case Stuck::does_not_fit: return "does-not-fit";
        case Stuck::jams: return "jams";
        case Stuck::too_weak: return "too-weak";
    }
    return "free";
}

Json finite_or_null(double value) { return std::isfinite(value) ? Json(number(value)) : Json(nullptr); }

/// The same hand on the live sled, and how far the two are apart.
struct Both {
    contact::LivePass live;
    contact::Apart difference;
};

void add_path(Json& to, const std::vector<PushedPose>& path, bool bound, double bound_at_mm) {
    to["path"] = Json::array();
    for (const PushedPose& p : path) {
        Json pose;
        pose["s_mm"] = number(p.s_mm);
        pose["x_mm"] = number(p.x_mm);
        pose["yaw_rad"] = number(p.yaw_rad);
        pose["push_n"] = number(p.push_n);
        to["path"].push_back(std::move(pose));
    }
    to["bound"] = bound;
    to["bound_at_mm"] = bound ? Json(number(bound_at_mm)) : Json(nullptr);
}

std::string as_json(const PushedPass& pass, const std::optional<Both>& both, std::uint64_t seed) {
    Json json = document(seed);
    add_path(json, pass.path, pass.stuck != Stuck::no, pass.stuck_at_mm);
    json["outcome"] = std::string(word_of_stuck(pass.stuck));
    // Where the runners did not even fit at the start there are no contacts to measure from.
    const bool no_contacts = pass.path.empty() && pass.stuck == Stuck::does_not_fit;
    json["margin"]["eccentricity_mm"] = no_contacts ? Json(nullptr) : Json(number(pass.at_worst.eccentricity_mm));
    json["margin"]["critical_mm"] = no_contacts ? Json(nullptr) : finite_or_null(pass.at_worst.critical_mm);
    json["push_needed_n"] = number(pass.push_needed_n);
    if (both) {
        add_path(json["live"], both->live.path, both->live.bound, both->live.bound_at_mm);
        json["live"]["push_needed_n"] = number(both->live.push_needed_n);
        json["difference"]["x_mm"] = number(both->difference.x_mm);
        json["difference"]["yaw_rad"] = number(both->difference.yaw_rad);
    }
    return printed(json);
}

/// To a hundredth of what play of 0.01 mm on a usual runner lets through; one form for a column. 0 has no sign.
std::string yaw_words(double yaw_rad, Units units) {
    const auto [count, unit, decimals] = units.angles == Units::Angles::mrad ? std::tuple{1000.0 * yaw_rad, "mrad", 4}
                                         : units == Units::metric
                                             ? std::tuple{1000.0 * base::tan_of(yaw_rad), "mm in 1 m", 4}
                                             : std::tuple{12000.0 * base::tan_of(yaw_rad), "thou in 12 in", 3};
    const std::string size = base::print_length(std::abs(count), base::LengthStyle::mm, decimals, false);
    const bool nought = size.find_first_of("123456789") == std::string::npos;
    return fmt::format("{}{} {}", count < 0.0 && !nought ? "−" : "", size, unit);
}

/// A dozen places of the path, the first and the last among them.
std::string path_lines(const PushedPass& pass, std::string_view motion, Units units) {
    std::vector<std::vector<std::string>> rows{{"fence at", "yaw", fmt::format("{} needed", motion), "at each wall"}};
    const std::size_t n = pass.path.size();
    const std::size_t shown = std::min<std::size_t>(n, 12);
    for (std::size_t k = 0; k < shown; ++k) {
        const PushedPose& p = pass.path[shown == 1 ? 0 : k * (n - 1) / (shown - 1)];
        rows.push_back({base::show_size(p.s_mm, units), yaw_words(p.yaw_rad, units), fmt::format("{:.1f} N", p.push_n),
                        fmt::format("{:.1f} N", p.wall_n)});
    }
    return columns(rows, 2, {0, 1, 2, 3});
}

std::string margin_line(const PushedPass& pass, Units units) {
    const PushedPose& p = pass.at_worst;
    if (pass.path.empty() && pass.stuck == Stuck::does_not_fit) return "";
    if (!std::isfinite(p.critical_mm)) return "Without friction at the walls nothing jams.";
    return fmt::format(
        "Nearest to jamming with the fence at {}: the hand is {} beside the middle of what guides the sled; at {} it "
        "would jam, however hard the push.",
        base::show_size(p.s_mm, units), base::show_size(std::abs(p.eccentricity_mm), units),
        base::show_size(p.critical_mm, units));
}

std::string verdict_line(const PushedPass& pass, const Asked& asked, Units units) {
    const std::string where = base::show_size(pass.stuck_at_mm, units);
    const std::string_view motion = motion_of(asked);
    switch (pass.stuck) {
        case Stuck::no: return fmt::format("It goes: {:.0f} N of {} at most.", pass.push_needed_n, motion);
        case Stuck::does_not_fit:
            return fmt::format("It binds with the fence at {}: there the runners are too tight in their slots.", where);
        case Stuck::jams:
            return fmt::format(
                "It jams with the fence at {}, however hard the {}: the hand is too far to one side for the length "
                "that is guided. Push nearer the middle, wax the runners, or guide the sled on more length.",
                where, motion);
        case Stuck::too_weak:
            return fmt::format(
                "It stalls with the fence at {}: there it needs {:.0f} N and the hand gives {:.0f} N. Push nearer the "
                "middle, or wax the runners.",
                where, pass.at_worst.push_n, asked.hand.force_n);
    }
    return "";
}

std::string both_line(const Both& both, Units units) {
    const std::string end = both.live.bound ? fmt::format("came to rest with the fence at {}",
                                                          base::show_size(both.live.bound_at_mm, units))
                                            : std::string("went through");
    if (both.live.path.empty()) return fmt::format("The live sled, with mass and in steps of time, {}.", end);
    return fmt::format(
        "The live sled, with mass and in steps of time, {}. Away from flips the two are at most {} apart, and {} in "
        "their turn.",
        end, base::show_small(both.difference.x_mm, units), yaw_words(both.difference.yaw_rad, units));
}

std::string as_text(const PushedPass& pass, const std::optional<Both>& both, const Asked& asked, const Request& request,
                    const Ink& ink) {
    const Units units = request.scenario.units;
    std::string text = ink.heading(fmt::format("{}: {} {}", printable(request.scenario.title),
                                               asked.hand.way == contact::Way::push ? "pushed" : "pulled back",
                                               session::beside_line(asked.hand.grips.front().x_mm, units))) +
                       "\n";
    for (std::size_t i = 1; i < asked.hand.grips.size(); ++i)
        text += fmt::format("From {} on, {}.\n", base::show_size(asked.hand.grips[i].from_mm, units),
                            session::beside_line(asked.hand.grips[i].x_mm, units));
    text += wrapped(fmt::format(
                        "Friction at the walls {:g}; the base drags with {:g} N, the blade with {:g} N while it cuts.",
                        asked.rub.mu, asked.rub.base_n, asked.rub.blade_n),
                    100) +
            "\n\n";
    if (!pass.path.empty()) text += path_lines(pass, motion_of(asked), units) + "\n";
    const std::string margin = margin_line(pass, units);
    if (!margin.empty()) text += wrapped(margin, 100) + "\n\n";
    if (both) text += wrapped(both_line(*both, units), 100) + "\n\n";
    if (pass.stuck != Stuck::no) text += "At a real saw: stop the blade before you free a sled that sticks.\n\n";
    const std::string verdict = wrapped(verdict_line(pass, asked, units), 100);
    return text + (pass.stuck == Stuck::no ? ink.good(verdict) : ink.bad(verdict)) + "\n";
}

}  // namespace

Result<Answer> push_verb_answer(const Arguments& arguments, const Door& door) {
    const auto request = request_of(arguments, door.in);
    if (!request) return tl::unexpected(request.error());
    const auto asked = asked_of(arguments, request->scenario.drawing.feed, request->scenario.units);
    if (!asked) return tl::unexpected(asked.error());
    const contact::PushRange range = contact::usual_pass(request->scenario.drawing);
    const PushedPass pass = session::watch_push(request->scenario, asked->hand, asked->rub, range);
    std::optional<Both> both;
    if (arguments.has("--both")) {
        both.emplace(Both{session::watch_live_push(request->scenario, asked->hand, asked->rub, range), {}});
        both->difference = contact::apart(pass, both->live, asked->hand);
    }
    return Answer{
        arguments.has("--json") ? as_json(pass, both, request->seed) : as_text(pass, both, *asked, *request, door.ink),
        request->warnings, pass.stuck == Stuck::no ? 0 : 1};
}

}  // namespace offsquare::cli
