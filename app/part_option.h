// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "mesh/result.h"

#include <string>
#include <vector>

namespace quoin::app {

/// The ids of the parts that were named with --part; of all when none was. BadArgument, with the names there are.
Result<std::vector<int>> partIds(const core::Design& design, const std::vector<std::string>& names);

} // namespace quoin::app
