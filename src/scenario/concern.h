// What the owner of a case complains of. Open to everybody: it is what is felt or seen, never the cause.
#pragma once

namespace offsquare::scenario {

enum class Concern {
    corner,  ///< that cuts are off, or whether they are
    face,    ///< what the cut face looks like
    slide,   ///< how the sled goes through its slots
    change   ///< that what was true once is not true the next time
};

}  // namespace offsquare::scenario
