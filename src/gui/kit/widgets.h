// The controls of the window, thin functions over ImGui. All of them
//   - take the Kit first, and a label that is also the identity (text behind "##" is not shown; equal labels need
//   ImGui::PushID),
//   - can be reached with Tab and the arrow keys and pressed with Space or Enter, and show a ring when they have the
//   keyboard,
//   - are at least 24 design pixels high and wide,
//   - take measures in DESIGN pixels (those of the sketch); 0 width means the rest of the line,
//   - write themselves into kit.record.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.h"
#include "gui/kit/fonts.h"
#include "gui/kit/record.h"
#include "gui/kit/tab_order.h"
#include "gui/kit/theme.h"
#include "gui/kit/tip.h"

namespace offsquare::gui {

/// Everything a widget needs to draw itself. One per window; whoever owns the ImGui context owns it.
struct Kit {
    Theme theme;
    std::shared_ptr<const Fonts> fonts;
    Record record;
    TabOrder tab_order;
    std::optional<Tip> tip;  ///< shown at the end of the page
    /// Escape left a field in which nothing was typed: it was meant for the sheet around it. In the frame before; now.
    bool escape_is_for_sheet = false, escape_left_field = false;

    float px(float design) const { return theme.px(design); }
    ImU32 colour(Role role, float alpha = 1.0F) const { return theme.colour(role, alpha); }
    ImFont* font(Face face) const { return fonts->face(face); }
};

/// Once per frame, after ImGui::NewFrame and before any widget. Shell and Headless do it.
void begin_frame(Kit& kit);

// ---- the page -------------------------------------------------------------------------------------------------

/// The whole window as one ground-coloured page without decoration; draw cards between begin and end. `name` is its
/// identity.
void page_begin(Kit& kit, const char* name);
void page_end(Kit& kit);
/// A hairline across the whole page, `y` design pixels below its top (under the row of steps).
void page_rule(Kit& kit, float y);

struct CardOptions {
    ImVec2 at{-1.0F, -1.0F};  ///< corner in design pixels of the page; negative: at the cursor
    float width = 0.0F;       ///< 0: the rest of the line
    float height = 0.0F;      ///< 0: as high as its content was in the last frame
    ImVec2 padding{20.0F, 16.0F};
    Role fill = Role::card;   ///< Role::ground for a quiet note
    bool shown_title = true;  ///< false: the title is only the identity
    bool scrolls = false;     ///< content higher than a fixed height scrolls
    float max_height = 0.0F;  ///< with height 0: grow no further, scroll instead; 0: no limit
};
/// A white card with a hairline, radius 8, and a small quiet title. Always call card_end, whatever it returns (false:
/// nothing of it is seen).
bool card_begin(Kit& kit, const char* title, const CardOptions& options = {});
void card_end(Kit& kit);

/// A plain scrolling area inside a card or a sheet. Always call scroll_end.
bool scroll_begin(Kit& kit, const char* name, float width, float height);
void scroll_end(Kit& kit);
/// The same without a frame, for text beside a list. Always call plain_end.
bool plain_begin(Kit& kit, const char* name, float width, float height);
void plain_end(Kit& kit);

void gap(Kit& kit, float height);  ///< empty height
void rule(Kit& kit);               ///< a hairline over the width, with a little air

// ---- text -----------------------------------------------------------------------------------------------------

/// Text is never clipped: it wraps (`paragraph`), or is cut by an ellipsis with the whole in a tooltip (`line`).
void heading(Kit& kit, std::string_view text);  ///< 19 semibold, wraps
void paragraph(Kit& kit, std::string_view text, Role role = Role::text, Face face = Face::body, float width = 0.0F);
ImVec2 paragraph_size(const Kit& kit, std::string_view text, Face face, float width);  ///< pixels
void quiet(Kit& kit, std::string_view text);                                           ///< a paragraph in quiet text
void line(Kit& kit, std::string_view text, Role role = Role::text, Face face = Face::body, float width = 0.0F);
/// A figure in bold that ends at the right edge of `width` from the cursor.
void number_right(Kit& kit, std::string_view text, Role role = Role::text, float width = 0.0F);
/// name (quiet) ... sum (plain, right-aligned) ... value (bold, right-aligned), as in the working. `middle` may be
/// empty.
void working_row(Kit& kit, std::string_view name, std::string_view middle, std::string_view value,
                 float value_width = 88.0F);
/// name (quiet) left, value (bold) right.
void key_value(Kit& kit, std::string_view name, std::string_view value, Role role = Role::text);
/// A sentence with a mark in front: an exclamation sign in a triangle (wrong), a tick (good), or an i in a ring (read).
void marked(Kit& kit, std::string_view text, Role tone);
/// A tick, its middle at a place of the screen.
void tick_at(Kit& kit, ImVec2 centre, Role tone);
/// A key drawn as a small cap, e.g. in the sheet of keys; stands on the line like text.
void key_cap(Kit& kit, std::string_view key);
/// A rounded label of the plan (26 high): word left, figure right, outline in `role`. Drawn at a screen position; no
/// control.
void tag(Kit& kit, ImDrawList& list, ImVec2 left_middle, std::string_view word, std::string_view figure, Role role,
         Role fill);
ImVec2 tag_size(const Kit& kit, std::string_view word, std::string_view figure);
/// Draws one line of text at a screen position, any em size; returns its width. `align` 0 left, 0.5 middle, 1 right of
/// x; y is the BASELINE.
float text_at(const Kit& kit, ImDrawList& list, ImVec2 baseline, std::string_view text, double em, Weight weight,
              ImU32 colour, float align = 0.0F);

// ---- controls -------------------------------------------------------------------------------------------------

/// The one dark button of a card, 46 high. `hint` stands beside it in quiet text ("or press R").
bool strong_button(Kit& kit, const char* label, float width = 190.0F, std::string_view hint = {}, bool enabled = true);
/// An outlined button, 32 high; width 0: as wide as its words.
bool button(Kit& kit, const char* label, float width = 0.0F, bool enabled = true);
/// Words only, underlined when the mouse or the keyboard is on it.
bool link(Kit& kit, const char* label, Role role = Role::quiet, bool enabled = true);

struct ChipOptions {
    float width = 106.0F;
    float height = 38.0F;
    int count = 0;  ///< more than one: a badge "×2"
    bool enabled = true;
};
/// A shim in the drawer: name left, value right. Chosen: blue, a thick border and a tick. True when pressed.
bool chip(Kit& kit, const char* id, std::string_view name, std::string_view value, bool selected,
          const ChipOptions& options = {});
/// How wide it must be to show both wholly [design pixels].
float chip_width(const Kit& kit, std::string_view name, std::string_view value);

/// A card that is one button: a door, a row of a list. What stands in it is drawn over it afterwards, from `lo` to
/// `hi`.
struct Plate {
    bool pressed = false;
    bool lit = false;  ///< under the mouse, or has the keyboard
    ImVec2 lo, hi;     ///< pixels of the screen
};
/// `value` is what the record says of it beside its label.
Plate plate(Kit& kit, const char* label, ImVec2 size, std::string_view value = {});
/// The mark of the house, an open corner, as a button of this side: it leads back to the first screen.
bool mark(Kit& kit, const char* label, float side = 30.0F, bool enabled = true);

/// A square with a tick and words beside it. True when it changed.
bool check(Kit& kit, const char* label, bool& value, bool enabled = true);

/// One of a few words in a row (units, theme). Returns true when `chosen` changed.
bool choice(Kit& kit, const char* id, std::span<const std::string> words, int& chosen, float width = 0.0F);

enum class StepState { done, present, later };
struct Step {
    std::string name{};
    StepState state = StepState::later;
};
/// The job as a row of pills, 32 high. `viewed` gets a line beneath if it is not the present one (-1: none). Returns
/// the step pressed, or -1.
/// `few_words`, where there is no room: only the present one is named, the others have their number and a tooltip.
int step_bar(Kit& kit, std::span<const Step> steps, int viewed = -1, bool few_words = false);
float step_bar_width(const Kit& kit, std::span<const Step> steps, bool few_words = false);  ///< design pixels

/// What a number field remembers between frames. Keep one per field, next to the panel's state.
struct FieldState {
    std::string text;   ///< as typed
    std::string error;  ///< of the last commit; empty: fine
    bool editing = false;
};
struct FieldOptions {
    float width = 0.0F;        ///< of the box
    float label_width = 0.0F;  ///< 0: the label stands above the box, else left of it with this width
    bool enabled = true;
    std::string help{};           ///< quiet words beneath while there is no error
    bool takes_keyboard = false;  ///< the cursor is put into it in this frame
    bool reading = false;         ///< what was read: higher, its figures large, blue once something stands there
    std::string hint{};           ///< quiet, in the box while it is empty
    std::string error{};          ///< of a text field: what is wrong with what stands there
};
/// A text field for a number. `shown` is the present value as the project prints it; it is put into the box whenever
/// the person is not editing. On Enter or on leaving, the text goes to `parse`; a good value is returned once, a bad
/// one stays in the box with its message beneath, in the `wrong` colour and with a mark. Escape takes back what was
/// typed.
std::optional<double> number_field(Kit& kit, const char* label, FieldState& state, std::string_view shown,
                                   const std::function<base::Result<double>(std::string_view)>& parse,
                                   const FieldOptions& options = {});
/// A plain text field; true when the text changed and was committed (Enter or leaving).
bool text_field(Kit& kit, const char* label, std::string& text, const FieldOptions& options = {});

/// A slider for scrubbing through a story: `value` in [lo, hi]. Mouse, or Left/Right (one `step`), Page keys (ten
/// steps), Home, End while it has the keyboard. `ticks` > 1 draws that many marks. `shown` is the value in words for
/// the record and the right side. True when the value changed.
bool slider(Kit& kit, const char* label, double& value, double lo, double hi, double step, std::string_view shown = {},
            int ticks = 0, float width = 0.0F);

/// A row in a list, 28 high. True when pressed; `activated` (may be null) is set on double click or Enter.
bool list_row(Kit& kit, const char* label, std::string_view right, bool selected, bool* activated = nullptr);

// ---- above the page -------------------------------------------------------------------------------------------

/// A sheet above everything, dimming the page. Escape and the cross close it (`open` becomes false). Draw the content
/// and call sheet_end only if it returns true. Call it in every frame from the same place (between page_begin and
/// page_end), also while `open` is false.
bool sheet_begin(Kit& kit, const char* title, bool& open, float width = 560.0F, float max_height = 0.0F);
void sheet_end(Kit& kit);
/// One sentence at the lower edge of the window, for things that happened ("Saved."). Call in every frame while it
/// should be seen; `tone` good, wrong or text.
void toast_line(Kit& kit, std::string_view text, Role tone = Role::text);
/// Words for the last control: shown when the mouse rests on it or the keyboard is on it, where they cover no control.
/// page_end draws them.
void tooltip(Kit& kit, std::string_view text);

/// Lets Tab go to an own control made with ImGui::InvisibleButton (e.g. a handle on the plan), draws the ring, and
/// makes Enter press it as Space does. Use it instead of InvisibleButton; place it with ImGui::SetCursorScreenPos.
/// Returns true when pressed. (ImGui::IsItemActive and IsItemHovered speak of it afterwards.)
bool hot_area(Kit& kit, const char* label, ImVec2 size_px, bool enabled = true, float rounding = 6.0F);

}  // namespace offsquare::gui
