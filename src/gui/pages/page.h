// The whole page: panels laid out for the size of the window. Only the frame sees all of what they remember.
#pragma once

#include <functional>

#include "gui/kit/input.h"
#include "gui/pages/file_sheet.h"
#include "gui/pages/job.h"
#include "gui/pages/my_saw.h"
#include "gui/pages/notebook.h"
#include "gui/pages/push_page.h"
#include "gui/pages/set_up.h"
#include "gui/pages/start.h"
#include "gui/pages/table.h"

namespace offsquare::gui {

/// What the page asks of the window around it.
struct WindowLink {
    std::function<void(float)> set_scale;  ///< how it takes another scale; may be empty
    bool wants_close = false;              ///< the person has asked for the window to close
};

/// What each page remembers between frames.
struct PageState {
    TableState table;
    JobState job;
    SetUpState set_up;
    NotebookState notebook;
    PushState push;
    MySawState my_saw;
    FileState files;
    StartState start;
    WindowLink window;
    TypingOn typing_on;
};

/// One of them takes the place of the other, and of the job.
void open_notebook(PageState& state, bool on);
void open_notebook_at_suspects(PageState& state);  ///< where a job ends without a proof
void open_push(PageState& state, bool on);
/// A person's own saw; the first field gets the cursor.
void open_my_saw(PageState& state, bool on);

/// Draw it once per frame.
void draw_page(Kit& kit, Bench& bench, PageState& state);

}  // namespace offsquare::gui
