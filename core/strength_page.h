// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/strength.h"

#include <string>

namespace quoin::core {

/// The chapter about strength of the proof's page: the caution, what the figures rest on, and a table by seam. Why
/// there are no figures, where there are none; empty when nothing was estimated and nothing is said about it.
std::string strengthSection(const StrengthEstimate& estimate);

} // namespace quoin::core
