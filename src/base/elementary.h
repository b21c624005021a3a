// sin, cos, tan, atan, exp and log made of IEEE additions, multiplications, divisions and square roots only, so that a
// stored result has the same bits on every processor (a C library may choose other code where the processor has fused
// multiply-add). Relative error at most 4 units in the last place over the stated ranges; tests hold them to
// Boost.Multiprecision.
#pragma once

namespace offsquare::base {

double sin_of(double angle_rad);  ///< |angle| <= 1e5 rad
double cos_of(double angle_rad);  ///< |angle| <= 1e5 rad
double tan_of(double angle_rad);  ///< |angle| <= 1e5 rad
double atan_of(double slope);     ///< any finite slope; result in (-pi/2, pi/2) [rad]
double log_of(double x);          ///< x > 0, finite, normal
double exp_of(double x);          ///< x <= 700; below -700 it is nothing

}  // namespace offsquare::base
