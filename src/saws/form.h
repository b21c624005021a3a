// The file of a sled as text: JSON Lines, a head and then an entry a line. Format 1.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "saws/sled.h"

namespace offsquare::saws {

/// {"offsquare_sled":1,"program":"0.1.0","name":...,"saw":...,"units":"metric"}, then
/// {"n":1,"date":"2026-03-03","written":"2026-03-03","what":"test", ...}; one that corrects has "corrects":N.
std::string file_text(const Sled& sled);

struct Read {
    Sled sled;
    std::vector<std::string> notes;  ///< a last line that was cut off and has been left out
};
/// Grade::bad_data with the name of the file and the line, what was found and what is allowed. A later format is
/// refused, so that nothing of it is lost.
base::Result<Read> read_file_text(std::string_view text, std::string_view name);

/// Of the head alone.
struct Head {
    std::string name;
    std::string saw;
};
base::Result<Head> read_head(std::string_view first_line, std::string_view name);

}  // namespace offsquare::saws
