// A folder for one test, removed again.
#pragma once

#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>

namespace scratch {

struct Folder {
    std::filesystem::path path;
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "offsquare-test-XXXXXX").string();
        path = ::mkdtemp(name.data());
    }
    ~Folder() {
        std::error_code none;
        std::filesystem::remove_all(path, none);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::string operator/(const std::string& name) const { return (path / name).string(); }
    std::set<std::string> names() const {
        std::set<std::string> all;
        for (const auto& entry : std::filesystem::directory_iterator(path))
            all.insert(entry.path().filename().string());
        return all;
    }
};

inline std::string text_of(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

inline void write(const std::string& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

using Names = std::set<std::string>;

}  // namespace scratch
