#include "gui/pages/paint.h"

#include <cmath>
#include <vector>

namespace offsquare::gui {
namespace {

using base::Vec2;
using Points = std::vector<ImVec2>;

float f(double x) { return static_cast<float>(x); }

/// One picture on its way to one draw list.
class Painter {
public:
    Painter(const Kit& kit, ImDrawList& list, const picture::Fit& fit, ImVec2 corner, Record* record)
        : kit_(kit), list_(list), fit_(fit), corner_(corner), record_(record) {}

    void operator()(const picture::Polygon& s) const {
        if (s.corner > 0.0 && s.points.size() == 4) return rounded(s);
        const Points points = on_screen(s.points);
        if (s.fill != Role::none) fill(points, kit_.colour(s.fill, f(s.fill_alpha)));
        if (s.line == Role::none) return;
        Points closed = points;
        closed.push_back(points.front());
        stroke(closed, kit_.colour(s.line), s.stroke, s.dashed);
    }

    void operator()(const picture::Line& s) const {
        const Points points = on_screen(s.points);
        const ImU32 colour = kit_.colour(s.line, f(s.alpha));
        stroke(points, colour, s.stroke, s.dashed);
        if (!s.arrow || points.size() < 2) return;
        const Vec2 tip = fit_.page(s.points.back());
        const Vec2 along = base::unit(tip - fit_.page(s.points[s.points.size() - 2]));
        const Vec2 back = tip - picture::metrics::arrow_length * along;
        const Vec2 out = picture::metrics::arrow_half * base::left_of(along);
        stroke({screen(back + out), screen(tip), screen(back - out)}, colour, s.stroke, false);
    }

    void operator()(const picture::Dot& s) const {
        const ImVec2 at = screen(fit_.page(s.at));
        if (s.fill != Role::none) list_.AddCircleFilled(at, px(s.radius), kit_.colour(s.fill), 24);
        if (s.line != Role::none) list_.AddCircle(at, px(s.radius), kit_.colour(s.line), 24, px(1.6));
        if (s.centre) list_.AddCircleFilled(at, px(2.0), kit_.colour(s.line), 12);
    }

    void operator()(const picture::Words& s) const {
        const float align = s.align == picture::Align::left ? 0.0F : s.align == picture::Align::middle ? 0.5F : 1.0F;
        const ImVec2 at = screen(fit_.page(s.at) + s.nudge);
        const float width = text_at(kit_, list_, at, s.text, s.size, s.weight, kit_.colour(s.role), align);
        if (record_ == nullptr) return;
        const float left = at.x - align * width;
        record_->add({.kind = Kind::text,
                      .label = s.text,
                      .value = {},
                      .lo = {left, at.y - 0.75F * px(s.size)},
                      .hi = {left + width, at.y + 0.22F * px(s.size)},
                      .em = px(s.size)});
    }

    void operator()(const picture::Tag& s) const {
        const ImVec2 at = screen(fit_.page(s.at));
        ImVec2 near = screen(fit_.page(s.at) + s.nudge);
        if (s.leader) list_.AddLine(at, near, kit_.colour(s.role), px(1.3));
        if (s.nudge.x < 0.0) near.x -= tag_size(kit_, s.word, s.figure).x;
        tag(const_cast<Kit&>(kit_), list_, near, s.word, s.figure, s.role, s.fill);
    }

private:
    float px(double design) const { return f(design) * kit_.theme.scale; }
    ImVec2 screen(Vec2 page) const { return {corner_.x + px(page.x), corner_.y + px(page.y)}; }

    Points on_screen(const std::vector<Vec2>& points) const {
        Points out;
        out.reserve(points.size());
        for (const Vec2& p : points) out.push_back(screen(fit_.page(p)));
        return out;
    }

    void fill(const Points& points, ImU32 colour) const {
        list_.AddConvexPolyFilled(points.data(), static_cast<int>(points.size()), colour);
    }

    void stroke(const Points& points, ImU32 colour, double width, bool dashed) const {
        note_line(width);
        if (!dashed)
            return list_.AddPolyline(points.data(), static_cast<int>(points.size()), colour, ImDrawFlags_None,
                                     px(width));
        for (std::size_t i = 0; i + 1 < points.size(); ++i) dashes(points[i], points[i + 1], colour, width);
    }

    void note_line(double width) const {
        if (record_ != nullptr)
            record_->add({.kind = Kind::other,
                          .label = "a line of the picture",
                          .value = {},
                          .lo = corner_,
                          .hi = corner_,
                          .stroke = px(width)});
    }

    void dashes(ImVec2 a, ImVec2 b, ImU32 colour, double width) const {
        const float length = std::hypot(b.x - a.x, b.y - a.y);
        const float on = px(picture::metrics::dash_on);
        const float period = on + px(picture::metrics::dash_off);
        if (length <= 0.0F) return;
        for (float t = 0.0F; t < length; t += period) {
            const float e = std::min(length, t + on);
            list_.AddLine({a.x + (b.x - a.x) * t / length, a.y + (b.y - a.y) * t / length},
                          {a.x + (b.x - a.x) * e / length, a.y + (b.y - a.y) * e / length}, colour, px(width));
        }
    }

    void rounded(const picture::Polygon& s) const {
        const ImVec2 a = screen(fit_.page(s.points[0]));
        const ImVec2 b = screen(fit_.page(s.points[2]));
        const ImVec2 lo{std::min(a.x, b.x), std::min(a.y, b.y)};
        const ImVec2 hi{std::max(a.x, b.x), std::max(a.y, b.y)};
        const float radius = px(s.corner * fit_.scale);
        if (s.fill != Role::none) list_.AddRectFilled(lo, hi, kit_.colour(s.fill, f(s.fill_alpha)), radius);
        if (s.line == Role::none) return;
        list_.AddRect(lo, hi, kit_.colour(s.line), radius, ImDrawFlags_None, px(s.stroke));
        note_line(s.stroke);
    }

    const Kit& kit_;
    ImDrawList& list_;
    picture::Fit fit_;
    ImVec2 corner_;
    Record* record_;
};

}  // namespace

void paint(const Kit& kit, ImDrawList& list, const picture::Picture& picture, const picture::Fit& fit, ImVec2 corner,
           Record* record) {
    const Painter painter(kit, list, fit, corner, record);
    for (const picture::Item& item : picture.items) std::visit(painter, item.shape);
}

}  // namespace offsquare::gui
