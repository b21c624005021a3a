// offsquare drill: a case with its fault hidden, played line by line, by a person or by another program.
#include <algorithm>
#include <sstream>

#include <fmt/format.h>

#include "base/read.h"
#include "base/save.h"
#include "cli/debrief_text.h"
#include "cli/request.h"
#include "cli/drill_begin.h"
#include "cli/drill_progress.h"
#include "cli/suggest.h"
#include "cli/verb.h"
#include "lesson/cases.h"
#include "lesson/coach.h"
#include "lesson/hand_in.h"
#include "lesson/hunt_words.h"
#include "session/hunt_words.h"
#include "session/next.h"
#include "session/story.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;

namespace {

constexpr std::size_t line_width = 100;

using Words = std::vector<std::string>;

Words split(const std::string& line) {
    std::string spaced = line;
    // "fence_bow=60, dust=20" and "fence_bow 60 dust 20" are the same.
    std::replace_if(
        spaced.begin(), spaced.end(), [](char c) { return c == '=' || c == ',' || c == '\t'; }, ' ');
    std::istringstream in(spaced);
    Words words;
    for (std::string word; in >> word;) words.push_back(word);
    return words;
}

Result<shop::Fault> fault_named(const std::string& word) {
    std::string key = word;
    std::replace(key.begin(), key.end(), '-', '_');
    if (const auto fault = shop::fault_of(key)) return *fault;
    std::vector<std::string> keys;
    for (const shop::FaultInfo& info : shop::faults()) keys.emplace_back(info.key);
    const std::string likely = likely_word(key, keys);
    return fail(Grade::usage, fmt::format("there is no fault {}{}; \"faults\" lists them", in_quotes(word),
                                          likely.empty() ? "" : fmt::format("; was {} meant?", likely)));
}

Result<int> sure_of(const std::string& word) {
    const auto n = whole_number_of("how sure", word, 0, 100);
    if (!n) return tl::unexpected(n.error());
    return static_cast<int>(*n);
}

/// What a line says back.
struct Reply {
    std::vector<std::string> lines;
    bool ends = false;
};

class Game {
public:
    Game(lesson::Hunt hunt, base::Units units) : hunt_(std::move(hunt)), units_(units) {}

    lesson::Hunt& hunt() { return hunt_; }

    Result<Reply> say(const std::string& line) {
        const Words words = split(line);
        if (words.empty()) return Reply{};
        for (const Command& c : commands()) {
            if (words[0] == c.word) return (this->*c.run)(words);
        }
        std::vector<std::string> known;
        for (const Command& c : commands()) known.emplace_back(c.word);
        const std::string likely = likely_word(words[0], known);
        return fail(Grade::usage,
                    fmt::format("there is no \"{}\"{}; \"help\" lists what can be typed", printable(words[0]),
                                likely.empty() ? "" : fmt::format("; was \"{}\" meant?", likely)));
    }

    Reply opening() const {
        const session::Seen& seen = hunt_.seen();
        Reply reply;
        const std::string& complaint = hunt_.history().start().complaint;
        reply.lines.push_back(complaint.empty() ? seen.title : lesson::in_quotes(complaint));
        if (!seen.story.empty()) reply.lines.push_back(seen.story);
        const std::string cost = lesson::cost_words(hunt_.budget(), units_);
        if (!cost.empty()) reply.lines.push_back("It may cost " + cost + ".");
        reply.lines.emplace_back("Whom do you suspect? \"help\" lists what can be typed.");
        return reply;
    }

private:
    struct Command {
        std::string_view word;
        std::string_view form;
        std::string_view what;
        Result<Reply> (Game::*run)(const Words&);
    };
    static const std::vector<Command>& commands() {
        static const std::vector<Command> all{
            {"suspect", "suspect FAULT SURE …", "your suspects, the likeliest first, each with how sure (0 to 100)",
             &Game::suspect},
            {"out", "out FAULT …", "whom you have ruled out", &Game::rule_out},
            {"check", "check NAME", "make a check and write down what it reads", &Game::check},
            {"test", "test", "cut the five-cut test, the fence brushed; read and work it out", &Game::test},
            {"shim", "shim", "put the pieces in that the working proposes", &Game::shim},
            {"put", "put left|right ROW", "a piece of the drawer behind an end of the fence", &Game::put},
            {"take", "take left|right", "the last piece behind that end out again", &Game::take_out},
            {"repair", "repair FAULT", "put a fault right", &Game::repair},
            {"know", "know", "what is known so far", &Game::know},
            {"working", "working", "the working of the last test", &Game::working},
            {"faults", "faults", "the faults that can be suspected", &Game::faults},
            {"checks", "checks", "the checks and what each costs", &Game::checks},
            {"drawer", "drawer", "the pieces in the drawer", &Game::drawer},
            {"hint", "hint [1|2|3]", "the question, who is left, what to do: each is counted", &Game::hint},
            {"close", "close proved|undecidable SURE [FAULT …]",
             "close the case: how sure, and what was wrong (else your suspects above 50)", &Game::close},
            {"give-up", "give-up", "close it and see", &Game::give_up},
            {"save", "save FILE", "the hand-in as it stands", &Game::save},
            {"help", "help", "this list", &Game::help},
            {"quit", "quit", "leave it open", &Game::quit},
        };
        return all;
    }

    Result<Reply> help(const Words&) {
        std::vector<std::vector<std::string>> rows;
        for (const Command& c : commands()) rows.push_back({std::string(c.form), std::string(c.what)});
        return Reply{{columns(rows)}};
    }

    Result<Reply> quit(const Words&) { return Reply{{}, true}; }

    Result<Reply> made(lesson::Move move) {
        const std::size_t before = lesson::known(hunt_, units_).size();
        if (auto done = hunt_.make(std::move(move)); !done) return tl::unexpected(done.error());
        Reply reply;
        const auto all = lesson::known(hunt_, units_);
        for (std::size_t i = before; i < all.size(); ++i) reply.lines.push_back(line_of(all[i]));
        return reply;
    }

    Result<Reply> did(std::vector<session::Action> intention) {
        auto reply = made(lesson::Did{std::move(intention)});
        if (!reply) return reply;
        if (const std::string jam = session::jam_sentence(hunt_.seen(), units_); !jam.empty())
            reply->lines.push_back(jam);
        reply->lines.push_back(lesson::spent_words(hunt_, units_) + ".");
        if (hunt_.closed()) reply->lines.emplace_back("That used up what the case may cost: it is closed.");
        return reply;
    }

    static std::string line_of(const lesson::Known& k) {
        return fmt::format("{:>4.0f} min  {}{}{}", k.minutes, k.what, k.came.empty() ? "" : ": " + k.came,
                           k.set_aside.empty() ? "" : " [" + k.set_aside + "]");
    }

    Result<Reply> suspect(const Words& words) {
        lesson::Suspects s = hunt_.suspects();
        s.order.clear();
        for (std::size_t i = 1; i < words.size(); i += 2) {
            const auto fault = fault_named(words[i]);
            if (!fault) return tl::unexpected(fault.error());
            if (i + 1 == words.size())
                return fail(Grade::usage,
                            fmt::format("how sure of {}? For example: suspect {} 60", words[i], words[i]));
            const auto sure = sure_of(words[i + 1]);
            if (!sure) return tl::unexpected(sure.error());
            s.order.push_back({*fault, *sure});
            std::erase(s.ruled_out, *fault);
        }
        return made(std::move(s));
    }

    Result<Reply> rule_out(const Words& words) {
        lesson::Suspects s = hunt_.suspects();
        s.ruled_out.clear();
        for (std::size_t i = 1; i < words.size(); ++i) {
            const auto fault = fault_named(words[i]);
            if (!fault) return tl::unexpected(fault.error());
            std::erase_if(s.order, [&](const lesson::Suspect& one) { return one.fault == *fault; });
            s.ruled_out.push_back(*fault);
        }
        return made(std::move(s));
    }

    Result<Reply> check(const Words& words) {
        if (words.size() != 2) return fail(Grade::usage, "which check? For example: check wiggle");
        const auto check = measure::check_of(words[1]);
        if (!check) {
            std::vector<std::string> names;
            for (const measure::CheckInfo& c : measure::checks()) names.emplace_back(c.name);
            const std::string likely = likely_word(words[1], names);
            return fail(Grade::usage, fmt::format("there is no check {}{}; \"checks\" lists them", in_quotes(words[1]),
                                                  likely.empty() ? "" : fmt::format("; was {} meant?", likely)));
        }
        return did({session::MakeCheck{*check}});
    }

    Result<Reply> test(const Words&) { return did(session::proof_intention()); }

    Result<Reply> shim(const Words&) {
        const session::Next next = session::next_in_job(hunt_.seen());
        if (next.todo != session::Todo::put_shims)
            return fail(Grade::usage,
                        "no shims are proposed: " + session::words_of(next, hunt_.seen(), units_).heading);
        return did(next.intention);
    }

    static Result<shim::At> end_of(const Words& words) {
        if (words.size() > 1 && words[1] == "left") return shim::At::left;
        if (words.size() > 1 && words[1] == "right") return shim::At::right;
        return fail(Grade::usage, "behind which end? left or right");
    }

    Result<Reply> put(const Words& words) {
        const auto end = end_of(words);
        if (!end) return tl::unexpected(end.error());
        const auto rows = static_cast<std::int64_t>(hunt_.seen().drawing.drawer.size());
        const auto row = whole_number_of("the row of the drawer", words.size() > 2 ? words[2] : "", 1,
                                         static_cast<std::uint64_t>(std::max<std::int64_t>(1, rows)));
        if (!row) return tl::unexpected(row.error());
        return did({session::PutShim{*end, static_cast<int>(*row) - 1}});
    }

    Result<Reply> take_out(const Words& words) {
        const auto end = end_of(words);
        if (!end) return tl::unexpected(end.error());
        return did({session::TakeShim{*end}});
    }

    Result<Reply> repair(const Words& words) {
        if (words.size() != 2) return fail(Grade::usage, "which fault? For example: repair fence_bow");
        const auto fault = fault_named(words[1]);
        if (!fault) return tl::unexpected(fault.error());
        return did({session::Repair{*fault}});
    }

    Result<Reply> know(const Words&) {
        Reply reply;
        for (const lesson::Known& k : lesson::known(hunt_, units_)) reply.lines.push_back(line_of(k));
        if (reply.lines.empty()) reply.lines.emplace_back("Nothing yet.");
        reply.lines.push_back(lesson::spent_words(hunt_, units_) + ".");
        return reply;
    }

    Result<Reply> working(const Words&) {
        const session::Test* test = hunt_.seen().last_test();
        if (test == nullptr || !test->worked_out) return fail(Grade::usage, "no test was worked out yet");
        const session::Working w = session::working(*test, units_);
        std::vector<std::vector<std::string>> rows;
        for (const session::WorkingLine& l : w.lines) rows.push_back({l.what, l.how, l.result});
        Reply reply{{columns(rows, 2, {2})}};
        reply.lines.push_back(w.conclusion);
        reply.lines.push_back(session::stack_sentence(*test, units_));
        reply.lines.push_back(session::verdict_sentence(*test, units_));
        return reply;
    }

    Result<Reply> faults(const Words&) {
        std::vector<std::vector<std::string>> rows;
        for (const shop::FaultInfo& info : shop::faults())
            rows.push_back({std::string(info.key), std::string(info.name)});
        return Reply{{columns(rows)}};
    }

    Result<Reply> checks(const Words&) {
        std::vector<std::vector<std::string>> rows;
        for (const measure::CheckInfo& c : measure::checks())
            rows.push_back({std::string(c.name), std::string(c.title), fmt::format("{:.0f} min", c.minutes),
                            c.stock_mm > 0.0 ? base::show_size(c.stock_mm, units_) : ""});
        return Reply{{columns(rows, 2, {2, 3})}};
    }

    Result<Reply> drawer(const Words&) {
        const session::Seen& seen = hunt_.seen();
        std::vector<std::vector<std::string>> rows;
        for (std::size_t i = 0; i < seen.drawing.drawer.size(); ++i) {
            const shop::Shim& s = seen.drawing.drawer[i];
            rows.push_back({fmt::format("{}", i + 1), s.name, base::show_reading(s.thickness_mm, units_),
                            fmt::format("{} left", seen.left_in_drawer[i])});
        }
        return Reply{{columns(rows)}};
    }

    Result<Reply> hint(const Words& words) {
        int rung = std::min(3, hunt_.hint_now() + 1);
        if (words.size() > 1) {
            const auto typed = whole_number_of("hint", words[1], 1, 3);
            if (!typed) return tl::unexpected(typed.error());
            rung = static_cast<int>(*typed);
        }
        auto reply = made(lesson::AskedHint{rung});
        if (!reply) return reply;
        lesson::OwnSuspects own;
        for (const lesson::Suspect& s : hunt_.suspects().order) own.emplace_back(s.fault, s.sure);
        const session::Seen& seen = hunt_.seen();
        const session::Assumptions assumed = session::usual_assumptions(seen.drawing);
        const auto findings = session::find_out(session::holding(seen), seen.drawing, assumed);
        if (!findings) return tl::unexpected(findings.error());
        for (std::string& s : lesson::hint(lesson::coach(seen, *findings, assumed, own), rung))
            reply->lines.push_back(std::move(s));
        return reply;
    }

    Result<Reply> close(const Words& words) {
        lesson::Close c;
        if (words.size() > 1 && words[1] == "undecidable") c.how = lesson::Ending::undecidable;
        else if (words.size() < 2 || words[1] != "proved")
            return fail(Grade::usage, "how? For example: close proved 80, or: close undecidable 70");
        const auto sure = sure_of(words.size() > 2 ? words[2] : "");
        if (!sure) return tl::unexpected(sure.error());
        c.sure = *sure;
        c.named = lesson::named_by(hunt_.suspects());
        for (std::size_t i = 3; i < words.size(); ++i) {
            if (i == 3) c.named.clear();
            if (words[i] == "nothing") continue;
            const auto fault = fault_named(words[i]);
            if (!fault) return tl::unexpected(fault.error());
            c.named.push_back(*fault);
        }
        return made(std::move(c));
    }

    Result<Reply> give_up(const Words&) {
        return made(lesson::Close{lesson::Ending::given_up, lesson::named_by(hunt_.suspects()), 0});
    }

    Result<Reply> save(const Words& words) {
        if (words.size() != 2) return fail(Grade::usage, "to which file? For example: save hand-in.jsonl");
        if (auto saved = base::save(words[1], lesson::to_text(hunt_)); !saved) return tl::unexpected(saved.error());
        return Reply{{"Written: " + printable(words[1])}};
    }

    lesson::Hunt hunt_;
    base::Units units_;
};

/// What goes out, line by line: at once where that can be.
class Voice {
public:
    Voice(const Door& door, bool json) : door_(door), json_(json) {}

    void lines(const std::vector<std::string>& lines) {
        std::string text;
        for (const std::string& line : lines)
            text += line.ends_with("\n") ? line : wrapped(printable(line), line_width, 0) + "\n";
        put(text);
    }
    void json(const Json& json) { put(json.dump() + "\n"); }
    bool speaks_json() const { return json_; }
    std::string rest() && { return std::move(kept_); }
    void prompt() {
        if (door_.ask != nullptr && !json_) *door_.ask << "> " << std::flush;
    }

private:
    void put(const std::string& text) {
        if (door_.now != nullptr) *door_.now << text << std::flush;
        else kept_ += text;
    }

    const Door& door_;
    bool json_;
    std::string kept_;
};

Json as_json(const Reply& reply, const lesson::Hunt& hunt) {
    Json json{{"ok", true}, {"says", reply.lines}};
    json["minutes"] = number(hunt.seen().minutes);
    json["board_mm"] = number(hunt.seen().stock_mm);
    if (const auto left = hunt.minutes_left()) json["minutes_left"] = number(*left);
    if (const auto left = hunt.board_left_mm()) json["board_left_mm"] = number(*left);
    if (hunt.closed()) json["closed"] = lesson::name_of(hunt.closed()->how);
    return json;
}

void tell(Voice& voice, const Result<Reply>& reply, const lesson::Hunt& hunt) {
    if (voice.speaks_json()) {
        if (reply) voice.json(as_json(*reply, hunt));
        else voice.json({{"ok", false}, {"error", reply.error().message}});
    } else if (reply) {
        voice.lines(reply->lines);
    } else {
        voice.lines({"? " + reply.error().message});
    }
}

Result<void> debriefed(Voice& voice, const lesson::Hunt& hunt, base::Units units, const Ink& ink, int tier,
                       std::vector<std::string>& notes) {
    const auto d = lesson::debrief_of(hunt, units);
    if (!d) return tl::unexpected(d.error());
    if (voice.speaks_json()) voice.json({{"debrief", debrief_json(*d)}});
    else voice.lines({"\n", debrief_text(*d, units, ink)});
    if (auto kept = keep_progress(hunt, *d, tier); !kept)
        notes.push_back("not kept among your practice: " + kept.error().message);
    return {};
}

}  // namespace

Result<Answer> drill_verb_answer(const Arguments& arguments, const Door& door) {
    if (arguments.has("--progress") || arguments.has("--forget")) return about_progress(arguments, door);
    std::vector<std::string> notes;
    auto hunt = hunt_to_play(arguments, notes);
    if (!hunt) return tl::unexpected(hunt.error());
    const auto units = units_of(arguments, hunt->seen().units.system);
    if (!units) return tl::unexpected(units.error());
    const bool was_closed = hunt->closed().has_value();
    Game game(std::move(*hunt), *units);
    Voice voice(door, arguments.has("--json"));
    tell(voice, game.opening(), game.hunt());
    std::string line;
    voice.prompt();
    while (!game.hunt().closed() && std::getline(door.in, line)) {
        const auto reply = game.say(line);
        tell(voice, reply, game.hunt());
        if (reply && reply->ends) break;
        if (!game.hunt().closed()) voice.prompt();
    }
    if (const auto path = arguments.one("--output")) {
        if (auto saved = base::save(*path, lesson::to_text(game.hunt())); !saved) return tl::unexpected(saved.error());
    }
    // One that was closed before and is only looked at again does not count twice.
    if (game.hunt().closed() && !was_closed) {
        const int tier = arguments.has("--tier") ? static_cast<int>(*base::parse_number(*arguments.one("--tier"))) : 0;
        if (auto done = debriefed(voice, game.hunt(), *units, door.ink, tier, notes); !done)
            return tl::unexpected(done.error());
    }
    return Answer{std::move(voice).rest(), std::move(notes), 0};
}

}  // namespace offsquare::cli
