// The one reader of lengths, angles and numbers: every documented form with a value worked out by hand, every refusal
// with its reason.
#include "base/quantity.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "base/property.h"

using namespace offsquare::base;

namespace {

struct Good {
    const char* text;
    double value;
    double step;
};

struct Bad {
    const char* text;
    const char* reason;  ///< must stand in the message
};

bool close(double a, double b) { return std::fabs(a - b) <= 2e-15 * std::fabs(b); }

void check_good(const Result<Typed>& got, const Good& want) {
    CAPTURE(std::string(want.text));
    REQUIRE_MESSAGE(got.has_value(), (got ? "" : got.error().message));
    CHECK(close(got->value, want.value));
    CHECK(close(got->step, want.step));
}

bool contains(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

template <class T>
void check_bad(const Result<T>& got, const Bad& want, const char* kind, const char* example) {
    CAPTURE(std::string(want.text));
    REQUIRE_FALSE(got.has_value());
    const std::string& message = got.error().message;
    CAPTURE(message);
    CHECK(got.error().grade == Grade::bad_data);
    CHECK(contains(message, want.reason));
    CHECK(contains(message, kind));
    CHECK(contains(message, "Expected"));
    CHECK(contains(message, "for example"));
    CHECK(contains(message, example));
}

}  // namespace

TEST_CASE("lengths: every documented form") {
    // 1 in = 25.4 mm exactly; 1 thou = 0.0254 mm; 1 ft = 304.8 mm. The step is one unit of the last digit, or one part
    // of the fraction.
    const std::vector<Good> in_mm = {
        {"12", 12.0, 1.0},
        {"-0.5", -0.5, 0.1},
        {"+0.5", 0.5, 0.1},
        {".5", 0.5, 0.1},
        {"5.", 5.0, 1.0},
        {"12.50", 12.5, 0.01},
        {"3/8", 0.375, 0.125},
        {"15 3/8", 15.375, 0.125},
        {"15-3/8in", 390.525, 3.175},
        {"-15-3/8in", -390.525, 3.175},
        {"1 1/2\"", 38.1, 12.7},
        {"1 1/2 \xe2\x80\xb3", 38.1, 12.7},
        {"0.4mm", 0.4, 0.1},
        {"2cm", 20.0, 10.0},
        {"0.3 m", 300.0, 100.0},
        {"4 thou", 0.1016, 0.0254},
        {"4thou", 0.1016, 0.0254},
        {"1.5 thou", 0.0381, 0.00254},
        {"20um", 0.02, 0.001},
        {"20 \xc2\xb5m", 0.02, 0.001},
        {"20 \xce\xbcm", 0.02, 0.001},
        {"12 in", 304.8, 25.4},
        {"0.485 in", 12.319, 0.0254},
        {"2ft", 609.6, 304.8},
        {"2ft 3 1/2in", 698.5, 12.7},
        {"2' 3 1/2\"", 698.5, 12.7},
        {"2\xe2\x80\xb2 3 1/2\xe2\x80\xb3", 698.5, 12.7},
        {"2'-3 1/2\"", 698.5, 12.7},
        {"-2ft 3in", -685.8, 25.4},
        {"0,5", 0.5, 0.1},
        {"0,485in", 12.319, 0.0254},
        {"1,000", 1.0, 0.001},  // a decimal comma, never a thousand
        {"\xe2\x88\x92"
         "0.5",
         -0.5, 0.1},
        {"\xe2\x88\x92 0,5 mm", -0.5, 0.1},
        {"1e-3", 0.001, 0.001},
        {"2.5e2 mm", 250.0, 10.0},
        {"1E-3 IN", 0.0254, 0.0254},
        {"  12  mm  ", 12.0, 1.0},
        {"12\xc2\xa0mm", 12.0, 1.0},
        {"\t12mm\t", 12.0, 1.0},
        {"010", 10.0, 1.0},
        {"0", 0.0, 1.0},
        {"0.000", 0.0, 0.001},
        {"1000000", 1e6, 1.0},
        {"12.318999999999999", 12.318999999999999, 1e-15},
    };
    for (const Good& g : in_mm) check_good(parse_length(g.text, LengthUnit::mm), g);
}

TEST_CASE("lengths: a number without a unit is taken in the assumed one, a unit beats it") {
    check_good(parse_length("15 3/8", LengthUnit::inch), {"15 3/8 as inches", 390.525, 3.175});
    check_good(parse_length("0.5", LengthUnit::inch), {"0.5 as inches", 12.7, 2.54});
    check_good(parse_length("3", LengthUnit::thou), {"3 as thou", 0.0762, 0.0254});
    check_good(parse_length("2 1/2", LengthUnit::foot), {"2 1/2 as feet", 762.0, 152.4});
    for (const LengthUnit assumed : {LengthUnit::mm, LengthUnit::inch, LengthUnit::thou, LengthUnit::foot}) {
        check_good(parse_length("0.4mm", assumed), {"0.4mm", 0.4, 0.1});
    }
}

TEST_CASE("lengths: decimals become the nearest double, not a product of roundings") {
    // What a C++ compiler makes of the literal is the nearest double: equality to the last bit. The double nearest to
    // 0.485 times the one nearest to 25.4, rounded, is the double below 12.319, and so with 0.563 and 17.75.
    CHECK(parse_length("0.485in", LengthUnit::mm)->value == 12.319);
    CHECK(parse_length("0.563in", LengthUnit::mm)->value == 14.3002);
    CHECK(parse_length("17.75in", LengthUnit::mm)->value == 450.85);
    CHECK(parse_length("0.7 thou", LengthUnit::mm)->value == 0.01778);
    CHECK(parse_length("7um", LengthUnit::mm)->value == 0.007);
    CHECK(parse_length("0.3m", LengthUnit::mm)->value == 300.0);
    CHECK(parse_length("1/3in", LengthUnit::mm)->value == 25.4 / 3.0);
    // More digits than a double holds: the same value, to the two roundings of value and factor.
    CHECK(close(parse_length("12.319000000000000000000012345 mm", LengthUnit::mm)->value, 12.319));
    CHECK(close(parse_length("0.4850000000000000000 in", LengthUnit::mm)->value, 12.319));
    CHECK(close(parse_length("0.33333333333333333 ft", LengthUnit::mm)->value, 101.6));
    for (int i = 1; i <= 640;
         ++i) {  // all 64ths up to ten inches: i * 25.4 / 64 = i * 254 / 640, one division of whole numbers
        const std::string text = std::to_string(i) + "/64in";
        CHECK(parse_length(text, LengthUnit::mm)->value == i * 254 / 640.0);
    }
}

TEST_CASE("lengths: every refusal says what, why and how") {
    const std::string long_text(101, '1');
    const std::vector<Bad> bad = {
        {"", "it is empty"},
        {"   ", "it is empty"},
        {"mm", "no number at \"mm\""},
        {"-", "a number is missing"},
        {"--5", "no number at \"-5\""},
        {"nan", "no number at \"nan\""},
        {"inf", "no number at \"inf\""},
        {"-infinity", "no number at \"infinity\""},
        {".", "no number at \".\""},
        {"1.234,5", "both . and ,"},
        {"1,234.5", "both . and ,"},
        {"1.2.3", "second decimal sign"},
        {"1,000,000", "second decimal sign"},
        {"1 000", "a second number stands at \"000\""},
        {"12 13 mm", "a second number stands at \"13 mm\""},
        {"3/0", "lower number of its fraction is zero"},
        {"2 3/0 in", "lower number of its fraction is zero"},
        {"15 9/8", "less than one"},
        {"15 8/8", "less than one"},
        {"1/1234567", "too many digits"},
        {"3/", "goes on with \"/\""},
        {"1/2/3", "goes on with \"/3\""},
        {"5 bananas", "\"bananas\" is not a unit of length"},
        {"5 deg", "\"deg\" is not a unit of length"},
        {"5mm long", "goes on with \"long\""},
        {"5-", "goes on with \"-\""},
        {"15 - 3/8", "goes on with \"- 3/8\""},
        {"2' 3", "must be inches"},
        {"2ft 3mm", "must be inches"},
        {"2ft 3thou", "must be inches"},
        {"2ft 3ft", "must be inches"},
        {"3in 2ft", "a second number stands at \"2ft\""},
        {"1000000.1", "larger than 1000000 mm"},
        {"-1001 m", "larger than 1000000 mm"},
        {"1e9", "larger than 1000000 mm"},
        {"1e99", "power of ten is too large"},
        {"1e99999999999999999999", "power of ten is too large"},
        {"1e-99", "power of ten is too large"},
        {"0.0000000000000000000000000000000000000000000000000000000000000001", "more decimals than any measurement"},
        {long_text.c_str(), "101 bytes where 100 are allowed"},
        {"0x10", "\"x\" is not a unit of length"},
        {"1_000", "goes on with \"_000\""},
        {"\xff\xfe", "no number at \"??\""},
    };
    for (const Bad& b : bad) check_bad(parse_length(b.text, LengthUnit::mm), b, "not a length", "15 3/8 in");
}

TEST_CASE("a message quotes the text on one clean line") {
    const auto message = [](std::string_view text) { return parse_length(text, LengthUnit::mm).error().message; };
    CHECK(contains(message("5 bananas"), "found \"5 bananas\""));
    CHECK(contains(message("5\nbananas"), "found \"5?bananas\""));
    CHECK(contains(message("5 \xc3\xa9l"), "found \"5 \xc3\xa9l\""));
    CHECK(contains(message(std::string_view("5\0x", 3)), "found \"5?x\""));
    CHECK(contains(message(std::string(90, 'z')), std::string(40, 'z') + "...\""));
}

TEST_CASE("angles: every documented form") {
    // tan a = g: a = g - g^3/3 + g^5/5; the series is cut where the next term is below the last bit.
    const auto slope = [](double g) { return g - g * g * g / 3.0 + g * g * g * g * g / 5.0; };
    const auto slope_step = [](double g, double step) { return step / (1.0 + g * g); };
    const double slope_of_5_in_12 = 0.39479111969976155;  // arc tangent of 5/12, the angle of the 5-12-13 triangle
    const std::vector<Good> good = {
        {"0.5mrad", 0.0005, 0.0001},
        {"0.0005 rad", 0.0005, 0.0001},
        {"0.02deg", 0.02 * pi / 180.0, 0.01 * pi / 180.0},
        {"0.02\xc2\xb0", 0.02 * pi / 180.0, 0.01 * pi / 180.0},
        {"-0,02 \xc2\xb0", -0.02 * pi / 180.0, 0.01 * pi / 180.0},
        {"1.2'", 0.02 * pi / 180.0, pi / 108000.0},
        {"1.2\xe2\x80\xb2", 0.02 * pi / 180.0, pi / 108000.0},
        {"1.2 arcmin", 0.02 * pi / 180.0, pi / 108000.0},
        {"0.003in/ft", slope(0.00025), slope_step(0.00025, 0.001 / 12.0)},
        {"0.25mm/m", slope(0.00025), slope_step(0.00025, 0.00001)},
        {"0.1 mm/300mm", slope(0.1 / 300.0), slope_step(0.1 / 300.0, 0.1 / 300.0)},
        {"0,1 mm / 300 mm", slope(0.1 / 300.0), slope_step(0.1 / 300.0, 0.1 / 300.0)},
        {"3 thou/12in", slope(0.00025), slope_step(0.00025, 0.001 / 12.0)},
        {"0.25 mm in 1 m", slope(0.00025), slope_step(0.00025, 0.00001)},
        {"−3 thou in 12 in", -slope(0.00025), slope_step(0.00025, 0.001 / 12.0)},
        {"5 in in 12 in", slope_of_5_in_12, 12.0 / 169.0},  // 1/12 / (1 + 25/144)
        {"0.0003in/in", slope(0.0003), slope_step(0.0003, 0.0001)},
        {"1/64in/2ft", slope(1.0 / 1536.0), slope_step(1.0 / 1536.0, 1.0 / 1536.0)},
        {"-0.003in/ft", -slope(0.00025), slope_step(0.00025, 0.001 / 12.0)},
        {"0.01'/10'", slope(0.001), slope_step(0.001, 0.001)},
        {"1mm/mm", pi / 4.0, 0.5},
        {"90 deg", pi / 2.0, pi / 180.0},
        {"0", 0.0, 0.001},
        {"2.5", 0.0025, 0.0001},
    };
    for (const Good& g : good) check_good(parse_angle(g.text, AngleUnit::mrad), g);
}

TEST_CASE("angles: a number without a unit is taken in the assumed one") {
    check_good(parse_angle("0.5", AngleUnit::rad), {"0.5 as rad", 0.5, 0.1});
    check_good(parse_angle("0.5", AngleUnit::mrad), {"0.5 as mrad", 0.0005, 0.0001});
    check_good(parse_angle("45", AngleUnit::degree), {"45 as degrees", pi / 4.0, pi / 180.0});
}

TEST_CASE("angles: every refusal says what, why and how") {
    const std::vector<Bad> bad = {
        {"", "it is empty"},
        {"deg", "no number at \"deg\""},
        {"0.3in", "a length alone is no angle"},
        {"5 bananas", "\"bananas\" is not a unit of angle"},
        {"3/mm", "a length in it has no unit"},
        {"0.25/m", "a length in it has no unit"},
        {"0.25mm/1000", "a length in it has no unit"},
        {"0.25mm/", "a number is missing"},
        {"0.25mm/0m", "the length that the gap is over is zero"},
        {"0.25mm/-1m", "no number at \"-1m\""},
        {"0.25deg/m", "\"deg\" is not a unit of length"},
        {"0.25mm/deg", "\"deg\" is not a unit of length"},
        {"0.25mm/m/m", "goes on with \"/m\""},
        {"0.25mm in", "a number is missing"},
        {"0.25mm inch", "a length alone is no angle"},
        {"91deg", "larger than a quarter turn"},
        {"2rad", "larger than a quarter turn"},
        {"0.1mm/0,3m", "both . and ,"},
        {"1 2 deg", "a second number stands at \"2 deg\""},
        {"nan", "no number at \"nan\""},
    };
    for (const Bad& b : bad) check_bad(parse_angle(b.text, AngleUnit::mrad), b, "not an angle", "0.003 in/ft");
}

TEST_CASE("plain numbers") {
    CHECK(parse_number("12").value() == 12.0);
    CHECK(parse_number("0,5").value() == 0.5);
    CHECK(parse_number("-3.25").value() == -3.25);
    CHECK(parse_number("\xe2\x88\x92"
                       "3,25")
              .value() == -3.25);
    CHECK(parse_number("010").value() == 10.0);
    CHECK(parse_number("0.1").value() == 0.1);
    CHECK(parse_number("1e-3").value() == 0.001);
    CHECK_FALSE(std::signbit(parse_number("-0").value()));
    for (const Bad& b : std::vector<Bad>{{"", "it is empty"},
                                         {"x", "no number at \"x\""},
                                         {"3/8", "goes on with \"/8\""},
                                         {"1,2.3", "both . and ,"},
                                         {"5mm", "goes on with \"mm\""},
                                         {"1 000", "a second number"},
                                         {"nan", "no number"},
                                         {"1e61", "power of ten is too large"}}) {
        check_bad(parse_number(b.text), b, "not a number", "-3.25");
    }
}

TEST_CASE("hostile text never breaks the reader, and what is accepted is finite and inside the limits") {
    const auto sane = [](const std::string& text) {
        for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::foot}) {
            const auto r = parse_length(text, unit);
            if (r) RC_ASSERT(std::fabs(r->value) <= 1e6 && r->step > 0.0 && std::isfinite(r->step));
            if (!r)
                RC_ASSERT(contains(r.error().message, "Expected") &&
                          r.error().message.find_first_of("\n\r\t\x1b") == std::string::npos);
        }
        const auto a = parse_angle(text, AngleUnit::degree);
        if (a) RC_ASSERT(std::fabs(a->value) <= pi / 2.0 && a->step > 0.0);
        const auto n = parse_number(text);
        if (n) RC_ASSERT(std::isfinite(*n));
    };
    CHECK(holds(
        "any bytes", [&](const std::string& text) { sane(text); }, 3000));
    CHECK(holds(
        "bytes that look like lengths",
        [&] {
            const std::string alphabet = "0123456789 .,/-'\"eftinmhoudrag\xc2\xb0\xe2\x88\x92";
            sane(*rc::gen::container<std::string>(rc::gen::elementOf(alphabet)));
        },
        6000));
    CHECK(holds("digits without end", [&] {
        const std::string digits = *rc::gen::container<std::string>(rc::gen::elementOf(std::string("0123456789")));
        sane(digits + "/" + digits);
        sane(digits + digits + "." + digits + "e" + digits);
    }));
    sane(std::string(1000000, ' ') + "5");
    sane(std::string(1000000, '9'));
    sane(std::string(99, ' ') + "5");
    sane(std::string(99, '\''));
    CHECK(parse_length(std::string(40, ' ') + "5" + std::string(40, ' ') + "mm", LengthUnit::inch)->value == 5.0);
}

TEST_CASE("whether a length was typed in inches, or a bare number was taken as such") {
    for (const char* text : {"1in", "15 3/8\"", "4 thou", "2ft", "2ft 3 1/2in", "0.5 inches", "1'"})
        CHECK_MESSAGE(parse_length(text, LengthUnit::mm)->inches, text);
    for (const char* text : {"1mm", "2cm", "0.3 m", "20um", "3 microns"})
        CHECK_MESSAGE(!parse_length(text, LengthUnit::inch)->inches, text);
    for (const LengthUnit unit : {LengthUnit::inch, LengthUnit::thou, LengthUnit::foot})
        CHECK(parse_length("3/8", unit)->inches);
    CHECK_FALSE(parse_length("3/8", LengthUnit::mm)->inches);
}
