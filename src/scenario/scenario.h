// A scenario is one saw with its sled, board, instruments, drawer and hidden errors, as a value; and the file that it
// comes from.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "scenario/concern.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::scenario {

/// What the work on a case may cost; 0: whatever it takes.
struct Budget {
    double minutes = 0.0;
    double board_mm = 0.0;
};

struct Scenario {
    std::string title = "untitled";       ///< "Teaching saw, bay 2"; never empty
    std::string story;                    ///< one to three sentences for the person who opens it
    std::string complaint;                ///< of a case: what its owner says, one sentence; empty: it is no case
    Concern speaks_of = Concern::corner;  ///< what the complaint is about; without one it tells nothing
    Budget budget;
    base::Units units = base::Units::metric;  ///< what the file speaks and what is shown first
    std::uint64_t seed = 1;                   ///< used unless another is given
    shop::Drawing drawing;
    shop::Hidden truth;
};

/// One change from outside the file: `key` is a dotted path such as "faults.fence_skew" or "drawer.0.thickness",
/// `value` as in the file (words without quotes) or with a unit of its own. A bare length is in the file's own unit,
/// whatever other changes say; a bare angle is in mrad.
struct Override {
    std::string key;
    std::string value;
};

/// A scenario and what deserves a word although the file is usable (unknown keys with the nearest known name; one line
/// each).
struct Loaded {
    Scenario scenario;
    std::vector<std::string> warnings;
};

/// Reads a scenario from text. `name` is how messages call it. Errors name file, line, column, what was found, what is
/// allowed, and an example; an override that does not fit is Grade::usage. What anybody may have written is taken up to
/// the limits of scenario/raw.h (bytes, depth, length of a text) and scenario/schema.h (rows, pieces, points of a
/// face), and every value within the range that keys() names.
base::Result<Loaded> parse(std::string_view text, std::string_view name, const std::vector<Override>& overrides = {});

/// The same for the scenario of a recorded session. It is written with every key, so that one that is left out is
/// younger than the record: it gets the value with which the instruments read then, and not the usual one.
base::Result<Loaded> parse_recorded(std::string_view text, std::string_view name);

/// Reads a scenario from a file. A path that does not exist is Grade::no_input.
base::Result<Loaded> load(const std::string& path, const std::vector<Override>& overrides = {});

/// The same scenario with some values changed. Everything is validated again. Grade::usage on error.
base::Result<Scenario> with(const Scenario& scenario, const std::vector<Override>& overrides);

/// The value as a file, in the scenario's own units; parse(to_text(s)) gives s back (lengths and angles to the last
/// bit). The hidden errors stand in it: for saving only (tests/house says who may).
std::string to_text(const Scenario& scenario);

/// The built-in default: the same text as scenarios/teaching-saw.toml, compiled in, so that the program works without
/// any file.
std::string_view built_in_text();
Scenario built_in();

/// Every key of the file by its dotted path, with its meaning, unit, range and default, for --help, `check` and the
/// set-up panel.
struct KeyInfo {
    /// points: a list of [place, departure] pairs, both lengths, such as [[-100, 0], [0, 0.2], [100, 0]].
    enum class Kind { length, angle, number, count, word, points };
    std::string key;      ///< "fence.shim_left"; rows of the drawer stand as "drawer.0.name" and so on
    std::string meaning;  ///< a plain phrase
    Kind kind = Kind::length;
    double min = 0.0;  ///< mm or rad; for text the number of bytes; for points the departure [mm]
    double max = 0.0;
    std::string example;   ///< a value that may be typed
    std::string standard;  ///< what holds when the key is left out, as value_of writes it in metric; empty: nothing
};
const std::vector<KeyInfo>& keys();

/// Whether the key sets one of the errors that nobody at the saw can see.
bool is_hidden(std::string_view key);

/// What a message about an angle says of bare numbers: in a file and for --set, whatever the units are.
inline constexpr std::string_view bare_angles = " (a bare number is in mrad)";

/// The present value of a key as text that could be typed again, in the scenario's units. Empty for an unknown key and
/// for a hidden one: session/reveal.h has those for who asks for them.
std::string value_of(const Scenario& scenario, std::string_view key);

}  // namespace offsquare::scenario
