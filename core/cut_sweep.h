// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quick_fit.h"
#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <utility>
#include <vector>

namespace quoin::core {

/// What sweeps look at instead of a mesh: its points and edges, few points that stand for all, and some inside.
struct CutSketch {
    const mesh::Mesh* mesh = nullptr; ///< must outlive the sketch
    std::vector<std::pair<mesh::Index, mesh::Index>> edges;
    mesh::Buffer<mesh::Vec3> outline; ///< corners of the hulls of its bodies
    mesh::Buffer<mesh::Vec3> few;     ///< vertices, one a cube of space
    mesh::Buffer<mesh::Vec3> inside;  ///< points in the solid
    double sizeMm = 0;                ///< diagonal of the box around it
};

/// @param outline  points with the same hull as the mesh, or its bodies
CutSketch sketchOf(const mesh::Mesh& mesh, mesh::Buffer<mesh::Vec3> outline);

/// What a plane at one offset would meet.
struct SweepLevel {
    double at = 0;        ///< offset along the normal, mm
    double areaMm2 = 0;   ///< of the section
    double outlineMm = 0; ///< length of its outline: the seam
    int below = 0;        ///< connected parts of the surface below
    int above = 0;
};

/// All planes with one normal, at even offsets: areas and outlines summed over the triangles that each plane meets,
/// connected parts by joining vertices in the order in which the plane passes them. Linear in the triangles and their
/// height in levels.
class CutSweep {
public:
    CutSweep(const CutSketch& sketch, mesh::Vec3 normal, int levels);

    mesh::Vec3 normal() const { return m_normal; }
    double low() const { return m_low; }
    double high() const { return m_high; }
    const std::vector<SweepLevel>& levels() const { return m_levels; }
    /// The level nearest to an offset.
    const SweepLevel& near(double at) const;

    /// Points of one side of a plane: corners of what the plane makes there are among them.
    /// @param solid  also points inside
    mesh::Buffer<mesh::Vec3> side(double at, bool above, bool solid) const;
    /// Points between two planes, the same way.
    mesh::Buffer<mesh::Vec3> between(double low, double high) const;

private:
    void section();
    void parts();
    void addCrossings(double at, mesh::Buffer<mesh::Vec3>& points) const;
    std::size_t levelAbove(double d) const;

    const CutSketch& m_sketch;
    mesh::Vec3 m_normal;
    std::vector<double> m_heights; ///< of the vertices
    double m_low = 1e300, m_high = -1e300;
    std::vector<SweepLevel> m_levels;
};

/// How far a plane may go so that what it leaves on one side still fits, by QuickFit.
/// @param downs  directions to stand on, besides the new face
/// @param halvings  how finely it is looked for: of the way that there is
double farthestFit(const CutSweep& sweep, bool above, const QuickFit& fit, std::span<const mesh::Vec3> downs,
                   int halvings = 8);

/// 2 or 3 when so many slices across one of the directions seem to fit, one piece each; `more` when none of them does.
int fewSlices(const CutSketch& sketch, std::span<const mesh::Vec3> directions, const QuickFit& fit,
              std::span<const mesh::Vec3> downs, int more);

} // namespace quoin::core
