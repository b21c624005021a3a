#include "shop/hidden.h"

#include "shop/truth.h"

namespace offsquare::shop {

Hidden::Hidden() : truth_(std::make_unique<Truth>()) {}
Hidden::Hidden(const Truth& truth) : truth_(std::make_unique<Truth>(truth)) {}
Hidden::Hidden(const Hidden& other) : truth_(std::make_unique<Truth>(*other.truth_)) {}
Hidden::Hidden(Hidden&& other) noexcept : truth_(std::move(other.truth_)) { other.truth_ = std::make_unique<Truth>(); }
Hidden::~Hidden() = default;

Hidden& Hidden::operator=(const Hidden& other) {
    *truth_ = *other.truth_;
    return *this;
}

Hidden& Hidden::operator=(Hidden&& other) noexcept {
    std::swap(truth_, other.truth_);
    return *this;
}

}  // namespace offsquare::shop
