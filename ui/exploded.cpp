// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/exploded.h"

#include <algorithm>
#include <limits>

namespace quoin::ui {

using core::CutPlan;
using core::Piece;
using mesh::Vec3;

namespace {

bool lies(const Piece& piece, int node, bool above)
{
    return std::ranges::find(piece.path, core::Step{node, above}) != piece.path.end();
}

class Opening {
public:
    Opening(const CutPlan& plan, const std::vector<Piece>& pieces, double gapMm)
        : m_plan(plan),
          m_pieces(pieces),
          m_gapMm(gapMm),
          m_shifts(pieces.size(), Vec3{0, 0, 0}),
          m_touches(pieces.size(), std::vector<bool>(plan.nodes.size(), false))
    {
        for (std::size_t p = 0; p < pieces.size(); ++p)
            for (const mesh::Label label : pieces[p].mesh.labels)
                if (label != mesh::skinLabel && label <= plan.nodes.size())
                    m_touches[p][label - 1] = true;
    }

    void open(int node)
    {
        if (node < 0 || static_cast<std::size_t>(node) >= m_plan.nodes.size())
            return;
        const CutPlan::Node& cut = m_plan.nodes[static_cast<std::size_t>(node)];
        open(cut.below);
        open(cut.above);
        const Vec3 normal = cut.plane.normal;
        const double total = std::max(0.0, m_gapMm + foremost(node, false, normal) + foremost(node, true, -normal));
        for (std::size_t p = 0; p < m_pieces.size(); ++p) {
            if (lies(m_pieces[p], node, true))
                m_shifts[p] = m_shifts[p] + total / 2 * normal;
            else if (lies(m_pieces[p], node, false))
                m_shifts[p] = m_shifts[p] - total / 2 * normal;
        }
    }

    std::vector<Vec3> shifts() && { return std::move(m_shifts); }

private:
    /// How far the pieces that end on one side of a cut have moved along a direction, at most; 0 when there are none.
    double foremost(int node, bool above, Vec3 direction) const
    {
        double most = -std::numeric_limits<double>::infinity();
        for (std::size_t p = 0; p < m_pieces.size(); ++p)
            if (lies(m_pieces[p], node, above) && m_touches[p][static_cast<std::size_t>(node)])
                most = std::max(most, dot(m_shifts[p], direction));
        return std::isfinite(most) ? most : 0;
    }

    const CutPlan& m_plan;
    const std::vector<Piece>& m_pieces;
    double m_gapMm;
    std::vector<Vec3> m_shifts;
    std::vector<std::vector<bool>> m_touches; ///< by piece and cut
};

} // namespace

std::vector<Vec3> explodedShifts(const CutPlan& plan, const std::vector<Piece>& pieces, double gapMm)
{
    Opening opening(plan, pieces, gapMm);
    opening.open(0);
    return std::move(opening).shifts();
}

} // namespace quoin::ui
