// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

/// As in mesh/region.h, but loops of the result may touch themselves or each other at a point: ten times as quick for
/// outlines of many corners, and good enough for areas and lengths. In mesh/region.cpp.
namespace quoin::mesh {

Region quickIntersection(const Region& a, const Region& b);
Region quickUnion(const Region& a, const Region& b);
Region quickDifference(const Region& a, const Region& b);

} // namespace quoin::mesh
