// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

namespace quoin::bench {

/// Median, least and most of the times of some runs, ms.
struct Times {
    double median = 0, least = 0, most = 0;
};

template <class F>
Times timed(int runs, F&& f)
{
    std::vector<double> ms;
    for (int i = 0; i < runs; ++i) {
        const auto start = std::chrono::steady_clock::now();
        f();
        ms.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
    }
    std::sort(ms.begin(), ms.end());
    return {ms[ms.size() / 2], ms.front(), ms.back()};
}

struct NamedModel {
    std::string name;
    mesh::Mesh mesh;
};

/// The Stanford bunny with its holes filled, 150 mm tall and wide at most, subdivided at the middles of its edges
/// with a little noise: about 70 thousand, 1.1 and 4.4 million triangles; and a sphere with many vertices on z = 0.
std::vector<NamedModel> closedModels(bool large);

/// Stops the optimiser from leaving out a result.
inline void keep(const void* p)
{
    asm volatile("" : : "r"(p) : "memory");
}

/// vtkClipClosedSurface, one half.
Times vtkClipOneHalf(const mesh::Mesh& mesh, const mesh::Plane& plane, int runs);
/// CGAL Polygon_mesh_processing::clip with clip_volume, one half; building the Surface_mesh not counted.
Times cgalClipOneHalf(const mesh::Mesh& mesh, const mesh::Plane& plane, int runs);
/// CGAL corefine_and_compute_difference of a whole mesh and a tool.
Times cgalDifference(const mesh::Mesh& mesh, const mesh::Mesh& tool, int runs);

} // namespace quoin::bench
