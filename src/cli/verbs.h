// What can be typed: the verbs with their options, as a table. Parsing, help, and the likely word for a typo all read
// it.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "base/left_out.h"
#include "base/result.h"

namespace offsquare::cli {

struct Answer;
struct Arguments;
struct Door;

/// A row. One that leaves a part out does not compile.
struct OptionInfo {
    std::string_view name = base::LeftOut<"name">{};              ///< "--set", with its dashes
    std::string_view value = base::LeftOut<"value">{};            ///< what follows, "KEY=VALUE"; empty: nothing follows
    std::string_view help = base::LeftOut<"help">{};              ///< a plain phrase
    bool many = base::LeftOut<"many">{};                          ///< may be given more than once
    std::string_view short_name = base::LeftOut<"short_name">{};  ///< "-o"; may be empty
};

/// A row. One that leaves a part out does not compile, nor one that man page and completions (assets/) do not name.
struct VerbInfo {
    std::string_view name = base::LeftOut<"name">{};
    std::string_view operand = base::LeftOut<"operand">{};  ///< "SCENARIO", "FILE"; empty: takes none
    bool needs_operand = base::LeftOut<"needs_operand">{};
    bool many_operands = base::LeftOut<"many_operands">{};  ///< takes several of them
    std::string_view line = base::LeftOut<"line">{};        ///< what it does, a few words
    std::string_view about = base::LeftOut<"about">{};      ///< a few sentences; help_text puts some words in
    std::span<const OptionInfo> options = base::LeftOut<"options">{};
    std::span<const std::string_view> examples = base::LeftOut<"examples">{};
    base::Result<Answer> (*answer)(const Arguments&, const Door&) = base::LeftOut<"answer">{};
};

std::span<const VerbInfo> verbs();                                           ///< in the order of the job
const VerbInfo* find_verb(std::string_view name);                            ///< null when there is none
const OptionInfo* find_option(const VerbInfo& verb, std::string_view name);  ///< by long or short name

std::string help_text();                      ///< of the whole program
std::string help_text(const VerbInfo& verb);  ///< of one verb
std::string version_text();                   ///< "offsquare 0.1.0"

}  // namespace offsquare::cli
