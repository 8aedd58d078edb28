// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/self_intersection.h"

#include "mesh/box_tree.h"
#include "mesh/topology.h"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/intersections.h>

#include <tbb/enumerable_thread_specific.h>

#include <algorithm>
#include <atomic>

namespace quoin::mesh {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;
using Corners = std::array<Point, 3>;

Point pointOf(Vec3 p)
{
    return {p.x, p.y, p.z};
}

Corners cornersOf(const Mesh& mesh, Index t)
{
    return {pointOf(mesh.corner(t, 0)), pointOf(mesh.corner(t, 1)), pointOf(mesh.corner(t, 2))};
}

Kernel::Triangle_3 triangleOf(const Corners& c)
{
    return {c[0], c[1], c[2]};
}

/// Whether p and q are strictly on one side of the triangle's plane.
bool sameSide(const Corners& t, const Point& p, const Point& q)
{
    const CGAL::Orientation side = CGAL::orientation(t[0], t[1], t[2], p);
    return side != CGAL::COPLANAR && side == CGAL::orientation(t[0], t[1], t[2], q);
}

/// Two triangles with one corner in common, which is number i of the one and j of the other: what they share besides
/// is a convex set from that corner on, and so ends on the far edge of one of them.
bool meetBesidesCorner(const Corners& a, std::size_t i, const Corners& b, std::size_t j)
{
    const Point& a1 = a[(i + 1) % 3];
    const Point& a2 = a[(i + 2) % 3];
    const Point& b1 = b[(j + 1) % 3];
    const Point& b2 = b[(j + 2) % 3];
    if (sameSide(b, a1, a2) || sameSide(a, b1, b2))
        return false;
    return CGAL::do_intersect(triangleOf(b), Kernel::Segment_3(a1, a2)) ||
           CGAL::do_intersect(triangleOf(a), Kernel::Segment_3(b1, b2));
}

/// Two triangles with an edge in common and third corners c and d meet besides it only when folded onto each other.
bool foldedOver(const Point& p, const Point& q, const Point& c, const Point& d)
{
    return CGAL::orientation(p, q, c, d) == CGAL::COPLANAR && CGAL::coplanar_orientation(p, q, c, d) == CGAL::POSITIVE;
}

bool trianglesMeet(const Mesh& mesh, Index s, Index t)
{
    const Triangle& a = mesh.triangles[s];
    const Triangle& b = mesh.triangles[t];
    std::size_t shared = 0, inA = 0, inB = 0, sumA = 0, sumB = 0;
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
            if (a[i] == b[j]) {
                ++shared;
                inA = i;
                inB = j;
                sumA += i;
                sumB += j;
            }
    if (shared >= 3)
        return true;
    const Corners ca = cornersOf(mesh, s), cb = cornersOf(mesh, t);
    if (shared == 2) {
        const std::size_t freeA = 3 - sumA, freeB = 3 - sumB;
        return foldedOver(ca[(freeA + 1) % 3], ca[(freeA + 2) % 3], ca[freeA], cb[freeB]);
    }
    if (shared == 1)
        return meetBesidesCorner(ca, inA, cb, inB);
    return CGAL::do_intersect(triangleOf(ca), triangleOf(cb));
}

/// Boxes of the triangles that have an area; `numbers` gets their numbers.
std::vector<Box3> boxesOf(const Mesh& mesh, std::vector<Index>& numbers, const Box3* within = nullptr)
{
    std::vector<Box3> boxes;
    boxes.reserve(mesh.triangles.size());
    numbers.reserve(mesh.triangles.size());
    for (Index i = 0; i < mesh.triangles.size(); ++i) {
        Box3 box;
        for (int k = 0; k < 3; ++k)
            box.add(mesh.corner(i, k));
        if (within != nullptr && !TightBox::around(box).overlaps(TightBox::around(*within)))
            continue;
        if (degenerate(mesh.corner(i, 0), mesh.corner(i, 1), mesh.corner(i, 2)))
            continue;
        boxes.push_back(box);
        numbers.push_back(i);
    }
    return boxes;
}

} // namespace

std::vector<std::pair<Index, Index>> selfIntersections(const Mesh& mesh, std::size_t limit)
{
    std::vector<Index> numbers;
    const BoxTree tree(boxesOf(mesh, numbers));
    using Pairs = std::vector<std::pair<Index, Index>>;
    tbb::enumerable_thread_specific<Pairs> found;
    std::atomic<std::size_t> count{0};
    tree.forEachPair(
        [&](Index i, Index j) {
            const Index s = std::min(numbers[i], numbers[j]), t = std::max(numbers[i], numbers[j]);
            if (!trianglesMeet(mesh, s, t))
                return;
            found.local().emplace_back(s, t);
            count.fetch_add(1, std::memory_order_relaxed);
        },
        [&] { return limit != 0 && count.load(std::memory_order_relaxed) >= limit; });
    Pairs all;
    for (const Pairs& some : found)
        all.insert(all.end(), some.begin(), some.end());
    std::sort(all.begin(), all.end());
    return all;
}

bool meshesIntersect(const Mesh& a, const Mesh& b)
{
    const Box3 boxA = bounds(a), boxB = bounds(b);
    if (boxA.empty() || boxB.empty())
        return false;
    std::vector<Index> numbersA, numbersB;
    const BoxTree treeA(boxesOf(a, numbersA, &boxB)), treeB(boxesOf(b, numbersB, &boxA));
    std::atomic<bool> found{false};
    treeA.forEachPair(
        treeB,
        [&](Index i, Index j) {
            if (!found.load(std::memory_order_relaxed) &&
                CGAL::do_intersect(triangleOf(cornersOf(a, numbersA[i])), triangleOf(cornersOf(b, numbersB[j]))))
                found.store(true, std::memory_order_relaxed);
        },
        [&] { return found.load(std::memory_order_relaxed); });
    return found;
}

} // namespace quoin::mesh
