// A person's own saw in the window: which sled is open, the strip that is being typed, what follows from it, and what
// is written into the log. No ImGui here and no arithmetic of the trade: that is in saws/.
#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "gui/state/my_strip.h"
#include "gui/state/weigher.h"
#include "saws/answer.h"
#include "saws/curve.h"
#include "saws/slips.h"
#include "saws/store.h"

namespace offsquare::gui {

/// What the strong button of the answer does.
enum class MyTodo {
    type_on,       ///< there is nothing to press yet
    how_to_cut,    ///< nothing is typed: how a strip is cut
    write,         ///< the strip goes into the log, and nothing is shimmed
    it_is_in,      ///< the strip and the pieces from the drawer go into the log; the proof is cut next
    what_is_in,    ///< the same, but the person says what was put in: no drawer is known
    print,         ///< it is proved and written down: a page to hang beside the saw
    answer_first,  ///< something looks like a slip: it is asked about
};

/// What the answer says, largest first.
struct MyNow {
    std::string heading;
    std::string give_or_take;
    std::string why;
    std::string square;
    std::string which_end;
    std::string stack;
    std::string proof;   ///< what a shim did, and what all tests of the fence say; empty: nothing to say
    std::string button;  ///< empty: none
    MyTodo todo = MyTodo::type_on;
    bool good = false;        ///< within what counts as square
    bool look_first = false;  ///< a shim did not do what it should: the proof says what to look at
};

class MySaw {
public:
    bool open = false;
    StripDraft draft;

    // ---- what the window hands in ----
    /// The folder of the user's data, and the day. Without a folder nothing is kept, and the page says so.
    void keep_in(const std::filesystem::path& data, base::Units units = {});
    void today_is(saws::Date today) { today_ = today; }
    saws::Date today() const { return today_; }
    /// Once a frame while it is open. `at_rest`: the hand has typed nothing for a moment: what takes long may begin.
    void follow(base::Units units, bool at_rest);

    /// What is half typed, of each sled: kept between starts by the window.
    std::map<std::string, StripDraft> drafts() const;
    void drafts_were(std::map<std::string, StripDraft> drafts);

    // ---- which sled ----
    const saws::Sled& sled() const { return held_ ? held_->sled : loose_; }
    std::vector<saws::Listed> listed() const { return store_.list(); }
    /// Why nothing of this can be kept; empty: it can.
    std::string why_not_kept() const;
    bool has_file() const { return held_.has_value(); }
    base::Result<void> switch_to(const std::string& name);
    /// As it stands in its file; nothing is opened by it. Empty: it cannot be read.
    std::optional<saws::Sled> look_at(const std::string& name) const;
    base::Result<void> make(const std::string& name, const std::string& saw);
    base::Result<void> rename(const std::string& name, const std::string& saw);
    base::Result<void> remove();  ///< whoever asks the person stands before this

    // ---- the log ----
    base::Result<void> write(saws::What what, std::optional<saws::Date> date = std::nullopt,
                             std::optional<int> corrects = std::nullopt);
    /// The strip goes into the log as it stands; with `moved`, these pieces after it. Where the newest strip is written
    /// already, the pieces alone.
    base::Result<void> write_strip(const std::optional<saws::ShimsMoved>& moved);
    /// This is typed in the place of the entry that it corrects; the strip that was being typed waits.
    void correct(StripDraft in_its_place);
    void give_up_correction();  ///< and it is back
    saws::Date date_of_draft() const { return draft.date.value_or(today_); }
    std::size_t changes() const { return changes_; }  ///< grows with every entry and every other sled
    /// How many tests the log has; the one that is typed is the next.
    std::size_t tests() const { return tests_; }

    // ---- what follows ----
    const saws::SetUp& set_up() const { return set_up_; }
    const saws::Standing& standing() const { return standing_; }
    const saws::Strip& strip() const { return strip_; }
    /// Of the strip that is being typed; else of the newest one in the log, where nothing was done since.
    const std::optional<saws::Answer>& answer() const { return answer_; }
    bool of_draft() const { return of_draft_; }
    /// A shim did not do what it should, and the strip is not square.
    bool look_first() const;
    /// It asks for a shim, and nothing is to be looked at or to be answered first.
    bool asks_for_shim() const;
    MyNow now() const;
    /// The log with the strip that is being typed, once it is whole: what everything but the instant answer is about.
    const saws::Sled& as_if() const { return as_if_; }
    bool is_draft(int entry) const { return draft_entry_ && *draft_entry_ == entry; }
    const saws::Curve& curve() const { return curve_; }
    /// Everything that holds, weighed; nullptr while it is being weighed, and where there is nothing.
    const session::Findings* findings() const;
    const std::optional<saws::Besides>& besides() const { return besides_; }
    const session::Seen* seen() const { return own_ ? &own_->history.seen() : nullptr; }
    std::optional<session::FenceVerdict> fence_verdict() const;
    /// Of what is not asked about. Worked out when something changes, and not for each picture.
    const saws::InLog& in_log() const { return in_log_; }
    bool weighing() const { return open && wants_weighing_ && weigher_.weighing(); }
    bool restless() const { return open && (!settled_ || weighing()); }  ///< another frame is needed soon
    void wait() { weigher_.wait(); }

    /// Weighed once more, with the hypotheses behind: tenths of a second. Empty: nothing to weigh.
    std::optional<session::Findings> found_again() const;
    /// A saw to practise on that is like this one; another at each call.
    base::Result<scenario::Scenario> one_like_it();

    // ---- slips ----
    /// What looks like a slip and was not said to be meant; also of a number that is half typed. Until it is answered
    /// nothing is made of the strip.
    const saws::Questions& questions() const { return questions_; }
    /// Before the strip is written: also what takes as long as weighing. False: there is something to ask first.
    bool may_write_strip();
    void is_meant(const saws::Question& question);                 ///< as it stands
    void take(const saws::Question& question);                     ///< what would fit in its place
    std::string meant_text(const saws::Question& question) const;  ///< that, as a field has it

private:
    void work_out(base::Units units);
    void answer_now();
    void ask(bool all_of_it);
    void weigh();
    void know();
    void changed();
    std::string& text_of(saws::Field field);
    StripDraft& put_by() { return put_by_[sled().name]; }
    StripDraft draft_in_its_units() const;
    saws::StripTest test_of_draft() const { return {strip_}; }
    bool shimmed_since_test() const;

    saws::Store store_{std::filesystem::path()};
    /// Of the sleds that are not open. A bare number is in the units of its sled.
    std::map<std::string, StripDraft> waiting_;
    std::map<std::string, StripDraft> put_by_;  ///< while an entry of this sled is corrected
    bool has_folder_ = false;
    std::optional<saws::Held> held_;
    saws::Sled loose_;  ///< not kept: there is no file of it yet, or nowhere to keep one
    std::string trouble_;
    saws::Date today_{};
    base::Units units_;
    std::size_t changes_ = 1;
    std::uint64_t practised_ = 0;

    // what was worked out last, and from what
    std::size_t seen_changes_ = 0;
    StripDraft seen_draft_;
    saws::Date seen_today_{};
    bool settled_ = false;  ///< weighing was begun for what stands there
    std::size_t tests_ = 0;
    saws::SetUp set_up_;
    saws::Standing standing_;
    saws::Strip strip_;
    std::optional<saws::Answer> answer_;
    bool of_draft_ = false;
    saws::Sled as_if_;
    std::optional<int> draft_entry_;
    saws::Curve curve_;
    std::optional<saws::OwnHistory> own_;
    std::vector<measure::CheckReport> reports_;
    std::string key_;
    bool wants_weighing_ = false;
    Weigher weigher_;
    /// Made beside, of each set of readings: by the name of the set.
    std::map<std::string, std::shared_ptr<saws::Besides>> made_of_;
    Weigher::Also also_;
    std::optional<saws::Besides> besides_;
    saws::Questions questions_;
    std::vector<std::string> meant_;
    std::optional<session::FenceVerdict> fence_;
    saws::InLog in_log_;
};

}  // namespace offsquare::gui
