// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/recess.h"

#include "mesh/mass.h"
#include "mesh/outline_loops.h"
#include "mesh/triangulate.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <unordered_map>

namespace quoin::mesh {

namespace {

struct Box2 {
    Vec2 min{std::numeric_limits<double>::max(), std::numeric_limits<double>::max()};
    Vec2 max{std::numeric_limits<double>::lowest(), std::numeric_limits<double>::lowest()};
    void add(Vec2 p)
    {
        min = {std::min(min.x, p.x), std::min(min.y, p.y)};
        max = {std::max(max.x, p.x), std::max(max.y, p.y)};
    }
    bool meets(const Box2& o) const
    {
        return min.x <= o.max.x && o.min.x <= max.x && min.y <= o.max.y && o.min.y <= max.y;
    }
};

std::uint64_t keyOf(Index a, Index b)
{
    return (static_cast<std::uint64_t>(a) << 32) | b;
}

/// Directed edges of some triangles that no other of them runs the other way.
std::vector<OutlineEdge> rimOf(const Mesh& mesh, const std::vector<Index>& triangles)
{
    std::unordered_map<std::uint64_t, int> count;
    count.reserve(4 * triangles.size());
    for (const Index t : triangles)
        for (std::size_t k = 0; k < 3; ++k)
            ++count[keyOf(mesh.triangles[t][k], mesh.triangles[t][(k + 1) % 3])];
    std::vector<OutlineEdge> rim;
    for (const Index t : triangles)
        for (std::size_t k = 0; k < 3; ++k) {
            const Index a = mesh.triangles[t][k], b = mesh.triangles[t][(k + 1) % 3];
            if (count.find(keyOf(b, a)) == count.end())
                rim.push_back({a, b});
        }
    return rim;
}

std::vector<Index> trianglesOf(const Mesh& mesh, Label face)
{
    std::vector<Index> found;
    for (std::size_t i = 0; i < mesh.labels.size(); ++i)
        if (mesh.labels[i] == face)
            found.push_back(static_cast<Index>(i));
    return found;
}

bool alike(const Region& a, const Region& b)
{
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const Loop& x, const Loop& y) { return x.size() == y.size(); });
}

Problem refused(const std::string& what)
{
    return {Reason::JointFailed, what, {}, {}, {}};
}

/// Walls and floor of a recess. Mouth points are numbers 0..n-1 as laid down by the caller from `mouth` on; deeper
/// levels are appended to `points` in space.
Status sewIn(const Recess& recess, const PlaneFrame& frame, Index mouth, Buffer<Vec3>& points,
             std::vector<Triangle>& triangles)
{
    Index top = mouth;
    for (std::size_t level = 1; level < recess.levels.size(); ++level) {
        const auto& [depth, outline] = recess.levels[level];
        const auto bottom = static_cast<Index>(points.size());
        Index first = 0;
        for (const Loop& loop : outline) {
            const auto n = static_cast<Index>(loop.size());
            for (Index i = 0; i < n; ++i) {
                points.push_back(frame.space(loop[i], -depth));
                const Index a = first + i, b = first + (i + 1) % n;
                triangles.push_back({top + a, top + b, bottom + b});
                triangles.push_back({top + a, bottom + b, bottom + a});
            }
            first += n;
        }
        top = bottom;
    }
    const auto floor = triangulateRegion(recess.levels.back().outline);
    if (!floor)
        return floor.problem();
    for (const Triangle& t : *floor)
        triangles.push_back({top + t[0], top + t[1], top + t[2]});
    return Done{};
}

Status wellFormed(const Recess& recess)
{
    if (recess.levels.size() < 2 || recess.levels.front().depthMm != 0)
        return refused("a recess needs a mouth at depth 0 and a floor");
    for (std::size_t i = 1; i < recess.levels.size(); ++i)
        if (recess.levels[i].depthMm <= recess.levels[i - 1].depthMm ||
            !alike(recess.levels[i].outline, recess.levels[0].outline))
            return refused("the levels of a recess must go down and have the same corners");
    return Done{};
}

bool segmentsMeet(Vec2 a, Vec2 b, Vec2 c, Vec2 d)
{
    const auto side = [](Vec2 p, Vec2 q, Vec2 r) { return cross(q - p, r - p); };
    return side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0;
}

/// Whether a triangle and a mouth share any point (touching counts).
bool meets(const std::array<Vec2, 3>& t, const Region& mouth)
{
    if (contains(mouth, t[0]))
        return true;
    const Region triangle{{t[0], t[1], t[2]}};
    for (const Loop& loop : mouth)
        for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
            if (i == 0 && contains(triangle, loop[i]))
                return true;
            for (std::size_t k = 0; k < 3; ++k)
                if (segmentsMeet(loop[j], loop[i], t[k], t[(k + 1) % 3]))
                    return true;
        }
    return false;
}

/// Triangles of the face that a mouth may touch.
std::vector<Index> patchUnder(const Mesh& mesh, const std::vector<Index>& face, const PlaneFrame& frame,
                              const std::vector<Recess>& recesses)
{
    std::vector<Box2> mouths;
    for (const Recess& r : recesses) {
        Box2 box;
        for (const Loop& loop : r.levels[0].outline)
            for (const Vec2 p : loop)
                box.add(p);
        mouths.push_back(box);
    }
    std::vector<Index> patch;
    for (const Index t : face) {
        std::array<Vec2, 3> flat;
        Box2 box;
        for (std::size_t k = 0; k < 3; ++k) {
            flat[k] = frame.flat(mesh.corner(t, static_cast<int>(k)));
            box.add(flat[k]);
        }
        for (std::size_t i = 0; i < mouths.size(); ++i)
            if (mouths[i].meets(box) && meets(flat, recesses[i].levels[0].outline)) {
                patch.push_back(t);
                break;
            }
    }
    return patch;
}

/// The patch with the mouths left out: triangles over old points and the mouths' points, which are appended.
struct Opened {
    std::vector<Triangle> triangles;
    std::vector<Index> mouths; ///< first point of each recess's mouth
};

Result<Opened> opened(const Mesh& mesh, const std::vector<Index>& patch, const PlaneFrame& frame,
                      const std::vector<Recess>& recesses, Buffer<Vec3>& points)
{
    std::vector<Vec2> flat;
    std::vector<Index> name; // of each flat point in `points`
    std::unordered_map<Index, Index> seen;
    std::vector<OutlineEdge> outline;
    for (const OutlineEdge& e : rimOf(mesh, patch)) {
        OutlineEdge local;
        for (std::size_t k = 0; k < 2; ++k) {
            const auto [it, isNew] = seen.emplace(e[k], static_cast<Index>(flat.size()));
            if (isNew) {
                flat.push_back(frame.flat(mesh.points[e[k]]));
                name.push_back(e[k]);
            }
            local[k] = it->second;
        }
        outline.push_back(local);
    }
    Opened out;
    for (const Recess& r : recesses) {
        out.mouths.push_back(static_cast<Index>(points.size()));
        for (const Loop& loop : r.levels[0].outline) {
            const auto base = static_cast<Index>(flat.size());
            const auto n = static_cast<Index>(loop.size());
            for (Index i = 0; i < n; ++i) {
                outline.push_back({base + (i + 1) % n, base + i}); // the other way round: left out of the face
                flat.push_back(loop[i]);
                name.push_back(static_cast<Index>(points.size()));
                points.push_back(frame.space(loop[i]));
            }
        }
    }
    const auto filled = triangulateOutline(flat, outline);
    if (!filled || !filled->merged.empty())
        return refused("a recess reaches past its face or into another one");
    for (const Triangle& t : filled->triangles)
        out.triangles.push_back({name[t[0]], name[t[1]], name[t[2]]});
    return out;
}

} // namespace

Result<Mesh> withRecesses(const Mesh& mesh, Label face, const Plane& outward, const std::vector<Recess>& recesses,
                          Label featureLabel)
{
    if (recesses.empty())
        return mesh;
    for (const Recess& r : recesses)
        if (const Status s = wellFormed(r); !s)
            return s.problem();
    const std::vector<Index> faceTriangles = trianglesOf(mesh, face);
    if (faceTriangles.empty())
        return refused(fmt::format("no triangle carries the label {} of the face", face));
    const PlaneFrame frame = frameOf(outward);
    const std::vector<Index> patch = patchUnder(mesh, faceTriangles, frame, recesses);

    Mesh out;
    out.points.reserve(mesh.points.size() + 4096);
    out.points.assign(mesh.points.begin(), mesh.points.end());
    const auto sheet = opened(mesh, patch, frame, recesses, out.points);
    if (!sheet)
        return sheet.problem();
    std::vector<Triangle> sewn;
    for (std::size_t i = 0; i < recesses.size(); ++i)
        if (const Status s = sewIn(recesses[i], frame, sheet->mouths[i], out.points, sewn); !s)
            return s.problem();

    // Everything but the patch, in order, then the sheet and what is sewn into it.
    const std::size_t kept = mesh.triangles.size() - patch.size();
    out.triangles.reserve(kept + sheet->triangles.size() + sewn.size());
    out.labels.reserve(out.triangles.capacity());
    std::size_t from = 0;
    const auto copyUpTo = [&](std::size_t to) {
        out.triangles.insert(out.triangles.end(), mesh.triangles.begin() + static_cast<std::ptrdiff_t>(from),
                             mesh.triangles.begin() + static_cast<std::ptrdiff_t>(to));
        out.labels.insert(out.labels.end(), mesh.labels.begin() + static_cast<std::ptrdiff_t>(from),
                          mesh.labels.begin() + static_cast<std::ptrdiff_t>(to));
        from = to + 1;
    };
    for (const Index t : patch)
        copyUpTo(t);
    copyUpTo(mesh.triangles.size());
    out.triangles.insert(out.triangles.end(), sheet->triangles.begin(), sheet->triangles.end());
    out.labels.resize(out.triangles.size(), face);
    out.triangles.insert(out.triangles.end(), sewn.begin(), sewn.end());
    out.labels.resize(out.triangles.size(), featureLabel);
    return out;
}

double volume(const Recess& recess)
{
    // The pocket as a closed body: walls and floor turned over, and a lid.
    const PlaneFrame frame = frameOf(Plane{});
    Mesh body;
    for (const Loop& loop : recess.levels.front().outline)
        for (const Vec2 p : loop)
            body.points.push_back(frame.space(p));
    std::vector<Triangle> sewn;
    const auto lid = triangulateRegion(recess.levels.front().outline);
    if (!lid || !sewIn(recess, frame, 0, body.points, sewn).ok())
        return 0;
    for (const Triangle& t : sewn)
        body.triangles.push_back({t[0], t[2], t[1]});
    body.triangles.insert(body.triangles.end(), lid->begin(), lid->end());
    return volume(body);
}

Region faceOutline(const Mesh& mesh, Label face, const Plane& plane)
{
    const PlaneFrame frame = frameOf(plane);
    Region region;
    for (const std::vector<Index>& points : loopsOf(rimOf(mesh, trianglesOf(mesh, face))).loops) {
        Loop& loop = region.emplace_back();
        for (const Index v : points)
            loop.push_back(frame.flat(mesh.points[v]));
    }
    if (area(region) < 0)
        for (Loop& loop : region)
            std::reverse(loop.begin(), loop.end());
    return region;
}

} // namespace quoin::mesh
