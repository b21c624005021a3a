// The job beside the table: what to do now, the working, the drawer, how the corner error adds up.
#pragma once

#include <optional>

#include "gui/pages/area.h"

namespace offsquare::gui {

/// What a person wants when the job is done; page.cpp, which knows the ways, does it.
enum class After { nothing, again, what_next };

struct JobState {
    After after = After::nothing;
    FieldTexts caliper;                ///< how far in from each end it stands
    std::optional<shim::At> shim_end;  ///< chosen by hand; empty: the proposed one
};

/// True: the job ends here and the notebook goes on.
bool draw_now(Kit& kit, Bench& bench, JobState& state, const Area& area);
void draw_working(Kit& kit, const Bench& bench, const Area& area);
void draw_drawer(Kit& kit, Bench& bench, JobState& state, const Area& area);
void draw_chart(Kit& kit, Bench& bench, const Area& area);

}  // namespace offsquare::gui
