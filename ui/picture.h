// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/project.h"
#include "ui/scene.h"

#include <filesystem>
#include <vector>

namespace quoin::ui {

/// Writes assembled.png (the pieces in place, numbered, seams as dark lines, a person or a bed beside them for the
/// size) and exploded.png (the pieces moved apart along the cuts, what lies loose between them half way) into a folder that is
/// there. Fits core::ExportOptions::draw.
/// @param jointed  the pieces with joints sunk in, assembled frame, in the order of project.pieces
Status drawPictures(const std::filesystem::path& folder, const core::Project& project,
                    const std::vector<mesh::Mesh>& jointed);

/// The two scenes by themselves. They point at `jointed` (and the exploded one at `loose`, in the order of the
/// project's joints), which must outlive them.
Scene assembledScene(const core::Project& project, const std::vector<mesh::Mesh>& jointed);
Scene explodedScene(const core::Project& project, const std::vector<mesh::Mesh>& jointed,
                    const std::vector<mesh::Mesh>& loose);

} // namespace quoin::ui
