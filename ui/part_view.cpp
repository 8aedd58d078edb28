// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/part_view.h"

#include "core/joint_dowel.h"
#include "core/joint_layout.h"
#include "core/jointed_pieces.h"
#include "core/parallel.h"
#include "mesh/mass.h"
#include "ui/exploded.h"

namespace quoin::ui {

ShownMesh shownMesh(mesh::MeshPtr mesh, const Context& context)
{
    ShownMesh out;
    out.draw = drawMeshOf(*mesh, context);
    if (!context.cancelled())
        out.tree = std::make_shared<const mesh::SurfaceTree>(*mesh);
    out.mesh = std::move(mesh);
    return out;
}

namespace {

/// What follows from the pieces and their seams.
void arrange(PartView& view)
{
    const core::Project& p = view.realised->project;
    view.apart = explodedShifts(p.plan, p.pieces, 1.0);
    std::vector<std::pair<std::size_t, std::size_t>> touching;
    for (const core::Seam& seam : p.seams) // pieces are numbered from 1 in their order
        touching.emplace_back(static_cast<std::size_t>(seam.pieceBelow) - 1,
                              static_cast<std::size_t>(seam.pieceAbove) - 1);
    view.colours = coloursFor(p.pieces.size(), touching);
    for (const core::Piece& piece : p.pieces) {
        const mesh::MassProperties mass = mesh::massProperties(piece.mesh);
        view.middles.push_back(mass.centroid);
        view.volumesMm3.push_back(mass.volume);
    }
}

} // namespace

PartViewPtr partView(const core::RealisedPtr& realised, const PartViewPtr& previous, const Context& context)
{
    auto view = std::make_shared<PartView>();
    view->realised = realised;
    const std::vector<core::Piece>& pieces = realised->project.pieces;
    if (previous && previous->realised->cutStamp == realised->cutStamp) {
        view->pieces = previous->pieces;
        view->sunk = previous->sunk; // of earlier joints, until the new ones are sunk
        view->dowels = previous->dowels;
        view->apart = previous->apart;
        view->colours = previous->colours;
        view->middles = previous->middles;
        view->volumesMm3 = previous->volumesMm3;
    } else {
        view->pieces.resize(pieces.size());
        core::forEachIndex(pieces.size(), [&](std::size_t i) {
            // The piece's mesh, kept alive by all that it belongs to.
            if (!context.cancelled())
                view->pieces[i] = shownMesh(mesh::MeshPtr(realised, &pieces[i].mesh), context);
        });
        arrange(*view);
    }
    if (context.cancelled())
        return nullptr;
    return view;
}

PartViewPtr withSunk(const PartViewPtr& view, std::optional<Problem>& problem, const Context& context)
{
    const core::Project& p = view->realised->project;
    auto jointed = core::jointedPieces(p.pieces, p.seams, p.plan, p.layout, context);
    if (!jointed) {
        problem = jointed.problem();
        return nullptr;
    }
    auto out = std::make_shared<PartView>(*view);
    out->sunk.assign(jointed->size(), nullptr);
    out->dowels.clear();
    core::forEachIndex(jointed->size(), [&](std::size_t i) { out->sunk[i] = drawMeshOf((*jointed)[i], context); });
    for (const core::Joint& joint : p.layout.joints) {
        const int cut = p.seams[joint.seam].cut;
        out->dowels.push_back(
            drawMeshOf(core::dowelInPlace(joint, p.plan.nodes[static_cast<std::size_t>(cut)].plane), context));
    }
    if (context.cancelled())
        return nullptr;
    return out;
}

} // namespace quoin::ui
