// A sled of one's own: its name, the saw that it runs on, and its log. Values in, values out.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "saws/entry.h"

namespace offsquare::saws {

/// More entries than this are refused: more than a person writes of one sled in a lifetime.
inline constexpr std::size_t most_entries = 5000;
/// Bytes in a name or a note.
inline constexpr std::size_t longest_name = 80;
inline constexpr std::size_t longest_note = 2000;

struct Sled {
    std::string name;  ///< "the blue sled"; unique in a folder, whatever the case
    std::string saw;   ///< the saw that it runs on, "cabinet saw"; several sleds may name the same one; may be empty
    base::Units units = base::Units::metric;
    std::vector<Entry> entries;  ///< by number
};

/// A name that a sled or a saw may have: 1 to 80 bytes of UTF-8 on one line, not only blanks. Grade::usage.
base::Result<void> check_name(std::string_view name);

/// With one more entry. Refused (Grade::usage), and says what to do: a strip or a check that is not whole, a reading
/// that cannot be, a date after `today`, a correction of an entry that does not exist, was corrected already or is a
/// correction that was withdrawn, an empty note, a size whose value cannot be read, a log that is full. Sizes are
/// never refused because of other sizes (saws/set_up.h says what does not fit together).
base::Result<Sled> added(const Sled& sled, What what, Date date, Date today,
                         std::optional<int> corrects = std::nullopt);

/// The entries that count, in the order of effect: by date, then by number. One that corrects stands at the place of
/// the one that it corrects; what was corrected or withdrawn is left out, and so are the withdrawals. Pointers into
/// `sled`.
std::vector<const Entry*> in_effect(const Sled& sled);

/// The entry that replaced or withdrew this one; nullptr: it stands.
const Entry* corrected_by(const Sled& sled, int number);

/// nullptr: there is no such entry.
const Entry* find_entry(const Sled& sled, int number);

/// Of the entries in effect the newest strip test; nullptr: none yet.
const Entry* newest_test(const Sled& sled);

/// The last of the entries in effect that worked on the fence after the newest strip test: shims, the fence moved,
/// something put right. nullptr: none, so that the newest strip speaks of the sled as it is now.
const Entry* worked_on_since_test(const Sled& sled);

}  // namespace offsquare::saws
