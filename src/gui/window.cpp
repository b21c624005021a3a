#include "gui/window.h"

#include <chrono>
#include <cstdio>
#include <ctime>

#include "gui/keep/drafts.h"
#include "gui/keep/files.h"
#include "gui/kit/bridge.h"
#include "gui/kit/endings.h"
#include "gui/pages/places.h"
#include "gui/tell.h"

namespace offsquare::gui {
namespace {

constexpr const char* built_in = "built-in";

using NoWindow = std::function<int(const std::string& why)>;

/// Of the clock on the wall.
saws::Date today() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    return std::chrono::year(local.tm_year + 1900) / (local.tm_mon + 1) / local.tm_mday;
}

int report(const base::Problem& problem) {
    std::fprintf(stderr, "offsquare: %s\n", problem.message.c_str());
    return static_cast<int>(problem.grade);
}

int picture_and_leave(Shell& shell, Bench& bench, PageState& state, const std::string& path) {
    bench.view.playing = false;
    const auto draw = [&] { draw_page(shell.kit(), bench, state); };
    for (int i = 0; i < 8; ++i) {
        shell.wake();
        shell.turn(draw, [] { return true; });
    }
    const auto done = shell.screenshot(path);
    return done ? 0 : report(done.error());
}

/// What the window begins with: the first screen, a case, or what a file holds, which is on the bench already.
void begin(Bench& bench, PageState& state, const std::string& file) {
    state.start.open = state.start.was_open = file.empty();
    state.start.stands = !file.empty();
    if (const lesson::Case* chosen = lesson::find_case(file)) open_case(bench, state, *chosen);
}

/// A picture for a page looks the same for everybody: nothing that is kept between starts shows in it.
int window_for_a_picture(Bench& bench, const Wanted& wanted, const NoWindow& no_window) {
    Shell shell(WindowOptions{});
    if (const auto open = shell.open(); !open) return no_window(open.error().message);
    PageState state;
    begin(bench, state, wanted.file);
    return picture_and_leave(shell, bench, state, wanted.screenshot);
}

/// Tells what could not be kept, where the person can see it.
void tell_trouble(Bench& bench, Keep& keep, Unsaved& unsaved, lesson::Results& results) {
    for (const std::string& trouble : {keep.trouble(), unsaved.trouble(), results.trouble()}) {
        if (!trouble.empty()) bench.say(trouble, true);
    }
}

/// The window is going, so it is told where it was started from.
void tell_last(Unsaved& unsaved) {
    const std::string trouble = unsaved.trouble();
    if (!trouble.empty()) std::fprintf(stderr, "offsquare: %s\n", trouble.c_str());
}

/// The display has gone away: what is unsaved is written at once. The exit code.
int keep_without_display(const Bench& bench, Unsaved& unsaved) {
    unsaved.write(bench);
    tell_last(unsaved);
    std::fprintf(stderr, "offsquare: the display has gone away%s\n",
                 unsaved.holds_work() ? "; unsaved work is kept and offered at the next start" : "");
    return static_cast<int>(base::Grade::no_input);
}

int window_for_a_person(Bench& bench, Keep& keep, Unsaved& unsaved, const std::string& file,
                        const NoWindow& no_window) {
    WindowOptions options;
    options.width = keep.window_size().width;
    options.height = keep.window_size().height;
    options.scale = keep.settings().scale;
    options.scheme = keep.settings().scheme;
    options.reduced_motion = keep.settings().reduced_motion;
    Shell shell(options);
    if (const auto open = shell.open(); !open) return no_window(open.error().message);
    PageState state;
    state.window.set_scale = [&](float scale) { shell.set_scale(scale); };
    state.files.keep = &keep;
    state.files.unsaved = &unsaved;
    state.my_saw.saw.today_is(today());
    state.my_saw.saw.keep_in(keep.folders().data, bench.view.units);
    DraftKeep strips(keep.folders().state);
    state.my_saw.saw.drafts_were(strips.found());
    state.start.results = lesson::Results(keep.folders().data);
    begin(bench, state, file);
    Scheme scheme = bench.view.scheme;
    Tell tell;
    const auto draw = [&] {
        state.my_saw.saw.today_is(today());
        draw_page(shell.kit(), bench, state);
        if (scheme != bench.view.scheme) shell.set_scheme(scheme = bench.view.scheme);
    };
    const auto start = std::chrono::steady_clock::now();
    const auto wants_frames = [&] {
        return bench.view.playing || bench.said_for > 0.0 || state.notebook.hunt.weighing() ||
               state.push.pushing.moving() || state.my_saw.saw.restless() ||
               (state.my_saw.saw.open && state.my_saw.moving);
    };
    const DisplayLoss loss([&] { return keep_without_display(bench, unsaved); });
    while (shell.turn(draw, wants_frames)) {
        keep.settings_are(settings_of(bench.view));
        const double now_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        unsaved.tick(bench, now_s);
        strips.follow(state.my_saw.saw.drafts(), now_s);
        tell_trouble(bench, keep, unsaved, state.start.results);
        tell(shell.kit().record, shell.pulse(wants_frames));
        if (state.window.wants_close || EndSignals::came() != 0) shell.close();
    }
    unsaved.write(bench);
    strips.follow(state.my_saw.saw.drafts(), 0.0, true);
    tell_last(unsaved);
    keep.window_is({shell.size().first, shell.size().second});
    return 0;
}

}  // namespace

int run_window(const Wanted& wanted, const NoWindow& no_window) {
    const auto& [file, screenshot, mrad] = wanted;
    Bench bench(scenario::built_in());
    Keep keep(base::folders_of(base::own_environment()));
    if (screenshot.empty()) apply(keep.settings(), bench.view);
    if (mrad) bench.view.units.angles = base::Units::Angles::mrad;
    const bool on_disk = !file.empty() && file != built_in && lesson::find_case(file) == nullptr;
    if (on_disk) {
        const auto said = open_on(bench, file);
        if (!said) return report(said.error());
        bench.say(*said);
    }
    if (!screenshot.empty()) return window_for_a_picture(bench, wanted, no_window);
    if (on_disk) keep.opened(file);
    Unsaved unsaved(keep.folders().state);
    const EndSignals signals;
    const int code = window_for_a_person(bench, keep, unsaved, file, no_window);
    end_by(EndSignals::came());
    return code;
}

}  // namespace offsquare::gui
