// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/mesh.h"
#include "mesh/recess.h"

#include <vector>

namespace quoin::core {

/// What a plate of a coupon must hold.
struct PlateOrder {
    int steps = 1;               ///< numbers 1 to steps
    std::vector<double> mouthMm; ///< widest mouth of each pair, across; one row each under the numbers
    double depthMm = 0;          ///< of the deepest pocket
};

/// How it is divided: lines of columns, each line with a row of numbers and a row for each pair. The plate stands on
/// z = 0, middle at x = y = 0; the first line is at the back (largest y).
struct PlateLayout {
    int steps = 0, columns = 0, lines = 0;
    double pitchMm = 0, numberRowMm = 0;
    std::vector<double> rowMm;   ///< along y, one a pair
    mesh::Vec3 plateMm{0, 0, 0}; ///< width, depth, height

    double lineMm() const;
    mesh::Vec2 numberAt(int step) const;                   ///< @param step  from 0
    mesh::Vec2 pocketAt(int step, std::size_t pair) const; ///< middle of a pocket
    mesh::Plane top() const { return {{0, 0, 1}, plateMm.z}; }
};

/// As few lines as the bed takes. DoesNotFit with what room is missing.
Result<PlateLayout> layoutOnBed(const PlateOrder& order, const Bed& bed, double marginMm);

/// The bare plate, its upper face labelled plateTopLabel.
mesh::Mesh barePlate(const PlateLayout& layout);
inline constexpr mesh::Label plateTopLabel = 1;

/// The numbers to be sunk into the upper face, one recess a figure.
std::vector<mesh::Recess> numberRecesses(const PlateLayout& layout);

} // namespace quoin::core
