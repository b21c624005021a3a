// What was typed after the verb, taken apart but not yet understood: every value is still the text that was typed.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "cli/verbs.h"

namespace offsquare::cli {

struct Arguments {
    std::string verb;
    std::optional<std::string> operand;                      ///< the first
    std::vector<std::string> operands;                       ///< all, where the verb takes several
    std::map<std::string, std::vector<std::string>> values;  ///< by long name; a flag has one empty value

    bool has(const std::string& name) const { return values.contains(name); }
    std::optional<std::string> one(const std::string& name) const;
    std::vector<std::string> all(const std::string& name) const;
};

/// Takes the words after the verb apart. Mistakes are Grade::usage, with the likely word for a typo.
base::Result<Arguments> arguments_of(const VerbInfo& verb, const std::vector<std::string>& words);

/// One of some words, or Grade::usage with the likely one.
base::Result<std::string> word_of(const std::string& option, const std::string& typed,
                                  const std::vector<std::string>& allowed);

/// A whole number within [lo, hi]: digits only, so that 010 is ten.
base::Result<std::uint64_t> whole_number_of(const std::string& option, const std::string& typed, std::uint64_t lo,
                                            std::uint64_t hi);

/// `, did you mean "x"?` or nothing.
std::string did_you_mean(const std::string& typed, const std::vector<std::string>& words);

/// What was typed in quotes, short enough for one line and without control characters.
std::string in_quotes(std::string_view typed);

}  // namespace offsquare::cli
