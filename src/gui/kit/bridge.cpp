#include "gui/kit/bridge.h"

#include <SFML/Graphics.hpp>
#include <SFML/OpenGL.hpp>
#include <SFML/System/Err.hpp>

#include <algorithm>
#include <array>
#include <cfloat>
#include <cmath>
#include <optional>
#include <sstream>
#include <utility>

#include "base/heap.h"
#include "gui/kit/changes.h"
#include "gui/kit/gl_paint.h"
#include "gui/kit/gl_show.h"
#include "gui/kit/image.h"
#include "gui/kit/input.h"
#include "gui/kit/sfml_events.h"

namespace offsquare::gui {
namespace {

constexpr int frames_after_event = 3;
constexpr float sheet_settles_s = 0.3F;
constexpr float tooltip_due_s = 0.5F;  ///< a little later than the tooltip's rest
constexpr int nap_ms = 8;
constexpr int frame_ms = 15;  ///< so that sixty a second come even where one takes a little longer than the last
constexpr float tidy_every_s = 10.0F;
constexpr float longest_step_s = 0.6F;
constexpr float longest_ending_s = 0.5F;  ///< after Ctrl+Q

struct ClipboardText {
    std::string utf8;
};

const char* get_clipboard(void* user) {
    auto* held = static_cast<ClipboardText*>(user);
    const auto bytes = sf::Clipboard::getString().toUtf8();
    held->utf8.assign(bytes.begin(), bytes.end());
    return held->utf8.c_str();
}

void set_clipboard(void* user, const char* text) {
    static_cast<void>(user);
    const std::string_view utf8(text);
    sf::Clipboard::setString(sf::String::fromUtf8(utf8.begin(), utf8.end()));
}

sf::Cursor::Type cursor_of(ImGuiMouseCursor cursor) {
    switch (cursor) {
        case ImGuiMouseCursor_TextInput: return sf::Cursor::Text;
        case ImGuiMouseCursor_Hand: return sf::Cursor::Hand;
        case ImGuiMouseCursor_ResizeAll: return sf::Cursor::SizeAll;
        case ImGuiMouseCursor_ResizeEW: return sf::Cursor::SizeHorizontal;
        case ImGuiMouseCursor_ResizeNS: return sf::Cursor::SizeVertical;
        case ImGuiMouseCursor_NotAllowed: return sf::Cursor::NotAllowed;
        default: return sf::Cursor::Arrow;
    }
}

/// SFML says on stderr that a display has no vertical sync, which is no trouble: turn() rests between frames by itself.
/// All else passes.
class QuietAboutSync {
public:
    QuietAboutSync() : before_(sf::err().rdbuf(&said_)) {}
    QuietAboutSync(const QuietAboutSync&) = delete;
    QuietAboutSync& operator=(const QuietAboutSync&) = delete;
    ~QuietAboutSync() {
        sf::err().rdbuf(before_);
        std::istringstream said(said_.str());
        for (std::string line; std::getline(said, line);) {
            if (line.find("vertical sync") == std::string::npos) sf::err() << line << '\n';
        }
    }

private:
    std::stringbuf said_;
    std::streambuf* before_;
};

}  // namespace

struct Shell::Inside {
    explicit Inside(WindowOptions wanted) : options(std::move(wanted)) {}

    WindowOptions options;
    // Made when first needed: SFML opens the display in the constructor. Before the window here, so that they outlive
    // it: it puts its cursor back when it goes.
    std::array<std::unique_ptr<sf::Cursor>, ImGuiMouseCursor_COUNT> cursors;
    std::unique_ptr<sf::RenderWindow> window;
    std::unique_ptr<ExposureWatch> exposure;
    ImGuiContext* context = nullptr;
    std::optional<GlPaint> paint;  ///< while the context is there
    bool keeps = false;            ///< what was shown, see gl_show.h
    Changes changes;
    Kit kit;
    InputQueue queue;
    ClipboardText clipboard;
    ImGuiMouseCursor cursor_shape = ImGuiMouseCursor_None;
    sf::Clock clock;        ///< since the last frame
    sf::Clock since_shown;  ///< the last picture was handed over
    bool shown = false;     ///< the last frame was another picture than the one before
    sf::Clock since_event;
    std::function<bool()> may_close;
    std::optional<sf::Clock> since_ending;  ///< Ctrl+Q was pressed
    sf::Clock since_tidied;
    int frames_due = frames_after_event;
    bool late_frame_due = false;  ///< for a tooltip
    bool popup_open = false;
    sf::Clock since_popup_change;
    bool popup_settling = false;
    bool theme_changed = false;
    bool has_focus = false;  ///< in the last frame
    std::size_t frames = 0;  ///< drawn so far

    void open_window();
    void open_imgui();
    void close_imgui();
    void take_events();
    void end_at_last();
    void wake() { frames_due = frames_after_event; }
    void handle(const sf::Event& event);
    bool popup_settles() const {
        return popup_settling && since_popup_change.getElapsedTime().asSeconds() < sheet_settles_s;
    }
    bool due(const std::function<bool()>& wants_frames);
    void draw(const std::function<void()>& draw_frame);
    void follow_theme();
    void show_cursor();
    void watch_popups();
    void show_changes();
    void await_turn() const;
    void tidy();
};

void Shell::Inside::open_window() {
    const float scale = kit.theme.scale;
    const sf::VideoMode desktop = sf::VideoMode::getDesktopMode();
    const auto fit = [scale](unsigned design, unsigned most) {
        return std::min(static_cast<unsigned>(std::lround(static_cast<float>(design) * scale)), std::max(most, 320U));
    };
    // No samples: the toolkit's own lines and fills have smooth edges already, and without a card four samples a pixel
    // cost more than all the rest of a frame.
    const sf::ContextSettings settings(0, 0, 0);
    const QuietAboutSync quiet;
    window = std::make_unique<sf::RenderWindow>(
        sf::VideoMode(fit(options.width, desktop.width), fit(options.height, desktop.height)),
        sf::String::fromUtf8(options.title.begin(), options.title.end()), sf::Style::Default, settings);
    window->setKeyRepeatEnabled(false);
    window->setVerticalSyncEnabled(true);
    const std::size_t icon_bytes = static_cast<std::size_t>(options.icon_side) * options.icon_side * 4;
    if (icon_bytes > 0 && options.icon_rgba.size() == icon_bytes)
        window->setIcon(options.icon_side, options.icon_side, options.icon_rgba.data());
    exposure = std::make_unique<ExposureWatch>(window->getSystemHandle());
}

void Shell::Inside::open_imgui() {
    kit.fonts = std::make_shared<const Fonts>(kit.theme.scale);
    context = ImGui::CreateContext(kit.fonts->atlas());
    ImGui::SetCurrentContext(context);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    io.BackendFlags |= ImGuiBackendFlags_HasMouseCursors;
    // A still caret: nothing is drawn while nothing changes.
    io.ConfigInputTextCursorBlink = false;
    io.FontDefault = kit.font(Face::body);
    io.GetClipboardTextFn = &get_clipboard;
    io.SetClipboardTextFn = &set_clipboard;
    io.ClipboardUserData = &clipboard;
    map_keys(io);
    apply(kit.theme);
    static_cast<void>(window->setActive(true));
    paint.emplace();
    keeps = keeps_what_is_shown(kit.theme.rgba(Role::ground));
    paint->take_letters(*kit.fonts->atlas());
}

void Shell::Inside::close_imgui() {
    if (context == nullptr) return;
    ImGui::SetCurrentContext(context);
    if (window) static_cast<void>(window->setActive(true));
    paint.reset();
    ImGui::DestroyContext(context);
    context = nullptr;
}

void Shell::Inside::handle(const sf::Event& event) {
    if (event.type == sf::Event::Closed) {
        if (!may_close || may_close()) window->close();
        return;
    }
    if (event.type == sf::Event::Resized) changes.forget();
    if (asks_to_end(event) && !since_ending) since_ending.emplace();
    push_event(queue, event);
}

void Shell::Inside::take_events() {
    sf::Event event;
    bool any = false;
    while (window->isOpen() && window->pollEvent(event)) {
        any = true;
        handle(event);
    }
    if (window->isOpen() && exposure->uncovered()) {
        changes.forget();
        wake();
    }
    if (!any) return;
    wake();
    late_frame_due = true;
    since_event.restart();
}

/// What was pressed before Ctrl+Q gets its frames first. But a window that is far behind ends all the same.
void Shell::Inside::end_at_last() {
    if (!since_ending || since_ending->getElapsedTime().asSeconds() < longest_ending_s) return;
    since_ending.reset();
    if (!may_close || may_close()) window->close();
}

bool Shell::Inside::due(const std::function<bool()>& wants_frames) {
    if (frames_due > 0) return true;
    if (theme_changed || queue.busy(ImGui::GetIO())) return true;
    if (popup_settles()) return true;
    popup_settling = false;
    if (late_frame_due && since_event.getElapsedTime().asSeconds() > tooltip_due_s) {
        late_frame_due = false;
        frames_due = 2;  // one in which the tooltip finds its size, one in which it is seen
        return true;
    }
    return wants_frames && wants_frames();
}

void Shell::Inside::watch_popups() {
    const bool open = a_popup_is_open();
    if (open == popup_open) return;
    popup_open = open;
    popup_settling = true;
    since_popup_change.restart();
}

void Shell::Inside::show_cursor() {
    const ImGuiMouseCursor wanted = ImGui::GetMouseCursor();
    if (wanted == cursor_shape || wanted < 0 || wanted >= ImGuiMouseCursor_COUNT) return;
    cursor_shape = wanted;
    auto& cursor = cursors.at(static_cast<std::size_t>(wanted));
    if (!cursor) {
        cursor = std::make_unique<sf::Cursor>();
        if (!cursor->loadFromSystem(cursor_of(wanted))) static_cast<void>(cursor->loadFromSystem(sf::Cursor::Arrow));
    }
    window->setMouseCursor(*cursor);
}

void Shell::Inside::follow_theme() {
    if (!theme_changed) return;
    theme_changed = false;
    frames_due = frames_after_event;
    if (kit.fonts->scale() < kit.theme.scale || kit.fonts->scale() > kit.theme.scale) {
        kit.fonts = std::make_shared<const Fonts>(kit.theme.scale);
        ImGui::GetIO().Fonts = kit.fonts->atlas();
        ImGui::GetIO().FontDefault = kit.font(Face::body);
        paint->take_letters(*kit.fonts->atlas());
        changes.forget();
    }
    apply(kit.theme);
}

void Shell::Inside::draw(const std::function<void()>& draw_frame) {
    static_cast<void>(window->setActive(true));
    follow_theme();
    ImGuiIO& io = ImGui::GetIO();
    const sf::Vector2u size = window->getSize();
    io.DisplaySize = {static_cast<float>(size.x), static_cast<float>(size.y)};
    io.DeltaTime = std::clamp(clock.restart().asSeconds(), 1e-4F, longest_step_s);
    queue.feed(io);
    has_focus = window->hasFocus();
    if (has_focus) queue.let_go_of_modifiers(io, modifiers_now());
    ImGui::NewFrame();
    begin_frame(kit);
    draw_frame();
    show_cursor();
    watch_popups();
    ImGui::Render();
    show_changes();
    if (frames_due > 0) --frames_due;
    ++frames;
}

/// Without a card only what is different is painted; with one the whole window, if anything is.
void Shell::Inside::show_changes() {
    const ImDrawData& data = *ImGui::GetDrawData();
    std::vector<Patch> patches = changes.since_last(data);
    shown = !patches.empty();
    if (!shown) return;
    if (!keeps) patches = {{0, 0, static_cast<int>(data.DisplaySize.x), static_cast<int>(data.DisplaySize.y)}};
    paint->draw(data, kit.theme.rgba(Role::ground), patches);
    await_turn();
    since_shown.restart();
    window->display();
}

/// Pictures follow each other evenly, however long each took to make, also where vertical sync does nothing (a virtual
/// display, some drivers). The processor paints while this waits for it, not after.
void Shell::Inside::await_turn() const {
    glFinish();
    const sf::Time rest = sf::milliseconds(frame_ms) - since_shown.getElapsedTime();
    if (rest > sf::Time::Zero) sf::sleep(rest);
}

/// While nothing happens: what has been freed since goes back.
void Shell::Inside::tidy() {
    if (since_tidied.getElapsedTime().asSeconds() < tidy_every_s ||
        since_event.getElapsedTime() > since_tidied.getElapsedTime())
        return;
    base::give_back_freed_memory();
    since_tidied.restart();
}

Shell::Shell(WindowOptions options) : inside_(std::make_unique<Inside>(std::move(options))) {}

Shell::~Shell() { inside_->close_imgui(); }

base::Result<void> Shell::open() {
    // A display server may reset when its last client leaves (Xvfb does), and refuses connections meanwhile, upon which
    // SFML aborts. One connection of our own stays open from the probe until the window holds its own.
    const DisplayHold hold;
    if (auto present = display_present(); !present) return present;
    Inside& in = *inside_;
    Theme theme;
    theme.scheme = in.options.scheme;
    theme.reduced_motion = in.options.reduced_motion;
    in.kit.theme = scaled(theme, in.options.scale > 0.0F ? in.options.scale : display_scale());
    in.open_window();
    if (!in.window->isOpen()) return base::fail(base::Grade::no_input, "this display gives no window");
    in.open_imgui();
    return {};
}

bool Shell::is_open() const { return inside_->window && inside_->window->isOpen(); }

Kit& Shell::kit() { return inside_->kit; }

bool Shell::turn(const std::function<void()>& draw_frame, const std::function<bool()>& wants_frames) {
    Inside& in = *inside_;
    if (!is_open()) return false;
    ImGui::SetCurrentContext(in.context);
    in.take_events();
    in.end_at_last();
    if (!is_open()) return false;
    if (in.due(wants_frames)) {
        in.draw(draw_frame);
        if (in.shown) return is_open();
        const sf::Time rest = sf::milliseconds(frame_ms) - in.clock.getElapsedTime();
        if (rest > sf::Time::Zero && !in.queue.waiting()) sf::sleep(rest);
    } else {
        in.tidy();
        sf::sleep(sf::milliseconds(nap_ms));
    }
    return is_open();
}

void Shell::run(const std::function<void()>& draw_frame, const std::function<bool()>& wants_frames) {
    while (turn(draw_frame, wants_frames)) {
    }
}

Pulse Shell::pulse(const std::function<bool()>& wants_frames) const {
    const Inside& in = *inside_;
    const bool more = in.frames_due > 0 || in.theme_changed || in.queue.busy(ImGui::GetIO()) || in.popup_settles() ||
                      (wants_frames && wants_frames());
    return {in.frames, in.queue.edges_given(), !more, !more && !in.late_frame_due, in.has_focus};
}

void Shell::close() {
    if (inside_->window) inside_->window->close();
}

void Shell::on_close(std::function<bool()> may_close) { inside_->may_close = std::move(may_close); }

void Shell::wake() { inside_->wake(); }

base::Result<void> Shell::screenshot(const std::filesystem::path& path) {
    if (!is_open()) return base::fail(base::Grade::our_fault, "There is no window to take a picture of.");
    sf::RenderWindow& window = *inside_->window;
    const sf::Vector2u size = window.getSize();
    sf::Texture texture;
    if (!texture.create(size.x, size.y))
        return base::fail(base::Grade::cannot_create, "The graphics card has no room for a picture of this size.");
    texture.update(window);
    const sf::Image pixels = texture.copyToImage();
    Image image;
    image.width = static_cast<int>(size.x);
    image.height = static_cast<int>(size.y);
    image.rgba.assign(pixels.getPixelsPtr(), pixels.getPixelsPtr() + static_cast<std::size_t>(size.x) * size.y * 4);
    return save_png(image, path);
}

void Shell::set_scale(float scale) {
    inside_->kit.theme = scaled(inside_->kit.theme, scale);
    inside_->theme_changed = true;
}

void Shell::set_scheme(Scheme scheme) {
    inside_->kit.theme.scheme = scheme;
    inside_->theme_changed = true;
}

std::pair<unsigned, unsigned> Shell::size() const {
    if (!inside_->window) return {inside_->options.width, inside_->options.height};
    const sf::Vector2u pixels = inside_->window->getSize();
    const auto design = [&](unsigned px) {
        return static_cast<unsigned>(std::lround(static_cast<float>(px) / inside_->kit.theme.scale));
    };
    return {design(pixels.x), design(pixels.y)};
}

void Shell::set_title(const std::string& title) {
    inside_->options.title = title;
    if (inside_->window) inside_->window->setTitle(sf::String::fromUtf8(title.begin(), title.end()));
}

}  // namespace offsquare::gui
