// Reading a file that anybody may have written: looked at before it is read, and never more of it than is allowed.
#pragma once

#include <istream>
#include <string>
#include <string_view>

#include "base/result.h"

namespace offsquare::base {

/// What a reader takes, for its messages.
struct Wanted {
    std::string_view what;     ///< "a scenario file, or - for standard input"
    std::string_view example;  ///< "scenarios/teaching-saw.toml"
    std::size_t most_bytes = std::size_t{1} << 20U;
};
inline constexpr Wanted scenario_wanted{"a scenario file, or - for standard input", "scenarios/teaching-saw.toml",
                                        std::size_t{1} << 20U};
inline constexpr Wanted readings_wanted{"a readings file, or - for standard input", "my-saw-readings.toml",
                                        std::size_t{1} << 20U};
/// Some fifty thousand actions; a longer file is not one of ours.
inline constexpr Wanted session_wanted{"a saved session, or - for standard input", "my-job.jsonl",
                                       std::size_t{16} << 20U};

/// All of a regular file (links are followed). `name` is how messages call it. Grade::no_input: it is not there, may
/// not be read, or is no regular file; a pipe or a device is never waited for. Grade::bad_data: larger than allowed.
/// Grade::io: reading broke off.
Result<std::string> read_file(const std::string& path, std::string_view name, const Wanted& wanted);

/// The same from a stream that is open already, such as standard input.
Result<std::string> read_stream(std::istream& in, std::string_view name, const Wanted& wanted);

}  // namespace offsquare::base
