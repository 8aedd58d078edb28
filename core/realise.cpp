// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/realise.h"

#include "core/grid_cutter.h"
#include "core/joint_layout.h"
#include "core/jointed_pieces.h"
#include "mesh/topology.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace quoin::core {

namespace {

/// What a piece stands on when no bed was named: room without end.
Bed openFloor()
{
    return {"no bed given", Bed::Shape::Rectangular, 1e6, 1e6, 1e6, 1};
}

Problem cancelled()
{
    return {Reason::Cancelled, "cancelled", {}, {}, {}};
}

Project projectOf(const Design& design, const PartDesign& part)
{
    Project project;
    project.part.name = part.name;
    project.part.sourceFile = part.sourceFile;
    project.part.sourceSha256 = part.sourceSha256;
    project.part.sourceUnit = part.sourceUnit;
    project.part.scale = part.scale;
    project.part.material = part.material;
    project.part.repairs = part.repairs;
    project.beds = design.beds.empty() ? std::vector{openFloor()} : design.beds;
    project.marginMm = design.beds.empty() ? 0 : design.marginMm;
    project.anyRotation = design.anyRotation;
    project.islandsApart = design.islandsApart;
    project.suggestion.words = part.suggestionWords;
    project.load = part.load;
    project.jointOptions = part.joints;
    project.jointOptions.clearances = clearancesFor(part.fits, part.material, part.machine, part.fit);
    return project;
}

bool sameCuts(const PartDesign& a, const PartDesign& b)
{
    return std::equal(a.cuts.begin(), a.cuts.end(), b.cuts.begin(), b.cuts.end(),
                      [](const CutStep& x, const CutStep& y) {
                          return x.id == y.id && x.plane == y.plane && x.enabled == y.enabled && x.within == y.within;
                      });
}

bool sameBeds(const Project& a, const Project& b)
{
    return a.beds == b.beds && a.marginMm == b.marginMm && a.anyRotation == b.anyRotation;
}

void scale(Realised& out, const PartDesign& part, const Realised* previous)
{
    if (previous != nullptr && previous->design.source == part.source && previous->design.scale == part.scale) {
        out.project.part.mesh = previous->project.part.mesh;
        out.bodiesLeftOut = previous->bodiesLeftOut;
        return;
    }
    out.project.part.mesh =
        std::make_shared<const mesh::Mesh>(scaledPart(*part.source, part.scale, &out.bodiesLeftOut));
}

Status cut(Realised& out, const PartDesign& part, const Realised* previous, const Context& context)
{
    if (previous != nullptr && previous->project.part.mesh == out.project.part.mesh &&
        previous->project.islandsApart == out.project.islandsApart && sameCuts(previous->design, part)) {
        out.project.plan = previous->project.plan;
        out.project.pieces = previous->project.pieces;
        out.project.seams = previous->project.seams;
        out.cutOfNode = previous->cutOfNode;
        out.cutStamp = previous->cutStamp;
        out.crumbsLeftOut = previous->crumbsLeftOut;
        return Done{};
    }
    auto made = cutBySteps(*out.project.part.mesh, part.cuts, context);
    if (!made)
        return made.problem();
    out.project.plan = std::move(made->plan);
    out.cutOfNode = std::move(made->cutOfNode);
    out.cutStamp = std::make_shared<const int>(0);
    out.project.pieces = piecesOf(made->leaves, out.project.islandsApart, &out.crumbsLeftOut);
    if (context.cancelled())
        return cancelled();
    out.project.seams = seamsOf(out.project.pieces, out.project.plan);
    return Done{};
}

/// The poses that the same pieces had before, by the checksums of their meshes.
std::map<std::uint64_t, Pose> posesOf(const Realised* previous, const Project& project)
{
    std::map<std::uint64_t, Pose> poses;
    if (previous != nullptr && previous->stage != Realised::Stage::Cut && sameBeds(previous->project, project))
        for (std::size_t i = 0; i < previous->plainPoses.size(); ++i)
            poses.emplace(checksum(previous->project.pieces[i].mesh), previous->plainPoses[i]);
    return poses;
}

/// Poses a piece as a mesh fits; where it fits nowhere, so that it sticks out least.
Status poseAs(const mesh::Mesh& mesh, const Project& project, Piece& piece)
{
    const FitOptions options{project.marginMm, project.anyRotation};
    const PieceShape shape(mesh);
    auto found = fitOnBeds(shape, project.beds, options);
    if (!found)
        found = closestPose(shape, project.beds, options);
    if (!found)
        return Problem{
            Reason::DoesNotFit, fmt::format("piece {} has no pose on any bed", piece.number), {}, {}, "Give a bed."};
    piece.pose = *found;
    return Done{};
}

/// A pose for each piece.
Status pose(Realised& state, const Realised* previous, const Context& context)
{
    Project& project = state.project;
    const std::map<std::uint64_t, Pose> known = posesOf(previous, project);
    for (std::size_t i = 0; i < project.pieces.size(); ++i) {
        if (context.cancelled())
            return cancelled();
        context.report(static_cast<double>(i) / static_cast<double>(project.pieces.size()), "finding print poses");
        Piece& piece = project.pieces[i];
        if (!known.empty())
            if (const auto before = known.find(checksum(piece.mesh)); before != known.end()) {
                piece.pose = before->second;
                continue;
            }
        if (const Status s = poseAs(piece.mesh, project, piece); !s)
            return s;
    }
    for (const Piece& piece : project.pieces)
        state.plainPoses.push_back(piece.pose);
    return Done{};
}

/// Poses anew what has a stud or a key standing out of a face. One that can't be made is told of when it is exported.
Status poseProud(Project& project, const Context& context)
{
    std::set<int> proud;
    for (const Joint& joint : project.layout.joints) {
        const Seam& seam = project.seams[joint.seam];
        const bool grown = joint.kind == Joint::Kind::Screw || joint.kind == Joint::Kind::Dovetail ||
                           (joint.kind == Joint::Kind::Key && joint.integral);
        if (grown)
            proud.insert(joint.carrierAbove ? seam.pieceAbove : seam.pieceBelow);
    }
    for (const int number : proud) {
        if (context.cancelled())
            return cancelled();
        Piece& piece = project.pieces[static_cast<std::size_t>(number) - 1];
        const auto jointed = jointedPiece(piece, project.seams, project.plan, project.layout);
        if (!jointed)
            continue;
        if (const Status s = poseAs(*jointed, project, piece); !s)
            return s;
    }
    return Done{};
}

/// Remarks about what was left out and what needs support.
std::vector<Note> notesOf(const Realised& r)
{
    std::vector<Note> notes;
    const auto warn = [&](std::string text) { notes.push_back({Note::Severity::Warning, std::move(text), {}}); };
    if (r.bodiesLeftOut > 0)
        warn(fmt::format("{} of the model's bodies are crumbs too small to print and were left out", r.bodiesLeftOut));
    if (r.crumbsLeftOut > 0)
        warn(fmt::format("{} crumbs too small to print were left out where a plane all but touches the surface; move "
                         "that plane a little",
                         r.crumbsLeftOut));
    for (const Piece& piece : r.project.pieces)
        if (r.stage != Realised::Stage::Cut && piece.pose.slackMm >= 0 && !piece.pose.standsFlat)
            warn(fmt::format("piece {} fits standing on none of its flat faces: it needs support", piece.number));
    return notes;
}

/// Hands on a stage and goes on with a copy.
void handOn(const Realised& state, Realised::Stage stage, const std::function<void(RealisedPtr)>& onStage)
{
    if (!onStage)
        return;
    auto copy = std::make_shared<Realised>(state);
    copy->stage = stage;
    copy->project.notes = notesOf(*copy);
    onStage(std::move(copy));
}

} // namespace

bool Realised::fitsBeds() const
{
    return stage != Stage::Cut && std::all_of(project.pieces.begin(), project.pieces.end(),
                                              [](const Piece& p) { return p.pose.slackMm >= 0; });
}

mesh::Mesh scaledPart(const mesh::Mesh& source, double scale, int* crumbs)
{
    mesh::Mesh scaled = mesh::transformed(source, mesh::Transform::scaling(scale));
    std::vector<mesh::Mesh> bodies = mesh::bodies(scaled);
    const auto kept =
        std::stable_partition(bodies.begin(), bodies.end(), [](const mesh::Mesh& b) { return !isCrumb(b); });
    const auto leftOut = bodies.end() - kept;
    if (crumbs != nullptr)
        *crumbs = kept == bodies.begin() ? 0 : static_cast<int>(leftOut);
    if (leftOut == 0 || kept == bodies.begin())
        return scaled;
    mesh::Mesh whole = std::move(bodies.front());
    for (auto body = bodies.begin() + 1; body != kept; ++body)
        whole = mesh::joined(whole, *body);
    return whole;
}

Result<RealisedPtr> realise(const Design& design, const PartDesign& part, const RealisedPtr& previous,
                            const std::function<void(RealisedPtr)>& onStage, const Context& context)
{
    Realised state;
    state.design = part;
    state.design.keepClear.clear();
    state.project = projectOf(design, part);
    Project& project = state.project;
    scale(state, part, previous.get());
    if (const Status s = cut(state, part, previous.get(), context); !s)
        return s.problem();
    handOn(state, Realised::Stage::Cut, onStage);
    if (const Status s = pose(state, previous.get(), context); !s)
        return s.problem();
    handOn(state, Realised::Stage::Posed, onStage);
    const SeamChoices choices = seamChoices(project, state.cutOfNode, part);
    auto layout = layOutJoints(project.pieces, project.seams, project.plan, project.jointOptions, choices, context);
    if (!layout)
        return layout.problem();
    project.layout = std::move(*layout);
    if (const Status s = poseProud(project, context); !s)
        return s.problem();
    state.stage = Realised::Stage::Jointed;
    project.notes = notesOf(state);
    auto done = std::make_shared<const Realised>(std::move(state));
    if (onStage)
        onStage(done);
    return RealisedPtr(std::move(done));
}

} // namespace quoin::core
