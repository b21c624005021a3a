// Slips of the hand and the eye in what is typed into the log of a sled: all that session/slips.h notices, and what the
// log makes noticeable. It asks, with both readings of what was typed ("1.02 mm: was 10.2 mm meant?"), and never
// decides; whoever meant it says so.
//
// Noticed: a decimal place that slipped in any field; inches typed for millimetres and the other way round, also
// against one's own earlier sizes; two fields exchanged; repeats that disagree; which end lay at the fence, and where
// the strip fell, where a later test or an earlier one contradicts it; shims behind the wrong end, or of another
// thickness than any in the drawer; a year that slipped; sizes that no table saw has.
//
// Where it stops: which end lay at the fence cannot be seen from one strip, and from two only when the fence is off by
// more than what changes from test to test. A wrong digit that leaves a plausible number looks like a fence that is
// off.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "saws/history.h"
#include "session/slips.h"

namespace offsquare::saws {

/// Of what a question is.
enum class Field { fence_end, far_end, between, span, fell, ends, shims, size, date, check };

struct Question {
    Field field = Field::fence_end;
    std::size_t index = 0;             ///< which repeat, piece or size of that field
    std::string says;                  ///< whole sentences: what was typed, against what, what may have been meant
    std::optional<base::Typed> meant;  ///< a length that would fit in its place; empty: none, or no length
    bool ends_exchanged = false;       ///< the two ends of this strip exchanged would fit
    std::optional<int> other_entry;    ///< the entry of the log that contradicts it, which may be the wrong one
    std::optional<Field> exchanged_with = {};  ///< this field and that one exchanged would fit
};
using Questions = std::vector<Question>;

/// Of a strip as far as it is typed, also in the place of the entry `corrects`: instant, for every key.
Questions slips_in(const Sled& sled, const Strip& strip, Date date, base::Units units,
                   std::optional<int> corrects = std::nullopt);

/// Of an entry that is about to be written (or to correct `corrects`): all of it, also what takes as long as weighing
/// the readings. Empty: nothing to ask.
Questions slips_in(const Sled& sled, const What& what, Date date, Date today, base::Units units,
                   std::optional<int> corrects = std::nullopt);

/// The sentences alone, for doors that ask in one go.
session::Slips sentences_of(const Questions& questions);

}  // namespace offsquare::saws
