// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/disjoint_sets.h"
#include "mesh/distance.h"
#include "mesh/edge_table.h"
#include "mesh/mass.h"
#include "mesh/repair_soup.h"
#include "mesh/shells.h"
#include "mesh/topology.h"

#include <algorithm>
#include <cmath>

namespace quoin::mesh {

namespace {

/// A fin may hold at most this share of the whole surface: otherwise it is no fin but the model.
constexpr double largestFinShare = 0.5;

/// A sheet between edges with other than two triangles.
struct Sheet {
    std::vector<Index> triangles;
    double areaMm2 = 0;
    bool hangs = false; ///< on at least one edge with an odd number of triangles, three or more
    bool mayGo = true;  ///< no edge would be left odd
    bool openRim = false;
};

std::vector<Sheet> sheetsOf(const Mesh& mesh)
{
    const EdgeTable table(mesh);
    DisjointSets<Index> sets(mesh.triangles.size());
    bool odd = false;
    table.forEachEdge([&](Index, Index, std::span<const EdgeUse> uses) {
        odd = odd || (uses.size() > 2 && uses.size() % 2 != 0);
        if (uses.size() == 2)
            sets.join(uses[0].triangle(), uses[1].triangle());
    });
    if (!odd)
        return {};
    std::vector<Sheet> sheets(mesh.triangles.size());
    for (Index i = 0; i < sets.size(); ++i) {
        sheets[sets.find(i)].triangles.push_back(i);
        sheets[sets.find(i)].areaMm2 += triangleArea(mesh, i);
    }
    table.forEachEdge([&](Index, Index, std::span<const EdgeUse> uses) {
        if (uses.size() == 2)
            return;
        for (const EdgeUse& u : uses) {
            Sheet& s = sheets[sets.find(u.triangle())];
            const auto own = static_cast<std::size_t>(std::count_if(uses.begin(), uses.end(), [&](const EdgeUse& o) {
                return sets.find(o.triangle()) == sets.find(u.triangle());
            }));
            if (uses.size() == 1)
                s.openRim = true;
            else if (uses.size() % 2 != 0)
                s.hangs = true;
            if ((uses.size() - own) % 2 != 0)
                s.mayGo = false;
        }
    });
    std::erase_if(sheets, [](const Sheet& s) { return s.triangles.empty(); });
    return sheets;
}

/// Whether the sheet lies inside what the rest of the surface encloses.
bool insideTheRest(const Mesh& mesh, const Sheet& sheet)
{
    std::vector<char> own(mesh.triangles.size(), 0);
    for (const Index t : sheet.triangles)
        own[t] = 1;
    const SurfaceTree rest(mesh, [&](std::size_t t) { return own[t] == 0; });
    const Index t = *std::max_element(sheet.triangles.begin(), sheet.triangles.end(),
                                      [&](Index a, Index b) { return triangleArea(mesh, a) < triangleArea(mesh, b); });
    return rest.inside((mesh.corner(t, 0) + mesh.corner(t, 1) + mesh.corner(t, 2)) / 3);
}

/// The sheet to drop next, if there is one: the smallest wall inside, else the smallest fin.
std::optional<Sheet> nextToGo(const Mesh& mesh)
{
    std::vector<Sheet> sheets = sheetsOf(mesh);
    std::erase_if(sheets, [](const Sheet& s) { return !s.hangs || !s.mayGo; });
    std::stable_sort(sheets.begin(), sheets.end(),
                     [](const Sheet& a, const Sheet& b) { return a.areaMm2 < b.areaMm2; });
    for (const Sheet& s : sheets)
        if (!s.openRim && insideTheRest(mesh, s))
            return s;
    const double whole = area(mesh);
    for (const Sheet& s : sheets)
        if (s.openRim && s.areaMm2 < largestFinShare * whole)
            return s;
    return std::nullopt;
}

/// A part is flat when its volume is at most this share of what a cube of its area would hold.
constexpr double flatVolumeShare = 1e-9;

} // namespace

std::size_t dropFlatParts(Mesh& mesh, double& areaMm2)
{
    const Parts parts = connectedParts(mesh);
    const Shells shells = shellsOf(mesh, parts);
    std::vector<double> area(parts.count, 0);
    for (Index i = 0; i < parts.partOf.size(); ++i)
        area[parts.partOf[i]] += triangleArea(mesh, i);
    std::vector<char> flat(parts.count, 0);
    std::size_t dropped = 0;
    for (std::size_t i = 0; i < parts.count; ++i)
        if (std::abs(shells.shell[i].volumeMm3) <= flatVolumeShare * std::pow(area[i] / 6, 1.5)) {
            flat[i] = 1;
            areaMm2 += area[i];
            ++dropped;
        }
    if (dropped == 0)
        return 0;
    std::vector<Index> kept;
    for (Index i = 0; i < parts.partOf.size(); ++i)
        if (flat[parts.partOf[i]] == 0)
            kept.push_back(i);
    mesh = subset(mesh, kept);
    return dropped;
}

std::size_t dropSheets(Mesh& mesh, double& areaMm2)
{
    std::size_t dropped = 0;
    while (const std::optional<Sheet> sheet = nextToGo(mesh)) {
        std::vector<char> own(mesh.triangles.size(), 0);
        for (const Index t : sheet->triangles)
            own[t] = 1;
        std::vector<Index> kept;
        for (Index i = 0; i < own.size(); ++i)
            if (own[i] == 0)
                kept.push_back(i);
        mesh = subset(mesh, kept);
        dropped += sheet->triangles.size();
        areaMm2 += sheet->areaMm2;
    }
    return dropped;
}

} // namespace quoin::mesh
