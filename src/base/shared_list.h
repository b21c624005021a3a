// A list whose copies share their elements until one of them changes one: a copy costs a pointer for every 64 elements,
// so that thousands of states of a long history can be kept beside each other.
#pragma once

#include <cstddef>
#include <iterator>
#include <memory>
#include <stdexcept>
#include <utility>
#include <vector>

namespace offsquare::base {

template <class T>
class SharedList {
public:
    class Iterator {
    public:
        using iterator_category = std::forward_iterator_tag;
        using value_type = T;
        using difference_type = std::ptrdiff_t;
        using pointer = const T*;
        using reference = const T&;

        Iterator() = default;
        Iterator(const SharedList* list, std::size_t at) : list_(list), at_(at) {}
        reference operator*() const { return (*list_)[at_]; }
        pointer operator->() const { return &(*list_)[at_]; }
        Iterator& operator++() {
            ++at_;
            return *this;
        }
        Iterator operator++(int) { return {list_, at_++}; }
        friend bool operator==(const Iterator&, const Iterator&) = default;

    private:
        const SharedList* list_ = nullptr;
        std::size_t at_ = 0;
    };

    bool empty() const { return size_ == 0; }
    std::size_t size() const { return size_; }
    const T& operator[](std::size_t i) const { return *(*blocks_[i / block])[i % block]; }  ///< i < size()
    const T& at(std::size_t i) const {
        if (i >= size_) throw std::out_of_range("SharedList");
        return (*this)[i];
    }
    const T& front() const { return (*this)[0]; }
    const T& back() const { return (*this)[size_ - 1]; }
    Iterator begin() const { return {this, 0}; }
    Iterator end() const { return {this, size_}; }

    void push_back(T value) {
        if (size_ % block == 0) blocks_.push_back(std::make_shared<const Block>());
        own_block(size_).push_back(std::make_shared<const T>(std::move(value)));
        ++size_;
    }

    /// The element to be written: a copy of its own, which no other list sees. Refers until the next change.
    T& change(std::size_t i) {
        auto own = std::make_shared<T>((*this)[i]);
        T& written = *own;
        own_block(i)[i % block] = std::move(own);
        return written;
    }

private:
    static constexpr std::size_t block = 64;
    using Block = std::vector<std::shared_ptr<const T>>;

    /// The block of that element, as a copy that no other list has.
    Block& own_block(std::size_t i) {
        auto own = std::make_shared<Block>(*blocks_[i / block]);
        Block& written = *own;
        blocks_[i / block] = std::move(own);
        return written;
    }

    std::vector<std::shared_ptr<const Block>> blocks_;
    std::size_t size_ = 0;
};

}  // namespace offsquare::base
