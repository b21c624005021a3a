#include "gui/kit/headless.h"

#include <algorithm>
#include <cfloat>

namespace offsquare::gui {
namespace {

constexpr float frame_s = 1.0F / 60.0F;
constexpr int most_frames_for_input = 600;
constexpr int most_tabs = 200;

ImVec2 middle(const Drawn& item) { return {(item.lo.x + item.hi.x) / 2.0F, (item.lo.y + item.hi.y) / 2.0F}; }

bool usable(const Drawn* item) { return item != nullptr && item->enabled && item->visible; }

}  // namespace

Headless::Headless(HeadlessOptions options) {
    kit_.theme = scaled(options.theme, options.theme.scale);
    kit_.fonts = options.fonts ? options.fonts : std::make_shared<const Fonts>(kit_.theme.scale);
    context_ = ImGui::CreateContext(kit_.fonts->atlas());
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    io.ConfigInputTextCursorBlink = false;
    io.BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
    io.DisplaySize = {static_cast<float>(options.width), static_cast<float>(options.height)};
    io.DeltaTime = frame_s;
    io.FontDefault = kit_.font(Face::body);
    map_keys(io);
    apply(kit_.theme);
}

Headless::~Headless() {
    ImGui::SetCurrentContext(context_);
    ImGui::DestroyContext(context_);
}

void Headless::one_frame() {
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    io.DeltaTime = frame_s;
    queue_.feed(io);
    ImGui::NewFrame();
    begin_frame(kit_);
    if (draw_) draw_(kit_);
    ImGui::Render();
}

void Headless::frame(const Draw& draw) {
    draw_ = draw;
    frames(1);
}

void Headless::frames(int count) {
    int left = most_frames_for_input;
    while (queue_.waiting() && left-- > 0) one_frame();
    for (int i = 0; i < count; ++i) one_frame();
}

void Headless::push(const InputEvent& event) { queue_.push(event); }

void Headless::mouse_move(float x, float y) {
    InputEvent event;
    event.kind = InputEvent::Kind::mouse_move;
    event.x = x;
    event.y = y;
    push(event);
    frames(1);
}

void Headless::mouse_button(bool down, int button) {
    InputEvent event;
    event.kind = InputEvent::Kind::mouse_button;
    event.button = button;
    event.down = down;
    push(event);
    frames(1);
}

void Headless::click(float x, float y) {
    mouse_move(x, y);
    frames(1);  // ImGui knows what is under the mouse one frame later
    mouse_button(true);
    mouse_button(false);
    frames(1);
}

void Headless::drag(ImVec2 from, ImVec2 to, int steps) {
    mouse_move(from.x, from.y);
    frames(1);
    mouse_button(true);
    for (int i = 1; i <= steps; ++i) {
        const float share = static_cast<float>(i) / static_cast<float>(steps);
        mouse_move(from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share);
    }
    mouse_button(false);
    frames(1);
}

void Headless::wheel(float up) {
    InputEvent event;
    event.kind = InputEvent::Kind::wheel;
    event.y = up;
    push(event);
    frames(2);
}

void Headless::key(Key key, Modifiers mods) {
    InputEvent event;
    event.kind = InputEvent::Kind::key;
    event.key = key;
    event.mods = mods;
    event.down = true;
    push(event);
    frames(1);
    event.down = false;
    event.mods = {};
    push(event);
    frames(2);
}

void Headless::type(std::string_view utf8) {
    for (const char32_t c : decoded(utf8)) {
        InputEvent event;
        event.kind = InputEvent::Kind::text;
        event.character = c;
        push(event);
        frames(1);
    }
}

bool Headless::click(std::string_view label) {
    const Drawn* item = record().find(label);
    if (!usable(item)) return false;
    const ImVec2 at = middle(*item);
    click(at.x, at.y);
    return true;
}

bool Headless::click(std::string_view label, Kind kind) {
    const Drawn* item = record().find(label, kind);
    if (!usable(item)) return false;
    const ImVec2 at = middle(*item);
    click(at.x, at.y);
    return true;
}

bool Headless::tab_to(std::string_view label) {
    for (int i = 0; i < most_tabs; ++i) {
        const Drawn* now = record().focused();
        if (now != nullptr && now->label == label) return true;
        key(Key::tab);
    }
    return false;
}

Image Headless::image() {
    ImGui::SetCurrentContext(context_);
    const ImDrawData* data = ImGui::GetDrawData();
    if (data == nullptr) return {};
    return rasterised(*data, *kit_.fonts->atlas(), kit_.theme.rgba(Role::ground));
}

base::Result<void> Headless::save(const std::filesystem::path& path) { return save_png(image(), path); }

}  // namespace offsquare::gui
