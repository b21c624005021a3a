// Weighing the readings may take seconds: it is done on a thread of its own, once for each set of readings, and looked
// up afterwards. No ImGui here. The result is that of the call itself; the thread only decides when it is there.
#pragma once

#include <functional>
#include <future>
#include <map>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "session/findings.h"

namespace offsquare::gui {

class Weigher {
public:
    using Found = base::Result<session::Findings>;

    /// What else is made of the findings, on the same thread, while the hypotheses behind them are there.
    using Also = std::function<void(const session::Findings&)>;

    /// Asks for these readings; `key` names them. `also` belongs to the key. Call in every frame: what was asked before
    /// and is still being weighed is let go when it is ready.
    void want(const std::string& key, const std::vector<measure::CheckReport>& reports, const shop::Drawing& drawing,
              const Also& also = {});
    /// Of what was wanted last; nullptr while it is being weighed.
    const Found* found() const;
    bool weighing() const { return !wanted_.empty() && found() == nullptr; }
    /// Waits until what was wanted last is there, for tests and pictures.
    void wait();

private:
    /// One set of readings being weighed. When it goes, the thread is told to stop and joined.
    struct Work {
        std::string key;
        std::future<Found> found;
        std::jthread thread;
    };
    void start(const std::string& key, std::vector<measure::CheckReport> reports, shop::Drawing drawing, Also also);
    void pick_up();

    std::string wanted_;
    std::map<std::string, Found> known_;
    std::optional<Work> work_;
    std::vector<measure::CheckReport> reports_;  ///< of what is wanted
    shop::Drawing drawing_;
    Also also_;
};

}  // namespace offsquare::gui
