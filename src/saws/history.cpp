#include "saws/history.h"

#include <algorithm>

#include <fmt/format.h>

#include "measure/instruments.h"
#include "saws/strip_shim.h"
#include "scenario/readings.h"
#include "session/hunt_words.h"
#include "session/slips.h"

namespace offsquare::saws {
namespace {

using session::Action;

/// Of repeats, with the instrument of this sled. A coarser reading than the instrument's step counts as coarse as it
/// was typed.
base::Uncertain width_of(const std::vector<base::Typed>& repeats, const SetUp& set_up) {
    shop::Caliper caliper = set_up.common_caliper ? session::common_caliper() : set_up.scenario.drawing.caliper;
    std::vector<measure::Reading> readings;
    double coarsest = 0.0;
    for (const base::Typed& w : repeats) {
        readings.push_back({0.0, w.value, 0.0});
        coarsest = std::max(coarsest, w.step);
    }
    caliper.step_mm = std::max(caliper.step_mm, coarsest);
    base::Uncertain mean = measure::mean_of_repeats(caliper, readings, measure::Precision::real);
    if (repeats.size() == 1) mean.value = repeats.front().value;
    return mean;
}

/// A stack of pieces as a session has it, turned into another by as few moves as a heap allows.
class Heap {
public:
    Heap(shim::At at, const std::vector<shop::Shim>& drawer) : at_(at), drawer_(drawer) {}

    void become(const std::vector<Piece>& pieces, std::vector<int>& left, std::vector<Action>& to) {
        const auto same = static_cast<std::size_t>(
            std::mismatch(stack_.begin(), stack_.end(), pieces.begin(), pieces.end()).first - stack_.begin());
        while (stack_.size() > same) {
            if (rows_.back() >= 0) ++left[static_cast<std::size_t>(rows_.back())];
            stack_.pop_back();
            rows_.pop_back();
            to.emplace_back(session::TakeShim{at_});
        }
        for (std::size_t i = same; i < pieces.size(); ++i) put(pieces[i], left, to);
    }

private:
    void put(const Piece& piece, std::vector<int>& left, std::vector<Action>& to) {
        int row = -1;
        for (std::size_t i = 0; i < drawer_.size() && row < 0; ++i) {
            const bool alike = drawer_[i].name == piece.name && drawer_[i].thickness_mm == piece.thickness_mm;
            if (alike && left[i] > 0) row = static_cast<int>(i);
        }
        if (row >= 0) {
            --left[static_cast<std::size_t>(row)];
            to.emplace_back(session::PutShim{at_, row});
        } else {
            to.emplace_back(session::PutThickness{at_, piece.thickness_mm});
        }
        stack_.push_back(piece);
        rows_.push_back(row);
    }

    shim::At at_;
    const std::vector<shop::Shim>& drawer_;
    std::vector<Piece> stack_;
    std::vector<int> rows_;
};

/// Walks along the log.
class Projection {
public:
    Projection(const Sled& sled, const SetUp& set_up)
        : sled_(sled),
          set_up_(set_up),
          own_{session::History(set_up.scenario, 0, measure::Precision::real, true), {}, {}},
          left_heap_(shim::At::left, set_up_.scenario.drawing.drawer),
          right_heap_(shim::At::right, set_up_.scenario.drawing.drawer) {
        for (const shop::Shim& s : set_up_.scenario.drawing.drawer) in_drawer_.push_back(s.count);
    }

    OwnHistory walk() && {
        for (const Entry* e : in_effect(sled_)) {
            std::vector<Action> actions;
            day_ = e->date;
            if (std::holds_alternative<StripTest>(e->what) && !is_strip(*e)) {
                own_.left_out.push_back(fmt::format("entry {} ({}): it cannot be the strip of a five-cut test",
                                                    e->number, kind_of(e->what)));
                continue;
            }
            std::visit([&](const auto& what) { take(what, actions); }, e->what);
            if (!actions.empty()) act(*e, actions);
        }
        return std::move(own_);
    }

private:
    session::FenceStood stood() const { return {total_mm(now_.left), total_mm(now_.right), clamped_again_}; }

    void take(const StripTest& test, std::vector<Action>& to) {
        // With the caliper of its day: a better one that was bought since makes no old reading surer.
        session::TypeReadings typed =
            typed_readings(test.strip, set_up_of(sled_, day_), set_up_.scenario.drawing.board.kept);
        typed.stood = stood();
        to.emplace_back(std::move(typed));
        read_ = true;
    }
    void take(const CheckMade& made, std::vector<Action>& to) {
        to.emplace_back(session::TypeReadings{made.check, made.readings, stood()});
        read_ = true;
    }
    void take(const ShimsMoved& moved, std::vector<Action>& to) {
        now_ = moved_on(std::move(now_), moved);
        if (read_) ++clamped_again_;
        left_heap_.become(now_.left, in_drawer_, to);
        right_heap_.become(now_.right, in_drawer_, to);
    }
    void take(const FenceMoved&, std::vector<Action>& to) {
        if (read_) ++clamped_again_;
        to.emplace_back(session::Repair{shop::Fault::fence_skew, true});
    }
    void take(const PutRight& done, std::vector<Action>& to) {
        if (!done.fault) return;
        if (*done.fault == shop::Fault::fence_skew && read_) ++clamped_again_;
        to.emplace_back(session::Repair{*done.fault, true});
    }
    void take(const Remark&, std::vector<Action>&) {}
    void take(const SizesTyped&, std::vector<Action>&) {}
    void take(const DrawerTyped&, std::vector<Action>&) {}
    void take(const Withdrawn&, std::vector<Action>&) {}

    void act(const Entry& e, const std::vector<Action>& actions) {
        if (const auto done = own_.history.act(actions); !done)
            own_.left_out.push_back(fmt::format("entry {} ({}): {}", e.number, kind_of(e.what), done.error().message));
        own_.entry_of.resize(own_.history.seen().events.size(), e.number);
    }

    const Sled& sled_;
    const SetUp& set_up_;
    OwnHistory own_;
    Standing now_;
    std::vector<int> in_drawer_;
    Heap left_heap_, right_heap_;
    bool read_ = false;
    int clamped_again_ = 0;
    Date day_{};  ///< of the entry that is being taken
};

}  // namespace

bool is_strip(const Entry& entry) {
    const auto* test = std::get_if<StripTest>(&entry.what);
    // Whichever caliper it was: only the widths count.
    return test != nullptr && too_steep(strip_readings(test->strip, SetUp())).empty();
}

diagnose::StripReadings strip_readings(const Strip& s, const SetUp& set_up) {
    return {width_of(s.fence_end, set_up),
            width_of(s.far_end, set_up),
            {s.between->value, base::u_of_step(s.between->step)},
            s.fell.value_or(shop::Side::right)};
}

session::TypeReadings typed_readings(const Strip& strip, const SetUp& set_up, shop::Side kept) {
    diagnose::StripReadings r = strip_readings(strip, set_up);
    const bool kept_left = kept == shop::Side::left;
    if ((r.side == shop::Side::right) != kept_left) std::swap(r.fence_end_mm, r.far_end_mm);
    constexpr auto mm = shop::FaultUnit::mm;
    return {strip.brushed ? measure::Check::brushed : measure::Check::five_cut,
            {{"fence_end", mm, r.fence_end_mm.value, r.fence_end_mm.u},
             {"far_end", mm, r.far_end_mm.value, r.far_end_mm.u},
             {"length", mm, r.between_mm.value, r.between_mm.u}},
            std::nullopt};
}

OwnHistory history_of(const Sled& sled) {
    const SetUp set_up = set_up_of(sled);
    return Projection(sled, set_up).walk();
}

int entry_of(const OwnHistory& own, const session::Note& note) { return own.entry_of.at(note.event - 1); }

base::Result<session::Findings> weigh(const session::Seen& seen) {
    const std::vector<measure::CheckReport> reports = session::holding(seen);
    if (reports.empty()) return base::fail(base::Grade::bad_data, "nothing that still holds was read on this sled yet");
    return session::find_out(reports, seen.drawing);
}

std::string readings_file(const OwnHistory& own) {
    const std::vector<measure::CheckReport> reports = session::holding(own.history.seen());
    return reports.empty() ? std::string() : scenario::readings_text(own.history.scenario(), reports);
}

}  // namespace offsquare::saws
