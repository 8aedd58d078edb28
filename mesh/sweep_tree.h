// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/sweep_element.h"

#include <algorithm>
#include <array>
#include <vector>

/// For mesh/sweep*.cpp only: trees over swept triangles.
namespace quoin::mesh {

/// Directions across a motion in which groups are told apart, evenly over half a turn: 0 is the first coordinate.
inline constexpr std::size_t sweepAxes = 12;
inline constexpr std::size_t sweepAlongF = sweepAxes / 2;

/// What holds a group of elements: extents in all directions across, and along.
struct SweepExtents {
    std::array<double, sweepAxes> low, high;
    double bottom = 1e300, top = -1e300;

    SweepExtents();
    explicit SweepExtents(const SweepElement& e);
    void add(const SweepExtents& o);
};

/// Largest gap over the directions, for the nearest of the shifts of a by whole periods; not positive when none tells
/// them apart.
double apart(const SweepExtents& a, const SweepExtents& b, const SweepFrame& frame);

/// Gap in the first coordinate alone.
inline double apartInRadius(const SweepExtents& a, const SweepExtents& b)
{
    return std::max(b.low[0] - a.high[0], a.low[0] - b.high[0]);
}

struct SweptBody::Impl {
    struct Node {
        SweepExtents extents;
        std::size_t link = 0;  ///< inner: right child (left: next); leaf: first element
        std::size_t count = 0; ///< 0: inner
    };
    SweepFrame frame;
    std::vector<SweepElement> elements;
    std::vector<SweepExtents> extents; ///< of the elements
    std::vector<Node> nodes;
    double low = 1e300, high = -1e300;

    Impl(const Mesh& mesh, const Sweep& sweep);

private:
    struct Place {
        Vec3 at;
        std::size_t element;
    };
    void sort(std::vector<Place>& places, std::size_t first, std::size_t count);
    void fill(std::size_t node);
};

} // namespace quoin::mesh
