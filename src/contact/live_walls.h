// The sled between its slot walls for one small step of time: the part of live.h that Box2D does.
//
// Seen from a frame that goes along with the sled, so that it stays at y = 0 and the walls run past it like belts. One
// unit of Box2D is 0.01 mm: at larger ones its slop, a two-hundredth of a unit, would swallow the play.
#pragma once

#include <memory>

#include "contact/tracks.h"

namespace offsquare::contact {

/// Of the sled across and about the base's middle.
struct Across {
    double x_mm = 0.0;
    double yaw_rad = 0.0;
    double speed_mm_s = 0.0;
    double turning_rad_s = 0.0;
};

/// What acts from outside the walls during a step, and how the base's friction slows the sled across.
struct Load {
    double along_n = 0.0;
    double moment_nmm = 0.0;   ///< > 0 counter-clockwise, about the base's middle
    double damp_across = 0.0;  ///< [1/s]
    double damp_turning = 0.0;
    double most_wall_n =
        0.0;  ///< more than any wall presses while the sled lies still or slides: what is above is a blow
};

/// The four rows of contacts: on either side of either runner.
enum class Row { left_left, left_right, right_left, right_right };  // runner, wall
inline constexpr int rows = 4;

class LiveWalls {
public:
    LiveWalls(const Tracks& tracks, double middle_y_mm, double mass_kg, double inertia_kgmm2, double mu,
              const Across& start);
    ~LiveWalls();
    LiveWalls(LiveWalls&&) noexcept;
    LiveWalls& operator=(LiveWalls&&) noexcept;

    /// Where the runners are looked at, now and where the travel will have gone at the end of the step; the same places
    /// (Feelers::like).
    struct Look {
        Samples now;
        Samples next;
        double now_middle_mm = 0.0;  ///< of the guided length, y in S
        double next_middle_mm = 0.0;
    };

    /// One step; the belts run at `speed`. Returns what the walls and the load change it by [mm/s].
    double step(const Look& look, double speed_mm_s, const Load& load, double dt_s);

    const Across& across() const;

    /// Force of the last step at a place of a row, by its number on the runner (Samples::first) [N].
    double force_n(Row row, std::size_t place) const;

private:
    struct World;
    std::unique_ptr<World> world_;
};

}  // namespace offsquare::contact
