#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <optional>
#include <string>

#include <unistd.h>

#include "gui/kit/chooser.h"
#include "kit_support.h"

using namespace offsquare;
using namespace offsquare::gui;
namespace fs = std::filesystem;

namespace {

/// A folder with a few files, removed again.
struct Folder {
    fs::path path = fs::temp_directory_path() / ("offsquare-chooser-" + std::to_string(getpid()));
    Folder() {
        fs::create_directories(path / "Zebra");
        fs::create_directories(path / ".hidden");
        for (const char* name : {"b.toml", "A.TOML", "notes.txt", ".secret.toml"})
            std::ofstream(path / name) << "x = 1\n";
    }
    ~Folder() { fs::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
};

/// The chooser on a page, with what it answered.
struct Shown {
    Chooser chooser;
    std::optional<fs::path> chosen;
    Headless window{kit_test::small_window()};

    explicit Shown(ChooserOptions options) {
        chooser.open(std::move(options));
        window.frame([this](Kit& kit) {
            page_begin(kit, "page");
            if (auto path = chooser.draw(kit)) chosen = path;
            page_end(kit);
        });
        window.frames(10);
    }
};

}  // namespace

TEST_CASE("listing: folders first, then the files with the extension in either case, by name; hidden ones left out") {
    const Folder folder;
    const Listing listing = list_folder(folder.path, {".toml"});
    CHECK(listing.error.empty());
    REQUIRE(listing.entries.size() == 3);
    CHECK(listing.entries[0].name == "Zebra");
    CHECK(listing.entries[0].folder);
    CHECK(listing.entries[1].name == "A.TOML");
    CHECK(listing.entries[2].name == "b.toml");
    CHECK(listing.entries[2].bytes == 6);
    CHECK(list_folder(folder.path, {}).entries.size() == 4);
}

TEST_CASE("listing: a folder that is not there is an error in words") {
    const Listing listing = list_folder("/nowhere/at/all", {});
    CHECK(listing.entries.empty());
    CHECK(listing.error.find("/nowhere/at/all") != std::string::npos);
}

TEST_CASE("path: open wants a file, save wants a folder to put it in") {
    const Folder folder;
    const auto open = [&](std::string_view text) {
        return accept_path(text, folder.path, ChooserUse::open, {".toml"});
    };
    const auto save = [&](std::string_view text) {
        return accept_path(text, folder.path, ChooserUse::save, {".toml"});
    };
    REQUIRE(open(" b.toml "));
    CHECK(*open("b.toml") == folder.path / "b.toml");
    CHECK(*open((folder.path / "Zebra/../b.toml").string()) == folder.path / "b.toml");
    CHECK_FALSE(open(""));
    CHECK_FALSE(open("c.toml"));
    CHECK_FALSE(open("Zebra"));
    REQUIRE(save("new"));
    CHECK(*save("new") == folder.path / "new.toml");
    CHECK(*save("new.TOML") == folder.path / "new.TOML");
    CHECK_FALSE(save("Zebra"));
    CHECK_FALSE(save("none/new.toml"));
    CHECK(save("none/new.toml").error().grade == base::Grade::cannot_create);
}

TEST_CASE("chooser: a file is chosen by mouse") {
    const Folder folder;
    Shown shown({.title = "Open a scenario", .extensions = {".toml"}, .folder = folder.path});
    REQUIRE(shown.window.click("b.toml"));
    CHECK_FALSE(shown.chosen);
    REQUIRE(shown.window.click("Open file"));
    REQUIRE(shown.chosen);
    CHECK(*shown.chosen == folder.path / "b.toml");
    CHECK_FALSE(shown.chooser.is_open());
}

TEST_CASE("chooser: a file is chosen by keyboard alone, through a folder and back") {
    const Folder folder;
    Shown shown({.title = "Open a scenario", .extensions = {".toml"}, .folder = folder.path});
    REQUIRE(shown.window.tab_to("Zebra/"));
    shown.window.key(Key::enter);
    CHECK(shown.chooser.folder() == folder.path / "Zebra");
    REQUIRE(shown.window.tab_to("Up to the folder above"));
    shown.window.key(Key::space);
    CHECK(shown.chooser.folder() == folder.path);
    REQUIRE(shown.window.tab_to("A.TOML"));
    shown.window.key(Key::enter);
    REQUIRE(shown.chosen);
    CHECK(*shown.chosen == folder.path / "A.TOML");
}

TEST_CASE("chooser: a name that does not exist is told, and the sheet stays") {
    const Folder folder;
    Shown shown({.title = "Open a scenario", .extensions = {".toml"}, .folder = folder.path});
    REQUIRE(shown.window.click("File name"));
    shown.window.type("c.toml");
    shown.window.key(Key::enter);
    CHECK_FALSE(shown.chosen);
    CHECK(shown.window.record().says("There is no file"));
    CHECK(shown.chooser.is_open());
}

TEST_CASE("chooser: saving over a file asks first") {
    const Folder folder;
    Shown shown(
        {.title = "Save", .use = ChooserUse::save, .extensions = {".toml"}, .folder = folder.path, .name = "b"});
    REQUIRE(shown.window.click("Save file"));
    CHECK_FALSE(shown.chosen);
    CHECK(shown.window.record().says("This file exists"));
    REQUIRE(shown.window.click("Replace file"));
    REQUIRE(shown.chosen);
    CHECK(*shown.chosen == folder.path / "b.toml");
}

TEST_CASE("chooser: the cursor is in the file name when the sheet opens, a suggested name is chosen to be typed over") {
    const Folder folder;
    Shown shown({.title = "Open a scenario", .extensions = {".toml"}, .folder = folder.path});
    shown.window.type("b.toml");
    shown.window.key(Key::enter);
    REQUIRE(shown.chosen);
    CHECK(*shown.chosen == folder.path / "b.toml");
    Shown save(
        {.title = "Save", .use = ChooserUse::save, .extensions = {".toml"}, .folder = folder.path, .name = "old"});
    save.window.type("new");
    save.window.key(Key::enter);
    REQUIRE(save.chosen);
    CHECK(*save.chosen == folder.path / "new.toml");
}

TEST_CASE("chooser: Escape takes back what was typed, and then closes the sheet") {
    const Folder folder;
    Shown shown({.title = "Open", .folder = folder.path});
    shown.window.type("b.to");
    shown.window.key(Key::escape);
    CHECK(shown.chooser.is_open());
    CHECK(shown.window.record().find("File name", Kind::field)->value.empty());
    shown.window.key(Key::escape);
    CHECK_FALSE(shown.chooser.is_open());
    CHECK_FALSE(shown.chosen);
}

TEST_CASE("chooser: Escape and Cancel choose nothing") {
    const Folder folder;
    Shown first({.title = "Open", .folder = folder.path});
    first.window.key(Key::escape);
    CHECK_FALSE(first.chooser.is_open());
    Shown second({.title = "Open", .folder = folder.path});
    REQUIRE(second.window.click("Cancel"));
    CHECK_FALSE(second.chooser.is_open());
    CHECK_FALSE(first.chosen);
    CHECK_FALSE(second.chosen);
}
