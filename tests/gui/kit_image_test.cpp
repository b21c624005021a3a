#include <doctest/doctest.h>

#include <stb/stb_image.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>

#include "base/scratch.h"
#include "gui/kit/bridge.h"
#include "kit_support.h"

using namespace offsquare::gui;

namespace {

/// A drawing of its own on an empty window.
template <class Draw>
Image painted(Draw draw) {
    Headless window(kit_test::small_window());
    window.frame([&](Kit& kit) { draw(kit, *ImGui::GetBackgroundDrawList()); });
    return window.image();
}

bool same(Rgba a, Rgba b) { return a.r == b.r && a.g == b.g && a.b == b.b; }

}  // namespace

TEST_CASE("rasteriser: a filled rectangle covers exactly its pixels") {
    const Rgba red{200, 10, 20, 255};
    const Image image = painted([&](Kit&, ImDrawList& list) {
        list.AddRectFilled({10.0F, 20.0F}, {30.0F, 25.0F}, packed(red));
    });
    int count = 0;
    for (int y = 0; y < image.height; ++y) {
        for (int x = 0; x < image.width; ++x) count += same(image.at(x, y), red) ? 1 : 0;
    }
    CHECK(count == 20 * 5);
    CHECK(same(image.at(10, 20), red));
    CHECK(same(image.at(29, 24), red));
    CHECK_FALSE(same(image.at(30, 24), red));
    CHECK_FALSE(same(image.at(9, 20), red));
}

TEST_CASE(
    "rasteriser: half opaque black over the ground halves it, and the shared diagonal of the two triangles is painted "
    "once") {
    Rgba ground;
    const Image image = painted([&](Kit& kit, ImDrawList& list) {
        ground = kit.theme.rgba(Role::ground);
        list.AddRectFilled({100.0F, 100.0F}, {140.0F, 140.0F}, IM_COL32(0, 0, 0, 128));
    });
    // alpha 128/255 leaves 127/255 of the ground; one unit for rounding
    const double expected = static_cast<double>(ground.r) * 127.0 / 255.0;
    for (int i = 100; i < 140; ++i) {
        CHECK(std::abs(static_cast<double>(image.at(i, i).r) - expected) <= 1.0);
        CHECK(std::abs(static_cast<double>(image.at(i, 239 - i).r) - expected) <= 1.0);
    }
}

TEST_CASE("rasteriser: nothing is painted outside the clip rectangle") {
    const Rgba red{200, 10, 20, 255};
    const Image image = painted([&](Kit&, ImDrawList& list) {
        list.PushClipRect({50.0F, 50.0F}, {60.0F, 60.0F});
        list.AddRectFilled({40.0F, 40.0F}, {80.0F, 80.0F}, packed(red));
        list.PopClipRect();
    });
    CHECK(same(image.at(50, 50), red));
    CHECK(same(image.at(59, 59), red));
    CHECK_FALSE(same(image.at(49, 55), red));
    CHECK_FALSE(same(image.at(60, 55), red));
}

TEST_CASE("rasteriser: a disc has the area of a disc") {
    const double radius = 60.0;
    const Image image = painted([&](Kit&, ImDrawList& list) {
        list.AddCircleFilled({200.0F, 200.0F}, static_cast<float>(radius), IM_COL32(0, 0, 0, 255), 128);
    });
    double covered = 0.0;
    const double ground = static_cast<double>(image.at(5, 5).r);
    for (int y = 0; y < image.height; ++y) {
        for (int x = 0; x < image.width; ++x) covered += 1.0 - static_cast<double>(image.at(x, y).r) / ground;
    }
    // 1.5 %: a soft edge half a pixel wide around a radius of 60 pixels is worth about 1/60 of the area at most
    CHECK(covered == doctest::Approx(3.14159265 * radius * radius).epsilon(0.015));
}

TEST_CASE("png: another decoder reads back the same pixels, all opaque") {
    Image image;
    image.width = 3;
    image.height = 2;
    for (int i = 0; i < 6; ++i) {
        const auto v = static_cast<std::uint8_t>(40 * i);
        image.rgba.insert(image.rgba.end(), {v, static_cast<std::uint8_t>(255 - v), 7, static_cast<std::uint8_t>(i)});
    }
    const scratch::Folder folder;
    const std::string path = folder / "kit.png";
    REQUIRE(save_png(image, path));
    int width = 0;
    int height = 0;
    int channels = 0;
    unsigned char* pixels = stbi_load(path.c_str(), &width, &height, &channels, 4);
    REQUIRE(pixels != nullptr);
    CHECK(width == 3);
    CHECK(height == 2);
    for (std::size_t i = 0; i < 6; ++i) {
        CHECK(pixels[i * 4] == image.rgba[i * 4]);
        CHECK(pixels[i * 4 + 1] == image.rgba[i * 4 + 1]);
        CHECK(pixels[i * 4 + 3] == 255);
    }
    stbi_image_free(pixels);
    std::filesystem::remove(path);
}

TEST_CASE("png: a folder that does not exist is an error in words") {
    Image image;
    image.width = image.height = 1;
    image.rgba = {1, 2, 3, 4};
    const auto result = save_png(image, "/nowhere/at/all.png");
    REQUIRE_FALSE(result);
    CHECK(result.error().grade == offsquare::base::Grade::cannot_create);
    CHECK(result.error().message.find("/nowhere/at/all.png") != std::string::npos);
    CHECK_FALSE(save_png(Image{}, "/tmp/never.png"));
}

TEST_CASE("window: without a display it says so instead of aborting") {
    const char* before = std::getenv("DISPLAY");
    const std::string kept = before != nullptr ? before : "";
    for (const char* display : {"", ":94711"}) {
        setenv("DISPLAY", display, 1);
        Shell shell({});
        const auto result = shell.open();
        REQUIRE_FALSE(result);
        CHECK(result.error().grade == offsquare::base::Grade::no_input);
        CHECK(result.error().message.find("display") != std::string::npos);
        CHECK_FALSE(shell.is_open());
        CHECK_FALSE(shell.turn([] {}, [] { return false; }));
        CHECK_FALSE(shell.screenshot("/tmp/never.png"));
        CHECK(display_scale() == 1.0F);
    }
    unsetenv("DISPLAY");
    CHECK_FALSE(display_present());
    if (before != nullptr) setenv("DISPLAY", kept.c_str(), 1);
}
