// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/stroke_font.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <numbers>
#include <sstream>
#include <string>

namespace quoin::core {

using mesh::Vec2;

namespace {

constexpr double letterGap = 0.32;
constexpr double chordDegrees = 15;
constexpr double samePlace = 1e-6; ///< rounding of the arcs, hundredths of the height

/// A letter as a drawing for a pen, lengths in hundredths of the height of a capital:
/// "M x y" lifts the pen and puts it down there, "L x y" draws a straight line,
/// "A cx cy rx ry from to" draws an arc of an ellipse between two angles in degrees, after a line to its beginning.
struct Glyph {
    char letter;
    double width;
    const char* pen;
};

// Proportions: a 2:3 box for most letters. Pairs that are mixed up on a workshop floor are kept apart: 0 is narrow and
// O round, I has serifs and 1 a flag, 3 has a flat top, M has upright sides and W slanted ones.
constexpr std::array glyphs{
    Glyph{'A', 68, "M 0 0 L 34 100 L 68 0 M 11 33 L 57 33"},
    Glyph{'B', 58, "M 0 0 L 0 100 L 32 100 A 32 76 22 24 90 -90 L 0 52 M 32 52 A 32 26 26 26 90 -90 L 0 0"},
    Glyph{'C', 62, "A 37 50 37 50 48 312"},
    Glyph{'D', 64, "M 0 0 L 0 100 L 20 100 A 20 50 44 50 90 -90 L 0 0"},
    Glyph{'E', 52, "M 52 100 L 0 100 L 0 0 L 52 0 M 0 52 L 42 52"},
    Glyph{'F', 50, "M 50 100 L 0 100 L 0 0 M 0 52 L 40 52"},
    Glyph{'G', 71, "A 37 50 37 50 48 335 L 71 47 L 44 47"},
    Glyph{'H', 62, "M 0 0 L 0 100 M 62 0 L 62 100 M 0 51 L 62 51"},
    Glyph{'I', 36, "M 0 0 L 36 0 M 0 100 L 36 100 M 18 0 L 18 100"},
    Glyph{'J', 48, "M 16 100 L 48 100 L 48 24 A 24 24 24 24 0 -165"},
    Glyph{'K', 60, "M 0 0 L 0 100 M 57 100 L 0 38 M 20 60 L 60 0"},
    Glyph{'L', 50, "M 0 100 L 0 0 L 50 0"},
    Glyph{'M', 76, "M 0 0 L 0 100 L 38 35 L 76 100 L 76 0"},
    Glyph{'N', 64, "M 0 0 L 0 100 L 64 0 L 64 100"},
    Glyph{'O', 84, "A 42 50 42 50 90 450"},
    Glyph{'P', 56, "M 0 0 L 0 100 L 29 100 A 29 73 27 27 90 -90 L 0 46"},
    Glyph{'Q', 84, "A 42 50 42 50 90 450 M 50 26 L 84 0"},
    Glyph{'R', 60, "M 0 0 L 0 100 L 29 100 A 29 73 27 27 90 -90 L 0 46 M 28 46 L 60 0"},
    Glyph{'S', 58, "A 29 75 26 25 35 270 A 29 25 29 25 90 -148"},
    Glyph{'T', 64, "M 0 100 L 64 100 M 32 100 L 32 0"},
    Glyph{'U', 62, "M 0 100 L 0 31 A 31 31 31 31 180 360 L 62 100"},
    Glyph{'V', 68, "M 0 100 L 34 0 L 68 100"},
    Glyph{'W', 98, "M 0 100 L 23 0 L 49 76 L 75 0 L 98 100"},
    Glyph{'X', 64, "M 0 0 L 64 100 M 0 100 L 64 0"},
    Glyph{'Y', 66, "M 0 100 L 33 47 L 66 100 M 33 47 L 33 0"},
    Glyph{'Z', 60, "M 0 100 L 60 100 L 0 0 L 60 0"},
    Glyph{'0', 50, "A 25 50 25 50 90 450"},
    Glyph{'1', 42, "M 0 76 L 22 100 L 22 0 M 2 0 L 42 0"},
    Glyph{'2', 54, "A 27 73 27 27 165 -38 L 0 0 L 54 0"},
    Glyph{'3', 54, "M 3 100 L 50 100 L 24 60 A 24 30 30 30 90 -143"},
    Glyph{'4', 60, "M 45 0 L 45 100 L 0 27 L 60 27"},
    Glyph{'5', 54, "M 48 100 L 9 100 L 6 54 A 25 31 29 31 132 -143"},
    Glyph{'6', 56, "A 56 29 56 71 100 180 A 28 29 28 29 180 540 M 2 -30 L 54 -30"},
    Glyph{'7', 54, "M 0 100 L 54 100 L 16 0"},
    Glyph{'8', 56, "A 28 76 24 24 -90 270 M 28 52 A 28 26 28 26 90 450"},
    Glyph{'9', 56, "A 0 71 56 71 280 360 A 28 71 28 29 0 360 M 2 -30 L 54 -30"},
    Glyph{'-', 40, "M 0 50 L 40 50"},
    Glyph{'.', 4, "M 0 0 L 4 0"},
    Glyph{'_', 54, "M 0 -30 L 54 -30"},
    Glyph{' ', 30, ""},
};
constexpr Glyph unknownGlyph{'?', 56, "M 0 0 L 0 100 L 56 100 L 56 0 L 0 0"};

const Glyph& glyphOf(char c)
{
    const char capital = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    const auto found = std::ranges::find(glyphs, capital, &Glyph::letter);
    return found == glyphs.end() ? unknownGlyph : *found;
}

using Path = std::vector<Vec2>;

/// A point of the pen's drawing; one that repeats the last (an arc that begins where a line ended) is left out.
void draw(Path& path, Vec2 p)
{
    if (path.empty() || length(path.back() - p) > samePlace)
        path.push_back(p);
}

void drawArc(Path& path, Vec2 centre, Vec2 radii, double fromDegrees, double toDegrees)
{
    const int chords = static_cast<int>(std::ceil(std::abs(toDegrees - fromDegrees) / chordDegrees));
    for (int i = 0; i <= chords; ++i) {
        const double degrees = fromDegrees + (toDegrees - fromDegrees) * i / chords;
        const double angle = degrees * std::numbers::pi / 180;
        draw(path, {centre.x + radii.x * std::cos(angle), centre.y + radii.y * std::sin(angle)});
    }
}

std::vector<Path> pathsOf(const char* pen)
{
    std::istringstream in(pen);
    std::vector<Path> paths(1);
    for (char order = 0; in >> order;) {
        std::array<double, 6> number{};
        const std::size_t count = order == 'A' ? 6 : 2;
        for (std::size_t i = 0; i < count; ++i)
            in >> number[i];
        if (order == 'M' && !paths.back().empty())
            paths.emplace_back();
        if (order == 'A')
            drawArc(paths.back(), {number[0], number[1]}, {number[2], number[3]}, number[4], number[5]);
        else
            draw(paths.back(), {number[0], number[1]});
    }
    if (paths.back().empty())
        paths.pop_back();
    return paths;
}

} // namespace

StrokeText strokeText(std::string_view text)
{
    constexpr double unit = 0.01;
    StrokeText out;
    double x = 0;
    for (const char c : text) {
        const Glyph& glyph = glyphOf(c);
        for (Path& path : pathsOf(glyph.pen)) {
            for (Vec2& p : path) {
                p = {x + unit * p.x, unit * p.y};
                out.bottom = std::min(out.bottom, p.y);
            }
            out.paths.push_back(std::move(path));
        }
        out.width = x + unit * glyph.width;
        x = out.width + letterGap;
    }
    return out;
}

} // namespace quoin::core
