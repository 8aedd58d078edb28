// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <filesystem>
#include <functional>
#include <string_view>

namespace quoin::mesh {

/// Writes a file under a temporary name in its own folder, flushes it to the disk, and renames it over `file`. On any
/// failure the temporary file is removed and what stood at `file` is untouched.
/// @param write  called with the temporary path; its failure is handed on.
Status writeAtomically(const std::filesystem::path& file,
                       const std::function<Status(const std::filesystem::path& temporary)>& write);

/// The same for content at hand.
Status writeAtomically(const std::filesystem::path& file, std::string_view content);

} // namespace quoin::mesh
