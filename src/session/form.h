// What the forms of actions in a file share: one JSON object a line.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "base/result.h"
#include "shim/propose.h"

namespace offsquare::session {

using Json = nlohmann::ordered_json;

/// What is wrong with the form of an action; log.cpp adds file and line. Grade::bad_data.
tl::unexpected<base::Problem> bad_form(std::string what);

std::string word(const Json& json, const char* key);            ///< empty: not there, or no text
std::optional<double> real(const Json& json, const char* key);  ///< empty: not there, no number, or not finite
base::Result<shim::At> at_of(const Json& json);                 ///< "at": "left" or "right"

}  // namespace offsquare::session
