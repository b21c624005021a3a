// offsquare saw: a person's own sleds, their logs, and what follows from them.
#include <fmt/format.h>

#include "base/folders.h"
#include "base/save.h"
#include "cli/insist.h"
#include "cli/json.h"
#include "cli/request.h"
#include "cli/saw_request.h"
#include "cli/saw_talk.h"
#include "cli/saw_text.h"
#include "cli/verb.h"
#include "picture/saw_page.h"
#include "saws/exports.h"
#include "saws/like_mine.h"
#include "saws/slips.h"
#include "saws/steps.h"
#include "saws/store.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;

namespace {

bool says_yes(std::istream& in) {
    std::string line;
    return std::getline(in, line) && (line == "y" || line == "Y" || line == "yes" || line == "Yes");
}

Result<base::Units> units_or(const Arguments& arguments, base::Units usual) {
    const auto typed = arguments.one("--units");
    if (!typed) return units_of(arguments, usual.system);
    const auto word = word_of("--units", *typed, {"mm", "inch"});
    if (!word) return tl::unexpected(word.error());
    return units_of(arguments, *word == "mm" ? base::Units::metric : base::Units::imperial);
}

Result<Answer> list_answer(const saws::Store& store, const Arguments& arguments, const Door& door) {
    const auto all = store.list();
    if (!arguments.has("--json")) return Answer{list_text(all, door.ink), {}, 0};
    Json json{{"schema_version", schema_version}, {"sleds", Json::array()}};
    for (const saws::Listed& one : all) {
        if (one.trouble.empty()) json["sleds"].push_back({{"name", one.name}, {"saw", one.saw}});
    }
    return Answer{printed(json), {}, 0};
}

Result<int> entry_number(const Arguments& arguments, const std::string& option) {
    const auto n = whole_number_of(option, arguments.one(option).value_or(""), 1, 1000000);
    if (!n) return tl::unexpected(n.error());
    return static_cast<int>(*n);
}

/// Whether an option writes something into the log, or takes it away.
bool writes(const Arguments& arguments) {
    for (const char* option : {"--new", "--saw", "--read", "--shim", "--take", "--repair", "--note", "--set",
                               "--drawer", "--correct", "--withdraw", "--delete"}) {
        if (arguments.has(option)) return true;
    }
    return false;
}

Result<saws::Held> opened(const saws::Store& store, const Arguments& arguments) {
    const std::string& name = *arguments.operand;
    if (!arguments.has("--new")) {
        auto held = writes(arguments) ? store.open(name) : store.look(name);
        if (held || held.error().grade != Grade::no_input) return held;
        return fail(Grade::no_input,
                    fmt::format("{}. To begin it: offsquare saw {} --new", held.error().message, in_quotes(name)));
    }
    const auto units = units_or(arguments, base::Units::metric);
    if (!units) return tl::unexpected(units.error());
    return store.make(name, arguments.one("--saw").value_or(""), *units);
}

Result<Answer> deleted(const saws::Store& store, saws::Held held, const Arguments& arguments, const Door& door) {
    const std::string name = held.sled.name;
    const std::size_t entries = held.sled.entries.size();
    if (!arguments.has("--insist")) {
        if (door.ask == nullptr)
            return fail(Grade::usage, fmt::format("{} and its log of {} {} would be deleted for ever. If it is meant, "
                                                  "add --insist",
                                                  in_quotes(name), entries, entries == 1 ? "entry" : "entries"));
        *door.ask << fmt::format("Delete {} and its log of {} {} for ever? [y/N] ", in_quotes(name), entries,
                                 entries == 1 ? "entry" : "entries")
                  << std::flush;
        if (!says_yes(door.in)) return fail(Grade::usage, "nothing was deleted");
    }
    if (auto gone = store.remove(std::move(held)); !gone) return tl::unexpected(gone.error());
    return Answer{fmt::format("{} is deleted.\n", in_quotes(name)), {}, 0};
}

/// The day of what happened.
Result<saws::Date> date_of(const Arguments& arguments) {
    const auto typed = arguments.one("--date");
    return typed ? saws::parse_date(*typed) : Result<saws::Date>(today());
}

/// With what the options say, asked about where it looks like a slip.
Result<saws::Sled> written(const saws::Sled& before, const Arguments& arguments, base::Units units, const Door& door) {
    const auto date = date_of(arguments);
    if (!date) return tl::unexpected(date.error());
    saws::Sled sled = before;
    sled.units = units;  // of bare numbers
    auto all = entries_of(arguments, sled);
    if (!all) return tl::unexpected(all.error());
    std::optional<int> corrects;
    for (const char* option : {"--correct", "--withdraw"}) {
        if (!arguments.has(option)) continue;
        const auto n = entry_number(arguments, option);
        if (!n) return tl::unexpected(n.error());
        corrects = *n;
    }
    if (arguments.has("--withdraw")) all->emplace_back(saws::Withdrawn{});
    if (corrects && all->size() != 1)
        return fail(Grade::usage,
                    fmt::format("--correct takes one entry in the place of the wrong one, found {}; --withdraw takes "
                                "none",
                                all->size() - (arguments.has("--withdraw") ? 1 : 0)));
    for (saws::What& what : *all) {
        saws::Date day = *date;
        const saws::Entry* wrong = corrects ? saws::find_entry(sled, *corrects) : nullptr;
        if (wrong != nullptr && !arguments.has("--date")) day = wrong->date;
        const auto slips = saws::sentences_of(saws::slips_in(sled, what, day, today(), units, corrects));
        if (auto meant = ask_about(slips, arguments, door); !meant) return tl::unexpected(meant.error());
        auto more = saws::added(sled, std::move(what), day, today(), corrects);
        if (!more) return tl::unexpected(more.error());
        sled = std::move(*more);
    }
    sled.units = before.units;
    return sled;
}

Result<session::Findings> weighed(const saws::Sled& sled) { return saws::weigh(saws::history_of(sled).history.seen()); }

Result<std::string> exported(const std::string& path, const saws::Sled& sled, const session::Findings* findings,
                             base::Units units) {
    Result<void> done;
    if (path.ends_with(".csv")) done = base::save(path, saws::csv_text(sled));
    else if (path.ends_with(".json")) done = base::save(path, saws::json_text(sled, findings));
    else if (path.ends_with(".pdf")) done = picture::write_saw_page(sled, findings, units, today(), path);
    else if (path.ends_with(".toml")) {
        const std::string text = saws::readings_file(saws::history_of(sled));
        done = text.empty() ? Result<void>(fail(Grade::bad_data, "nothing that still holds was read on this sled yet"))
                            : base::save(path, text);
    } else {
        return fail(Grade::usage,
                    fmt::format("--export ends in .pdf, .csv, .json or .toml (a readings file), found {}; "
                                "for example --export blue-sled.pdf",
                                in_quotes(path)));
    }
    if (!done) return tl::unexpected(done.error());
    return fmt::format("Written: {}\n", printable(path));
}

Result<std::string> practice(const std::string& path, const saws::Sled& sled, const session::Findings* findings,
                             const Arguments& arguments) {
    std::uint64_t seed = sled.entries.size();
    if (const auto typed = arguments.one("--seed")) {
        const auto n = whole_number_of("--seed", *typed, 0, 4294967295ULL);
        if (!n) return tl::unexpected(n.error());
        seed = *n;
    }
    const auto like = saws::like_mine(sled, findings, seed);
    if (!like) return tl::unexpected(like.error());
    if (auto saved = base::save(path, scenario::to_text(*like)); !saved) return tl::unexpected(saved.error());
    return fmt::format("A saw like yours to practise on: {}. Do not read it; offsquare job {}\n", printable(path),
                       printable(path));
}

}  // namespace

Result<Answer> saw_verb_answer(const Arguments& arguments, const Door& door) {
    if (arguments.has("--steps")) {
        const saws::Store store(base::folders_of(base::own_environment()).data);
        const auto sled =
            arguments.operand ? store.look(*arguments.operand) : Result<saws::Held>(fail(Grade::no_input, ""));
        const auto units = units_or(arguments, sled ? sled->sled.units : base::Units::metric);
        if (!units) return tl::unexpected(units.error());
        return Answer{saws::strip_steps_page(*units == base::Units::metric), {}, 0};
    }
    const saws::Store store(base::folders_of(base::own_environment()).data);
    if (!arguments.operand) {
        if (writes(arguments) || arguments.has("--log") || arguments.has("--export") || arguments.has("--like-mine"))
            return fail(Grade::usage, "of which sled? For example: offsquare saw \"blue sled\" --log");
        const bool asks = door.ask != nullptr && !arguments.has("--json");
        return asks ? talk_about_a_saw(store, today(), door) : list_answer(store, arguments, door);
    }
    auto held = opened(store, arguments);
    if (!held) return tl::unexpected(held.error());
    if (arguments.has("--delete")) return deleted(store, std::move(*held), arguments, door);
    const auto units = units_or(arguments, held->sled.units);
    if (!units) return tl::unexpected(units.error());
    if (const auto saw = arguments.one("--saw"); saw && !arguments.has("--new")) {
        if (auto named = store.rename(*held, held->sled.name, *saw); !named) return tl::unexpected(named.error());
    }
    auto sled = written(held->sled, arguments, *units, door);
    if (!sled) {
        // What is refused begins no log.
        if (arguments.has("--new")) static_cast<void>(store.remove(std::move(*held)));
        return tl::unexpected(sled.error());
    }
    std::vector<std::string> notes = held->notes;  // saving clears them
    if (sled->entries.size() != held->sled.entries.size()) {
        if (auto saved = store.save(*held, *sled); !saved) return tl::unexpected(saved.error());
    }
    const bool looks = !arguments.has("--log") || arguments.has("--json");
    const bool weighs = looks || arguments.has("--export") || arguments.has("--like-mine");
    const auto findings = weighs ? weighed(*sled) : Result<session::Findings>(fail(Grade::bad_data, ""));
    const session::Findings* found = findings ? &*findings : nullptr;
    std::string text;
    if (const auto path = arguments.one("--export")) {
        auto done = exported(*path, *sled, found, *units);
        if (!done) return tl::unexpected(done.error());
        text += *done;
    }
    if (const auto path = arguments.one("--like-mine")) {
        auto done = practice(*path, *sled, found, arguments);
        if (!done) return tl::unexpected(done.error());
        text += *done;
    }
    if (arguments.has("--json")) text = saws::json_text(*sled, found);
    else if (arguments.has("--log")) text += log_text(*sled, *units, today(), door.ink);
    else if (text.empty()) text = answer_text(*sled, found, *units, today(), door.ink);
    return Answer{std::move(text), std::move(notes), 0};
}

}  // namespace offsquare::cli
