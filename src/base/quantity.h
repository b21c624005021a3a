// One parser and one printer for every length and angle that a person sees or types: window, command line and files.
//
// Inside the program a length is a double in millimetres (`_mm`) and an angle a double in radians (`_rad`).
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace offsquare::base {

inline constexpr double mm_per_inch = 25.4;  ///< exact, international inch
inline constexpr double pi = 3.141592653589793238463;

enum class LengthUnit { mm, inch, thou, foot };
enum class AngleUnit { rad, mrad, degree };

/// What was typed.
struct Typed {
    double value = 0.0;   ///< [mm] for a length, [rad] for an angle
    double step = 0.0;    ///< what one unit of the last typed digit is worth, or 1/denominator; same unit as value, > 0
    bool inches = false;  ///< a length whose unit, typed or assumed, is of the inch kind (in, thou, ft)
};

/// Reads a length. Forms: `12`, `-0.5`, `3/8`, `15 3/8`, `15-3/8in`, `1 1/2"`, `0.4mm`, `2cm`, `0.3 m`, `4 thou`,
/// `4thou`, `20um`, `20 µm`, `12 in`, `2ft`, `2ft 3 1/2in`, `2' 3 1/2"`, with `.` or `,` as the decimal sign (both
/// together are refused, so are digit groups), `−` (U+2212) as well as `-`, `″ ′` as well as `" '`, spaces around and
/// inside as written here. No exponent needed but `1e-3` is understood. `1,000` is one, with three decimals. Units also
/// as words (inch, inches, foot, feet, micron, millimetre), in any case. A number without a unit is taken in `assumed`.
/// Errors (Grade::bad_data) quote what was found, say what was expected and give an example. Refused: empty text,
/// infinite or not a number, a zero denominator, trailing words, |value| > 1e6 mm.
Result<Typed> parse_length(std::string_view text, LengthUnit assumed);

/// Reads an angle. Forms: `0.5mrad`, `0.0005 rad`, `0.02deg`, `0.02°`, `1.2'`/`1.2 arcmin`, and a gap per length:
/// `0.003in/ft`, `0.25mm/m`, `0.1 mm/300mm`, `3 thou/12in`, `0.0003in/in` (the angle whose tangent is that ratio), also
/// as it is shown: `0.25 mm in 1 m`, `3 thou in 12 in`. Also `urad`, `degree`, `degrees`, `arcminutes`. For a gap,
/// Typed::step is the angle that the gap's last digit is worth there. Decimal signs and errors as parse_length; |angle|
/// <= pi/2.
Result<Typed> parse_angle(std::string_view text, AngleUnit assumed);

/// Reads a plain number (a count, a factor): `12`, `0,5`, `-3.25`; same decimal rules.
Result<double> parse_number(std::string_view text);

/// How a person wants lengths shown.
enum class LengthStyle {
    mm,             ///< 12.345 mm
    inch,           ///< 0.4860 in
    inch_fraction,  ///< 15 3/8 in, to the nearest 1/64 (for sizes of things, never for readings)
    thou,           ///< 4.5 thou
};

/// Prints a length to `decimals` places (for inch_fraction: ignored). Rounds half away from zero on the decimal value,
/// never prints "-0". `parse_length(print_length(x)) == x` to half of the last printed digit.
std::string print_length(double length_mm, LengthStyle style, int decimals, bool with_unit = true);

enum class AngleStyle { mrad, degree, mm_per_m, inch_per_foot };
std::string print_angle(double angle_rad, AngleStyle style, int decimals, bool with_unit = true);

/// How a person wants numbers shown: in which system, and whether angles in milliradians as well.
struct Units {
    enum class System { metric, imperial };
    enum class Angles { slope, mrad };  ///< a gap per length alone, as a square and a feeler gauge tell it; or mrad too
    static constexpr System metric = System::metric;
    static constexpr System imperial = System::imperial;

    System system = System::metric;
    Angles angles = Angles::slope;

    constexpr Units(System s = System::metric, Angles a = Angles::slope) : system(s), angles(a) {}
    friend constexpr bool operator==(Units, Units) = default;
    friend constexpr bool operator==(Units u, System s) { return u.system == s; }
};

// For people only, with the true minus `−` (U+2212): text of the window, of pictures and of the terminal. What a
// machine reads back (files, JSON) is printed by the functions above, with `-`.

/// Size of a thing: `412 mm`, `412.5 mm`, at most two decimals; `16 1/4 in` when within 0.002 in of a 64th (other than
/// 0), else `16.252 in`.
std::string show_size(double length_mm, Units units);
/// The same of what need not be exact, such as a cost: in inches to the nearest eighth, `2 3/8 in`.
std::string show_about(double length_mm, Units units);
std::string show_reading(double length_mm, Units units);  ///< a reading or a shim: `12.345 mm`; `0.4860 in`
std::string show_small(double length_mm, Units units);    ///< a small correction: `0.183 mm`; `0.0072 in`
/// `0.52 mm in 1 m`; `6.2 thou in 12 in`; with mrad asked for `0.52 mm in 1 m (0.52 mrad)`. What would round to nought
/// is `less than 0.01 mm in 1 m` or `less than 0.1 thou in 12 in`.
std::string show_angle(double angle_rad, Units units);
/// The same in one unit: with mrad asked for `0.52 mrad`, `less than 0.01 mrad`.
std::string show_angle_short(double angle_rad, Units units);
/// Beside a number that has its unit: `0.52`, `less than 0.01`.
std::string show_angle_number(double angle_rad, Units units);
std::string show_angle_unit(Units units);  ///< what it counts: `mm in 1 m`, `thou in 12 in`, `mrad`
/// Middle and half width: `0.52 ± 0.04 mm in 1 m`, also `0.00 ± 0.04 mm in 1 m`.
std::string show_angle_within(double middle_rad, double half_rad, Units units);

/// A sentence of the program's own, written in mm, m and mrad, as this person wants it: `a strip from 1 mm to 150 mm`
/// becomes `a strip from 0.039 in to 5.91 in`, `0.50, 0.53 and 0.57 mm` becomes `0.0197, 0.0209 and 0.0224 in`, `20
/// mrad` becomes `20 mm in 1 m`. An inch has two decimals more than the millimetre had. Not for what a person wrote.
std::string said_in(std::string_view text, Units units);

}  // namespace offsquare::base
