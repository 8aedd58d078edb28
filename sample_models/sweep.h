// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <optional>
#include <vector>

namespace quoin::samples {

using mesh::Vec2;
using mesh::Vec3;

/// A smooth value over a parameter: monotone between its knots, so that a thickness never swings past what was asked
/// (Fritsch and Carlson, SIAM Journal on Numerical Analysis 17(2), 1980). Constant outside the knots.
class Profile {
public:
    /// @param knots  (parameter, value), parameters growing; at least two
    explicit Profile(std::vector<Vec2> knots);
    double operator()(double t) const;

private:
    std::vector<Vec2> m_knots;
    std::vector<double> m_slopes;
};

/// A cubic spline through points (twice continuously differentiable), parameter from 0 to 1 in proportion to the chord
/// lengths.
class Path {
public:
    /// @param points  mm, at least three
    /// @param startDirection, endDirection  where given, the curve begins and ends along them; else it runs out
    /// straight
    explicit Path(std::vector<Vec3> points, std::optional<Vec3> startDirection = {},
                  std::optional<Vec3> endDirection = {});
    Vec3 at(double t) const;
    /// Unit tangent.
    Vec3 tangent(double t) const;
    /// Parameter of the i-th point.
    double knot(std::size_t i) const { return m_knots[i] / m_knots.back(); }
    /// Sum of the chords, mm.
    double chordsMm() const { return m_knots.back(); }

private:
    struct Place {
        std::size_t span;
        double from, to, width; ///< chord-length distances to the ends of the span, and its width
    };
    Place locate(double t) const;

    std::vector<Vec3> m_points;
    std::vector<double> m_knots; ///< chord length up to each point, mm
    std::vector<Vec3> m_bend;    ///< second derivatives by chord length
};

/// Half axes of an egg-shaped section across a spine that lies in the x-z plane, mm.
struct Section {
    double side, up, down;
};

/// The section as a ring of points across the spine: y is sideways, "up" is the tangent turned a quarter up.
std::vector<Vec3> sectionRing(Vec3 centre, Vec3 tangent, Section section, int sides);

/// A quarter circle that closes a body: 1 up to `start`, then falling round to 0 at 1.
double roundingAtEnd(double t, double start);

/// Parameters from 0 to 1: evenly spaced up to `start`, then closer and closer as a round end needs.
/// The last one, 1, is left out: it is the tip.
std::vector<double> stationsToTip(int straight, int round, double start);

} // namespace quoin::samples
