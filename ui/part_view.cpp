// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/part_view.h"

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
        view->loose = previous->loose;
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

namespace {

/// All that lies loose in the joints; those that can't be made have nothing.
std::vector<LooseView> looseOf(const core::Project& p, const Context& context)
{
    std::vector<std::vector<LooseView>> byJoint(p.layout.joints.size());
    core::forEachIndex(byJoint.size(), [&](std::size_t j) {
        if (context.cancelled())
            return;
        const core::Joint& joint = p.layout.joints[j];
        const mesh::Plane& cut = p.plan.nodes[static_cast<std::size_t>(p.seams[joint.seam].cut)].plane;
        if (const auto printed = core::printedParts(joint, cut))
            for (const core::JointPart& part : *printed)
                byJoint[j].push_back({joint.seam, j, drawMeshOf(part.inPlace, context), false});
        if (const auto bought = core::boughtInPlace(joint, cut))
            for (const mesh::Mesh& mesh : *bought)
                byJoint[j].push_back({joint.seam, j, drawMeshOf(mesh, context), true});
    });
    std::vector<LooseView> loose;
    for (const std::vector<LooseView>& some : byJoint)
        loose.insert(loose.end(), some.begin(), some.end());
    return loose;
}

} // namespace

PartViewPtr withSunk(const PartViewPtr& view, std::optional<Problem>& problem, const Context& context)
{
    const core::Project& p = view->realised->project;
    auto out = std::make_shared<PartView>(*view);
    out->loose = looseOf(p, context);
    out->sunk.clear();
    const auto jointed = core::jointedPieces(p.pieces, p.seams, p.plan, p.layout, context);
    if (!jointed) {
        problem = jointed.problem();
    } else {
        out->sunk.assign(jointed->size(), nullptr);
        core::forEachIndex(jointed->size(), [&](std::size_t i) { out->sunk[i] = drawMeshOf((*jointed)[i], context); });
    }
    if (context.cancelled())
        return nullptr;
    return out;
}

} // namespace quoin::ui
