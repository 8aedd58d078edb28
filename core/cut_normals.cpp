// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_normals.h"

#include "core/flat_areas.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace quoin::core {

using mesh::Vec3;

namespace {

/// Flat faces whose normals count, and those between which mitres are made.
constexpr std::size_t mostFaces = 24;
constexpr std::size_t mitredFaces = 8;
constexpr int evenSteps = 8;

/// Directions nearer than this to one that comes before are left out (cosines of 0.5 and 3 degrees).
constexpr double sameCosine = 0.99996, nearCosine = 0.9986;

constexpr double mitreDislike = 0.3, evenDislike = 1;

class Normals {
public:
    void add(Vec3 d, double dislike, double cosine)
    {
        if (!(dot(d, d) > 0))
            return;
        d = normalized(d);
        if (std::none_of(m_all.begin(), m_all.end(),
                         [&](const CutNormal& n) { return std::abs(dot(n.direction, d)) > cosine; }))
            m_all.push_back({d, dislike});
    }
    std::vector<CutNormal> taken() { return std::move(m_all); }

private:
    std::vector<CutNormal> m_all;
};

} // namespace

std::vector<Vec3> evenDirections(int k)
{
    std::vector<Vec3> out;
    for (int a = -k; a <= k; ++a)
        for (int b = -(k - std::abs(a)); b <= k - std::abs(a); ++b) {
            const int c = k - std::abs(a) - std::abs(b);
            // Of two opposite directions one: the last number that isn't zero is positive.
            if (c > 0 || b > 0 || (b == 0 && a > 0))
                out.push_back(normalized(Vec3{static_cast<double>(a), static_cast<double>(b), static_cast<double>(c)}));
        }
    return out;
}

std::vector<CutNormal> cutNormals(const mesh::Mesh& part, const std::vector<GridFrame>& frames,
                                  const std::vector<Vec3>& more)
{
    Normals normals;
    for (const GridFrame& frame : frames)
        for (const Vec3 axis : frame.axes)
            normals.add(axis, 0, sameCosine);
    for (const Vec3 d : more)
        normals.add(d, 0, sameCosine);
    std::vector<Vec3> faces;
    for (const FlatArea& area : flatAreas(part, 0.004, mostFaces)) {
        normals.add(area.plane.normal, 0, sameCosine);
        if (faces.size() < mitredFaces && std::none_of(faces.begin(), faces.end(), [&](Vec3 f) {
                return std::abs(dot(f, area.plane.normal)) > nearCosine;
            }))
            faces.push_back(area.plane.normal);
    }
    for (std::size_t i = 0; i < faces.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            for (const double sign : {1.0, -1.0})
                normals.add(faces[i] + sign * faces[j], mitreDislike, sameCosine);
    const auto& axes = frames[frames.size() > 1 ? 1 : 0].axes;
    for (const Vec3 d : evenDirections(evenSteps))
        normals.add(d.x * axes[0] + d.y * axes[1] + d.z * axes[2], evenDislike, nearCosine);
    return normals.taken();
}

} // namespace quoin::core
