// What is hidden, from whom, and by which door it may be looked at. Every lock is a closed list: a file that is not
// named may not look, and a new file is locked out until somebody writes its name here.
#pragma once

#include "tree.h"

namespace house {

/// Headers that may be reached, directly or through any other header, only from some rooms and some files.
struct Lock {
    const char* name;                 ///< of the rule
    std::vector<std::string> behind;  ///< headers, or the beginning of their names
    std::vector<std::string> rooms;   ///< whole rooms that may; "" is main.cpp
    std::vector<std::string> files;   ///< and these, by is_named
    const char* why;
};

/// The actions, and what carries them out: the only ones that change a saw.
inline const std::vector<std::string>& makers_of_events() {
    static const std::vector<std::string> list{"session/saw.h",
                                               "session/state.h",
                                               "session/state.cpp",
                                               "session/history.cpp",
                                               "session/actions/cut_test.cpp",
                                               "session/actions/make_check.cpp",
                                               "session/actions/read_strip.cpp",
                                               "session/actions/repair.cpp",
                                               "session/actions/set_value.cpp",
                                               "session/actions/shims.cpp",
                                               "session/actions/type_readings.cpp",
                                               "session/actions/work_out.cpp",
                                               "session/reveal.cpp",
                                               "session/watch.cpp"};
    return list;
}

inline std::vector<std::string> with(std::vector<std::string> list, std::initializer_list<const char*> more) {
    list.insert(list.end(), more.begin(), more.end());
    return list;
}

inline const std::vector<Lock>& locks() {
    static const std::vector<Lock> list{
        {"the lock",
         {"shop/truth.h", "contact/", "cut/"},
         {"", "base", "shop", "contact", "cut", "measure", "scenario", "session", "saws", "study", "lesson", "picture",
          "cli", "gui"},
         {},
         "who diagnoses and who shims must not see the truth"},
        // diagnose and shim are held by the lock above. study and lesson get what they need by reveal; the examiner of
        // a lesson, once there is one, may be named here.
        {"the truth",
         {"shop/truth.h"},
         {"shop", "contact", "cut", "measure", "diagnose", "shim"},
         with(makers_of_events(),
              {"scenario/schema.cpp", "scenario/readings.cpp",
               // These assume a saw, or are handed one, and never see the one of the session.
               "session/model.cpp", "session/slide.cpp", "session/push_record.cpp", "session/as_known.cpp"}),
         "only what simulates and what makes events sees the truth"},
        {"the saw",
         {"session/saw.h", "session/state.h"},
         {},
         makers_of_events(),
         "only what makes events, reveal and watch see the saw behind a history"},
        {"reveal",
         {"session/reveal.h"},
         {},
         {"session/reveal.cpp", "session/as_known.cpp", "picture/draw_truth.cpp", "picture/scene.cpp",
          "picture/drag.cpp", "lesson/truth_of.cpp", "cli/cut.cpp", "cli/json.cpp", "cli/picture.cpp", "cli/report.cpp",
          "gui/bench.cpp", "gui/setup_panel.cpp", "gui/working_panel.cpp"},
         "the truth is for who has asked for it"},
        {"watch",
         {"session/watch.h"},
         {},
         {"session/watch.cpp", "cli/push.cpp", "gui/pushing.cpp"},
         "what moves under a hand is seen only where a hand moves it"},
        {"the scenario's own headers",
         {"scenario/schema.h", "scenario/value.h", "scenario/raw.h", "scenario/take.h", "scenario/rules.h"},
         {"scenario"},
         {"session/reveal.cpp"},
         "they find every value of a scenario, hidden ones too"},
    };
    return list;
}

/// In gui/, which has folders, "gui/bench.cpp" names gui/bench.cpp and gui/state/bench.cpp; elsewhere a name is a path.
inline bool is_named(const std::string& path, const std::string& name) {
    const auto file_of = [](const std::string& p) { return p.substr(p.rfind('/') + 1); };
    return path == name ||
           (room_of_path(path) == "gui" && room_of_path(name) == "gui" && file_of(path) == file_of(name));
}

inline bool may(const Source& s, const std::vector<std::string>& rooms, const std::vector<std::string>& files) {
    return std::find(rooms.begin(), rooms.end(), s.room) != rooms.end() ||
           std::any_of(files.begin(), files.end(), [&](const std::string& f) { return is_named(s.path, f); });
}

/// The shortest way from an include to something behind the lock, "a.h -> b.h -> shop/truth.h"; empty: there is none.
inline std::string way_in(const Tree& tree, const std::string& first, const Lock& lock) {
    std::map<std::string, std::string> chain{{first, first}};
    std::deque<std::string> open{first};
    for (; !open.empty(); open.pop_front()) {
        const std::string header = open.front();
        if (starts_with_one_of(header, lock.behind)) return chain[header];
        const auto found = tree.find(header);
        if (found == tree.end()) continue;
        for (const Include& next : found->second.includes)
            if (chain.emplace(next.path, chain[header] + " -> " + next.path).second) open.push_back(next.path);
    }
    return "";
}

inline Breaches check_lock(const Tree& tree, const Lock& lock) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        if (may(s, lock.rooms, lock.files)) continue;
        for (const Include& first : s.includes)
            if (const std::string way = way_in(tree, first.path, lock); !way.empty())
                add(out, s, first.line, lock.name, std::string(lock.why) + ", but " + path + " gets it by " + way);
    }
    return out;
}

inline Breaches check_locks(const Tree& tree) {
    Breaches out;
    for (const Lock& lock : locks()) {
        const Breaches some = check_lock(tree, lock);
        out.insert(out.end(), some.begin(), some.end());
    }
    return out;
}

// ---- names ----

/// A name that opens a lock without any header of its own: who holds a history or a scenario could call it.
struct Word {
    const char* name;  ///< of the rule
    std::string word;
    bool member = false;             ///< only behind '.' or '->'
    std::vector<std::string> rooms;  ///< that may, whole
    std::vector<std::string> files;  ///< and these
    const char* why;
};

inline const std::vector<Word>& words() {
    // diagnose has a function of this name of its own and knows no history.
    static const std::vector<Word> list{
        {"the saw by name",
         "saw_of",
         false,
         {"diagnose"},
         {"session/saw.h", "session/history.h", "session/history.cpp", "session/reveal.cpp", "session/watch.cpp"},
         "only reveal and watch look at the saw behind a history"},
        {"the truth by name",
         "truth",
         true,
         {"shop", "contact", "cut", "measure", "scenario"},
         {"session/saw.h", "session/state.cpp", "session/actions/cut_test.cpp", "session/actions/read_strip.cpp",
          "session/actions/repair.cpp", "session/reveal.cpp", "session/watch.cpp"},
         "only what makes events, reveal and watch open the cover"},
        // The window keeps its settings by a function of the same name.
        {"saving",
         "to_text",
         false,
         {"scenario"},
         {"session/log.h", "session/log_form.cpp", "session/log.cpp", "lesson/hand_in.h", "lesson/hand_in.cpp",
          "cli/drill.cpp", "cli/job.cpp", "cli/saw.cpp", "gui/file_sheet.cpp", "gui/unsaved.cpp", "gui/keep.h",
          "gui/keep.cpp"},
         "the hidden errors stand in the text of a scenario and of a session: it is for files that are saved"},
    };
    return list;
}

inline bool says(const std::string& line, const Word& word) {
    for (std::size_t at = find_name(line, word.word); at != std::string::npos;
         at = find_name(line, word.word, at + 1)) {
        const std::size_t before = at == 0 ? std::string::npos : line.find_last_not_of(" \t", at - 1);
        const bool arrow = before != std::string::npos && before > 0 && line.compare(before - 1, 2, "->") == 0;
        if (!word.member || arrow || (before != std::string::npos && line[before] == '.')) return true;
    }
    return false;
}

inline Breaches check_word(const Tree& tree, const Word& word) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        if (may(s, word.rooms, word.files)) continue;
        for (std::size_t n = 0; n < s.code.size(); ++n)
            if (says(s.code[n], word)) add(out, s, static_cast<int>(n) + 1, word.name, word.word + ": " + word.why);
    }
    return out;
}

inline Breaches check_words(const Tree& tree) {
    Breaches out;
    for (const Word& word : words()) {
        const Breaches some = check_word(tree, word);
        out.insert(out.end(), some.begin(), some.end());
    }
    return out;
}

}  // namespace house
