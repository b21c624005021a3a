// The table of faults: whole, in order, and in step with the sizes in truth.h and the figures that it leans on.
#include <doctest/doctest.h>

#include <cmath>
#include <set>
#include <string>
#include <type_traits>
#include <utility>

#include "shop/drawing.h"
#include "shop/fault.h"
#include "shop/truth.h"

using namespace offsquare;
using shop::Fault, shop::FaultInfo, shop::Turns, shop::FaultUnit;

TEST_CASE("the faults of the design's table, each once, by its key") {
    const std::set<std::string> wanted{"fence_skew",   "fence_bow",    "fence_lean",   "dust",         "left_play",
                                       "right_play",   "pitch_error",  "slot_splay",   "slot_wander",  "runner_bend",
                                       "blade_toe",    "blade_tilt",   "blade_runout", "clamp_creep",  "edge_bow",
                                       "caliper_zero", "caliper_step", "board_creep",  "arbor_runout", "stop_slip"};
    std::set<std::string> found;
    for (const FaultInfo& f : shop::faults()) found.insert(std::string(f.key));
    CHECK(found == wanted);
    CHECK(shop::faults().size() == wanted.size());
    for (const FaultInfo& f : shop::faults()) {
        CHECK(shop::fault_of(f.key) == f.fault);
        CHECK(shop::info(f.fault).key == f.key);
    }
    CHECK_FALSE(shop::fault_of("fence"));
    CHECK_FALSE(shop::fault_of(""));
}

namespace {

/// Whether a value made without a word is a constant.
template <class T>
concept constant_when_empty = requires {
    typename std::bool_constant<(T{}, true)>;
};

/// A row as the table has them, but for one part that cannot be left out.
struct OnlyTheKey {
    std::string_view key = base::LeftOut<"key">{};
};
template <class T>
concept constant_with_key = requires {
    typename std::bool_constant<(T{.key = "x"}, true)>;
};

}  // namespace

TEST_CASE("a part that is left out is no constant; one that is said is") {
    static_assert(!constant_when_empty<FaultInfo>);
    static_assert(!constant_with_key<FaultInfo>);
    static_assert(!constant_when_empty<OnlyTheKey>);
    static_assert(constant_with_key<OnlyTheKey>);
    CHECK(OnlyTheKey{.key = "x"}.key == "x");
}

TEST_CASE("what is put right at the saw begins by unplugging it; only boards and calipers are mended elsewhere") {
    for (const FaultInfo& f : shop::faults()) {
        CAPTURE(f.key);
        const bool elsewhere = f.group == shop::Group::board || f.group == shop::Group::instruments;
        CHECK(f.repaired_at_saw == !elsewhere);
        const std::size_t unplug = f.repair.find("nplug the saw");
        CHECK((unplug != f.repair.npos) == f.repaired_at_saw);
        // Nothing is asked for before it: no other word with which an order begins.
        if (f.repaired_at_saw) CHECK(unplug == 1);
    }
}

TEST_CASE("names, groups and what a repair costs: the declared table, written down a second time") {
    struct Row {
        Fault fault;
        const char* name;
        shop::Group group;
        double minutes;
    };
    using enum shop::Group;
    for (const Row& r : {Row{Fault::fence_skew, "fence off square", fence, 10},
                         {Fault::fence_bow, "fence bowed", fence, 45},
                         {Fault::fence_lean, "fence leaning", fence, 20},
                         {Fault::dust, "sawdust at the fence", fence, 15},
                         {Fault::clamp_creep, "fence creeping when clamped", fence, 10},
                         {Fault::left_play, "left runner loose", guides, 30},
                         {Fault::right_play, "right runner loose", guides, 30},
                         {Fault::pitch_error, "runners spaced wrong", guides, 30},
                         {Fault::slot_splay, "slots not parallel", guides, 60},
                         {Fault::slot_wander, "left slot not straight", guides, 60},
                         {Fault::runner_bend, "left runner bent", guides, 40},
                         {Fault::blade_toe, "blade not parallel", blade, 20},
                         {Fault::blade_tilt, "blade tilted", blade, 10},
                         {Fault::blade_runout, "blade wobbling", blade, 30},
                         {Fault::edge_bow, "board's edge not straight", board, 8},
                         {Fault::caliper_zero, "caliper's zero off", instruments, 1},
                         {Fault::caliper_step, "caliper sticking", instruments, 5}}) {
        const FaultInfo& f = shop::info(r.fault);
        CAPTURE(f.key);
        CHECK(f.name == r.name);
        CHECK(f.group == r.group);
        CHECK(f.repair_minutes == r.minutes);
        // A runner is fitted on purpose, so that it slides: closer about its mean than runners are that just fit.
        const bool fitted = r.fault == Fault::left_play || r.fault == Fault::right_play;
        CHECK(f.repair_leaves.mean == (fitted ? 0.06 : f.lobes.absent().mean));
        CHECK(std::abs(f.repair_leaves.sd / (fitted ? 0.018 : 1.5 * f.lobes.absent().sd) - 1.0) < 1e-12);
    }
    CHECK(shop::name_of(guides) == "runners and slots");
}

TEST_CASE("usual sizes: the weights of a fault sum to one, absent is smaller than present, and all lie in its range") {
    for (const FaultInfo& f : shop::faults()) {
        CAPTURE(f.key);
        double sum = 0.0;
        for (const shop::Lobe& lobe : f.lobes) {
            sum += lobe.weight;
            // Absent comes first, in one lobe or several.
            CHECK((&lobe != f.lobes.begin() || !lobe.present));
            CHECK((&lobe == f.lobes.begin() || lobe.present || !(&lobe - 1)->present));
            CHECK(lobe.mean >= f.min);
            CHECK(lobe.mean <= f.max);
            for (const shop::Lobe& other : f.lobes) {
                if (lobe.present && !other.present) CHECK(std::abs(lobe.mean) > other.mean + 2.0 * other.sd);
            }
        }
        CHECK(std::abs(sum - 1.0) < 1e-15);  // of four numbers below one, rounded
    }
}

TEST_CASE(
    "a runner is a good fit from no play at all to 0.09 mm: nothing there is odd, and all of it is likelier good than "
    "loose") {
    for (const Fault play : {Fault::left_play, Fault::right_play}) {
        const shop::UsualLobes& lobes = shop::info(play).lobes;
        const auto density = [&](double size, bool present) {
            double sum = 0.0;
            for (const shop::Lobe& l : lobes) {
                const double z = (size - l.mean) / l.sd;
                if (l.present == present) sum += l.weight / l.sd * std::exp(-0.5 * z * z);
            }
            return sum;
        };
        for (const double size : {0.0, 0.03, 0.06, 0.09}) {
            CAPTURE(size);
            // Within the middle nine tenths of a normal distribution (1.645 deviations) of one that is absent.
            CHECK(std::any_of(lobes.begin(), lobes.end(), [&](const shop::Lobe& l) {
                return !l.present && std::abs(size - l.mean) < 1.645 * l.sd;
            }));
            CHECK(density(size, false) > 19.0 * density(size, true));
        }
        // What is worth finding is not swallowed by it.
        CHECK(density(0.20, true) > 19.0 * density(0.20, false));
    }
}

TEST_CASE("ranges hold zero and the smallest size that is taught") {
    for (const FaultInfo& f : shop::faults()) {
        CAPTURE(f.key);
        CHECK(f.min <= 0.0);
        CHECK(f.max > 0.0);
        CHECK((f.min == 0.0 || f.min == -f.max));  // either side alike, or a size without a side
        CHECK(f.teachable > 0.0);
        CHECK(f.teachable <= 0.5 * f.max);
        // An angle of a tenth and a length of a few millimetres are no set-up errors any more.
        CHECK(f.max <= (f.unit == FaultUnit::rad ? 0.1 : 3.0));
        for (const std::string_view text : {f.wrong, f.shows, f.repair, f.stops}) {
            REQUIRE(text.size() > 10);
            CHECK(text.back() == '.');
        }
    }
    // What has a spread, a thickness or a width has no side.
    for (const Fault f : {Fault::dust, Fault::clamp_creep, Fault::left_play, Fault::right_play, Fault::blade_runout,
                          Fault::caliper_step})
        CHECK(shop::info(f).min == 0.0);
}

TEST_CASE("which faults turn the corner, as in the design's table") {
    const auto turns = [](Fault f) { return shop::info(f).turns_corner; };
    CHECK(turns(Fault::fence_skew) == Turns::yes);
    CHECK(turns(Fault::board_creep) == Turns::yes);
    for (const Fault f : {Fault::fence_lean, Fault::blade_toe, Fault::blade_tilt, Fault::blade_runout,
                          Fault::caliper_zero, Fault::caliper_step, Fault::arbor_runout, Fault::stop_slip})
        CHECK(turns(f) == Turns::no);
    for (const Fault f :
         {Fault::fence_bow, Fault::dust, Fault::left_play, Fault::right_play, Fault::slot_splay, Fault::slot_wander,
          Fault::runner_bend, Fault::clamp_creep, Fault::edge_bow, Fault::pitch_error}) {
        CHECK(turns(f) == Turns::varies);
    }
}

TEST_CASE("a key's size is its own number in the truth, and no other's") {
    for (const FaultInfo& f : shop::faults()) {
        shop::Truth t;
        shop::size_of(t, f.fault) = 0.125;
        for (const FaultInfo& g : shop::faults())
            CHECK(shop::size_of(std::as_const(t), g.fault) == (g.fault == f.fault ? 0.125 : 0.0));
    }
    shop::Truth t;
    shop::size_of(t, Fault::blade_toe) = 1.0;
    shop::size_of(t, Fault::slot_splay) = 2.0;
    shop::size_of(t, Fault::left_play) = 3.0;
    CHECK(t.blade_toe_rad == 1.0);
    CHECK(t.slot_splay_rad == 2.0);
    CHECK(t.left_play_mm == 3.0);
}

TEST_CASE("what counts as good enough does not go beyond what the sources ask for") {
    // check-values.md, "machine limits".
    CHECK(shop::Drawing{}.tolerance_rad == 0.35 / 1000);           // GOST 6853-88, 2.2.7: work stops square to the feed
    CHECK(shop::info(Fault::fence_skew).teachable < 0.35 / 1000);  // so that a learner can find what is out of it
    CHECK(shop::info(Fault::blade_toe).teachable < 0.2 / 100);     // GOST 9335-89, 2.6: blade plane to its travel
    CHECK(shop::info(Fault::blade_runout).teachable <
          0.03 / 100 * 250);  // GOST 9335-89, 2.5: flange face run-out, at a 250 mm rim
    CHECK(shop::info(Fault::blade_tilt).teachable <
          0.5 / 100);  // GOST for circular sawing machines: cut face square to the board's face
    for (const Fault f : {Fault::fence_skew, Fault::blade_toe, Fault::blade_tilt})
        CHECK(shop::info(f).max > shop::info(f).teachable * 10);
}
