#include "picture/writers.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "picture/sessions.h"
#include "picture/svg_canvas.h"

using namespace offsquare;
namespace fs = std::filesystem;

namespace {

/// A folder of its own that goes away again.
struct Folder {
    fs::path path = fs::temp_directory_path() / ("offsquare-picture-" + std::to_string(::getpid()));
    Folder() { fs::create_directories(path); }
    ~Folder() {
        std::error_code error;
        fs::remove_all(path, error);
    }
    std::string operator/(const char* name) const { return (path / name).string(); }
};

std::string content(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::stringstream all;
    all << in.rdbuf();
    return all.str();
}

picture::Picture a_picture() {
    return picture::sheet(sessions::run(scenario::built_in(), sessions::read_actions()).seen(), {});
}

bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("the same picture gives the same bytes, on file and in memory") {
    const Folder folder;
    for (const std::string kind : {"svg", "png", "pdf"}) {
        CAPTURE(kind);
        const picture::Picture p = a_picture();
        const auto first = picture::render(p, {}, kind);
        REQUIRE(first.has_value());
        CHECK(*first == *picture::render(a_picture(), {}, kind));
        const std::string path = folder / ("table." + kind).c_str();
        REQUIRE(picture::write(p, {}, path).has_value());
        CHECK(content(path) == *first);
        REQUIRE(picture::write(p, {}, path).has_value());
        CHECK(content(path) == *first);
    }
    // No temporary file is left over.
    CHECK(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator{}) == 3);
}

TEST_CASE("words stay words") {
    const std::string svg = *picture::render(a_picture(), {}, "svg");
    CHECK(contains(svg, "<title id=\"title\">Teaching saw, bay 2: the table from above"));
    CHECK(contains(svg, ">left shim point</text>"));
    CHECK(contains(svg, ">How the corner error adds up</text>"));
    CHECK(contains(svg, "angles drawn ×"));
    const std::string pdf = *picture::render(a_picture(), {}, "pdf");
    CHECK(pdf.starts_with("%PDF-"));
    CHECK(contains(pdf, "/ToUnicode"));  // letters that can be searched and copied
    CHECK(contains(pdf, "/Title"));
    CHECK(contains(pdf, "/CreationDate (20000101000000"));
}

TEST_CASE("words that mean something in XML are made harmless") {
    picture::Picture p;
    p.lo = {0.0, 0.0};
    p.hi = {10.0, 10.0};
    p.title = "a < b & \"c\"\n</title><script>";
    p.items.push_back({picture::Words{{5.0, 5.0}, {}, "1 < 2 & 3", picture::Role::text}, picture::Handle::none});
    const std::string svg = *picture::render(p, {}, "svg");
    CHECK(contains(svg, "a &lt; b &amp; &quot;c&quot; &lt;/title&gt;&lt;script&gt;"));
    CHECK(contains(svg, ">1 &lt; 2 &amp; 3</text>"));
    CHECK_FALSE(contains(svg, "<script>"));
}

TEST_CASE("a PNG has the size that was asked for, and the ground of its scheme") {
    picture::Page page;
    page.width = 300.0;
    page.height = 200.0;
    page.scale = 1.5;
    const std::string png = *picture::render(a_picture(), page, "png");
    const auto number = [&](std::size_t at) {
        int value = 0;
        for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(png[at + i]);
        return value;
    };
    // PNG (ISO/IEC 15948): signature of 8 bytes, then IHDR with width at 16 and height at 20, big-endian.
    CHECK(png.substr(1, 3) == "PNG");
    CHECK(number(16) == 450);
    CHECK(number(20) == 300);
    page.scheme = picture::Scheme::dark;
    CHECK(*picture::render(a_picture(), page, "png") != png);
}

TEST_CASE("a name or a place that cannot be used is refused with a reason") {
    const Folder folder;
    const auto refused = [&](const std::string& path, base::Grade grade, const std::string& part) {
        const auto done = picture::write(a_picture(), {}, path);
        REQUIRE_FALSE(done.has_value());
        CHECK(done.error().grade == grade);
        CHECK(contains(done.error().message, part));
    };
    refused(folder / "table.jpg", base::Grade::usage, ".svg, .png or .pdf");
    refused(folder / "table", base::Grade::usage, "ends in nothing");
    refused(folder / "missing/table.svg", base::Grade::cannot_create, "No such file or directory");
    fs::create_directory(folder.path / "taken.svg");
    refused(folder / "taken.svg", base::Grade::cannot_create, "taken.svg");
    CHECK(picture::write(a_picture(), {}, folder / "Table.SVG").has_value());
    CHECK_FALSE(picture::render(a_picture(), {}, "gif").has_value());
}

TEST_CASE("a link stays a link, and the rights of a file stay") {
    const Folder folder;
    REQUIRE(picture::write(a_picture(), {}, folder / "real.svg").has_value());
    fs::permissions(folder.path / "real.svg", fs::perms::owner_read | fs::perms::owner_write);
    fs::create_symlink("real.svg", folder.path / "link.svg");
    REQUIRE(picture::write(a_picture(), {}, folder / "link.svg").has_value());
    CHECK(fs::is_symlink(folder.path / "link.svg"));
    CHECK(fs::status(folder.path / "real.svg").permissions() == (fs::perms::owner_read | fs::perms::owner_write));
}

TEST_CASE("a picture fits its page without being stretched") {
    picture::Picture p;
    p.lo = {-10.0, 20.0};
    p.hi = {30.0, 40.0};  // 40 by 20
    const picture::Fit f = picture::fit(p, 216.0, 216.0, 8.0);
    CHECK(f.scale == doctest::Approx(5.0));  // 200 points for 40 mm
    // lo is at the lower left: 8 points from the left, and 50 points of the 200 by 100 picture below the middle.
    CHECK(f.page(p.lo).x == doctest::Approx(8.0));
    CHECK(f.page(p.lo).y == doctest::Approx(158.0));
    CHECK(f.page(p.hi).y == doctest::Approx(58.0));
    CHECK(f.mm(f.page({3.0, 25.0})).x == doctest::Approx(3.0));
    CHECK(f.mm(f.page({3.0, 25.0})).y == doctest::Approx(25.0));
}

TEST_CASE("SVG: a number just below zero is written as zero, without a sign") {
    picture::SvgCanvas canvas(100.0, 50.0, "zero");
    picture::Ink ink;
    ink.fill = {1, 2, 3, 255};
    canvas.path({{-0.004, 3.0}, {4.0, -0.001}, {-0.04, 5.0}}, true, ink);
    const std::string text = canvas.finish();
    CHECK(text.find("M0 3 L4 0 L-0.04 5") != std::string::npos);
}
