// Instruments: a true length becomes a reading with its standard uncertainty, after the GUM.
//
// A caliper's reading = true + zero error + an unknown error within the limits + noise, rounded to the step. Of that
// error a share is the caliper's own, one for a session, and cancels between two like lengths; the rest is drawn once
// for one place of one piece and stays for repeats there; the noise is new each time. So repeats help against noise and
// step only.
//
// Where the noise is known from few readings, its true spread is drawn once for a session, and u carries what is not
// known about it (JCGM 101:2008, 6.4.9): no degrees of freedom are left to be handed on, and the normal factor covers.
#pragma once

#include <cstdint>
#include <span>

#include "base/random.h"
#include "base/uncertain.h"
#include "shop/drawing.h"

namespace offsquare::measure {

struct Reading {
    double station_mm = 0.0;  ///< where along the old edge, from the fence end
    double value_mm = 0.0;    ///< what the instrument shows
    double u_mm = 0.0;        ///< standard uncertainty of this one reading
};

/// Where a reading stands among all draws.
struct Place {
    std::uint64_t seed = 0;
    std::uint32_t test = 0;  ///< which test of the session
    std::uint32_t end = 0;   ///< which place on the piece
    std::uint32_t repeat = 0;
};

enum class Precision { real, exact };  ///< exact: no rounding, no noise, no zero error

/// Reads `true_mm` with the caliper. `zero_mm` is its zero error; it sticks in steps of `sticking_mm` where they are
/// larger than its own.
Reading read_caliper(const shop::Caliper& caliper, double zero_mm, double true_mm, double station_mm,
                     const Place& place, Precision precision, double sticking_mm = 0.0);

/// A display shows whole steps; 0: no rounding.
double rounded(double value, double step);

/// What feeler gauges tell of a gap, whose side the light shows: a leaf goes in and the next, a step thicker, does not.
/// The middle between the two, on that side; half a step where light shows and no leaf goes in.
double between_leaves(double gap, double step);

/// Mean and variance of rounded(value + noise, step) over normal noise of this standard deviation: a small value under
/// a coarse step is not scattered, it vanishes. Steps finer than the noise: the value and noise^2 + step^2/12, which is
/// then within a thousandth of the step.
struct Shown {
    double mean = 0.0;
    double variance = 0.0;
};
Shown shown(double value, double noise, double step);
/// Of the variance step^2/12 of a rounded reading, over values that lie anywhere between two steps, the part that is
/// the same in a reading of the same value with other noise: all of it without noise, none where the noise carries the
/// readings over several steps. Between the two it is the saw-tooth of the rounding smoothed by the noise; by its
/// Fourier series step^2/(2 pi^2) times the sum over k of exp(-(2 pi k noise/step)^2)/k^2, to a hundredth of step^2/12.
double lasting_step_variance(double step, double noise);

/// Tests that are part of a check count from here, so that they share no draw with the tests of the job.
inline constexpr std::uint32_t check_tests = 1U << 20U;
Reading read_tape(const shop::Tape& tape, double true_mm, const Place& place, Precision precision);

/// The mean of repeats at one end of a strip (one or more readings), for the difference of its two ends: of the limits
/// of error only what does not cancel between like lengths counts in u. That does not shrink with repeats; noise and
/// step do.
base::Uncertain mean_of_repeats(const shop::Caliper& caliper, std::span<const Reading> readings, Precision precision);
base::Uncertain tape_value(const shop::Tape& tape, const Reading& reading, Precision precision);

}  // namespace offsquare::measure
