// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mesh.h"

#include "mesh/point_index.h"

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <sys/mman.h>

namespace quoin::mesh {

namespace {

constexpr Index unused = std::numeric_limits<Index>::max();

} // namespace

void* allocateLarge(std::size_t bytes)
{
    constexpr std::size_t hugePage = std::size_t{1} << 21;
    const std::size_t whole = (bytes + hugePage - 1) / hugePage * hugePage;
    void* memory = std::aligned_alloc(hugePage, whole);
    if (memory == nullptr)
        throw std::bad_alloc();
    madvise(memory, whole, MADV_HUGEPAGE); // a wish: refused, it costs speed only
    return memory;
}

void releaseLarge(void* memory, std::size_t) noexcept
{
    std::free(memory);
}

Box3 bounds(const Mesh& mesh)
{
    Box3 box;
    for (const Triangle& t : mesh.triangles)
        for (const Index v : t)
            box.add(mesh.points[v]);
    return box;
}

Mesh transformed(const Mesh& mesh, const Transform& map)
{
    Mesh out = mesh;
    for (Vec3& p : out.points)
        p = map.point(p);
    if (map.determinant() < 0)
        for (Triangle& t : out.triangles)
            std::swap(t[1], t[2]);
    return out;
}

Mesh joined(const Mesh& a, const Mesh& b)
{
    Mesh out = a;
    const auto shift = static_cast<Index>(a.points.size());
    out.points.insert(out.points.end(), b.points.begin(), b.points.end());
    out.triangles.reserve(a.triangles.size() + b.triangles.size());
    for (const Triangle& t : b.triangles)
        out.triangles.push_back({t[0] + shift, t[1] + shift, t[2] + shift});
    if (!a.labels.empty() || !b.labels.empty()) {
        out.labels.resize(a.triangles.size(), skinLabel);
        for (std::size_t i = 0; i < b.triangles.size(); ++i)
            out.labels.push_back(b.label(i));
    }
    return out;
}

Mesh subset(const Mesh& mesh, const std::vector<Index>& triangles)
{
    Mesh out;
    out.triangles.reserve(triangles.size());
    std::vector<Index> moved(mesh.points.size(), unused);
    for (const Index t : triangles) {
        Triangle copy = mesh.triangles[t];
        for (Index& v : copy) {
            if (moved[v] == unused) {
                moved[v] = static_cast<Index>(out.points.size());
                out.points.push_back(mesh.points[v]);
            }
            v = moved[v];
        }
        out.triangles.push_back(copy);
        if (!mesh.labels.empty())
            out.labels.push_back(mesh.labels[t]);
    }
    return out;
}

Mesh welded(const Mesh& mesh)
{
    Mesh out;
    PointIndex index(mesh.points.size());
    std::vector<Index> moved(mesh.points.size(), unused);
    out.triangles.reserve(mesh.triangles.size());
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        Triangle t = mesh.triangles[i];
        const Vec3 a = mesh.points[t[0]], b = mesh.points[t[1]], c = mesh.points[t[2]];
        if (a == b || b == c || c == a)
            continue;
        for (Index& v : t) {
            if (moved[v] == unused)
                moved[v] = index.insert(mesh.points[v], out.points);
            v = moved[v];
        }
        out.triangles.push_back(t);
        if (!mesh.labels.empty())
            out.labels.push_back(mesh.labels[i]);
    }
    return out;
}

} // namespace quoin::mesh
