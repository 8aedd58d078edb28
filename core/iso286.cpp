// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/iso286.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <string>

namespace quoin::core {

namespace {

constexpr double micrometre = 1e-3;
constexpr double smallestMm = 1; ///< below, grades from IT14 on don't exist and deviations need finer ranges
constexpr int firstGrade = 5, lastGrade = 14;
constexpr int lastGradeOfKmn = 7;
constexpr std::size_t ranges = 13;

/// Sizes up to and including, mm.
constexpr std::array<double, ranges> upTo{3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500};

/// IT5 to IT14 in micrometres, one row a range: ISO 286-1 table 1. The first row, and IT10 to IT14 of the last two, are
/// from memory.
constexpr std::array<std::array<int, lastGrade - firstGrade + 1>, ranges> tolerances{{
    {4, 6, 10, 14, 25, 40, 60, 100, 140, 250},
    {5, 8, 12, 18, 30, 48, 75, 120, 180, 300},
    {6, 9, 15, 22, 36, 58, 90, 150, 220, 360},
    {8, 11, 18, 27, 43, 70, 110, 180, 270, 430},
    {9, 13, 21, 33, 52, 84, 130, 210, 330, 520},
    {11, 16, 25, 39, 62, 100, 160, 250, 390, 620},
    {13, 19, 30, 46, 74, 120, 190, 300, 460, 740},
    {15, 22, 35, 54, 87, 140, 220, 350, 540, 870},
    {18, 25, 40, 63, 100, 160, 250, 400, 630, 1000},
    {20, 29, 46, 72, 115, 185, 290, 460, 720, 1150},
    {23, 32, 52, 81, 130, 210, 320, 520, 810, 1300},
    {25, 36, 57, 89, 140, 230, 360, 570, 890, 1400},
    {27, 40, 63, 97, 155, 250, 400, 630, 970, 1550},
}};

/// Fundamental deviations of shafts in micrometres, one column a range: es of d to h (the side nearest to the nominal
/// size), ei of k to p. ISO 286-1 tables 4 and 5; d, e, f, m and n from memory. Those of k, m, n hold for grades 4
/// to 7.
struct Deviation {
    std::string_view letter;
    bool upper; ///< es is given; else ei
    std::array<int, ranges> micrometres;
};
constexpr std::array<Deviation, 9> deviations{{
    {"d", true, {-20, -30, -40, -50, -65, -80, -100, -120, -145, -170, -190, -210, -230}},
    {"e", true, {-14, -20, -25, -32, -40, -50, -60, -72, -85, -100, -110, -125, -135}},
    {"f", true, {-6, -10, -13, -16, -20, -25, -30, -36, -43, -50, -56, -62, -68}},
    {"g", true, {-2, -4, -5, -6, -7, -9, -10, -12, -14, -15, -17, -18, -20}},
    {"h", true, {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0}},
    {"k", false, {0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5}},
    {"m", false, {2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23}},
    {"n", false, {4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40}},
    {"p", false, {6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68}},
}};

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

Result<std::size_t> rangeOf(double sizeMm)
{
    if (!(sizeMm >= smallestMm && sizeMm <= upTo.back()))
        return refused(fmt::format("{:g} mm has no ISO 286 limits here", sizeMm),
                       fmt::format("Sizes from {:g} to {:g} mm are known.", smallestMm, upTo.back()));
    return static_cast<std::size_t>(std::lower_bound(upTo.begin(), upTo.end(), sizeMm) - upTo.begin());
}

/// A class taken apart: "js", 7, and whether it is a hole's.
struct Class {
    std::string letter; ///< small
    int grade = 0;
    bool hole = false;
};

Problem unknownClass(std::string_view text)
{
    return refused(fmt::format("\"{}\" is no tolerance class that is known here", text),
                   "Write a letter and a grade from 5 to 14, such as H7 for a hole (D, E, F, G, H, JS) or g6 for a "
                   "shaft (d, e, f, g, h, js, k, m, n, p).");
}

Result<Class> classFrom(std::string_view text)
{
    const auto isLetter = [](char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); };
    const auto isCapital = [](char c) { return c >= 'A' && c <= 'Z'; };
    const auto digits = std::find_if_not(text.begin(), text.end(), isLetter);
    const std::string_view letters = text.substr(0, static_cast<std::size_t>(digits - text.begin()));
    const std::string_view number = text.substr(letters.size());
    Class c;
    const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), c.grade);
    if (letters.empty() || error != std::errc{} || end != number.data() + number.size())
        return unknownClass(text);
    c.hole = isCapital(letters.front());
    if (!std::all_of(letters.begin(), letters.end(), [&](char l) { return isCapital(l) == c.hole; }))
        return unknownClass(text);
    for (const char l : letters)
        c.letter += static_cast<char>(c.hole ? l - 'A' + 'a' : l);
    return c;
}

/// Limits of a shaft; those of a hole of the same letter lie mirrored about the nominal size for D to H and JS.
Result<IsoLimits> shaftLimits(const Class& c, std::string_view text, double sizeMm)
{
    const auto range = rangeOf(sizeMm);
    if (!range)
        return range.problem();
    const auto tolerance = isoToleranceMm(c.grade, sizeMm);
    if (!tolerance)
        return tolerance.problem();
    if (c.letter == "js")
        return IsoLimits{-*tolerance / 2, *tolerance / 2};
    const auto found =
        std::find_if(deviations.begin(), deviations.end(), [&](const Deviation& d) { return d.letter == c.letter; });
    if (found == deviations.end() || (c.hole && !found->upper))
        return unknownClass(text);
    if (!found->upper && c.letter != "p" && c.grade > lastGradeOfKmn)
        return refused(fmt::format("the deviations of {} are known here up to grade {}", c.letter, lastGradeOfKmn),
                       "Choose a finer grade.");
    const double nearMm = found->micrometres[*range] * micrometre;
    return found->upper ? IsoLimits{nearMm - *tolerance, nearMm} : IsoLimits{nearMm, nearMm + *tolerance};
}

} // namespace

Result<double> isoToleranceMm(int grade, double sizeMm)
{
    const auto range = rangeOf(sizeMm);
    if (!range)
        return range.problem();
    if (grade < firstGrade || grade > lastGrade)
        return refused(fmt::format("grade {} is not known here", grade),
                       fmt::format("Grades IT{} to IT{} are.", firstGrade, lastGrade));
    return tolerances[*range][static_cast<std::size_t>(grade - firstGrade)] * micrometre;
}

Result<IsoLimits> isoLimits(std::string_view toleranceClass, double sizeMm)
{
    const auto c = classFrom(toleranceClass);
    if (!c)
        return c.problem();
    const auto shaft = shaftLimits(*c, toleranceClass, sizeMm);
    if (!shaft || !c->hole)
        return shaft;
    return IsoLimits{-shaft->upperMm, -shaft->lowerMm};
}

Result<IsoFit> isoFit(std::string_view fit, double sizeMm)
{
    const std::size_t slash = fit.find('/');
    const auto isCapital = [](std::string_view t) { return !t.empty() && t.front() >= 'A' && t.front() <= 'Z'; };
    const std::string_view hole = fit.substr(0, slash);
    const std::string_view shaft = slash == fit.npos ? std::string_view{} : fit.substr(slash + 1);
    if (!isCapital(hole) || shaft.empty() || isCapital(shaft))
        return refused(fmt::format("\"{}\" is no fit", fit), "Write the hole's class, a slash and the shaft's: H7/g6.");
    const auto h = isoLimits(hole, sizeMm);
    if (!h)
        return h.problem();
    const auto s = isoLimits(shaft, sizeMm);
    if (!s)
        return s.problem();
    return IsoFit{*h, *s, h->lowerMm - s->upperMm, h->upperMm - s->lowerMm};
}

} // namespace quoin::core
