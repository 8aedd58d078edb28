// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/open_face.h"

#include "mesh/tolerance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
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
                              const std::vector<Mouth>& mouths)
{
    std::vector<Box2> boxes;
    for (const Mouth& mouth : mouths) {
        Box2& box = boxes.emplace_back();
        for (const Loop& loop : mouth.outline)
            for (const Vec2 p : loop)
                box.add(p);
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
            if (boxes[i].meets(box) && meets(flat, mouths[i].outline)) {
                patch.push_back(t);
                break;
            }
    }
    return patch;
}

/// Points of the sheet in the plane, their numbers in space, and its outline.
struct Sheet {
    std::vector<Vec2> flat;
    std::vector<Index> name;
    std::vector<OutlineEdge> outline;

    void addRim(const Mesh& mesh, const std::vector<Index>& patch, const PlaneFrame& frame)
    {
        std::unordered_map<Index, Index> seen;
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
    }

    void addMouth(const Mouth& mouth, Buffer<Vec3>& points)
    {
        std::size_t next = 0;
        for (const Loop& loop : mouth.outline) {
            const auto base = static_cast<Index>(flat.size());
            const auto n = static_cast<Index>(loop.size());
            for (Index i = 0; i < n; ++i) {
                outline.push_back({base + (i + 1) % n, base + i}); // the other way round: left out of the face
                flat.push_back(loop[i]);
                name.push_back(static_cast<Index>(points.size()));
                points.push_back(mouth.places[next++]);
            }
        }
    }
};

} // namespace

Problem jointRefused(const std::string& what, const std::string& remedy)
{
    return {Reason::JointFailed, what, {}, {}, remedy};
}

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

std::vector<Index> trianglesLabelled(const Mesh& mesh, Label label)
{
    std::vector<Index> found;
    for (std::size_t i = 0; i < mesh.labels.size(); ++i)
        if (mesh.labels[i] == label)
            found.push_back(static_cast<Index>(i));
    return found;
}

Result<OpenedFace> openFace(const Mesh& mesh, Label face, const Plane& outward, const std::vector<Mouth>& mouths,
                            Buffer<Vec3>& points)
{
    const std::vector<Index> faceTriangles = trianglesLabelled(mesh, face);
    if (faceTriangles.empty())
        return jointRefused(fmt::format("no triangle carries the label {} of the face", face));
    const PlaneFrame frame = frameOf(outward);
    OpenedFace out;
    out.replaced = patchUnder(mesh, faceTriangles, frame, mouths);
    for (const Index t : out.replaced)
        for (int k = 0; k < 3; ++k)
            if (!(std::abs(outward.distance(mesh.corner(t, k))) <= tolerance::planeSlackMm))
                return jointRefused(fmt::format("the face with the label {} does not lie in the given plane", face));
    Sheet sheet;
    sheet.addRim(mesh, out.replaced, frame);
    for (const Mouth& mouth : mouths) {
        out.mouths.push_back(static_cast<Index>(points.size()));
        sheet.addMouth(mouth, points);
    }
    const auto filled = triangulateOutline(sheet.flat, sheet.outline);
    if (!filled || !filled->merged.empty())
        return jointRefused("a feature's mouth reaches past its face or into another mouth",
                            "Move it inwards, or make it smaller.");
    for (const Triangle& t : filled->triangles)
        out.triangles.push_back({sheet.name[t[0]], sheet.name[t[1]], sheet.name[t[2]]});
    return out;
}

} // namespace quoin::mesh
