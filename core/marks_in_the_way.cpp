// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/marks_in_the_way.h"

#include "core/bed_fit.h"
#include "mesh/hull.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

using mesh::Vec3;

namespace {

std::optional<Vec3> passesFrom(int node, const CutPlan& plan, const KeepClear& marked, std::vector<HalfSpace>& cell)
{
    if (node < 0)
        return std::nullopt;
    const CutPlan::Node& n = plan.nodes[static_cast<std::size_t>(node)];
    if (const auto place = marked.crossing(n.plane, cell))
        return place;
    for (const bool above : {false, true}) {
        cell.push_back({n.plane, above});
        const auto place = passesFrom(above ? n.above : n.below, plan, marked, cell);
        cell.pop_back();
        if (place)
            return place;
    }
    return std::nullopt;
}

/// Of points that may lie in a plane: then only how long they are is known.
HullMeasures measuresOfPatch(const mesh::Buffer<Vec3>& points)
{
    mesh::Box3 box;
    for (const Vec3 p : points)
        box.add(p);
    const Vec3 e = box.extents();
    HullMeasures size{std::max({e.x, e.y, e.z}), 0, 0, 0};
    if (const mesh::Mesh hull = mesh::innerHull(points); !hull.empty())
        size = measuresOf(hull);
    return size;
}

} // namespace

std::string placeWords(Vec3 p)
{
    return fmt::format("({:.1f}, {:.1f}, {:.1f}) mm", p.x, p.y, p.z);
}

std::optional<Vec3> passesMarked(const CutPlan& plan, const KeepClear& marked)
{
    std::vector<HalfSpace> cell;
    return passesFrom(plan.empty() ? -1 : 0, plan, marked, cell);
}

Status marksAllow(const KeepClear& marked, const CutPlan& start, const std::vector<Bed>& beds, double marginMm)
{
    if (const auto place = passesMarked(start, marked))
        return Problem{Reason::BadArgument,
                       "one of your own cuts passes a marked place",
                       {},
                       placeWords(*place),
                       "Move that cut, take the mark off, or start afresh without your own cuts."};
    for (const mesh::Buffer<Vec3>& patch : marked.patches()) {
        const HullMeasures size = measuresOfPatch(patch);
        if (!clearlyTooLarge(size, beds, marginMm))
            continue;
        mesh::Box3 box;
        for (const Vec3 p : patch)
            box.add(p);
        return Problem{Reason::DoesNotFit,
                       fmt::format("a marked place of {:.1f} x {:.1f} x {:.1f} mm is larger than any piece can be",
                                   box.extents().x, box.extents().y, box.extents().z),
                       {},
                       placeWords(box.centre()),
                       "Take the mark off part of it, so that a cut can pass, give a larger bed, or a smaller scale."};
    }
    return Done{};
}

Problem marksBlock(const Problem& first)
{
    return Problem{Reason::DoesNotFit,
                   "marked places stand in the way of every cut that was tried: " + first.what,
                   {},
                   first.place,
                   "Take some marks off, leave gaps of a few millimetres between them for cuts to pass, make a cut of "
                   "your own there, give a larger bed, or a smaller scale."};
}

} // namespace quoin::core
