// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/search_proxy.h"

#include "core/parallel.h"
#include "mesh/distance.h"
#include "mesh/hull.h"
#include "mesh/simplified.h"

#include <algorithm>

namespace quoin::core {

namespace {

constexpr std::size_t mostPoints = 30'000;
constexpr std::size_t pointsATime = 500;

double farthestOff(const mesh::Mesh& part, const mesh::Mesh& proxy)
{
    const mesh::SurfaceTree surface(proxy);
    mesh::Buffer<mesh::Vec3> points = mesh::hullCandidates(part.points);
    if (points.size() > mostPoints)
        points = mesh::innerHull(points).points;
    const std::size_t step = std::max<std::size_t>(1, part.points.size() / mostPoints);
    for (std::size_t v = 0; v < part.points.size(); v += step)
        points.push_back(part.points[v]);
    std::vector<double> worst((points.size() + pointsATime - 1) / pointsATime, 0.0);
    forEachIndex(worst.size(), [&](std::size_t i) {
        for (std::size_t k = i * pointsATime; k < std::min(points.size(), (i + 1) * pointsATime); ++k)
            worst[i] = std::max(worst[i], surface.distance(points[k]));
    });
    return worst.empty() ? 0 : *std::max_element(worst.begin(), worst.end());
}

} // namespace

SearchProxy searchProxy(const mesh::Mesh& part, std::size_t mostTriangles, const Context& context)
{
    SearchProxy proxy{mesh::simplified(part, mostTriangles, context), 0};
    if (proxy.mesh.triangles.size() < part.triangles.size() && !proxy.mesh.empty())
        proxy.errorMm = farthestOff(part, proxy.mesh);
    return proxy;
}

std::vector<Bed> shrunkBeds(const std::vector<Bed>& beds, double errorMm)
{
    std::vector<Bed> out = beds;
    for (Bed& bed : out) {
        bed.widthMm -= 2 * errorMm;
        bed.depthMm -= 2 * errorMm;
        bed.heightMm -= 2 * errorMm;
    }
    return out;
}

} // namespace quoin::core
