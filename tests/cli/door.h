// Knocks at the command line's door without a process: words in; exit code, stdout and stderr out.
#pragma once

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run.h"

namespace door {

struct Said {
    int code = -1;
    std::string out;
    std::string err;
};

inline Said run(const std::vector<std::string>& words, const std::string& in = "") {
    std::vector<const char*> argv(words.size() + 1, "offsquare");
    for (std::size_t i = 0; i < words.size(); ++i) argv[i + 1] = words[i].c_str();
    std::ostringstream out, err;
    std::istringstream input(in);
    Said said;
    said.code = offsquare::cli::run(static_cast<int>(argv.size()), argv.data(), out, err, input);
    said.out = out.str();
    said.err = err.str();
    return said;
}

using Json = nlohmann::ordered_json;

inline Json json(const std::vector<std::string>& words, const std::string& in = "") {
    const Said said = run(words, in);
    INFO(said.err);
    REQUIRE(said.code <= 1);
    return Json::parse(said.out);
}

inline std::vector<std::string> keys_of(const Json& object) {
    std::vector<std::string> keys;
    for (const auto& [key, value] : object.items()) keys.push_back(key);
    return keys;
}

inline std::string last_line(const std::string& text) {
    if (text.empty() || text.back() != '\n') return "(no newline at the end)";
    const std::string body = text.substr(0, text.size() - 1);
    const std::size_t at = body.rfind('\n');
    return at == std::string::npos ? body : body.substr(at + 1);
}

inline bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace door
