#include "scenario/schema.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>
#include <vector>

#include "shop/truth.h"

namespace offsquare::scenario {
namespace {

using Kind = KeyInfo::Kind;
using D = shop::Drawing;
using T = shop::Truth;

/// The value at the end of a chain of members.
template <auto... members>
auto& in(Scenario& s, std::size_t /*row*/) {
    return (s.*....*members);
}
template <auto... members>
auto& drawn(Scenario& s, std::size_t /*row*/) {
    return (s.drawing.*....*members);
}
template <auto member>
auto& hidden(Scenario& s, std::size_t /*row*/) {
    return (*s.truth).*member;
}
template <auto member>
auto& in_drawer(Scenario& s, std::size_t row) {
    return s.drawing.drawer.at(row).*member;
}

template <std::size_t fault>
double& size_of_fault(Scenario& s, std::size_t /*row*/) {
    return shop::size_of(*s.truth, static_cast<shop::Fault>(fault));
}

/// Where the size of each fault lives, in the order of the enum.
constexpr auto sizes_of_faults = []<std::size_t... fault>(std::index_sequence<fault...>) {
    return std::array<Finder<double>, sizeof...(fault)>{size_of_fault<fault>...};
}
(std::make_index_sequence<shop::fault_count>{});

constexpr double largest_seed = 18446744073709551615.0;

// Ranges are wide enough for any saw that a person can push a sled over, and narrow enough to catch a wrong unit.
const std::array known_entries = {
    Entry{"format", Kind::count, 1, 1, "version of this file format", "1", Fixed{}},
    Entry{"title", Kind::word, 1, 200, "name of the scenario, one line", "Teaching saw", in<&Scenario::title>},
    Entry{"story", Kind::word, 0, 2000, "one to three sentences for whoever opens it", "A new sled, fence not yet set.",
          in<&Scenario::story>},
    Entry{"complaint", Kind::word, 0, 120, "what the owner says: one sentence by which a case is known, no cause in it",
          "No two tests agree.", in<&Scenario::complaint>},
    Entry{"speaks_of", Kind::word, 1, 20,
          "what that sentence is about: corner, face (how the cut looks), slide (how the sled goes) or change (that it "
          "does not stay so)",
          "corner", in<&Scenario::speaks_of>},
    Entry{"units", Kind::word, 1, 20, "unit of bare lengths here, and what is shown first: metric or imperial",
          "metric", in<&Scenario::units>},
    Entry{"seed", Kind::count, 0, largest_seed, "start of all chance; the same seed gives the same readings", "1",
          in<&Scenario::seed>},

    Entry{"budget.minutes", Kind::number, 0, 10000, "what a case may cost, in minutes; 0: whatever it takes", "45",
          in<&Scenario::budget, &Budget::minutes>},
    Entry{"budget.board", Kind::length, 0, 100000, "how much board a case may cost, cut off; 0: whatever it takes",
          "200 mm", in<&Scenario::budget, &Budget::board_mm>},

    Entry{"table.width", Kind::length, 100, 5000, "table across the mitre slots", "700 mm",
          drawn<&D::table, &shop::Table::width_mm>},
    Entry{"table.depth", Kind::length, 100, 5000, "table along the mitre slots, the blade's centre in the middle",
          "560 mm", drawn<&D::table, &shop::Table::depth_mm>},

    Entry{"blade.diameter", Kind::length, 50, 1000, "blade over the teeth", "250 mm",
          drawn<&D::blade, &shop::Blade::diameter_mm>},
    Entry{"blade.height", Kind::length, 0, 500, "highest tooth above the table; 0 is down", "60 mm",
          drawn<&D::blade, &shop::Blade::height_mm>},
    Entry{"blade.full_height", Kind::length, 0, 500, "as high as the saw can raise the blade", "80 mm",
          drawn<&D::blade, &shop::Blade::full_height_mm>},
    Entry{"blade.kerf", Kind::length, 0.5, 20, "width of the cut", "3.2 mm", drawn<&D::blade, &shop::Blade::kerf_mm>},

    Entry{"slots.left", Kind::length, -2000, -1, "centre line of the left mitre slot from the blade, negative",
          "-140 mm", drawn<&D::slots, &shop::Slots::left_x_mm>},
    Entry{"slots.right", Kind::length, 1, 2000, "centre line of the right mitre slot from the blade", "140 mm",
          drawn<&D::slots, &shop::Slots::right_x_mm>},
    Entry{"slots.width", Kind::length, 5, 100, "width of both mitre slots", "19 mm",
          drawn<&D::slots, &shop::Slots::width_mm>},

    Entry{"sled.width", Kind::length, 100, 5000, "base of the sled, across", "620 mm",
          drawn<&D::sled, &shop::Sled::width_mm>},
    Entry{"sled.depth", Kind::length, 100, 5000, "base of the sled, along the feed", "420 mm",
          drawn<&D::sled, &shop::Sled::depth_mm>},
    Entry{"sled.fence_from_rear", Kind::length, 5, 2000, "the fence's face from the base's rear edge", "60 mm",
          drawn<&D::sled, &shop::Sled::fence_from_rear_mm>},
    Entry{"sled.runner_length", Kind::length, 50, 5000, "both runners, centred on the base's depth", "420 mm",
          drawn<&D::sled, &shop::Sled::runner_length_mm>},
    Entry{
        "sled.hand", Kind::word, 1, 20,
        "to which side the hand presses: left, right, middle (the sled stands in the middle of its play) or wandering",
        "right", drawn<&D::sled, &shop::Sled::hand>},
    Entry{"sled.exit_cover", Kind::length, 0, 1000,
          "how far a block behind the fence covers the blade where it comes out", "190 mm",
          drawn<&D::sled, &shop::Sled::exit_cover_mm>},
    Entry{"sled.stop", Kind::length, -2000, 2000,
          "where the push stops: the fence's face from the blade's centre; none: pushed right through", "none",
          drawn<&D::sled, &shop::Sled::stop_y_mm>, true},

    Entry{"feed.at", Kind::length, -2000, 2000, "where the hand pushes the sled, from the blade's line, positive right",
          "80 mm", drawn<&D::feed, &shop::Feed::at_mm>},
    Entry{"feed.force", Kind::number, 0.1, 10000, "the most that the hand gives, in N", "60",
          drawn<&D::feed, &shop::Feed::force_n>},
    Entry{"feed.friction", Kind::number, 0, 2, "coefficient of friction between runners and slot walls; wax lowers it",
          "0.25", drawn<&D::feed, &shop::Feed::friction>},
    Entry{"feed.base_drag", Kind::number, 0.1, 10000, "drag of the base on the table, in N", "15",
          drawn<&D::feed, &shop::Feed::base_drag_n>},
    Entry{"feed.blade_drag", Kind::number, 0, 10000, "drag of the blade while it cuts, in N", "20",
          drawn<&D::feed, &shop::Feed::blade_drag_n>},

    Entry{"fence.length", Kind::length, 50, 5000, "fence, centred on the blade", "560 mm",
          drawn<&D::fence, &shop::Fence::length_mm>},
    Entry{"fence.thickness", Kind::length, 1, 500, "fence, front to back", "36 mm",
          drawn<&D::fence, &shop::Fence::thickness_mm>},
    Entry{"fence.height", Kind::length, 1, 1000, "fence above the base", "80 mm",
          drawn<&D::fence, &shop::Fence::height_mm>},
    Entry{"fence.shim_left", Kind::length, -2500, 2500, "left place for shims, from the blade's line", "-250 mm",
          drawn<&D::fence, &shop::Fence::shim_left_x_mm>},
    Entry{"fence.shim_right", Kind::length, -2500, 2500, "right place for shims, from the blade's line", "250 mm",
          drawn<&D::fence, &shop::Fence::shim_right_x_mm>},

    Entry{"board.width", Kind::length, 20, 3000, "board along the fence at the first cut", "330 mm",
          drawn<&D::board, &shop::Board::width_mm>},
    Entry{"board.length", Kind::length, 20, 3000, "board along the feed at the first cut", "320 mm",
          drawn<&D::board, &shop::Board::length_mm>},
    Entry{"board.thickness", Kind::length, 1, 200, "board", "18 mm", drawn<&D::board, &shop::Board::thickness_mm>},
    Entry{"board.trim", Kind::length, -50, 500,
          "what cuts 1 to 4 take off, kerf aside; below 0 the blade takes less than its kerf, or misses", "8 mm",
          drawn<&D::board, &shop::Board::trim_mm>},
    Entry{"board.strip", Kind::length, 0.5, 500, "width of the strip of the fifth cut", "12 mm",
          drawn<&D::board, &shop::Board::strip_mm>},
    Entry{"board.first_edge", Kind::angle, -0.1, 0.1,
          "how far the rough first edge is from square; the test does not mind", "2 mrad",
          drawn<&D::board, &shop::Board::first_edge_rad>},
    Entry{"board.kept", Kind::word, 1, 20, "side of the blade where the kept piece lies: left or right", "left",
          drawn<&D::board, &shop::Board::kept>},
    Entry{"board.rough", Kind::length, 0, 2,
          "fuzz under each end of an edge that bears on a straightedge, one standard deviation; for the flip test",
          "0.005 mm", drawn<&D::board, &shop::Board::rough_mm>},
    Entry{"board.saw_marks", Kind::length, 0, 2,
          "depth of the saw marks between two cut faces, one standard deviation; for the flip test", "0.01 mm",
          drawn<&D::board, &shop::Board::marks_mm>},
    Entry{"board.parallel", Kind::length, 0, 5,
          "how far its two long edges are from parallel, one standard deviation; for the flip test", "0.02 mm",
          drawn<&D::board, &shop::Board::parallel_mm>},

    Entry{"caliper.name", Kind::word, 1, 64, "what the caliper is called", "digital caliper",
          drawn<&D::caliper, &shop::Caliper::name>},
    Entry{"caliper.step", Kind::length, 0.0001, 5, "last digit of the caliper", "0.01 mm",
          drawn<&D::caliper, &shop::Caliper::step_mm>},
    Entry{
        "caliper.limit", Kind::length, 0, 5,
        "limits of error of the caliper up to 100 mm, half width; longer sizes have more, as in DIN 862 (from memory)",
        "0.03 mm", drawn<&D::caliper, &shop::Caliper::limit_mm>},
    Entry{"caliper.repeatability", Kind::length, 0, 5, "scatter of repeated readings, one standard deviation",
          "0.01 mm", drawn<&D::caliper, &shop::Caliper::repeat_mm>},
    Entry{"caliper.repeat_readings", Kind::count, 0, 1000,
          "how many earlier readings gave that scatter; 0: taken as known", "10",
          drawn<&D::caliper, &shop::Caliper::repeat_readings>},
    Entry{"caliper.cancels", Kind::number, 0, 1,
          "share of those limits that is one error of its scale, and so cancels between the two ends of a strip",
          "0.75", drawn<&D::caliper, &shop::Caliper::cancels>},

    Entry{"tape.step", Kind::length, 0.001, 20, "last mark of the tape", "0.5 mm",
          drawn<&D::tape, &shop::Tape::step_mm>},
    Entry{"tape.limit", Kind::length, 0, 20, "limits of error of the tape, half width", "0.5 mm",
          drawn<&D::tape, &shop::Tape::limit_mm>},

    Entry{"straightedge.length", Kind::length, 50, 5000, "straightedge", "600 mm",
          drawn<&D::straightedge, &shop::Straightedge::length_mm>},
    Entry{"straightedge.limit", Kind::length, 0, 5,
          "limits of its edge over its length; none: those of DIN 874, grade 2 (from memory)", "0.02 mm",
          drawn<&D::straightedge, &shop::Straightedge::limit_mm>, true},

    Entry{"feelers.step", Kind::length, 0, 1,
          "thinnest feeler gauge and the step from leaf to leaf; 0: read to hundredths of a mm", "0.05 mm",
          drawn<&D::feelers, &shop::Feelers::step_mm>},
    Entry{"block.length", Kind::length, 0, 1000, "block in the mitre slot on which the indicator rides, along the slot",
          "80 mm", drawn<&D::block, &shop::IndicatorBlock::length_mm>},
    Entry{"block.play", Kind::length, 0, 5, "how much narrower than its slot that block is", "0.05 mm",
          drawn<&D::block, &shop::IndicatorBlock::play_mm>},

    Entry{"drawer.#.name", Kind::word, 1, 64, "what the shims in this row are", "brass", in_drawer<&shop::Shim::name>},
    Entry{"drawer.#.thickness", Kind::length, 0.001, 25, "thickness as marked", "0.1 mm",
          in_drawer<&shop::Shim::thickness_mm>},
    Entry{"drawer.#.u", Kind::length, 0, 2, "standard uncertainty of that thickness", "0.003 mm",
          in_drawer<&shop::Shim::u_mm>},
    Entry{"drawer.#.count", Kind::count, 0, 20, "how many pieces are there", "2", in_drawer<&shop::Shim::count>},

    Entry{"tolerance.corner", Kind::angle, 1e-6, 0.02, "largest corner error that counts as square", "0.35 mrad",
          drawn<&D::tolerance_rad>},
};

const std::array hidden_shapes = {
    Entry{"faults.fence_profile", Kind::points, -5, 5,
          "further departure of the fence's face towards the board, by place to the right of the blade",
          "[[-200, 0], [0, 0.1], [200, 0]]", hidden<&T::fence_profile>},
    Entry{"faults.left_slot_profile", Kind::points, -5, 5,
          "departure of the left slot to the right, by place beyond the blade's middle",
          "[[-200, 0], [0, 0.1], [200, 0]]", hidden<&T::left_slot_profile>},
    Entry{"faults.left_runner_profile", Kind::points, -5, 5,
          "departure of the left runner to the right, by place beyond the fence's face",
          "[[-200, 0], [0, 0.1], [200, 0]]", hidden<&T::left_runner_profile>},
    Entry{"faults.right_runner_profile", Kind::points, -5, 5,
          "departure of the right runner to the right, by place beyond the fence's face",
          "[[-200, 0], [0, 0.1], [200, 0]]", hidden<&T::right_runner_profile>},
    Entry{"faults.edge_profile", Kind::points, -5, 5,
          "departure of the board's first edge outwards, by place from its left end", "[[0, 0], [150, 0.1], [300, 0]]",
          hidden<&T::edge_profile>},
    Entry{"faults.right_slot_profile", Kind::points, -5, 5,
          "departure of the right slot to the right, by place beyond the blade's middle",
          "[[-200, 0], [0, 0.1], [200, 0]]", hidden<&T::right_slot_profile>},
};

/// One for each fault, as its row says; the words last as long as the program.
std::vector<Entry> entries_of_faults() {
    static const std::vector<std::string> keys = [] {
        std::vector<std::string> all;
        for (const shop::FaultInfo& f : shop::faults()) all.push_back("faults." + std::string(f.key));
        return all;
    }();
    std::vector<Entry> entries;
    for (std::size_t i = 0; i < keys.size(); ++i) {
        const shop::FaultInfo& f = shop::faults()[i];
        entries.push_back({keys[i], f.unit == shop::FaultUnit::mm ? Kind::length : Kind::angle, f.min, f.max, f.in_file,
                           f.example, sizes_of_faults[i]});
    }
    return entries;
}

std::vector<Entry> make_entries() {
    std::vector<Entry> all(known_entries.begin(), known_entries.end());
    const std::vector<Entry> faults = entries_of_faults();
    all.insert(all.end(), faults.begin(), faults.end());
    all.insert(all.end(), hidden_shapes.begin(), hidden_shapes.end());
    return all;
}

constexpr std::string_view drawer_prefix = "drawer.";
constexpr std::size_t longest_key = 64;  // longer words are no slips of ours, and comparing costs length squared

/// "drawer.3.count" becomes "drawer.#.count" and 3.
struct Pattern {
    std::string key;
    std::size_t row = 0;
};

Pattern pattern_of(std::string_view key) {
    if (!key.starts_with(drawer_prefix)) return {std::string(key), 0};
    const std::string_view rest = key.substr(drawer_prefix.size());
    const std::size_t digits = std::min(rest.find_first_not_of("0123456789"), rest.size());
    Pattern p;
    if (digits == 0 || std::from_chars(rest.data(), rest.data() + digits, p.row).ec != std::errc())
        return {std::string(key), 0};
    p.key = std::string(drawer_prefix) + "#" + std::string(rest.substr(digits));
    return p;
}

std::string_view last_word(std::string_view key) { return key.substr(key.rfind('.') + 1); }

/// Whether the word is a whole part of the longer one: "skew" of "fence_skew".
bool is_part(std::string_view word, std::string_view longer) {
    return word.size() >= 3 &&
           (longer.ends_with("_" + std::string(word)) || longer.starts_with(std::string(word) + "_"));
}

/// Slips between two keys; the right word in the wrong section counts as one more than its own slips, a part of the
/// right word as two.
std::size_t distance(std::string_view typed, std::string_view known) {
    const std::size_t whole = slips(typed, known);
    const std::size_t word = slips(last_word(typed), last_word(known));
    if (is_part(last_word(typed), last_word(known))) return std::min<std::size_t>(whole, 2);
    return 3 * word <= last_word(typed).size() ? std::min(whole, word + 1) : whole;
}

}  // namespace

std::span<const Entry> schema() {
    static const std::vector<Entry> all = make_entries();
    return all;
}

std::optional<Found> find(std::string_view key) {
    if (key.find('#') != std::string_view::npos) return std::nullopt;
    const Pattern p = pattern_of(key);
    const auto it = std::find_if(schema().begin(), schema().end(), [&](const Entry& e) { return e.key == p.key; });
    if (it == schema().end()) return std::nullopt;
    return Found{&*it, p.row};
}

bool is_section(std::string_view key) {
    const std::string prefix = pattern_of(key).key + ".";
    return std::any_of(schema().begin(), schema().end(), [&](const Entry& e) { return e.key.starts_with(prefix); });
}

std::string key_with_row(const Entry& entry, std::size_t row) {
    std::string key(entry.key);
    if (const std::size_t at = key.find('#'); at != std::string::npos) key.replace(at, 1, std::to_string(row));
    return key;
}

std::size_t slips(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before_last(b.size() + 1);
    std::vector<std::size_t> last(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        before_last.swap(last);
        last.swap(row);
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const bool same = a[i - 1] == b[j - 1];
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0U : 1U)});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
    }
    return row[b.size()];
}

std::string nearest_key(std::string_view typed) {
    if (typed.size() > longest_key) return {};
    const Pattern p = pattern_of(typed);
    const Entry* best = nullptr;
    std::size_t fewest = 1 + p.key.size() / 3;
    for (const Entry& e : schema()) {
        const std::size_t n = distance(p.key, e.key);
        if (n < fewest || (n == fewest && best == nullptr)) {
            fewest = n;
            best = &e;
        }
    }
    return best == nullptr ? std::string() : key_with_row(*best, p.row);
}

}  // namespace offsquare::scenario
