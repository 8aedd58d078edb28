// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/sweep_tree.h"

#include <numbers>

namespace quoin::mesh {

namespace {

using std::numbers::pi;

constexpr std::size_t leafSize = 4;
/// Trees are sorted along the motion only where they are far longer than wide.
constexpr double alongWeight = 0.05;

struct Direction {
    double r, f;
};

const std::array<Direction, sweepAxes>& directions()
{
    static const std::array<Direction, sweepAxes> all = [] {
        std::array<Direction, sweepAxes> d{};
        for (std::size_t i = 0; i < sweepAxes; ++i)
            d[i] = {std::cos(pi * static_cast<double>(i) / sweepAxes),
                    std::sin(pi * static_cast<double>(i) / sweepAxes)};
        d[sweepAxes / 2] = {0, 1};
        return d;
    }();
    return all;
}

/// Largest gap over the directions, with a shifted by `shift` along f; negative when none tells them apart.
double apart(const SweepExtents& a, const SweepExtents& b, double shift)
{
    double most = -1e300;
    for (std::size_t i = 0; i < sweepAxes; ++i) {
        const double by = directions()[i].f * shift;
        most = std::max({most, b.low[i] - a.high[i] - by, a.low[i] + by - b.high[i]});
    }
    return most;
}

} // namespace

SweepExtents::SweepExtents()
{
    low.fill(1e300);
    high.fill(-1e300);
}
SweepExtents::SweepExtents(const SweepElement& e) : SweepExtents()
{
    for (std::size_t i = 0; i < sweepAxes; ++i) {
        const Direction d = directions()[i];
        const double slack = std::abs(d.r) * e.errorR + (e.wholeTurn ? 0 : std::abs(d.f) * e.errorF);
        for (const Vec3& m : e.moved) {
            const double x = d.r * m.x + d.f * m.y;
            low[i] = std::min(low[i], x - slack);
            high[i] = std::max(high[i], x + slack);
        }
    }
    if (e.wholeTurn) { // all of f: as good as unlimited
        low[0] = std::min(low[0], e.lowRadius);
        low[sweepAlongF] = -1e200;
        high[sweepAlongF] = 1e200;
    }
    for (const Vec3& m : e.moved) {
        bottom = std::min(bottom, m.z);
        top = std::max(top, m.z);
    }
}
void SweepExtents::add(const SweepExtents& o)
{
    for (std::size_t i = 0; i < sweepAxes; ++i) {
        low[i] = std::min(low[i], o.low[i]);
        high[i] = std::max(high[i], o.high[i]);
    }
    bottom = std::min(bottom, o.bottom);
    top = std::max(top, o.top);
}

double apart(const SweepExtents& a, const SweepExtents& b, const SweepFrame& frame)
{
    if (frame.straight())
        return apart(a, b, 0.0);
    const double period = frame.period();
    const double widthA = a.high[sweepAlongF] - a.low[sweepAlongF], widthB = b.high[sweepAlongF] - b.low[sweepAlongF];
    const double byRadius = std::max(b.low[0] - a.high[0], a.low[0] - b.high[0]);
    if (!(widthA + widthB < period))
        return byRadius;
    const double first = std::floor((b.low[sweepAlongF] - a.high[sweepAlongF]) / period),
                 last = std::ceil((b.high[sweepAlongF] - a.low[sweepAlongF]) / period);
    double least = 1e300;
    for (double m = first; m <= last; ++m)
        least = std::min(least, apart(a, b, m * period));
    return std::max(least, byRadius);
}

SweptBody::Impl::Impl(const Mesh& mesh, const Sweep& sweep) : frame(sweep)
{
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        for (int k = 0; k < 3; ++k) {
            const double z = frame.in(mesh.corner(t, k)).z;
            low = std::min(low, z);
            high = std::max(high, z);
        }
    elements = elementsOf(mesh, frame);
    if (elements.empty())
        return;
    std::vector<Place> places(elements.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        const auto& m = elements[i].moved;
        places[i] = {{(m[0].x + m[1].x + m[2].x) / 3, (m[0].y + m[1].y + m[2].y) / 3,
                      alongWeight * (m[0].z + m[1].z + m[2].z) / 3},
                     i};
    }
    nodes.reserve(2 * places.size() / leafSize + 2);
    sort(places, 0, places.size());
    std::vector<SweepElement> sorted;
    sorted.reserve(elements.size());
    for (const Place& p : places)
        sorted.push_back(elements[p.element]);
    elements = std::move(sorted);
    extents.reserve(elements.size());
    for (const SweepElement& e : elements)
        extents.emplace_back(e);
    fill(0);
}

void SweptBody::Impl::sort(std::vector<Place>& places, std::size_t first, std::size_t count)
{
    const std::size_t self = nodes.size();
    nodes.emplace_back();
    if (count <= leafSize) {
        nodes[self].link = first;
        nodes[self].count = count;
        return;
    }
    const auto begin = places.begin() + static_cast<std::ptrdiff_t>(first);
    const auto end = begin + static_cast<std::ptrdiff_t>(count);
    Box3 box;
    for (auto p = begin; p != end; ++p)
        box.add(p->at);
    const Vec3 size = box.extents();
    const int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
    const std::size_t left = count / 2;
    std::nth_element(begin, begin + static_cast<std::ptrdiff_t>(left), end, [axis](const Place& a, const Place& b) {
        return a.at[axis] != b.at[axis] ? a.at[axis] < b.at[axis] : a.element < b.element;
    });
    sort(places, first, left);
    nodes[self].link = nodes.size();
    sort(places, first + left, count - left);
}

void SweptBody::Impl::fill(std::size_t node)
{
    Node& n = nodes[node];
    if (n.count != 0) {
        for (std::size_t i = n.link; i < n.link + n.count; ++i)
            n.extents.add(extents[i]);
        return;
    }
    fill(node + 1);
    fill(n.link);
    n.extents = nodes[node + 1].extents;
    n.extents.add(nodes[n.link].extents);
}

} // namespace quoin::mesh
