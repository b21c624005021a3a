#include "gui/hunt.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "scenario/readings.h"

namespace offsquare::gui {
namespace {

using session::Now;

Now now_symptom(const Bench& bench) {
    const std::string said = session::symptom(bench.trial(), bench.notes(), bench.view.units);
    if (said.empty() && bench.notes().empty() && !bench.of_a_real_saw()) {
        return {"What does a test say?",
                "Every hunt begins with what is seen: a corner that is off, a face that is marked. Cut a test and read "
                "its strip.",
                "Make the five-cut test"};
    }
    return {"Look at the suspects",
            "The symptom alone fits several faults. The notebook weighs everything that was read.",
            "Weigh the readings"};
}

Now now_check(const Bench& bench, measure::Check check, bool typing) {
    const measure::CheckInfo& info = measure::info(check);
    if (typing)
        return {std::string(info.title),
                "Type each reading as it stands on the instrument. It is weighed together with all others.",
                "Write them down"};
    if (bench.of_a_real_saw())
        return {std::string(info.title),
                "These readings are of a real saw. Make the check there, and type what you read.",
                "Type what was read"};
    return {
        std::string(info.title),
        fmt::format("{} It takes about {:g} {}.", info.finds, info.minutes, info.minutes == 1.0 ? "minute" : "minutes"),
        "Make this check"};
}

Now now_repair(const Bench& bench, shop::Fault fault) {
    const std::string name(session::name_of(fault));
    if (bench.of_a_real_saw())
        return {"Put right: " + name,
                "These readings are of a real saw. Make the repair there, and read again what depends on it.", ""};
    return {"Put right: " + name, "Nobody gets it to nothing. Readings that depend on it no longer hold afterwards.",
            "Make this repair"};
}

Now now_proof(const Bench& bench) {
    if (bench.of_a_real_saw())
        return {"Prove it at the saw", "Cut the test again at the real saw. Only a cut that passes proves a repair.",
                ""};
    const session::Proof proof = session::proof_of(bench.trial(), bench.view.units);
    switch (proof.state) {
        case session::Proof::State::not_cut:
            return {"Cut again", "A fresh board, five cuts, both ends read twice.", "Cut the proof"};
        case session::Proof::State::undecided:
            return {"Cut again", "One more test of the same set-up makes the mean surer.", "Cut the proof again"};
        case session::Proof::State::failed:
            return {"Back to the suspects", "Something is still wrong. The notebook goes on.", "Back to the suspects"};
        case session::Proof::State::passed: break;
    }
    return {"Proved", "The case is closed: the cut was made after the last repair, and it passes.", ""};
}

}  // namespace

std::string_view name_of(HuntPage page) {
    constexpr std::array<std::string_view, hunt_pages> names{"Symptom", "Suspects", "Checks", "Repairs", "Proof"};
    return names.at(static_cast<std::size_t>(page));
}

void Hunt::follow(const Bench& bench) {
    if (key_.empty() || seen_changes_ != bench.changes()) {
        seen_changes_ = bench.changes();
        reports_ = session::holding(bench.notes());
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

const picture::DiagnosisView* Hunt::view(const picture::DiagnosisPage& size) {
    const session::Findings* f = findings();
    if (f == nullptr) return nullptr;
    const std::string key = fmt::format("{}/{}/{}/{}", size.width, size.height, static_cast<int>(size.units), key_);
    if (!view_ || key != view_key_) {
        view_ = picture::diagnosis_view(*f, size);
        view_key_ = key;
    }
    return &*view_;
}

bool Hunt::done(HuntPage which, const Bench& bench) const {
    switch (which) {
        case HuntPage::symptom: return !session::symptom(bench.trial(), bench.notes(), bench.view.units).empty();
        case HuntPage::suspects: return findings() != nullptr && session::first_to_repair(*findings()).has_value();
        case HuntPage::checks: return !bench.notes().empty();
        case HuntPage::repairs: return !bench.trial().repairs.empty();
        case HuntPage::proof: break;
    }
    return session::proof_of(bench.trial(), bench.view.units).state == session::Proof::State::passed;
}

std::optional<shop::Fault> Hunt::ripe() const {
    const session::Findings* f = findings();
    if (f == nullptr) return std::nullopt;
    const auto first = session::first_to_repair(*f);
    if (!first) return std::nullopt;
    return !f->next || session::rivals_of(*f, *first).empty() ? first : std::nullopt;
}

Now Hunt::now_suspects() const {
    if (!trouble().empty()) return {"These readings cannot be weighed", trouble(), ""};
    const session::Findings* f = findings();
    if (f == nullptr)
        return {"Weighing the readings…", "Every mix of faults is tried against everything that was read.", ""};
    if (const auto first = ripe())
        return {"Put it right",
                fmt::format("\"{}\" is there, and nothing that is still open could be mistaken for it.",
                            session::name_of(*first)),
                "Choose the repair"};
    if (f->next)
        return {fmt::format("Next: {}", measure::info(f->next->check).title), fmt::format("Because {}.", f->next->why),
                "Choose this check"};
    return {"Nothing more to learn",
            "No further check would tell much. Cut the proof, or choose a check or a repair yourself.",
            "Go to the proof"};
}

Now Hunt::now(const Bench& bench) const {
    switch (page) {
        case HuntPage::symptom: return now_symptom(bench);
        case HuntPage::suspects: return now_suspects();
        case HuntPage::checks: return now_check(bench, check, typing.open);
        case HuntPage::repairs: return now_repair(bench, fault);
        case HuntPage::proof: break;
    }
    return now_proof(bench);
}

void Hunt::step_suspects() {
    const session::Findings* f = findings();
    if (f == nullptr) return;
    if (const auto which = ripe()) return look_at(*which);
    if (f->next) return look_at(f->next->check);
    page = HuntPage::proof;
}

void Hunt::next_step(Bench& bench) {
    const Now what = now(bench);
    if (what.button.empty()) return;
    switch (page) {
        case HuntPage::symptom:
            if (what.button == "Weigh the readings") page = HuntPage::suspects;
            else bench.act(session::MakeCheck{measure::Check::five_cut});
            return;
        case HuntPage::suspects: return step_suspects();
        case HuntPage::checks:
            if (typing.open) return write_typed(bench);
            if (bench.of_a_real_saw()) {
                typing.open = true;
                return;
            }
            if (bench.act(session::MakeCheck{check})) page = HuntPage::suspects;
            return;
        case HuntPage::repairs:
            if (bench.act(session::Repair{fault})) page = HuntPage::proof;
            return;
        case HuntPage::proof: break;
    }
    if (session::proof_of(bench.trial(), bench.view.units).state == session::Proof::State::failed)
        page = HuntPage::suspects;
    else bench.cut_the_proof();
}

void Hunt::write_typed(Bench& bench) {
    const auto action = typing.action(check, bench);
    if (!action) return bench.say(action.error().message, true);
    if (!bench.act(*action)) return;
    typing.written(check);
    page = HuntPage::suspects;
}

void Hunt::look_at(measure::Check which) {
    if (which != check) typing.open = false;
    check = which;
    page = HuntPage::checks;
}

void Hunt::look_at(shop::Fault which) {
    fault = which;
    page = HuntPage::repairs;
}

}  // namespace offsquare::gui
