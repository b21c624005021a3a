// Both runners in their slots, and where they are looked at.
#pragma once

#include <array>
#include <optional>

#include "contact/walk.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::contact {

/// One runner in its slot, both straight. All x are as seen by Tracks: perhaps in a mirror.
struct Fit {
    double x_slot = 0.0;       ///< slot's centre line at y = 0 in T
    double slope = 0.0;        ///< dx/dy of the slot's centre line
    double x_runner = 0.0;     ///< runner's centre line in S
    double half_runner = 0.0;  ///< half width across x
    double half_play = 0.0;    ///< half the slot's width across x less half_runner
};

struct Fits {
    Fit left;
    Fit right;
};

/// Seen in a mirror where `facing` is -1; +1 as they are.
Fits fits_of(const shop::Drawing& drawing, const shop::Truth& truth, double facing);

/// A slot or a runner has a profile of its own, beside its bow.
bool has_profiles(const shop::Truth& truth);

/// Nothing curved, nothing splayed.
bool straight_guides(const shop::Truth& truth);

/// The same with what is curved on them.
struct Track : Fit {
    BrokenLine slot;  ///< over y in T
    BrokenLine bend;  ///< of the runner, over y in S
};

/// Both runners, ready to be asked at any travel. Seen in a mirror (`facing` -1: every x changes its sign) a push to
/// the left is one to the right.
struct Tracks {
    double facing = 1.0;
    Track left;
    Track right;
    shop::RunnerReach reach;
    double half_table = 0.0;
    bool straight = true;  ///< as straight_guides: two samples tell all

    Tracks(const shop::Drawing& drawing, const shop::Truth& truth, double facing);

    std::optional<shop::RunnerReach> guided(double s_mm) const { return shop::guided_part(reach, half_table, s_mm); }
};

/// Both runners at some places. Lists of single numbers, so that the processor can take several at once.
struct Samples {
    static constexpr int most = 33;
    using List = std::array<double, most>;
    int n = 0;
    int first = 0;  ///< number of the first one where places keep their numbers along the travel (Feelers)
    List y;         ///< in S, from the middle of the guided length
    List left_off;  ///< slot's centre line less the runner's, when the sled stands square at x = 0
    List right_off;
    List left_bend;  ///< of the left runner; that of the right counts in right_off alone: in what a turned sled's
                     ///< cosine adds it would be a second-order part of a second-order part
    std::size_t count() const { return static_cast<std::size_t>(n); }
};

/// The guided length in 32 equal parts; in one where nothing is curved. As statics once looked at the runners, which
/// sessions of version 0.1.0 go on doing; everything else asks Feelers.
Samples samples_of(const Tracks& tracks, const shop::RunnerReach& guided, double s_mm);

/// Places that stay where they are on the runners, the same 33 when all of the runners is guided: what is curved on a
/// runner is looked up once for the whole travel, and the belly of a bowed runner is always one of them. Of a runner
/// that reaches beyond the table these count which are over it, and the table's edge.
class Feelers {
public:
    /// Looks into the tracks, which must outlive it.
    explicit Feelers(const Tracks& tracks);
    /// At any s; quicker where the one before was near.
    Samples at(const shop::RunnerReach& guided, double s_mm);
    /// A little farther along the travel, the same places as `before` by their numbers: its ends are those of the
    /// guided length now, also where others would be looked at by now.
    Samples like(const Samples& before, const shop::RunnerReach& guided, double s_mm);

private:
    static constexpr int last = Samples::most - 1;
    struct Range {
        int from = 0;
        int to = 0;
    };
    Range between_ends(const shop::RunnerReach& guided) const;
    Samples at(const Range& between, const shop::RunnerReach& guided, double s_mm);

    const Tracks& k_;
    double left_;  ///< slot's less the runner's centre line, square and straight
    double right_;
    double half_step_;
    BrokenLine::Finger left_slot_;
    BrokenLine::Finger right_slot_;
    BrokenLine::Finger left_rear_;  ///< on the left runner's bend, where the guided length begins
    BrokenLine::Finger left_front_;
    BrokenLine::Finger right_rear_;
    BrokenLine::Finger right_front_;
    Samples::List from_middle_;  ///< of the runners
    Samples::List y_;            ///< in S
    Samples::List left_bend_;
    Samples::List right_bend_;
};

}  // namespace offsquare::contact
