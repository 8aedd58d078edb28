// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/region.h"

#include "mesh/region_quick.h"

#include <polyclipping/clipper.hpp>

#include <cmath>

namespace quoin::mesh {

namespace {

using ClipperLib::ClipType;
using ClipperLib::IntPoint;
using ClipperLib::Path;
using ClipperLib::Paths;

Path toPath(const Loop& loop)
{
    Path path;
    path.reserve(loop.size());
    for (const Vec2 p : loop)
        path.emplace_back(std::llround(p.x / regionStepMm), std::llround(p.y / regionStepMm));
    return path;
}

Paths toPaths(const std::vector<Loop>& loops)
{
    Paths paths;
    paths.reserve(loops.size());
    for (const Loop& loop : loops)
        paths.push_back(toPath(loop));
    return paths;
}

Loop toLoop(const Path& path)
{
    Loop loop;
    loop.reserve(path.size());
    for (const IntPoint& p : path)
        loop.push_back({static_cast<double>(p.X) * regionStepMm, static_cast<double>(p.Y) * regionStepMm});
    return loop;
}

Region toRegion(const Paths& paths)
{
    Region region;
    for (const Path& path : paths)
        if (path.size() >= 3)
            region.push_back(toLoop(path));
    return region;
}

Region combined(const Region& a, const Region& b, ClipType how, bool strictlySimple = true)
{
    ClipperLib::Clipper clipper;
    clipper.StrictlySimple(strictlySimple);
    clipper.AddPaths(toPaths(a), ClipperLib::ptSubject, true);
    clipper.AddPaths(toPaths(b), ClipperLib::ptClip, true);
    Paths out;
    clipper.Execute(how, out, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    return toRegion(out);
}

} // namespace

Region intersection(const Region& a, const Region& b)
{
    return combined(a, b, ClipperLib::ctIntersection);
}

Region unionOf(const Region& a, const Region& b)
{
    return combined(a, b, ClipperLib::ctUnion);
}

Region difference(const Region& a, const Region& b)
{
    return combined(a, b, ClipperLib::ctDifference);
}

Region quickIntersection(const Region& a, const Region& b)
{
    return combined(a, b, ClipperLib::ctIntersection, false);
}

Region quickUnion(const Region& a, const Region& b)
{
    return combined(a, b, ClipperLib::ctUnion, false);
}

Region quickDifference(const Region& a, const Region& b)
{
    return combined(a, b, ClipperLib::ctDifference, false);
}

Region offset(const Region& region, double distanceMm, double arcErrorMm)
{
    ClipperLib::ClipperOffset offsetter(2.0, arcErrorMm / regionStepMm);
    offsetter.AddPaths(toPaths(region), ClipperLib::jtRound, ClipperLib::etClosedPolygon);
    Paths out;
    offsetter.Execute(out, distanceMm / regionStepMm);
    return toRegion(out);
}

Region strokes(const std::vector<std::vector<Vec2>>& paths, double widthMm, double arcErrorMm)
{
    ClipperLib::ClipperOffset offsetter(2.0, arcErrorMm / regionStepMm);
    offsetter.AddPaths(toPaths(paths), ClipperLib::jtRound, ClipperLib::etOpenRound);
    Paths out;
    offsetter.Execute(out, widthMm / 2 / regionStepMm);
    return unionOf(toRegion(out), {});
}

std::vector<Region> islands(const Region& region)
{
    ClipperLib::Clipper clipper;
    clipper.StrictlySimple(true);
    clipper.AddPaths(toPaths(region), ClipperLib::ptSubject, true);
    ClipperLib::PolyTree tree;
    clipper.Execute(ClipperLib::ctUnion, tree, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    std::vector<Region> out;
    for (const ClipperLib::PolyNode* node = tree.GetFirst(); node != nullptr; node = node->GetNext()) {
        if (node->IsHole() || node->Contour.size() < 3)
            continue;
        Region island{toLoop(node->Contour)};
        for (const ClipperLib::PolyNode* hole : node->Childs)
            if (hole->Contour.size() >= 3)
                island.push_back(toLoop(hole->Contour));
        out.push_back(std::move(island));
    }
    return out;
}

} // namespace quoin::mesh
