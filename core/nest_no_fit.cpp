// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/nest_no_fit.h"

#include <polyclipping/clipper.hpp>

#include <algorithm>

namespace quoin::core {

namespace {

constexpr long workForOne = 20; ///< sum of two convex parts, as places tried

/// Whether a point lies strictly inside a convex loop.
bool holds(const NestLoop& convex, NestPoint p)
{
    for (std::size_t i = 0; i < convex.size(); ++i) {
        const NestPoint a = convex[i], b = convex[i + 1 < convex.size() ? i + 1 : 0];
        if (cross(b - a, p - a) <= 0)
            return false;
    }
    return true;
}

/// The loop from its lowest corner on (the leftmost of them).
NestLoop fromLowest(const NestLoop& loop)
{
    const auto lowest = std::min_element(loop.begin(), loop.end(),
                                         [](NestPoint a, NestPoint b) { return a.y != b.y ? a.y < b.y : a.x < b.x; });
    NestLoop out(lowest, loop.end());
    out.insert(out.end(), loop.begin(), lowest);
    return out;
}

/// Minkowski sum of two convex loops: their edges in the order of their directions.
NestLoop convexSum(const NestLoop& first, const NestLoop& second)
{
    const NestLoop a = fromLowest(first), b = fromLowest(second);
    NestLoop sum;
    std::size_t i = 0, j = 0;
    while (i < a.size() || j < b.size()) {
        sum.push_back(a[i % a.size()] + b[j % b.size()]);
        const NestPoint da = a[(i + 1) % a.size()] - a[i % a.size()];
        const NestPoint db = b[(j + 1) % b.size()] - b[j % b.size()];
        const std::int64_t turn = i == a.size() ? -1 : j == b.size() ? 1 : cross(da, db);
        if (turn >= 0)
            ++i;
        if (turn <= 0)
            ++j;
    }
    return sum;
}

std::vector<NestLoop> outlineOf(const std::vector<NestLoop>& parts)
{
    if (parts.size() == 1)
        return parts;
    ClipperLib::Clipper clipper;
    for (const NestLoop& part : parts) {
        ClipperLib::Path path;
        for (const NestPoint p : part)
            path.emplace_back(p.x, p.y);
        clipper.AddPath(path, ClipperLib::ptSubject, true);
    }
    ClipperLib::Paths out;
    clipper.Execute(ClipperLib::ctUnion, out, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    std::vector<NestLoop> outline;
    for (const ClipperLib::Path& path : out) {
        NestLoop loop;
        for (const ClipperLib::IntPoint& p : path)
            loop.push_back({p.X, p.Y});
        outline.push_back(std::move(loop));
    }
    return outline;
}

NoFit quarterTurned(const NoFit& upright, int quarters)
{
    NoFit out;
    for (const NestLoop& part : upright.parts) {
        out.parts.push_back(quarterTurned(part, quarters));
        out.boxes.push_back(boxOf(out.parts.back()));
        out.box.add(out.boxes.back().low);
        out.box.add(out.boxes.back().high);
    }
    for (const NestLoop& loop : upright.outline)
        out.outline.push_back(quarterTurned(loop, quarters));
    return out;
}

} // namespace

bool NoFit::overlapsAt(NestPoint at) const
{
    if (!box.holdsInside(at))
        return false;
    for (std::size_t i = 0; i < parts.size(); ++i)
        if (boxes[i].holdsInside(at) && holds(parts[i], at))
            return true;
    return false;
}

NoFit noFit(const NestShape& standing, const NestShape& coming)
{
    NoFit out;
    for (const NestLoop& a : standing.parts)
        for (const NestLoop& b : coming.parts) {
            NestLoop turnedOver = b; // half a turn: still counter-clockwise
            for (NestPoint& p : turnedOver)
                p = NestPoint{} - p;
            out.parts.push_back(convexSum(a, turnedOver));
            out.boxes.push_back(boxOf(out.parts.back()));
            out.box.add(out.boxes.back().low);
            out.box.add(out.boxes.back().high);
        }
    out.outline = outlineOf(out.parts);
    return out;
}

const NoFit& NoFitTable::between(std::size_t standing, std::size_t coming, long& work)
{
    const Key key{standing, coming};
    if (const auto known = m_known.find(key); known != m_known.end())
        return known->second;
    const Entry &a = m_entries[standing], &b = m_entries[coming];
    if (a.quarters != 0) {
        // Both turned back by as many quarters: the first is then its base.
        const int quarters = (b.quarters - a.quarters + 4) % 4;
        const auto same = std::find_if(m_entries.begin(), m_entries.end(),
                                       [&](const Entry& e) { return e.base == b.base && e.quarters == quarters; });
        if (same != m_entries.end()) {
            const NoFit back = between(a.base, static_cast<std::size_t>(same - m_entries.begin()), work);
            return m_known.emplace(key, quarterTurned(back, a.quarters)).first->second;
        }
    }
    work += workForOne * static_cast<long>(a.shape.parts.size() * b.shape.parts.size());
    return m_known.emplace(key, noFit(a.shape, b.shape)).first->second;
}

} // namespace quoin::core
