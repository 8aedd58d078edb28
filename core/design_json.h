// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "mesh/result.h"

#include <nlohmann/json.hpp>

namespace quoin::core {

inline constexpr int designVersion = 3; ///< 1 is the project of an export (core/project_file.h)
inline constexpr const char* designKind = "quoin design";

/// Where a part's mesh lies.
struct MeshReference {
    std::string file; ///< relative to the design's file, "heron.quoin-meshes/0123....ply"
    std::string sha256;
    std::size_t triangles = 0;
};

/// A design as its file holds it: the meshes stay outside.
struct DesignDocument {
    Design design;                     ///< with PartDesign::source null when it was read
    std::vector<MeshReference> meshes; ///< one a part, in order
};

/// The document as JSON; every length in mm, angles in radians, as the keys say.
nlohmann::json toJson(const DesignDocument& document);

/// Reads it back and checks every value. VersionTooNew; FileMalformed with the place in the document.
/// @param file  for problems
Result<DesignDocument> designFromJson(const nlohmann::json& document, const std::string& file);

} // namespace quoin::core
