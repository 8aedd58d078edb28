// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/disjoint_sets.h"
#include "mesh/outline_loops.h"
#include "mesh/plane_cutter.h"

// What happens at the rim: crossing triangles, the cap, and what touches the plane.
namespace quoin::mesh::cutting {

void Cutter::splitCrossing()
{
    m_edges.reserve(m_crossings);
    for (const TriangleChunk& chunk : m_chunks) {
        for (const OutlineEdge& e : chunk.onEdges)
            m_outline.push_back({rimOf(e[1]), rimOf(e[0])});
        for (const Index i : chunk.crossing)
            splitOne(i);
    }
}

void Cutter::splitOne(Index i)
{
    const Triangle t = m_mesh.triangles[i];
    const auto sideOf = [&](Index v) { return m_where[v] >> 30; }; // 1 below, 2 above, 3 on
    // Turn the triangle so that p is the corner in the plane, or the one alone on its side.
    std::size_t k = 0;
    for (std::size_t j = 0; j < 3; ++j) {
        const Index s = sideOf(t[j]), s1 = sideOf(t[(j + 1) % 3]), s2 = sideOf(t[(j + 2) % 3]);
        if (s == 3 || (s != s1 && s != s2 && s1 == s2))
            k = j;
    }
    const Index p = t[k], q = t[(k + 1) % 3], r = t[(k + 2) % 3];
    if (sideOf(p) == 3) {
        const Index on = rimOf(p), made = rimOf(q, r);
        const bool qBelow = sideOf(q) == 1;
        m_split[qBelow ? Below : Above].push_back({{on | rimFlag, q, made | rimFlag}, i});
        m_split[qBelow ? Above : Below].push_back({{on | rimFlag, made | rimFlag, r}, i});
        m_outline.push_back(qBelow ? OutlineEdge{on, made} : OutlineEdge{made, on});
        return;
    }
    const Index n1 = rimOf(p, q), n2 = rimOf(p, r);
    const bool apexBelow = sideOf(p) == 1;
    m_split[apexBelow ? Below : Above].push_back({{p, n1 | rimFlag, n2 | rimFlag}, i});
    addQuad(m_split[apexBelow ? Above : Below], n1, q, r, n2, i);
    m_outline.push_back(apexBelow ? OutlineEdge{n2, n1} : OutlineEdge{n1, n2});
}

void Cutter::addQuad(std::vector<Split>& to, Index n1, Index q, Index r, Index n2, Index source)
{
    // The shorter diagonal leaves the rounder triangles.
    const Vec3 p1 = rimPoint(n1), p2 = rimPoint(n2);
    const Vec3 d1 = m_mesh.points[r] - p1, d2 = m_mesh.points[q] - p2;
    const Index f1 = n1 | rimFlag, f2 = n2 | rimFlag;
    if (dot(d1, d1) < dot(d2, d2)) {
        to.push_back({{f1, q, r}, source});
        to.push_back({{f1, r, f2}, source});
    } else {
        to.push_back({{f1, q, f2}, source});
        to.push_back({{q, r, f2}, source});
    }
}

Vec3 Cutter::rimPoint(std::size_t r) const
{
    const RimVertex& rim = m_rim[r];
    const Vec3 a = m_mesh.points[rim.below];
    if (rim.below == rim.above)
        return a;
    const Vec3 b = m_mesh.points[rim.above];
    const double ha = m_side.height(a), hb = m_side.height(b);
    Vec3 p = a + ha / (ha - hb) * (b - a);
    // On a plane square to an axis, exactly on it.
    if (std::abs(m_plane.normal.x) == 1)
        p.x = m_plane.normal.x * m_plane.offset;
    else if (std::abs(m_plane.normal.y) == 1)
        p.y = m_plane.normal.y * m_plane.offset;
    else if (std::abs(m_plane.normal.z) == 1)
        p.z = m_plane.normal.z * m_plane.offset;
    return p;
}

Result<OutlineTriangles> Cutter::triangulatedCap() const
{
    const PlaneFrame frame = frameOf(m_plane);
    std::vector<Vec2> flat;
    flat.reserve(m_rimPoints.size());
    for (const Vec3 p : m_rimPoints)
        flat.push_back(frame.flat(p));
    Result<OutlineTriangles> cap = triangulateOutline(flat, m_outline);
    if (cap && cap->merged.empty())
        return cap;
    std::vector<CrossingPoint> exact;
    exact.reserve(m_rim.size());
    for (const RimVertex& r : m_rim)
        exact.push_back({m_mesh.points[r.below], m_mesh.points[r.above]});
    return triangulateOutlineExactly(exact, m_plane, m_outline);
}

void Cutter::addCap(const OutlineTriangles& cap)
{
    m_out.belowCap = m_out.below.triangles.size();
    m_out.aboveCap = m_out.above.triangles.size();
    for (const Triangle& t : cap.triangles) {
        m_out.below.triangles.push_back({t[0] + m_total[Below], t[1] + m_total[Below], t[2] + m_total[Below]});
        m_out.above.triangles.push_back({t[0] + m_total[Above], t[2] + m_total[Above], t[1] + m_total[Above]});
        if (m_labels) {
            m_out.below.labels.push_back(m_options.label);
            m_out.above.labels.push_back(m_options.label);
        }
    }
    if (!cap.merged.empty()) {
        m_merged = true;
        mergeRim(cap.merged);
    }
}

/// Makes one of rim vertices that lie on one spot, where the section's fillings join there.
void Cutter::mergeRim(const std::vector<OutlineEdge>& pairs)
{
    DisjointSets<Index> places(m_rim.size());
    for (const OutlineEdge& e : pairs)
        places.join(e[0], e[1]);
    const auto merge = [&](Mesh& half, Index shift, std::size_t& cap) {
        std::size_t kept = 0;
        std::size_t keptBeforeCap = 0;
        for (std::size_t i = 0; i < half.triangles.size(); ++i) {
            if (i == cap)
                keptBeforeCap = kept;
            Triangle t = half.triangles[i];
            for (Index& v : t)
                if (v >= shift)
                    v = shift + places.find(v - shift);
            if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0])
                continue;
            half.triangles[kept] = t;
            if (m_labels)
                half.labels[kept] = half.labels[i];
            ++kept;
        }
        cap = keptBeforeCap;
        half.triangles.resize(kept);
        if (m_labels)
            half.labels.resize(kept);
    };
    merge(m_out.below, m_total[Below], m_out.belowCap);
    merge(m_out.above, m_total[Above], m_out.aboveCap);
}

/// An old vertex in the plane may be touched from one side only; it then stands unused in the other half.
void Cutter::dropLooseRimVertices()
{
    const auto compact = [&](Mesh& half, std::size_t side) {
        const Index shift = m_total[side];
        std::vector<Index> moved(m_rim.size(), 0);
        forRimTriangles(side, [&](const Triangle& t) {
            for (const Index v : t)
                if (v >= shift)
                    moved[v - shift] = 1;
        });
        if (std::find(moved.begin(), moved.end(), Index{0}) == moved.end())
            return;
        Index next = 0;
        for (std::size_t r = 0; r < moved.size(); ++r)
            if (moved[r] != 0) {
                half.points[shift + next] = half.points[shift + r];
                moved[r] = next++;
            }
        half.points.resize(shift + next);
        for (Triangle& t : half.triangles)
            for (Index& v : t)
                if (v >= shift)
                    v = shift + moved[v - shift];
    };
    if (m_total[On] == 0)
        return;
    compact(m_out.below, Below);
    compact(m_out.above, Above);
}

/// Where the model's own edges lie in the plane, a half can be left touching itself along one: two wedges with the
/// void between them on the other side. Such a half has to be parted there.
bool Cutter::touchesItself(std::size_t half) const
{
    if (m_total[On] < 2)
        return false;
    const Index shift = m_total[half];
    std::vector<std::uint64_t> edges;
    forRimTriangles(half, [&](const Triangle& t) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto [a, b] = std::minmax(t[k], t[(k + 1) % 3]);
            if (a >= shift)
                edges.push_back((static_cast<std::uint64_t>(a) << 32) | b);
        }
    });
    std::sort(edges.begin(), edges.end());
    for (std::size_t i = 0; i + 2 < edges.size(); ++i)
        if (edges[i] == edges[i + 2])
            return true;
    return false;
}

/// The plane misses the model or only touches it: one half is the whole.
Result<CutHalves> Cutter::untouched()
{
    Mesh& half = m_total[Below] > 0 ? m_out.below : m_out.above;
    half = m_mesh;
    if (m_labels && half.labels.empty())
        half.labels.resize(half.triangles.size(), skinLabel);
    m_out.belowCap = m_out.below.triangles.size();
    m_out.aboveCap = m_out.above.triangles.size();
    return std::move(m_out);
}

Result<Region> Cutter::section()
{
    m_outlineOnly = true;
    placeVertices();
    sortTriangles();
    splitCrossing();
    const OutlineLoops outline = loopsOf(m_outline);
    if (!outline.closed) {
        m_rimPoints.push_back(rimPoint(outline.openAt));
        return placed({Reason::CutFailed,
                       "the section's outline is not closed: the model is open",
                       {},
                       {},
                       "Repair the model (--repair)."});
    }
    const PlaneFrame frame = frameOf(m_plane);
    Region region;
    for (const std::vector<Index>& points : outline.loops) {
        Loop& loop = region.emplace_back();
        for (const Index r : points)
            loop.push_back(frame.flat(rimPoint(r)));
    }
    return region;
}

void Cutter::addSplitTriangles()
{
    const std::array<Mesh*, 2> half{&m_out.below, &m_out.above};
    for (std::size_t s = 0; s < 2; ++s)
        for (const Split& split : m_split[s]) {
            Triangle t = split.corners;
            for (Index& v : t)
                v = (v & rimFlag) != 0 ? m_total[s] + (v & ~rimFlag) : m_where[v] & placeMask;
            half[s]->triangles.push_back(t);
            if (m_labels)
                half[s]->labels.push_back(m_mesh.label(split.source));
        }
}

} // namespace quoin::mesh::cutting
