// What stands in a file, before anyone asks what it means. Only file_text.cpp knows the library that reads the format.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace offsquare::scenario {

/// A place in a file, counted from 1; columns count characters. 0: not from a file.
struct Spot {
    int line = 0;
    int column = 0;
};

/// A value without meaning yet.
struct Raw {
    enum class Type { text, number, list, table, other };
    Type type = Type::other;
    std::string text;  ///< the text, or the number as decimal digits
    std::vector<Raw> list;
    Spot spot;
};

/// A key with its value. Tables are taken apart ("fence.length"), lists of tables too ("drawer.0.name"); each table
/// also stands as an item itself.
struct Item {
    std::string key;
    Raw raw;
    Spot spot;  ///< of the key
};

/// What is wrong with a file, and where.
struct Trouble {
    Spot spot;
    std::string message;  ///< found, allowed, example
};
template <class T>
using Read = tl::expected<T, Trouble>;

// Limits for files that anybody may have written.
inline constexpr std::size_t largest_file = 1024U * 1024U;  ///< bytes
inline constexpr int deepest = 16;                          ///< tables and lists in one another
inline constexpr std::size_t longest_text = 4096;           ///< bytes in one text

/// Looks at the bytes before the library does: size, UTF-8, control characters, depth, and what the library is known to
/// stumble over.
Read<void> look_over(std::string_view text);

/// Takes a whole file apart, in the order in which it is written. `look_over` is part of it.
Read<std::vector<Item>> take_apart(std::string_view text);

/// Takes one value apart, as it would stand after `key =`.
Read<Raw> take_value(std::string_view text);

/// Text fit for a message on one line: at most `most` characters, no control characters, no broken UTF-8.
std::string shown(std::string_view text, std::size_t most = 40);
/// The raw value as a message would call it: `"abc"`, `12`, `a list of 3`, `a table`.
std::string shown(const Raw& raw);
bool is_utf8(std::string_view text);

}  // namespace offsquare::scenario
