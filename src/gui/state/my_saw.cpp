#include "gui/state/my_saw.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "saws/like_mine.h"
#include "scenario/readings.h"
#include "session/hunt_words.h"

namespace offsquare::gui {
namespace {

using base::fail;
using base::Grade;
using base::Result;

constexpr const char* first_name = "My sled";

/// The one that was written last.
std::optional<std::string> newest_of(const std::vector<saws::Listed>& all) {
    std::optional<std::string> name;
    std::filesystem::file_time_type newest{};
    for (const saws::Listed& one : all) {
        std::error_code none;
        const auto when = std::filesystem::last_write_time(one.file, none);
        if (!one.trouble.empty() || none || (name && when <= newest)) continue;
        name = one.name;
        newest = when;
    }
    return name;
}

bool same_lengths(const std::vector<base::Typed>& a, const std::vector<base::Typed>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const base::Typed& x, const base::Typed& y) { return x.value == y.value; });
}

}  // namespace

void MySaw::keep_in(const std::filesystem::path& data, base::Units units) {
    units_ = units;
    store_ = saws::Store(data);
    has_folder_ = !data.empty();
    held_.reset();
    loose_ = {first_name, "", units_, {}};
    changed();
    if (const auto name = newest_of(store_.list())) {
        if (const auto opened = switch_to(*name); !opened) trouble_ = opened.error().message;
    }
}

std::string MySaw::why_not_kept() const {
    if (!has_folder_) return "Nothing can be kept here: there is no folder for it. HOME is not set.";
    if (held_ && !held_->may_write()) return held_->why_not;
    return trouble_;
}

Result<void> MySaw::switch_to(const std::string& name) {
    // Its own lock stands in the way of itself.
    if (held_ && held_->sled.name == name) return {};
    auto opened = store_.open(name);
    if (!opened) return tl::unexpected(opened.error());
    waiting_[sled().name] = draft_in_its_units();
    held_ = std::move(*opened);
    units_.system = held_->sled.units.system;  // of the draft that comes with it
    trouble_ = held_->notes.empty() ? std::string() : held_->notes.front();
    draft = waiting_[held_->sled.name];
    changed();
    return {};
}

std::optional<saws::Sled> MySaw::look_at(const std::string& name) const {
    if (held_ && held_->sled.name == name) return held_->sled;
    const auto seen = store_.look(name);
    if (!seen) return std::nullopt;
    return seen->sled;
}

Result<void> MySaw::make(const std::string& name, const std::string& saw) {
    auto made = store_.make(name, saw, units_);
    if (!made) return tl::unexpected(made.error());
    waiting_[sled().name] = draft_in_its_units();
    held_ = std::move(*made);
    trouble_.clear();
    draft = {};
    changed();
    return {};
}

std::map<std::string, StripDraft> MySaw::drafts() const {
    auto all = waiting_;
    all[sled().name] = draft_in_its_units();
    return all;
}

StripDraft MySaw::draft_in_its_units() const {
    StripDraft same = draft;
    if (units_.system != sled().units.system) say_units(same, units_);
    return same;
}

void MySaw::drafts_were(std::map<std::string, StripDraft> drafts) {
    waiting_ = std::move(drafts);
    draft = waiting_[sled().name];
    units_.system = sled().units.system;
    // The program may have ended between the log and this file.
    const saws::Entry* newest = saws::newest_test(sled());
    if (newest == nullptr || draft.corrects) return;
    const saws::Strip& in_log = std::get<saws::StripTest>(newest->what).strip;
    const saws::Strip typed = strip_of(draft, units_);
    if (same_lengths(typed.fence_end, in_log.fence_end) && same_lengths(typed.far_end, in_log.far_end)) draft = {};
}

Result<void> MySaw::rename(const std::string& name, const std::string& saw) {
    if (held_) {
        if (auto done = store_.rename(*held_, name, saw); !done) return done;
    } else {
        if (auto fine = saws::check_name(name); !fine) return fine;
        if (auto fine = saw.empty() ? Result<void>() : saws::check_name(saw); !fine) return fine;
        loose_.name = name;
        loose_.saw = saw;
    }
    changed();
    return {};
}

Result<void> MySaw::remove() {
    if (!held_) return fail(Grade::usage, "nothing of this sled was kept yet");
    if (auto gone = store_.remove(std::move(*held_)); !gone) return gone;
    held_.reset();
    loose_ = {first_name, "", units_, {}};
    draft = {};
    changed();
    if (const auto name = newest_of(store_.list())) return switch_to(*name);
    return {};
}

void MySaw::changed() {
    ++changes_;
    settled_ = false;
    meant_.clear();
}

Result<void> MySaw::write(saws::What what, std::optional<saws::Date> date, std::optional<int> corrects) {
    auto more = saws::added(sled(), std::move(what), date.value_or(today_), today_, corrects);
    if (!more) return tl::unexpected(more.error());
    if (sled().entries.empty() && !held_) more->units = units_;
    if (!held_ && has_folder_) {
        // What was typed must not be lost because it cannot be kept: then it stays here as long as the window does.
        auto made = store_.make(loose_.name, loose_.saw, units_);
        if (made) held_ = std::move(*made);
        trouble_ = made ? std::string() : made.error().message;
    }
    if (held_) {
        if (auto saved = store_.save(*held_, std::move(*more)); !saved) return saved;
    } else {
        loose_ = std::move(*more);
    }
    changed();
    return {};
}

Result<void> MySaw::write_strip(const std::optional<saws::ShimsMoved>& moved) {
    const saws::Date date = date_of_draft();
    if (of_draft_) {
        if (const auto written = write(test_of_draft(), date, draft.corrects); !written) return written;
        draft = draft.corrects ? std::exchange(put_by(), {}) : StripDraft();
    }
    return moved ? write(*moved, date) : Result<void>();
}

void MySaw::correct(StripDraft in_its_place) {
    if (!draft.corrects) put_by() = draft;
    draft = std::move(in_its_place);
}

void MySaw::give_up_correction() {
    if (draft.corrects) draft = std::exchange(put_by(), {});
}

void MySaw::follow(base::Units units, bool at_rest) {
    if (units.system != units_.system) say_units(draft, units_), say_units(put_by(), units_);
    // A correction that was emptied is given up: what is typed next is a strip of its own.
    if (draft.corrects && draft.untouched()) draft.corrects.reset(), draft.date.reset();
    const bool same = units == units_ && seen_changes_ == changes_ && draft == seen_draft_ && seen_today_ == today_;
    if (!same) {
        units_ = units;
        seen_changes_ = changes_;
        seen_draft_ = draft;
        seen_today_ = today_;
        work_out(units);
        settled_ = false;
    }
    if (!same) know();
    if (!settled_ && at_rest) {
        weigh();
        settled_ = true;
        know();
    }
    if (!wants_weighing_) return;
    weigher_.want(key_, reports_, own_->history.scenario().drawing, also_);
    if (findings() == nullptr || besides_) return;
    besides_ = *made_of_.at(key_);
    know();
}

void MySaw::work_out(base::Units units) {
    const saws::Date date = date_of_draft();
    set_up_ = saws::set_up_of(sled(), date);
    standing_ = draft.corrects ? saws::standing_before(sled(), *draft.corrects) : saws::standing_of(sled(), date);
    strip_ = strip_of(draft, units);
    if (!strip_.span) strip_.span = saws::known_span(sled(), date);
    const saws::Entry* newest = saws::newest_test(sled());
    if (newest != nullptr) {
        const saws::Strip& before = std::get<saws::StripTest>(newest->what).strip;
        if (!strip_.fell) strip_.fell = draft.fell = seen_draft_.fell = before.fell;
    }
    tests_ = 0;
    for (const saws::Entry* e : saws::in_effect(sled())) tests_ += std::holds_alternative<saws::StripTest>(e->what);
    answer_now();
    ask(false);
    as_if_ = sled();
    draft_entry_.reset();
    // What looks like a slip is used for nothing until it is said to be meant.
    if (of_draft_ && answer_->shim && questions_.empty()) {
        if (auto more = saws::added(sled(), test_of_draft(), date, today_, draft.corrects)) {
            as_if_ = std::move(*more);
            draft_entry_ = as_if_.entries.back().number;
        }
    }
    curve_ = saws::curve_of(as_if_, units);
    own_.reset();
    reports_.clear();
    wants_weighing_ = false;
    besides_.reset();
}

void MySaw::answer_now() {
    of_draft_ = !draft.untouched();
    answer_.reset();
    if (of_draft_) answer_ = saws::answer_of(strip_, set_up_, standing_);
    else if (!shimmed_since_test()) answer_ = saws::newest_answer(sled());
}

bool MySaw::look_first() const { return answer_ && saws::look_at_shims_first(*answer_, in_log()); }

bool MySaw::asks_for_shim() const {
    return answer_ && answer_->shim && answer_->shim->tells_end() && questions_.empty() && !look_first() &&
           !in_log().contradicted && answer_->test.verdict->state != diagnose::State::pass;
}

bool MySaw::shimmed_since_test() const { return saws::worked_on_since_test(sled()) != nullptr; }

void MySaw::ask(bool all_of_it) {
    questions_.clear();
    if (!of_draft_) return;
    questions_ =
        all_of_it ? saws::slips_in(sled(), saws::What(test_of_draft()), date_of_draft(), today_, units_, draft.corrects)
                  : saws::slips_in(sled(), strip_, date_of_draft(), units_, draft.corrects);
    std::erase_if(questions_, [&](const saws::Question& q) {
        return std::find(meant_.begin(), meant_.end(), q.says) != meant_.end();
    });
}

bool MySaw::may_write_strip() {
    if (draft_entry_) ask(true), know();
    return questions_.empty();
}

void MySaw::weigh() {
    own_ = saws::history_of(as_if_);
    reports_ = session::holding(own_->history.seen());
    wants_weighing_ = !reports_.empty();
    key_ = scenario::readings_text(own_->history.scenario(), reports_);
    auto [made, fresh] = made_of_.try_emplace(key_, nullptr);
    if (fresh) made->second = std::make_shared<saws::Besides>();
    also_ = [into = made->second, own = *own_, log = as_if_, today = today_](const session::Findings& found) {
        *into = saws::besides_of(found, own, log, today);
    };
}

const session::Findings* MySaw::findings() const {
    const Weigher::Found* found = wants_weighing_ ? weigher_.found() : nullptr;
    return found != nullptr && *found ? &**found : nullptr;
}

std::optional<session::FenceVerdict> MySaw::fence_verdict() const { return fence_; }

void MySaw::know() {
    fence_ = own_ ? saws::fence_verdict(own_->history.seen()) : std::nullopt;
    in_log_ = {};
    if (!questions_.empty()) return;
    in_log_ = {fence_, saws::shims_told(as_if_, units_), besides_ && besides_->of_the_fence};
}

std::optional<session::Findings> MySaw::found_again() const {
    if (!own_) return std::nullopt;
    auto found = saws::weigh(own_->history.seen());
    return found ? std::optional(std::move(*found)) : std::nullopt;
}

Result<scenario::Scenario> MySaw::one_like_it() {
    // No clock: the same on the same day, another at each press.
    const auto day = static_cast<std::uint64_t>(std::chrono::sys_days(today_).time_since_epoch().count());
    constexpr std::uint64_t most_a_day = 1000;
    // The hypotheses behind the findings are not kept: weighed once more.
    const auto found = reports_.empty() ? std::nullopt : found_again();
    return saws::like_mine(as_if_, found ? &*found : nullptr, day * most_a_day + sled().entries.size() + ++practised_);
}

void MySaw::is_meant(const saws::Question& question) {
    meant_.push_back(question.says);
    seen_changes_ = 0;  // worked out anew, with it
}

std::string MySaw::meant_text(const saws::Question& q) const {
    if (!q.meant) return "";
    const std::string text = field_text(*q.meant, q.meant->inches ? base::Units::imperial : base::Units::metric);
    if (q.meant->inches == (units_ == base::Units::imperial)) return text;
    return text + (q.meant->inches ? " in" : " mm");
}

/// Where this field is typed; of an end, its first reading.
std::string& MySaw::text_of(saws::Field field) {
    const auto first = [](std::array<std::string, most_repeats>& texts) -> std::string& {
        for (std::string& one : texts) {
            if (!one.empty()) return one;
        }
        return texts.front();
    };
    switch (field) {
        case saws::Field::fence_end: return first(draft.fence_end);
        case saws::Field::far_end: return first(draft.far_end);
        case saws::Field::span:
            // Known from before, it stands in the field without being typed.
            if (draft.span.empty() && strip_.span) draft.span = field_text(*strip_.span, units_);
            return draft.span;
        default: return draft.between;
    }
}

void MySaw::take(const saws::Question& question) {
    const saws::Question q = question;  // of a list that is about to be made anew
    if (q.ends_exchanged) return std::swap(draft.fence_end, draft.far_end);
    if (q.exchanged_with) return std::swap(text_of(q.field), text_of(*q.exchanged_with));
    if (!q.meant) return;
    const std::string text = meant_text(q);
    const auto into = [&](std::array<std::string, most_repeats>& texts) {
        std::size_t place = 0;
        for (std::string& one : texts) {
            const auto typed = length_in_field(one, units_);
            if (typed && *typed && place++ == q.index) one = text;
        }
    };
    switch (q.field) {
        case saws::Field::fence_end: return into(draft.fence_end);
        case saws::Field::far_end: return into(draft.far_end);
        case saws::Field::between: draft.between = text; return;
        case saws::Field::span: draft.span = text; return;
        default: return;
    }
}

// ---- in words ----

namespace {

MyNow nothing_typed(const MySaw& my, base::Units units) {
    MyNow now;
    now.button = "How to cut a strip (Ctrl N)";
    now.todo = MyTodo::how_to_cut;
    if (my.tests() == 0) {
        now.heading = "How thick, behind which end?";
        now.why =
            "Cut a strip with five cuts, read its two ends with a caliper, and type them beside the picture, in any "
            "order. The answer stands here while you type.";
        return now;
    }
    if (const auto again = saws::cut_again(my.sled(), units, my.today())) {
        now.heading = again->heading;
        now.why = again->why;
    }
    return now;
}

void choose_button(MyNow& now, const MySaw& my) {
    const saws::Answer& a = *my.answer();
    if (!a.cannot_be.empty() || !a.missing.empty()) return;
    const bool pass = a.test.verdict->state == diagnose::State::pass;
    now.good = pass;
    if (my.draft.corrects) {
        // What was put in since stands in the log already.
        now.todo = MyTodo::write;
        now.button = "Write the correction (Ctrl N)";
        return;
    }
    // Whoever adds to a shim that did nothing, or to readings that nothing explains, adds to what is not understood.
    const bool unexplained = my.besides() && !my.besides()->contradicts.empty();
    if (pass || !a.shim->tells_end() || unexplained || saws::look_at_shims_first(a, my.in_log())) {
        const auto fence = my.fence_verdict();
        const bool proved = pass && fence && fence->verdict.state == diagnose::State::pass;
        now.todo = my.of_draft() ? MyTodo::write : proved ? MyTodo::print : MyTodo::how_to_cut;
        now.button = my.of_draft() ? "Write it down (Ctrl N)"
                     : proved      ? "Print the page (Ctrl N)"
                                   : "How to cut a strip (Ctrl N)";
        return;
    }
    const bool from_drawer = a.drawer_typed && a.test.proposal && a.test.proposal->best.at != shim::At::none;
    now.todo = from_drawer ? MyTodo::it_is_in : MyTodo::what_is_in;
    now.button = "It is in: cut and prove (Ctrl N)";
}

}  // namespace

MyNow MySaw::now() const {
    if (!answer_) return nothing_typed(*this, units_);
    MyNow now;
    const saws::InLog known = in_log();
    const auto& verdict = known.fence;
    const saws::AnswerWords words = saws::words_of(*answer_, units_, known);
    now.heading = words.heading;
    now.give_or_take = words.give_or_take;
    now.why = words.why;
    now.square = words.square;
    now.stack = words.stack;
    now.which_end = words.which_end;
    if (known.shims) now.proof = known.shims->sentence;
    now.look_first = saws::look_at_shims_first(*answer_, known);
    // Of a single test it says no more than the thickness and how much the next may differ.
    const bool says_more = verdict && (verdict->tests > 1 || verdict->verdict.state == diagnose::State::pass);
    if (says_more && answer_->shim) {
        if (!now.proof.empty()) now.proof += " ";
        now.proof += saws::verdict_words(*verdict, units_);
    }
    choose_button(now, *this);
    if (questions_.empty()) return now;
    now.todo = MyTodo::answer_first;
    return now;
}

}  // namespace offsquare::gui
