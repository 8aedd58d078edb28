// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/box_tree.h"

#include <algorithm>
#include <cmath>
#include <limits>

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
    Buffer<Entry> entries;
    entries.resize(boxes.size());
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const Vec3 c = boxes[i].centre();
        entries[i] = {{roundedDown(c.x), roundedDown(c.y), roundedDown(c.z)}, static_cast<Index>(i)};
    }
    m_nodes.resize(2 * ((boxes.size() + leafSize - 1) / leafSize) - 1);
    build(0, 0, boxes.size(), entries, boxes);
}

void BoxTree::build(std::size_t node, std::size_t first, std::size_t count, Buffer<Entry>& entries,
                    const std::vector<Box3>& boxes)
{
    Node& self = m_nodes[node];
    const std::size_t leaves = (count + leafSize - 1) / leafSize;
    if (leaves == 1) {
        self.link = static_cast<Index>(first);
        self.count = static_cast<Index>(count);
        for (std::size_t i = first; i < first + count; ++i) {
            m_items[i] = entries[i].item;
            m_boxes[i] = TightBox::around(boxes[m_items[i]]);
            i == first ? void(self.box = m_boxes[i]) : self.box.add(m_boxes[i]);
        }
        return;
    }
    // The left side is made of full leaves, so that the place of the right side's nodes is known beforehand.
    const std::size_t leftLeaves = (leaves + 1) / 2, leftCount = leftLeaves * leafSize;
    const auto at = entries.begin() + static_cast<std::ptrdiff_t>(first);
    const auto end = at + static_cast<std::ptrdiff_t>(count);
    TightBox centres{at->centre, at->centre};
    for (auto e = at; e != end; ++e)
        centres.add({e->centre, e->centre});
    std::size_t axis = 0;
    for (std::size_t k = 1; k < 3; ++k)
        if (centres.max[k] - centres.min[k] > centres.max[axis] - centres.min[axis])
            axis = k;
    std::nth_element(at, at + static_cast<std::ptrdiff_t>(leftCount), end, [axis](const Entry& a, const Entry& b) {
        return a.centre[axis] != b.centre[axis] ? a.centre[axis] < b.centre[axis] : a.item < b.item;
    });
    const std::size_t right = node + 2 * leftLeaves;
    self.link = static_cast<Index>(right);
    self.count = 0;
    const auto buildLeft = [&] { build(node + 1, first, leftCount, entries, boxes); };
    const auto buildRight = [&] { build(right, first + leftCount, count - leftCount, entries, boxes); };
    if (leaves >= leavesWorthAThread)
        tbb::parallel_invoke(buildLeft, buildRight);
    else {
        buildLeft();
        buildRight();
    }
    self.box = m_nodes[node + 1].box;
    self.box.add(m_nodes[right].box);
}

} // namespace quoin::mesh
