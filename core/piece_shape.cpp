// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/piece_shape.h"

#include "mesh/hull.h"
#include "mesh/mass.h"
#include "mesh/plane.h"
#include "mesh/tolerance.h"

#include <algorithm>
#include <numbers>
#include <numeric>
#include <unordered_map>

namespace quoin::core {

using mesh::Index;
using mesh::Loop;
using mesh::Mesh;
using mesh::Vec2;
using mesh::Vec3;

namespace {

/// From this many points the exact hull takes too long to be asked for at every cut tried.
constexpr std::size_t manyPoints = 20'000;

/// A face counts as one to stand on from this share of the hull's largest shadow.
constexpr double leastBaseShare = 0.01;

/// Hull triangles of one flat face differ by less than this (radians) unless they are slivers.
constexpr double sameFaceRadians = 1e-3;

/// Rounding of a cross product, as a share of the lengths multiplied.
constexpr double crossRelative = 1e-15;

/// Directions closer than this are not both worth trying.
constexpr double sameDirectionRadians = 0.035;

/// A patch of hull triangles that lie in one plane.
struct HullFace {
    Vec3 normal;
    double areaMm2;
};

Vec3 areaVector(const Mesh& m, std::size_t t)
{
    const Vec3 a = m.corner(t, 0);
    return 0.5 * cross(m.corner(t, 1) - a, m.corner(t, 2) - a);
}

/// For each triangle the three across its edges, in the order of its corners.
std::vector<std::array<Index, 3>> neighboursOf(const Mesh& m)
{
    std::unordered_map<std::uint64_t, Index> owner;
    owner.reserve(3 * m.triangles.size());
    const auto key = [](Index from, Index to) { return (static_cast<std::uint64_t>(from) << 32) | to; };
    for (Index t = 0; t < m.triangles.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k)
            owner[key(m.triangles[t][k], m.triangles[t][(k + 1) % 3])] = t;
    std::vector<std::array<Index, 3>> out(m.triangles.size());
    for (Index t = 0; t < m.triangles.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k)
            out[t][k] = owner.at(key(m.triangles[t][(k + 1) % 3], m.triangles[t][k]));
    return out;
}

/// Groups the triangles of a hull into flat faces, starting from the largest triangle left; largest face first.
std::vector<HullFace> hullFaces(const Mesh& hull)
{
    const auto neighbours = neighboursOf(hull);
    std::vector<Vec3> vectors(hull.triangles.size());
    for (std::size_t t = 0; t < vectors.size(); ++t)
        vectors[t] = areaVector(hull, t);
    std::vector<Index> order(vectors.size());
    std::iota(order.begin(), order.end(), Index{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](Index a, Index b) { return dot(vectors[a], vectors[a]) > dot(vectors[b], vectors[b]); });
    std::vector<char> taken(vectors.size(), 0);
    std::vector<HullFace> faces;
    for (const Index seed : order) {
        if (taken[seed] || !(length(vectors[seed]) > 0))
            continue;
        const mesh::Plane plane = mesh::planeThrough(hull.corner(seed, 0), vectors[seed]);
        Vec3 sum{0, 0, 0};
        double areaMm2 = 0;
        std::vector<Index> front{seed};
        taken[seed] = 1;
        while (!front.empty()) {
            const Index t = front.back();
            front.pop_back();
            areaMm2 += length(vectors[t]);
            if (dot(normalized(vectors[t]), plane.normal) > std::cos(sameFaceRadians))
                sum = sum + vectors[t];
            for (const Index n : neighbours[t]) {
                const auto isOff = [&](Index v) { return -plane.distance(hull.points[v]) > mesh::tolerance::flatMm; };
                if (taken[n] || std::any_of(hull.triangles[n].begin(), hull.triangles[n].end(), isOff))
                    continue;
                taken[n] = 1;
                front.push_back(n);
            }
        }
        faces.push_back({normalized(sum), areaMm2});
    }
    std::stable_sort(faces.begin(), faces.end(),
                     [](const HullFace& a, const HullFace& b) { return a.areaMm2 > b.areaMm2; });
    return faces;
}

/// The points that triangles use.
mesh::Buffer<Vec3> usedPoints(const Mesh& piece)
{
    std::vector<char> used(piece.points.size(), 0);
    for (const mesh::Triangle& t : piece.triangles)
        for (const Index v : t)
            used[v] = 1;
    mesh::Buffer<Vec3> out;
    out.reserve(piece.points.size());
    for (std::size_t v = 0; v < used.size(); ++v)
        if (used[v])
            out.push_back(piece.points[v]);
    return out;
}

/// Whether a point lies inside a counter-clockwise convex polygon, at least `insetMm` from its sides.
bool insideConvex(const Loop& polygon, Vec2 p, double insetMm)
{
    if (polygon.size() < 3)
        return false;
    for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
        const Vec2 e = polygon[i] - polygon[j];
        if (cross(e, p - polygon[j]) < insetMm * length(e))
            return false;
    }
    return true;
}

} // namespace

HullMeasures measuresOf(const Mesh& hull)
{
    if (hull.empty())
        return {};
    const Vec3 e = mesh::bounds(hull).extents();
    HullMeasures out{std::max({e.x, e.y, e.z}), mesh::volume(hull), mesh::area(hull), 0};
    // Mean width: edge length times the angle between the outward normals, added up over the edges, over 4 pi. What
    // rounding may have added to the angles of slivers is taken off.
    std::vector<Vec3> normals(hull.triangles.size());
    std::vector<double> doubts(normals.size());
    for (std::size_t t = 0; t < normals.size(); ++t) {
        const Vec3 u = hull.corner(t, 1) - hull.corner(t, 0), v = hull.corner(t, 2) - hull.corner(t, 0);
        const Vec3 n = cross(u, v);
        normals[t] = normalized(n);
        doubts[t] = length(n) > 0 ? crossRelative * length(u) * length(v) / length(n) : std::numbers::pi;
    }
    const auto neighbours = neighboursOf(hull);
    for (std::size_t t = 0; t < normals.size(); ++t)
        for (int k = 0; k < 3; ++k) {
            const std::size_t n = neighbours[t][static_cast<std::size_t>(k)];
            if (n < t)
                continue;
            const double edge = length(hull.corner(t, (k + 1) % 3) - hull.corner(t, k));
            const double angle = std::atan2(length(cross(normals[t], normals[n])), dot(normals[t], normals[n]));
            out.meanWidthMm += edge * std::max(0.0, angle - doubts[t] - doubts[n]) / (4 * std::numbers::pi);
        }
    return out;
}

/// What lies on the plate.
struct PieceShape::Support {
    double areaMm2 = 0;
    bool stands = false;
};

PieceShape::PieceShape(const Mesh& piece) : m_mesh(&piece)
{
    m_outline = mesh::hullCandidates(usedPoints(piece));
    m_hullIsExact = m_outline.size() < manyPoints;
    m_hull = m_hullIsExact ? mesh::convexHull(m_outline) : mesh::innerHull(m_outline);
    if (m_hullIsExact)
        m_outline = m_hull.points;
    weigh();
}

/// Volume and centre of mass by tetrahedra about a point of the piece; mesh/mass.h does it more carefully than a
/// question of standing or falling needs.
void PieceShape::weigh()
{
    if (m_outline.empty())
        return;
    const Vec3 about = m_outline.front();
    Vec3 moment{0, 0, 0};
    for (const mesh::Triangle& t : m_mesh->triangles) {
        const Vec3 a = m_mesh->points[t[0]] - about, b = m_mesh->points[t[1]] - about, c = m_mesh->points[t[2]] - about;
        const double six = dot(a, cross(b, c));
        m_volumeMm3 += six / 6;
        moment = moment + (six / 24) * (a + b + c);
    }
    m_centreOfMass = m_volumeMm3 != 0 ? about + moment / m_volumeMm3 : about;
}

double PieceShape::largestShadowMm2() const
{
    std::vector<Vec3> vectors(m_hull.triangles.size());
    for (std::size_t t = 0; t < vectors.size(); ++t)
        vectors[t] = areaVector(m_hull, t);
    // The shadow along n is half the sum of |n . a|: convex, so stepping to the gradient never makes it smaller.
    double largest = 0;
    constexpr int mostSteps = 20;
    for (const Vec3 start :
         {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}, Vec3{1, 1, 1}, Vec3{-1, 1, 1}, Vec3{1, -1, 1}, Vec3{1, 1, -1}}) {
        Vec3 n = start;
        double last = 0;
        for (int step = 0; step < mostSteps; ++step) {
            Vec3 gradient{0, 0, 0};
            for (const Vec3 a : vectors)
                gradient = gradient + (dot(n, a) > 0 ? 0.5 : -0.5) * a;
            const double shadow = length(gradient);
            if (shadow <= last)
                break;
            last = shadow;
            n = gradient / shadow;
        }
        largest = std::max(largest, last);
    }
    return largest;
}

PieceShape::Support PieceShape::supportOn(Vec3 down) const
{
    double reach = -1e300;
    for (const Vec3 p : m_outline)
        reach = std::max(reach, dot(down, p));
    const double least = reach - mesh::tolerance::flatMm;
    const mesh::PlaneFrame frame = mesh::frameOf({down, reach});
    Support support;
    std::vector<Vec2> feet;
    const auto lies = [&](Index v) { return dot(down, m_mesh->points[v]) >= least; };
    for (std::size_t t = 0; t < m_mesh->triangles.size(); ++t) {
        const mesh::Triangle& corners = m_mesh->triangles[t];
        if (!lies(corners[0]) || !lies(corners[1]) || !lies(corners[2]))
            continue;
        const double shadow = dot(areaVector(*m_mesh, t), down);
        if (shadow <= 0)
            continue;
        support.areaMm2 += shadow;
        for (const Index v : corners)
            feet.push_back(frame.flat(m_mesh->points[v]));
    }
    support.stands =
        insideConvex(mesh::convexHull(std::move(feet)), frame.flat(m_centreOfMass), mesh::tolerance::flatMm);
    return support;
}

double PieceShape::areaOnPlateMm2(Vec3 down) const
{
    return supportOn(down).areaMm2;
}

std::vector<FlatFace> PieceShape::flatFaces() const
{
    std::vector<FlatFace> out;
    if (empty())
        return out;
    const double least = leastBaseShare * largestShadowMm2();
    for (const HullFace& face : hullFaces(m_hull)) {
        if (face.areaMm2 < least || out.size() == mostFlatFaces)
            break;
        const Support support = supportOn(face.normal);
        if (support.areaMm2 >= least && support.stands)
            out.push_back({face.normal, support.areaMm2});
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const FlatFace& a, const FlatFace& b) { return a.areaMm2 > b.areaMm2; });
    return out;
}

std::vector<Vec3> PieceShape::faceDirections() const
{
    std::vector<Vec3> out;
    const double close = std::cos(sameDirectionRadians);
    for (const HullFace& face : hullFaces(m_hull))
        if (out.size() < mostFaceDirections &&
            std::none_of(out.begin(), out.end(), [&](Vec3 d) { return dot(d, face.normal) > close; }))
            out.push_back(face.normal);
    return out;
}

} // namespace quoin::core
