// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <string>
#include <string_view>

namespace quoin::core {

/// Reads a length as people type it: "1800mm", "1.8 m", "30cm", "12 inch", "12in", "12\"", "5" (mm). Result in mm.
/// BadArgument for anything else, for NaN and infinity.
Result<double> lengthMmFrom(std::string_view text);

} // namespace quoin::core
