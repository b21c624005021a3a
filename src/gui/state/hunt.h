// The notebook's own state: which page is open, which check and which fault are chosen, and what the readings say. No
// ImGui here and no arithmetic of the trade.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "gui/state/bench.h"
#include "gui/state/typing.h"
#include "gui/state/weigher.h"
#include "picture/diagnosis_view.h"
#include "session/hunt_words.h"
#include "session/model.h"
#include "session/next.h"

namespace offsquare::gui {

inline constexpr int hunt_pages = 5;
std::string_view name_of(session::Leaf page);

class Hunt {
public:
    bool open = false;
    session::Leaf page = session::Leaf::symptom;
    measure::Check check = measure::Check::five_cut;  ///< the one that is looked at
    std::optional<measure::Check> shown_check;        ///< the one that the list was scrolled to
    shop::Fault fault = shop::Fault::fence_skew;
    bool wants_hold = false;  ///< of the sled: the page where a hand is on it is to be opened
    Typing typing;            ///< readings of the check that is looked at, being typed

    /// Call in every frame while it is open: asks for the weighing when readings or sizes have changed.
    void follow(const Bench& bench);
    /// Nullptr while the readings are being weighed, or when they cannot be (then `trouble` says why).
    const session::Findings* findings() const;
    std::string trouble() const;
    bool weighing() const { return open && weigher_.weighing(); }
    void wait() { weigher_.wait(); }

    /// The diagnosis as a picture, made once for each weighing, size, unit and next step; nullptr while there is none.
    /// What comes next stands on it as the strong button has it.
    const picture::DiagnosisView* view(const Bench& bench, picture::DiagnosisPage page);

    /// What each check sees on this saw.
    const session::Sight& sight() const { return sight_; }

    bool done(session::Leaf page, const Bench& bench) const;
    /// What the one strong button of this page does, in words and in deed.
    session::Now now(const Bench& bench) const;
    void next_step(Bench& bench);
    /// Whether the proof stands and nothing is left to do.
    bool closed(const Bench& bench) const { return next_on(session::Leaf::proof, bench).todo == session::Todo::done; }

    /// What was typed for the check goes into the notebook; or it is said what is missing, or asked whether what looks
    /// like a slip is meant.
    void write_typed(Bench& bench);
    /// It is meant: written as it stands.
    void insist(Bench& bench);

    void look_at(measure::Check which);
    void look_at(shop::Fault which);

private:
    session::Next next(const Bench& bench) const { return next_on(page, bench); }
    session::Next next_on(session::Leaf leaf, const Bench& bench) const;
    /// On the page of suspects the button only leads to the page where it is done.
    void turn_to(const session::Next& next);
    void make_the_check(const session::Next& next, Bench& bench);

    Weigher weigher_;
    std::size_t seen_changes_ = 0;
    std::string key_;
    std::string sizes_key_;
    session::Sight sight_;
    std::vector<measure::CheckReport> reports_;
    std::optional<picture::DiagnosisView> view_;
    std::string view_key_;
};

}  // namespace offsquare::gui
