// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/assembly.h"
#include "core/bed.h"
#include "core/joint.h"
#include "core/load_case.h"
#include "core/material.h"
#include "core/suggest.h"
#include "mesh/model_file.h"

#include <string>
#include <vector>

namespace quoin::core {

/// The scaled part: where it came from and what was done to it.
struct Part {
    std::string name;       ///< file name without folder and extension
    std::string sourceFile; ///< as the user gave it
    std::string sourceSha256;
    mesh::Unit sourceUnit = mesh::Unit::Millimetre;
    double scale = 1;
    std::string material = "PLA";
    mesh::MeshPtr mesh; ///< scaled (and repaired, if asked)
    std::vector<std::string> repairs;
};

/// Everything that a finished split is made of: what the project file keeps and the proof reads.
struct Project {
    Part part;
    std::vector<Bed> beds;
    double marginMm = 5;
    bool anyRotation = false;
    bool islandsApart = true;
    CutPlan plan;
    std::vector<Piece> pieces;
    std::vector<Seam> seams;
    JointOptions jointOptions;
    JointLayout layout;
    LoadCase load;           ///< what strength is estimated for
    AssemblyPlan assembly;   ///< the order in which the pieces go together; found when the project is exported
    Suggestion suggestion;   ///< empty words when the user made every cut
    std::vector<Note> notes; ///< for the report, in order
};

} // namespace quoin::core
