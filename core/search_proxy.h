// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/context.h"
#include "mesh/mesh.h"

#include <vector>

namespace quoin::core {

/// A stand-in for a part with few triangles, in which cuts are looked for.
struct SearchProxy {
    mesh::Mesh mesh;
    /// How far points of the part's surface were found to lie from the stand-in's, mm: those that may be corners of its
    /// hull, and tens of thousands of the others. 0: it is the part itself. What is found is fitted again on the part.
    double errorMm = 0;
};

SearchProxy searchProxy(const mesh::Mesh& part, std::size_t mostTriangles, const Context& context = {});

/// Beds made smaller by what a stand-in may be off on both sides of a piece.
std::vector<Bed> shrunkBeds(const std::vector<Bed>& beds, double errorMm);

} // namespace quoin::core
