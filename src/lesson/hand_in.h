// A hunt as a file: JSON Lines, one move a line, with what came of it, so that a replay checks itself. What is wrong
// with the saw stands in it obscured (base/obscured.h): nobody reads it by chance, and it is no secrecy.
//
//     {"offsquare_hunt":1,"program":"0.1.0","case":"two-boards","seed":12,"sealed":"26…"}
//     {"suspects":[["fence_skew",60],["fence_bow",30]],"out":["dust"]}
//     {"do":[{"do":"check","check":"straightedge-on-fence"}],"then":{…}}
//     {"hint":1}
//     {"close":"proved","named":["fence_bow"],"sure":80}
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "lesson/hunt.h"

namespace offsquare::lesson {

std::string to_text(const Hunt& hunt);

struct HandIn {
    Hunt hunt;
    std::vector<std::string> notes;  ///< a partial last line that was dropped, another program version
};
/// Reads and replays. Every fault of the file is Grade::bad_data with name and line; so is a move that leads to other
/// numbers than the file records.
base::Result<HandIn> hand_in_of(std::string_view text, std::string_view name);

/// Whether a text begins as a hand-in does.
bool is_hand_in(std::string_view text);

}  // namespace offsquare::lesson
