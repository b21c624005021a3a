// One dated line of the log of a sled. A log is only ever added to: a wrong entry is corrected, or withdrawn, by
// another that names it, and stays in the file.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/quantity.h"
#include "measure/check.h"
#include "saws/date.h"
#include "shop/drawing.h"
#include "shop/fault.h"

namespace offsquare::saws {

/// The strip of a five-cut test, as far as it is typed: any field may still be empty, in any order. An entry of the log
/// is a whole one.
struct Strip {
    std::vector<base::Typed> fence_end;  ///< its width where it lay at the fence during the fifth cut; repeats welcome
    std::vector<base::Typed> far_end;    ///< the same at the other end
    std::optional<base::Typed> between;  ///< along the old edge, between the two places
    std::optional<base::Typed> span;     ///< between the two shim points of the fence
    std::optional<shop::Side> fell;      ///< where the strip fell, as you stand at the saw
    std::optional<bool> ends_marked;     ///< which end lay at the fence was marked before the strip was taken away;
                                         ///< false: the person is not sure; empty: nobody asked
    bool brushed = false;                ///< the fence was brushed before each cut
};

struct StripTest {
    Strip strip;  ///< whole
};

/// Any other check of measure/check.h, as typed.
struct CheckMade {
    measure::Check check = measure::Check::fence_straightedge;
    std::vector<measure::CheckReading> readings;  ///< in the order of measure::info(check).readings
};

/// A piece of shim stock as it is marked.
struct Piece {
    std::string name;  ///< "brass", "paper"
    double thickness_mm = 0.0;
    double u_mm = 0.0;  ///< standard uncertainty of that thickness
    friend bool operator==(const Piece&, const Piece&) = default;
};

/// Standard uncertainty of a thickness that a person typed [mm]: as fine as it was typed, or as a micrometer over paper
/// or foil is (0.005 mm, common practice, no source).
double u_of_marked(const base::Typed& thickness);

/// The fence was loosened, pieces were put behind its ends or taken out, and it was clamped again.
struct ShimsMoved {
    std::vector<Piece> put_left, put_right, taken_left, taken_right;
};

/// The fence was set by hand, or knocked: what was read of it before is over. The shims stay where they are.
struct FenceMoved {};

/// Something was put right: a fault of shop/fault.h, whose readings are over with that; or something that the model
/// does not know, such as slots that were waxed, which ends nothing.
struct PutRight {
    std::optional<shop::Fault> fault;
    std::string what;  ///< in the person's words; may be empty where there is a fault
};

struct Remark {
    std::string text;
};

/// A size of the sled, its instruments, or what counts as square.
struct Size {
    std::string key;    ///< of a scenario ("fence.length"), or "fence.span": between the shim points
    std::string value;  ///< as typed, with its unit
    friend bool operator==(const Size&, const Size&) = default;
};
struct SizesTyped {
    std::vector<Size> sizes;
};

/// All that is in the drawer, once and for all; pieces that stand behind the fence are counted with it.
struct DrawerTyped {
    std::vector<shop::Shim> pieces;
};

/// What it corrects is withdrawn, and nothing stands in its place.
struct Withdrawn {};

using What =
    std::variant<StripTest, CheckMade, ShimsMoved, FenceMoved, PutRight, Remark, SizesTyped, DrawerTyped, Withdrawn>;

struct Entry {
    int number = 0;               ///< from 1, in the order in which they were written; never used twice
    Date date{};                  ///< of what happened
    Date written{};               ///< of when it was typed
    std::optional<int> corrects;  ///< the number of the entry that it replaces or withdraws
    What what;
};

/// "Test", "Straightedge on the fence", "Shims", "Fence moved", "Put right", "Note", "Sizes", "Drawer", "Withdrawn".
std::string kind_of(const What& what);

/// The whole of it in one line, as the log shows it: "0.150 mm behind the left end (brass 0.100, paper 0.050)".
std::string line_of(const What& what, base::Units units);

/// The sum of pieces as marked [mm].
double total_mm(const std::vector<Piece>& pieces);

}  // namespace offsquare::saws
