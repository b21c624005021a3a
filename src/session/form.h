// What the forms of actions in a file share: one JSON object a line.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shim/propose.h"

namespace offsquare::session {

using Json = nlohmann::ordered_json;

/// What is wrong with the form of an action, and at which of its keys; log.cpp adds file, line and column.
/// Grade::bad_data.
tl::unexpected<base::Problem> bad_form(std::string key, std::string what);

std::string word(const Json& json, const char* key);            ///< empty: not there, or no text
std::optional<double> real(const Json& json, const char* key);  ///< empty: not there, no number, or not finite
base::Result<shim::At> at_of(const Json& json);                 ///< "at": "left" or "right"

/// One line of a file as a JSON object. Grade::bad_data, `no_object` as its message: it is none; or it is nested deeper
/// than any line that we write, and says so.
base::Result<Json> object_of(std::string_view line, std::string_view no_object);

/// The lines of a file, without their ends; what follows the last end is a line only if there is something.
std::vector<std::string_view> lines_of(std::string_view text);

/// Where in a line the value of a key stands, or of a key in that value: its first character, counted from 1 in
/// characters and not in bytes. Where the line has no such key: its action's name, or 1. The line is a JSON object,
/// else 1.
std::size_t column_of(std::string_view line, std::initializer_list<std::string_view> keys);
/// Where reading a line as JSON stops: the last character of what does not belong there.
std::size_t column_of_fault(std::string_view line);

}  // namespace offsquare::session
