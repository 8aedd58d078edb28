// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/witness_shape.h"

#include <cmath>

namespace quoin::core {

namespace {

using mesh::Index;
using mesh::Vec3;

/// The tool stands out of the skin by so many depths of the groove: more than a skin rises between two stations.
constexpr double outDepths = 0.8;
/// Zones overlap by this, mm: at a bend two cylinders leave a gap.
constexpr double zoneOverlapMm = 0.3;

} // namespace

mesh::Vec3 witnessAcross(const Witness& w)
{
    const Vec3 along = w.stations.back().at - w.stations.front().at;
    return mesh::normalized(mesh::cross(along, w.stations[w.crossing].in));
}

mesh::Mesh witnessTool(const Witness& w)
{
    const Vec3 across = witnessAcross(w);
    const double out = outDepths * w.depthMm, half = w.widthMm / 2 * (1 + out / w.depthMm);
    mesh::Mesh tool;
    for (const Witness::Station& s : w.stations)
        for (const Vec3 p :
             {s.at + w.depthMm * s.in, s.at - out * s.in + half * across, s.at - out * s.in - half * across})
            tool.points.push_back(p);
    const auto last = static_cast<Index>(3 * (w.stations.size() - 1));
    for (Index ring = 0; ring < last; ring += 3)
        for (Index k = 0; k < 3; ++k) {
            const Index a = ring + k, b = ring + (k + 1) % 3;
            tool.triangles.push_back({a, b, a + 3});
            tool.triangles.push_back({b, b + 3, a + 3});
        }
    tool.triangles.push_back({0, 2, 1});
    tool.triangles.push_back({last, last + 1, last + 2});
    return tool;
}

std::vector<JointZone> witnessZones(const Witness& w)
{
    // From the groove's bottom to its edges, seen from halfway down.
    const double radius = std::hypot(w.widthMm / 2, w.depthMm / 2) + zoneOverlapMm;
    std::vector<JointZone> zones;
    for (std::size_t i = 1; i < w.stations.size(); ++i) {
        const Witness::Station &a = w.stations[i - 1], &b = w.stations[i];
        const Vec3 from = a.at + w.depthMm / 2 * a.in, to = b.at + w.depthMm / 2 * b.in;
        const Vec3 way = mesh::normalized(to - from);
        zones.push_back({from - zoneOverlapMm * way, to + zoneOverlapMm * way, radius});
    }
    return zones;
}

} // namespace quoin::core
