// The curve of a sled: no figure stands on a line or on another figure.
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "picture/curve_view.h"
#include "picture/text_size.h"

using namespace offsquare;

namespace {

constexpr saws::Date day = std::chrono::year(2026) / 11 / 29;

/// Tests with these skews [rad], each 0.1 mm in 1 m give or take, and a shim after each but the last, all on one day.
saws::Curve made_curve(const std::vector<double>& skews) {
    saws::Curve curve;
    curve.tolerance_rad = 0.35e-3;
    int entry = 0;
    for (std::size_t i = 0; i < skews.size(); ++i) {
        saws::CurvePoint p;
        p.entry = ++entry;
        p.date = day;
        p.skew_rad = {skews[i], 0.05e-3};
        p.coverage95 = {skews[i] - 0.1e-3, skews[i] + 0.1e-3};
        p.state = std::abs(skews[i]) > curve.tolerance_rad ? diagnose::State::fail : diagnose::State::pass;
        curve.points.push_back(p);
        curve.is_point.push_back(true);
        if (i + 1 == skews.size()) break;
        saws::CurveEvent e;
        e.entry = ++entry;
        e.date = day;
        e.label = "shim";
        curve.events.push_back(e);
        curve.is_point.push_back(false);
    }
    return curve;
}

struct CurveWord {
    std::string text;
    double left, right, top, bottom;
};

std::vector<CurveWord> words_on_curve(const picture::Picture& drawing) {
    std::vector<CurveWord> all;
    for (const picture::Item& shape : drawing.items) {
        const auto* w = std::get_if<picture::Words>(&shape.shape);
        if (w == nullptr) continue;
        const double wide = picture::text_width(w->text, w->size, w->weight);
        const double left = w->align == picture::Align::left    ? w->at.x
                            : w->align == picture::Align::right ? w->at.x - wide
                                                                : w->at.x - 0.5 * wide;
        all.push_back({w->text, left, left + wide, w->at.y + 0.7 * w->size, w->at.y});
    }
    return all;
}

}  // namespace

TEST_CASE(
    "a figure of the curve stands beside no dashed line, and the edges of the band have one figure where they are "
    "near") {
    for (const std::vector<double>& skews : {std::vector<double>{0.5e-3, 0.5e-3},
                                             {0.5e-3, 0.01e-3, 2.45e-3, 0.5e-3},
                                             {8e-3, -0.5e-3, 0.6e-3, 0.5e-3, 0.45e-3}}) {
        const picture::CurvePage page{820.0, 130.0, base::Units::metric, day, std::nullopt};
        const picture::Picture drawing = picture::curve_view(made_curve(skews), page);
        const std::vector<CurveWord> words = words_on_curve(drawing);
        for (const picture::Item& shape : drawing.items) {
            const auto* line = std::get_if<picture::Line>(&shape.shape);
            if (line == nullptr || !line->dashed) continue;
            for (const CurveWord& w : words) {
                if (w.text.find_first_not_of("0123456789.") != std::string::npos) continue;
                const double x = line->points.front().x;
                CHECK_MESSAGE((x <= w.left || x >= w.right), w.text);
            }
        }
        for (std::size_t i = 0; i < words.size(); ++i) {
            for (std::size_t j = 0; j < i; ++j) {
                const CurveWord &a = words[i], &b = words[j];
                const bool apart = a.right <= b.left || b.right <= a.left || a.bottom >= b.top || b.bottom >= a.top;
                CHECK_MESSAGE(apart, a.text << " / " << b.text);
            }
        }
    }
}
