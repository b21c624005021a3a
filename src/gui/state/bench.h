// The person's workbench: the session, what is being looked at, and what was just said. No ImGui here and no arithmetic
// of the trade: it only passes actions to the session and keeps the view.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "picture/drag.h"
#include "picture/shapes.h"
#include "picture/table_view.h"
#include "scenario/readings.h"
#include "session/class_words.h"
#include "session/log.h"
#include "session/next.h"
#include "session/story.h"

namespace offsquare::session {
struct Revealed;  // session/reveal.h: only for who has asked for the truth
}

namespace offsquare::gui {

/// The person's view: nothing of it changes a number.
struct View {
    base::Units units = base::Units::metric;
    bool units_chosen = false;  ///< by the person: then another scenario does not change them
    picture::Scheme scheme = picture::Scheme::light;
    float scale = 0.0F;  ///< 0: as the display asks
    bool reduced_motion = false;
    bool reveal = false;        ///< the true skew is shown
    double exaggeration = 0.0;  ///< 0: the one of the whole job; of this session only
    double zoom = 1.0;
    base::Vec2 pan;         ///< points
    double progress = 5.0;  ///< cuts shown of the last test, 0..5
    bool playing = false;
    bool for_class = false;                    ///< the view for the back of a room
    std::optional<session::Stage> looking_at;  ///< a step that was reopened; empty: the present one
};

/// What the person is asked about on a sheet.
struct Sheets {
    bool cautions = false;
    bool keys = false;
    bool settings = false;
};

class Bench {
public:
    explicit Bench(scenario::Scenario scenario);

    const session::History& history() const { return history_; }
    const session::Seen& seen() const { return history_.seen(); }
    const scenario::Scenario& scenario() const { return history_.scenario(); }  ///< as it is set now, errors sealed
    View view;
    Sheets sheets;

    // ---- the session ----
    /// Does it, or says why not. True when done.
    bool act(const session::Action& action) { return act(std::span(&action, 1)); }
    bool act(std::span<const session::Action> intention);  ///< as one thing that is done and undone
    void undo();
    void redo();
    void start_again();  ///< the same scenario, nothing done, another board and other readings
    void open(scenario::Scenario scenario);
    void open(session::Replay replay);
    void open(scenario::Readings
                  readings);  ///< of a real saw: its sizes, and each check of the file as readings that were typed
    void take_up(session::Replay replay);  ///< the same, but it is still to be saved
    session::Log log() const { return session::log_of(history_); }
    void saved() { dirty_ = false; }
    /// Actions that no file of the person's holds.
    bool unsaved() const { return dirty_ && !history_.record().empty(); }
    std::size_t changes() const { return changes_; }  ///< grows with every change of the session
    void choose_units(base::Units::System system);    ///< angles stay as they are shown

    /// What the job wants done next, and the one strong button for it. True: the job ends here and the notebook goes
    /// on.
    const session::Next& next() const { return next_; }
    bool next_step();
    /// One whole test, from the cut to the working.
    void cut_the_proof();
    /// Every reading in the order in which it came about; of a real saw only what was typed.
    const std::vector<session::Note>& notes() const { return notes_; }
    bool of_a_real_saw() const { return seen().real_saw; }
    void read(session::End end);
    /// What was dragged is let go: one action, or the caliper at another place. In the set-up it stays open.
    void drop(picture::Handle handle, const picture::Drag& drag);

    /// A hand was on the sled. That is written down nowhere, and counts until something more is put right.
    void take_hold() { held_at_ = seen().repairs.size(); }
    bool took_hold() const { return held_at_ == seen().repairs.size(); }

    // ---- what is seen ----
    session::Now now() const;  ///< with the running cuts counted
    session::ClassWords class_words() const;
    void show_class(bool on);  ///< into the class view, or back
    session::Stage present_stage() const { return session::stage_of(next_.todo); }
    session::Stage stage() const { return view.looking_at.value_or(present_stage()); }
    const session::Test* last_test() const { return seen().last_test(); }
    bool cutting() const { return last_test() != nullptr && view.progress < last_cut(); }
    double last_cut() const { return last_test() == nullptr ? 0.0 : static_cast<double>(last_test()->cuts_made); }
    bool has_strip() const { return last_test() != nullptr && last_test()->strip_fell.has_value(); }
    /// The truth, once the person has asked for it; else nullptr.
    std::shared_ptr<const session::Revealed> revealed() const;
    picture::ViewOptions options() const;
    double exaggeration() const;
    void tick(double seconds);  ///< moves the cuts on while they play

    /// How far in from each end the caliper stands [mm]: fence end, far end.
    std::array<double, 2> in_from_end{0.0, 0.0};

    /// The last thing that was said to the person, and whether it was bad. It fades after some seconds.
    std::string said;
    bool said_is_bad = false;
    double said_for = 0.0;
    void say(std::string text, bool bad = false);

private:
    void start(session::History history);  ///< another session stands on the bench, as its file has it
    void changed();
    void play_if_new_test(std::size_t tests_before);

    session::History history_;
    session::Next next_;
    std::vector<session::Note> notes_;
    std::shared_ptr<const session::Revealed> revealed_;  ///< of this state of the session
    std::optional<std::size_t> held_at_;                 ///< how much was put right by then
    bool dirty_ = false;
    std::size_t changes_ = 0;
};

}  // namespace offsquare::gui
