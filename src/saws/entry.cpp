#include "saws/entry.h"

#include <algorithm>

#include <fmt/format.h>

#include "saws/set_up.h"
#include "session/findings.h"
#include "session/hunt_words.h"
#include "shim/propose.h"

namespace offsquare::saws {
namespace {

using base::Units;

template <class... F>
struct Cases : F... {
    using F::operator()...;
};
template <class... F>
Cases(F...) -> Cases<F...>;

std::string widths(const std::vector<base::Typed>& all, Units units) {
    std::string text;
    for (const base::Typed& w : all) text += (text.empty() ? "" : " and ") + base::show_reading(w.value, units);
    return text.empty() ? "not typed" : text;
}

std::string size_or_none(const std::optional<base::Typed>& length, Units units) {
    return length ? base::show_size(length->value, units) : "not typed";
}

std::string line_of_strip(const Strip& s, Units units) {
    return fmt::format(
        "fence end {}, far end {}, {} apart; shim points {} apart{}{}{}", widths(s.fence_end, units),
        widths(s.far_end, units), size_or_none(s.between, units), size_or_none(s.span, units),
        s.fell ? fmt::format("; the strip fell on the {}", *s.fell == shop::Side::left ? "left" : "right") : "",
        s.brushed ? "; fence brushed" : "", s.ends_marked.value_or(true) ? "" : "; which end is which is not sure");
}

std::string line_of_check(const CheckMade& made, Units units) {
    std::string text;
    for (const measure::CheckReading& r : made.readings)
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", session::name_of_reading(r.what),
                            base::show_reading(r.value, units));
    return text;
}

std::string names_of(const std::vector<Piece>& pieces, Units units) {
    std::string text;
    for (const Piece& p : pieces)
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", p.name, base::show_reading(p.thickness_mm, units));
    return text;
}

std::string line_of_shims(const ShimsMoved& moved, Units units) {
    std::string text;
    const auto part = [&](const char* done, const std::vector<Piece>& pieces, shim::At at) {
        if (pieces.empty()) return;
        text +=
            fmt::format("{}{} {} the {} end ({})", text.empty() ? "" : "; ", base::show_small(total_mm(pieces), units),
                        done, shim::name_of(at), names_of(pieces, units));
    };
    part("taken from behind", moved.taken_left, shim::At::left);
    part("taken from behind", moved.taken_right, shim::At::right);
    part("put behind", moved.put_left, shim::At::left);
    part("put behind", moved.put_right, shim::At::right);
    return text.empty() ? "loosened and clamped again" : text;
}

std::string line_of_repair(const PutRight& done) {
    if (!done.fault) return done.what;
    const std::string name(session::name_of(*done.fault));
    return done.what.empty() ? name : fmt::format("{}: {}", name, done.what);
}

std::string line_of_sizes(const SizesTyped& typed) {
    std::string text;
    for (const Size& s : typed.sizes)
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", name_of_size(s.key), s.value);
    return text;
}

std::string line_of_drawer(const DrawerTyped& drawer, Units units) {
    std::string text;
    for (const shop::Shim& s : drawer.pieces)
        text += fmt::format("{}{} of {} {}", text.empty() ? "" : ", ", s.count, s.name,
                            base::show_reading(s.thickness_mm, units));
    return text.empty() ? "empty" : text;
}

}  // namespace

double u_of_marked(const base::Typed& thickness) {
    constexpr double usual_u_mm = 0.005;
    return std::max(usual_u_mm, base::u_of_step(thickness.step));
}

double total_mm(const std::vector<Piece>& pieces) {
    double sum = 0.0;
    for (const Piece& p : pieces) sum += p.thickness_mm;
    return sum;
}

std::string kind_of(const What& what) {
    return std::visit(Cases{
                          [](const StripTest&) -> std::string { return "Test"; },
                          [](const CheckMade& m) -> std::string { return std::string(measure::info(m.check).title); },
                          [](const ShimsMoved&) -> std::string { return "Shims"; },
                          [](const FenceMoved&) -> std::string { return "Fence moved"; },
                          [](const PutRight&) -> std::string { return "Put right"; },
                          [](const Remark&) -> std::string { return "Note"; },
                          [](const SizesTyped&) -> std::string { return "Sizes"; },
                          [](const DrawerTyped&) -> std::string { return "Drawer"; },
                          [](const Withdrawn&) -> std::string { return "Withdrawn"; },
                      },
                      what);
}

std::string line_of(const What& what, Units units) {
    return std::visit(Cases{
                          [&](const StripTest& t) { return line_of_strip(t.strip, units); },
                          [&](const CheckMade& m) { return line_of_check(m, units); },
                          [&](const ShimsMoved& m) { return line_of_shims(m, units); },
                          [](const FenceMoved&) { return std::string("set anew; what was read of it before is over"); },
                          [](const PutRight& r) { return line_of_repair(r); },
                          [](const Remark& r) { return r.text; },
                          [](const SizesTyped& s) { return line_of_sizes(s); },
                          [&](const DrawerTyped& d) { return line_of_drawer(d, units); },
                          [](const Withdrawn&) { return std::string("nothing stands in its place"); },
                      },
                      what);
}

}  // namespace offsquare::saws
