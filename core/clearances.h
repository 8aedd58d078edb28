// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/fit_table.h"

#include <string_view>
#include <vector>

namespace quoin::core {

/// Clearance per side in mm between the two halves of a joint, by what goes into what (FitProcess).
struct Clearances {
    double dowelMm = 0.25, keyMm = 0.25, threadMm = 0.35, rodMm = 0.25;

    double of(FitProcess process) const;
    double& of(FitProcess process);
    friend bool operator==(const Clearances&, const Clearances&) = default;
};

/// Those of a fit, from the maker's own rows over the shipped ones.
Clearances clearancesFor(const std::vector<FitRow>& own, std::string_view material, std::string_view machine, Fit fit);

} // namespace quoin::core
