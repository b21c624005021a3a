// The pages of the notebook, one file each, and what stands beside them.
#pragma once

#include "gui/pages/notebook.h"

namespace offsquare::gui {

void draw_symptom_page(Kit& kit, const Bench& bench, const Area& area);
void draw_suspects_page(Kit& kit, const Bench& bench, Hunt& hunt, const Area& area);
void draw_checks_page(Kit& kit, Bench& bench, Hunt& hunt, FieldTexts& typed, const Area& area);
/// On the checks page, instead of how the check is done.
void draw_typing(Kit& kit, Bench& bench, Hunt& hunt, FieldTexts& typed);
void draw_repairs_page(Kit& kit, const Bench& bench, Hunt& hunt, const Area& area);
void draw_proof_page(Kit& kit, const Bench& bench, ProofState& state, const Area& area);

void draw_hunt_now(Kit& kit, Bench& bench, NotebookState& state, const Area& area);
/// The readings in order. True: they are to be written to a file.
bool draw_notes(Kit& kit, const Bench& bench, NotesState& state, const Area& area);

}  // namespace offsquare::gui
