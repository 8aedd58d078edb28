// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/edit_mesh.h"

#include <algorithm>
#include <cmath>

namespace quoin::mesh {

namespace {

constexpr Index none = EditMesh::none;

bool has(const Triangle& t, Index v)
{
    return t[0] == v || t[1] == v || t[2] == v;
}

Index thirdCorner(const Triangle& t, Index a, Index b)
{
    for (const Index v : t)
        if (v != a && v != b)
            return v;
    return none;
}

} // namespace

EditMesh::EditMesh(Mesh mesh)
    : m_mesh(std::move(mesh)), m_head(m_mesh.points.size(), none), m_next(3 * m_mesh.triangles.size(), none)
{
    for (std::size_t t = m_mesh.triangles.size(); t-- > 0;)
        link(static_cast<Index>(t));
}

void EditMesh::link(Index t)
{
    for (Index k = 0; k < 3; ++k) {
        const Index v = m_mesh.triangles[t][k];
        m_next[3 * t + k] = m_head[v];
        m_head[v] = 3 * t + k;
    }
}

void EditMesh::unlink(Index t)
{
    for (Index k = 0; k < 3; ++k) {
        Index* at = &m_head[m_mesh.triangles[t][k]];
        while (*at != 3 * t + k)
            at = &m_next[*at];
        *at = m_next[3 * t + k];
    }
}

void EditMesh::setTriangle(Index t, const Triangle& corners)
{
    if (alive(t))
        unlink(t);
    m_mesh.triangles[t] = corners;
    if (alive(t))
        link(t);
}

void EditMesh::removeTriangle(Index t)
{
    setTriangle(t, {none, none, none});
}

std::vector<Index> EditMesh::trianglesOf(Index v) const
{
    std::vector<Index> out;
    forTrianglesOf(v, [&](Index t) { out.push_back(t); });
    return out;
}

std::vector<Index> EditMesh::neighboursOf(Index v) const
{
    std::vector<Index> out;
    forTrianglesOf(v, [&](Index t) {
        for (const Index w : m_mesh.triangles[t])
            if (w != v)
                out.push_back(w);
    });
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

bool EditMesh::hasEdge(Index a, Index b) const
{
    bool found = false;
    forTrianglesOf(a, [&](Index t) { found = found || has(m_mesh.triangles[t], b); });
    return found;
}

Index EditMesh::across(Index t, int k) const
{
    const Triangle& own = m_mesh.triangles[t];
    const Index from = own[k], to = own[(k + 1) % 3];
    Index found = none;
    forTrianglesOf(from, [&](Index other) {
        const Triangle& o = m_mesh.triangles[other];
        for (int j = 0; j < 3; ++j)
            if (o[j] == to && o[(j + 1) % 3] == from)
                found = other;
    });
    return found;
}

std::optional<EditMesh::Edit> EditMesh::collapse(Index u, Index v) const
{
    std::vector<Index> opposite;
    Edit edit;
    forTrianglesOf(u, [&](Index t) {
        const Triangle& corners = m_mesh.triangles[t];
        if (has(corners, v)) {
            opposite.push_back(thirdCorner(corners, u, v));
            edit.triangles.push_back({t, {none, none, none}, label(t)});
            return;
        }
        Triangle moved = corners;
        std::replace(moved.begin(), moved.end(), u, v);
        edit.triangles.push_back({t, moved, label(t)});
    });
    if (opposite.size() != 2 || opposite[0] == opposite[1])
        return std::nullopt;
    const std::vector<Index> ofU = neighboursOf(u), ofV = neighboursOf(v);
    std::vector<Index> common;
    std::set_intersection(ofU.begin(), ofU.end(), ofV.begin(), ofV.end(), std::back_inserter(common));
    if (common.size() != 2)
        return std::nullopt;
    const auto spans = [&](Index w) {
        bool found = false;
        forTrianglesOf(w, [&](Index t) {
            const Triangle& corners = m_mesh.triangles[t];
            found = found || (has(corners, opposite[0]) && has(corners, opposite[1]));
        });
        return found;
    };
    if (spans(u) && spans(v))
        return std::nullopt;
    return edit;
}

std::optional<EditMesh::Edit> EditMesh::flip(Index t, int k) const
{
    const Index other = across(t, k);
    if (other == none)
        return std::nullopt;
    const Triangle& own = m_mesh.triangles[t];
    const Index p = own[k], q = own[(k + 1) % 3], r = own[(k + 2) % 3];
    const Index s = thirdCorner(m_mesh.triangles[other], p, q);
    if (r == s || s == none || hasEdge(r, s))
        return std::nullopt;
    const Label kept = label(heightOf(*this, t) > heightOf(*this, other) ? t : other);
    Edit edit;
    edit.triangles.push_back({t, {p, s, r}, kept});
    edit.triangles.push_back({other, {s, q, r}, kept});
    return edit;
}

EditMesh::Edit EditMesh::apply(const Edit& edit)
{
    Edit back;
    for (const TriangleChange& change : edit.triangles) {
        back.triangles.push_back({change.triangle, m_mesh.triangles[change.triangle], label(change.triangle)});
        setTriangle(change.triangle, change.corners);
        if (!m_mesh.labels.empty())
            m_mesh.labels[change.triangle] = change.label;
    }
    for (const PointChange& change : edit.points) {
        back.points.push_back({change.vertex, m_mesh.points[change.vertex]});
        m_mesh.points[change.vertex] = change.point;
    }
    // Taken back last to first, so that a triangle or point named twice ends as it began.
    std::reverse(back.triangles.begin(), back.triangles.end());
    std::reverse(back.points.begin(), back.points.end());
    return back;
}

Index EditMesh::addVertex(Vec3 p)
{
    m_mesh.points.push_back(p);
    m_head.push_back(none);
    return static_cast<Index>(m_mesh.points.size() - 1);
}

void EditMesh::addTriangle(const Triangle& corners, Label label)
{
    m_mesh.triangles.push_back(corners);
    if (!m_mesh.labels.empty())
        m_mesh.labels.push_back(label);
    m_next.resize(3 * m_mesh.triangles.size(), none);
    link(static_cast<Index>(m_mesh.triangles.size() - 1));
}

Index EditMesh::splitEdge(Index t, int k, Vec3 p)
{
    const Index other = across(t, k), from = triangle(t)[k], to = triangle(t)[(k + 1) % 3];
    const Index m = addVertex(p);
    const auto halve = [&](Index whole, Index end) {
        Triangle kept = triangle(whole), made = kept;
        // The half at the start keeps the number: its far end becomes m.
        std::replace(kept.begin(), kept.end(), end, m);
        std::replace(made.begin(), made.end(), end == to ? from : to, m);
        const Label own = label(whole);
        setTriangle(whole, kept);
        addTriangle(made, own);
    };
    halve(t, to);
    if (other != none)
        halve(other, from);
    return m;
}

Index EditMesh::splitTriangle(Index t, Vec3 p)
{
    const Triangle whole = triangle(t);
    const Index m = addVertex(p);
    setTriangle(t, {whole[0], whole[1], m});
    addTriangle({whole[1], whole[2], m}, label(t));
    addTriangle({whole[2], whole[0], m}, label(t));
    return m;
}

std::vector<Index> EditMesh::vertices() const
{
    std::vector<Index> used;
    for (Index v = 0; v < m_mesh.points.size(); ++v)
        if (vertexAlive(v))
            used.push_back(v);
    return used;
}

Mesh EditMesh::mesh() const
{
    Mesh out;
    std::vector<Index> moved(m_mesh.points.size(), none);
    for (const Index v : vertices()) {
        moved[v] = static_cast<Index>(out.points.size());
        out.points.push_back(m_mesh.points[v]);
    }
    out.triangles.reserve(m_mesh.triangles.size());
    for (std::size_t t = 0; t < m_mesh.triangles.size(); ++t) {
        const Triangle& corners = m_mesh.triangles[t];
        if (corners[0] == none)
            continue;
        out.triangles.push_back({moved[corners[0]], moved[corners[1]], moved[corners[2]]});
        if (!m_mesh.labels.empty())
            out.labels.push_back(m_mesh.labels[t]);
    }
    return out;
}

double heightOf(Vec3 a, Vec3 b, Vec3 c)
{
    const Vec3 ab = b - a, ac = c - a, bc = c - b;
    const double longest = std::max({dot(ab, ab), dot(ac, ac), dot(bc, bc)});
    return longest > 0 ? length(cross(ab, ac)) / std::sqrt(longest) : 0;
}

double heightOf(const EditMesh& mesh, Index triangle)
{
    const Triangle& t = mesh.triangle(triangle);
    return heightOf(mesh.point(t[0]), mesh.point(t[1]), mesh.point(t[2]));
}

int longestSide(const EditMesh& mesh, Index triangle)
{
    const Triangle& t = mesh.triangle(triangle);
    double best = -1;
    int side = 0;
    for (int k = 0; k < 3; ++k) {
        const Vec3 edge = mesh.point(t[(k + 1) % 3]) - mesh.point(t[k]);
        if (dot(edge, edge) > best) {
            best = dot(edge, edge);
            side = k;
        }
    }
    return side;
}

} // namespace quoin::mesh
