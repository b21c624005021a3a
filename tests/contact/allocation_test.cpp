// The direct solver of the push takes its memory before it starts: no step of it asks for more. Counted by replacing
// the one operator new that all others of the program go through.
#include <doctest/doctest.h>

#include <atomic>
#include <cstdlib>
#include <new>

#include "contact/draws.h"
#include "contact/pushed.h"
#include "shop/truth.h"

namespace {
std::atomic<long> asked{0};
}

void* operator new(std::size_t size) {
    ++asked;
    if (void* p = std::malloc(size == 0 ? 1 : size)) return p;
    throw std::bad_alloc();
}
void operator delete(void* p) noexcept { std::free(p); }
void operator delete(void* p, std::size_t) noexcept { std::free(p); }

using namespace offsquare;

TEST_CASE("no step of the direct solver asks for memory") {
    Draws r(3);
    for (int saw = 0; saw < 6; ++saw) {
        shop::Drawing d = pushed::saw(300.0);
        if (saw % 2 == 1) d.table.depth_mm = 560.0;  // the runners leave the table
        shop::Truth t = pushed::loose(0.2, 0.2);
        if (saw >= 2) t.left_slot_profile = r.wavy(-280, 280, 0.02), t.right_slot_profile = r.wavy(-280, 280, 0.02);
        if (saw >= 4) t.left_runner_profile = t.right_runner_profile = r.wavy(-150, 150, 0.01), t.slot_splay_rad = 1e-4;
        contact::HandPush hand;
        for (int i = 0; i < 50; ++i) hand.grips.push_back({-100.0 + 4.0 * i, r.between(-80.0, 80.0)});
        const auto allocations = [&](int steps) {
            const long before = asked;
            const contact::PushedPass pass = contact::push_sled(d, t, hand, contact::Rub{}, -100.0, 100.0, steps);
            const long after = asked;
            REQUIRE(pass.stuck == contact::Stuck::no);
            REQUIRE(pass.path.size() == static_cast<std::size_t>(steps) + 1);
            return after - before;
        };
        CAPTURE(saw);
        const long few = allocations(8);
        CHECK(few > 0);  // the path itself: the counter counts
        CHECK(allocations(2048) == few);
    }
}
