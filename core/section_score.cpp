// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/section_score.h"

#include "mesh/region.h"

#include <tuple>

namespace quoin::core {

namespace {

/// Two dowels stand at least this many diameters apart, middle to middle.
constexpr double spreadDiameters = 2.5;
/// Fineness of the corners of the shrunk outline, mm: nothing is made from it.
constexpr double coarseArcMm = 0.2;

} // namespace

bool operator<(const SectionScore& a, const SectionScore& b)
{
    return std::tie(a.withoutRoom, a.islands, a.areaMm2) < std::tie(b.withoutRoom, b.islands, b.areaMm2);
}

bool hasRoomForTwo(const mesh::Region& island)
{
    mesh::Box3 box;
    for (const mesh::Loop& loop : mesh::offset(island, -(roomDowelMm / 2 + roomWallMm), coarseArcMm))
        for (const mesh::Vec2 p : loop)
            box.add({p.x, p.y, 0});
    return !box.empty() && length(box.extents()) >= spreadDiameters * roomDowelMm;
}

SectionScore scoreOf(const mesh::Region& section)
{
    SectionScore score;
    for (const mesh::Region& island : mesh::islands(section)) {
        ++score.islands;
        score.withoutRoom += hasRoomForTwo(island) ? 0 : 1;
        score.areaMm2 += mesh::area(island);
    }
    return score;
}

} // namespace quoin::core
