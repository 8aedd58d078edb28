// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/recess.h"

#include "mesh/face_patch.h"
#include "mesh/mass.h"
#include "mesh/open_face.h"
#include "mesh/outline_loops.h"
#include "mesh/self_intersection.h"
#include "mesh/triangulate.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::mesh {

namespace {

bool alike(const Region& a, const Region& b)
{
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const Loop& x, const Loop& y) { return x.size() == y.size(); });
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
        return jointRefused("the outline of a recess crosses or touches itself");
    for (const Triangle& t : *floor)
        triangles.push_back({top + t[0], top + t[1], top + t[2]});
    return Done{};
}

Status wellFormed(const Recess& recess)
{
    if (recess.levels.size() < 2 || recess.levels.front().depthMm != 0)
        return jointRefused("a recess needs a mouth at depth 0 and a floor");
    for (std::size_t i = 1; i < recess.levels.size(); ++i)
        if (recess.levels[i].depthMm <= recess.levels[i - 1].depthMm ||
            !alike(recess.levels[i].outline, recess.levels[0].outline))
            return jointRefused("the levels of a recess must go down and have the same corners");
    return Done{};
}

Mouth mouthOf(const Recess& recess, const PlaneFrame& frame)
{
    Mouth mouth{recess.levels[0].outline, {}};
    for (const Loop& loop : mouth.outline)
        for (const Vec2 p : loop)
            mouth.places.push_back(frame.space(p));
    return mouth;
}

/// What is sewn into a face: all mouths, recesses first.
struct Features {
    const std::vector<Recess>& recesses;
    const std::vector<FacePatch>& patches;
    std::vector<PatchBorder> borders; ///< of the patches
    std::vector<Mouth> mouths;
};

Result<Features> checked(const std::vector<Recess>& recesses, const std::vector<FacePatch>& patches,
                         const Plane& outward)
{
    Features features{recesses, patches, {}, {}};
    for (const Recess& r : recesses) {
        if (const Status s = wellFormed(r); !s)
            return s.problem();
        features.mouths.push_back(mouthOf(r, frameOf(outward)));
    }
    for (const FacePatch& p : patches) {
        auto border = borderOf(p, outward);
        if (!border)
            return border.problem();
        features.mouths.push_back(border->mouth);
        features.borders.push_back(std::move(*border));
    }
    return features;
}

/// Triangles of the mesh, but for those left out (ascending), that come near a box.
std::vector<Index> near(const Mesh& mesh, const std::vector<Index>& left, const Box3& box)
{
    std::vector<Index> found;
    auto next = left.begin();
    for (Index t = 0; t < mesh.triangles.size(); ++t) {
        if (next != left.end() && *next == t) {
            ++next;
            continue;
        }
        const Vec3 a = mesh.corner(t, 0), b = mesh.corner(t, 1), c = mesh.corner(t, 2);
        bool apart = false;
        for (int k = 0; k < 3; ++k)
            apart = apart || std::max({a[k], b[k], c[k]}) < box.min[k] || std::min({a[k], b[k], c[k]}) > box.max[k];
        if (!apart)
            found.push_back(t);
    }
    return found;
}

/// Whether a feature meets itself, another one, the sheet besides where it is sewn in, or the rest of the surface,
/// which comes first in `around`; then the sheet, then the features.
Status clearOfAll(const Mesh& around, std::size_t firstOfSheet, std::size_t firstOfFeatures)
{
    for (const auto& [s, t] : selfIntersections(around))
        if (t >= firstOfFeatures) {
            Problem problem =
                s >= firstOfFeatures ? jointRefused("the surfaces of the features meet each other or themselves")
                : s >= firstOfSheet
                    ? jointRefused("a feature's surface meets the face outside its mouth")
                    : jointRefused("a feature breaks through the surface of the piece, or into another feature",
                                   "Make it shallower or thinner, or move it.");
            const Vec3 p = around.corner(t, 0);
            problem.place = fmt::format("({:.3f}, {:.3f}, {:.3f}) mm", p.x, p.y, p.z);
            return problem;
        }
    return Done{};
}

/// Triangles of a mesh but for some (ascending), in order, appended with their labels.
void appendAllBut(const Mesh& mesh, const std::vector<Index>& left, Mesh& out)
{
    std::size_t from = 0;
    const auto copyUpTo = [&](std::size_t to) {
        const auto a = static_cast<std::ptrdiff_t>(from), b = static_cast<std::ptrdiff_t>(to);
        out.triangles.insert(out.triangles.end(), mesh.triangles.begin() + a, mesh.triangles.begin() + b);
        out.labels.insert(out.labels.end(), mesh.labels.begin() + a, mesh.labels.begin() + b);
        from = to + 1;
    };
    for (const Index t : left)
        copyUpTo(t);
    copyUpTo(mesh.triangles.size());
}

} // namespace

Result<Mesh> withRecesses(const Mesh& mesh, Label face, const Plane& outward, const std::vector<Recess>& recesses,
                          Label featureLabel)
{
    return withFeatures(mesh, face, outward, recesses, {}, featureLabel);
}

Result<Mesh> withFeatures(const Mesh& mesh, Label face, const Plane& outward, const std::vector<Recess>& recesses,
                          const std::vector<FacePatch>& patches, Label featureLabel)
{
    if (recesses.empty() && patches.empty())
        return mesh;
    const auto features = checked(recesses, patches, outward);
    if (!features)
        return features.problem();
    Mesh out;
    out.points.reserve(mesh.points.size() + 4096);
    out.points.assign(mesh.points.begin(), mesh.points.end());
    const auto sheet = openFace(mesh, face, outward, features->mouths, out.points);
    if (!sheet)
        return sheet.problem();
    std::vector<Triangle> sewn;
    for (std::size_t i = 0; i < recesses.size(); ++i)
        if (const Status s = sewIn(recesses[i], frameOf(outward), sheet->mouths[i], out.points, sewn); !s)
            return s.problem();
    for (std::size_t i = 0; i < patches.size(); ++i)
        appendPatch(patches[i], features->borders[i], sheet->mouths[recesses.size() + i], out.points, sewn);

    const std::size_t kept = mesh.triangles.size() - sheet->replaced.size();
    out.triangles.reserve(kept + sheet->triangles.size() + sewn.size());
    out.labels.reserve(out.triangles.capacity());
    appendAllBut(mesh, sheet->replaced, out);
    out.triangles.insert(out.triangles.end(), sheet->triangles.begin(), sheet->triangles.end());
    out.labels.resize(out.triangles.size(), face);
    out.triangles.insert(out.triangles.end(), sewn.begin(), sewn.end());
    out.labels.resize(out.triangles.size(), featureLabel);

    // Whether they can stand where they are.
    Box3 box;
    for (const Triangle& t : sewn)
        for (const Index v : t)
            box.add(out.points[v]);
    std::vector<Index> around = near(mesh, sheet->replaced, box);
    const std::size_t firstOfSheet = around.size(), firstOfFeatures = firstOfSheet + sheet->triangles.size();
    // In `out`, the triangles that were left out are missing from the numbers.
    for (Index& t : around)
        t -= static_cast<Index>(std::ranges::lower_bound(sheet->replaced, t) - sheet->replaced.begin());
    for (std::size_t t = kept; t < out.triangles.size(); ++t)
        around.push_back(static_cast<Index>(t));
    if (const Status s = clearOfAll(subset(out, around), firstOfSheet, firstOfFeatures); !s)
        return s.problem();
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
    for (const std::vector<Index>& points : loopsOf(rimOf(mesh, trianglesLabelled(mesh, face))).loops) {
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
