// What was asked before is looked up: one memory for each thread that asks, so that a model may be handed to several.
#pragma once

#include <atomic>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <thread>

namespace offsquare::diagnose {

/// A T of its own for each thread that asks for one, made empty when it first does. Threads share the list of who has
/// which, to which each only ever adds its own; nobody touches what is another's. It all goes when this goes, which
/// must be after the last thread is done with it. A thread that begins under the id of one that was joined takes that
/// one's on.
template <class T>
class OnePerThread {
public:
    OnePerThread() = default;
    OnePerThread(const OnePerThread&) = delete;
    OnePerThread& operator=(const OnePerThread&) = delete;
    ~OnePerThread() {
        for (Own* own = newest_.load(); own != nullptr;) {
            const Own* const done = own;
            own = own->before;
            delete done;
        }
    }

    T& mine() {
        const std::thread::id me = std::this_thread::get_id();
        for (Own* own = newest_.load(std::memory_order_acquire); own != nullptr; own = own->before) {
            if (own->whose == me) return own->value;
        }
        Own* const own = new Own{me, {}, newest_.load(std::memory_order_relaxed)};
        while (!newest_.compare_exchange_weak(own->before, own, std::memory_order_release, std::memory_order_relaxed)) {
        }
        return own->value;
    }

private:
    struct Own {
        std::thread::id whose;
        T value;
        Own* before;
    };
    std::atomic<Own*> newest_{nullptr};
};

/// Mixes the bits of numbers (the steps of Fowler, Noll and Vo, by whole words).
class MixedBits {
public:
    void add(std::uint64_t word) {
        bits_ = (bits_ ^ word) * 1099511628211ULL;
        bits_ ^= bits_ >> 29U;
    }
    /// Zero and minus zero are equal: so must be their bits.
    void add(double number) { add(std::bit_cast<std::uint64_t>(number + 0.0)); }
    std::size_t hash() const { return static_cast<std::size_t>(bits_); }

private:
    std::uint64_t bits_ = 14695981039346656037ULL;
};

}  // namespace offsquare::diagnose
