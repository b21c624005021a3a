// What is really wrong, dashed over the drawing for who has asked for it: the true fence with its bow, slots that splay
// or wander, a blade that is not parallel, the strip as it came off. What is not wrong is not drawn a second time.
#pragma once

#include <string>
#include <vector>

#include "picture/scene.h"

namespace offsquare::session {
struct Revealed;  // session/reveal.h
}

namespace offsquare::picture {

using Path = std::vector<Vec2>;

/// One thing that is not as it should be, in T, and how many times its error is drawn larger.
struct TruePart {
    std::string name;  ///< "true slots"
    double factor = 1.0;
    std::vector<Path> paths;
};

struct TrueShapes {
    double skew_rad = 0.0;    ///< of the fence in the shown test, or as it stands now; shims counted
    double factor = 1.0;      ///< of that skew
    double bow_factor = 0.0;  ///< of the departures of its face; 0: it is straight
    Path fence;               ///< its face, in T
    std::vector<TruePart> parts;
};
TrueShapes true_shapes(const session::Revealed& revealed, const Scene& scene);

void add_true_shapes(const TrueShapes& truth, Picture& out);
void add_fence_grip(const TrueShapes& truth, Picture& out);  ///< at the left end of the true fence
void add_true_skew_words(const Scene& scene, const TrueShapes& truth, const ViewOptions& options, Picture& out);

}  // namespace offsquare::picture
