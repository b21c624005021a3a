#include "session/form.h"

#include <algorithm>
#include <cmath>

#include <nlohmann/json.hpp>

namespace offsquare::session {
namespace {

/// Characters, not bytes: those that follow within one are not counted.
std::size_t characters(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

/// Walks through a line of JSON that holds together.
class Walk {
public:
    explicit Walk(std::string_view line) : line_(line) {}

    /// The byte where the value of this key of the object at `from` begins; of the last one, if there are several.
    std::optional<std::size_t> value_of(std::string_view key, std::size_t from) {
        at_ = from;
        blank();
        std::optional<std::size_t> found;
        if (now() != '{') return found;
        ++at_;
        for (blank(); now() == '"'; blank()) {
            const std::size_t name = at_;
            value();
            const bool wanted = line_.substr(name + 1, at_ - name - 2) == key;
            blank();
            ++at_;  // the colon
            blank();
            if (wanted) found = at_;
            value();
            blank();
            if (now() == ',') ++at_;
        }
        return found;
    }

private:
    char now() const { return at_ < line_.size() ? line_[at_] : '\0'; }
    void blank() {
        while (now() == ' ' || now() == '\t' || now() == '\r') ++at_;
    }
    void text() {
        for (++at_; at_ < line_.size() && line_[at_] != '"'; ++at_) {
            if (line_[at_] == '\\') ++at_;
        }
        at_ = std::min(at_ + 1, line_.size());
    }
    /// Behind the value that begins here.
    void value() {
        int depth = 0;
        do {
            const char c = now();
            if (c == '"') text();
            else if (c == '{' || c == '[') ++depth, ++at_;
            else if (c == '}' || c == ']') --depth, ++at_;
            else if (depth > 0) ++at_;
            else at_ = std::min(line_.find_first_of(",}] \t\r", at_), line_.size());
        } while (depth > 0 && at_ < line_.size());
    }

    std::string_view line_;
    std::size_t at_ = 0;
};

}  // namespace

std::size_t column_of(std::string_view line, std::initializer_list<std::string_view> keys) {
    Walk walk(line);
    std::size_t from = 0;
    for (const std::string_view key : keys) {
        const auto place = walk.value_of(key, from);
        // The nearest thing that is there: the value that lacks the key, or the action that does.
        if (!place) return from > 0 ? 1 + characters(line.substr(0, from)) : key == "do" ? 1 : column_of(line, {"do"});
        from = *place;
    }
    return 1 + characters(line.substr(0, from));
}

std::size_t column_of_fault(std::string_view line) {
    try {
        [[maybe_unused]] const Json whole = Json::parse(line.begin(), line.end());
    } catch (const Json::parse_error& error) {
        return std::max<std::size_t>(1, characters(line.substr(0, error.byte)));
    } catch (const Json::exception&) {
    }
    return 1;
}

base::Result<Json> object_of(std::string_view line, std::string_view no_object) {
    constexpr int deepest = 16;
    bool too_deep = false;
    const auto guard = [&](int depth, Json::parse_event_t, Json&) {
        too_deep = too_deep || depth > deepest;
        return !too_deep;
    };
    Json json = Json::parse(line.begin(), line.end(), guard, false);
    if (too_deep) return bad_form("", "the line is nested too deeply; the lines of our files are flat");
    if (json.is_discarded() || !json.is_object()) return bad_form("", std::string(no_object));
    return json;
}

tl::unexpected<base::Problem> bad_form(std::string key, std::string what) {
    return tl::unexpected<base::Problem>({base::Grade::bad_data, std::move(what), std::move(key)});
}

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
    return bad_form("at", "a shim needs \"at\":\"left\" or \"right\"");
}

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        lines.push_back(text.substr(0, end));
        text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
    }
    return lines;
}

}  // namespace offsquare::session
