// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/turning.h"

#include "mesh/tolerance.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace quoin::core {

namespace {

/// All pieces that other seams than one join to a piece, itself among them.
std::set<int> joinedTo(const std::vector<Seam>& seams, int piece, std::size_t without)
{
    std::set<int> reached{piece};
    for (bool grown = true; grown;) {
        grown = false;
        for (std::size_t i = 0; i < seams.size(); ++i)
            if (i != without && reached.contains(seams[i].pieceBelow) != reached.contains(seams[i].pieceAbove)) {
                reached.insert({seams[i].pieceBelow, seams[i].pieceAbove});
                grown = true;
            }
    }
    return reached;
}

/// Whether a piece has points on a side of a plane.
bool reachesTo(const Piece& piece, const mesh::Plane& plane, bool above)
{
    return std::any_of(piece.mesh.points.begin(), piece.mesh.points.end(), [&](mesh::Vec3 p) {
        return (above ? 1 : -1) * plane.distance(p) > mesh::tolerance::planeSlackMm;
    });
}

} // namespace

TurnObstacle turnObstacleOf(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                            std::size_t index)
{
    const Seam& seam = seams[index];
    for (std::size_t i = 0; i < seams.size(); ++i)
        if (i != index &&
            std::minmax(seams[i].pieceBelow, seams[i].pieceAbove) == std::minmax(seam.pieceBelow, seam.pieceAbove))
            return {fmt::format("pieces {} and {} meet at {} too, and can't turn against each other", seam.pieceBelow,
                                seam.pieceAbove, seams[i].mark),
                    true};
    const std::set<int> below = joinedTo(seams, seam.pieceBelow, index);
    if (below.contains(seam.pieceAbove))
        return {fmt::format("pieces {} and {} are joined by others too, and can't turn against each other",
                            seam.pieceBelow, seam.pieceAbove),
                true};
    const std::set<int> above = joinedTo(seams, seam.pieceAbove, index);
    const mesh::Plane& plane = plan.nodes[static_cast<std::size_t>(seam.cut)].plane;
    for (const Piece& piece : pieces) {
        const bool isBelow = below.contains(piece.number);
        if (!isBelow && !above.contains(piece.number))
            return {.text = fmt::format("piece {} stands beside them, and may be in the way of their turning",
                                        piece.number)};
        if (reachesTo(piece, plane, isBelow))
            return {.text = fmt::format("piece {} reaches past the cut, and may be in the way of piece {}'s turning",
                                        piece.number, isBelow ? seam.pieceAbove : seam.pieceBelow)};
    }
    return {};
}

} // namespace quoin::core
