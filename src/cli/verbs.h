// What can be typed: the verbs with their options, as a table. Parsing, help, and the likely word for a typo all read
// it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace offsquare::cli {

struct OptionInfo {
    std::string name;        ///< "--set", with its dashes
    std::string value;       ///< what follows, "KEY=VALUE"; empty: nothing follows
    std::string help;        ///< a plain phrase
    bool many = false;       ///< may be given more than once
    std::string short_name;  ///< "-o"; may be empty
};

struct VerbInfo {
    std::string name;
    std::string operand;  ///< "SCENARIO", "FILE"; empty: takes none
    bool needs_operand = false;
    bool many_operands = false;  ///< takes several of them
    std::string line;            ///< what it does, a few words
    std::string about;           ///< a few sentences
    std::vector<OptionInfo> options;
    std::vector<std::string> examples;
};

const std::vector<VerbInfo>& verbs();                                        ///< in the order of the job
const VerbInfo* find_verb(std::string_view name);                            ///< null when there is none
const OptionInfo* find_option(const VerbInfo& verb, std::string_view name);  ///< by long or short name

std::string help_text();                      ///< of the whole program
std::string help_text(const VerbInfo& verb);  ///< of one verb
std::string version_text();                   ///< "offsquare 0.1.0"

}  // namespace offsquare::cli
