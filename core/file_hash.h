// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <filesystem>
#include <string>

namespace quoin::core {

/// SHA-256 (FIPS 180-4) of a file's bytes, in lower-case hexadecimal. FileUnreadable on failure.
Result<std::string> sha256OfFile(const std::filesystem::path& file);

} // namespace quoin::core
