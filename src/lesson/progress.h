// How practice goes: what became of every closed hunt, kept in the person's data folder; which family of faults is due
// again; which tier comes next; and how sure the person was against how often that was right.
//
// The repeats grow with success: after a family went well n times in a row it is due again in 1, 3, 7, 21, 60 days
// (spacing: common practice of teaching, the gaps invented); after a failure it is due at once.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "lesson/debrief.h"

namespace offsquare::lesson {

/// One hunt that was closed.
struct Attempt {
    int day = 0;  ///< since 1970-01-01; who keeps it says which, for no clock is here
    std::string name;
    int tier = 0;  ///< 0: of no tier
    std::uint64_t seed = 0;
    std::vector<shop::Group> families;  ///< of the faults that counted; empty: nothing did
    Ending how = Ending::proved;
    bool right = false;
    int sure = 50;  ///< of 100
    int hints = 0;
    double minutes = 0.0;
    friend bool operator==(const Attempt&, const Attempt&) = default;
};
Attempt attempt_of(const Hunt& hunt, const Debrief& debrief, int day, int tier);

/// Brier's score (1950) and its parts (Murphy 1973): score = reliability - resolution + uncertainty, where forecasts
/// that are equal form a bin.
struct Brier {
    double score = 0.0;        ///< mean square of (how sure - whether it was right), in [0, 1]; 0 is best
    double reliability = 0.0;  ///< how far each bin's sureness lies from its share of rights; 0 is best
    double resolution = 0.0;   ///< how far the bins' shares lie from the share of all; more is better
    double uncertainty = 0.0;  ///< of all: share of rights times share of wrongs
};
struct Forecast {
    double sure = 0.5;  ///< in [0, 1]
    bool right = false;
};
/// Not of an empty list.
Brier brier_of(std::span<const Forecast> forecasts);

/// Of one value of sureness: how often it was right.
struct Bin {
    int sure = 0;  ///< of 100
    int times = 0;
    int right = 0;
};
/// By rising sureness. Given up and ran out count not: nobody was sure of anything.
std::vector<Bin> bins_of(std::span<const Attempt> attempts);
std::vector<Forecast> forecasts_of(std::span<const Attempt> attempts);
inline constexpr std::size_t enough_verdicts = 20;  ///< fewer say nothing about a person

struct Family {
    shop::Group group = shop::Group::fence;
    int tried = 0;
    int right = 0;
    int in_a_row = 0;        ///< right without help, since the last failure
    std::optional<int> due;  ///< the day; empty: never tried
};
std::array<Family, 5> families_of(std::span<const Attempt> attempts);

/// The tier that comes next, steered to four of five solved: up after four of the last five of this tier or higher were
/// right, down after fewer than three were. 1 at the start.
int next_tier(std::span<const Attempt> attempts);

/// The file of attempts, one a line, JSON Lines, the newest last. Added to whole, under a lock; lines that are not
/// understood are carried along.
class Progress {
public:
    /// `data`: the person's folder; empty: nothing is kept.
    explicit Progress(std::filesystem::path data = {});
    const std::vector<Attempt>& attempts() const { return attempts_; }
    base::Result<void> add(const Attempt& attempt);
    base::Result<void> forget();  ///< deletes the file

private:
    std::filesystem::path data_;
    std::vector<Attempt> attempts_;
};

}  // namespace offsquare::lesson
