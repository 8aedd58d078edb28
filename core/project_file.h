// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/project.h"

#include <filesystem>
#include <nlohmann/json.hpp>

namespace quoin::core {

inline constexpr int projectVersion = 2;

/// The project as JSON: part, beds, cut plan, pieces' paths and poses, seams, joints, marks. Meshes stay outside
/// (part.ply beside it, by relative path and hash).
nlohmann::json toJson(const Project& project);

/// Reads it back; pieces' meshes and the part's mesh are left empty, seams' regions are kept. VersionTooNew,
/// FileMalformed with the place in the document.
Result<Project> projectFromJson(const nlohmann::json& document, const std::string& file);

} // namespace quoin::core
