// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/load_case_json.h"
#include "core/strength.h"

#include <nlohmann/json.hpp>

namespace quoin::core {

/// Estimates for programs: every face with its forces and checks, units in the keys. A safety that is infinite (nothing
/// is asked) is null. The caution is always there.
nlohmann::json toJson(const StrengthReport& report, const LoadCase& load);

/// What strength.json holds: the above with a `kind`, or `not_estimated` with the reason in its place.
nlohmann::json toJson(const StrengthEstimate& estimate);

} // namespace quoin::core
