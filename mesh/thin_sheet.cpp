// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/thin_sheet.h"

#include "mesh/box_tree.h"
#include "mesh/plane.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace quoin::mesh {

namespace {

/// Faces look opposite ways when the cosine between their normals is below this; the distance decides the rest.
constexpr double oppositeCosine = -0.999;
/// Planes looked at in one mesh. A cut makes one; more than a few dozen come from no cut.
constexpr std::size_t mostPlanes = 64;
/// Heights below this share of thinMm say nothing about which face is the upper one.
constexpr double noiseShare = 1e-3;

/// Flat triangles on one plane that look along its normal, or against it.
struct Sheet {
    std::vector<Index> triangles;
    double skinAreaMm2 = 0;
    bool onPlate = true; ///< every corner has z = 0
};

class ThinSheets {
public:
    ThinSheets(EditMesh& mesh, Drift& drift, const ThinSheetOptions& options)
        : m_mesh(mesh), m_drift(drift), m_options(options)
    {
    }

    std::size_t run(const std::vector<std::pair<Index, Index>>& suspects)
    {
        for (const Plane& plane : planesOf(suspects))
            open(plane);
        return m_moved;
    }

private:
    Vec3 corner(Index t, int k) const { return m_mesh.point(m_mesh.triangle(t)[k]); }
    Vec3 twiceArea(Index t) const { return cross(corner(t, 1) - corner(t, 0), corner(t, 2) - corner(t, 0)); }
    bool sturdy(Index t) const { return heightOf(m_mesh, t) >= m_options.thinMm; }

    bool within(Index t, const Plane& plane) const
    {
        for (int k = 0; k < 3; ++k)
            if (!(std::fabs(plane.distance(corner(t, k))) < m_options.thinMm))
                return false;
        return true;
    }

    Plane planeOf(Index t) const { return planeThrough(corner(t, 0), twiceArea(t)); }

    bool pressedOn(Index t, Index other) const
    {
        return sturdy(t) && sturdy(other) &&
               dot(normalized(twiceArea(t)), normalized(twiceArea(other))) < oppositeCosine &&
               within(t, planeOf(other));
    }

    /// Sturdy triangles around a vertex and all that it is tied to by short edges.
    std::vector<Index> around(Index start) const
    {
        std::set<Index> near{start};
        std::vector<Index> open{start}, found;
        while (!open.empty()) {
            const Index v = open.back();
            open.pop_back();
            m_mesh.forTrianglesOf(v, [&](Index t) {
                if (sturdy(t))
                    found.push_back(t);
                for (const Index w : m_mesh.triangle(t))
                    if (length(m_mesh.point(w) - m_mesh.point(v)) < m_options.thinMm && near.insert(w).second)
                        open.push_back(w);
            });
        }
        std::sort(found.begin(), found.end());
        found.erase(std::unique(found.begin(), found.end()), found.end());
        return found;
    }

    /// Planes on which two faces are pressed together, found at the ends of short edges and over shared edges of
    /// faces that a cut has made.
    std::vector<Plane> planesOf(const std::vector<std::pair<Index, Index>>& suspects) const
    {
        std::vector<Plane> planes;
        std::set<Index> seen;
        const auto add = [&](Index t) {
            const bool known = std::any_of(planes.begin(), planes.end(), [&](const Plane& p) { return within(t, p); });
            if (!known && planes.size() < mostPlanes)
                planes.push_back(planeOf(t));
        };
        const auto lookAt = [&](Index v) {
            if (!seen.insert(v).second)
                return;
            const std::vector<Index> near = around(v);
            for (const Index a : near)
                for (const Index b : near)
                    if (a < b && (pressedOn(a, b) || pressedOn(b, a)))
                        add(pressedOn(a, b) ? b : a);
        };
        for (const auto& [a, b] : suspects) {
            if (!m_mesh.alive(a) || !m_mesh.alive(b))
                continue;
            if (a != b && (pressedOn(a, b) || pressedOn(b, a)))
                add(pressedOn(a, b) ? b : a);
            for (const Index t : {a, b})
                std::for_each(m_mesh.triangle(t).begin(), m_mesh.triangle(t).end(), lookAt);
        }
        for (Index t = 0; t < m_mesh.triangleCount(); ++t)
            if (m_mesh.alive(t) && m_mesh.label(t) != skinLabel)
                for (int k = 0; k < 3; ++k)
                    if (const Index other = m_mesh.across(t, k);
                        other != EditMesh::none && m_mesh.label(other) != m_mesh.label(t) && pressedOn(other, t))
                        add(t);
        return planes;
    }

    Sheet sheetOf(const Plane& plane, double sign) const
    {
        Sheet sheet;
        for (Index t = 0; t < m_mesh.triangleCount(); ++t) {
            if (!m_mesh.alive(t) || !within(t, plane) || !sturdy(t))
                continue;
            const Vec3 normal = twiceArea(t);
            if (sign * dot(normalized(normal), plane.normal) < -oppositeCosine)
                continue;
            sheet.triangles.push_back(t);
            if (m_mesh.label(t) == skinLabel)
                sheet.skinAreaMm2 += length(normal) / 2;
            for (int k = 0; k < 3; ++k)
                sheet.onPlate = sheet.onPlate && corner(t, k).z == 0;
        }
        return sheet;
    }

    void open(const Plane& plane)
    {
        const Sheet with = sheetOf(plane, 1), against = sheetOf(plane, -1);
        if (with.triangles.empty() || against.triangles.empty())
            return;
        // On the plate both may lie: then the one that looks up is not the base.
        const bool moveWith = with.onPlate && against.onPlate   ? plane.normal.z > 0
                              : with.onPlate != against.onPlate ? against.onPlate
                                                                : with.skinAreaMm2 >= against.skinAreaMm2;
        const Sheet& moving = moveWith ? with : against;
        const Sheet& staying = moveWith ? against : with;
        std::set<Index> corners, held;
        for (const Index t : staying.triangles)
            held.insert(m_mesh.triangle(t).begin(), m_mesh.triangle(t).end());
        for (const Index t : trianglesOver(moving, staying, plane)) {
            for (const Index v : m_mesh.triangle(t))
                if (held.count(v) == 0)
                    corners.insert(v);
            freeHeldEdges(t, held, staying, corners);
        }
        move(corners, plane, moveWith ? 1 : -1);
    }

    /// New corners on edges of t with both ends held, rim edges (to the other sheet) aside; one in its middle if all
    /// of its edges are rim.
    void freeHeldEdges(Index t, const std::set<Index>& held, const Sheet& staying, std::set<Index>& corners)
    {
        const auto isHeld = [&](Index v) { return held.count(v) != 0; };
        std::vector<Index> open{t};
        while (!open.empty()) {
            const Index now = open.back();
            open.pop_back();
            for (int k = 0; k < 3; ++k) {
                const Triangle c = m_mesh.triangle(now);
                const Index a = c[k], b = c[(k + 1) % 3], other = m_mesh.across(now, k);
                if (!isHeld(a) || !isHeld(b) ||
                    std::binary_search(staying.triangles.begin(), staying.triangles.end(), other))
                    continue;
                const Vec3 middle = 0.5 * (m_mesh.point(a) + m_mesh.point(b));
                m_drift.add(middle);
                const auto made = static_cast<Index>(m_mesh.triangleCount());
                corners.insert(m_mesh.splitEdge(now, k, middle));
                open.insert(open.end(), {now, made});
                break;
            }
        }
        const Triangle c = m_mesh.triangle(t);
        if (!isHeld(c[0]) || !isHeld(c[1]) || !isHeld(c[2]))
            return;
        const Vec3 middle = (m_mesh.point(c[0]) + m_mesh.point(c[1]) + m_mesh.point(c[2])) / 3;
        m_drift.add(middle);
        corners.insert(m_mesh.splitTriangle(t, middle));
    }

    /// Moves corners off the plane along the outward normal of their sheet (sign times the plane's), or against it
    /// when they clearly stand behind the other sheet.
    void move(const std::set<Index>& corners, const Plane& plane, double sign)
    {
        double mean = 0;
        for (const Index v : corners)
            mean += sign * plane.distance(m_mesh.point(v)) / static_cast<double>(corners.size());
        const double outwards = mean < -noiseShare * m_options.thinMm ? -1 : 1;
        for (const Index v : corners) {
            const Vec3 p = m_mesh.point(v);
            const double target = sign * outwards * m_options.openMm;
            m_mesh.setPoint(v, p + (target - plane.distance(p)) * plane.normal);
            ++m_moved;
        }
    }

    /// Those of one sheet that lie over some triangle of the other, seen along the normal.
    std::vector<Index> trianglesOver(const Sheet& moving, const Sheet& staying, const Plane& plane) const
    {
        std::vector<Box3> boxes;
        for (const Index t : staying.triangles)
            boxes.push_back(boxOf(t));
        const BoxTree tree(boxes);
        const PlaneFrame frame = frameOf(plane);
        std::vector<Index> over;
        for (const Index t : moving.triangles) {
            const TightBox box = TightBox::around(boxOf(t));
            bool found = false;
            tree.walk([&](const TightBox& other) { return other.overlaps(box); },
                      [&](Index i) {
                          found = overlap(flat(t, frame), flat(staying.triangles[i], frame));
                          return !found;
                      });
            if (found)
                over.push_back(t);
        }
        return over;
    }

    Box3 boxOf(Index t) const
    {
        Box3 box;
        const Vec3 reach{m_options.thinMm, m_options.thinMm, m_options.thinMm};
        for (int k = 0; k < 3; ++k) {
            box.add(corner(t, k) - reach);
            box.add(corner(t, k) + reach);
        }
        return box;
    }

    std::array<Vec2, 3> flat(Index t, const PlaneFrame& frame) const
    {
        return {frame.flat(corner(t, 0)), frame.flat(corner(t, 1)), frame.flat(corner(t, 2))};
    }

    /// Whether two triangles in a plane overlap by more than thinMm across every one of their sides (separating axes).
    bool overlap(const std::array<Vec2, 3>& a, const std::array<Vec2, 3>& b) const
    {
        for (const auto* one : {&a, &b})
            for (std::size_t k = 0; k < 3; ++k) {
                const Vec2 side = (*one)[(k + 1) % 3] - (*one)[k];
                const Vec2 across = (1 / length(side)) * Vec2{-side.y, side.x};
                const auto reach = [&](const std::array<Vec2, 3>& t) {
                    const auto [low, high] = std::minmax({dot(across, t[0]), dot(across, t[1]), dot(across, t[2])});
                    return std::pair(low, high);
                };
                const auto [lowA, highA] = reach(a);
                const auto [lowB, highB] = reach(b);
                if (std::min(highA, highB) - std::max(lowA, lowB) < m_options.thinMm)
                    return false;
            }
        return true;
    }

    EditMesh& m_mesh;
    Drift& m_drift;
    const ThinSheetOptions& m_options;
    std::size_t m_moved = 0;
};

} // namespace

std::size_t openThinSheets(EditMesh& mesh, Drift& drift, const std::vector<std::pair<Index, Index>>& suspects,
                           const ThinSheetOptions& options)
{
    return ThinSheets(mesh, drift, options).run(suspects);
}

} // namespace quoin::mesh
