// The window itself: SFML opens it and brings events, gl_paint.h paints it. Nothing of SFML is seen
// outside bridge.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "base/result.h"
#include "gui/kit/display.h"
#include "gui/kit/widgets.h"

namespace offsquare::gui {

struct WindowOptions {
    std::string title = "offsquare";
    unsigned width = 1280;  ///< design pixels; multiplied by the scale
    unsigned height = 800;
    float scale = 0.0F;  ///< 0: from the display (Xft.dpi / 96), else 0.75 .. 3
    Scheme scheme = Scheme::light;
    bool reduced_motion = false;
    std::vector<std::uint8_t> icon_rgba{};  ///< icon_side^2 * 4 bytes, or empty
    unsigned icon_side = 0;
};

/// How far the window has come, for whoever drives it from outside.
struct Pulse {
    std::size_t frames = 0;  ///< drawn so far
    std::size_t edges = 0;   ///< of keys and mouse buttons that a frame has seen so far: a click is two, Ctrl+Z is four
    bool settled = false;    ///< no frame is due but that of a tooltip: what stands there stays where it is
    bool at_rest = false;    ///< no frame at all is due
    bool focused = false;    ///< keys come here, as of the last frame
    friend bool operator==(const Pulse&, const Pulse&) = default;
};

class Shell {
public:
    explicit Shell(WindowOptions options);
    ~Shell();
    Shell(const Shell&) = delete;
    Shell& operator=(const Shell&) = delete;

    /// Opens the window. Without a display this is an error (Grade::no_input; the message is a part of a sentence),
    /// found BEFORE SFML is touched: SFML would abort the program.
    base::Result<void> open();
    bool is_open() const;
    Kit& kit();  ///< valid after open()

    /// Draws until the window is closed. A frame is drawn when an event came (at least three, and 0.3 s around a
    /// sheet), while a key or button is held, and while `wants_frames` says so (an animation); else it sleeps in short
    /// naps. `draw_frame` runs between NewFrame and Render.
    void run(const std::function<void()>& draw_frame, const std::function<bool()>& wants_frames);
    /// One turn of run(): events, a frame if one is due. False once the window is closed. For tests and pictures.
    bool turn(const std::function<void()>& draw_frame, const std::function<bool()>& wants_frames);
    /// Between turns.
    Pulse pulse(const std::function<bool()>& wants_frames) const;
    void close();
    /// Asked before the window closes by the person's hand; false keeps it open. Empty: closes.
    void on_close(std::function<bool()> may_close);
    /// Draw soon although no event came.
    void wake();

    /// What stands in the window now. Every alpha is 255.
    base::Result<void> screenshot(const std::filesystem::path& path);
    /// Take effect before the next frame.
    void set_scale(float scale);
    void set_scheme(Scheme scheme);
    /// Of the window, in design pixels; of the last one when it is closed.
    std::pair<unsigned, unsigned> size() const;
    void set_title(const std::string& title);

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace offsquare::gui
