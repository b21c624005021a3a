// The only place that knows the library for the file format. Everything else sees `Raw`.
#define TOML_EXCEPTIONS 0
#include <toml++/toml.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "scenario/raw.h"
#include "scenario/schema.h"

namespace offsquare::scenario {
namespace {

constexpr std::string_view byte_order_mark = "\xef\xbb\xbf";

Spot spot_of(const toml::source_region& region) {
    return {static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

tl::unexpected<Trouble> trouble(Spot spot, std::string message) {
    return tl::unexpected<Trouble>(Trouble{spot, std::move(message)});
}

/// The shortest decimal that reads back as the same double.
std::string shortest(double v) { return fmt::format("{}", v); }

Read<Raw> raw_of(const toml::node& node, int depth);

Read<Raw> text_of(const toml::value<std::string>& value, Spot spot) {
    if (value.get().size() > longest_text) {
        return trouble(spot,
                       fmt::format("found a text of {} bytes. Allowed: at most {}. Example: title = \"Teaching saw\"",
                                   value.get().size(), longest_text));
    }
    return Raw{Raw::Type::text, value.get(), {}, spot};
}

Read<Raw> list_of(const toml::array& array, Spot spot, int depth) {
    if (array.size() > longest_list) {
        return trouble(spot,
                       fmt::format("found a list of {}. Allowed: at most {}. Example: [[-200, 0], [0, 0.1], [200, 0]]",
                                   array.size(), longest_list));
    }
    Raw raw{Raw::Type::list, {}, {}, spot};
    for (const toml::node& element : array) {
        Read<Raw> r = raw_of(element, depth + 1);
        if (!r) return r;
        raw.list.push_back(*std::move(r));
    }
    return raw;
}

Read<Raw> raw_of(const toml::node& node, int depth) {
    const Spot spot = spot_of(node.source());
    if (depth > deepest) {
        return trouble(
            spot, fmt::format(
                      "found more than {} levels in one another. Allowed: at most {}. Example: fence.shim_left = -250",
                      deepest, deepest));
    }
    if (const auto* s = node.as_string()) return text_of(*s, spot);
    if (const auto* i = node.as_integer()) return Raw{Raw::Type::number, fmt::format("{}", i->get()), {}, spot};
    if (const auto* f = node.as_floating_point()) return Raw{Raw::Type::number, shortest(f->get()), {}, spot};
    if (const auto* a = node.as_array()) return list_of(*a, spot, depth);
    if (node.is_table()) return Raw{Raw::Type::table, {}, {}, spot};
    if (const auto* b = node.as_boolean()) return Raw{Raw::Type::other, b->get() ? "true" : "false", {}, spot};
    return Raw{Raw::Type::other, "a date or time", {}, spot};
}

Read<void> take_table(const toml::table& table, const std::string& prefix, int depth, std::vector<Item>& items);

/// A list of tables: each row by its number.
Read<void> take_rows(const toml::array& array, const std::string& key, int depth, std::vector<Item>& items) {
    if (array.size() > longest_list) {
        return trouble(spot_of(array.source()), fmt::format("found {} rows. Allowed: at most {}. Example: [[drawer]]",
                                                            array.size(), longest_list));
    }
    for (std::size_t i = 0; i < array.size(); ++i) {
        const std::string row = fmt::format("{}.{}", key, i);
        const Spot spot = spot_of(array[i].source());
        items.push_back({row, Raw{Raw::Type::table, {}, {}, spot}, spot});
        if (const auto done = take_table(*array[i].as_table(), row + ".", depth + 1, items); !done) return done;
    }
    return {};
}

/// A quoted key with a dot in it is one word, not a path.
std::string word_of(std::string_view key) {
    return key.find('.') == std::string_view::npos ? std::string(key) : '"' + std::string(key) + '"';
}

Read<void> take_table(const toml::table& table, const std::string& prefix, int depth, std::vector<Item>& items) {
    for (const auto& [key, node] : table) {
        const std::string path = prefix + word_of(key.str());
        const toml::array* array = node.as_array();
        const bool rows = array != nullptr && array->is_array_of_tables();
        if (!rows) {
            Read<Raw> raw = raw_of(node, depth);
            if (!raw) return tl::unexpected<Trouble>(raw.error());
            items.push_back({path, *std::move(raw), spot_of(key.source())});
        }
        if (rows) {
            if (const auto done = take_rows(*array, path, depth + 1, items); !done) return done;
        } else if (const toml::table* inner = node.as_table()) {
            if (const auto done = take_table(*inner, path + ".", depth + 1, items); !done) return done;
        }
    }
    return {};
}

bool earlier(const Item& a, const Item& b) {
    return a.spot.line != b.spot.line ? a.spot.line < b.spot.line : a.spot.column < b.spot.column;
}

Read<toml::table> read_table(std::string_view text) {
    if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
    toml::parse_result result = toml::parse(text);
    if (result) return std::move(result).table();
    const toml::parse_error& e = result.error();
    return trouble(
        spot_of(e.source()),
        fmt::format(
            "cannot be read: {}. Allowed: one `key = value` on a line, under a [section]. Example: shim_left = -250",
            shown(e.description(), 160)));
}

}  // namespace

std::string shown(const Raw& raw) {
    switch (raw.type) {
        case Raw::Type::text: return "\"" + shown(std::string_view(raw.text)) + "\"";
        case Raw::Type::number:
        case Raw::Type::other: return shown(std::string_view(raw.text));
        case Raw::Type::list: return fmt::format("a list of {}", raw.list.size());
        case Raw::Type::table: return "a section";
    }
    return {};
}

Read<std::vector<Item>> take_apart(std::string_view text) {
    if (const auto ok = look_over(text); !ok) return tl::unexpected<Trouble>(ok.error());
    const Read<toml::table> table = read_table(text);
    if (!table) return tl::unexpected<Trouble>(table.error());
    std::vector<Item> items;
    if (const auto done = take_table(*table, "", 1, items); !done) return tl::unexpected<Trouble>(done.error());
    std::stable_sort(items.begin(), items.end(), earlier);
    return items;
}

Read<Raw> take_value(std::string_view text) {
    if (text.find('\n') != std::string_view::npos)
        return trouble({}, "found more than one line. Allowed: one value. Example: [[-200, 0], [0, 0.1], [200, 0]]");
    const std::string line = "value = " + std::string(text);
    const Read<std::vector<Item>> items = take_apart(line);
    if (!items) return tl::unexpected<Trouble>(items.error());
    if (items->size() != 1)
        return trouble({}, "found more than one value. Allowed: one. Example: [[-200, 0], [0, 0.1], [200, 0]]");
    return items->front().raw;
}

}  // namespace offsquare::scenario
