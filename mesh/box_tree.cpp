// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/box_tree.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace quoin::mesh {

namespace {

float roundedDown(double d)
{
    constexpr double largest = std::numeric_limits<float>::max();
    if (d > largest)
        return std::numeric_limits<float>::max();
    if (d < -largest)
        return -std::numeric_limits<float>::infinity();
    const auto f = static_cast<float>(d);
    return static_cast<double>(f) > d ? std::nextafterf(f, -std::numeric_limits<float>::infinity()) : f;
}

float roundedUp(double d)
{
    return -roundedDown(-d);
}

} // namespace

TightBox TightBox::around(const Box3& box)
{
    return {{roundedDown(box.min.x), roundedDown(box.min.y), roundedDown(box.min.z)},
            {roundedUp(box.max.x), roundedUp(box.max.y), roundedUp(box.max.z)}};
}

BoxTree::BoxTree(const std::vector<Box3>& boxes) : m_items(boxes.size()), m_boxes(boxes.size())
{
    if (boxes.empty())
        return;
    std::iota(m_items.begin(), m_items.end(), Index{0});
    m_nodes.resize(2 * ((boxes.size() + leafSize - 1) / leafSize) - 1);
    build(0, 0, boxes.size(), boxes);
}

void BoxTree::build(std::size_t node, std::size_t first, std::size_t count, const std::vector<Box3>& boxes)
{
    Box3 whole, centres;
    for (std::size_t i = first; i < first + count; ++i) {
        const Box3& b = boxes[m_items[i]];
        whole.add(b.min);
        whole.add(b.max);
        centres.add(b.centre());
    }
    m_nodes[node].box = TightBox::around(whole);
    const std::size_t leaves = (count + leafSize - 1) / leafSize;
    if (leaves == 1) {
        m_nodes[node].link = static_cast<Index>(first);
        m_nodes[node].count = static_cast<Index>(count);
        for (std::size_t i = first; i < first + count; ++i)
            m_boxes[i] = TightBox::around(boxes[m_items[i]]);
        return;
    }
    // The left side is made of full leaves, so that the place of the right side's nodes is known beforehand.
    const std::size_t leftLeaves = (leaves + 1) / 2, leftCount = leftLeaves * leafSize;
    const Vec3 size = centres.extents();
    const int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
    const auto at = m_items.begin() + static_cast<std::ptrdiff_t>(first);
    std::nth_element(at, at + static_cast<std::ptrdiff_t>(leftCount), at + static_cast<std::ptrdiff_t>(count),
                     [&](Index a, Index b) {
                         const double ca = boxes[a].min[axis] + boxes[a].max[axis];
                         const double cb = boxes[b].min[axis] + boxes[b].max[axis];
                         return ca != cb ? ca < cb : a < b;
                     });
    const std::size_t right = node + 2 * leftLeaves;
    m_nodes[node].link = static_cast<Index>(right);
    m_nodes[node].count = 0;
    const auto buildLeft = [&] { build(node + 1, first, leftCount, boxes); };
    const auto buildRight = [&] { build(right, first + leftCount, count - leftCount, boxes); };
    if (leaves >= leavesWorthAThread)
        tbb::parallel_invoke(buildLeft, buildRight);
    else {
        buildLeft();
        buildRight();
    }
}

} // namespace quoin::mesh
