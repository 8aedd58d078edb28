// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_project.h"
#include "core/project.h"
#include "core/proof.h"
#include "mesh/context.h"

#include <filesystem>
#include <functional>

namespace quoin::core {

struct ExportOptions {
    bool force = false; ///< may replace an earlier export (only files that an export wrote)
    bool evenIfProofFails = false;
    PrintSetup printing; ///< what weight, time and cost are estimated with
    /// Draws assembled.png and exploded.png into a folder (the ui floor does; core knows no VTK). May be empty.
    std::function<Status(const std::filesystem::path& folder, const Project& project,
                         const std::vector<mesh::Mesh>& jointed)>
        draw;
};

struct Exported {
    std::filesystem::path folder;
    Proof proof;
    std::size_t pieceFiles = 0;
    ProjectEstimate estimate; ///< no pieces when it couldn't be made: its notes say why
};

/// Whether an export may go into a folder: one that isn't there, an empty one, or, with `force`, an earlier export.
/// FileExists otherwise.
Status mayExport(const std::filesystem::path& folder, bool force);

/// Writes everything into a folder beside the wanted one, proves it from the files, then renames it into place. A run
/// that fails, or whose proof fails, leaves what was there as it was.
Result<Exported> exportProject(const Project& project, const std::filesystem::path& folder,
                               const ExportOptions& options, const Context& context = {});

} // namespace quoin::core
