#include "session/form.h"

#include <cmath>

#include <nlohmann/json.hpp>

namespace offsquare::session {

tl::unexpected<base::Problem> bad_form(std::string what) { return base::fail(base::Grade::bad_data, std::move(what)); }

std::string word(const Json& json, const char* key) {
    return json.contains(key) && json[key].is_string() ? json[key].get<std::string>() : std::string();
}

std::optional<double> real(const Json& json, const char* key) {
    if (!json.contains(key) || !json[key].is_number()) return std::nullopt;
    const double value = json[key].get<double>();
    return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

base::Result<shim::At> at_of(const Json& json) {
    const std::string at = word(json, "at");
    if (at == "left") return shim::At::left;
    if (at == "right") return shim::At::right;
    return bad_form("a shim needs \"at\":\"left\" or \"right\"");
}

}  // namespace offsquare::session
