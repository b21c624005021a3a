// The front hall: which of the two doors was meant, the command line or the window.
#include <csignal>
#include <exception>
#include <iostream>
#include <string>

#include "cli/run.h"

#if defined(OFFSQUARE_HAS_WINDOW) && __has_include("gui/window.h")
#include "gui/window.h"
#define OFFSQUARE_OPENS_WINDOW 1
#endif

namespace {

int no_window(const std::string& why) {
    std::cerr << "offsquare: " << offsquare::cli::no_window_sentence(why) << "\n";
    return static_cast<int>(offsquare::base::Grade::no_input);
}

#ifdef OFFSQUARE_OPENS_WINDOW
int open_window(const offsquare::cli::WindowWish& wish) {
    try {
        return offsquare::gui::run_window({wish.file, wish.screenshot, wish.mrad}, no_window);
    } catch (const std::exception& e) {
        std::cerr << "offsquare: this is a fault of offsquare, not yours: " << e.what() << "\n";
        return static_cast<int>(offsquare::base::Grade::our_fault);
    }
}
#else
int open_window(const offsquare::cli::WindowWish&) { return no_window("this program was built without it"); }
#endif

}  // namespace

int main(int argc, char** argv) {
    std::signal(SIGPIPE, SIG_IGN);  // a reader that goes away shows as a failed write, which is quiet
    if (const auto wish = offsquare::cli::window_wish(argc, argv)) return open_window(*wish);
    return offsquare::cli::run(argc, argv, std::cout, std::cerr, std::cin);
}
