// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "mesh/context.h"
#include "mesh/result.h"

#include <filesystem>
#include <nlohmann/json.hpp>
#include <vector>

namespace quoin::core {

/// Whether a document says that it is the project of an export (core/project_file.h).
bool isExportDocument(const nlohmann::json& document);

struct ReopenedExport {
    Design design;
    std::vector<Note> notes;
};

/// A design from an export: one part whose source is part.ply, already at its full size and so at scale 1, with the
/// export's cuts, beds and options. Joints are laid out anew, which a note says.
/// @param file  the project.quoin.json, beside which part.ply lies
Result<ReopenedExport> designFromExport(const nlohmann::json& document, const std::filesystem::path& file,
                                        const Context& context = {});

} // namespace quoin::core
