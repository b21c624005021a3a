// The house as its rules see it: source files with their includes, read off the source text. Works on any tree.
#pragma once

#include <algorithm>
#include <array>
#include <cctype>
#include <deque>
#include <filesystem>
#include <fstream>
#include <initializer_list>
#include <map>
#include <optional>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

namespace house {

namespace fs = std::filesystem;

/// One breach: "src/shim/propose.cpp:7: the lock: ..."
struct Breach {
    std::string file;
    int line = 0;
    std::string rule;  ///< a short name, the same for all breaches of one rule
    std::string what;
};

struct Include {
    int line = 0;
    std::string path;
    bool quoted = false;
};

struct Source {
    std::string path;               ///< from src/, with '/'
    std::string room;               ///< empty for files that stand in src/ itself
    std::vector<std::string> raw;   ///< the lines as written
    std::vector<std::string> code;  ///< the lines without comments and without what stands in strings
    std::vector<Include> includes;
};

/// The corridor, in order. cli and gui are doors at its end and do not know each other.
inline const std::vector<std::string>& rooms() {
    static const std::vector<std::string> list{"base",     "shop",   "contact",  "cut",     "measure",
                                               "diagnose", "shim",   "scenario", "session", "saws",
                                               "study",    "lesson", "picture",  "cli",     "gui"};
    return list;
}

inline int place_of(const std::string& room) {
    const auto found = std::find(rooms().begin(), rooms().end(), room);
    return found == rooms().end() ? -1 : static_cast<int>(found - rooms().begin());
}

inline bool one_of(const std::string& word, std::initializer_list<std::string_view> list) {
    return std::find(list.begin(), list.end(), word) != list.end();
}

inline std::vector<std::string> lines_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

/// Blanks comments and the inside of string and character literals, line by line. Raw strings are followed to their
/// end.
class Stripper {
public:
    std::string strip(const std::string& line) {
        std::string out;
        for (std::size_t i = 0; i < line.size();) i = step(line, i, out);
        return out;
    }

private:
    std::size_t step(const std::string& line, std::size_t i, std::string& out) {
        if (in_comment_) return leave(line, i, "*/", in_comment_);
        if (in_raw_) return leave(line, i, raw_end_, in_raw_);
        if (line.compare(i, 2, "//") == 0) return line.size();
        if (line.compare(i, 2, "/*") == 0) {
            in_comment_ = true;
            return i + 2;
        }
        if (line.compare(i, 2, "R\"") == 0) return enter_raw(line, i);
        if (line[i] == '"' || (line[i] == '\'' && !digit_before(line, i))) return skip_literal(line, i, out);
        out += line[i];
        return i + 1;
    }
    static bool digit_before(const std::string& line, std::size_t i) {  // 1'000'000
        return i > 0 && std::isalnum(static_cast<unsigned char>(line[i - 1])) != 0;
    }
    static std::size_t leave(const std::string& line, std::size_t i, const std::string& end, bool& inside) {
        const std::size_t at = line.find(end, i);
        if (at == std::string::npos) return line.size();
        inside = false;
        return at + end.size();
    }
    std::size_t enter_raw(const std::string& line, std::size_t i) {
        const std::size_t open = line.find('(', i);
        if (open == std::string::npos) return line.size();
        raw_end_ = ")" + line.substr(i + 2, open - i - 2) + "\"";
        in_raw_ = true;
        return open + 1;
    }
    static std::size_t skip_literal(const std::string& line, std::size_t i, std::string& out) {
        const char quote = line[i];
        out += quote;
        for (++i; i < line.size() && line[i] != quote; ++i)
            if (line[i] == '\\') ++i;
        out += quote;
        return i + 1;
    }

    bool in_comment_ = false;
    bool in_raw_ = false;
    std::string raw_end_;
};

/// `#include <x>` or `#include "x"` on a line, also with blanks in odd places.
inline std::optional<Include> include_on(const std::string& line, int number) {
    std::size_t i = line.find_first_not_of(" \t");
    if (i == std::string::npos || line[i] != '#') return std::nullopt;
    i = line.find_first_not_of(" \t", i + 1);
    if (i == std::string::npos || line.compare(i, 7, "include") != 0) return std::nullopt;
    i = line.find_first_of("<\"", i + 7);
    if (i == std::string::npos) return std::nullopt;
    const std::size_t end = line.find(line[i] == '<' ? '>' : '"', i + 1);
    if (end == std::string::npos) return std::nullopt;
    return Include{number, line.substr(i + 1, end - i - 1), line[i] == '"'};
}

inline bool is_cpp(const fs::path& path) {
    return one_of(path.extension().string(), {".h", ".cpp", ".hpp", ".cc", ".inl", ".ipp"});
}

inline Source read_source(const fs::path& file, const fs::path& src) {
    Source source;
    source.path = fs::relative(file, src).generic_string();
    const std::size_t slash = source.path.find('/');
    source.room = slash == std::string::npos ? "" : source.path.substr(0, slash);
    source.raw = lines_of(file);
    Stripper stripper;
    for (std::size_t i = 0; i < source.raw.size(); ++i) {
        source.code.push_back(stripper.strip(source.raw[i]));
        // An include that stands in a comment is none: the hash is gone from the stripped line.
        if (source.code.back().find('#') == std::string::npos) continue;
        if (const auto include = include_on(source.raw[i], static_cast<int>(i) + 1))
            source.includes.push_back(*include);
    }
    return source;
}

using Tree = std::map<std::string, Source>;  ///< by path from src/

inline Tree read_tree(const fs::path& src) {
    Tree tree;
    for (const auto& entry : fs::recursive_directory_iterator(src)) {
        if (!entry.is_regular_file() || !is_cpp(entry.path())) continue;
        Source source = read_source(entry.path(), src);
        tree.emplace(source.path, std::move(source));
    }
    return tree;
}

inline std::string room_of_path(const std::string& path) {
    return path.substr(0, std::min(path.find('/'), path.size()));
}

inline bool starts_with_one_of(const std::string& path, const std::vector<std::string>& heads) {
    return std::any_of(heads.begin(), heads.end(), [&](const std::string& head) { return path.rfind(head, 0) == 0; });
}

using Breaches = std::vector<Breach>;

inline void add(Breaches& out, const Source& s, int line, const char* rule, const std::string& what) {
    out.push_back({"src/" + s.path, line, rule, what});
}

/// The headers that the build makes: CMakeLists.txt names each as ".../made/NAME".
inline std::set<std::string> made_by_the_build(const fs::path& root) {
    const std::string mark = "/made/";
    std::set<std::string> names;
    for (const std::string& line : lines_of(root / "CMakeLists.txt"))
        for (std::size_t at = line.find(mark); at != std::string::npos; at = line.find(mark, at + 1)) {
            const std::size_t begin = at + mark.size();
            names.insert(line.substr(begin, line.find_first_of(" \t\")", begin) - begin));
        }
    return names;
}

inline bool name_char(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }

/// Where `word` stands in `line` as a whole name; npos: nowhere.
inline std::size_t find_name(const std::string& line, const std::string& word, std::size_t from = 0) {
    for (std::size_t at = line.find(word, from); at != std::string::npos; at = line.find(word, at + 1)) {
        const std::size_t end = at + word.size();
        if ((at == 0 || !name_char(line[at - 1])) && (end == line.size() || !name_char(line[end]))) return at;
    }
    return std::string::npos;
}

inline std::string text_of(const Breach& b) {
    return b.file + ":" + std::to_string(b.line) + ": " + b.rule + ": " + b.what;
}

}  // namespace house
