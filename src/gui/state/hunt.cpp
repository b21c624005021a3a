#include "gui/state/hunt.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "scenario/readings.h"
#include "session/complaint.h"

namespace offsquare::gui {
namespace {

using session::Leaf;
using session::Next;
using session::Now;
using session::Todo;

std::string minutes_words(double minutes) {
    return fmt::format("{:g} {}", minutes, minutes == 1.0 ? "minute" : "minutes");
}

/// Where a sled may stick nothing is cut on it before it goes.
Now push_first_words(std::string_view why) {
    return {"Push the sled through first",
            fmt::format("{} Push it through by hand, the saw unplugged and the blade down: nothing is cut on a sled "
                        "that may stick.",
                        why),
            "Push the sled through"};
}

Now hold_words() {
    return {"Take hold of the sled",
            "The corner is proved. But its owner speaks of how the sled goes, and no test cut tells that: push it "
            "yourself.",
            "Take hold of the sled"};
}

/// One test cannot tell whether it stays so.
Now change_words(measure::Check check, const char* button) {
    return {fmt::format("Next: {}", measure::info(check).title),
            "The corner is proved. But its owner says that it does not stay so, and one test cannot tell that.",
            button};
}

bool owner_waits(const Bench& bench) {
    return session::proof_of(bench.seen()) == session::Proved::passed &&
           session::complaint_of(bench.seen(), bench.took_hold()) == session::Became::open;
}

/// The test passes and nothing more has to be put right.
Now done_words(const session::Findings* findings) {
    const std::string rest = findings == nullptr ? std::string() : session::let_be_words(*findings);
    if (rest.empty()) return {"Nothing is left to find", "The last test passes.", "Go to the proof"};
    return {"Nothing has to be put right", fmt::format("The readings still show {}; the test passes with it.", rest),
            "Go to the proof"};
}

Now begin_words(measure::Check check) {
    if (check == measure::Check::push_through) return push_first_words("Its owner speaks of how the sled goes.");
    return {"What does a test say?",
            "Every hunt begins with what is seen: a corner that is off, a face that is marked. Cut a test and read its "
            "strip.",
            "Do the five-cut test"};
}

Now check_words(measure::Check check, bool typing) {
    const measure::CheckInfo& info = measure::info(check);
    if (typing)
        return {std::string(info.title),
                "Type each reading as it stands on the instrument. It is weighed together with all others.",
                "Write them down"};
    return {std::string(info.title), fmt::format("{} It takes about {}.", info.finds, minutes_words(info.minutes)),
            "Do this check"};
}

Now check_there_words(measure::Check check) {
    return {std::string(measure::info(check).title),
            "These readings are from a real saw. Do the check there, and type what you read.", "Type what was read"};
}

Now wait_words(measure::Check check) {
    return {"The sled jams",
            fmt::format("\"{}\" needs the sled to go through its slots. First "
                        "find what jams it.",
                        measure::info(check).title),
            "Back to the suspects"};
}

Now repair_words(shop::Fault fault, bool there, bool proved, bool jams) {
    const std::string heading = session::repair_heading(fault, jams);
    if (proved)
        return {heading,
                "The last test passes, and nothing has to be put right. After this repair it must be proved "
                "again.",
                "Make this repair"};
    if (there && jams)
        return {heading,
                "These readings are from a real saw. Make the repair there, then "
                "push the sled through and type how it "
                "goes.",
                ""};
    if (there)
        return {heading,
                "These readings are from a real saw. Make the repair there, and read again what depends on it.", ""};
    return {heading, "No repair is perfect. Readings that depend on it no longer hold afterwards.", "Make this repair"};
}

/// While the sled jams what is likeliest is put right, even if nothing is sure.
Now free_words(const Next& next, const session::Findings& findings) {
    const bool sure = session::first_to_repair(findings) == next.fault;
    return {session::repair_heading(*next.fault, true),
            sure ? fmt::format("The sled jams, and \"{}\" is there.", session::name_of(*next.fault))
                 : std::string("The sled jams, and no check would name the cause more "
                               "surely. This is the likeliest that is "
                               "left."),
            "Choose the repair"};
}

/// No check would tell more, and what the last test says by itself is all there is.
Now by_the_test_alone(const Next& next, const Bench& bench) {
    Now now = session::words_of(next, bench.seen(), bench.view.units);
    now.why += " No further check of the notebook would tell much.";
    now.button = next.intention.empty() ? "" : "Go to the proof";
    return now;
}

Now suspects_words(const Next& next, const session::Findings* findings, const Bench& bench) {
    switch (next.todo) {
        case Todo::repair:
        case Todo::repair_there:
            if (findings != nullptr && findings->diagnosis.jams()) return free_words(next, *findings);
            return {"Put it right",
                    fmt::format("\"{}\" is there, and nothing that is still open could be mistaken for it.",
                                session::name_of(*next.fault)),
                    "Choose the repair"};
        case Todo::make_check:
        case Todo::type_readings: {
            if (session::to_be_pushed_first(bench.seen())) {
                Now now = push_first_words("First see whether it goes.");
                now.button = "Choose this check";
                return now;
            }
            if (owner_waits(bench) && next.check == measure::Check::clamp_watch)
                return change_words(*next.check, "Choose this check");
            const bool why = findings != nullptr && findings->next && findings->next->check == *next.check;
            return {fmt::format("Next: {}", measure::info(*next.check).title),
                    why ? fmt::format("Because {}.", findings->next->why)
                        : std::string("Every hunt begins with what a test says."),
                    "Choose this check"};
        }
        case Todo::look_at_play:
            return {"Next: look at the play", "Because the proof is open until the sled's play is known.",
                    "Choose this check"};
        case Todo::done: return done_words(findings);
        case Todo::take_hold: return hold_words();
        case Todo::put_shims:
        case Todo::repeat_test:
        case Todo::nothing_fits:
        case Todo::undecidable:
        case Todo::something_changes:
        case Todo::look_elsewhere: return by_the_test_alone(next, bench);
        case Todo::prove:
        case Todo::prove_there:
            return {"Cut the proof", "Only a test that is cut now shows what the saw does.", "Go to the proof"};
        default: break;  // the rest of a test that was begun
    }
    return {"A test is half read", "Read both ends of its strip first.", "Go to the proof"};
}

/// Something is still there, though the last test may pass.
Now back_words(const session::Findings* findings, const Bench& bench) {
    constexpr const char* back = "Back to the suspects";
    if (session::jams(bench.seen()))
        return {back, "Nothing can be cut while the sled jams. The notebook goes on.", back};
    const bool passes = session::proof_of(bench.seen()) == session::Proved::passed;
    const auto fault = passes && findings != nullptr ? session::to_put_right(bench.seen(), *findings) : std::nullopt;
    if (!fault) return {back, "Something is still wrong. The notebook goes on.", back};
    return {"Square, but something is left",
            fmt::format("The readings show \"{}\" as well. The corner of this test says nothing of it.",
                        session::name_of(*fault)),
            back};
}

Now proved_words(const session::Findings* findings, const Bench& bench) {
    if (session::was_repaired(bench.seen()))
        return {"Proved", "The case is closed: the test was cut after the last repair, and it passes.", ""};
    const bool ends =
        findings == nullptr || session::next_in_hunt(bench.seen(), findings, bench.took_hold()).todo == Todo::done;
    return {"Proved",
            fmt::format("{}the test passes as the saw was found, and nothing had to be put right.{}",
                        ends ? "The case is closed: " : "It is square: ",
                        ends ? "" : " What a test does not show can still be looked for."),
            ""};
}

Now proof_page_words(const Next& next, const session::Findings* findings, const Bench& bench) {
    switch (next.todo) {
        case Todo::prove_there:
            return {"Prove it at the saw",
                    "Cut the test again at the real saw. Only a cut that passes proves a repair.", ""};
        case Todo::look_at_suspects: return back_words(findings, bench);
        case Todo::take_hold: return hold_words();
        case Todo::make_check:
            return owner_waits(bench) ? change_words(*next.check, "Do this check")
                                      : push_first_words("A runner or a slot was worked on.");
        case Todo::done: return proved_words(findings, bench);
        case Todo::prove: {
            const bool again = session::proof_of(bench.seen()) == session::Proved::undecided;
            if (again)
                return {"Cut again", "One more test of the same set-up makes the mean more certain.",
                        "Cut the proof again"};
            return {"Cut again", "A fresh board, five cuts, both ends read twice.", "Cut the proof"};
        }
        default: break;  // the rest of a test that was begun
    }
    return session::words_of(next, bench.seen(), bench.view.units);
}

}  // namespace

std::string_view name_of(Leaf page) {
    constexpr std::array<std::string_view, hunt_pages> names{"Symptom", "Suspects", "Checks", "Repairs", "Proof"};
    return names.at(static_cast<std::size_t>(page));
}

void Hunt::follow(const Bench& bench) {
    if (key_.empty() || seen_changes_ != bench.changes()) {
        seen_changes_ = bench.changes();
        reports_ = session::holding(bench.seen());
        // The text holds all sizes and all readings to the last bit: where it is the same, so is the answer.
        key_ = scenario::readings_text(bench.scenario(), reports_);
        const std::string sizes = scenario::readings_text(bench.scenario(), {});
        if (sizes != sizes_key_) sight_ = session::sight_of(bench.scenario().drawing);
        sizes_key_ = sizes;
    }
    weigher_.want(key_, reports_, bench.scenario().drawing);
}

const session::Findings* Hunt::findings() const {
    const Weigher::Found* found = weigher_.found();
    return found != nullptr && *found ? &**found : nullptr;
}

std::string Hunt::trouble() const {
    const Weigher::Found* found = weigher_.found();
    return found != nullptr && !*found ? found->error().message : std::string();
}

const picture::DiagnosisView* Hunt::view(const Bench& bench, picture::DiagnosisPage size) {
    const session::Findings* f = findings();
    if (f == nullptr) return nullptr;
    const Next n = next_on(Leaf::suspects, bench);
    size.next = session::next_words(n, *f);
    if (size.next.what.empty()) {
        const Now now = suspects_words(n, f, bench);
        size.next = {now.heading, now.why};
    }
    const std::string key = fmt::format("{}/{}/{}/{}/{}/{}", size.width, size.height,
                                        static_cast<int>(size.units.system) * 2 + static_cast<int>(size.units.angles),
                                        size.next.what, size.next.why, key_);
    if (!view_ || key != view_key_) {
        view_ = picture::diagnosis_view(*f, size);
        view_key_ = key;
    }
    return &*view_;
}

bool Hunt::done(Leaf which, const Bench& bench) const {
    switch (which) {
        case Leaf::symptom: return !session::symptom(bench.seen(), bench.view.units).empty();
        case Leaf::suspects: return findings() != nullptr && session::first_to_repair(*findings()).has_value();
        case Leaf::checks: return !bench.notes().empty();
        case Leaf::repairs: return !bench.seen().repairs.empty();
        case Leaf::proof: break;
    }
    return session::proof_of(bench.seen()) == session::Proved::passed;
}

Next Hunt::next_on(Leaf leaf, const Bench& bench) const {
    const bool troubled = !trouble().empty();
    if (leaf == Leaf::suspects && troubled) return {Todo::cannot_weigh};
    const Next next = session::next_on({leaf, check, fault, bench.took_hold()}, bench.seen(), findings());
    // Readings that cannot be weighed keep no proof from standing.
    return leaf == Leaf::proof && troubled && next.todo == Todo::weigh ? Next{Todo::done} : next;
}

Now Hunt::now(const Bench& bench) const {
    const Next n = next(bench);
    switch (n.todo) {
        case Todo::cannot_weigh: return {"These readings cannot be weighed", trouble(), ""};
        case Todo::weigh:
            return {"Weighing the readings…", "Every mix of faults is tried against everything that was read.", ""};
        default: break;
    }
    switch (page) {
        case Leaf::symptom:
            if (n.todo == Todo::make_check) return begin_words(*n.check);
            return {"Look at the suspects",
                    "The symptom alone fits several faults. The notebook weighs everything that was read.",
                    "Weigh the readings"};
        case Leaf::suspects: return suspects_words(n, findings(), bench);
        case Leaf::checks:
            if (typing.open && !typing.asked.empty()) return {"Is that meant?", typing.asked.front(), ""};
            if (n.todo == Todo::wait_for_sled && !typing.open) return wait_words(check);
            return n.todo == Todo::type_readings && !typing.open ? check_there_words(check)
                                                                 : check_words(check, typing.open);
        case Leaf::repairs: {
            const bool there = n.todo == Todo::repair_there;
            const bool left = findings() != nullptr && session::to_put_right(bench.seen(), *findings()) == fault;
            const bool proved = !there && !left && session::proof_of(bench.seen()) == session::Proved::passed;
            return repair_words(fault, there, proved, session::jams(bench.seen()));
        }
        case Leaf::proof: break;
    }
    return proof_page_words(n, findings(), bench);
}

void Hunt::turn_to(const Next& next) {
    if (next.todo == Todo::weigh || next.todo == Todo::cannot_weigh) return;
    if (next.todo == Todo::take_hold) {
        wants_hold = true;
        return;
    }
    if (next.check) return look_at(*next.check);
    if (next.fault) return look_at(*next.fault);
    page = Leaf::proof;
}

void Hunt::make_the_check(const Next& next, Bench& bench) {
    if (typing.open) return write_typed(bench);
    if (next.todo == Todo::type_readings) {
        typing.open = true;
        return;
    }
    const bool begins = page == Leaf::symptom;
    if (bench.act(next.intention) && !begins) page = Leaf::suspects;
}

void Hunt::next_step(Bench& bench) {
    const Next n = next(bench);
    if (page == Leaf::suspects) return turn_to(n);
    switch (n.todo) {
        case Todo::look_at_suspects: page = Leaf::suspects; return;
        case Todo::wait_for_sled:
            if (typing.open) return write_typed(bench);
            page = Leaf::suspects;
            return;
        case Todo::make_check:
        case Todo::type_readings: return make_the_check(n, bench);
        case Todo::repair:
            if (bench.act(n.intention)) page = Leaf::proof;
            return;
        case Todo::prove: return bench.cut_the_proof();
        case Todo::take_hold: wants_hold = true; return;
        default: break;
    }
    if (!n.intention.empty()) bench.act(n.intention);
}

void Hunt::write_typed(Bench& bench) {
    const auto action = typing.action(check, bench);
    if (!action) return bench.say(action.error().message, true);
    typing.asked = session::slips_in(bench.history(), *action, bench.view.units);
    if (typing.asked.empty()) insist(bench);
}

void Hunt::insist(Bench& bench) {
    const auto action = typing.action(check, bench);
    if (!action) return bench.say(action.error().message, true);
    if (!bench.act(*action)) return;
    typing.written(check);
    page = Leaf::suspects;
}

void Hunt::look_at(measure::Check which) {
    if (which != check) {
        typing.open = false;
        typing.asked.clear();
    }
    check = which;
    page = Leaf::checks;
}

void Hunt::look_at(shop::Fault which) {
    fault = which;
    page = Leaf::repairs;
}

}  // namespace offsquare::gui
