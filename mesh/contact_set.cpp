// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/contact_set.h"

#include "mesh/topology.h"
#include "mesh/triangle_contact.h"

#include <algorithm>
#include <set>

namespace quoin::mesh {

namespace {

std::vector<Box3> boxesOf(const EditMesh& mesh)
{
    // A triangle taken away has a box at the origin: never tested, since it is not alive.
    std::vector<Box3> boxes(mesh.triangleCount(), Box3{{0, 0, 0}, {0, 0, 0}});
    for (Index t = 0; t < boxes.size(); ++t)
        if (mesh.alive(t))
            boxes[t] = Box3{};
    for (Index t = 0; t < boxes.size(); ++t)
        if (mesh.alive(t))
            for (const Index v : mesh.triangle(t))
                boxes[t].add(mesh.point(v));
    return boxes;
}

bool overlap(const Box3& a, const Box3& b)
{
    return a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y && a.min.z <= b.max.z &&
           b.min.z <= a.max.z;
}

bool contains(const std::vector<Index>& sorted, Index value)
{
    return std::binary_search(sorted.begin(), sorted.end(), value);
}

} // namespace

ContactSet::ContactSet(EditMesh& mesh, const std::vector<TrianglePair>& pairs)
    : m_mesh(mesh), m_tree(boxesOf(mesh)), m_isChanged(mesh.triangleCount(), 0)
{
    for (const auto& [a, b] : pairs) {
        if (!m_mesh.alive(a) || !m_mesh.alive(b))
            continue;
        if (flat(a))
            add({a, a});
        if (flat(b))
            add({b, b});
        if (a != b && !flat(a) && !flat(b) && trianglesMeet(m_mesh.triangle(a), m_mesh.triangle(b), m_mesh.points()))
            add({a, b});
    }
}

void ContactSet::add(TrianglePair pair)
{
    const auto put = [&](Index from, Index to) {
        std::vector<Index>& list = m_partners[from];
        if (std::find(list.begin(), list.end(), to) == list.end())
            list.push_back(to);
    };
    put(pair.first, pair.second);
    put(pair.second, pair.first);
}

std::vector<TrianglePair> ContactSet::pairs() const
{
    std::vector<TrianglePair> out;
    for (const auto& [t, others] : m_partners)
        for (const Index o : others)
            if (t <= o)
                out.emplace_back(t, o);
    std::sort(out.begin(), out.end());
    return out;
}

bool ContactSet::meets(Index a, Index b) const
{
    const auto at = m_partners.find(a);
    return at != m_partners.end() && std::find(at->second.begin(), at->second.end(), b) != at->second.end();
}

std::vector<Index> ContactSet::cluster(Index t) const
{
    std::set<Index> seen{t};
    std::vector<Index> open{t};
    while (!open.empty()) {
        const auto at = m_partners.find(open.back());
        open.pop_back();
        if (at == m_partners.end())
            continue;
        for (const Index o : at->second)
            if (seen.insert(o).second)
                open.push_back(o);
    }
    return {seen.begin(), seen.end()};
}

bool ContactSet::flat(Index t) const
{
    const Triangle& c = m_mesh.triangle(t);
    return degenerate(m_mesh.point(c[0]), m_mesh.point(c[1]), m_mesh.point(c[2]));
}

Box3 ContactSet::boxOf(Index t) const
{
    Box3 box;
    for (const Index v : m_mesh.triangle(t))
        box.add(m_mesh.point(v));
    return box;
}

std::vector<Index> ContactSet::affectedBy(const EditMesh::Edit& edit) const
{
    std::vector<Index> affected;
    for (const auto& change : edit.triangles)
        affected.push_back(change.triangle);
    for (const auto& change : edit.points)
        m_mesh.forTrianglesOf(change.vertex, [&](Index t) { affected.push_back(t); });
    std::sort(affected.begin(), affected.end());
    affected.erase(std::unique(affected.begin(), affected.end()), affected.end());
    return affected;
}

std::size_t ContactSet::knownAround(const std::vector<Index>& affected) const
{
    std::size_t count = 0;
    for (const Index t : affected) {
        const auto at = m_partners.find(t);
        if (at == m_partners.end())
            continue;
        for (const Index o : at->second)
            count += o >= t || !contains(affected, o);
    }
    return count;
}

void ContactSet::gather(Index t, const std::vector<Index>& affected, Found& found)
{
    if (flat(t)) {
        found.emplace_back(t, t);
        return;
    }
    const Box3 box = boxOf(t);
    const auto test = [&](Index o) {
        ++m_tests;
        if (trianglesMeet(m_mesh.triangle(t), m_mesh.triangle(o), m_mesh.points()))
            found.emplace_back(t, o);
    };
    const TightBox tight = TightBox::around(box);
    m_tree.walk([&](const TightBox& other) { return other.overlaps(tight); },
                [&](Index o) {
                    if (m_mesh.alive(o) && !m_isChanged[o] && !contains(affected, o) && !flat(o))
                        test(o);
                    return true;
                });
    for (const Index o : m_changed)
        if (m_mesh.alive(o) && !contains(affected, o) && overlap(box, boxOf(o)) && !flat(o))
            test(o);
    for (const Index o : affected)
        if (o > t && m_mesh.alive(o) && overlap(box, boxOf(o)) && !flat(o))
            test(o);
}

ContactSet::Found ContactSet::foundAround(const std::vector<Index>& affected, std::size_t enough)
{
    Found found;
    for (const Index t : affected) {
        if (m_mesh.alive(t))
            gather(t, affected, found);
        if (found.size() >= enough)
            break;
    }
    return found;
}

void ContactSet::record(const std::vector<Index>& affected, const Found& found)
{
    for (const Index t : affected) {
        const auto at = m_partners.find(t);
        if (at != m_partners.end()) {
            for (const Index o : at->second) {
                if (o == t)
                    continue;
                std::erase(m_partners[o], t);
                if (m_partners[o].empty())
                    m_partners.erase(o);
            }
            m_partners.erase(t);
        }
        if (!m_isChanged[t]) {
            m_isChanged[t] = 1;
            m_changed.push_back(t);
        }
    }
    for (const TrianglePair& pair : found)
        add(pair);
}

bool ContactSet::improve(const EditMesh::Edit& edit)
{
    const std::vector<Index> affected = affectedBy(edit);
    const std::size_t before = knownAround(affected);
    if (before == 0)
        return false;
    const EditMesh::Edit back = m_mesh.apply(edit);
    const Found after = foundAround(affected, before);
    if (after.size() >= before) {
        m_mesh.apply(back);
        return false;
    }
    record(affected, after);
    if (m_changed.size() > 256 + m_mesh.triangleCount() / 512)
        forgetChanges();
    return true;
}

void ContactSet::forgetChanges()
{
    m_tree = BoxTree(boxesOf(m_mesh));
    for (const Index t : m_changed)
        m_isChanged[t] = 0;
    m_changed.clear();
}

} // namespace quoin::mesh
