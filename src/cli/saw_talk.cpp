#include "cli/saw_talk.h"

#include <algorithm>
#include <functional>

#include <fmt/format.h>

#include "cli/saw_request.h"
#include "cli/saw_text.h"
#include "saws/answer.h"
#include "saws/slips.h"
#include "saws/steps.h"

namespace offsquare::cli {
namespace {

using base::Result;
using base::Units;

class Talk {
public:
    Talk(const saws::Store& store, saws::Date today, const Door& door) : store_(store), today_(today), door_(door) {}

    Result<Answer> whole() {
        auto held = sled();
        if (!held) return tl::unexpected(held.error());
        for (const std::string& note : held->notes) say(note);
        if (!held->may_write()) say(held->why_not);
        units_ = held->sled.units;
        say(log_text(held->sled, units_, today_, door_.ink));
        // Between the strip and the shim one walks to the saw: the second time begins where the first left off.
        if (waits_for_shims(held->sled)) {
            say(told(held->sled));
            if (auto written = shims(*held); !written) return tl::unexpected(written.error());
        }
        for (auto strip = strip_of(held->sled); strip; strip = strip_of(held->sled)) {
            const std::size_t before = held->sled.entries.size();
            if (auto written = write(*held, saws::StripTest{*strip}); !written) return tl::unexpected(written.error());
            if (held->sled.entries.size() == before) continue;  // not meant: once more from its first field
            if (waits_for_shims(held->sled)) {
                if (auto written = drawer(*held); !written) return tl::unexpected(written.error());
            }
            say(told(held->sled));
            if (waits_for_shims(held->sled)) {
                if (auto written = shims(*held); !written) return tl::unexpected(written.error());
            }
            break;
        }
        const std::string note = asked("A note for the log, if you like");
        if (!note.empty()) {
            if (auto written = write(*held, saws::Remark{note}); !written) return tl::unexpected(written.error());
        }
        return Answer{fmt::format("What can be done besides: offsquare saw --help\n"), {}, 0};
    }

private:
    void say(const std::string& text) { *door_.ask << printable_lines(text) << "\n" << std::flush; }

    static std::string printable_lines(const std::string& text) {
        std::string out;
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = std::min(text.find('\n', at), text.size());
            out += text.substr(at, end - at) + (end < text.size() ? "\n" : "");
            at = end + 1;
        }
        return out;
    }

    /// What is typed, without blanks around it; empty at the end of the input too.
    std::string asked(const std::string& question) {
        *door_.ask << question << ": " << std::flush;
        std::string line;
        if (!std::getline(door_.in, line)) {
            over_ = true;
            return "";
        }
        const std::size_t first = line.find_first_not_of(" \t\r");
        if (first == std::string::npos) return "";
        return line.substr(first, line.find_last_not_of(" \t\r") - first + 1);
    }
    bool yes(const std::string& question, bool usual) {
        const std::string answer = asked(question + (usual ? " [Y/n]" : " [y/N]"));
        if (answer.empty()) return usual && !over_;
        return answer == "y" || answer == "Y" || answer == "yes" || answer == "Yes";
    }

    Result<saws::Held> sled() {
        const auto all = store_.list();
        say(list_text(all, door_.ink));
        const std::string usual = all.size() == 1 ? all.front().name : "";
        std::string name = asked(usual.empty() ? "Which sled (a new name begins a new one)"
                                               : fmt::format("Which sled (a new name begins a new one) [{}]", usual));
        if (name.empty() && !over_) name = usual;
        if (name.empty()) return base::fail(base::Grade::usage, "no sled was named, and nothing was written");
        auto held = store_.open(name);
        if (held || held.error().grade != base::Grade::no_input) return held;
        if (!yes(fmt::format("There is no sled {} yet. Begin it?", in_quotes(name)), true))
            return base::fail(base::Grade::usage, "nothing was written");
        const std::string saw = asked("The saw that it runs on (Enter: say nothing)");
        return store_.make(name, saw, units_asked());
    }

    Units units_asked() {
        for (;;) {
            const std::string answer = asked("Do you measure in mm or in inches [mm]");
            if (answer.empty() || answer == "mm" || answer.starts_with("mi")) return Units::metric;
            if (answer.starts_with("in")) return Units::imperial;
            say("Please type mm or inches.");
        }
    }

    /// The newest strip asks for a shim, and nothing was done to the fence since.
    bool waits_for_shims(const saws::Sled& sled) const {
        if (saws::worked_on_since_test(sled) != nullptr) return false;
        const auto answer = saws::newest_answer(sled);
        return answer && answer->shim && answer->shim->tells_end() &&
               answer->test.verdict->state != diagnose::State::pass;
    }

    /// What shims there are, once.
    Result<void> drawer(saws::Held& held) {
        if (saws::set_up_of(held.sled).drawer_typed || !held.may_write()) return {};
        saws::DrawerTyped typed;
        for (;;) {
            const std::string row = asked(
                typed.pieces.empty() ? fmt::format("The shims in your drawer, one kind at a time, such as: brass {} "
                                                   "x4 (Enter: not now)",
                                                   units_ == Units::metric ? "0.1mm" : "0.004in")
                                     : std::string("  another kind (Enter: that is all)"));
            if (row.empty()) break;
            auto piece = drawer_row(row, units_);
            if (piece) typed.pieces.push_back(std::move(*piece));
            else say(piece.error().message);
        }
        return typed.pieces.empty() ? Result<void>() : write(held, typed);
    }

    using Take = std::function<void(saws::Strip&, base::Typed)>;

    /// One length, asked for until it can be read and is meant. False: Enter, or the end.
    bool length(const saws::Sled& sled, saws::Strip& strip, const std::string& question, const Take& take) {
        for (;;) {
            const std::string typed = asked(question);
            if (typed.empty()) return false;
            const auto mm = base::parse_length(typed, unit_of(units_));
            if (!mm) {
                say(mm.error().message);
                continue;
            }
            saws::Strip trial = strip;
            take(trial, *mm);
            const auto questions = saws::slips_in(sled, trial, today_, units_);
            const auto known = saws::slips_in(sled, strip, today_, units_);
            if (questions.size() > known.size()) {
                say(wrapped(questions.back().says, 100));
                if (!yes("Is that meant?", false) && !over_) continue;
            }
            if (over_) return false;
            strip = std::move(trial);
            return true;
        }
    }

    std::optional<saws::Strip> strip_of(const saws::Sled& sled) {
        saws::Strip strip;
        const char* first =
            "Strip of the five-cut test: width at the end that lay at the fence (Enter: no strip now; "
            "? : how to cut one)";
        const Take fence = [](saws::Strip& s, base::Typed t) { s.fence_end.push_back(t); };
        const Take far = [](saws::Strip& s, base::Typed t) { s.far_end.push_back(t); };
        if (!first_length(sled, strip, first, fence)) return std::nullopt;
        while (length(sled, strip, "  again, if you like (Enter: go on)", fence)) {
        }
        if (!length(sled, strip, "Width at the far end", far)) return std::nullopt;
        while (length(sled, strip, "  again, if you like (Enter: go on)", far)) {
        }
        if (!length(sled, strip, "Length of the old edge between the two places",
                    [](saws::Strip& s, base::Typed t) { s.between = t; }))
            return std::nullopt;
        const auto known = saws::known_span(sled);
        const std::string span =
            known ? fmt::format("Distance between the two shim points [{}]", base::show_size(known->value, units_))
                  : "Distance between the two shim points";
        if (!length(sled, strip, span, [](saws::Strip& s, base::Typed t) { s.span = t; })) strip.span = known;
        if (!strip.span || over_) return std::nullopt;
        strip.fell =
            asked("Did the strip fall on the right or on the left, as you stand at the saw [right]").starts_with("l")
                ? shop::Side::left
                : shop::Side::right;
        strip.ends_marked = yes("Did you mark which end lay at the fence before you took it away?", true);
        return over_ ? std::nullopt : std::optional(strip);
    }

    bool first_length(const saws::Sled& sled, saws::Strip& strip, const char* question, const Take& take) {
        bool steps = false;
        const auto with_steps = [&]() -> bool {
            std::string typed = asked(question);
            if (typed == "?") {
                say(saws::strip_steps_page(units_ == Units::metric));
                steps = true;
                return false;
            }
            if (typed.empty()) return false;
            const auto mm = base::parse_length(typed, unit_of(units_));
            if (!mm) {
                say(mm.error().message);
                steps = true;
                return false;
            }
            take(strip, *mm);
            const auto questions = saws::slips_in(sled, strip, today_, units_);
            if (questions.empty()) return true;
            say(wrapped(questions.back().says, 100));
            if (yes("Is that meant?", false)) return true;
            strip.fence_end.clear();
            steps = !over_;
            return false;
        };
        do {
            steps = false;
            if (with_steps()) return true;
        } while (steps);
        return false;
    }

    Result<void> write(saws::Held& held, const saws::What& what) {
        const auto questions = saws::slips_in(held.sled, what, today_, today_, units_);
        if (!questions.empty()) {
            for (const saws::Question& q : questions) say(wrapped(q.says, 100));
            if (!yes("Is that meant?", false)) {
                say("Not written.");
                return {};
            }
        }
        auto more = saws::added(held.sled, what, today_, today_);
        if (!more) return tl::unexpected(more.error());
        if (!held.may_write()) {  // it can be worked out all the same
            held.sled = std::move(*more);
            say("Not written into the log: " + held.why_not);
            return {};
        }
        return store_.save(held, std::move(*more));
    }

    Result<void> shims(saws::Held& held) {
        const auto answer = saws::newest_answer(held.sled);
        if (!answer || !answer->shim) return {};
        const std::string typed = asked(fmt::format("Are shims in by now? Such as: left {} (Enter: not yet)",
                                                    units_ == Units::metric ? "0.1 mm" : "0.004 in"));
        const std::size_t space = typed.find(' ');
        if (typed.empty() || space == std::string::npos) return {};
        const auto mm = base::parse_length(typed.substr(space + 1), unit_of(units_));
        const bool left = typed.starts_with("l");
        if (!mm || (!left && !typed.starts_with("r"))) {
            say("That was not understood, and nothing was written. Later: offsquare saw NAME --shim left=0.1mm");
            return {};
        }
        saws::ShimsMoved moved;
        (left ? moved.put_left : moved.put_right).push_back({"shim", mm->value, saws::u_of_marked(*mm)});
        return write(held, moved);
    }

    std::string told(const saws::Sled& sled) {
        const auto findings = saws::weigh(saws::history_of(sled).history.seen());
        return answer_text(sled, findings ? &*findings : nullptr, units_, today_, door_.ink);
    }

    const saws::Store& store_;
    saws::Date today_;
    const Door& door_;
    Units units_ = Units::metric;
    bool over_ = false;
};

}  // namespace

Result<Answer> talk_about_a_saw(const saws::Store& store, saws::Date today, const Door& door) {
    return Talk(store, today, door).whole();
}

}  // namespace offsquare::cli
