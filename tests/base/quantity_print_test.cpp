// The one printer: rounding on the decimal value, and the way back through the reader.
#include <doctest/doctest.h>

#include <cmath>
#include <locale>
#include <string>

#include "base/property.h"
#include "base/quantity.h"

using namespace offsquare::base;

namespace {

std::string mm(double v, int decimals) { return print_length(v, LengthStyle::mm, decimals); }
std::string fraction(double v) { return print_length(v, LengthStyle::inch_fraction, 0); }

/// A length of either sign between a nanometre and the largest, evenly spread in magnitude.
double any_length() {
    const int whole = *rc::gen::inRange(1, 1000000);
    const int power = *rc::gen::inRange(-6, 1);
    return (*rc::gen::arbitrary<bool>() ? -1.0 : 1.0) * whole * std::pow(10.0, power) / 3.0;
}

/// As a number format of a country with a decimal comma.
struct Comma : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
};

}  // namespace

TEST_CASE("halves are rounded away from zero on the decimal value that a person sees") {
    CHECK(mm(0.0125, 3) == "0.013 mm");
    CHECK(mm(-0.0125, 3) == "-0.013 mm");
    CHECK(mm(2.675, 2) == "2.68 mm");  // the double lies below 2.675; the decimal does not
    CHECK(mm(1.005, 2) == "1.01 mm");
    CHECK(mm(2.5, 0) == "3 mm");
    CHECK(mm(0.5, 0) == "1 mm");
    CHECK(mm(0.49999, 0) == "0 mm");
    CHECK(mm(0.0005, 3) == "0.001 mm");
    CHECK(mm(0.00049, 3) == "0.000 mm");
    CHECK(mm(999.9995, 3) == "1000.000 mm");
    CHECK(mm(0.09995, 4) == "0.1000 mm");
    CHECK(mm(9.95, 1) == "10.0 mm");
    CHECK(mm(412.5, 12) == "412.500000000000 mm");
    CHECK(mm(1e6, 3) == "1000000.000 mm");
    CHECK(mm(12.0, -3) == "12 mm");
}

TEST_CASE("zero has no sign, however it came about") {
    CHECK(mm(0.0, 3) == "0.000 mm");
    CHECK(mm(-0.0, 3) == "0.000 mm");
    CHECK(mm(-0.0004, 3) == "0.000 mm");
    CHECK(mm(-1e-300, 0) == "0 mm");
    CHECK(fraction(-0.1) == "0 in");  // 0.25 of a 64th
    CHECK(print_angle(-1e-9, AngleStyle::mrad, 2) == "0.00 mrad");
}

TEST_CASE("units") {
    CHECK(mm(12.345, 3) == "12.345 mm");
    CHECK(print_length(12.345, LengthStyle::mm, 3, false) == "12.345");
    CHECK(print_length(25.4, LengthStyle::inch, 4) == "1.0000 in");
    CHECK(print_length(0.1143, LengthStyle::thou, 1) == "4.5 thou");  // 4.5 * 0.0254
    CHECK(print_length(390.525, LengthStyle::inch, 3) == "15.375 in");
    CHECK(print_length(12.319, LengthStyle::inch, 3) == "0.485 in");
    CHECK(print_angle(0.0005, AngleStyle::mrad, 2) == "0.50 mrad");
    CHECK(print_angle(pi / 4.0, AngleStyle::degree, 3) == "45.000\xc2\xb0");
    CHECK(print_angle(pi / 4.0, AngleStyle::mm_per_m, 1) == "1000.0 mm/m");
    CHECK(print_angle(pi / 4.0, AngleStyle::inch_per_foot, 2) == "12.00 in/ft");
    CHECK(print_angle(0.00025, AngleStyle::inch_per_foot, 4) == "0.0030 in/ft");
    CHECK(print_angle(-0.00025, AngleStyle::mm_per_m, 2, false) == "-0.25");
}

TEST_CASE("fractions of an inch are reduced and rounded to the nearest 64th") {
    CHECK(fraction(390.525) == "15 3/8 in");
    CHECK(fraction(-390.525) == "-15 3/8 in");
    CHECK(fraction(25.4) == "1 in");
    CHECK(fraction(12.7) == "1/2 in");
    CHECK(fraction(-12.7) == "-1/2 in");
    CHECK(fraction(25.4 / 64.0) == "1/64 in");
    CHECK(fraction(25.4 * 63.0 / 64.0) == "63/64 in");
    CHECK(fraction(25.4 * 127.6 / 128.0) == "1 in");
    CHECK(fraction(0.0) == "0 in");
    CHECK(print_length(38.1, LengthStyle::inch_fraction, 0, false) == "1 1/2");
    for (int i = -640; i <= 640; ++i) {  // each 64th up to ten inches comes back to the last bit
        const double exact = i * 254 / 640.0;
        CHECK(parse_length(fraction(exact), LengthUnit::mm)->value == exact);
    }
}

TEST_CASE("what is printed reads back to half of the last printed digit, in every style") {
    // Beyond the half digit: the 15 digits that rounding works on, and the roundings of two changes of unit; 4e-15 of
    // the value covers both.
    struct Style {
        LengthStyle style;
        double unit_mm;
    };
    for (const Style s :
         {Style{LengthStyle::mm, 1.0}, Style{LengthStyle::inch, 25.4}, Style{LengthStyle::thou, 0.0254}}) {
        CHECK(holds("length", [s] {
            const double v = any_length();
            const int decimals = *rc::gen::inRange(0, 9);
            const auto back = parse_length(print_length(v, s.style, decimals), LengthUnit::foot);
            RC_ASSERT(back.has_value());
            const double digit = s.unit_mm * std::pow(10.0, -decimals);
            RC_ASSERT(std::fabs(back->value - v) <= 0.5 * digit + 4e-15 * std::fabs(v));
            RC_ASSERT(std::fabs(back->step - digit) <= 1e-12 * digit);
            RC_ASSERT(print_length(back->value, s.style, decimals) == print_length(v, s.style, decimals));
        }));
        CHECK(holds("decimal comma", [s] {
            const double v = any_length();
            const std::string text = print_length(v, s.style, 4);
            std::string comma = text;
            comma.replace(comma.find('.'), 1, ",");
            RC_ASSERT(parse_length(comma, LengthUnit::mm)->value == parse_length(text, LengthUnit::mm)->value);
        }));
    }
    CHECK(holds("fraction", [] {
        const double v = any_length();
        const auto back = parse_length(fraction(v), LengthUnit::mm);
        RC_ASSERT(back.has_value());
        RC_ASSERT(std::fabs(back->value - v) <= 25.4 / 128.0 + 4e-15 * std::fabs(v));
    }));
    CHECK(holds("angle", [] {
        const double v = *rc::gen::inRange(-1500000, 1500000) * 1e-6;
        const int decimals = *rc::gen::inRange(0, 7);
        struct Angle {
            AngleStyle style;
            double digit_rad;  // of the angle at zero; a slope's digit is worth less of an angle the steeper it is
        };
        for (const Angle a : {Angle{AngleStyle::mrad, 1e-3}, Angle{AngleStyle::degree, pi / 180.0},
                              Angle{AngleStyle::mm_per_m, 1e-3}, Angle{AngleStyle::inch_per_foot, 1.0 / 12.0}}) {
            const auto back = parse_angle(print_angle(v, a.style, decimals), AngleUnit::rad);
            RC_ASSERT(back.has_value());
            RC_ASSERT(std::fabs(back->value - v) <= 0.5 * a.digit_rad * std::pow(10.0, -decimals) + 4e-15);
        }
    }));
}

TEST_CASE("the process's number format does not reach reader or printer") {
    const std::locale before = std::locale::global(std::locale(std::locale::classic(), new Comma));
    const std::string printed = mm(1234.5, 2);
    const double read = parse_length("1234.5", LengthUnit::mm)->value;
    std::locale::global(before);
    CHECK(printed == "1234.50 mm");
    CHECK(read == 1234.5);
}

TEST_CASE("what is shown suits the kind of number") {
    CHECK(show_size(412.0, Units::metric) == "412 mm");
    CHECK(show_size(412.5, Units::metric) == "412.5 mm");
    CHECK(show_size(19.05, Units::metric) == "19.05 mm");
    CHECK(show_size(100.0, Units::metric) == "100 mm");
    CHECK(show_size(412.75, Units::imperial) == "16 1/4 in");
    CHECK(show_size(412.75 + 0.0019 * 25.4, Units::imperial) == "16 1/4 in");  // within 0.002 in of a 64th
    CHECK(show_size(412.75 + 0.0021 * 25.4, Units::imperial) == "16.252 in");
    CHECK(show_size(0.0, Units::imperial) == "0 in");
    CHECK(show_size(0.0254, Units::imperial) == "0.001 in");  // a shim is not `0 in`
    CHECK(show_reading(12.345, Units::metric) == "12.345 mm");
    CHECK(show_reading(12.3444, Units::imperial) == "0.4860 in");  // 0.486 * 25.4
    CHECK(show_small(0.183, Units::metric) == "0.183 mm");
    CHECK(show_small(0.18288, Units::imperial) == "0.0072 in");  // 0.0072 * 25.4
    CHECK(show_angle(0.00052, Units::metric) == "0.52 mm in 1 m");
    CHECK(show_angle(0.03 * pi / 180.0, Units::imperial) == "6.3 thou in 12 in");  // 12000 tan 0.03 deg = 6.28
    CHECK(show_angle(-0.00052, Units::metric) == "−0.52 mm in 1 m");
    CHECK(show_angle_short(-0.00052, Units::metric) == "−0.52 mm in 1 m");
    CHECK(show_angle_number(-0.00052, Units::metric) == "−0.52");
    CHECK(show_angle_short(-0.03 * pi / 180.0, Units::imperial) == "−6.3 thou in 12 in");
    CHECK(show_angle_within(0.00052, 0.00004, Units::metric) == "0.52 ± 0.04 mm in 1 m");
    CHECK(show_angle_within(1e-7, 0.00004, Units::imperial) == "0.0 ± 0.5 thou in 12 in");  // 12000 * 0.00004 = 0.48
}

TEST_CASE("milliradians are shown to who asks for them, beside the gap or in its place") {
    for (const auto system : {Units::metric, Units::imperial}) {
        const Units mrad{system, Units::Angles::mrad};
        CHECK(show_angle_short(-0.00052, mrad) == "−0.52 mrad");
        CHECK(show_angle_number(0.00052, mrad) == "0.52");
        CHECK(show_angle_within(-0.00052, 1e-7, mrad) == "−0.52 ± less than 0.01 mrad");
        CHECK(show_angle_short(-1e-7, mrad) == "less than 0.01 mrad");
        CHECK(show_size(412.75, mrad) == show_size(412.75, system));
        CHECK(mrad == system);
        CHECK(mrad != Units(system));
    }
    CHECK(show_angle(-0.00052, {Units::metric, Units::Angles::mrad}) == "−0.52 mm in 1 m (−0.52 mrad)");
    CHECK(show_angle(1e-7, {Units::imperial, Units::Angles::mrad}) == "less than 0.1 thou in 12 in (0.01 mrad)");
}

TEST_CASE("an angle that is shown can be typed again") {
    for (double rad = -0.02; rad < 0.02; rad += 0.00037) {
        for (const Units units : {Units(Units::metric), Units(Units::imperial), {Units::metric, Units::Angles::mrad}}) {
            const auto back = parse_angle(show_angle_short(rad, units), AngleUnit::degree);
            REQUIRE(back);
            CHECK(std::abs(back->value - rad) <= 0.5e-5);  // half of 0.01 mm in 1 m; 0.1 thou in 12 in is less
        }
    }
}

TEST_CASE("a sentence of the program's own is said in the person's units") {
    const auto inches = [](const char* text) { return said_in(text, Units::imperial); };
    const auto metric = [](const char* text) { return said_in(text, Units::metric); };
    CHECK(inches("a strip from 1 mm to 150 mm wide") == "a strip from 0.04 in to 5.91 in wide");  // 0.0394, 5.906
    CHECK(inches("Read gauges of 0.50, 0.53, 0.57, 0.62 and 0.68 mm.") ==
          "Read gauges of 0.0197, 0.0209, 0.0224, 0.0244 and 0.0268 in.");
    // What need not be exact is round in both: eighths, and whole inches from 6 in on.
    CHECK(inches("300 mm or more: 300 mm") == "12 in or more: 11.81 in");
    CHECK(inches("about 60 mm from the cut") == "about 2 3/8 in from the cut");
    CHECK(inches("scraps about 12, 31 and 58 mm wide") == "scraps about 1/2, 1 1/4 and 2 1/4 in wide");
    CHECK(inches("about 10 to 15 mm, about 1 mm") == "about 3/8 to 5/8 in, about 0.04 in");
    CHECK(inches("about 0.2 mm in 100 mm") == "about 24 thou in 12 in");
    CHECK(show_about(60.0, Units::imperial) == "2 3/8 in");
    CHECK(show_about(1.0, Units::imperial) == show_size(1.0, Units::imperial));
    CHECK(show_about(60.0, Units::metric) == "60 mm");
    CHECK(inches("from 100 mm to 2 m apart") == "from 3.94 in to 6.6 ft apart");  // 2000 / 304.8 = 6.56
    CHECK(inches("to 12 mm, 3 mm") == "to 0.47 in, 0.12 in");
    CHECK(inches("left=0.4mm") == "left=0.016in");
    CHECK(inches("[\"12.03 mm\", \"-0.02 mm\"]") == "[\"0.4736 in\", \"-0.0008 in\"]");
    CHECK(inches("Up to 20 mrad: exact.") == "Up to 240 thou in 12 in: exact.");  // 12000 tan 0.02 = 240.03
    CHECK(inches("0.35 mm in 1 m (GOST 6853-88, 2.2.7), 0.05 mm in 300 mm") ==
          "4.2 thou in 12 in (GOST 6853-88, 2.2.7), 2 thou in 12 in");
    CHECK(metric("-20 to 20 mrad, 0.35 mrad") == "-20 to 20 mm in 1 m, 0.35 mm in 1 m");
    CHECK(said_in("-20 to 20 mrad, 5 mm", {Units::metric, Units::Angles::mrad}) == "-20 to 20 mrad, 5 mm");
    // What is no length or angle stays: numbers of things, names, units without a number, a slope as it is typed.
    for (const char* text : {"5 of 12 cuts, then 3", "key_5mm 2.2.7 mm a1 mm", "a bare number is in mm", "0.25mm/m",
                             "50 min and 60 N", "", "7", "3 mmm", "12 in"}) {
        CHECK(inches(text) == text);
        CHECK(metric(text) == text);
    }
    CHECK(metric("from 100 mm to 2 m, 0.2 mm in 100 mm") == "from 100 mm to 2 m, 0.2 mm in 100 mm");
}

TEST_CASE("a number that is none is never printed as one") {
    for (const double v : {std::nan(""), HUGE_VAL, -HUGE_VAL}) {
        CHECK(mm(v, 3) == "no value mm");
        CHECK(fraction(v) == "no value in");
        CHECK_FALSE(parse_length(mm(v, 3), LengthUnit::mm).has_value());
    }
}

TEST_CASE("an angle too small to be shown is said to be so, never nought with units") {
    for (const double sign : {-1.0, 1.0}) {
        CHECK(show_angle(sign * 0.0049e-3, Units::metric) == "less than 0.01 mm in 1 m");
        CHECK(show_angle_number(sign * 0.0049e-3, Units::metric) == "less than 0.01");
        CHECK(show_angle(sign * 4.1e-6, Units::imperial) == "less than 0.1 thou in 12 in");  // 12000 * 4.1e-6 = 0.0492
    }
    CHECK(show_angle(0.0, Units::metric) == "less than 0.01 mm in 1 m");
    CHECK(show_angle(0.0051e-3, Units::metric) == "0.01 mm in 1 m");
    CHECK(show_angle_short(-0.0051e-3, Units::metric) == "−0.01 mm in 1 m");
    CHECK(show_angle_short(-4.2e-6, Units::imperial) == "−0.1 thou in 12 in");  // 12000 * 4.2e-6 = 0.0504
}

TEST_CASE(
    "what is shown to people has the true minus, is read back all the same, and what is printed for machines has the "
    "hyphen") {
    for (double mm = -41.0; mm <= -0.01; mm += 0.37) {
        for (const Units units : {Units::metric, Units::imperial}) {
            for (const std::string& text : {show_size(mm, units), show_reading(mm, units), show_small(mm, units)}) {
                CAPTURE(text);
                CHECK(text.find('-') == std::string::npos);
                CHECK(text.starts_with("−"));
                const auto back = parse_length(text, LengthUnit::mm);
                REQUIRE(back);
                // Half of the last digit shown: 0.005 mm, and for fractions of an inch 0.002 in.
                CHECK(std::abs(back->value - mm) <= 0.002 * 25.4 + 1e-9);
            }
        }
        CHECK(print_length(mm, LengthStyle::mm, 3).starts_with("-"));
        CHECK(print_length(mm, LengthStyle::inch, 4).starts_with("-"));
    }
    const auto angle = parse_angle(show_angle_short(-0.00123, Units::metric), AngleUnit::degree);
    REQUIRE(angle);
    CHECK(std::abs(angle->value + 0.00123) <= 0.5e-5);
}
