// The sizes, the instruments and the drawer of a sled as a scenario without errors, as far as they are typed. A size is
// never refused because another is not typed yet: what was not typed is as usual, or as what was typed needs it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "saws/sled.h"
#include "scenario/scenario.h"

namespace offsquare::saws {

/// A size that a person may type, in the order of a form.
struct SizeInfo {
    std::string_view key;      ///< of Size
    std::string_view name;     ///< as a person says it: "the fence's length"
    std::string_view group;    ///< "fence", "board", "sled", "saw", "instruments", "square"
    std::string_view meaning;  ///< a plain phrase, in mm
};
std::span<const SizeInfo> size_infos();
/// "the fence's length"; the key itself where it is no size of the form.
std::string name_of_size(std::string_view key);

/// A size as typed; a bare length gets the unit that these units count in. Grade::usage: no such size, or a value that
/// cannot be, in plain words.
base::Result<Size> size_of(std::string_view key, std::string_view value, base::Units units);
base::Result<void> check_size(const Size& size);

struct SetUp {
    scenario::Scenario scenario;            ///< its errors are all zero; title: the sled's name
    std::vector<Size> typed;                ///< what was typed and is used, the newest of each key
    std::vector<std::string> does_not_fit;  ///< what was typed and cannot be used beside the others, in plain words
    bool common_caliper = true;             ///< no caliper was named: widths count as read with a common one
    bool drawer_typed = false;
    bool tolerance_typed = false;
};

/// As all that is in effect up to this day says; without a day, all of it. A size, an instrument or a drawer that was
/// typed only later was so before too.
SetUp set_up_of(const Sled& sled, std::optional<Date> until = std::nullopt);

/// Between the shim points, as it was typed last up to this day: as a size, or with a strip. nullopt: never yet.
std::optional<base::Typed> known_span(const Sled& sled, std::optional<Date> until = std::nullopt);

/// What a person may have for a caliper.
struct KnownCaliper {
    std::string_view name;    ///< "digital, 0.01 mm"
    std::vector<Size> sizes;  ///< what makes it
};
/// Limits of error after DIN 862 (from memory); scatter invented.
const std::vector<KnownCaliper>& known_calipers();

/// What stands behind the fence.
struct Standing {
    std::vector<Piece> left, right;
    std::optional<Date> since;  ///< the day that shims were moved last; empty: never
};
Standing standing_of(const Sled& sled, std::optional<Date> until = std::nullopt);
/// As it stood when this entry was written: what came after it on the same day does not count.
Standing standing_before(const Sled& sled, int entry);

/// After these pieces were moved. A piece that is taken and is not there is not counted.
Standing moved_on(Standing standing, const ShimsMoved& moved);

/// "behind the left end 0.150 mm, since 3 March"; "nothing" where nothing stands.
std::string words_of(const Standing& standing, base::Units units, Date today);

}  // namespace offsquare::saws
