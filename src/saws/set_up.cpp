#include "saws/set_up.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "session/slips.h"

namespace offsquare::saws {
namespace {

using base::fail;
using base::Grade;

constexpr std::array infos{
    SizeInfo{"fence.span", "the distance between the shim points", "fence",
             "from the left shim point to the right one"},
    SizeInfo{"fence.length", "the fence's length", "fence", "end to end"},
    SizeInfo{"fence.thickness", "the fence's thickness", "fence", "front to back"},
    SizeInfo{"fence.height", "the fence's height", "fence", "above the sled's base"},
    SizeInfo{"board.width", "the test board's width", "board", "along the fence at the first cut"},
    SizeInfo{"board.length", "the test board's length", "board", "along the feed at the first cut"},
    SizeInfo{"board.thickness", "the test board's thickness", "board", ""},
    SizeInfo{"board.strip", "the strip's width", "board", "of the fifth cut, as it is meant"},
    SizeInfo{"board.kept", "the side of the kept piece", "board", "left or right of the blade"},
    SizeInfo{"sled.width", "the sled's width", "sled", "its base, across the slots"},
    SizeInfo{"sled.depth", "the sled's depth", "sled", "its base, along the feed"},
    SizeInfo{"sled.fence_from_rear", "the fence's place on the sled", "sled", "its face from the base's rear edge"},
    SizeInfo{"sled.runner_length", "the runners' length", "sled", "both alike"},
    SizeInfo{"slots.left", "the left slot's place", "saw", "its centre line from the blade, with a minus"},
    SizeInfo{"slots.right", "the right slot's place", "saw", "its centre line from the blade"},
    SizeInfo{"slots.width", "the slots' width", "saw", "both alike"},
    SizeInfo{"table.width", "the table's width", "saw", "across the slots"},
    SizeInfo{"table.depth", "the table's depth", "saw", "along the slots"},
    SizeInfo{"blade.diameter", "the blade's diameter", "saw", "over the teeth"},
    SizeInfo{"blade.height", "the blade's height", "saw", "its highest tooth above the table"},
    SizeInfo{"blade.kerf", "the kerf", "saw", "the width of the cut"},
    SizeInfo{"caliper.name", "the caliper's name", "instruments", ""},
    SizeInfo{"caliper.step", "the caliper's last digit", "instruments", "what it counts in"},
    SizeInfo{"caliper.limit", "the caliper's limits of error", "instruments", "to either side"},
    SizeInfo{"caliper.repeatability", "the caliper's scatter", "instruments", "one standard deviation"},
    SizeInfo{"straightedge.length", "the straightedge's length", "instruments", ""},
    SizeInfo{"tolerance.corner", "what counts as square", "square", "largest error of one corner"},
};

bool is_length(std::string_view key) {
    if (key == "fence.span") return true;
    const auto& keys = scenario::keys();
    const auto it = std::find_if(keys.begin(), keys.end(), [&](const auto& k) { return k.key == key; });
    return it != keys.end() && it->kind == scenario::KeyInfo::Kind::length;
}

/// What the newest of each key says up to this day, in the order in which they were typed; of a key that was typed only
/// later, the first: it was so before, and nobody had written it down.
std::vector<Size> sizes_up_to(const std::vector<const Entry*>& entries, std::optional<Date> until) {
    std::vector<Size> all;
    for (const Entry* e : entries) {
        const auto* typed = std::get_if<SizesTyped>(&e->what);
        if (typed == nullptr) continue;
        for (const Size& s : typed->sizes) {
            const auto old = std::find_if(all.begin(), all.end(), [&](const Size& o) { return o.key == s.key; });
            if (old != all.end() && until && e->date > *until) continue;
            if (old != all.end()) all.erase(old);
            all.push_back(s);
        }
    }
    return all;
}

/// The same of the drawer; nullptr: none was typed.
const DrawerTyped* drawer_up_to(const std::vector<const Entry*>& entries, std::optional<Date> until) {
    const DrawerTyped* drawer = nullptr;
    for (const Entry* e : entries) {
        const auto* typed = std::get_if<DrawerTyped>(&e->what);
        if (typed != nullptr && (drawer == nullptr || !until || e->date <= *until)) drawer = typed;
    }
    return drawer;
}

/// Which keys were typed, and two more things that a strip tells.
struct Known {
    std::vector<Size> sizes;
    std::optional<double> span_mm;  ///< typed as a size, or with a strip
    std::optional<double> strip_long_mm;
    std::optional<double> strip_wide_mm;
    std::optional<shop::Side> fell;
    bool has(std::string_view key) const {
        return std::any_of(sizes.begin(), sizes.end(), [&](const Size& s) { return s.key == key; });
    }
    double length_or(std::string_view key, double usual) const {
        const auto it = std::find_if(sizes.begin(), sizes.end(), [&](const Size& s) { return s.key == key; });
        if (it == sizes.end()) return usual;
        const auto mm = base::parse_length(it->value, base::LengthUnit::mm);
        return mm ? std::abs(mm->value) : usual;
    }
};

/// What was not typed, as what was typed needs it. Rules of scenario/rules.cpp; how much room is left is invented.
void fit_the_rest(shop::Drawing& d, const Known& k) {
    const double sled_width = k.length_or("sled.width", 1e9);
    const double fence = k.length_or("fence.length", std::min(d.fence.length_mm, sled_width - 10.0));
    const double span = k.span_mm.value_or(std::min(d.fence.span_mm(), 0.9 * fence));
    d.fence.shim_left_x_mm = -0.5 * span;
    d.fence.shim_right_x_mm = span - 0.5 * span;
    d.fence.length_mm = std::max(fence, span + 40.0);
    // A board from which a strip so long comes: two trims and two kerfs longer.
    if (k.strip_long_mm) {
        d.board.length_mm = *k.strip_long_mm + 22.0;
        d.board.width_mm = *k.strip_long_mm + 32.0;
    }
    if (k.strip_wide_mm) d.board.strip_mm = *k.strip_wide_mm;
    d.board.width_mm = std::min(d.board.width_mm, sled_width - 10.0);
    d.board.length_mm = std::min(d.board.length_mm, sled_width - 10.0);
    const double width = k.length_or("board.width", d.board.width_mm);
    const double length = k.length_or("board.length", d.board.length_mm);
    const double kerf = k.length_or("blade.kerf", d.blade.kerf_mm);
    const double strip = k.length_or("board.strip", d.board.strip_mm);
    const double room = std::min(width - strip - 3.0 * kerf, length - 2.0 * kerf);
    d.board.trim_mm = std::min(d.board.trim_mm, 0.4 * std::max(room, 0.1));
    d.board.strip_mm = std::min(strip, 0.5 * width);
    d.sled.width_mm = std::max({d.sled.width_mm, d.fence.length_mm + 60.0, width, length});
    const double thick = k.length_or("fence.thickness", d.fence.thickness_mm);
    // A sled that carries such a board past the blade.
    d.sled.depth_mm = std::max(d.sled.depth_mm, std::max(width, length) + 120.0);
    d.sled.runner_length_mm = d.sled.depth_mm;
    const double sled = k.length_or("sled.depth", d.sled.depth_mm);
    d.sled.fence_from_rear_mm = std::max(std::min(d.sled.fence_from_rear_mm, 0.5 * sled), thick);
    const double rear = k.length_or("sled.fence_from_rear", d.sled.fence_from_rear_mm);
    const double runner = k.length_or("sled.runner_length", sled);
    d.sled.depth_mm = std::max({sled, rear + 50.0, runner});
    d.sled.runner_length_mm = std::min(runner, k.length_or("sled.depth", d.sled.depth_mm));
    d.fence.thickness_mm = std::min(thick, rear);
    const double table = k.length_or("table.width", d.table.width_mm);
    d.slots.left_x_mm = -std::min(-d.slots.left_x_mm, 0.3 * table);
    d.slots.right_x_mm = std::min(d.slots.right_x_mm, 0.3 * table);
    const double slot = k.length_or("slots.width", d.slots.width_mm);
    const double far_slot =
        std::max(k.length_or("slots.left", -d.slots.left_x_mm), k.length_or("slots.right", d.slots.right_x_mm));
    d.table.width_mm = std::max(d.table.width_mm, 2.0 * far_slot + slot + 40.0);
    const double blade = k.length_or("blade.diameter", d.blade.diameter_mm);
    const double high = k.length_or("blade.height", std::min(d.blade.height_mm, 0.3 * blade));
    d.blade.diameter_mm = std::max(blade, 2.0 * high + 10.0);
    d.blade.height_mm = high;
    d.blade.full_height_mm = std::max(std::min(d.blade.full_height_mm, 0.4 * blade), high);
    if (k.fell) d.board.kept = *k.fell == shop::Side::right ? shop::Side::left : shop::Side::right;
}

std::vector<scenario::Override> overrides_of(const std::vector<Size>& sizes) {
    std::vector<scenario::Override> out;
    for (const Size& s : sizes) {
        if (s.key != "fence.span") out.push_back({s.key, s.value});
    }
    return out;
}

base::Result<scenario::Scenario> with_all(const scenario::Scenario& usual, Known known,
                                          const std::vector<Size>& sizes) {
    known.sizes = sizes;
    for (const Size& s : sizes) {
        if (s.key != "fence.span") continue;
        if (const auto mm = base::parse_length(s.value, base::LengthUnit::mm)) known.span_mm = mm->value;
    }
    const double fence = known.length_or("fence.length", 0.0);
    if (fence > 0.0 && known.span_mm && *known.span_mm > fence)
        return fail(Grade::usage,
                    fmt::format("the shim points are {} apart, and the fence is {} long: they lie on it.",
                                base::show_size(*known.span_mm, usual.units), base::show_size(fence, usual.units)));
    scenario::Scenario s = usual;
    fit_the_rest(s.drawing, known);
    return scenario::with(s, overrides_of(sizes));
}

/// "fence.length (400 mm)" and the like as a person says it; without the example, which is written for files.
std::string in_plain_words(std::string message) {
    message = message.substr(0, message.find(" Example:"));
    for (const SizeInfo& i : infos) {
        for (std::size_t at = message.find(i.key); at != std::string::npos; at = message.find(i.key, at + 1)) {
            const std::size_t end = at + i.key.size();
            if (end < message.size() && (message[end] == '.' || message[end] == '_')) continue;
            message.replace(at, i.key.size(), i.name);
        }
    }
    for (const auto& [key, words] : {std::pair{"fence.shim_left", "the left shim point"},
                                     {"fence.shim_right", "the right shim point"},
                                     {"board.trim", "the trim"}}) {
        if (const std::size_t at = message.find(key); at != std::string::npos)
            message.replace(at, std::string_view(key).size(), words);
    }
    return message;
}

}  // namespace

std::span<const SizeInfo> size_infos() { return infos; }

std::string name_of_size(std::string_view key) {
    const auto it = std::find_if(infos.begin(), infos.end(), [&](const SizeInfo& i) { return i.key == key; });
    return std::string(it == infos.end() ? key : it->name);
}

base::Result<Size> size_of(std::string_view key, std::string_view value, base::Units units) {
    Size size{std::string(key), std::string(value)};
    if (is_length(key)) {
        const auto mm = base::parse_length(value, base::LengthUnit::mm);
        const auto inch = base::parse_length(value, base::LengthUnit::inch);
        if (mm && inch && mm->value != inch->value) size.value += units == base::Units::metric ? " mm" : " in";
    }
    if (auto ok = check_size(size); !ok) return tl::unexpected(ok.error());
    return size;
}

base::Result<void> check_size(const Size& size) {
    const bool ours = size.key == "fence.span";
    const auto& keys = scenario::keys();
    const bool known = ours || std::any_of(keys.begin(), keys.end(), [&](const auto& k) { return k.key == size.key; });
    const bool forbidden = scenario::is_hidden(size.key) || size.key.starts_with("drawer") || size.key == "title" ||
                           size.key == "story" || size.key == "format" || size.key == "units" || size.key == "seed";
    if (!known || forbidden) return fail(Grade::usage, fmt::format("\"{}\" is no size of a sled or a saw", size.key));
    if (ours) {
        const auto mm = base::parse_length(size.value, base::LengthUnit::mm);
        if (mm && mm->value >= 10.0 && mm->value <= 5000.0) return {};
        return fail(Grade::usage, fmt::format("{}: found {}. Allowed: from 10 mm to 5 m. Example: 500 mm",
                                              name_of_size(size.key), size.value));
    }
    const auto it = std::find_if(keys.begin(), keys.end(), [&](const auto& k) { return k.key == size.key; });
    if (it->kind == scenario::KeyInfo::Kind::length || it->kind == scenario::KeyInfo::Kind::angle) {
        const bool length = it->kind == scenario::KeyInfo::Kind::length;
        const auto value = length ? base::parse_length(size.value, base::LengthUnit::mm)
                                  : base::parse_angle(size.value, base::AngleUnit::mrad);
        if (!value) return fail(Grade::usage, fmt::format("{}: {}", name_of_size(size.key), value.error().message));
        if (value->value >= it->min && value->value <= it->max) return {};
    }
    // What is no length is looked at as a scenario would, and says what is allowed.
    const auto alone = with_all({}, {}, {size});
    if (alone) return {};
    return fail(Grade::usage, in_plain_words(alone.error().message));
}

SetUp set_up_of(const Sled& sled, std::optional<Date> until) {
    SetUp out;
    Known known;
    const std::vector<const Entry*> entries = in_effect(sled);
    scenario::Scenario usual;
    usual.title = sled.name.empty() ? "my saw" : sled.name;
    usual.units = sled.units;
    usual.drawing.caliper = session::common_caliper();
    if (const DrawerTyped* drawer = drawer_up_to(entries, until)) {
        usual.drawing.drawer = drawer->pieces;
        out.drawer_typed = true;
    }
    for (const Entry* e : entries) {
        if (until && e->date > *until) break;
        if (const auto* test = std::get_if<StripTest>(&e->what)) {
            known.span_mm = test->strip.span->value;
            known.strip_long_mm = test->strip.between->value;
            known.strip_wide_mm = test->strip.fence_end.front().value;
            known.fell = test->strip.fell;
        }
    }
    out.scenario = usual;
    if (auto fitted = with_all(usual, known, {})) out.scenario = std::move(*fitted);
    for (const Size& s : sizes_up_to(entries, until)) {
        std::vector<Size> more = out.typed;
        more.push_back(s);
        auto with_it = with_all(usual, known, more);
        if (!with_it) {
            out.does_not_fit.push_back(in_plain_words(with_it.error().message));
            continue;
        }
        out.scenario = std::move(*with_it);
        out.typed = std::move(more);
    }
    const auto typed = [&](std::string_view key) {
        return std::any_of(out.typed.begin(), out.typed.end(), [&](const Size& s) { return s.key == key; });
    };
    out.common_caliper = !typed("caliper.step") && !typed("caliper.limit");
    out.tolerance_typed = typed("tolerance.corner");
    return out;
}

const std::vector<KnownCaliper>& known_calipers() {
    static const std::vector<KnownCaliper> all{
        {"digital, 0.01 mm",
         {{"caliper.name", "digital caliper"},
          {"caliper.step", "0.01 mm"},
          {"caliper.limit", "0.02 mm"},
          {"caliper.repeatability", "0.01 mm"}}},
        {"digital, 0.0005 in",
         {{"caliper.name", "digital caliper"},
          {"caliper.step", "0.0005 in"},
          {"caliper.limit", "0.001 in"},
          {"caliper.repeatability", "0.0004 in"}}},
        {"dial, 0.001 in",
         {{"caliper.name", "dial caliper"},
          {"caliper.step", "0.001 in"},
          {"caliper.limit", "0.001 in"},
          {"caliper.repeatability", "0.0005 in"}}},
        {"vernier, 0.02 mm",
         {{"caliper.name", "vernier caliper"},
          {"caliper.step", "0.02 mm"},
          {"caliper.limit", "0.02 mm"},
          {"caliper.repeatability", "0.015 mm"}}},
        {"vernier, 0.05 mm",
         {{"caliper.name", "vernier caliper"},
          {"caliper.step", "0.05 mm"},
          {"caliper.limit", "0.05 mm"},
          {"caliper.repeatability", "0.025 mm"}}},
        {"vernier, 0.1 mm",
         {{"caliper.name", "vernier caliper"},
          {"caliper.step", "0.1 mm"},
          {"caliper.limit", "0.05 mm"},
          {"caliper.repeatability", "0.05 mm"}}},
    };
    return all;
}

Standing moved_on(Standing s, const ShimsMoved& moved) {
    const auto take = [](std::vector<Piece>& pieces, const std::vector<Piece>& taken) {
        for (const Piece& t : taken) {
            const auto it = std::find_if(pieces.rbegin(), pieces.rend(), [&](const Piece& p) {
                return p.name == t.name && p.thickness_mm == t.thickness_mm;
            });
            if (it != pieces.rend()) pieces.erase(std::next(it).base());
        }
    };
    take(s.left, moved.taken_left);
    take(s.right, moved.taken_right);
    s.left.insert(s.left.end(), moved.put_left.begin(), moved.put_left.end());
    s.right.insert(s.right.end(), moved.put_right.begin(), moved.put_right.end());
    return s;
}

Standing standing_before(const Sled& sled, int entry) {
    Standing s;
    for (const Entry* e : in_effect(sled)) {
        if (e->number == entry) break;
        const auto* moved = std::get_if<ShimsMoved>(&e->what);
        if (moved == nullptr) continue;
        s = moved_on(std::move(s), *moved);
        s.since = e->date;
    }
    return s;
}

std::optional<base::Typed> known_span(const Sled& sled, std::optional<Date> until) {
    std::optional<base::Typed> span;
    for (const Entry* e : in_effect(sled)) {
        if (until && e->date > *until) break;
        if (const auto* test = std::get_if<StripTest>(&e->what); test != nullptr && test->strip.span)
            span = test->strip.span;
        const auto* typed = std::get_if<SizesTyped>(&e->what);
        if (typed == nullptr) continue;
        for (const Size& s : typed->sizes) {
            const auto mm = base::parse_length(s.value, base::LengthUnit::mm);
            if (s.key == "fence.span" && mm) span = *mm;
        }
    }
    return span;
}

Standing standing_of(const Sled& sled, std::optional<Date> until) {
    Standing s;
    for (const Entry* e : in_effect(sled)) {
        if (until && e->date > *until) break;
        const auto* moved = std::get_if<ShimsMoved>(&e->what);
        if (moved == nullptr) continue;
        s = moved_on(std::move(s), *moved);
        s.since = e->date;
    }
    return s;
}

std::string words_of(const Standing& s, base::Units units, Date today) {
    if (s.left.empty() && s.right.empty()) return "nothing";
    std::string text;
    for (const auto& [pieces, name] : {std::pair{&s.left, "left"}, {&s.right, "right"}}) {
        if (pieces->empty()) continue;
        text += fmt::format("{}behind the {} end {}", text.empty() ? "" : ", ", name,
                            base::show_small(total_mm(*pieces), units));
    }
    return s.since ? fmt::format("{}, since {}", text, in_words(*s.since, today)) : text;
}

}  // namespace offsquare::saws
