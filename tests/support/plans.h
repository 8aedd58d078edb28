// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_plan.h"

#include <vector>

namespace quoin::test {

/// A plan of few planes, each applied to both sides of all before it, whether it meets them or not.
core::CutPlan planOf(const std::vector<mesh::Plane>& planes);

} // namespace quoin::test
