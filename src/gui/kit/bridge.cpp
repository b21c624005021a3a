#include "gui/kit/bridge.h"

#include <SFML/Graphics.hpp>
#include <SFML/System/Err.hpp>
#include <imgui_impl_opengl2.h>

#include <algorithm>
#include <array>
#include <cfloat>
#include <cmath>
#include <sstream>
#include <utility>

#include "gui/kit/image.h"
#include "gui/kit/input.h"

namespace offsquare::gui {
namespace {

constexpr int frames_after_event = 3;
constexpr float sheet_settles_s = 0.3F;
constexpr float tooltip_due_s = 0.5F;  ///< a little later than the tooltip's rest
constexpr int nap_ms = 8;
constexpr int frame_ms = 16;
constexpr float longest_step_s = 0.6F;

Key letter_or_digit(sf::Keyboard::Key key) {
    const auto shifted = [key](sf::Keyboard::Key from, Key to) {
        return static_cast<Key>(static_cast<int>(to) + (key - from));
    };
    if (key >= sf::Keyboard::A && key <= sf::Keyboard::Z) return shifted(sf::Keyboard::A, Key::a);
    if (key >= sf::Keyboard::Num0 && key <= sf::Keyboard::Num9) return shifted(sf::Keyboard::Num0, Key::n0);
    if (key >= sf::Keyboard::F1 && key <= sf::Keyboard::F12) return shifted(sf::Keyboard::F1, Key::f1);
    return Key::unknown;
}

Key key_of(sf::Keyboard::Key key) {
    switch (key) {
        case sf::Keyboard::Tab: return Key::tab;
        case sf::Keyboard::Left: return Key::left;
        case sf::Keyboard::Right: return Key::right;
        case sf::Keyboard::Up: return Key::up;
        case sf::Keyboard::Down: return Key::down;
        case sf::Keyboard::PageUp: return Key::page_up;
        case sf::Keyboard::PageDown: return Key::page_down;
        case sf::Keyboard::Home: return Key::home;
        case sf::Keyboard::End: return Key::end;
        case sf::Keyboard::Insert: return Key::insert;
        case sf::Keyboard::Delete: return Key::del;
        case sf::Keyboard::BackSpace: return Key::backspace;
        case sf::Keyboard::Space: return Key::space;
        case sf::Keyboard::Enter: return Key::enter;
        case sf::Keyboard::Escape: return Key::escape;
        case sf::Keyboard::Add:
        case sf::Keyboard::Equal: return Key::plus;
        case sf::Keyboard::Subtract:
        case sf::Keyboard::Hyphen: return Key::minus;
        default: return letter_or_digit(key);
    }
}

int button_of(sf::Mouse::Button button) {
    if (button == sf::Mouse::Left) return 0;
    if (button == sf::Mouse::Right) return 1;
    return button == sf::Mouse::Middle ? 2 : 3;
}

Modifiers modifiers_now() {
    const auto either = [](sf::Keyboard::Key a, sf::Keyboard::Key b) {
        return sf::Keyboard::isKeyPressed(a) || sf::Keyboard::isKeyPressed(b);
    };
    return {either(sf::Keyboard::LControl, sf::Keyboard::RControl), either(sf::Keyboard::LShift, sf::Keyboard::RShift),
            either(sf::Keyboard::LAlt, sf::Keyboard::RAlt)};
}

InputEvent key_event(const sf::Event::KeyEvent& key, bool down) {
    InputEvent out;
    out.kind = InputEvent::Kind::key;
    out.key = key_of(key.code);
    out.down = down;
    out.mods = {key.control, key.shift, key.alt};
    return out;
}

InputEvent at_place(InputEvent::Kind kind, int x, int y) {
    InputEvent out;
    out.kind = kind;
    out.x = static_cast<float>(x);
    out.y = static_cast<float>(y);
    return out;
}

void push_button(InputQueue& queue, const sf::Event::MouseButtonEvent& button, bool down) {
    // Where it happened comes first: without a move event before it the press would land at the old place.
    queue.push(at_place(InputEvent::Kind::mouse_move, button.x, button.y));
    InputEvent out;
    out.kind = InputEvent::Kind::mouse_button;
    out.button = button_of(button.button);
    out.down = down;
    queue.push(out);
}

void push_wheel(InputQueue& queue, const sf::Event::MouseWheelScrollEvent& wheel) {
    InputEvent out;
    out.kind = InputEvent::Kind::wheel;
    if (wheel.wheel == sf::Mouse::VerticalWheel) out.y = wheel.delta;
    else out.x = wheel.delta;
    queue.push(out);
}

void push_text(InputQueue& queue, sf::Uint32 unicode) {
    if (unicode < 0x20 || unicode == 0x7F) return;
    InputEvent out;
    out.kind = InputEvent::Kind::text;
    out.character = unicode;
    queue.push(out);
}

/// What the window system said, into the queue. Resizing and closing are handled elsewhere.
void push_event(InputQueue& queue, const sf::Event& event) {
    switch (event.type) {
        case sf::Event::MouseMoved:
            queue.push(at_place(InputEvent::Kind::mouse_move, event.mouseMove.x, event.mouseMove.y));
            break;
        case sf::Event::MouseLeft: queue.push(at_place(InputEvent::Kind::mouse_left, 0, 0)); break;
        case sf::Event::MouseButtonPressed: push_button(queue, event.mouseButton, true); break;
        case sf::Event::MouseButtonReleased: push_button(queue, event.mouseButton, false); break;
        case sf::Event::MouseWheelScrolled: push_wheel(queue, event.mouseWheelScroll); break;
        case sf::Event::KeyPressed: queue.push(key_event(event.key, true)); break;
        case sf::Event::KeyReleased: queue.push(key_event(event.key, false)); break;
        case sf::Event::TextEntered: push_text(queue, event.text.unicode); break;
        case sf::Event::LostFocus: queue.push(at_place(InputEvent::Kind::focus_lost, 0, 0)); break;
        default: break;
    }
}

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

/// How many samples the card can do, no more than wanted.
unsigned samples(unsigned wanted) { return std::min(wanted, sf::RenderTexture::getMaximumAntialiasingLevel()); }

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

bool a_popup_is_open() {
    return ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
}

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
    Kit kit;
    InputQueue queue;
    ClipboardText clipboard;
    ImGuiMouseCursor cursor_shape = ImGuiMouseCursor_None;
    sf::Clock clock;  ///< since the last frame
    sf::Clock since_event;
    std::function<bool()> may_close;
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
};

void Shell::Inside::open_window() {
    const float scale = kit.theme.scale;
    const sf::VideoMode desktop = sf::VideoMode::getDesktopMode();
    const auto fit = [scale](unsigned design, unsigned most) {
        return std::min(static_cast<unsigned>(std::lround(static_cast<float>(design) * scale)), std::max(most, 320U));
    };
    sf::ContextSettings settings;
    settings.antialiasingLevel = samples(options.antialiasing);
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
    ImGui_ImplOpenGL2_Init();
}

void Shell::Inside::close_imgui() {
    if (context == nullptr) return;
    ImGui::SetCurrentContext(context);
    if (window) static_cast<void>(window->setActive(true));
    ImGui_ImplOpenGL2_Shutdown();
    ImGui::DestroyContext(context);
    context = nullptr;
}

void Shell::Inside::handle(const sf::Event& event) {
    if (event.type == sf::Event::Closed) {
        if (!may_close || may_close()) window->close();
        return;
    }
    if (event.type == sf::Event::Resized) {
        window->setView(sf::View(
            sf::FloatRect(0.0F, 0.0F, static_cast<float>(event.size.width), static_cast<float>(event.size.height))));
    }
    push_event(queue, event);
}

void Shell::Inside::take_events() {
    sf::Event event;
    bool any = false;
    while (window->isOpen() && window->pollEvent(event)) {
        any = true;
        handle(event);
    }
    if (window->isOpen() && exposure->uncovered()) wake();
    if (!any) return;
    wake();
    late_frame_due = true;
    since_event.restart();
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
        ImGui_ImplOpenGL2_DestroyFontsTexture();
        kit.fonts = std::make_shared<const Fonts>(kit.theme.scale);
        ImGui::GetIO().Fonts = kit.fonts->atlas();
        ImGui::GetIO().FontDefault = kit.font(Face::body);
        ImGui_ImplOpenGL2_CreateFontsTexture();
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
    ImGui_ImplOpenGL2_NewFrame();
    ImGui::NewFrame();
    begin_frame(kit);
    draw_frame();
    show_cursor();
    watch_popups();
    ImGui::Render();
    const Rgba ground = kit.theme.rgba(Role::ground);
    window->clear(sf::Color(ground.r, ground.g, ground.b));
    window->pushGLStates();
    ImGui_ImplOpenGL2_RenderDrawData(ImGui::GetDrawData());
    window->popGLStates();
    window->display();
    if (frames_due > 0) --frames_due;
    ++frames;
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
    if (!is_open()) return false;
    if (in.due(wants_frames)) {
        sf::Clock spent;
        in.draw(draw_frame);
        // Where vertical sync does nothing (a virtual display, some drivers), frames would come as fast as they can.
        const sf::Time rest = sf::milliseconds(frame_ms) - spent.getElapsedTime();
        if (rest > sf::milliseconds(1) && !in.queue.waiting()) sf::sleep(std::min(rest, sf::milliseconds(nap_ms)));
    } else {
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
