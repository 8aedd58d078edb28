// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/plane_cut.h"

#include "mesh/plane_cutter.h"

#include <tbb/task_arena.h>

namespace quoin::mesh {

using cutting::Cutter;

namespace {

template <class F>
auto withThreads(int threads, F&& f)
{
    if (threads <= 0)
        return f();
    tbb::task_arena arena(threads);
    return arena.execute(f);
}

} // namespace

Result<CutHalves> cutByPlane(const Mesh& mesh, const Plane& plane, const CutOptions& options)
{
    if (mesh.points.size() > cutting::maxVertices)
        return Problem{Reason::CutFailed, "the model has more than a thousand million points", {}, {}, {}};
    return withThreads(options.threads, [&] { return Cutter(mesh, plane, options).run(); });
}

Result<Region> sectionByPlane(const Mesh& mesh, const Plane& plane)
{
    const CutOptions options;
    return Cutter(mesh, plane, options).section();
}

} // namespace quoin::mesh
