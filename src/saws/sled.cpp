#include "saws/sled.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/quantity_text.h"
#include "measure/report.h"
#include "saws/set_up.h"
#include "scenario/scenario.h"

namespace offsquare::saws {
namespace {

using base::fail;
using base::Grade;
using base::Result;

/// Valid UTF-8 by its structure, without control characters.
bool is_plain(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const auto c = static_cast<unsigned char>(text[i]);
        if (c < 0x20 || c == 0x7F) return false;
        const std::size_t length = c < 0x80              ? 1
                                   : (c & 0xE0U) == 0xC0 ? 2
                                   : (c & 0xF0U) == 0xE0 ? 3
                                   : (c & 0xF8U) == 0xF0 ? 4
                                                         : 0;
        if (length == 0 || i + length > text.size()) return false;
        for (std::size_t k = 1; k < length; ++k) {
            if ((static_cast<unsigned char>(text[i + k]) & 0xC0U) != 0x80U) return false;
        }
        i += length;
    }
    return true;
}

bool blank(std::string_view text) { return text.find_first_not_of(" \t") == std::string_view::npos; }

Result<void> text_fits(std::string_view text, const char* what, std::size_t most) {
    if (text.size() <= most && is_plain(text)) return {};
    return fail(Grade::usage, fmt::format("{} is one line of text, at most {} bytes long", what, most));
}

Result<void> look_at_width(const base::Typed& w, const char* name) {
    if (std::isfinite(w.value) && w.value > 0.0 && w.value <= 1e6 && w.step > 0.0 && w.step <= 1000.0) return {};
    return fail(Grade::usage, fmt::format("{} is a length above 0, for example 12.03 mm", name));
}

Result<void> look_at(const StripTest& test) {
    const Strip& s = test.strip;
    if (s.fence_end.empty() || s.far_end.empty() || !s.between || !s.span || !s.fell)
        return fail(Grade::usage, fmt::format("{} not typed yet", s.fence_end.empty() ? "the fence end of the strip is"
                                                                  : s.far_end.empty() ? "the far end of the strip is"
                                                                  : !s.between ? "the length between the two places is"
                                                                  : !s.span ? "the distance between the shim points is"
                                                                            : "the side where the strip fell is"));
    constexpr std::size_t most_repeats = 100;
    if (s.fence_end.size() > most_repeats || s.far_end.size() > most_repeats)
        return fail(Grade::usage, "an end of a strip is read 100 times at most");
    for (const auto& [all, name] : {std::pair{&s.fence_end, "the fence end"}, {&s.far_end, "the far end"}}) {
        for (const base::Typed& w : *all) {
            if (auto ok = look_at_width(w, name); !ok) return ok;
        }
    }
    if (auto ok = look_at_width(*s.between, "the length between the two places"); !ok) return ok;
    if (s.between->value < 1.0) return fail(Grade::usage, "the strip is less than 1 mm long");
    return look_at_width(*s.span, "the distance between the shim points");
}

Result<void> look_at(const CheckMade& made) {
    const std::string trouble = measure::trouble_with({{made.check}, made.readings});
    return trouble.empty() ? Result<void>() : fail(Grade::usage, trouble);
}

Result<void> look_at(const ShimsMoved& moved) {
    constexpr std::size_t most_pieces = 20;
    for (const auto* pieces : {&moved.put_left, &moved.put_right, &moved.taken_left, &moved.taken_right}) {
        if (pieces->size() > most_pieces) return fail(Grade::usage, "20 pieces at most are moved at once");
        for (const Piece& p : *pieces) {
            if (!(p.thickness_mm > 0.0 && p.thickness_mm <= 20.0) || !(p.u_mm >= 0.0 && p.u_mm <= 2.0))
                return fail(Grade::usage, "a shim is above 0 and at most 20 mm thick");
            if (auto ok = text_fits(p.name, "the name of a shim", longest_name); !ok) return ok;
        }
    }
    return {};
}

Result<void> look_at(const FenceMoved&) { return {}; }
Result<void> look_at(const Withdrawn&) { return {}; }

Result<void> look_at(const PutRight& done) {
    if (!done.fault && blank(done.what)) return fail(Grade::usage, "say what was put right, for example: slots waxed");
    return text_fits(done.what, "what was put right", longest_note);
}

Result<void> look_at(const Remark& remark) {
    if (blank(remark.text)) return fail(Grade::usage, "an empty note says nothing");
    return text_fits(remark.text, "a note", longest_note);
}

Result<void> look_at(const SizesTyped& typed) {
    if (typed.sizes.empty()) return fail(Grade::usage, "no size was typed");
    for (const Size& s : typed.sizes) {
        if (auto ok = text_fits(s.value, "a size", longest_name); !ok) return ok;
        if (auto ok = check_size(s); !ok) return ok;
    }
    return {};
}

Result<void> look_at(const DrawerTyped& drawer) {
    constexpr std::size_t most_rows = 20;
    int pieces = 0;
    for (const shop::Shim& s : drawer.pieces) {
        pieces += s.count;
        if (!(s.thickness_mm >= 0.001 && s.thickness_mm <= 20.0) || !(s.u_mm >= 0.0 && s.u_mm <= 2.0) || s.count < 0 ||
            s.count > 20)
            return fail(Grade::usage, "a shim is from 0.001 mm to 20 mm thick, and there are 0 to 20 pieces of it");
        if (s.name.empty() || s.name.size() > 64) return fail(Grade::usage, "a shim has a name of 1 to 64 bytes");
        if (auto ok = text_fits(s.name, "the name of a shim", longest_name); !ok) return ok;
    }
    if (pieces > 20 || drawer.pieces.size() > most_rows)
        return fail(Grade::usage, "the drawer holds 20 pieces at most, or every stack could not be tried");
    return {};
}

/// The entry at whose place this one stands: the first of a chain of corrections.
const Entry& root_of(const Sled& sled, const Entry& entry) {
    const Entry* at = &entry;
    while (at->corrects) {
        const Entry* before = find_entry(sled, *at->corrects);
        if (before == nullptr) break;
        at = before;
    }
    return *at;
}

Result<void> may_correct(const Sled& sled, int number) {
    const Entry* wrong = find_entry(sled, number);
    if (wrong == nullptr) return fail(Grade::usage, fmt::format("there is no entry {} to correct", number));
    if (const Entry* by = corrected_by(sled, number))
        return fail(Grade::usage,
                    fmt::format("entry {} was corrected already by entry {}: correct that one", number, by->number));
    if (std::holds_alternative<Withdrawn>(wrong->what))
        return fail(Grade::usage, fmt::format("entry {} only withdraws another: write a new one", number));
    return {};
}

}  // namespace

Result<void> check_name(std::string_view name) {
    if (!blank(name) && name.size() <= longest_name && is_plain(name)) return {};
    return fail(Grade::usage,
                fmt::format("\"{}\" is no name for a sled or a saw. Allowed: one line of text, 1 to {} bytes. Example: "
                            "the blue sled",
                            base::shown(name), longest_name));
}

const Entry* find_entry(const Sled& sled, int number) {
    const auto it =
        std::find_if(sled.entries.begin(), sled.entries.end(), [&](const Entry& e) { return e.number == number; });
    return it == sled.entries.end() ? nullptr : &*it;
}

const Entry* corrected_by(const Sled& sled, int number) {
    const auto it =
        std::find_if(sled.entries.begin(), sled.entries.end(), [&](const Entry& e) { return e.corrects == number; });
    return it == sled.entries.end() ? nullptr : &*it;
}

Result<Sled> added(const Sled& sled, What what, Date date, Date today, std::optional<int> corrects) {
    if (sled.entries.size() >= most_entries)
        return fail(Grade::usage, fmt::format("the log holds {} entries, as many as it can", most_entries));
    if (!date.ok() || !today.ok()) return fail(Grade::usage, "this day is not in the calendar");
    if (date > today)
        return fail(Grade::usage, fmt::format("{} is still to come; today is {}", in_words(date), in_words(today)));
    if (corrects) {
        if (auto ok = may_correct(sled, *corrects); !ok) return tl::unexpected(ok.error());
    } else if (std::holds_alternative<Withdrawn>(what)) {
        return fail(Grade::usage, "say which entry is withdrawn");
    }
    if (auto ok = std::visit([](const auto& w) { return look_at(w); }, what); !ok) return tl::unexpected(ok.error());
    Sled more = sled;
    const int number = sled.entries.empty() ? 1 : sled.entries.back().number + 1;
    more.entries.push_back({number, date, today, corrects, std::move(what)});
    return more;
}

std::vector<const Entry*> in_effect(const Sled& sled) {
    std::vector<bool> gone(sled.entries.empty() ? 1 : static_cast<std::size_t>(sled.entries.back().number) + 1);
    for (const Entry& e : sled.entries) {
        if (e.corrects) gone.at(static_cast<std::size_t>(*e.corrects)) = true;
    }
    struct Placed {
        const Entry* entry;
        int place;
    };
    std::vector<Placed> all;
    for (const Entry& e : sled.entries) {
        if (gone.at(static_cast<std::size_t>(e.number)) || std::holds_alternative<Withdrawn>(e.what)) continue;
        all.push_back({&e, root_of(sled, e).number});
    }
    std::sort(all.begin(), all.end(), [](const Placed& a, const Placed& b) {
        return a.entry->date != b.entry->date ? a.entry->date < b.entry->date : a.place < b.place;
    });
    std::vector<const Entry*> out;
    for (const Placed& p : all) out.push_back(p.entry);
    return out;
}

const Entry* newest_test(const Sled& sled) {
    const Entry* newest = nullptr;
    for (const Entry* e : in_effect(sled)) {
        if (std::holds_alternative<StripTest>(e->what)) newest = e;
    }
    return newest;
}

const Entry* worked_on_since_test(const Sled& sled) {
    const Entry* last = nullptr;
    for (const Entry* e : in_effect(sled)) {
        if (std::holds_alternative<StripTest>(e->what)) last = nullptr;
        else if (std::holds_alternative<ShimsMoved>(e->what) || std::holds_alternative<FenceMoved>(e->what) ||
                 std::holds_alternative<PutRight>(e->what))
            last = e;
    }
    return last;
}

}  // namespace offsquare::saws
