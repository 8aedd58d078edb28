// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/layer_motion.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace quoin::core {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double gyroidAreaOfCell = 3.0915; // Schoen, NASA TN D-5541, 1970; from memory

/// Speed after a length of acceleration.
double reachedMmS(double fromMmS, double lengthMm, double acceleration)
{
    return std::sqrt(fromMmS * fromMmS + 2 * acceleration * lengthMm);
}

double turnBetween(mesh::Vec2 before, mesh::Vec2 after)
{
    return std::fabs(std::atan2(cross(before, after), dot(before, after)));
}

} // namespace

double runSeconds(double lengthMm, double fromMmS, double toMmS, const Motion& m)
{
    if (lengthMm <= 0)
        return 0;
    const double a = m.accelerationMmS2;
    const double ends = (fromMmS * fromMmS + toMmS * toMmS) / 2;
    const double peak = std::min(m.mmS, std::sqrt(ends + a * lengthMm));
    const double changing = (2 * peak * peak - 2 * ends) / (2 * a);
    return (2 * peak - fromMmS - toMmS) / a + std::max(0.0, lengthMm - changing) / peak;
}

double cornerSpeed(double turn, const Motion& m)
{
    const double change = 2 * std::sin(std::clamp(turn, 0.0, pi) / 2);
    return change * m.mmS <= m.cornerMmS ? m.mmS : m.cornerMmS / change;
}

double loopSeconds(const mesh::Loop& loop, const Motion& m)
{
    const std::size_t n = loop.size();
    if (n < 2)
        return 0;
    std::vector<double> length(n), speed(n + 1); // speed at the beginning of each side
    for (std::size_t i = 0; i < n; ++i)
        length[i] = mesh::length(loop[(i + 1) % n] - loop[i]);
    speed[0] = speed[n] = std::min(m.mmS, m.cornerMmS);
    for (std::size_t i = 1; i < n; ++i)
        speed[i] = cornerSpeed(turnBetween(loop[i] - loop[i - 1], loop[(i + 1) % n] - loop[i]), m);
    for (std::size_t i = 0; i < n; ++i)
        speed[i + 1] = std::min(speed[i + 1], reachedMmS(speed[i], length[i], m.accelerationMmS2));
    for (std::size_t i = n; i-- > 0;)
        speed[i] = std::min(speed[i], reachedMmS(speed[i + 1], length[i], m.accelerationMmS2));
    double seconds = 0;
    for (std::size_t i = 0; i < n; ++i)
        seconds += runSeconds(length[i], speed[i], speed[i + 1], m);
    return seconds;
}

double patternRunMm(InfillPattern pattern, double share, double pitchMm)
{
    if (share > 0 && pattern == InfillPattern::Honeycomb)
        return 2 * pitchMm / (std::sqrt(3.0) * share);
    if (share > 0 && pattern == InfillPattern::Gyroid)
        return pi / 4 * gyroidAreaOfCell * pitchMm / share / 2;
    return std::numeric_limits<double>::infinity();
}

double patternLength(InfillPattern pattern)
{
    return pattern == InfillPattern::Honeycomb ? 4.0 / 3 : 1.0;
}

FillFigures fillFigures(double areaMm2, double outlineMm, double share, double pitchMm, InfillPattern pattern,
                        const Motion& m)
{
    FillFigures out;
    if (!(areaMm2 > 0 && outlineMm > 0 && share > 0))
        return out;
    out.lengthMm = patternLength(pattern) * share * areaMm2 / pitchMm;
    out.runMm = std::max(pitchMm, std::min(pi * areaMm2 / outlineMm, patternRunMm(pattern, share, pitchMm)));
    const double corner = cornerSpeed(pi / 2, m);
    out.seconds = out.lengthMm / out.runMm * runSeconds(out.runMm, corner, corner, m);
    return out;
}

} // namespace quoin::core
