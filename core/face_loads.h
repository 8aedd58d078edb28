// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/strength.h"

#include <memory>
#include <optional>
#include <string>

/// What faces have to carry while their joints are being chosen.
namespace quoin::core {

/// How sure a face is to carry its load with some joints.
struct Carried {
    double forceN = 0; ///< axial force and shear together, dynamic factor in it
    double momentNm = 0;
    double safety = 0; ///< of the weakest check
    double limit = 0;  ///< that the maker wants
    std::string weakest;
    bool shared = false; ///< its part of what several seams carry together
    bool enough() const { return safety >= limit; }
};

class FaceLoads {
public:
    /// Everything is kept by reference. Knows nothing of faces where the material's strength isn't known or the load
    /// case doesn't fit the pieces.
    FaceLoads(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
              const std::string& material, const LoadCase& load);

    /// For the joints given, of all seams; those of the same two pieces on the same cut count. None where nothing
    /// strains the face.
    std::optional<Carried> carried(std::size_t seam, const std::vector<Joint>& joints) const;

private:
    const std::vector<Piece>& m_pieces;
    const std::vector<Seam>& m_seams;
    const CutPlan& m_plan;
    const std::string& m_material;
    const LoadCase& m_load;
    std::vector<Joint> m_noJoints;
    std::optional<LoadedFaces> m_loaded; ///< by the pieces without their joints: those are not known yet
};

/// "carries the 38 N at 4.1 times", or why that is too little.
std::string carriedWords(const Carried& carried);

} // namespace quoin::core
