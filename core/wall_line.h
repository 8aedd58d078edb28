// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

#include <cstddef>
#include <vector>

namespace quoin::core {

/// The middle line of the wall of a thin section: a tube, a shell, a frame, a long strip.
///
/// From places all along the outer outline it is halfway along the inward normal to the other side of the wall, where
/// the outline is as near as that (which leaves out corners). Of a strip, which has one outline all round, the line
/// runs there and back: the end is found as the place about which both runs lie on each other best.
class WallLine {
public:
    /// @param region  one connected section
    explicit WallLine(const mesh::Region& region);

    /// Whether its area is that of a wall more than twelve times as long as its greatest thickness.
    bool isLongAndThin() const { return m_longAndThin; }
    /// Runs round a hole.
    bool closed() const { return m_closed; }
    double lengthMm() const { return m_lengthMm; }
    /// Of the wall, in the middle of all places; mm.
    double thicknessMm() const { return m_thicknessMm; }

    /// Places on the line about number i of `count` evenly spaced ones, the best first: up to a third of the spacing
    /// away to either side.
    std::vector<mesh::Vec2> placesAbout(std::size_t i, std::size_t count) const;
    const std::vector<mesh::Vec2>& line() const { return m_line; }

private:
    void follow(const mesh::Region& region);
    void openUp();
    mesh::Vec2 placeAt(double alongMm) const;

    std::vector<mesh::Vec2> m_line;
    std::vector<double> m_along; ///< of each place of the line, from its start
    double m_lengthMm = 0, m_thicknessMm = 0;
    bool m_closed = false, m_longAndThin = false;
};

} // namespace quoin::core
