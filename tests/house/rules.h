// The rules of the house, read off the source text: which room may know which, which library lives where, which calls
// would make results depend on the machine. What is hidden from whom stands in lock.h. Works on any tree, so that a
// false tree can prove that each rule bites.
#pragma once

#include "lock.h"
#include "tree.h"

namespace house {

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
        {"the JSON library", {"nlohmann/"}, {"session", "saws", "lesson", "cli"}},
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
    static const std::vector<std::string> list{"sin",  "cos",   "tan",  "asin", "acos",  "atan",  "atan2",  "exp",
                                               "exp2", "expm1", "log",  "log2", "log10", "log1p", "pow",    "sinh",
                                               "cosh", "tanh",  "cbrt", "erf",  "erfc",  "hypot", "tgamma", "lgamma"};
    return list;
}

/// From shop to session nothing may depend on the C library's last bit; from base to lesson nothing on the clock or on
/// library randomness.
inline Breaches check_calls(const Tree& tree) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        const int place = place_of(s.room);
        const bool exact = place >= place_of("shop") && place <= place_of("session");
        const bool pure = place >= 0 && place <= place_of("lesson");
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

// ---- every file has what it names ----

/// The headers of the house that a file gets, itself included; `tree` by path.
inline std::set<std::string> reached_from(const Tree& tree, const std::string& path) {
    std::set<std::string> all{path};
    for (std::deque<std::string> open{path}; !open.empty(); open.pop_front()) {
        const auto found = tree.find(open.front());
        if (found == tree.end()) continue;
        for (const Include& next : found->second.includes)
            if (all.insert(next.path).second) open.push_back(next.path);
    }
    return all;
}

/// The names that a line has from a room: of "scenario::load(x)" and "scenario", {"load"}.
inline std::vector<std::string> names_from(const std::string& line, const std::string& room) {
    std::vector<std::string> names;
    for (std::size_t at = find_name(line, room); at != std::string::npos; at = find_name(line, room, at + 1)) {
        std::size_t begin = at + room.size();
        if (line.compare(begin, 2, "::") != 0) continue;
        const std::size_t end =
            std::find_if_not(line.begin() + static_cast<std::ptrdiff_t>(begin += 2), line.end(), name_char) -
            line.begin();
        if (end > begin) names.push_back(line.substr(begin, end - begin));
    }
    return names;
}

/// Whether `name` stands as a name in one of these files.
inline bool stands_in(const Tree& tree, const std::set<std::string>& paths, const std::string& room,
                      const std::string& name) {
    return std::any_of(paths.begin(), paths.end(), [&](const std::string& path) {
        const auto found = tree.find(path);
        if (found == tree.end() || found->second.room != room) return false;
        const std::vector<std::string>& code = found->second.code;
        return std::any_of(code.begin(), code.end(),
                           [&](const std::string& line) { return find_name(line, name) != std::string::npos; });
    });
}

/// Whether a file declares something of a room itself: "namespace offsquare::scenario {".
inline bool declares(const Source& s, const std::string& room) {
    return std::any_of(s.code.begin(), s.code.end(), [&](const std::string& line) {
        return line.find("namespace offsquare::" + room + " {") != std::string::npos;
    });
}

/// What a file names of another room stands in a header that it includes, itself or through others. The tests compile
/// many files as one, where a header can live on what an earlier file included; the program as it ships is compiled
/// file by file.
inline Breaches check_reach(const Tree& tree) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        const std::set<std::string> reached = reached_from(tree, path);
        for (const std::string& room : rooms()) {
            if (room == s.room || declares(s, room)) continue;
            for (std::size_t n = 0; n < s.code.size(); ++n)
                for (const std::string& name : names_from(s.code[n], room))
                    if (!stands_in(tree, reached, room, name))
                        add(out, s, static_cast<int>(n) + 1, "includes what it names",
                            room + "::" + name + " is in no header of " + room + "/ that this file includes");
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
    for (const Breaches& some : {check_arrows(tree, made), check_locks(tree), check_words(tree), check_lodgers(tree),
                                 check_calls(tree), check_reach(tree), check_texts(root, "src"),
                                 check_texts(root, "tests"), check_headers(tree), check_top(root)})
        out.insert(out.end(), some.begin(), some.end());
    return out;
}

}  // namespace house
