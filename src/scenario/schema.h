// The one list of everything that a scenario file may say. Reading, changing, writing and the help all walk this list.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>

#include "scenario/scenario.h"

namespace offsquare::scenario {

/// Where a value lives in the scenario. The number is the row of the drawer; other values ignore it.
template <class T>
using Finder = T& (*)(Scenario&, std::size_t row);
/// The format number lives nowhere: it is always `file_format`.
struct Fixed {};
using Home = std::variant<Finder<double>, Finder<int>, Finder<std::uint64_t>, Finder<std::string>, Finder<shop::Side>,
                          Finder<shop::Hand>, Finder<base::Units>, Finder<Concern>, Finder<base::Profile>, Fixed>;

inline constexpr int file_format = 1;  ///< what `format` must say
inline constexpr std::size_t drawer_rows =
    20;  ///< rows and, in total, pieces: the shim room tries every combination of them
inline constexpr std::size_t longest_list = 1000;
inline constexpr double furthest_point_mm = 5000.0;  ///< place of a profile point along its face

struct Entry {
    std::string_view key;  ///< dotted path; '#' stands for the row of the drawer
    KeyInfo::Kind kind;
    double min;  ///< as KeyInfo
    double max;
    std::string_view meaning;
    std::string_view example;
    Home home;
    bool may_be_none = false;  ///< the word `none` is allowed and means infinite
};

std::span<const Entry> schema();

/// A key that somebody wrote, found in the list.
struct Found {
    const Entry* entry = nullptr;
    std::size_t row = 0;
};
std::optional<Found> find(std::string_view key);
/// The name of a part of the file ("fence", "drawer", "drawer.3"), not of a value.
bool is_section(std::string_view key);
/// The dotted path with the row filled in.
std::string key_with_row(const Entry& entry, std::size_t row);

/// The known key that looks most like this one (a slip of up to a third of the letters, or the right last word in the
/// wrong section); empty: none.
std::string nearest_key(std::string_view typed);
std::size_t slips(
    std::string_view a,
    std::string_view b);  ///< letters to add, drop, change or swap with the next one (optimal string alignment)

}  // namespace offsquare::scenario
