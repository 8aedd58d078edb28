// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/piece.h"

#include "mesh/mass.h"
#include "mesh/recess.h"
#include "mesh/region.h"
#include "mesh/topology.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace quoin::core {

namespace {

constexpr double leastSeamMm2 = 1.0;
constexpr double leastPieceMm3 = 0.01;
constexpr double leastThicknessMm = 0.002;

/// A, B, ... Z, AA, AB, ...
std::string markOf(std::size_t index)
{
    std::string mark;
    for (std::size_t n = index + 1; n > 0; n = (n - 1) / 26)
        mark.insert(mark.begin(), static_cast<char>('A' + (n - 1) % 26));
    return mark;
}

/// A piece's face on a cut.
struct Face {
    int piece;
    mesh::Region outline;
};

} // namespace

bool isCrumb(const mesh::Mesh& body)
{
    const double volume = std::abs(mesh::volume(body));
    return volume < leastPieceMm3 || 2 * volume < leastThicknessMm * mesh::area(body);
}

std::vector<Piece> piecesOf(const std::vector<Leaf>& leaves, bool islandsApart, int* crumbs)
{
    std::vector<Piece> pieces;
    int leftOut = 0;
    const auto add = [&](const Path& path, mesh::Mesh mesh) {
        if (isCrumb(mesh)) {
            ++leftOut;
            return;
        }
        pieces.push_back({static_cast<int>(pieces.size()) + 1, path, std::move(mesh), {}});
    };
    for (const Leaf& leaf : leaves) {
        if (leaf.mesh.empty())
            continue;
        if (!islandsApart)
            add(leaf.path, leaf.mesh);
        else
            for (mesh::Mesh& body : mesh::bodies(leaf.mesh))
                add(leaf.path, std::move(body));
    }
    if (crumbs != nullptr)
        *crumbs = leftOut;
    return pieces;
}

std::vector<Seam> seamsOf(const std::vector<Piece>& pieces, const CutPlan& plan)
{
    std::vector<Seam> seams;
    for (std::size_t cut = 0; cut < plan.nodes.size(); ++cut) {
        const mesh::Plane& plane = plan.nodes[cut].plane;
        std::array<std::vector<Face>, 2> sides;
        for (const Piece& piece : pieces)
            for (const Step& step : piece.path)
                if (step.node == static_cast<int>(cut))
                    sides[step.above ? 1 : 0].push_back(
                        {piece.number, mesh::faceOutline(piece.mesh, static_cast<mesh::Label>(cut) + 1, plane)});
        for (const Face& below : sides[0])
            for (const Face& above : sides[1]) {
                if (below.outline.empty() || above.outline.empty())
                    continue;
                for (mesh::Region& island : mesh::islands(mesh::intersection(below.outline, above.outline))) {
                    const double size = mesh::area(island);
                    if (size >= leastSeamMm2)
                        seams.push_back({static_cast<int>(cut), below.piece, above.piece, markOf(seams.size()),
                                         std::move(island), size});
                }
            }
    }
    return seams;
}

} // namespace quoin::core
