#include "picture/saw_page.h"

#include <algorithm>

#include <fmt/format.h>

#include "picture/curve_view.h"
#include "picture/diagnosis_view.h"
#include "picture/parts.h"
#include "picture/text_size.h"
#include "picture/writers.h"
#include "saws/answer.h"
#include "session/story.h"

namespace offsquare::picture {
namespace {

// A4 in points, with the writer's own margin of 8 taken off.
constexpr double page_width = 595.0 - 16.0;
constexpr double page_height = 842.0 - 16.0;
constexpr double margin = 28.0;
constexpr double inner = page_width - 2.0 * margin;

class Sheet {
public:
    Sheet(const saws::Sled& sled, const session::Findings* findings, base::Units units, saws::Date today)
        : sled_(sled), findings_(findings), units_(units), today_(today) {
        out_.lo = {0.0, -page_height};
        out_.hi = {page_width, 0.0};
    }

    Picture whole() && {
        add(out_, Polygon{rectangle(0.0, -page_height, page_width, 0.0), Role::card, Role::none, 0.0});
        head();
        answer();
        behind();
        curve();
        const double cautions_at = cautions_height();
        what_was_done(cautions_at + next_height());
        next();
        cautions();
        return std::move(out_);
    }

private:
    void words(double x, const std::string& text, Role role, double size, Weight weight, Align align = Align::left) {
        add(out_, Words{{x, y_}, {0.0, 0.0}, text, role, size, weight, align});
    }
    void lines(const std::string& text, Role role, double size, Weight weight, double indent = 0.0) {
        if (text.empty()) return;
        for (const std::string& line : broken(text, size, weight, inner - indent)) {
            y_ -= 1.35 * size;
            words(margin + indent, line, role, size, weight);
        }
    }
    void rule() {
        y_ -= 9.0;
        add(out_, Line{{{margin, y_}, {page_width - margin, y_}}, Role::hairline, 0.8});
        y_ -= 3.0;
    }
    void title(const std::string& text, const std::string& at_right = "") {
        y_ -= 14.0;
        words(margin, text, Role::text, 11.5, Weight::semibold);
        if (!at_right.empty()) words(page_width - margin, at_right, Role::quiet, 9.5, Weight::regular, Align::right);
        y_ -= 3.0;
    }

    void head() {
        y_ = -margin - 14.0;
        words(margin, sled_.name, Role::text, 22.0, Weight::semibold);
        const std::string printed =
            fmt::format("{}{}", sled_.saw.empty() ? "" : sled_.saw + " · ", saws::in_words(today_));
        words(page_width - margin, printed, Role::quiet, 10.0, Weight::regular, Align::right);
        rule();
    }

    void answer() {
        const auto answer = saws::newest_answer(sled_);
        if (!answer) return lines("No strip was read yet.", Role::quiet, 11.0, Weight::regular);
        const saws::InLog known = saws::in_log(sled_, saws::history_of(sled_).history.seen(), units_);
        saws::AnswerWords w = saws::words_of(*answer, units_, known);
        std::string all_tests;
        if (const auto again = saws::cut_again(sled_, units_, today_)) {
            w = {};
            w.heading = again->heading;
            w.why = again->why;
        } else if (known.fence) {
            all_tests = saws::verdict_words(*known.fence, units_);
        }
        const saws::Entry* test = saws::newest_test(sled_);
        y_ -= 12.0;
        words(margin, fmt::format("By the strip of {}", saws::in_words(test->date, today_)), Role::quiet, 10.0,
              Weight::regular);
        y_ -= 4.0;
        lines(w.heading, Role::text, 17.0, Weight::semibold);
        y_ -= 2.0;
        if (known.shims && all_tests != "") lines(known.shims->sentence, Role::text, 10.5, Weight::regular);
        lines(w.give_or_take, Role::quiet, 10.5, Weight::regular);
        lines(w.why, Role::quiet, 10.5, Weight::regular);
        lines(w.square, Role::text, 10.5, Weight::regular);
        lines(all_tests, Role::text, 10.5, Weight::regular);
        if (!w.stack.empty()) lines("From the drawer: " + w.stack, Role::text, 10.5, Weight::regular);
        rule();
    }

    std::string pieces(const std::vector<saws::Piece>& all) const {
        if (all.empty()) return "nothing";
        std::string text;
        for (const saws::Piece& p : all)
            text +=
                fmt::format("{}{} {}", text.empty() ? "" : " + ", p.name, base::show_reading(p.thickness_mm, units_));
        return text;
    }

    /// The fence from above with what stands behind its ends.
    void behind() {
        const saws::Standing s = saws::standing_of(sled_);
        title(fmt::format("Behind the fence now{}", s.since ? ", since " + saws::in_words(*s.since, today_) : ""));
        y_ -= 22.0;
        const double left = margin + 20.0;
        const double right = page_width - margin - 20.0;
        add(out_, Polygon{rectangle(left, y_ - 8.0, right, y_ + 8.0), Role::wood, Role::grain, 1.0});
        add(out_, Words{{0.5 * page_width, y_ - 20.0},
                        {0.0, 0.0},
                        "the fence from above; you stand on this side",
                        Role::quiet,
                        8.5,
                        Weight::regular,
                        Align::middle});
        for (const auto& [x, list, align] :
             {std::tuple{left + 30.0, &s.left, Align::left}, {right - 30.0, &s.right, Align::right}}) {
            if (!list->empty())
                add(out_, Polygon{rectangle(x - 12.0, y_ - 12.0, x + 12.0, y_ - 8.0), Role::steel, Role::text, 0.8});
            add(out_, Dot{{x, y_}, 4.0, Role::card, Role::text, true});
            const double edge = align == Align::left ? left : right;
            const std::string total = list->empty() ? "nothing" : base::show_small(saws::total_mm(*list), units_);
            add(out_, Words{{edge, y_ - 26.0},
                            {0.0, 0.0},
                            fmt::format("{} end: {}", align == Align::left ? "left" : "right", total),
                            Role::text,
                            12.0,
                            Weight::semibold,
                            align});
            if (!list->empty()) {
                const auto rows = broken(pieces(*list), 9.5, Weight::regular, 0.5 * inner - 10.0);
                for (std::size_t i = 0; i < std::min<std::size_t>(rows.size(), 2); ++i)
                    add(out_, Words{{edge, y_ - 39.0 - 11.0 * static_cast<double>(i)},
                                    {0.0, 0.0},
                                    rows[i],
                                    Role::quiet,
                                    9.5,
                                    Weight::regular,
                                    align});
            }
        }
        y_ -= 52.0;
        rule();
    }

    void curve() {
        const saws::Curve c = saws::curve_of(sled_, units_);
        if (c.points.empty()) return;
        title("How square it has been");
        words(page_width - margin,
              fmt::format("each test in {}, with its give or take, 95 times in 100", base::show_angle_unit(units_)),
              Role::quiet, 9.5, Weight::regular, Align::right);
        // With much to list the curve is lower: what was done stands beside the saw, too.
        const double height = sled_.entries.size() > 4 ? 124.0 : 152.0;
        Picture view = curve_view(c, {inner, height, units_, today_, std::nullopt, 9.5});
        y_ -= 6.0;
        for (Item& item : view.items) {
            move(item.shape, {margin, y_});
            out_.items.push_back(std::move(item));
        }
        y_ -= height;
        rule();
    }

    static void move(Shape& shape, Vec2 by) {
        std::visit(
            [&](auto& s) {
                if constexpr (requires { s.points; }) {
                    for (Vec2& p : s.points) p = p + by;
                } else {
                    s.at = s.at + by;
                }
            },
            shape);
    }

    /// The newest entries that count, as many as there is room for.
    void what_was_done(double below) {
        constexpr double step = 12.5;
        std::vector<const saws::Entry*> all = saws::in_effect(sled_);
        std::erase_if(all, [](const saws::Entry* e) {
            return std::holds_alternative<saws::SizesTyped>(e->what) ||
                   std::holds_alternative<saws::DrawerTyped>(e->what);
        });
        const double room = page_height + y_ - below - 24.0;
        auto most = static_cast<std::size_t>(std::max(0.0, room / step));
        if (all.size() > most && most > 0) --most;  // the line that says so
        const std::size_t first = all.size() > most ? all.size() - most : 0;
        if (first > 0) y_ -= step;
        if (first > 0)
            words(page_width - margin, fmt::format("the newest {} of {}", all.size() - first, all.size()), Role::quiet,
                  9.5, Weight::regular, Align::right);
        const saws::Curve c = saws::curve_of(sled_, units_);
        for (std::size_t i = first; i < all.size(); ++i) {
            const saws::Entry& e = *all[i];
            y_ -= step;
            words(margin, saws::in_words(e.date, today_), Role::quiet, 9.5, Weight::regular);
            words(margin + 100.0, saws::kind_of(e.what), Role::text, 9.5, Weight::semibold);
            const auto point = std::find_if(c.points.begin(), c.points.end(),
                                            [&](const saws::CurvePoint& p) { return p.entry == e.number; });
            if (point != c.points.end()) {
                result(*point);
                continue;
            }
            const double x =
                margin + 100.0 + std::max(70.0, text_width(saws::kind_of(e.what), 9.5, Weight::semibold) + 10.0);
            const auto rows = broken(saws::line_of(e.what, units_), 9.5, Weight::regular, page_width - margin - x);
            words(x,
                  rows.size() > 1 ? rows.front() + " …"
                  : rows.empty()  ? ""
                                  : rows.front(),
                  Role::text, 9.5, Weight::regular);
        }
        rule();
    }

    void result(const saws::CurvePoint& p) {
        const bool good = p.state == diagnose::State::pass;
        const bool bad = p.state == diagnose::State::fail;
        words(margin + 170.0,
              fmt::format("off by {}",
                          base::show_angle_within(p.skew_rad.value, 0.5 * (p.coverage95.hi - p.coverage95.lo), units_)),
              Role::text, 9.5, Weight::regular);
        words(page_width - margin,
              good  ? "square"
              : bad ? "not square"
                    : "not clear",
              good  ? Role::good
              : bad ? Role::wrong
                    : Role::quiet,
              9.5, Weight::semibold, Align::right);
    }

    std::string next_words() const {
        if (findings_ == nullptr) return "";
        const saws::OwnHistory own = saws::history_of(sled_);
        const saws::Besides b = saws::besides_of(*findings_, own, sled_, today_);
        std::string text = b.agree ? "The readings agree with each other. " : "";
        for (const std::string& odd : b.contradicts) text += odd + " ";
        return text + b.says;
    }
    double next_height() const {
        const std::string text = next_words();
        if (text.empty()) return 0.0;
        return 30.0 + 13.5 * static_cast<double>(broken(text, 10.0, Weight::regular, inner).size());
    }
    void next() {
        const std::string text = next_words();
        if (text.empty()) return;
        title("Next");
        lines(text, Role::text, 10.0, Weight::regular);
        rule();
    }

    static constexpr double caution_size = 8.6;
    double cautions_height() const {
        std::size_t rows = 0;
        for (const std::string& line : session::cautions().lines)
            rows += broken(line, caution_size, Weight::regular, inner - 8.0).size();
        return 26.0 + 0.5 * margin + 1.32 * caution_size * static_cast<double>(rows);
    }
    void cautions() {
        y_ = -page_height + cautions_height() - 6.0;
        words(margin, session::cautions().title, Role::text, 10.5, Weight::semibold);
        y_ -= 3.0;
        for (const std::string& line : session::cautions().lines) {
            bool first = true;
            for (const std::string& row : broken(line, caution_size, Weight::regular, inner - 8.0)) {
                y_ -= 1.32 * caution_size;
                if (first) words(margin, "·", Role::text, caution_size, Weight::semibold);
                words(margin + 8.0, row, Role::text, caution_size, Weight::regular);
                first = false;
            }
        }
    }

    const saws::Sled& sled_;
    const session::Findings* findings_;
    base::Units units_;
    saws::Date today_;
    double y_ = 0.0;
    Picture out_;
};

}  // namespace

Picture saw_page(const saws::Sled& sled, const session::Findings* findings, base::Units units, saws::Date today) {
    return Sheet(sled, findings, units, today).whole();
}

base::Result<void> write_saw_page(const saws::Sled& sled, const session::Findings* findings, base::Units units,
                                  saws::Date today, const std::string& path) {
    return write(saw_page(sled, findings, units, today), {page_width + 16.0, page_height + 16.0, Scheme::light, 1.0},
                 path);
}

}  // namespace offsquare::picture
