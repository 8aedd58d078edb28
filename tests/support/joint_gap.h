// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

namespace quoin::test {

/// The exact least distance of two surfaces that don't meet, mm: of every edge of each and the other's surface. Zero
/// when they meet.
double gapBetween(const mesh::Mesh& a, const mesh::Mesh& b);

} // namespace quoin::test
