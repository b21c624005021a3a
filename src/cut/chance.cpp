#include "cut/chance.h"

#include "base/random.h"
#include "shop/truth.h"

namespace offsquare::cut {
namespace {

using base::Draw;
using base::Purpose;

contact::Push steady_push(shop::Hand hand) {
    switch (hand) {
        case shop::Hand::left: return {-1.0, 0.0};
        case shop::Hand::right: return {1.0, 0.0};
        case shop::Hand::middle:
        case shop::Hand::wandering: break;
    }
    return {0.0, 0.0};
}

contact::Push wandering_push(double guided_mm, std::uint64_t seed, std::uint32_t test, std::uint32_t number) {
    const double side = base::uniform01(Draw{seed, Purpose::hand, test, 2 * number}) < 0.5 ? -1.0 : 1.0;
    const double off = 2.0 * base::uniform01(Draw{seed, Purpose::hand, test, 2 * number + 1}) - 1.0;
    return {side, off * guided_mm};
}

std::optional<contact::Chip> chip(double thickness_mm, std::uint64_t seed, std::uint32_t test, std::uint32_t number) {
    if (thickness_mm == 0.0 || base::uniform01(Draw{seed, Purpose::chip, test, 2 * number}) < 0.5) return std::nullopt;
    return contact::Chip{base::uniform01(Draw{seed, Purpose::chip, test, 2 * number + 1}), thickness_mm};
}

}  // namespace

Chances alike(const contact::Push& push) {
    Chances chances;
    chances.fill({push, std::nullopt});
    return chances;
}

Chances steady(const shop::Drawing& drawing) { return alike(steady_push(drawing.sled.hand)); }

Chances chances_of(const shop::Drawing& drawing, const shop::Truth& truth, std::uint64_t seed, std::uint32_t test) {
    Chances chances = steady(drawing);
    for (std::uint32_t i = 0; i < chances.size(); ++i) {
        if (drawing.sled.hand == shop::Hand::wandering)
            chances[i].push = wandering_push(drawing.sled.runner_length_mm, seed, test, i);
        chances[i].chip = chip(truth.dust_mm, seed, test, i);
    }
    return chances;
}

}  // namespace offsquare::cut
