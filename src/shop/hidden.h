// The hidden errors of a saw in a sealed cover: whoever holds a scenario can carry them about, copy and hand the cover
// on, and cannot look at them nor hand on what is in it: without shop/truth.h that does not compile, and
// tests/house/lock.h says who may include it.
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

    template <class T = Truth>
    requires(sizeof(T) > 0) T& operator*() { return *truth_; }
    template <class T = Truth>
    requires(sizeof(T) > 0) const T& operator*() const { return *truth_; }
    Truth* operator->() { return truth_.get(); }
    const Truth* operator->() const { return truth_.get(); }

private:
    std::unique_ptr<Truth> truth_;  ///< never null
};

}  // namespace offsquare::shop
