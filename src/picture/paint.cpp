#include <cmath>

#include "picture/canvas.h"
#include "picture/text_size.h"

namespace offsquare::picture {
namespace {

/// One picture on its way to one canvas.
class Painter {
public:
    Painter(const Fit& fit, Scheme scheme, Canvas& canvas) : fit_(fit), scheme_(scheme), canvas_(canvas) {}

    void operator()(const Polygon& shape) const {
        const Ink ink{colour(shape.fill, shape.fill_alpha), colour(shape.line), shape.stroke, shape.dashed};
        if (shape.corner > 0.0 && shape.points.size() == 4) return rounded_rectangle(shape, ink);
        canvas_.path(on_page(shape.points), true, ink);
    }

    void operator()(const Line& shape) const {
        const Ink ink{{0, 0, 0, 0}, colour(shape.line, shape.alpha), shape.stroke, shape.dashed};
        const std::vector<Vec2> points = on_page(shape.points);
        canvas_.path(points, false, ink);
        if (shape.arrow && points.size() >= 2) arrow_head(points[points.size() - 2], points.back(), ink);
    }

    void operator()(const Dot& shape) const {
        canvas_.circle(fit_.page(shape.at), shape.radius, {colour(shape.fill), colour(shape.line), 1.6, false});
        if (shape.centre) canvas_.circle(fit_.page(shape.at), 2.0, {colour(shape.line), {0, 0, 0, 0}, 0.0, false});
    }

    void operator()(const Words& shape) const {
        canvas_.words(fit_.page(shape.at) + shape.nudge, shape.text, shape.size, shape.weight, shape.align,
                      colour(shape.role));
    }

    void operator()(const Tag& shape) const {
        const Rgba line = colour(shape.role);
        const Box box = box_of(shape, fit_);
        if (shape.leader)
            canvas_.path({fit_.page(shape.at), fit_.page(shape.at) + shape.nudge}, false,
                         {{0, 0, 0, 0}, line, 1.3, false});
        canvas_.rounded({box.left, box.top}, {box.width(), box.height()}, 0.5 * metrics::tag_height,
                        {colour(shape.fill), line, 1.0, false});
        const double baseline = 0.5 * (box.top + box.bottom) + metrics::tag_baseline;
        const bool figure = !shape.figure.empty();
        canvas_.words({box.left + metrics::tag_pad, baseline}, shape.word, metrics::tag_word,
                      figure ? Weight::medium : Weight::semibold, Align::left, line);
        if (figure)
            canvas_.words({box.right - metrics::tag_pad, baseline}, shape.figure, metrics::tag_figure, Weight::semibold,
                          Align::right, line);
    }

private:
    Rgba colour(Role role, double alpha = 1.0) const {
        Rgba c = colour_of(role, scheme_);
        c.a = static_cast<std::uint8_t>(std::lround(static_cast<double>(c.a) * alpha));
        return c;
    }

    std::vector<Vec2> on_page(const std::vector<Vec2>& points) const {
        std::vector<Vec2> out;
        out.reserve(points.size());
        for (const Vec2& p : points) out.push_back(fit_.page(p));
        return out;
    }

    void rounded_rectangle(const Polygon& shape, const Ink& ink) const {
        const Vec2 a = fit_.page(shape.points[0]);
        const Vec2 b = fit_.page(shape.points[2]);
        canvas_.rounded({std::min(a.x, b.x), std::min(a.y, b.y)}, {std::fabs(b.x - a.x), std::fabs(b.y - a.y)},
                        shape.corner * fit_.scale, ink);
    }

    void arrow_head(Vec2 from, Vec2 tip, const Ink& ink) const {
        const Vec2 along = base::unit(tip - from);
        const Vec2 back = tip - metrics::arrow_length * along;
        const Vec2 out = metrics::arrow_half * base::left_of(along);
        canvas_.path({back + out, tip, back - out}, false, {ink.fill, ink.line, ink.stroke, false});
    }

    Fit fit_;
    Scheme scheme_;
    Canvas& canvas_;
};

}  // namespace

void paint(const Picture& picture, double width, double height, Scheme scheme, Canvas& canvas) {
    canvas.path({{0.0, 0.0}, {width, 0.0}, {width, height}, {0.0, height}}, true,
                {colour_of(Role::card, scheme), {0, 0, 0, 0}, 0.0, false});
    const Painter painter(fit(picture, width, height), scheme, canvas);
    for (const Item& item : picture.items) std::visit(painter, item.shape);
}

}  // namespace offsquare::picture
