#include "picture/svg_canvas.h"

#include <fmt/format.h>

namespace offsquare::picture {
namespace {

/// Hundredths of a point are finer than any screen; fixed places keep the bytes the same everywhere. Never "-0.00".
std::string number(double value) {
    std::string s = fmt::format("{:.2f}", value);
    while (s.back() == '0') s.pop_back();
    if (s.back() == '.') s.pop_back();
    return s == "-0" ? "0" : s;
}

/// Text as XML. Control characters, which XML cannot hold, become blanks.
std::string escaped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '&') out += "&amp;";
        else if (c == '<') out += "&lt;";
        else if (c == '>') out += "&gt;";
        else if (c == '"') out += "&quot;";
        else out += (static_cast<unsigned char>(c) < 0x20U) ? ' ' : c;
    }
    return out;
}

std::string paint_of(const char* what, Rgba c) {
    if (c.a == 0) return fmt::format(" {}=\"none\"", what);
    std::string s = fmt::format(" {}=\"#{:02X}{:02X}{:02X}\"", what, c.r, c.g, c.b);
    if (c.a != 255) s += fmt::format(" {}-opacity=\"{}\"", what, number(static_cast<double>(c.a) / 255.0));
    return s;
}

std::string ink_of(const Ink& ink) {
    std::string s = paint_of("fill", ink.fill) + paint_of("stroke", ink.line);
    if (ink.line.a == 0) return s;
    s += fmt::format(" stroke-width=\"{}\"", number(ink.stroke));
    if (ink.dashed)
        s += fmt::format(" stroke-dasharray=\"{} {}\"", number(metrics::dash_on), number(metrics::dash_off));
    return s;
}

}  // namespace

SvgCanvas::SvgCanvas(double width, double height, const std::string& title) {
    text_ = fmt::format(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} {1}\" role=\"img\" "
        "aria-labelledby=\"title\"\n"
        "     font-family=\"Inter, sans-serif\" font-feature-settings=\"'tnum'\" stroke-linejoin=\"round\" "
        "stroke-linecap=\"butt\">\n"
        "<title id=\"title\">{2}</title>\n",
        number(width), number(height), escaped(title));
}

void SvgCanvas::path(const std::vector<Vec2>& points, bool closed, const Ink& ink) {
    std::string d;
    for (const Vec2& p : points) d += fmt::format("{}{} {}", d.empty() ? "M" : " L", number(p.x), number(p.y));
    text_ += fmt::format("<path d=\"{}{}\"{}/>\n", d, closed ? " Z" : "", ink_of(ink));
}

void SvgCanvas::rounded(Vec2 corner, Vec2 size, double radius, const Ink& ink) {
    text_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{}\"{}/>\n", number(corner.x),
                         number(corner.y), number(size.x), number(size.y), number(radius), ink_of(ink));
}

void SvgCanvas::circle(Vec2 centre, double radius, const Ink& ink) {
    text_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>\n", number(centre.x), number(centre.y),
                         number(radius), ink_of(ink));
}

void SvgCanvas::words(Vec2 at, const std::string& text, double size, Weight weight, Align align, Rgba colour) {
    const char* anchor = align == Align::left ? "start" : align == Align::middle ? "middle" : "end";
    const int heavy = weight == Weight::regular ? 400 : weight == Weight::medium ? 500 : 600;
    text_ +=
        fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\" font-weight=\"{}\" text-anchor=\"{}\"{}>{}</text>\n",
                    number(at.x), number(at.y), number(size), heavy, anchor, paint_of("fill", colour), escaped(text));
}

}  // namespace offsquare::picture
