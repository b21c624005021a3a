// The rules of the house, read off the source text: which room may know which, which library lives where, which calls
// would make results depend on the machine. Works on any tree, so that a false tree can prove that each rule bites.
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
    static const std::vector<std::string> list{"base",   "shop",     "contact", "cut",   "measure", "diagnose", "shim",
                                               "lesson", "scenario", "session", "study", "picture", "cli",      "gui"};
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

// ---- the arrows ----

/// Every quoted include names a file of the house in full, "room/file.h" (`made` lists what the build makes), and looks
/// back, never forward.
inline Breaches check_arrows(const Tree& tree, const std::set<std::string>& made = {}) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        const bool door_keeper = path == "main.cpp";
        if (!door_keeper && place_of(s.room) < 0)
            add(out, s, 1, "known rooms", "'" + s.room + "' is no room of the house");
        for (const Include& i : s.includes) {
            const std::string to = room_of_path(i.path);
            if (!i.quoted) {
                if (tree.count(i.path) != 0)
                    add(out, s, i.line, "own files in quotes", "<" + i.path + "> is ours: write \"" + i.path + "\"");
                else if (i.path.find("../") != std::string::npos)
                    add(out, s, i.line, "full names", "<" + i.path + ">: no way around by ..");
                continue;
            }
            if (tree.count(i.path) == 0 && made.count(i.path) == 0) {
                add(out, s, i.line, "full names",
                    "\"" + i.path + "\" is no file under src/: own headers are included as \"room/file.h\"");
            } else if (!door_keeper && place_of(to) > place_of(s.room)) {
                add(out, s, i.line, "look back, never forward",
                    s.room + " includes \"" + i.path + "\", and " + to + " comes later");
            } else if ((s.room == "cli" && to == "gui") || (s.room == "gui" && to == "cli")) {
                add(out, s, i.line, "doors apart",
                    s.room + " includes \"" + i.path + "\": cli and gui do not know each other");
            }
        }
    }
    return out;
}

inline bool behind_the_lock(const std::string& header) {
    return header == "shop/truth.h" || starts_with_one_of(header, {"contact/", "cut/"});
}

/// diagnose/ and shim/ see no truth: not shop/truth.h, not contact/, not cut/, and not through another header either.
inline Breaches check_lock(const Tree& tree) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        if (s.room != "diagnose" && s.room != "shim") continue;
        for (const Include& first : s.includes) {
            std::map<std::string, std::string> chain{{first.path, first.path}};
            std::deque<std::string> open{first.path};
            for (; !open.empty(); open.pop_front()) {
                const std::string header = open.front();
                if (behind_the_lock(header))
                    add(out, s, first.line, "the lock",
                        s.room + " must not see the truth, but gets it by " + chain[header]);
                const auto found = tree.find(header);
                if (found == tree.end()) continue;
                for (const Include& next : found->second.includes)
                    if (chain.emplace(next.path, chain[header] + " -> " + next.path).second) open.push_back(next.path);
            }
        }
    }
    return out;
}

/// Each library with a room of its own stays there.
struct Lodger {
    const char* name;
    std::vector<std::string> headers;  ///< how its includes begin
    std::vector<std::string> rooms;
};

inline const std::vector<Lodger>& lodgers() {
    static const std::vector<Lodger> list{
        {"Box2D", {"box2d/", "Box2D/", "b2_"}, {"contact"}},
        {"the TOML library", {"toml++/", "toml.h", "toml/"}, {"scenario"}},
        {"SFML", {"SFML/"}, {"gui"}},
        {"Dear ImGui", {"imgui", "imstb", "stb"}, {"gui"}},
        {"OpenGL and X", {"GL/", "X11/"}, {"gui"}},
        {"the JSON library", {"nlohmann/"}, {"session", "cli"}},
        {"CLI11", {"CLI/"}, {"cli"}},
        {"cairo and pango", {"cairo", "pango/"}, {"picture"}},
    };
    return list;
}

inline Breaches check_lodgers(const Tree& tree) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        for (const Include& i : s.includes) {
            for (const Lodger& l : lodgers())
                if (tree.count(i.path) == 0 && starts_with_one_of(i.path, l.headers) &&
                    std::find(l.rooms.begin(), l.rooms.end(), s.room) == l.rooms.end())
                    add(out, s, i.line, "libraries in their rooms",
                        std::string(l.name) + " (" + i.path + ") belongs only in " + l.rooms.front() + "/");
            if (i.path == "iostream" && s.room != "cli" && path != "main.cpp")
                add(out, s, i.line, "streams at the door", "<iostream> only in cli/ and main.cpp");
        }
    }
    return out;
}

// ---- same bytes everywhere ----

inline bool name_char(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }

/// Where `word` stands in `line` as a whole name; npos: nowhere.
inline std::size_t find_name(const std::string& line, const std::string& word, std::size_t from = 0) {
    for (std::size_t at = line.find(word, from); at != std::string::npos; at = line.find(word, at + 1)) {
        const std::size_t end = at + word.size();
        if ((at == 0 || !name_char(line[at - 1])) && (end == line.size() || !name_char(line[end]))) return at;
    }
    return std::string::npos;
}

/// `name` called as a function of the C library: std::name( or ::name( or a bare name( that is no member and no other
/// namespace's.
inline bool calls_library(const std::string& line, const std::string& name) {
    for (std::size_t at = find_name(line, name); at != std::string::npos; at = find_name(line, name, at + 1)) {
        const std::size_t after = line.find_first_not_of(" \t", at + name.size());
        if (after == std::string::npos || line[after] != '(') continue;
        const std::string before = line.substr(0, at);
        if (before.size() >= 5 && before.compare(before.size() - 5, 5, "std::") == 0) return true;
        if (before.size() >= 2 && before.compare(before.size() - 2, 2, "::") == 0) {
            if (before.size() == 2 || !name_char(before[before.size() - 3])) return true;
            continue;
        }
        const std::size_t last = before.find_last_not_of(" \t");
        // After a name stands a declaration ("double exp(") or "return exp("; after '.' or '>' a member.
        if (last == std::string::npos || (!name_char(before[last]) && before[last] != '.' && before[last] != '>'))
            return true;
        if (last >= 5 && before.compare(last - 5, 6, "return") == 0) return true;
    }
    return false;
}

/// Functions whose last bit the C library may choose; base/elementary.h has our own. (sqrt, abs, floor, round, fmod and
/// the like are exact.)
inline const std::vector<std::string>& inexact_functions() {
    static const std::vector<std::string> list{"sin",  "cos",   "tan",  "asin", "acos",  "atan",   "atan2", "exp",
                                               "exp2", "expm1", "log",  "log2", "log10", "log1p",  "pow",   "sinh",
                                               "cosh", "tanh",  "cbrt", "erf",  "erfc",  "tgamma", "lgamma"};
    return list;
}

/// From shop to session nothing may depend on the C library's last bit; from base to study nothing on the clock or on
/// library randomness.
inline Breaches check_calls(const Tree& tree) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        const int place = place_of(s.room);
        const bool exact = place >= place_of("shop") && place <= place_of("session");
        const bool pure = place >= 0 && place <= place_of("study");
        for (std::size_t n = 0; n < s.code.size(); ++n) {
            const int line = static_cast<int>(n) + 1;
            for (const char* name : {"system_clock", "steady_clock", "high_resolution_clock", "random_device",
                                     "mt19937", "mt19937_64", "default_random_engine", "normal_distribution",
                                     "uniform_real_distribution", "uniform_int_distribution"})
                if (pure && find_name(s.code[n], name) != std::string::npos)
                    add(out, s, line, "pure corridor",
                        std::string(name) + ": a trial is a function of scenario, actions and seed (base/random.h)");
            for (const char* name : {"rand", "srand", "time", "clock"})
                if (pure && calls_library(s.code[n], name))
                    add(out, s, line, "pure corridor",
                        std::string(name) + "(): a trial is a function of scenario, actions and seed (base/random.h)");
            for (const std::string& name : inexact_functions())
                if (exact && calls_library(s.code[n], name))
                    add(out, s, line, "same bits everywhere", name + "() of the C library: use base/elementary.h");
        }
    }
    return out;
}

// ---- order in the house ----

inline const std::vector<std::string>& open_work_words() {  // in halves, or this file would breach its own rule
    static const std::vector<std::string> list{std::string("TO") + "DO", std::string("FIX") + "ME",
                                               std::string("XX") + "X", std::string("HA") + "CK"};
    return list;
}

/// No left-over notes and no file longer than can be read at one sitting, in any text under `folder` ("src" or
/// "tests").
inline Breaches check_texts(const fs::path& root, const std::string& folder, std::size_t most_lines = 500) {
    Breaches out;
    for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
        if (!entry.is_regular_file()) continue;
        const std::string name = fs::relative(entry.path(), root).generic_string();
        const std::vector<std::string> lines = lines_of(entry.path());
        if (is_cpp(entry.path()) && lines.size() > most_lines)
            out.push_back({name, static_cast<int>(most_lines) + 1, "short files",
                           std::to_string(lines.size()) + " lines, at most " + std::to_string(most_lines)});
        for (std::size_t n = 0; n < lines.size(); ++n)
            for (const std::string& word : open_work_words())
                if (find_name(lines[n], word) != std::string::npos)
                    out.push_back({name, static_cast<int>(n) + 1, "nothing left open", "'" + word + "' stands here"});
    }
    return out;
}

/// A header says first what it is for; `#pragma once` may stand before or after.
inline Breaches check_headers(const Tree& tree) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        if (fs::path(path).extension() != ".h") continue;
        std::size_t n = 0;
        while (n < s.raw.size() && (s.raw[n].empty() || s.raw[n].rfind("#pragma once", 0) == 0)) ++n;
        if (n == s.raw.size() || (s.raw[n].rfind("//", 0) != 0 && s.raw[n].rfind("/*", 0) != 0))
            add(out, s, static_cast<int>(n) + 1, "headers speak first",
                "a header starts with a comment that says what it is for");
        if (std::find(s.raw.begin(), s.raw.end(), "#pragma once") == s.raw.end())
            add(out, s, 1, "read once", "#pragma once is missing");
    }
    return out;
}

/// The top level holds what everybody expects there, and nothing else. What git ignores by .gitignore (build/) may lie
/// about.
inline Breaches check_top(const fs::path& root) {
    Breaches out;
    for (const auto& entry : fs::directory_iterator(root)) {
        const std::string name = entry.path().filename().string();
        if (name.front() == '.' || one_of(name, {"CMakeLists.txt", "CMakePresets.json", "README.md", "DEVELOPERS.md",
                                                 "LICENSE", "src", "assets", "tests", "scenarios", "build"}))
            continue;
        out.push_back({name, 1, "a tidy top level", "'" + name + "' does not belong beside CMakeLists.txt"});
    }
    return out;
}

/// Everything, for one root with src/ and tests/ in it.
inline Breaches check_house(const fs::path& root, const std::set<std::string>& made = {}) {
    const Tree tree = read_tree(root / "src");
    Breaches out;
    for (const Breaches& some :
         {check_arrows(tree, made), check_lock(tree), check_lodgers(tree), check_calls(tree), check_texts(root, "src"),
          check_texts(root, "tests"), check_headers(tree), check_top(root)})
        out.insert(out.end(), some.begin(), some.end());
    return out;
}

inline std::string text_of(const Breach& b) {
    return b.file + ":" + std::to_string(b.line) + ": " + b.rule + ": " + b.what;
}

}  // namespace house
