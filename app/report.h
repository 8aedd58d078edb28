// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/export.h"
#include "core/project.h"
#include "core/proof.h"

#include <nlohmann/json.hpp>

namespace quoin::app {

/// Claims in short: how many hold, and every one that doesn't, with its numbers.
/// The weakest seam, and warnings, with the caution above.
void printStrength(const core::Proof& proof);
void printProof(const core::Proof& proof);

/// What a split did, for people. @param weights  that its cuts were looked for with
void printSplit(const core::Project& project, const core::Exported& exported, const core::CutWeights& weights = {});

/// The same for programs.
nlohmann::json splitJson(const core::Project& project, const core::Exported& exported,
                         const core::CutWeights& weights = {});

} // namespace quoin::app
