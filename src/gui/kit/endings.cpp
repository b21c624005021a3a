#include "gui/kit/endings.h"

#include <array>
#include <atomic>
#include <csignal>

namespace offsquare::gui {
namespace {

constexpr std::array<int, 3> end_signals{SIGTERM, SIGINT, SIGHUP};

// A handler is handed nothing but the number, so what it notes is the process's. Any thread may be the one that is
// interrupted.
std::atomic<int> noted{0};
static_assert(std::atomic<int>::is_always_lock_free, "else it may not be written in a signal handler");

void note_end(int signal) { noted.store(signal); }

void handle(int signal) {
    struct sigaction before {};
    if (::sigaction(signal, nullptr, &before) != 0 || before.sa_handler == SIG_IGN) return;
    struct sigaction wanted {};
    wanted.sa_handler = &note_end;
    wanted.sa_flags = static_cast<int>(SA_RESTART | SA_RESETHAND);
    ::sigaction(signal, &wanted, nullptr);
}

void stop_handling(int signal) {
    struct sigaction now {};
    if (::sigaction(signal, nullptr, &now) == 0 && now.sa_handler == &note_end) std::signal(signal, SIG_DFL);
}

}  // namespace

EndSignals::EndSignals() {
    noted.store(0);
    for (const int signal : end_signals) handle(signal);
}

EndSignals::~EndSignals() {
    for (const int signal : end_signals) stop_handling(signal);
    noted.store(0);
}

int EndSignals::came() { return noted.load(); }

void end_by(int signal) {
    if (signal == 0) return;
    std::signal(signal, SIG_DFL);
    std::raise(signal);
}

}  // namespace offsquare::gui
