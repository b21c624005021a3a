#include "gui/kit/display.h"

#include <X11/Xlib.h>
#include <X11/Xresource.h>
#include <unistd.h>

#include <cstdlib>
#include <string>
#include <utility>

#include "gui/kit/theme.h"

namespace offsquare::gui {
namespace {

struct CloseDisplay {
    void operator()(Display* display) const { XCloseDisplay(display); }
};
using Open = std::unique_ptr<Display, CloseDisplay>;

Open opened() { return Open(std::getenv("DISPLAY") != nullptr ? XOpenDisplay(nullptr) : nullptr); }

// Xlib hands its handler the display, and SFML's is not ours to hang anything on.
std::function<int()>& last_words_kept() {
    static std::function<int()> kept;
    return kept;
}

int display_lost(Display* /*display*/) {
    // Taken out first: should it call for the display after all, it is not called again.
    const std::function<int()> last = std::exchange(last_words_kept(), nullptr);
    // Not exit(): SFML would close the display that is gone.
    ::_exit(last ? last() : 1);
}

}  // namespace

base::Result<void> display_present() {
    const char* name = std::getenv("DISPLAY");
    if (name == nullptr || *name == '\0')
        return base::fail(base::Grade::no_input, "there is no display (DISPLAY is not set)");
    const Open display = opened();
    if (!display) return base::fail(base::Grade::no_input, "the display " + std::string(name) + " cannot be opened");
    int opcode = 0;
    int event = 0;
    int error = 0;
    // SFML aborts as well where the display has no OpenGL.
    if (XQueryExtension(display.get(), "GLX", &opcode, &event, &error) == 0) {
        return base::fail(base::Grade::no_input, "the display " + std::string(name) + " has no OpenGL (GLX)");
    }
    return {};
}

float display_scale() {
    const Open display = opened();
    if (!display) return 1.0F;
    const char* dpi = XGetDefault(display.get(), "Xft", "dpi");
    if (dpi == nullptr) return 1.0F;
    char* end = nullptr;
    const float value = std::strtof(dpi, &end);
    return end != dpi && value > 0.0F ? scaled({}, value / 96.0F).scale : 1.0F;
}

struct DisplayHold::Connection {
    Open display = opened();
};

DisplayHold::DisplayHold() : connection_(std::make_unique<Connection>()) {}
DisplayHold::~DisplayHold() = default;

ExposureWatch::ExposureWatch(unsigned long window) {
    if (!connection_->display) return;  // then the window is redrawn at the next event only
    XSelectInput(connection_->display.get(), window, ExposureMask);
    XFlush(connection_->display.get());
}

bool ExposureWatch::uncovered() {
    bool any = false;
    while (connection_->display && XPending(connection_->display.get()) > 0) {
        XEvent event;
        XNextEvent(connection_->display.get(), &event);
        any = any || event.type == Expose;
    }
    return any;
}

DisplayLoss::DisplayLoss(std::function<int()> last_words) {
    last_words_kept() = std::move(last_words);
    XSetIOErrorHandler(&display_lost);
}

DisplayLoss::~DisplayLoss() {
    XSetIOErrorHandler(nullptr);  // Xlib's own again
    last_words_kept() = nullptr;
}

}  // namespace offsquare::gui
