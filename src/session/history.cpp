#include "session/log.h"

namespace offsquare::session {

void History::add(Action action) {
    done_.push_back(std::move(action));
    undone_.clear();
}

void History::undo() {
    if (done_.empty()) return;
    undone_.push_back(std::move(done_.back()));
    done_.pop_back();
}

void History::redo() {
    if (undone_.empty()) return;
    done_.push_back(std::move(undone_.back()));
    undone_.pop_back();
}

void History::clear() {
    done_.clear();
    undone_.clear();
}

void History::load(std::vector<Action> actions) {
    done_ = std::move(actions);
    undone_.clear();
}

}  // namespace offsquare::session
