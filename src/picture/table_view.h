// The table from above, drawn from what is seen of the saw.
#pragma once

#include <memory>
#include <optional>

#include "base/quantity.h"
#include "picture/shapes.h"
#include "session/seen.h"

namespace offsquare::session {
struct Revealed;  // session/reveal.h: only who draws what was asked for looks into it
}

namespace offsquare::picture {

struct ViewOptions {
    base::Units units = base::Units::metric;
    double exaggeration = 200.0;  ///< how many times angles and gaps are drawn larger; 1: true
    int test = -1;                ///< which test of the session; -1: the last one
    int cut = 5;                  ///< how many of its cuts are shown (0: the board is ready, 5: the strip is off)
    double travel = 1.0;          ///< within the present cut: 0 the sled is back, 1 the cut is made
    std::shared_ptr<const session::Revealed> revealed;  ///< show the true skew as well, this; null: it is hidden
    bool few_words = false;  ///< for a small place: only the names without which the picture cannot be read
    bool grips =
        false;  ///< marks where parts of the set-up can be taken hold of; only while the board is ready (cut 0)
    std::optional<double>
        fence_station_mm;  ///< where the caliper stands (from the fence end, from the far end), if it is out
    std::optional<double> far_station_mm;
};

/// Before any test is cut, the skew of the fence must not be seen: the fence is drawn square until readings (or
/// `revealed`) say otherwise. Afterwards it is drawn with the skew that was READ, not the true one; the pieces are
/// drawn with the taper that was read, or the true one while nothing is read only as a strip of even width.
///
/// What the cuts before the shown one took off lies aside on the sled's base, as large as it is, with the number of its
/// cut. These pieces come from cut::five_cut: of a saw without errors until the strip is read, of one with the skew
/// that was read afterwards, and with `revealed` they are the test's own.
///
/// `revealed` is dashed in the colour of what is wrong, as far as it is there: the true fence with its bow, slots that
/// splay or wander, a blade that is not parallel, the strip as it came off; each with its factor where it has another.
///
/// Between tests the skew that is to be expected is drawn: the one read last, and the shims put in since, as marked.
/// When the shims have changed since the last test, `test` -1 shows the board ready for the next one. An exaggeration
/// that would turn the fence by more than 4.6 degrees is cut down to what just does not; the picture says the factors
/// that it was drawn with. Before anything is measured there is none to say, and it says so. Strip and offcuts have a
/// factor of their own where their width allows no more; it is named as well.
Picture table_view(const session::Seen& seen, const ViewOptions& options);

/// A round exaggeration (1, 2 or 5 times a power of ten, 1 to 500) that makes the skew that is known now plain to see
/// while nothing crosses, and leaves room for twice the skew. Never looks at the truth.
double fitting_exaggeration(const session::Seen& seen);
/// The one exaggeration of a whole job: chosen so for the first test of this set-up that was read, when it was first
/// drawn, and kept, so that what a shim makes worse is drawn larger and what it mends smaller. Before that, for the
/// true skew where the person has asked for it; else for none.
double job_exaggeration(const session::Seen& seen, const std::shared_ptr<const session::Revealed>& revealed = nullptr);

/// The table, and below it the strip chart when the shown test was read: one page for paper.
Picture sheet(const session::Seen& seen, const ViewOptions& options);

/// The strip chart: how the corner error adds up over the cuts that are shown.
struct Chart {
    struct Bar {
        int cut = 1;
        int corners = 0;       ///< how many corners have added up (cut - 1)
        double sum_rad = 0.0;  ///< from the readings: corners * skew
        std::string label;     ///< "2×"
    };
    std::vector<Bar> bars;  ///< cuts 1..5 as far as shown
    double tolerance_rad = 0.0;
    bool known = false;  ///< false: nothing read yet, the bars have no height (their marks are still there)
    std::string total;   ///< "= 0.317 mm" when known
    std::string over;    ///< "over 305 mm"
};
Chart chart(const session::Seen& seen, const ViewOptions& options);

}  // namespace offsquare::picture
