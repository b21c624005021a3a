// The panels of the window, one file each. They show what the bench holds and pass on what the person does.
#pragma once

#include <functional>
#include <map>
#include <string>

#include "gui/bench.h"
#include "gui/hunt.h"
#include "gui/kit/chooser.h"
#include "gui/kit/widgets.h"
#include "gui/keep.h"
#include "gui/pushing.h"
#include "gui/unsaved.h"

namespace offsquare::gui {

/// What the panels remember between frames: text being typed, a thing being dragged.
struct PanelState {
    std::map<std::string, FieldState> fields;
    Chooser chooser;
    enum class Choosing { open, save, picture, readings } choosing = Choosing::open;
    std::string setup_group = "fence";  ///< which part of the set-up is shown
    bool page_scrolls = false;          ///< the page is higher than the window: the wheel moves it
    picture::Handle dragging = picture::Handle::none;
    std::function<void(float)> set_scale;  ///< how the window takes another scale; may be empty
    bool wants_close = false;              ///< the person has asked for the window to close
    Hunt hunt;                             ///< the notebook
    Pushing pushing;                       ///< the sled under the hand
    double push_grab_mm = 0.0;     ///< how far from the fence's face the mouse took hold of the sled, along the slots
    float proof_figures = 300.0F;  ///< how high the figures of the proof were in the last frame [design pixels]
    std::size_t notes_seen = 0;    ///< at which change of the session the newest note was scrolled into view
    int notes_to_end = 0;          ///< frames in which that is still done
    Keep* keep = nullptr;          ///< what is kept between starts; none in most tests
    Unsaved* unsaved = nullptr;    ///< work that was left behind; none in most tests
    std::filesystem::path save_folder;  ///< where a session was saved last
};

/// A rectangle in design pixels of the page.
struct Area {
    float x = 0.0F, y = 0.0F, w = 0.0F, h = 0.0F;
};

/// A card that fills an area; its small title is shown unless the panel draws its own.
inline CardOptions card_in(const Area& area, bool shown_title = true) {
    CardOptions card;
    card.at = {area.x, area.y};
    card.width = area.w;
    card.height = area.h;
    card.shown_title = shown_title;
    return card;
}

void draw_header(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_table(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_chart(Kit& kit, Bench& bench, PanelState& state, const Area& area);
float draw_now(Kit& kit, Bench& bench, PanelState& state, const Area& area);  ///< the height that the card took
void draw_working(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_drawer(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_setup(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_offer(Kit& kit, Bench& bench, PanelState& state, const Area& area);  ///< unsaved work of an earlier start
void draw_class(Kit& kit, Bench& bench);  ///< the whole page, for the back of a room
// The notebook, one file a page.
void draw_saw(
    Kit& kit, const Bench& bench,
    const Area& place);  ///< the table from above as it stands, in a part of a card; nothing where it is too low
void draw_symptom_page(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_suspects_page(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_checks_page(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_typing(Kit& kit, Bench& bench, PanelState& state);  ///< on the checks page, instead of how the check is done
void draw_repairs_page(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_proof_page(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_hunt_now(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_notes(Kit& kit, Bench& bench, PanelState& state, const Area& area);  ///< the readings in order
void draw_notebook(Kit& kit, Bench& bench, PanelState& state, float width, float height);
void open_notebook(PanelState& state, bool on);
void open_notebook_at_suspects(PanelState& state);  ///< where a job ends without a proof
void draw_push(Kit& kit, Bench& bench, PanelState& state, float width, float height);
void open_push(PanelState& state, bool on);
void draw_caution_line(Kit& kit, Bench& bench, PanelState& state, const Area& area);
void draw_sheets(Kit& kit, Bench& bench, PanelState& state);
void handle_keys(Kit& kit, Bench& bench, PanelState& state);
void open_file(Bench& bench, PanelState& state);
void open_chosen(Bench& bench, PanelState& state, const std::filesystem::path& path);
void save_file(Bench& bench, PanelState& state);
void save_readings(Bench& bench, PanelState& state);

/// The whole page: panels laid out for the size of the window. Draw it once per frame.
void draw_page(Kit& kit, Bench& bench, PanelState& state);

}  // namespace offsquare::gui
