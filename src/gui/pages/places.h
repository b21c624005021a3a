// Ways through the window: to the first screen and back, through its doors, to a case, to work that was left. Whatever
// stands on the bench is kept when something else takes its place, and goes on where it was.
#pragma once

#include "gui/pages/page.h"

namespace offsquare::gui {

/// To the first screen; what stands on the bench waits.
void lead_back(Bench& bench, PageState& state);
/// From the first screen to what stands on the bench, where it was. Nothing does: the first screen stays.
void go_on(Bench& bench, PageState& state);

void open_door(Bench& bench, PageState& state, Doorway door);
void open_case(Bench& bench, PageState& state, const lesson::Case& chosen);
/// A person's own saw, in front of what stands on the bench, which waits.
void open_my_saw(Bench& bench, PageState& state);
/// A saw that was made to practise on.
void practise_on(Bench& bench, PageState& state, scenario::Scenario scenario);

/// The same saw again, another board and other readings; what was done is kept.
void start_again(Bench& bench, PageState& state);
/// After a proof: the next case that is not proved.
void open_next_case(Bench& bench, PageState& state);

/// Everything that one can go on with: the bench, what was left behind, the files of late.
std::vector<GoOnLine> lines_to_go_on(const Bench& bench, PageState& state);
/// What was chosen on the first screen is done.
void follow(Bench& bench, PageState& state, const StartWish& wish);
/// Something else was opened by the chooser: it stands on the bench now.
void file_has_come(Bench& bench, PageState& state);
/// Once a frame: what became of the case on the bench.
void note_result(const Bench& bench, StartState& state);

}  // namespace offsquare::gui
