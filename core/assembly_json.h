// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/assembly.h"
#include "core/json_place.h"

namespace quoin::core {

/// An order of assembly for project files and the proof.
nlohmann::json toJson(const AssemblyPlan& plan);
/// Reads it back and checks every value; JsonPlace::Wrong names the place. @param pieces, joints  how many there are
AssemblyPlan assemblyPlanFrom(const JsonPlace& place, int pieces, std::size_t joints);

} // namespace quoin::core
