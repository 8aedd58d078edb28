// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "core/cut_plan.h"
#include "core/keep_clear.h"
#include "mesh/result.h"

#include <optional>
#include <string>
#include <vector>

namespace quoin::core {

/// A place where a cut of a plan passes a marked place, within what the cuts above it have left; nullopt when none
/// does.
std::optional<mesh::Vec3> passesMarked(const CutPlan& plan, const KeepClear& marked);

/// Whether there is any hope: BadArgument when a cut that must come first passes a marked place, DoesNotFit when a
/// marked place is itself too large for every bed, since it has to stay on one piece.
Status marksAllow(const KeepClear& marked, const CutPlan& start, const std::vector<Bed>& beds, double marginMm);

/// That marked places stand in the way of every cut that was tried, and what would help.
/// @param first  what the first of them failed by
Problem marksBlock(const Problem& first);

/// "(10.0, 2.5, 0.0) mm"
std::string placeWords(mesh::Vec3 p);

} // namespace quoin::core
