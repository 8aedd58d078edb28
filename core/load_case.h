// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <string>
#include <vector>

/// What a part has to bear, as its maker says. What follows from it is core/strength.h's business.
namespace quoin::core {

/// A force that the maker gives: a hand, the wind, a cable.
struct ExtraForce {
    mesh::Vec3 at{0, 0, 0};     ///< assembled frame (that of the scaled part), mm
    mesh::Vec3 forceN{0, 0, 0}; ///< taken as it is: no dynamic factor
    int piece = 0;              ///< the piece that it acts on; 0: the one that holds the point, or is nearest to it
    friend bool operator==(const ExtraForce&, const ExtraForce&) = default;
};

struct LoadCase {
    /// Times own weight. 2: a weight that is let go at once strains what it hangs on twice as much as at rest (energy
    /// of a mass and a spring: Timoshenko, Strength of Materials), as when a sculpture is set down, carried or pushed.
    double dynamicFactor = 2;
    mesh::Vec3 gravity{0, 0, -1}; ///< which way is down in the assembled frame, any length
    std::vector<ExtraForce> extra;
    std::vector<int> held;  ///< pieces fixed to the ground or the wall, by number; none: the one with the lowest foot
    double fillShare = 1;   ///< of the volume that is printed: solid unless told
    double safetyLimit = 3; ///< below it a check is a warning: printed plastic near people (common practice, no source)
    double glueMpa = 2;     ///< what glue on printed faces bears, pulled or sheared (low end; common practice, no
                            ///< source); 0: no glue
    std::string boltClass = "8.8";
    friend bool operator==(const LoadCase&, const LoadCase&) = default;
};

} // namespace quoin::core
