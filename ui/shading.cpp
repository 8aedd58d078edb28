// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shading.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <tuple>

namespace quoin::ui {

using mesh::Index;
using mesh::Mesh;
using mesh::Vec3;

namespace {

constexpr Index dropped = std::numeric_limits<Index>::max();

/// Corners of the mesh (triangle * 3 + k) listed by the point that they stand on.
struct CornersOfPoints {
    std::vector<std::size_t> begin;
    std::vector<std::size_t> corners;

    explicit CornersOfPoints(const Mesh& mesh) : begin(mesh.points.size() + 1, 0), corners(3 * mesh.triangles.size())
    {
        for (const auto& t : mesh.triangles)
            for (const Index v : t)
                ++begin[v + 1];
        for (std::size_t v = 0; v < mesh.points.size(); ++v)
            begin[v + 1] += begin[v];
        std::vector<std::size_t> next(begin.begin(), begin.end() - 1);
        for (std::size_t c = 0; c < corners.size(); ++c)
            corners[next[mesh.triangles[c / 3][c % 3]]++] = c;
    }
};

/// Faces about one point that shade into each other.
struct Fan {
    Vec3 unit; ///< normal of the first face
    Vec3 sum;  ///< normals weighted by the faces' angles at the point
    mesh::Label label;
};

/// Angle of a triangle at a corner, radians.
double cornerAngle(const Mesh& mesh, std::size_t triangle, int k)
{
    const Vec3 at = mesh.corner(triangle, k);
    const Vec3 a = mesh.corner(triangle, (k + 1) % 3) - at, b = mesh.corner(triangle, (k + 2) % 3) - at;
    return std::atan2(length(cross(a, b)), dot(a, b));
}

std::array<float, 3> floats(Vec3 v)
{
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

/// Edges used once among the triangles of one label that isn't skin: where a cut face or a bore ends.
void addBorders(const Mesh& mesh, const std::vector<Index>& pointOfCorner, ShadedMesh& out)
{
    struct Use {
        mesh::Label label;
        Index low, high;
        std::array<Index, 2> points;
        auto edge() const { return std::tuple(label, low, high); }
    };
    std::vector<Use> uses;
    for (std::size_t t = 0; t < mesh.labels.size(); ++t) {
        if (mesh.labels[t] == mesh::skinLabel)
            continue;
        for (std::size_t k = 0; k < 3; ++k) {
            const std::size_t next = (k + 1) % 3;
            const auto [low, high] = std::minmax(mesh.triangles[t][k], mesh.triangles[t][next]);
            uses.push_back({mesh.labels[t], low, high, {pointOfCorner[3 * t + k], pointOfCorner[3 * t + next]}});
        }
    }
    std::ranges::sort(uses, {}, &Use::edge);
    for (std::size_t i = 0; i < uses.size();) {
        std::size_t j = i + 1;
        while (j < uses.size() && uses[j].edge() == uses[i].edge())
            ++j;
        if (j == i + 1 && uses[i].points[0] != dropped && uses[i].points[1] != dropped)
            out.borders.push_back(uses[i].points);
        i = j;
    }
    std::ranges::sort(out.borders);
}

} // namespace

ShadedMesh shaded(const Mesh& mesh, double creaseAngleDegrees)
{
    const double leastCosine = std::cos(creaseAngleDegrees * std::numbers::pi / 180);
    std::vector<Vec3> areaNormals(mesh.triangles.size());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Vec3 a = mesh.corner(t, 0);
        areaNormals[t] = cross(mesh.corner(t, 1) - a, mesh.corner(t, 2) - a);
    }
    ShadedMesh out;
    out.points.reserve(mesh.points.size());
    out.normals.reserve(mesh.points.size());
    std::vector<Index> pointOfCorner(3 * mesh.triangles.size(), dropped);
    const CornersOfPoints about(mesh);
    std::vector<Fan> fans;
    for (std::size_t v = 0; v < mesh.points.size(); ++v) {
        fans.clear();
        for (std::size_t i = about.begin[v]; i < about.begin[v + 1]; ++i) {
            const std::size_t corner = about.corners[i], t = corner / 3;
            const double size = length(areaNormals[t]);
            if (!(size > 0))
                continue;
            const Vec3 unit = areaNormals[t] / size;
            auto fan = std::ranges::find_if(
                fans, [&](const Fan& f) { return f.label == mesh.label(t) && dot(f.unit, unit) >= leastCosine; });
            if (fan == fans.end())
                fan = fans.insert(fans.end(), {unit, {0, 0, 0}, mesh.label(t)});
            fan->sum = fan->sum + cornerAngle(mesh, t, static_cast<int>(corner % 3)) * unit;
            pointOfCorner[corner] =
                static_cast<Index>(out.points.size() + static_cast<std::size_t>(fan - fans.begin()));
        }
        for (const Fan& fan : fans) {
            out.points.push_back(floats(mesh.points[v]));
            out.normals.push_back(floats(normalized(fan.sum)));
        }
    }
    out.triangles.reserve(mesh.triangles.size());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        if (pointOfCorner[3 * t] != dropped) {
            out.triangles.push_back({pointOfCorner[3 * t], pointOfCorner[3 * t + 1], pointOfCorner[3 * t + 2]});
            if (!mesh.labels.empty())
                out.labels.push_back(mesh.labels[t]);
        }
    addBorders(mesh, pointOfCorner, out);
    return out;
}

} // namespace quoin::ui
