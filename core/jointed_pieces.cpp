// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/jointed_pieces.h"

#include "core/joint_dowel.h"
#include "core/joint_rules.h"
#include "core/mark.h"
#include "core/parallel.h"
#include "core/witness_shape.h"
#include "mesh/local_boolean.h"
#include "mesh/mass.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace quoin::core {

namespace {

const mesh::Plane& planeOf(const CutPlan& plan, int cut)
{
    return plan.nodes[static_cast<std::size_t>(cut)].plane;
}

/// What is to be done to one face of a piece, and to the rest of it from there.
struct FaceWork {
    bool above = false;
    std::vector<mesh::Recess> recesses;
    std::vector<mesh::FacePatch> patches;
    std::vector<mesh::Mesh> taken;
};

Problem named(Problem problem, const std::string& what)
{
    problem.what = what + ": " + problem.what;
    return problem;
}

std::string nameOf(const std::vector<Seam>& seams, const JointLayout& layout, std::size_t joint)
{
    return fmt::format("{} {}", kindName(layout.joints[joint].kind), jointName(seams, layout.joints, joint));
}

/// How far the mouths of a side reach off their seam, mm; 0 when they stay on it.
double offSeam(const SideShape& side, const Seam& seam, const mesh::Plane& cut, bool above)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut), own = mesh::frameOf(outwardPlane(cut, above));
    double off = 0;
    const auto look = [&](const mesh::Region& mouth) {
        for (const mesh::Loop& loop : mouth)
            for (const mesh::Vec2 p : loop)
                if (const mesh::Vec2 q = frame.flat(own.space(p)); !mesh::contains(seam.region, q))
                    off = std::max(off, mesh::distanceToOutline(seam.region, q));
    };
    for (const mesh::Recess& recess : side.recesses)
        look(recess.levels.front().outline);
    for (const mesh::FacePatch& patch : side.patches)
        look(mesh::mouthOf(patch, outwardPlane(cut, above)));
    return off;
}

Status addJoint(const std::vector<Seam>& seams, const CutPlan& plan, const JointLayout& layout, std::size_t j,
                bool above, FaceWork& work)
{
    const Joint& joint = layout.joints[j];
    const Seam& seam = seams[joint.seam];
    const mesh::Plane& cut = planeOf(plan, seam.cut);
    auto side = sideShape(joint, cut, above);
    if (!side)
        return named(side.problem(), nameOf(seams, layout, j));
    // Said by name before the geometry refuses it.
    if (const double off = offSeam(*side, seam, cut, above); off > 0)
        return Problem{Reason::JointFailed,
                       fmt::format("{} of {:g} mm reaches {:.1f} mm off the face between pieces {} and {}",
                                   nameOf(seams, layout, j), joint.diameterMm, std::max(off, 0.1), seam.pieceBelow,
                                   seam.pieceAbove),
                       {},
                       {},
                       "Move it inwards, take a thinner one, or remove it."};
    std::ranges::move(side->recesses, std::back_inserter(work.recesses));
    std::ranges::move(side->patches, std::back_inserter(work.patches));
    std::ranges::move(side->taken, std::back_inserter(work.taken));
    return Done{};
}

Result<std::map<int, FaceWork>> workOn(const Piece& piece, const std::vector<Seam>& seams, const CutPlan& plan,
                                       const JointLayout& layout)
{
    std::map<int, FaceWork> byCut;
    const auto faceOf = [&](std::size_t s) -> FaceWork* {
        const Seam& seam = seams[s];
        if (seam.pieceBelow != piece.number && seam.pieceAbove != piece.number)
            return nullptr;
        FaceWork& work = byCut[seam.cut];
        work.above = seam.pieceAbove == piece.number;
        return &work;
    };
    for (std::size_t j = 0; j < layout.joints.size(); ++j)
        if (FaceWork* work = faceOf(layout.joints[j].seam))
            if (const Status s = addJoint(seams, plan, layout, j, work->above, *work); !s)
                return s.problem();
    for (const Mark& mark : layout.marks)
        if (FaceWork* work = faceOf(mark.seam))
            for (mesh::Recess& r : markRecesses(mark, planeOf(plan, seams[mark.seam].cut), work->above))
                work->recesses.push_back(std::move(r));
    return byCut;
}

/// Calls `use(side, cut, above)` for both sides of every joint.
template <class Use>
Status forEachSide(const std::vector<Seam>& seams, const CutPlan& plan, const JointLayout& layout, const Use& use)
{
    for (std::size_t j = 0; j < layout.joints.size(); ++j)
        for (const bool above : {false, true}) {
            const mesh::Plane& cut = planeOf(plan, seams[layout.joints[j].seam].cut);
            auto side = sideShape(layout.joints[j], cut, above);
            if (!side)
                return named(side.problem(), nameOf(seams, layout, j));
            if (const Status s = use(*side, cut, above); !s)
                return s.problem();
        }
    return Done{};
}

/// What a solid takes off another, mm3.
Result<double> takenOff(const mesh::Mesh& from, const mesh::Mesh& tool)
{
    const auto less = mesh::withoutSolid(from, tool, 1);
    if (!less)
        return less.problem();
    return mesh::volume(from) - mesh::volume(*less);
}

/// A block with one face in the cut, on the side of the material, that holds a solid and bores of that side well
/// inside.
mesh::Mesh blockAround(const mesh::Mesh& solid, const mesh::Plane& outward)
{
    constexpr double marginMm = 1000; // more than any bore is deep
    const mesh::PlaneFrame frame = mesh::frameOf(outward);
    mesh::Box3 box;
    for (const mesh::Vec3 p : solid.points) {
        const mesh::Vec2 q = frame.flat(p);
        box.add({q.x, q.y, outward.distance(p)});
    }
    const mesh::Vec3 margin{marginMm, marginMm, marginMm};
    const mesh::Vec3 low = box.min - margin;
    mesh::Mesh block = mesh::box(low, {box.max.x + marginMm, box.max.y + marginMm, 0});
    block.labels.assign(block.triangles.size(), 0);
    for (mesh::Index t = 0; t < block.triangles.size(); ++t)
        block.labels[t] = block.corner(t, 0).z == 0 && block.corner(t, 1).z == 0 && block.corner(t, 2).z == 0 ? 1 : 0;
    return mesh::transformed(block, mesh::Transform::translation(frame.origin) *
                                        mesh::Transform::fromColumns(frame.u, frame.v, frame.normal));
}

/// What a solid shares with what is sunk into the face on the same side, mm3: a bore that a slot runs into, say.
Result<double> sharedVolume(const SideShape& side, const mesh::Mesh& half, const mesh::Plane& outward)
{
    if (side.recesses.empty() && side.patches.empty())
        return 0.0;
    const mesh::Mesh block = blockAround(half, outward);
    const auto sunk = mesh::withFeatures(block, 1, outward, side.recesses, side.patches, 2);
    if (!sunk)
        return sunk.problem();
    const auto whole = takenOff(block, half), rest = takenOff(*sunk, half);
    if (!whole || !rest)
        return whole ? rest.problem() : whole.problem();
    return *whole - *rest;
}

} // namespace

Result<mesh::Mesh> jointedPiece(const Piece& piece, const std::vector<Seam>& seams, const CutPlan& plan,
                                const JointLayout& layout)
{
    auto work = workOn(piece, seams, plan, layout);
    if (!work)
        return work.problem();
    mesh::Mesh made = piece.mesh;
    for (const auto& [cut, face] : *work) {
        const auto label = static_cast<mesh::Label>(cut) + 1;
        const auto failed = [&, n = cut + 1](const Problem& problem) {
            return named(problem, fmt::format("piece {}, cut {}", piece.number, n));
        };
        auto sunk = mesh::withFeatures(made, label, outwardPlane(planeOf(plan, cut), face.above), face.recesses,
                                       face.patches, label + featureLabelBase);
        if (!sunk)
            return failed(sunk.problem());
        made = std::move(*sunk);
        for (const mesh::Mesh& tool : face.taken) {
            auto less = mesh::withoutSolid(made, tool, label + featureLabelBase);
            if (!less)
                return failed(less.problem());
            made = std::move(*less);
        }
    }
    for (const Witness& witness : layout.witnesses) {
        const Seam& seam = seams[witness.seam];
        if (seam.pieceBelow != piece.number && seam.pieceAbove != piece.number)
            continue;
        auto less =
            mesh::withoutSolid(made, witnessTool(witness), static_cast<mesh::Label>(seam.cut) + 1 + featureLabelBase);
        if (!less)
            return named(less.problem(), fmt::format("piece {}, witness line {}", piece.number, seam.mark));
        made = std::move(*less);
    }
    return made;
}

Result<std::vector<mesh::Mesh>> jointedPieces(const std::vector<Piece>& pieces, const std::vector<Seam>& seams,
                                              const CutPlan& plan, const JointLayout& layout, const Context& context)
{
    std::vector<Result<mesh::Mesh>> made(pieces.size(), Problem{Reason::Cancelled, "cancelled", {}, {}, {}});
    forEachIndex(pieces.size(), [&](std::size_t i) {
        if (!context.cancelled())
            made[i] = jointedPiece(pieces[i], seams, plan, layout);
    });
    if (context.cancelled())
        return Problem{Reason::Cancelled, "cancelled while making joints", {}, {}, {}};
    std::vector<mesh::Mesh> out;
    for (Result<mesh::Mesh>& piece : made) {
        if (!piece)
            return piece.problem();
        out.push_back(std::move(*piece));
    }
    return out;
}

Result<double> sunkVolumeMm3(const std::vector<Seam>& seams, const CutPlan& plan, const JointLayout& layout)
{
    double sum = 0;
    const Status joints =
        forEachSide(seams, plan, layout, [&](const SideShape& side, const mesh::Plane& cut, bool above) -> Status {
            for (const mesh::Recess& r : side.recesses)
                sum += mesh::volume(r);
            for (const mesh::FacePatch& p : side.patches)
                sum -= mesh::volumeAdded(p, outwardPlane(cut, above));
            return Done{};
        });
    if (!joints)
        return joints.problem();
    for (const bool above : {false, true})
        for (const Mark& mark : layout.marks)
            for (const mesh::Recess& r : markRecesses(mark, planeOf(plan, seams[mark.seam].cut), above))
                sum += mesh::volume(r);
    return sum;
}

Result<double> takenVolumeMm3(const mesh::Mesh& part, const std::vector<Seam>& seams, const CutPlan& plan,
                              const JointLayout& layout)
{
    double sum = 0;
    const Status s =
        forEachSide(seams, plan, layout, [&](const SideShape& side, const mesh::Plane& cut, bool above) -> Status {
            for (const mesh::Mesh& tool : side.taken) {
                auto halves = mesh::cutByPlane(tool, cut);
                if (!halves)
                    return halves.problem();
                const mesh::Mesh& half = above ? halves->above : halves->below;
                const auto taken = takenOff(part, half), shared = sharedVolume(side, half, outwardPlane(cut, above));
                if (!taken || !shared)
                    return taken ? shared.problem() : taken.problem();
                sum += *taken - *shared;
            }
            return Done{};
        });
    if (!s)
        return s.problem();
    for (const Witness& witness : layout.witnesses) {
        const auto taken = takenOff(part, witnessTool(witness));
        if (!taken)
            return taken.problem();
        sum += *taken;
    }
    return sum;
}

} // namespace quoin::core
