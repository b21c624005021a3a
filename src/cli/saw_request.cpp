#include "cli/saw_request.h"

#include <algorithm>
#include <ctime>

#include <fmt/format.h>

#include "cli/report.h"
#include "cli/suggest.h"
#include "measure/going.h"
#include "measure/run_check.h"
#include "saws/answer.h"
#include "session/hunt_words.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;
using saws::What;

namespace {

/// "KEY=VALUE" taken apart.
struct Said {
    std::string key;
    std::string value;
};
Result<Said> said_of(const std::string& option, const std::string& typed, const char* example) {
    const std::size_t at = typed.find('=');
    if (at == std::string::npos || at == 0 || at + 1 == typed.size())
        return fail(Grade::usage, fmt::format("{} needs a name, = and a value, found {}; for example {} {}", option,
                                              in_quotes(typed), option, example));
    return Said{typed.substr(0, at), typed.substr(at + 1)};
}

Result<base::Typed> length_of(const std::string& name, const std::string& value, base::Units units) {
    auto length = base::parse_length(value, unit_of(units));
    if (!length) return fail(Grade::usage, fmt::format("{}: {}", name, length.error().message));
    return *length;
}

// ---- readings ----

/// Readings of one check as they are typed, until all of them are there.
struct Begun {
    measure::Check check;
    std::vector<Said> readings;
};

Result<void> take_check(const Said& said, std::vector<Begun>& begun) {
    const std::size_t dot = said.key.find('.');
    const std::string name = said.key.substr(0, dot);
    const auto check = measure::check_of(name);
    if (!check || dot == std::string::npos) {
        std::vector<std::string> names{"fence-end", "far-end", "length", "span"};
        for (const measure::CheckInfo& c : measure::checks()) names.emplace_back(c.name);
        return fail(Grade::usage,
                    fmt::format("--read: there is no reading {}{}. Of the strip: fence-end, far-end, length, span; of "
                                "another check its name (offsquare checks), a dot and what was read, for example "
                                "--read straightedge-on-fence.bow=0.1mm",
                                in_quotes(said.key), did_you_mean(name, names)));
    }
    auto it = std::find_if(begun.begin(), begun.end(), [&](const Begun& b) { return b.check == *check; });
    if (it == begun.end()) it = begun.insert(begun.end(), Begun{*check, {}});
    std::string what = said.key.substr(dot + 1);
    std::replace(what.begin(), what.end(), '-', '_');
    it->readings.push_back({what, said.value});
    return {};
}

Result<What> made_of(const Begun& begun, const saws::Sled& sled) {
    const measure::CheckInfo& check = measure::info(begun.check);
    const shop::Drawing drawing = saws::set_up_of(sled).scenario.drawing;
    const std::vector<double> usual_u = measure::instrument_u(begun.check, drawing);
    saws::CheckMade made{begun.check, {}};
    for (std::size_t i = 0; i < check.readings.size(); ++i) {
        const measure::ReadingInfo& wanted = check.readings[i];
        const auto it = std::find_if(begun.readings.begin(), begun.readings.end(),
                                     [&](const Said& s) { return s.key == wanted.what; });
        if (it == begun.readings.end())
            return fail(Grade::usage, fmt::format("the check {} still needs its reading {} ({}), for example --read "
                                                  "{}.{}=0.1mm",
                                                  check.name, wanted.what, wanted.meaning, check.name, wanted.what));
        const auto went =
            begun.check == measure::Check::push_through ? measure::went_of(it->value, drawing) : std::nullopt;
        const auto mm = went ? Result<base::Typed>(base::Typed{*went, 1.0, false})
                             : length_of(std::string(wanted.what), it->value, sled.units);
        if (!mm) return tl::unexpected(mm.error());
        made.readings.push_back({std::string(wanted.what), wanted.unit, mm->value,
                                 std::max(usual_u[i], went ? 0.0 : base::u_of_step(mm->step))});
    }
    for (const Said& s : begun.readings) {
        if (std::none_of(check.readings.begin(), check.readings.end(), [&](const auto& r) { return r.what == s.key; }))
            return fail(Grade::usage, fmt::format("the check {} reads no {}", check.name, in_quotes(s.key)));
    }
    return What(std::move(made));
}

std::optional<shop::Side> known_side(const saws::Sled& sled) {
    const saws::Entry* test = saws::newest_test(sled);
    return test == nullptr ? std::nullopt : std::get<saws::StripTest>(test->what).strip.fell;
}

Result<void> take_readings(const Arguments& arguments, const saws::Sled& sled, std::vector<What>& to) {
    saws::Strip strip;
    bool any = false;
    std::vector<Begun> begun;
    for (const std::string& typed : arguments.all("--read")) {
        const auto said = said_of("--read", typed, "fence-end=12.34mm");
        if (!said) return tl::unexpected(said.error());
        const bool of_strip =
            said->key == "fence-end" || said->key == "far-end" || said->key == "length" || said->key == "span";
        if (!of_strip) {
            if (auto taken = take_check(*said, begun); !taken) return taken;
            continue;
        }
        const auto mm = length_of(said->key, said->value, sled.units);
        if (!mm) return tl::unexpected(mm.error());
        any = true;
        if (said->key == "fence-end") strip.fence_end.push_back(*mm);
        else if (said->key == "far-end") strip.far_end.push_back(*mm);
        else (said->key == "length" ? strip.between : strip.span) = *mm;
    }
    if (const auto side = arguments.one("--side")) {
        const auto word = word_of("--side", *side, {"right", "left"});
        if (!word) return tl::unexpected(word.error());
        strip.fell = *word == "left" ? shop::Side::left : shop::Side::right;
    }
    strip.brushed = arguments.has("--brushed");
    if (arguments.has("--marked")) strip.ends_marked = true;
    if (arguments.has("--unsure")) strip.ends_marked = false;
    if (any) {
        if (!strip.span) strip.span = saws::known_span(sled);
        if (!strip.fell) strip.fell = known_side(sled).value_or(shop::Side::right);
        to.emplace_back(saws::StripTest{std::move(strip)});
    }
    for (const Begun& b : begun) {
        auto made = made_of(b, sled);
        if (!made) return tl::unexpected(made.error());
        to.push_back(std::move(*made));
    }
    return {};
}

// ---- shims ----

Result<void> take_shims(const Arguments& arguments, const saws::Sled& sled, std::vector<What>& to) {
    saws::ShimsMoved moved;
    bool any = false;
    const auto drawer = saws::set_up_of(sled).scenario.drawing.drawer;
    for (const char* option : {"--shim", "--take"}) {
        const bool put = std::string_view(option) == "--shim";
        for (const std::string& typed : arguments.all(option)) {
            const auto said = said_of(option, typed, "left=0.1mm");
            if (!said) return tl::unexpected(said.error());
            const auto end = word_of(option, said->key, {"left", "right"});
            if (!end) return tl::unexpected(end.error());
            const auto mm = length_of(option, said->value, sled.units);
            if (!mm) return tl::unexpected(mm.error());
            saws::Piece piece{"shim", mm->value, saws::u_of_marked(*mm)};
            const auto near = [&](double other) { return std::abs(other - piece.thickness_mm) < 1e-6 * other; };
            for (const shop::Shim& s : drawer) {
                if (near(s.thickness_mm)) piece = {s.name, s.thickness_mm, s.u_mm};
            }
            // A piece that is taken out is one that stands there.
            const saws::Standing there = saws::standing_of(sled);
            for (const saws::Piece& p : *end == "left" ? there.left : there.right) {
                if (!put && near(p.thickness_mm)) piece = p;
            }
            auto& list = *end == "left" ? (put ? moved.put_left : moved.taken_left)
                                        : (put ? moved.put_right : moved.taken_right);
            list.push_back(std::move(piece));
            any = true;
        }
    }
    if (any) to.emplace_back(std::move(moved));
    return {};
}

// ---- the rest ----

Result<void> take_sizes(const Arguments& arguments, const saws::Sled& sled, std::vector<What>& to) {
    saws::SizesTyped sizes;
    for (const std::string& typed : arguments.all("--set")) {
        const auto said = said_of("--set", typed, "fence.length=560mm");
        if (!said) return tl::unexpected(said.error());
        auto size = saws::size_of(said->key, said->value, sled.units);
        if (!size) return tl::unexpected(size.error());
        sizes.sizes.push_back(std::move(*size));
    }
    if (!sizes.sizes.empty()) to.emplace_back(std::move(sizes));
    saws::DrawerTyped drawer;
    for (const std::string& typed : arguments.all("--drawer")) {
        auto row = drawer_row(typed, sled.units);
        if (!row) return tl::unexpected(row.error());
        drawer.pieces.push_back(std::move(*row));
    }
    if (!drawer.pieces.empty()) to.emplace_back(std::move(drawer));
    return {};
}

/// A fault by its key, or the person's own words. One word that is nearly a key is asked about.
Result<What> repair_of(const std::string& typed, bool insists) {
    if (typed == "fence-moved") return What(saws::FenceMoved{});
    std::string key = typed;
    std::replace(key.begin(), key.end(), '-', '_');
    if (const auto fault = shop::fault_of(key)) return What(saws::PutRight{fault, ""});
    std::vector<std::string> keys;
    for (const shop::FaultInfo& info : shop::faults()) keys.emplace_back(info.key);
    keys.emplace_back("fence_moved");
    const std::string likely = typed.find(' ') == std::string::npos ? likely_word(key, keys) : "";
    if (!likely.empty() && !insists)
        return fail(Grade::usage,
                    fmt::format("--repair: there is no fault {}; was {} meant? If these are words of your own, add "
                                "--insist",
                                in_quotes(typed), likely));
    return What(saws::PutRight{std::nullopt, typed});
}

}  // namespace

base::LengthUnit unit_of(base::Units units) {
    return units == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch;
}

saws::Date today() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    ::localtime_r(&now, &local);
    return {std::chrono::year(local.tm_year + 1900), std::chrono::month(static_cast<unsigned>(local.tm_mon + 1)),
            std::chrono::day(static_cast<unsigned>(local.tm_mday))};
}

Result<shop::Shim> drawer_row(const std::string& typed, base::Units units) {
    shop::Shim row{"shim", 0.0, 0.003, 1};
    std::string rest = typed;
    // "x4", and "x 4" as some write it.
    const std::size_t x = rest.rfind('x');
    const std::size_t count = x == std::string::npos ? x : rest.find_first_not_of(' ', x + 1);
    if (count != std::string::npos && rest.find_first_not_of("0123456789", count) == std::string::npos &&
        rest.size() - count < 4) {
        row.count = std::stoi(rest.substr(count));
        rest.resize(rest.find_last_not_of(' ', x - (x > 0 ? 1 : 0)) + 1);
    }
    const std::size_t digit = rest.find_first_of("0123456789.");
    if (digit == std::string::npos)
        return fail(Grade::usage, fmt::format("--drawer: {} has no thickness; for example --drawer \"brass 0.1mm x4\"",
                                              in_quotes(typed)));
    std::string name = rest.substr(0, digit);
    while (!name.empty() && name.back() == ' ') name.pop_back();
    if (!name.empty()) row.name = name;
    const auto mm = length_of("--drawer", rest.substr(digit), units);
    if (!mm) return tl::unexpected(mm.error());
    row.thickness_mm = mm->value;
    return row;
}

Result<std::vector<What>> entries_of(const Arguments& arguments, const saws::Sled& sled) {
    std::vector<What> all;
    for (const auto take : {take_sizes, take_readings, take_shims}) {
        if (auto taken = take(arguments, sled, all); !taken) return tl::unexpected(taken.error());
    }
    for (const std::string& typed : arguments.all("--repair")) {
        auto repair = repair_of(typed, arguments.has("--insist"));
        if (!repair) return tl::unexpected(repair.error());
        all.push_back(std::move(*repair));
    }
    for (const std::string& typed : arguments.all("--note")) all.emplace_back(saws::Remark{typed});
    return all;
}

}  // namespace offsquare::cli
