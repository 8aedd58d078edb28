// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "core/fit_table.h"

namespace quoin::core {

/// The part with those of the maker's own rows that count for its material and machine, so that its design says all
/// that its joints are made by. Rows that it had before go.
PartDesign withFits(const PartDesign& part, const FitTable& table);

/// Every part of a design so.
Design withFits(const Design& design, const FitTable& table);

} // namespace quoin::core
