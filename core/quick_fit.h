// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed_fit.h"
#include "core/bed_room.h"

#include <optional>
#include <span>
#include <vector>

namespace quoin::core {

/// A fast answer to whether something fits a bed, from points alone: for ranking thousands of cuts, never for the last
/// word (core/leaf_fit.h has that). It knows nothing of what really lies on the plate.
class QuickFit {
public:
    QuickFit(const std::vector<Bed>& beds, const FitOptions& options);

    /// Whether points with this hull fit a bed standing on one of the directions or, if any rotation is allowed, near
    /// them.
    /// @param downs  unit vectors; those that the plate may lie in
    bool fits(const mesh::Buffer<mesh::Vec3>& points, std::span<const mesh::Vec3> downs) const;

    /// Longest diagonal and largest volume of any bed's room; the sides of the rooms, each once, rising.
    double diagonalMm() const { return m_diagonal; }
    double volumeMm3() const { return m_volume; }
    const std::vector<double>& sidesMm() const { return m_sides; }

private:
    std::vector<BedRoom> m_rooms;
    bool m_free;
    double m_diagonal = 0, m_volume = 0;
    std::vector<double> m_sides;
};

/// Some two hundred points at most that reach furthest in even directions: a hull of them is nearly that of all.
mesh::Buffer<mesh::Vec3> furthestPoints(const mesh::Buffer<mesh::Vec3>& points);

/// Whether a piece fits a bed, as fitOnBeds has it, but with less effort where any rotation is allowed: what fits here
/// fits there.
bool fitsBriefly(const PieceShape& piece, const std::vector<Bed>& beds, const FitOptions& options);

/// How many bodies of a mesh would be printed; nullopt when one of them doesn't fit.
std::optional<int> fittingPieces(const mesh::Mesh& mesh, const std::vector<Bed>& beds, const FitOptions& options,
                                 bool islandsApart);

} // namespace quoin::core
