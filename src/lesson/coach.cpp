#include "lesson/coach.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "base/listed.h"
#include "diagnose/advise.h"
#include "lesson/hunt.h"
#include "lesson/signs.h"
#include "session/hunt_words.h"
#include "session/next.h"

namespace offsquare::lesson {
namespace {

using measure::Check;
using session::Standing;
using shop::Fault;

std::string quoted(Fault fault) { return fmt::format("\"{}\"", session::name_of(fault)); }

std::string minutes_text(double minutes) {
    return fmt::format("{:g} {}", minutes, minutes == 1.0 ? "minute" : "minutes");
}

std::string size_text(double size, shop::FaultUnit unit, base::Units units) {
    return unit == shop::FaultUnit::mm ? base::show_small(size, units) : base::show_angle(size, units);
}

// ---- whom it is about ----

/// Reports weighed up to some of them, remembered.
class Course {
public:
    Course(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing,
           const session::Assumptions& assumed)
        : reports_(reports), drawing_(drawing), assumed_(assumed) {}

    /// After the first n reports.
    bool rules_out(Fault fault, std::size_t n) {
        auto found = known_.find(n);
        if (found == known_.end()) {
            std::vector<bool> out(shop::fault_count, false);
            const auto d = diagnose::infer(reports_.first(n), drawing_, assumed_.model, assumed_.prior);
            if (d) {
                for (const diagnose::Belief& b : d->beliefs)
                    out[static_cast<std::size_t>(b.fault)] = session::standing_of(b) == Standing::ruled_out;
            }
            found = known_.emplace(n, std::move(out)).first;
        }
        return found->second[static_cast<std::size_t>(fault)];
    }

    /// Some report after which it was ruled out and before which it was not. Halving finds one in a few weighings;
    /// where it was ruled out, doubted again and ruled out once more, it may be either.
    std::optional<std::size_t> turn(Fault fault) {
        std::size_t not_yet = 0;
        std::size_t then = reports_.size();
        if (then == 0 || !rules_out(fault, then) || rules_out(fault, 0)) return std::nullopt;
        while (then - not_yet > 1) {
            const std::size_t middle = (then + not_yet) / 2;
            (rules_out(fault, middle) ? then : not_yet) = middle;
        }
        return then - 1;
    }

private:
    std::span<const measure::CheckReport> reports_;
    const shop::Drawing& drawing_;
    const session::Assumptions& assumed_;
    std::map<std::size_t, std::vector<bool>> known_;
};

measure::Occasion present(std::span<const measure::CheckReport> reports) {
    return reports.empty() ? measure::Occasion{} : reports.back().occasion;
}

const diagnose::Belief& belief(const CoachKnows& known, Fault fault) {
    return known.findings.diagnosis.beliefs[static_cast<std::size_t>(fault)];
}

/// The person's suspects that are neither ruled out nor as good as sure, and those that the readings cannot tell from
/// one of theirs.
std::vector<Fault> asked_about(const CoachKnows& known, const OwnSuspects& suspects) {
    const auto& binding = known.assumed.model.binding;
    const auto open = [&](Fault f) {
        const Standing standing = session::standing_of(belief(known, f));
        // Nothing is cut until the sled goes: only what may be in its way.
        if (known.findings.diagnosis.jams() && !is_in(binding, f)) return false;
        return standing == Standing::open || standing == Standing::untouched;
    };
    std::vector<Fault> asked;
    for (const auto& [fault, sure] : suspects) {
        if (open(fault)) asked.push_back(fault);
    }
    for (const auto& [fault, sure] : suspects) {
        for (const Fault rival : session::rivals_of(known.findings, fault)) {
            if (open(rival) && !is_in(asked, rival)) asked.push_back(rival);
        }
    }
    return asked;
}

// ---- words ----

std::vector<std::string> names_with(const Coaching& c, Standing standing, bool own) {
    std::vector<std::string> names;
    for (const SuspectNow& s : c.suspects) {
        if (s.standing == standing && s.own == own) names.push_back(quoted(s.fault));
    }
    return names;
}

/// "check 2, "Indicator on one tooth, front and rear" (front 0.012 mm, rear 0.034 mm)"
std::string reading_text(std::size_t number, const CoachKnows& known) {
    session::Note note;
    note.report = known.reports[number];
    const session::NoteWords words = session::words_of(note, number + 1, known.drawing, known.units);
    std::vector<std::string> values;
    for (const session::ReadingWords& r : words.readings) values.push_back(r.name + " " + r.value);
    constexpr std::size_t few = 4;
    const std::string read = values.size() > few ? std::string() : fmt::format(" ({})", base::listed(values));
    return fmt::format("check {}, \"{}\"{}", number + 1, measure::info(note.report.occasion.check).title, read);
}

void say_who_is_alive(Coaching& c, const CoachKnows& known, bool has_own) {
    const auto say = [&](std::string_view before, const std::vector<std::string>& names, std::string_view after) {
        if (!names.empty()) c.alive.push_back(fmt::format("{}{}{}", before, base::listed(names), after));
    };
    say("As good as sure: ", names_with(c, Standing::supported, true), ".");
    say(has_own ? "Still alive: " : "Open: ", names_with(c, Standing::open, true), ".");
    say("No reading has looked at ", names_with(c, Standing::untouched, true), " yet.");
    for (const SuspectNow& s : c.suspects) {
        if (s.standing != Standing::ruled_out) continue;
        c.alive.push_back(
            s.ruled_out_by ? fmt::format("Ruled out: {}, by {}.", quoted(s.fault), reading_text(*s.ruled_out_by, known))
                           : fmt::format("Ruled out: {}.", quoted(s.fault)));
    }
    const auto others = names_with(c, Standing::open, false).size() + names_with(c, Standing::supported, false).size();
    if (others > 0)
        c.alive.push_back(others == 1
                              ? "The readings leave one more alive that is not on your list."
                              : fmt::format("The readings leave {} more alive that are not on your list.", others));
    if (c.alive.empty()) c.alive.emplace_back("No fault is open.");
}

/// Whoever is alive and not on the person's list, by name; empty: nobody.
void name_the_others(Coaching& c) {
    std::vector<std::string> names = names_with(c, Standing::open, false);
    const std::vector<std::string> sure = names_with(c, Standing::supported, false);
    names.insert(names.end(), sure.begin(), sure.end());
    if (!names.empty()) c.deed.push_back(fmt::format("Not on your list, and not ruled out: {}.", base::listed(names)));
}

std::string safety(Check check) {
    switch (measure::info(check).at_saw) {
        case measure::AtSaw::away: return "";
        case measure::AtSaw::unplugged: return "Unplug the saw first.";
        case measure::AtSaw::cuts:
        case measure::AtSaw::cuts_and_reads: break;
    }
    return "After each cut hold still, switch off, and wait until the blade has stopped before you touch anything.";
}

std::string cost_text(Check check, bool on_free_corner) {
    const measure::CheckInfo& info = measure::info(check);
    const std::string minutes = minutes_text(info.minutes);
    if (on_free_corner) return minutes + ", on the free corner of the board that was cut";
    return info.stock_mm > 0.0 ? fmt::format("{} and {:g} mm of board", minutes, info.stock_mm) : minutes;
}

void say_check(Coaching& c, Check check, std::string_view why) {
    c.deed.push_back(fmt::format("{}: \"{}\", {}. {}", why, measure::info(check).title,
                                 base::said_in(cost_text(check, c.on_free_corner), c.units), safety(check)));
    if (c.deed.back().ends_with(' ')) c.deed.back().pop_back();
}

// ---- one check looked at ----

/// What one sign of a check would be under each hypothesis.
std::vector<diagnose::Foreseen> seen_by_sign(const std::vector<diagnose::Foreseen>& reads, const Sign& sign) {
    std::vector<diagnose::Foreseen> out;
    for (const diagnose::Foreseen& f : reads) {
        const std::size_t k = f.mean.size();
        diagnose::Foreseen one{f.weight, {0.0}, {0.0}, f.of};
        for (std::size_t i = 0; i < k; ++i) {
            one.mean[0] += sign.of[i] * f.mean[i];
            for (std::size_t n = 0; n < k; ++n) one.covariance[0] += sign.of[i] * sign.of[n] * f.covariance[i * k + n];
        }
        out.push_back(std::move(one));
    }
    return out;
}

/// The sign that tells most about who is there.
const Sign& best_sign(const diagnose::DiagnosisPuzzle& p, std::size_t check) {
    const auto signs = signs_of(p.checks[check]);
    const Sign* best = &signs.front();
    double most = -1.0;
    for (const Sign& sign : signs) {
        const auto seen = seen_by_sign(p.reads[check], sign);
        std::vector<int> groups;
        for (const diagnose::Foreseen& f : seen) groups.push_back(p.puzzle.groups[f.of]);
        const double bits = diagnose::information_bits(seen, groups);
        if (bits <= most + 1e-9) continue;
        most = bits;
        best = &sign;
    }
    return *best;
}

/// The size that is read if this one of the asked is there and, as far as the hypotheses allow, no other of them; -1:
/// if none is.
std::optional<double> size_with(const diagnose::DiagnosisPuzzle& p, const std::vector<diagnose::Foreseen>& seen,
                                int which) {
    double weight = 0.0;
    double square = 0.0;
    for (const bool alone : {true, false}) {
        for (const diagnose::Foreseen& f : seen) {
            const std::vector<bool>& there = p.there[f.of];
            const auto others = std::count(there.begin(), there.end(), true);
            const bool fits =
                which < 0 ? others == 0 : there[static_cast<std::size_t>(which)] && (!alone || others == 1);
            if (!fits) continue;
            weight += f.weight;
            square += f.weight * (f.mean[0] * f.mean[0] + f.covariance[0]);
        }
        if (weight > 0.0) break;
    }
    return weight > 0.0 ? std::optional(std::sqrt(square / weight)) : std::nullopt;
}

/// What makes no difference to speak of.
bool as_without(double with, double without) { return with < 1.25 * without && with > without / 1.25; }

/// Those of which the size is the same to speak of, in one sentence.
struct Alike {
    std::vector<std::string> names;
    double size = 0.0;
};

void say_what_each_would_read(Coaching& c, const diagnose::DiagnosisPuzzle& p, std::size_t check, const Sign& sign) {
    const auto seen = seen_by_sign(p.reads[check], sign);
    const auto none = size_with(p, seen, -1);
    std::vector<Alike> lines;
    std::vector<std::string> no_difference;
    for (std::size_t f = 0; f < p.asked.size(); ++f) {
        const auto with = size_with(p, seen, static_cast<int>(f));
        if (!with) continue;
        c.would_read.push_back({p.asked[f], *with});
        if (none && as_without(*with, *none)) {
            no_difference.push_back(quoted(p.asked[f]));
            continue;
        }
        const auto same =
            std::find_if(lines.begin(), lines.end(), [&](const Alike& a) { return as_without(*with, a.size); });
        if (same == lines.end()) lines.push_back({{quoted(p.asked[f])}, *with});
        else same->names.push_back(quoted(p.asked[f]));
    }
    for (const Alike& line : lines)
        c.deed.push_back(fmt::format("With {} there, {} about {}.", base::listed(line.names, "or"), sign.reads,
                                     size_text(line.size, sign.unit, c.units)));
    if (!none) return;
    c.would_read.push_back({std::nullopt, *none});
    c.deed.push_back(lines.empty() ? fmt::format("With any of them or none {} about {}.", sign.reads,
                                                 size_text(*none, sign.unit, c.units))
                                   : fmt::format("With none of them, about {}.", size_text(*none, sign.unit, c.units)));
    if (!no_difference.empty() && !lines.empty())
        c.deed.push_back(fmt::format("{} would make no difference to it.", base::listed(no_difference)));
}

void add_numbers(Coaching& c, const diagnose::DiagnosisPuzzle& p) {
    const diagnose::Known now = diagnose::start_of(p.puzzle);
    const std::vector<diagnose::Choice> ahead = diagnose::looked_ahead(p.puzzle, now, diagnose::quick_ahead);
    for (const std::size_t check : diagnose::open_checks(p.puzzle, now)) {
        CheckNumbers one{p.checks[check], diagnose::bits_of(p.puzzle, now, check), 0.0, std::nullopt};
        one.bits_per_minute = one.bits / p.puzzle.checks[check].minutes;
        for (const diagnose::Choice& choice : ahead) {
            if (choice.check == check) one.minutes = choice.minutes;
        }
        c.numbers.push_back(one);
    }
    std::stable_sort(c.numbers.begin(), c.numbers.end(), [&](const CheckNumbers& a, const CheckNumbers& b) {
        if ((a.check == c.check) != (b.check == c.check)) return a.check == c.check;
        return a.bits_per_minute > b.bits_per_minute;
    });
}

// ---- the matters ----

void about_reading_again(Coaching& c, const CoachKnows& known, std::size_t which) {
    const auto& contradiction = known.findings.diagnosis.contradictions[which];
    c.matter = Matter::read_again;
    c.check = contradiction.occasion.check;
    c.question.emplace_back(
        "Do all your readings fit together? Which one would you read again before you build on it?");
    c.alive.push_back(session::sentence_of(contradiction));
    say_check(c, *c.check, "Read it again");
}

void about_a_repair(Coaching& c, const CoachKnows& known, Fault fault) {
    c.matter = Matter::repair;
    c.fault = fault;
    c.question.emplace_back(
        "You may have read enough. Is there one fault that you would take your tools to now, and does anything still "
        "speak for another?");
    const bool jams = known.findings.diagnosis.jams();
    const double sure = belief(known, fault).probability;
    c.deed.push_back(
        fmt::format("{}. {}", session::repair_heading(fault, jams), session::repair_sentence(fault, jams)));
    if (sure < 0.95) c.deed.emplace_back("It is not sure: no reading names a surer cause.");
    constexpr double a_rival = 0.10;
    for (const Fault rival : session::rivals_of(known.findings, fault)) {
        if (belief(known, rival).probability > a_rival)
            c.deed.push_back(fmt::format("A rival is still open: {}. A check first may save the work.", quoted(rival)));
    }
    c.deed.emplace_back("Then cut a test: only that proves it.");
}

void about_nothing_more(Coaching& c) {
    c.matter = Matter::nothing_more;
    c.question.emplace_back("Is there a check left that would tell you more, for the minutes that it takes?");
    c.deed.emplace_back(
        "No check that is left would tell much. Put right what is likeliest and prove it by a test; or say that it "
        "cannot be decided with what is here.");
}

std::string question_of(const Sign& sign, std::size_t own_alive, bool has_own) {
    if (!has_own) return fmt::format("Which faults would {}, and which would not?", sign.asks);
    if (own_alive == 0) return fmt::format("What else, that is not on your list or not any more, would {}?", sign.asks);
    if (own_alive == 1) return fmt::format("Would your one suspect {}, and would anything else?", sign.asks);
    return fmt::format("Which of your suspects would {}, and which would not?", sign.asks);
}

/// False: no check splits these.
bool about_a_split(Coaching& c, const diagnose::DiagnosisPuzzle& p, std::size_t own_alive, bool has_own) {
    const auto ahead = diagnose::look_ahead_check(p);
    if (!ahead) return false;
    c.matter = Matter::split;
    c.check = ahead->check;
    c.on_free_corner = ahead->on_free_corner;
    const Sign& sign = best_sign(p, ahead->index);
    c.question.push_back(question_of(sign, own_alive, has_own));
    say_check(c, ahead->check,
              own_alive == 1 || p.asked.size() == 1 ? "This shows whether it is there" : "This splits them best");
    say_what_each_would_read(c, p, ahead->index, sign);
    add_numbers(c, p);
    return true;
}

/// What is ripe to be put right: of several the person's own first.
std::optional<Fault> to_repair(const CoachKnows& known, const OwnSuspects& own) {
    const auto ripe = session::ripe_for_repair(known.findings);
    if (!ripe) {
        const bool only_try = known.findings.diagnosis.jams() && !known.findings.next;
        return only_try ? std::optional(session::likeliest_jam(known.findings, {})) : std::nullopt;
    }
    const bool jams = known.findings.diagnosis.jams();
    for (const auto& [fault, sure] : own) {
        const diagnose::Belief& b = belief(known, fault);
        const bool as_ripe = session::standing_of(b) == Standing::supported && b.probability >= 0.98;
        if (as_ripe && (!jams || session::may_jam(fault))) return fault;
    }
    return ripe;
}

}  // namespace

std::string_view name_of(Matter matter) {
    switch (matter) {
        case Matter::read_again: return "read-again";
        case Matter::repair: return "repair";
        case Matter::split: return "split";
        case Matter::nothing_more: break;
    }
    return "nothing-more";
}

std::optional<std::size_t> ruled_out_by(Fault fault, std::span<const measure::CheckReport> reports,
                                        const shop::Drawing& drawing, const session::Assumptions& assumed) {
    return Course(reports, drawing, assumed).turn(fault);
}

Coaching coach(const CoachKnows& known, const OwnSuspects& own) {
    Coaching c;
    c.units = known.units;
    const auto& diagnosis = known.findings.diagnosis;
    const session::Assumptions assumed{diagnose::remembering(known.assumed.model), known.assumed.prior};
    const measure::Occasion now = present(known.reports);
    const auto& contradictions = diagnosis.contradictions;
    const auto again = std::find_if(contradictions.begin(), contradictions.end(),
                                    [](const diagnose::Contradiction& x) { return x.to_read_again; });

    // Whom it is about.
    std::vector<Fault> asked = asked_about(known, own);
    const auto own_alive = static_cast<std::size_t>(
        std::count_if(own.begin(), own.end(), [&](const auto& s) { return is_in(asked, s.first); }));
    const bool about_own = !asked.empty();
    if (!about_own) asked = diagnose::asked_by_default(diagnosis, now, assumed.model, assumed.prior);
    Course course(known.reports, known.drawing, assumed);
    for (const auto& [fault, sure] : own) {
        const Standing standing = session::standing_of(belief(known, fault));
        c.suspects.push_back(
            {fault, standing, standing == Standing::ruled_out ? course.turn(fault) : std::nullopt, true});
    }
    const auto add = [&](Fault fault, bool is_own) {
        const auto has = [&](const SuspectNow& s) { return s.fault == fault; };
        if (std::none_of(c.suspects.begin(), c.suspects.end(), has))
            c.suspects.push_back({fault, session::standing_of(belief(known, fault)), std::nullopt, is_own});
    };
    const auto ripe = to_repair(known, own);

    // What is open.
    if (again != contradictions.end()) {
        about_reading_again(c, known, static_cast<std::size_t>(again - contradictions.begin()));
    } else if (ripe) {
        about_a_repair(c, known, *ripe);
        add(*ripe, own.empty());
    } else {
        diagnose::DiagnosisPuzzle p = diagnose::puzzle_of(diagnosis, now, assumed.model, assumed.prior, asked);
        bool splits = !asked.empty() && about_a_split(c, p, own_alive, !own.empty());
        if (!splits && about_own) {
            // Of their own suspects nothing more can be told: of others perhaps.
            p = diagnose::puzzle_of(diagnosis, now, assumed.model, assumed.prior, {});
            splits = !p.asked.empty() && about_a_split(c, p, 0, true);
        }
        for (const Fault f : p.asked) add(f, own.empty());
        if (const auto sure = session::first_to_repair(known.findings); !splits && sure) {
            about_a_repair(c, known, *sure);
            add(*sure, own.empty());
        } else if (!splits) about_nothing_more(c);
    }
    // Who is named and who is not.
    for (const diagnose::Belief& b : diagnosis.beliefs) {
        if (session::standing_of(b) == Standing::supported) add(b.fault, own.empty());
    }
    say_who_is_alive(c, known, !own.empty());
    if (!own.empty()) name_the_others(c);
    return c;
}

Coaching coach(const session::Seen& seen, const session::Findings& findings, const session::Assumptions& assumed,
               const OwnSuspects& suspects) {
    const std::vector<measure::CheckReport> reports = session::holding(seen);
    return coach(CoachKnows{reports, seen.drawing, findings, assumed, seen.units}, suspects);
}

std::vector<std::string> hint(const Coaching& c, int rung) {
    std::vector<std::string> out;
    int from = 1;
    for (const auto* says : {&c.question, &c.alive, &c.deed}) {
        if (from++ <= rung) out.insert(out.end(), says->begin(), says->end());
    }
    return out;
}

}  // namespace offsquare::lesson
