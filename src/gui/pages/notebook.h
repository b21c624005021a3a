// The notebook of a fault hunt.
#pragma once

#include "gui/pages/area.h"
#include "gui/state/hunt.h"

namespace offsquare::gui {

/// The readings in order: what was written last is scrolled into view.
struct NotesState {
    std::size_t seen = 0;  ///< at which change of the session that was done
    int to_end = 0;        ///< frames in which it is still done
};

struct ProofState {
    float figures = 300.0F;  ///< how high the figures were in the last frame [design pixels]
};

struct NotebookState {
    Hunt hunt;
    FieldTexts typed;  ///< readings of a real saw, and how the fence stood there
    NotesState notes;
    ProofState proof;
    bool next_case = false;  ///< the proof passes, and another case is wanted
};

/// True: the readings are to be written to a file.
bool draw_notebook(Kit& kit, Bench& bench, NotebookState& state, float width, float height);

}  // namespace offsquare::gui
