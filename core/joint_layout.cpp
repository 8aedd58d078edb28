// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"

#include "core/joint_chooser.h"
#include "core/joint_dowel.h"
#include "core/joint_rules.h"
#include "core/mark.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace quoin::core {

namespace {

/// Sizes by hand that could not be made anywhere are refused before anything is laid out.
Status requireSizes(const std::vector<Seam>& seams, const SeamChoices& choices)
{
    for (const auto& [seam, choice] : choices.bySeam) {
        if (choice.how != FaceChoice::How::ByHand || seam >= seams.size())
            continue;
        for (std::size_t i = 0; i < choice.joints.size(); ++i) {
            const JointForm& d = choice.joints[i];
            std::string what = sizeFault(d.diameterMm, d.depthMm);
            if (what.empty() && !(std::isfinite(d.at.x) && std::isfinite(d.at.y) && std::isfinite(d.angle)))
                what = "its place or its angle is not a number";
            if (!what.empty())
                return Problem{Reason::BadArgument,
                               fmt::format("dowel {}{} placed by hand: {}", seams[seam].mark, i + 1, what),
                               {},
                               {},
                               "Change it or remove it."};
        }
    }
    return Done{};
}

/// Joints whose mouths leave their seam can't be sunk; said by name before the geometry refuses them.
Status requireOnSeams(const std::vector<Seam>& seams, const JointLayout& layout)
{
    for (std::size_t i = 0; i < layout.joints.size(); ++i) {
        const Joint& j = layout.joints[i];
        const Seam& seam = seams[j.seam];
        const double edge = mesh::distanceToOutline(seam.region, j.at);
        const double out = mesh::contains(seam.region, j.at) ? j.diameterMm / 2 + j.clearanceMm - edge
                                                             : j.diameterMm / 2 + j.clearanceMm + edge;
        if (out > 0)
            return Problem{Reason::JointFailed,
                           fmt::format("dowel {} of {:g} mm reaches {:.1f} mm off the face between pieces {} and {}",
                                       jointName(seams, layout.joints, i), j.diameterMm, std::max(out, 0.1),
                                       seam.pieceBelow, seam.pieceAbove),
                           {},
                           {},
                           "Move it inwards, take a thinner one, or remove it."};
    }
    return Done{};
}

} // namespace

Result<JointLayout> layOutJoints(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                                 const JointOptions& options, const SeamChoices& choices, const Context& context)
{
    if (const Status s = requireSizes(seams, choices); !s)
        return s.problem();
    JointChooser chooser(pieces, seams, plan, options, choices);
    // By hand first, so that what is chosen keeps clear of it; marks last: they take what is left.
    for (std::size_t i = 0; i < seams.size(); ++i)
        chooser.byHand(i);
    const double steps = 2.0 * static_cast<double>(seams.size());
    for (std::size_t pass = 0; pass < 2; ++pass)
        for (std::size_t i = 0; i < seams.size(); ++i) {
            if (context.cancelled())
                return Problem{Reason::Cancelled, "cancelled while laying out joints", {}, {}, {}};
            context.report(static_cast<double>(pass * seams.size() + i) / steps, "laying out joints");
            if (pass == 0)
                chooser.dowels(i);
            else if (options.marks)
                chooser.mark(i);
        }
    return chooser.take();
}

Result<std::vector<mesh::Mesh>> jointedPieces(const std::vector<Piece>& pieces, const std::vector<Seam>& seams,
                                              const CutPlan& plan, const JointLayout& layout, const Context& context)
{
    if (const Status s = requireOnSeams(seams, layout); !s)
        return s.problem();
    std::vector<mesh::Mesh> out;
    for (const Piece& piece : pieces) {
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled while sinking joints", {}, {}, {}};
        std::map<int, std::vector<mesh::Recess>> byCut;
        std::map<int, bool> aboveAt;
        const auto sideOf = [&](std::size_t s) -> const Seam* {
            const Seam& seam = seams[s];
            if (seam.pieceBelow != piece.number && seam.pieceAbove != piece.number)
                return nullptr;
            aboveAt[seam.cut] = seam.pieceAbove == piece.number;
            return &seam;
        };
        const auto planeAt = [&](const Seam& seam) { return plan.nodes[static_cast<std::size_t>(seam.cut)].plane; };
        for (const Joint& joint : layout.joints)
            if (const Seam* seam = sideOf(joint.seam))
                byCut[seam->cut].push_back(dowelBore(joint, planeAt(*seam), aboveAt[seam->cut]));
        for (const Mark& mark : layout.marks)
            if (const Seam* seam = sideOf(mark.seam))
                for (mesh::Recess& r : markRecesses(mark, planeAt(*seam), aboveAt[seam->cut]))
                    byCut[seam->cut].push_back(std::move(r));
        mesh::Mesh m = piece.mesh;
        for (const auto& [cut, recesses] : byCut) {
            const auto label = static_cast<mesh::Label>(cut) + 1;
            auto sunk = mesh::withRecesses(m, label,
                                           outwardPlane(plan.nodes[static_cast<std::size_t>(cut)].plane, aboveAt[cut]),
                                           recesses, label + featureLabelBase);
            if (!sunk) {
                Problem problem = sunk.problem();
                problem.what = fmt::format("piece {}, cut {}: {}", piece.number, cut + 1, problem.what);
                return problem;
            }
            m = std::move(*sunk);
        }
        out.push_back(std::move(m));
    }
    return out;
}

double sunkVolumeMm3(const std::vector<Seam>& seams, const CutPlan& plan, const JointLayout& layout)
{
    double sum = 0;
    const auto planeOf = [&](std::size_t seam) { return plan.nodes[static_cast<std::size_t>(seams[seam].cut)].plane; };
    for (const bool above : {false, true}) {
        for (const Joint& joint : layout.joints)
            sum += mesh::volume(dowelBore(joint, planeOf(joint.seam), above));
        for (const Mark& mark : layout.marks)
            for (const mesh::Recess& r : markRecesses(mark, planeOf(mark.seam), above))
                sum += mesh::volume(r);
    }
    return sum;
}

} // namespace quoin::core
