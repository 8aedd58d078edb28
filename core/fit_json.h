// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/fit_table.h"
#include "core/json_place.h"

namespace quoin::core {

/// A row of the fit table for files, and back; JsonPlace::Wrong names the place.
nlohmann::ordered_json fitRowJson(const FitRow& row);
FitRow fitRowFrom(const JsonPlace& place);

} // namespace quoin::core
