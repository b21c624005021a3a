// offsquare shim: a person's own readings from a real saw.
#include <cmath>
#include <fmt/format.h>

#include "cli/insist.h"
#include "cli/json.h"
#include "cli/report.h"
#include "cli/request.h"
#include "cli/verb.h"
#include "diagnose/five_cut.h"
#include "saws/strip_shim.h"
#include "session/slips.h"
#include "session/story.h"
#include "shim/propose.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;
using base::Units;

namespace {

struct Readings {
    diagnose::StripReadings strip;
    session::TypedStrip typed;  ///< the same as it was typed
    double span_mm = 0.0;
    Units units = Units::metric;
    bool u_given = false;
};

using Found = saws::StripShim;

base::LengthUnit unit_of(Units units) { return units == Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch; }

/// Whether it would be another length in the other system: no unit was typed.
bool is_bare(const std::string& typed) {
    const auto in_mm = base::parse_length(typed, base::LengthUnit::mm);
    const auto in_inches = base::parse_length(typed, base::LengthUnit::inch);
    return in_mm && in_inches && in_mm->value != in_inches->value;
}

Result<session::TypedLength> positive_length(const Arguments& arguments, const std::string& name, Units units) {
    const auto typed = arguments.one(name);
    if (!typed) {
        return fail(Grade::usage, fmt::format("shim needs {}; for example: offsquare shim --fence-end 12.34mm "
                                              "--far-end 12.10mm --length 305mm --span 500mm",
                                              name));
    }
    auto length = base::parse_length(*typed, unit_of(units));
    if (!length) return fail(Grade::usage, fmt::format("{}: {}", name, length.error().message));
    if (!(length->value > 0.0))
        return fail(Grade::usage, fmt::format("{} is greater than zero, found {}", name, in_quotes(*typed)));
    return session::TypedLength{name, *length, is_bare(*typed)};
}

Result<double> u_of_width(const Arguments& arguments, const base::Typed& width, Units units) {
    if (!arguments.has("--u-width")) return session::u_of_common_caliper(width.step);
    const auto u = positive_length(arguments, "--u-width", units);
    if (!u) return tl::unexpected(u.error());
    return u->typed.value;
}

Result<base::Uncertain> u_and_width_of(const Arguments& arguments, const session::TypedLength& width, Units units) {
    const auto u = u_of_width(arguments, width.typed, units);
    if (!u) return tl::unexpected(u.error());
    return base::Uncertain{width.typed.value, *u};
}

Result<session::TypedStrip> typed_strip(const Arguments& arguments, Units units) {
    session::TypedStrip strip;
    strip.units_said = arguments.has("--units");
    for (auto& [name, length] : {std::pair{"--fence-end", &strip.fence_end},
                                 {"--far-end", &strip.far_end},
                                 {"--length", &strip.length},
                                 {"--span", &strip.span}}) {
        auto typed = positive_length(arguments, name, units);
        if (!typed) return tl::unexpected(typed.error());
        *length = std::move(*typed);
    }
    return strip;
}

bool any_inches(const session::TypedStrip& s) {
    return s.fence_end.typed.inches || s.far_end.typed.inches || s.length.typed.inches || s.span.typed.inches;
}

Result<std::string> word_or(const Arguments& arguments, const std::string& name,
                            const std::vector<std::string>& allowed) {
    const auto typed = arguments.one(name);
    return typed ? word_of(name, *typed, allowed) : Result<std::string>(allowed.front());
}

Result<Readings> readings_of(const Arguments& arguments) {
    Readings r;
    const auto units = word_or(arguments, "--units", {"mm", "inch"});
    if (!units) return tl::unexpected(units.error());
    const auto side = word_or(arguments, "--side", {"right", "left"});
    if (!side) return tl::unexpected(side.error());
    r.units = *units == "mm" ? Units::metric : Units::imperial;
    r.strip.side = *side == "left" ? shop::Side::left : shop::Side::right;
    r.u_given = arguments.has("--u-width");
    auto typed = typed_strip(arguments, r.units);
    if (!typed) return tl::unexpected(typed.error());
    r.typed = std::move(*typed);
    const auto fence_end = u_and_width_of(arguments, r.typed.fence_end, r.units);
    if (!fence_end) return tl::unexpected(fence_end.error());
    const auto far_end = u_and_width_of(arguments, r.typed.far_end, r.units);
    if (!far_end) return tl::unexpected(far_end.error());
    r.strip.fence_end_mm = *fence_end;
    r.strip.far_end_mm = *far_end;
    r.strip.between_mm = {r.typed.length.typed.value, base::u_of_step(r.typed.length.typed.step)};
    r.span_mm = r.typed.span.typed.value;
    // Who types inches thinks in inches.
    const bool inches = !arguments.has("--units") && any_inches(r.typed);
    const auto shown = units_of(arguments, inches ? Units::imperial : r.units.system);
    if (!shown) return tl::unexpected(shown.error());
    r.units = *shown;
    return r;
}

std::string as_json(const Readings& r, const Found& f) {
    Json json;
    json["schema_version"] = schema_version;
    json["fence_skew_rad"] = number(f.skew_rad.value);
    json["shim_mm"] = number(f.shim_mm.value);
    json["at"] = std::string(shim::name_of(f.at));
    json["u_shim_mm"] = number(f.shim_mm.u);
    json["coverage95_mm"] = interval_of(f.coverage95_mm);
    json["u_skew_rad"] = number(f.skew_rad.u);
    json["why"] = f.why;
    json["u_widths_mm"] = Json::array({number(r.strip.fence_end_mm.u), number(r.strip.far_end_mm.u)});
    json["u_widths_from"] = r.u_given ? "--u-width" : session::common_caliper_words(Units::metric);
    json["fence_end"] = std::string(session::which_end_sentence());
    return printed(json);
}

std::string working_of(const Readings& r, const Found& f) {
    const Units u = r.units;
    const diagnose::PencilWorking pencil = diagnose::pencil_working(r.strip, r.span_mm);
    const auto small = [u](double mm) { return base::show_small(mm, u); };
    const auto reading = [u](double mm) { return base::show_reading(mm, u); };
    // Four angles that add up; the tangent matters only in the sixth digit, the steps below are for the reader. Their
    // sign is that of the first of them: with the strip on the left a fence whose right end is near makes it positive.
    const double sign = r.strip.side == shop::Side::right ? 1.0 : -1.0;
    return columns(
        {
            {"fence end less far end",
             fmt::format("{} − {}", reading(r.strip.fence_end_mm.value), reading(r.strip.far_end_mm.value)),
             small(pencil.difference_mm)},
            {"one corner's share", "÷ 4", small(pencil.share_mm)},
            {"per length of the old edge", "÷ " + reading(r.strip.between_mm.value),
             base::show_angle(sign * f.skew_rad.value, u)},
            {"over the shim span", "× " + reading(r.span_mm),
             small(sign * std::copysign(f.shim_mm.value, f.skew_rad.value))},
        },
        2, {2});
}

std::string uncertainty_line(const Readings& r) {
    const auto small = [&r](double mm) { return base::show_small(mm, r.units); };
    if (r.u_given)
        return fmt::format("Standard uncertainty of one width: {}, as you said.", small(r.strip.fence_end_mm.u));
    return fmt::format(
        "Standard uncertainty of the widths: {} and {}. No instrument was named, so they count as read with {}; "
        "--u-width gives your own.",
        small(r.strip.fence_end_mm.u), small(r.strip.far_end_mm.u), session::common_caliper_words(r.units));
}

std::string last_sentence(const Readings& r, const Found& f, const Ink& ink) {
    const auto small = [&r](double mm) { return base::show_small(mm, r.units); };
    if (f.at == shim::At::none) return ink.good(fmt::format("No shim: {}", f.why));
    return fmt::format(
        "{} (95 %: {} to {}): {}",
        ink.strong(fmt::format("Shim {} behind the {} end of the fence", small(f.shim_mm.value), shim::name_of(f.at))),
        small(f.coverage95_mm.lo), small(f.coverage95_mm.hi), f.why);
}

std::string as_text(const Readings& r, const Found& f, const Ink& ink) {
    return ink.heading("Working") + "\n" + working_of(r, f) + "\n" + wrapped(uncertainty_line(r), 100) + "\n\n" +
           wrapped(session::which_end_sentence(), 100) + "\n\n" + wrapped(session::cautions().short_line, 100) +
           "\n\n" + last_sentence(r, f, ink) + "\n";
}

}  // namespace

base::Result<Answer> shim_verb_answer(const Arguments& arguments, const Door& door) {
    const auto readings = readings_of(arguments);
    if (!readings) return tl::unexpected(readings.error());
    if (auto meant = ask_about(session::slips_in(readings->typed, readings->units), arguments, door); !meant)
        return tl::unexpected(meant.error());
    if (const std::string steep = saws::too_steep(readings->strip); !steep.empty()) return fail(Grade::usage, steep);
    const Found found = saws::shim_of(readings->strip, readings->span_mm);
    return Answer{arguments.has("--json") ? as_json(*readings, found) : as_text(*readings, found, door.ink), {}, 0};
}

}  // namespace offsquare::cli
