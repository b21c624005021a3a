#include "base/obscured.h"

#include <boost/algorithm/hex.hpp>
#include <boost/crc.hpp>
#include <cstdint>
#include <iterator>

namespace offsquare::base {
namespace {

constexpr std::size_t check_bytes = 4;

std::uint32_t check_of(std::string_view text) {
    boost::crc_32_type crc;
    crc.process_bytes(text.data(), text.size());
    return crc.checksum();
}

/// Any sequence without a short period would do: a linear congruence with the constants of Knuth's MMIX.
class Places {
public:
    char next() {
        state_ = state_ * 6364136223846793005U + 1442695040888963407U;
        constexpr int high_byte = 56;
        return static_cast<char>(state_ >> high_byte);
    }

private:
    std::uint64_t state_ = 1;
};

std::string turned(std::string_view bytes) {
    Places places;
    std::string out(bytes);
    for (char& c : out) c = static_cast<char>(c ^ places.next());
    return out;
}

std::string four_bytes(std::uint32_t value) {
    std::string out;
    for (std::size_t i = 0; i < check_bytes; ++i) out.push_back(static_cast<char>(value >> (8 * i)));
    return out;
}

}  // namespace

std::string obscured(std::string_view text) {
    std::string digits;
    boost::algorithm::hex(four_bytes(check_of(text)) + turned(text), std::back_inserter(digits));
    return digits;
}

Result<std::string> plain_again(std::string_view obscured) {
    const auto spoiled = [] { return fail(Grade::bad_data, "what is hidden in this file was changed or cut off"); };
    std::string bytes;
    try {
        boost::algorithm::unhex(obscured.begin(), obscured.end(), std::back_inserter(bytes));
    } catch (const boost::algorithm::hex_decode_error&) {
        return spoiled();
    }
    if (bytes.size() < check_bytes) return spoiled();
    std::string text = turned(std::string_view(bytes).substr(check_bytes));
    if (four_bytes(check_of(text)) != bytes.substr(0, check_bytes)) return spoiled();
    return text;
}

}  // namespace offsquare::base
