// On the checks page: a field for each reading of the chosen check, for who reads a real saw.
#include <fmt/format.h>

#include "gui/pages/notebook_pages.h"
#include "measure/going.h"
#include "session/hunt_words.h"

namespace offsquare::gui {
namespace {

base::Result<double> typed_length(std::string_view text, base::Units units) {
    const auto typed =
        base::parse_length(text, units == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch);
    if (!typed) return tl::unexpected(typed.error());
    return typed->value;
}

base::Result<double> not_below_0(std::string_view text, base::Units units, const char* what) {
    auto typed = typed_length(text, units);
    if (typed && *typed < 0.0)
        return base::fail(base::Grade::bad_data,
                          fmt::format("found \"{}\", below 0; expected {}, from 0 up, for example {}", text, what,
                                      base::said_in("0.02 mm", units)));
    return typed;
}

const char* unit_of(const Bench& bench) { return bench.view.units == base::Units::metric ? "mm" : "in"; }

FieldOptions beside(float width) {
    FieldOptions o;
    o.width = 130.0F;
    o.label_width = width;
    return o;
}

constexpr float labels = 216.0F;

/// What was read, and under it how sure that is. True: it was changed.
bool reading_fields(Kit& kit, const Bench& bench, FieldTexts& texts, measure::Check check,
                    const measure::ReadingInfo& wanted, double usual_u, Typing::Entry& entry) {
    const std::string key = fmt::format("{}/{}", measure::info(check).name, wanted.what);
    const bool push = check == measure::Check::push_through;
    const auto shown = [&](std::optional<double> mm) {
        return mm ? base::show_reading(*mm, bench.view.units) : std::string();
    };
    const auto shown_value = [&](std::optional<double> mm) {
        const std::string words =
            push && mm ? measure::words_of_went(*mm, bench.seen().drawing, bench.view.units) : std::string();
        return measure::went_of(words, bench.seen().drawing) ? words : shown(mm);
    };
    const auto value_of = [&](std::string_view text) -> base::Result<double> {
        const auto went = push ? measure::went_of(text, bench.seen().drawing) : std::nullopt;
        if (went) return *went;
        auto typed = typed_length(text, bench.view.units);
        if (!typed) entry.value.reset();
        return typed;
    };
    FieldOptions options = beside(labels);
    options.help = base::said_in(wanted.meaning, bench.view.units);
    const std::string label = fmt::format("{} [{}]##{}", session::name_of_reading(wanted.what), unit_of(bench), key);
    const Typing::Entry before = entry;
    if (const auto typed = number_field(kit, label.c_str(), texts[key], shown_value(entry.value), value_of, options))
        entry.value = *typed;
    const auto u_of = [&](std::string_view text) {
        auto typed = not_below_0(text, bench.view.units, "a standard uncertainty");
        entry.u_is_bad = !typed;
        return typed;
    };
    FieldState& field = texts["uncertainty/" + key];
    const std::string u_label = fmt::format("uncertainty of {}##{}", session::name_of_reading(wanted.what), key);
    if (const auto typed =
            number_field(kit, u_label.c_str(), field, shown(entry.u.value_or(usual_u)), u_of, beside(labels)))
        entry.u = *typed;
    if (field.error.empty()) entry.u_is_bad = false;
    gap(kit, 6.0F);
    return entry.value != before.value || entry.u != before.u;
}

/// What looks like a slip, under the button that was pressed.
void question(Kit& kit, Bench& bench, Hunt& hunt) {
    if (hunt.typing.asked.empty()) return;
    gap(kit, 4.0F);
    for (const std::string& slip : hunt.typing.asked) marked(kit, slip, Role::wrong);
    gap(kit, 4.0F);
    if (button(kit, "It is meant: write them down")) hunt.insist(bench);
}

/// At a real saw nobody but the person knows what stands behind the fence.
void shim_field(Kit& kit, const Bench& bench, FieldTexts& texts, const char* end, double last_mm,
                std::optional<double>& typed_mm) {
    const auto parse = [&](std::string_view text) {
        return not_below_0(text, bench.view.units, "how thick all shims there are");
    };
    const std::string label = fmt::format("shims, {} end [{}]##typed", end, unit_of(bench));
    if (const auto typed =
            number_field(kit, label.c_str(), texts[std::string("shims/") + end],
                         base::show_reading(typed_mm.value_or(last_mm), bench.view.units), parse, beside(labels)))
        typed_mm = *typed;
}

}  // namespace

void draw_typing(Kit& kit, Bench& bench, Hunt& hunt, FieldTexts& texts) {
    Typing& typing = hunt.typing;
    const measure::CheckInfo& check = measure::info(hunt.check);
    const bool asks =
        !typing.asked.empty();  // a question stands where the explanations were, so that its button is seen
    if (!asks)
        quiet(kit,
              "What you read at a real saw. A bare number counts in the unit shown; any unit can be typed. The "
              "uncertainty (standard: one standard deviation) is that of the instrument until you change it.");
    gap(kit, 6.0F);
    const std::vector<double> usual = Typing::usual_u(check.check, bench);
    std::vector<Typing::Entry>& entries = typing.entries(check.check);
    for (std::size_t i = 0; i < entries.size(); ++i)
        if (reading_fields(kit, bench, texts, check.check, check.readings[i], usual[i], entries[i]))
            typing.asked.clear();
    if (bench.of_a_real_saw()) {
        const session::FenceStood last = Typing::stood_last(bench);
        shim_field(kit, bench, texts, "left", last.behind_left_mm, typing.behind_left_mm);
        shim_field(kit, bench, texts, "right", last.behind_right_mm, typing.behind_right_mm);
        gap(kit, 6.0F);
    }
    if (check.strips != measure::Strips::none) quiet(kit, session::which_end_sentence());
    if (button(kit, "Write these readings down")) hunt.write_typed(bench);
    question(kit, bench, hunt);
    if (asks) return;
    gap(kit, 4.0F);
    quiet(kit,
          "The command line takes the same from a file: \"Write the readings\" makes one, and offsquare diagnose FILE "
          "weighs it.");
}

}  // namespace offsquare::gui
