// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "mesh/result.h"

namespace quoin::core {

/// Whether the numbers of a joint are such that geometry can be made of them at all: finite; diameter, depth and chord
/// error in the ranges that there are; no end clearance under zero. What a kind asks beyond that is for it to say.
/// BadArgument in words.
Status checkNumbers(const Joint& joint);

} // namespace quoin::core
