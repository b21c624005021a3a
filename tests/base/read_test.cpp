#include "base/read.h"

#include <doctest/doctest.h>
#include <sys/stat.h>

#include <sstream>

#include "base/scratch.h"

using namespace offsquare;
using base::Grade;
using scratch::Folder;

namespace {

constexpr base::Wanted small{"a note", "note.txt", 10};

Grade refused(const std::string& path, const std::string& part) {
    const auto text = base::read_file(path, "the note", small);
    REQUIRE_FALSE(text);
    const std::string& m = text.error().message;
    CAPTURE(m);
    CHECK(m.starts_with("the note: "));
    CHECK(m.find(part) != std::string::npos);
    CHECK(m.find("Allowed: ") != std::string::npos);
    CHECK(m.find("Example: note.txt") != std::string::npos);
    return text.error().grade;
}

}  // namespace

TEST_CASE("read: a file and a link to it, byte for byte, up to the last byte allowed") {
    const Folder folder;
    const std::string text(
        "ab\0\n\r\xff"
        "wxyz",
        10);
    scratch::write(folder / "a", text);
    std::filesystem::create_symlink(folder / "a", folder / "link");
    CHECK(base::read_file(folder / "a", "a", small).value() == text);
    CHECK(base::read_file(folder / "link", "a", small).value() == text);
    scratch::write(folder / "empty", "");
    CHECK(base::read_file(folder / "empty", "a", small).value().empty());
}

TEST_CASE("read: what is no regular file is refused without waiting for it") {
    const Folder folder;
    REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
    std::filesystem::create_symlink(folder / "loop", folder / "loop");
    CHECK(refused(folder.path.string(), "a folder") == Grade::no_input);
    CHECK(refused(folder / "pipe", "not a regular file") == Grade::no_input);
    CHECK(refused("/dev/zero", "not a regular file") == Grade::no_input);
    CHECK(refused(folder / "none", "No such file") == Grade::no_input);
    CHECK(refused(folder / "loop", "cannot be opened") == Grade::no_input);
    CHECK(refused("", "no file name") == Grade::no_input);
    CHECK(refused(std::string("/tmp\0x", 6), "no file name") == Grade::no_input);
}

TEST_CASE("read: one byte too many is bad data, from a file and from a stream") {
    const Folder folder;
    scratch::write(folder / "a", std::string(11, 'x'));
    CHECK(refused(folder / "a", "more than 10 bytes") == Grade::bad_data);
    std::istringstream fits(std::string(10, 'x'));
    CHECK(base::read_stream(fits, "standard input", small).value().size() == 10);
    std::istringstream long_one(std::string(11, 'x'));
    CHECK(base::read_stream(long_one, "standard input", small).error().grade == Grade::bad_data);
}

TEST_CASE("read: a stream without end is given up, one that breaks off is said to") {
    struct Endless : std::streambuf {
        char c = 'x';
        int_type underflow() override {
            setg(&c, &c, &c + 1);
            return traits_type::to_int_type(c);
        }
    } endless;
    std::istream in(&endless);
    CHECK(base::read_stream(in, "standard input", small).error().grade == Grade::bad_data);
    std::istream none(nullptr);  // badbit from the start
    CHECK(base::read_stream(none, "standard input", small).error().grade == Grade::io);
}
