#include "gui/pages/job.h"
#include "session/reveal.h"

namespace offsquare::gui {
namespace {

void readings_so_far(Kit& kit, const Bench& bench, const session::Test& test) {
    const auto show = [&](const char* what, const std::vector<measure::Reading>& readings) {
        std::string text;
        for (const measure::Reading& r : readings)
            text += (text.empty() ? "" : ", ") + base::show_reading(r.value_mm, bench.view.units);
        key_value(kit, what, text.empty() ? "not read yet" : text, text.empty() ? Role::quiet : Role::read);
    };
    show("fence end", test.fence_end);
    show("far end", test.far_end);
}

void lines(Kit& kit, const Bench& bench, const session::Test& test) {
    const session::Working w = session::working(test, bench.view.units);
    for (const session::WorkingLine& l : w.lines) working_row(kit, l.what, l.how, l.result, 76.0F);
    rule(kit);
    heading(kit, w.conclusion);
    quiet(kit, w.because);
}

void true_skew(Kit& kit, const Bench& bench) {
    rule(kit);
    key_value(kit, "true skew now", base::show_angle(bench.revealed()->skew_now_rad, bench.view.units), Role::wrong);
}

}  // namespace

void draw_working(Kit& kit, const Bench& bench, const Area& area) {
    CardOptions card = card_in(area);
    card.scrolls = true;
    if (card_begin(kit, "Working", card)) {
        const session::Test* test = bench.last_test();
        if (test == nullptr || bench.cutting()) {
            quiet(kit,
                  "The working appears here with your own numbers: the difference between the strip's two ends, shared "
                  "by four corners, over the "
                  "strip's length, times the distance between the shim points.");
        } else if (test->worked_out) {
            lines(kit, bench, *test);
        } else {
            readings_so_far(kit, bench, *test);
            quiet(
                kit,
                test->skew_rad
                    ? "Both ends are read. The next step works out what they mean."
                    : "Before you read: which end will be wider, and which end of the fence would need the shim then?");
        }
        if (bench.view.reveal) true_skew(kit, bench);
    }
    card_end(kit);
}

}  // namespace offsquare::gui
