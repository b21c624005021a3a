// A window without a display, for tests and pictures: ImGui driven by hand with a fixed clock, found by the words that
// were drawn.
#pragma once

#include <functional>
#include <memory>
#include <string_view>

#include "gui/kit/image.h"
#include "gui/kit/input.h"
#include "gui/kit/widgets.h"

namespace offsquare::gui {

struct HeadlessOptions {
    int width = 1280;  ///< pixels
    int height = 800;
    Theme theme{};
    std::shared_ptr<const Fonts>
        fonts{};  ///< null: built for the theme's scale. Building takes a while, so tests should share one.
};

/// One ImGui context of its own; several may live one after another or side by side on one thread (each call makes its
/// own context current).
class Headless {
public:
    using Draw = std::function<void(Kit&)>;
    explicit Headless(HeadlessOptions options = {});
    ~Headless();
    Headless(const Headless&) = delete;
    Headless& operator=(const Headless&) = delete;

    Kit& kit() { return kit_; }
    const Record& record() const { return kit_.record; }

    /// Draws frames of 1/60 s until no input waits, at least one. The drawing function is kept for the calls below.
    void frame(const Draw& draw);
    void frames(int count);

    void mouse_move(float x, float y);
    void mouse_button(bool down, int button = 0);
    void click(float x, float y);
    void drag(ImVec2 from, ImVec2 to, int steps = 8);
    void wheel(float up);
    void key(Key key, Modifiers mods = {});
    void type(std::string_view utf8);

    /// Clicks the middle of the control with this label. False if it was not drawn, is not visible, or is disabled.
    bool click(std::string_view label);
    bool click(std::string_view label, Kind kind);
    /// Presses Tab until the control with this label has the keyboard (at most 200 times).
    bool tab_to(std::string_view label);

    Image image();
    base::Result<void> save(const std::filesystem::path& path);

private:
    void push(const InputEvent& event);
    void one_frame();

    Kit kit_;
    ImGuiContext* context_ = nullptr;
    InputQueue queue_;
    Draw draw_;
};

}  // namespace offsquare::gui
