#include "gui/state/weigher.h"

#include <chrono>
#include <functional>
#include <stop_token>
#include <utility>

#include "base/heap.h"
#include "diagnose/advise.h"
#include "session/model.h"

namespace offsquare::gui {
namespace {

constexpr std::size_t most_known = 64;  ///< sets of readings that are remembered

/// Nobody waits for the answer any more.
struct LetGo {};

template <class Answer, class... Asked>
void stop_by(const std::stop_token& stop, std::function<Answer(Asked...)>& asks) {
    if (!asks) return;
    asks = [stop, answer = std::move(asks)](Asked... asked) {
        if (stop.stop_requested()) throw LetGo();
        return answer(asked...);
    };
}

/// Weighing asks the model of the saw all the time, and seldom anything else: there it can be stopped, and nowhere
/// inside diagnose/ does anyone need to know.
session::Assumptions stopped_by(const std::stop_token& stop, session::Assumptions assumed) {
    stop_by(stop, assumed.model.reads);
    stop_by(stop, assumed.model.means);
    stop_by(stop, assumed.model.chance);
    stop_by(stop, assumed.model.goes);
    stop_by(stop, assumed.model.felt);
    return assumed;
}

/// Of the thousands of hypotheses behind it only those that advice is asked of.
Weigher::Found shortened(Weigher::Found found) {
    if (found) found->diagnosis.mixture = diagnose::head_for_advice(found->diagnosis.mixture);
    return found;
}

}  // namespace

void Weigher::start(const std::string& key, std::vector<measure::CheckReport> reports, shop::Drawing drawing,
                    Also also) {
    std::packaged_task<Found(std::stop_token)> task([reports = std::move(reports), drawing = std::move(drawing),
                                                     also = std::move(also)](const std::stop_token& stop) {
        auto whole = session::find_out(reports, drawing, stopped_by(stop, session::usual_assumptions(drawing)));
        if (whole && also) also(*whole);
        auto found = shortened(std::move(whole));
        base::give_back_freed_memory();  // weighing takes a hundred MB
        return found;
    });
    Work work;
    work.key = key;
    work.found = task.get_future();
    work.thread = std::jthread(std::move(task));
    work_ = std::move(work);
}

void Weigher::pick_up() {
    if (!work_ || work_->found.wait_for(std::chrono::seconds(0)) != std::future_status::ready) return;
    if (known_.size() >= most_known) known_.clear();
    known_.insert_or_assign(work_->key, work_->found.get());
    work_.reset();
}

void Weigher::want(const std::string& key, const std::vector<measure::CheckReport>& reports,
                   const shop::Drawing& drawing, const Also& also) {
    pick_up();
    if (key != wanted_) {
        wanted_ = key;
        reports_ = reports;
        drawing_ = drawing;
        also_ = also;
    }
    if (!work_ && found() == nullptr) start(wanted_, reports_, drawing_, also_);
}

const Weigher::Found* Weigher::found() const {
    const auto it = known_.find(wanted_);
    return it == known_.end() ? nullptr : &it->second;
}

void Weigher::wait() {
    while (weighing()) {
        if (!work_) start(wanted_, reports_, drawing_, also_);
        work_->found.wait();
        pick_up();
    }
}

}  // namespace offsquare::gui
