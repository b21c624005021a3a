// Where things are kept, by the XDG Base Directory Specification 0.8 (from memory): defaults below HOME; "all paths
// must be absolute; a relative path is to be considered invalid and ignored"; folders are made with mode 0700.
#include "base/folders.h"

#include <doctest/doctest.h>
#include <sys/stat.h>

#include <map>

#include "base/scratch.h"

using namespace offsquare;
using base::folders_of;

namespace {

base::Environment with(std::map<std::string, std::string> variables) {
    return [variables](const std::string& name) {
        const auto found = variables.find(name);
        return found == variables.end() ? std::nullopt : std::optional<std::string>(found->second);
    };
}

}  // namespace

TEST_CASE("folders: below HOME when nothing else is said") {
    const auto p = folders_of(with({{"HOME", "/home/x"}}));
    CHECK(p.config == "/home/x/.config/offsquare");
    CHECK(p.state == "/home/x/.local/state/offsquare");
    CHECK(p.data == "/home/x/.local/share/offsquare");
}

TEST_CASE("folders: each variable counts for itself") {
    const auto p = folders_of(
        with({{"HOME", "/home/x"}, {"XDG_CONFIG_HOME", "/c"}, {"XDG_STATE_HOME", "/s"}, {"XDG_DATA_HOME", "/d/"}}));
    CHECK(p.config == "/c/offsquare");
    CHECK(p.state == "/s/offsquare");
    CHECK(p.data == "/d/offsquare");
    CHECK(folders_of(with({{"XDG_STATE_HOME", "/s"}})).state == "/s/offsquare");
    CHECK(folders_of(with({{"XDG_STATE_HOME", "/s"}})).config.empty());
}

TEST_CASE("folders: empty and relative variables are ignored") {
    for (const char* useless : {"", "config", "./config", "../config", "~/.config"}) {
        CAPTURE(useless);
        CHECK(folders_of(with({{"HOME", "/home/x"}, {"XDG_CONFIG_HOME", useless}})).config ==
              "/home/x/.config/offsquare");
        CHECK(folders_of(with({{"HOME", useless}})).config.empty());
        CHECK(folders_of(with({{"HOME", useless}, {"XDG_CONFIG_HOME", useless}})).config.empty());
    }
    CHECK(folders_of(with({})).data.empty());
}

TEST_CASE("a folder is made with all that leads to it, for this person alone; a second time it is there") {
    const scratch::Folder folder;
    REQUIRE(base::make_folder(folder.path / "a/b/c"));
    for (const char* made : {"a", "a/b", "a/b/c"}) {
        struct stat info {};
        REQUIRE(::stat((folder / made).c_str(), &info) == 0);
        CHECK((info.st_mode & 0777U) == 0700U);
    }
    CHECK(base::make_folder(folder.path / "a/b/c"));
    scratch::write(folder / "file", "");
    CHECK(base::make_folder(folder.path / "file/x").error().grade == base::Grade::cannot_create);
    CHECK(base::make_folder(folder.path / "file").error().message.find("cannot be made") != std::string::npos);
    CHECK(base::make_folder({}).error().message.find("HOME is not set") != std::string::npos);
}
