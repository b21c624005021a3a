// A list whose copies share their elements until one of them changes one: a copy costs a pointer an element.
#pragma once

#include <boost/iterator/indirect_iterator.hpp>
#include <cstddef>
#include <memory>
#include <utility>
#include <vector>

namespace offsquare::base {

template <class T>
class SharedList {
public:
    using Iterator = boost::indirect_iterator<typename std::vector<std::shared_ptr<const T>>::const_iterator, const T>;

    bool empty() const { return items_.empty(); }
    std::size_t size() const { return items_.size(); }
    const T& operator[](std::size_t i) const { return *items_[i]; }
    const T& at(std::size_t i) const { return *items_.at(i); }
    const T& front() const { return *items_.front(); }
    const T& back() const { return *items_.back(); }
    Iterator begin() const { return Iterator(items_.begin()); }
    Iterator end() const { return Iterator(items_.end()); }
    void push_back(T value) { items_.push_back(std::make_shared<const T>(std::move(value))); }

    /// The element to be written: a copy of its own, which no other list sees. Refers until the next change.
    T& change(std::size_t i) {
        auto own = std::make_shared<T>(*items_[i]);
        T& written = *own;
        items_[i] = std::move(own);
        return written;
    }

private:
    std::vector<std::shared_ptr<const T>> items_;
};

}  // namespace offsquare::base
