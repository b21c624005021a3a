// One set of letters and small helpers for the tests of the kit.
#pragma once

#include <memory>
#include <string_view>

#include "gui/kit/headless.h"

namespace kit_test {

namespace gui = offsquare::gui;

/// Building an atlas takes a while: once for all tests at scale 1.
inline std::shared_ptr<const gui::Fonts> shared_fonts() {
    static const auto fonts = std::make_shared<const gui::Fonts>(1.0F);
    return fonts;
}

inline gui::HeadlessOptions small_window(gui::Scheme scheme = gui::Scheme::light) {
    gui::HeadlessOptions options;
    options.width = 640;
    options.height = 480;
    options.theme.scheme = scheme;
    options.fonts = shared_fonts();
    return options;
}

}  // namespace kit_test
