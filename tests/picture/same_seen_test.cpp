// Two saws of which the same was seen: every picture of them has the same bytes.
#include "same_seen.h"

#include <doctest/doctest.h>

#include "picture/class_view.h"
#include "picture/drag.h"
#include "picture/push_view.h"
#include "picture/sessions.h"
#include "picture/writers.h"

using namespace offsquare;
using picture::Handle;
using picture::ViewOptions;
using same_seen::difference;
using same_seen::Pair;
using same_seen::text;
using session::Seen;

namespace {

std::string as_svg(const picture::Picture& p) { return *picture::render(p, {}, "svg"); }

/// The options at every cut, while it runs and when it is made.
std::vector<ViewOptions> views(const Seen& seen) {
    std::vector<ViewOptions> out;
    for (int cut = 0; cut <= 5; ++cut) {
        for (const double travel : {0.0, 0.83, 1.0}) {
            ViewOptions o;
            o.exaggeration = picture::fitting_exaggeration(seen);
            o.cut = cut;
            o.travel = travel;
            o.grips = true;
            o.fence_station_mm = 12.0;
            o.far_station_mm = 0.0;
            out.push_back(o);
        }
    }
    return out;
}

std::string drawn(const picture::Chart& chart) {
    std::string out = text(chart.tolerance_rad) + text(chart.known) + chart.total + chart.over;
    for (const auto& bar : chart.bars) out += text(bar.cut) + text(bar.corners) + text(bar.sum_rad) + bar.label;
    return out;
}

std::string dragged(const Seen& seen, const ViewOptions& options) {
    std::string out;
    for (const Handle handle :
         {Handle::board, Handle::fence, Handle::left_shim_point, Handle::right_shim_point, Handle::caliper_fence_end,
          Handle::caliper_far_end, Handle::sled, Handle::board_corner, Handle::fence_end, Handle::blade_end}) {
        const auto drag = picture::drag_of(seen, options, handle, {7.0, -4.0});
        if (!drag) continue;
        out += drag->what + drag->value + text(drag->in_from_end_mm);
        if (drag->action) out += session::form_of(*drag->action).dump();
    }
    return out;
}

/// All that is drawn of it; the sled under a hand as it would lie on any saw.
std::string drawn(const Seen& seen) {
    const picture::ClassPage page{1216.0, 560.0, 33.6, 3.6};
    std::string out = text(picture::fitting_exaggeration(seen));
    for (const ViewOptions& o : views(seen)) {
        out += as_svg(picture::table_view(seen, o)) + drawn(picture::chart(seen, o)) + dragged(seen, o);
        if (o.travel < 1.0) continue;
        out += as_svg(picture::sheet(seen, o)) + as_svg(picture::class_table(seen, o, page)) +
               as_svg(picture::class_chart(seen, o, page)) + as_svg(picture::class_verdict(seen, o, page));
    }
    const picture::PushShown shown{{}, {0.1, 0.2}, 40.0, true};
    return out + as_svg(picture::push_view(seen, shown, {}));
}

}  // namespace

TEST_CASE("two saws of which the same was seen: every picture has the same bytes") {
    for (const Pair& pair : same_seen::pairs()) {
        CAPTURE(pair.name);
        const std::string one = drawn(pair.one.seen());
        CHECK(one.size() > 100000);
        CHECK(difference(one, drawn(pair.other.seen())) == "");
    }
}

TEST_CASE("who asks for the truth is shown two different saws") {
    int differ = 0;
    for (const Pair& pair : same_seen::pairs()) {
        ViewOptions one, other;
        one.revealed = sessions::revealed(pair.one);
        other.revealed = sessions::revealed(pair.other);
        differ +=
            as_svg(picture::table_view(pair.one.seen(), one)) != as_svg(picture::table_view(pair.other.seen(), other));
    }
    CHECK(differ >= 3);  // those whose fences differ; other errors are not drawn from above
}
