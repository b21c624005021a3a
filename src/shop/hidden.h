// The hidden errors of a saw in a sealed cover: whoever holds a scenario can carry them about, copy and hand them on,
// and cannot look at them. Only who includes shop/truth.h can, and tests/house/arrows_test.cpp says who may.
#pragma once

#include <memory>

namespace offsquare::shop {

struct Truth;

/// A value like any other: a copy has errors of its own.
class Hidden {
public:
    Hidden();  ///< a perfect saw
    Hidden(const Truth& truth);
    Hidden(const Hidden& other);
    Hidden(Hidden&& other) noexcept;
    Hidden& operator=(const Hidden& other);
    Hidden& operator=(Hidden&& other) noexcept;
    ~Hidden();

    Truth& operator*() { return *truth_; }
    const Truth& operator*() const { return *truth_; }
    Truth* operator->() { return truth_.get(); }
    const Truth* operator->() const { return truth_.get(); }

private:
    std::unique_ptr<Truth> truth_;  ///< never null
};

}  // namespace offsquare::shop
