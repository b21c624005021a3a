#include "picture/diagnosis_view.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "picture/parts.h"
#include "picture/text_size.h"
#include "session/hunt_words.h"

namespace offsquare::picture {
namespace {

using diagnose::Belief;
using session::Standing;
using shop::Fault;

constexpr double letters = 13.5;
constexpr double small = 12.5;
constexpr double least_row = 24.0;  ///< a row can be pressed
constexpr double usual_row = 26.0;
constexpr double most_row = 38.0;
constexpr double head = 28.0;
constexpr double line_step = 19.0;
constexpr std::size_t most_brackets = 4;

/// Columns in points. The names are the longest thing, then the sizes.
struct Columns {
    double width;
    double mark = 38.0;
    double name = 54.0;
    double bar = 256.0;
    double bar_end() const { return bar + 0.11 * width; }
    double word() const { return bar_end() + 10.0; }
    double scale() const { return word() + 118.0; }
    double scale_end() const { return width - 186.0; }
    double size() const { return width - 174.0; }
};

/// How a standing looks: never by its colour alone.
struct Look {
    Role role;
    Role bar;
};
Look look_of(Standing s) {
    switch (s) {
        case Standing::supported: return {Role::wrong, Role::wrong};
        case Standing::open: return {Role::text, Role::steel};
        case Standing::ruled_out: return {Role::good, Role::hairline};
        case Standing::untouched: break;
    }
    return {Role::quiet, Role::none};
}

std::string word_of(const Belief& b) {
    const double in_100 = 100.0 * b.probability;
    switch (session::standing_of(b)) {
        case Standing::supported: return in_100 > 99.5 ? "there" : fmt::format("there, {:.0f} in 100", in_100);
        case Standing::open: return fmt::format("open, {:.0f} in 100", in_100);
        case Standing::ruled_out: return "ruled out";
        case Standing::untouched: break;
    }
    return "not looked at";
}

int rank(Standing s) {
    return s == Standing::supported ? 0 : s == Standing::open ? 1 : s == Standing::ruled_out ? 2 : 3;
}

std::vector<Belief> sorted(const session::Findings& findings) {
    std::vector<Belief> out(findings.diagnosis.beliefs.begin(), findings.diagnosis.beliefs.end());
    std::stable_sort(out.begin(), out.end(), [](const Belief& a, const Belief& b) {
        const int ra = rank(session::standing_of(a));
        const int rb = rank(session::standing_of(b));
        return ra != rb ? ra < rb : ra < 2 && a.probability > b.probability;
    });
    return out;
}

/// A mark of its own shape for each standing, around a middle.
void add_mark(Standing s, Vec2 at, Picture& out) {
    const Role role = look_of(s).role;
    const auto p = [&](double x, double y) { return Vec2{at.x + x, at.y + y}; };
    switch (s) {
        case Standing::supported:
            add(out, Polygon{{p(0, 7.5), p(8, -6.5), p(-8, -6.5)}, role, role, 1.2});
            add(out, Line{{p(0, 3), p(0, -1.5)}, Role::card, 2.0});
            add(out, Line{{p(0, -3.4), p(0, -5)}, Role::card, 2.0});
            return;
        case Standing::open: return add(out, Dot{at, 6.0, Role::card, role, true});
        case Standing::ruled_out: return add(out, Line{{p(-6, 0), p(-1.5, -5), p(7, 6)}, role, 2.2});
        case Standing::untouched: return add(out, Line{{p(-5, 0), p(5, 0)}, role, 1.6});
    }
}

void add_bar(const Belief& b, Vec2 left, double width, double row, Picture& out) {
    const double half = 0.19 * row;
    const Standing s = session::standing_of(b);
    const bool looked = s != Standing::untouched;
    add(out, Polygon{rectangle(left.x, left.y - half, left.x + width, left.y + half),
                     looked ? Role::ground : Role::none, Role::hairline, 1.0, !looked});
    const double filled = width * std::clamp(b.probability, 0.0, 1.0);
    if (looked && filled > 0.5)
        add(out, Polygon{rectangle(left.x, left.y - half, left.x + filled, left.y + half), look_of(s).bar, Role::none});
}

std::string short_size(Fault fault, double size, base::Units units) {
    return shop::info(fault).unit == shop::FaultUnit::mm ? base::show_small(size, units)
                                                         : base::show_angle_short(size, units);
}

/// How large it is, in few letters.
std::string size_words(const Belief& b, base::Units units) {
    const double lo = b.coverage95.lo;
    const double hi = b.coverage95.hi;
    const Standing s = session::standing_of(b);
    if (s == Standing::untouched) return "";
    const double far = std::max(std::abs(lo), std::abs(hi));
    if (s == Standing::ruled_out) return "at most " + short_size(b.fault, far, units);
    if (lo < 0.0 && hi > 0.0) return "up to " + short_size(b.fault, far, units);
    const double middle = 0.5 * (lo + hi);
    const double half = 0.5 * (hi - lo);
    if (shop::info(b.fault).unit == shop::FaultUnit::rad) return base::show_angle_within(middle, half, units);
    return fmt::format("{} ± {}", base::show_small(middle, units), base::show_small(half, units));
}

/// The size with its interval on a scale of this fault: zero, the band that is too small to matter, the interval with a
/// dot at its mean.
void add_scale(const Belief& b, double x0, double x1, double y, double row, Picture& out) {
    if (session::standing_of(b) == Standing::untouched) return;
    const shop::FaultInfo& f = shop::info(b.fault);
    const bool one_sided = f.min >= 0.0;
    const double reach = 1.12 * std::max({3.0 * f.teachable, std::abs(b.coverage95.lo), std::abs(b.coverage95.hi)});
    const double zero = one_sided ? x0 + 8.0 : 0.5 * (x0 + x1);
    const double per_unit = (x1 - zero) / reach;
    const auto x = [&](double size) { return std::clamp(zero + per_unit * size, x0, x1); };
    const double half = 0.34 * row;
    add(out, Polygon{rectangle(one_sided ? zero : x(-f.teachable), y - half, x(f.teachable), y + half), Role::good_fill,
                     Role::none});
    add(out, Line{{{x0, y}, {x1, y}}, Role::hairline, 1.0});
    add(out, Line{{{zero, y - half}, {zero, y + half}}, Role::quiet, 1.2});
    const double lo = x(b.coverage95.lo);
    const double hi = x(b.coverage95.hi);
    const double cap = 0.16 * row;
    add(out, Line{{{lo, y}, {hi, y}}, Role::read, 2.4});
    for (const double end : {lo, hi}) add(out, Line{{{end, y - cap}, {end, y + cap}}, Role::read, 1.6});
    add(out, Dot{{x(b.size), y}, 3.4, Role::read, Role::read});
}

Words words(Vec2 at, std::string text, Role role, double size, Weight weight = Weight::regular,
            Align align = Align::left) {
    return {at, {0.0, 0.36 * size}, std::move(text), role, size, weight, align};
}

void add_row(const Belief& b, double y, double row, const Columns& c, base::Units units, Picture& out) {
    const Standing s = session::standing_of(b);
    const Look look = look_of(s);
    const bool loud = s == Standing::supported;
    add_mark(s, {c.mark, y}, out);
    add(out, words({c.name, y}, std::string(session::name_of(b.fault)),
                   s == Standing::supported || s == Standing::open ? Role::text : Role::quiet, letters,
                   loud ? Weight::semibold : Weight::regular));
    add_bar(b, {c.bar, y}, c.bar_end() - c.bar, row, out);
    add(out, words({c.word(), y}, word_of(b), look.role, small, loud ? Weight::semibold : Weight::regular));
    add_scale(b, c.scale(), c.scale_end(), y, row, out);
    if (const std::string size = size_words(b, units); !size.empty())
        add(out, words({c.size(), y}, size, loud ? Role::read : Role::quiet, small,
                       loud ? Weight::semibold : Weight::regular));
}

void add_head(const Columns& c, double y, Picture& out) {
    const auto name = [&](double x, const char* text) {
        add(out, words({x, y}, text, Role::quiet, 12.0, Weight::medium));
    };
    name(c.name, "what may be wrong");
    name(c.bar, "how likely");
    name(c.scale(), "green: small enough");
    name(c.size(), "size (95 %)");
    add(out, Line{{{0.0, y - 0.5 * head + 1.0}, {c.width, y - 0.5 * head + 1.0}}, Role::hairline, 1.0});
}

/// A bracket at the left edge joins two rows; each has a lane of its own.
void add_brackets(const session::Findings& findings, const std::vector<DiagnosisRow>& rows, Picture& out) {
    const auto middle = [&](Fault fault) {
        const auto it = std::find_if(rows.begin(), rows.end(), [&](const DiagnosisRow& r) { return r.fault == fault; });
        return 0.5 * (it->lo.y + it->hi.y);
    };
    std::size_t lane = 0;
    for (const diagnose::LookAlikes& pair : findings.diagnosis.unseparated) {
        if (lane == most_brackets) return;
        const double x = 22.0 - 6.0 * static_cast<double>(lane);
        // A little aside of the middles, so that brackets that end at one row do not run into each other.
        const double off = 2.5 * static_cast<double>(lane) - 3.0;
        add(out, Line{{{28.0, middle(pair.first) + off},
                       {x, middle(pair.first) + off},
                       {x, middle(pair.second) + off},
                       {28.0, middle(pair.second) + off}},
                      Role::text,
                      1.4});
        ++lane;
    }
}

/// A sentence below the rows, in as many lines as it needs; `y` moves down.
void add_sentence(const std::string& text, Role role, Weight weight, double width, double& y, Picture& out) {
    for (const std::string& line : broken(text, letters, weight, width - 54.0)) {
        y -= line_step;
        add(out, Words{{54.0, y}, {0.0, 0.0}, line, role, letters, weight, Align::left});
    }
    y -= 6.0;
}

void add_pairs(const session::Findings& findings, double width, double& y, Picture& out) {
    const auto& pairs = findings.diagnosis.unseparated;
    const std::size_t shown = std::min(pairs.size(), most_brackets);
    for (std::size_t i = 0; i < shown; ++i) {
        const double at = y - line_step + 5.0;
        add(out, Line{{{44.0, at + 5.0}, {38.0, at + 5.0}, {38.0, at - 5.0}, {44.0, at - 5.0}}, Role::text, 1.4});
        add_sentence(session::sentence_of(pairs[i]), Role::text, Weight::regular, width, y, out);
    }
    if (pairs.size() > shown)
        add_sentence(fmt::format("And {} more pairs that these readings cannot tell apart.", pairs.size() - shown),
                     Role::quiet, Weight::regular, width, y, out);
}

void add_contradictions(const session::Findings& findings, double width, double& y, Picture& out) {
    for (const diagnose::Contradiction& c : findings.diagnosis.contradictions) {
        add_mark(Standing::supported, {38.0, y - line_step + 5.0}, out);
        add_sentence("Contradiction: " + session::sentence_of(c), Role::wrong, Weight::medium, width, y, out);
    }
}

void add_next(const session::NextWords& next, double width, double& y, Picture& out) {
    y -= 5.0;
    add(out, Line{{{0.0, y - 2.0}, {width, y - 2.0}}, Role::hairline, 1.0});
    y -= 6.0;
    if (next.why.empty()) return add_sentence(next.what, Role::text, Weight::semibold, width, y, out);
    add(out, Line{{{30.0, y - line_step + 5.0}, {46.0, y - line_step + 5.0}}, Role::text, 1.8, false, true});
    add_sentence(next.what, Role::text, Weight::semibold, width, y, out);
    y += 6.0;
    add_sentence(next.why, Role::quiet, Weight::regular, width, y, out);
}

/// What stands below the rows. Returns how far down it goes.
double add_sentences(const session::Findings& findings, const session::NextWords& next, double width, double y,
                     Picture& out) {
    y -= 8.0;
    add_pairs(findings, width, y, out);
    add_contradictions(findings, width, y, out);
    add_next(next.what.empty() ? session::next_words(findings) : next, width, y, out);
    return y;
}

std::string title_of(const std::vector<Belief>& beliefs) {
    std::string there;
    int open = 0;
    for (const Belief& b : beliefs) {
        if (session::standing_of(b) == Standing::supported)
            there += (there.empty() ? "" : ", ") + std::string(session::name_of(b.fault));
        open += session::standing_of(b) == Standing::open ? 1 : 0;
    }
    return fmt::format("Diagnosis. There: {}. Still open: {}.", there.empty() ? "nothing for sure" : there, open);
}

/// Returns its height.
double add_title(const DiagnosisPage& page, Picture& out) {
    if (page.title.empty()) return 0.0;
    double y = 0.0;
    for (const std::string& line : broken(page.title, 17.0, Weight::semibold, page.width)) {
        y -= 22.0;
        add(out, Words{{0.0, y}, {}, line, Role::text, 17.0, Weight::semibold, Align::left});
    }
    return 12.0 - y;
}

double row_height(const session::Findings& findings, const DiagnosisPage& page) {
    if (page.height <= 0.0) return usual_row;
    Picture measured;
    const double below = -add_sentences(findings, page.next, page.width, 0.0, measured);
    const double above = head + add_title(page, measured);
    return std::clamp((page.height - above - below) / static_cast<double>(shop::fault_count), least_row, most_row);
}

}  // namespace

std::vector<std::string> broken(const std::string& text, double size, Weight weight, double width) {
    // The window's letters may be a little wider than Pango's.
    const double room = 0.96 * width;
    std::vector<std::string> lines(1);
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        const std::string longer = lines.back().empty() ? word : lines.back() + " " + word;
        if (!lines.back().empty() && text_width(longer, size, weight) > room) lines.push_back(word);
        else lines.back() = longer;
        at = end + 1;
    }
    return lines;
}

DiagnosisView diagnosis_view(const session::Findings& findings, const DiagnosisPage& page) {
    DiagnosisView view;
    Picture& out = view.picture;
    const Columns columns{page.width};
    const std::vector<Belief> beliefs = sorted(findings);
    const double row = row_height(findings, page);
    double y = -add_title(page, out);
    add_head(columns, y - 0.5 * head, out);
    y -= head;
    for (const Belief& b : beliefs) {
        view.rows.push_back({b.fault, {0.0, y - row}, {page.width, y}});
        add_row(b, y - 0.5 * row, row, columns, page.units, out);
        y -= row;
    }
    add_brackets(findings, view.rows, out);
    y = add_sentences(findings, page.next, page.width, y, out);
    out.lo = {0.0, std::min(y - 2.0, -page.height)};
    out.hi = {page.width, 0.0};
    out.title = title_of(beliefs);
    return view;
}

}  // namespace offsquare::picture
