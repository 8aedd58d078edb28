// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/split_job.h"

#include "core/file_hash.h"
#include "core/joint_layout.h"
#include "mesh/mass.h"
#include "mesh/repair.h"
#include "mesh/topology.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

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

/// The largest factor at which the part fits a bed uncut, by bisection between a size that surely fits and one that
/// surely doesn't (its diagonal longer than the bed's).
Result<double> largestOnBed(const mesh::Mesh& part, const std::vector<Bed>& beds, const FitOptions& options,
                            const Context& context)
{
    const double size = mesh::length(mesh::bounds(part).extents());
    double diagonal = 0;
    for (const Bed& b : beds)
        diagonal =
            std::max(diagonal, std::sqrt(b.widthMm * b.widthMm + b.depthMm * b.depthMm + b.heightMm * b.heightMm));
    const auto fits = [&](double factor) {
        return fitOnBeds(mesh::transformed(part, mesh::Transform::scaling(factor)), beds, options).has_value();
    };
    double low = 0, high = 1.01 * diagonal * std::sqrt(3.0) / size;
    for (int i = 0; i < 24 && high - low > 1e-4 * high; ++i) {
        if (context.cancelled())
            return cancelled();
        const double middle = 0.5 * (low + high);
        (fits(middle) ? low : high) = middle;
    }
    if (low <= 0)
        return Problem{Reason::DoesNotFit,
                       "no size of this part fits the beds with the margin",
                       {},
                       {},
                       "Give a larger bed or a smaller margin."};
    return low;
}

Result<double> factorFor(const SplitRequest& r, const mesh::Mesh& part, const Context& context)
{
    const mesh::Vec3 size = mesh::bounds(part).extents();
    const auto toDimension = [&](double now) -> Result<double> {
        if (!(now > 0))
            return Problem{Reason::BadArgument, "the part has no extent in that direction", r.file.string(), {}, {}};
        return r.scaling.value / now;
    };
    if (r.scaling.how != Scaling::How::Keep && r.scaling.how != Scaling::How::LargestOnBed &&
        !(r.scaling.value > 0 && std::isfinite(r.scaling.value)))
        return Problem{Reason::BadArgument, "a scale or a wanted size must be a positive number", {}, {}, {}};
    switch (r.scaling.how) {
    case Scaling::How::Keep:
        return 1.0;
    case Scaling::How::Factor:
        return r.scaling.value;
    case Scaling::How::Width:
        return toDimension(size.x);
    case Scaling::How::Depth:
        return toDimension(size.y);
    case Scaling::How::Height:
        return toDimension(size.z);
    case Scaling::How::LargestOnBed:
        if (r.beds.empty())
            return Problem{Reason::BadArgument, "the largest size for a bed needs a bed", {}, {}, "Add --bed."};
        return largestOnBed(part, r.beds, {r.marginMm, r.anyRotation}, context);
    }
    return 1.0;
}

struct Loaded {
    mesh::Mesh mesh;
    mesh::Health health;
};

/// Reads, checks, and repairs if asked; notes go into the project.
Result<Loaded> loadSound(const SplitRequest& r, Project& project, const Context& context)
{
    context.report(0.02, "reading");
    auto model = mesh::readModel(r.file, r.read, context);
    if (!model)
        return model.problem();
    project.notes.insert(project.notes.end(), model->notes.begin(), model->notes.end());
    project.part.sourceUnit = model->unit;
    context.report(0.08, "checking the model");
    Loaded loaded{std::move(model->mesh), {}};
    loaded.health = mesh::healthOf(loaded.mesh, {}, context);
    if (context.cancelled())
        return cancelled();
    auto trouble = mesh::whyNotSound(loaded.mesh, loaded.health);
    if (!trouble)
        return loaded;
    if (!r.repair) {
        trouble->file = r.file.string();
        return *trouble;
    }
    context.report(0.15, "repairing");
    auto mended = mesh::repaired(loaded.mesh, {}, context);
    if (!mended) {
        Problem problem = mended.problem();
        problem.file = r.file.string();
        return problem;
    }
    const mesh::RepairReport& report = mended->report;
    project.part.repairs = report.changes;
    for (const std::string& change : report.changes)
        project.notes.push_back({Note::Severity::Warning, "repaired: " + change, {}});
    project.notes.push_back({Note::Severity::Info,
                             fmt::format("repair moved the volume from {:.5g} to {:.5g} mm3 and the surface by at most "
                                         "{:.3g} mm (sizes before scaling)",
                                         report.volumeBeforeMm3, report.volumeAfterMm3, report.surfaceMovedMm),
                             {}});
    loaded.mesh = std::move(mended->mesh);
    loaded.health = mesh::healthOf(loaded.mesh, {}, context);
    if (auto still = mesh::whyNotSound(loaded.mesh, loaded.health)) {
        still->file = r.file.string();
        return *still;
    }
    return loaded;
}

/// The part at its full size, without bodies that are only crumbs even then (scraps that many models carry).
mesh::Mesh scaledPart(const mesh::Mesh& mesh, double factor, Project& project)
{
    mesh::Mesh scaled = mesh::transformed(mesh, mesh::Transform::scaling(factor));
    std::vector<mesh::Mesh> bodies = mesh::bodies(scaled);
    const auto kept =
        std::stable_partition(bodies.begin(), bodies.end(), [](const mesh::Mesh& b) { return !isCrumb(b); });
    const auto crumbs = bodies.end() - kept;
    if (crumbs == 0 || kept == bodies.begin())
        return scaled;
    project.notes.push_back(
        {Note::Severity::Warning,
         fmt::format("{} of the model's bodies are crumbs too small to print and were left out", crumbs),
         {}});
    mesh::Mesh whole = std::move(bodies.front());
    for (auto body = bodies.begin() + 1; body != kept; ++body)
        whole = mesh::joined(whole, *body);
    return whole;
}

/// The cut plan: the user's planes, completed by the suggestion when there are beds.
Result<CutPlan> planFor(const SplitRequest& r, Project& project, const Context& context)
{
    context.report(0.3, "cutting");
    auto start = planByCutting(*project.part.mesh, r.planes, context);
    if (!start)
        return start.problem();
    if (!r.planes.empty() && start->empty())
        project.notes.push_back({Note::Severity::Warning, "none of the given planes meets the scaled part", {}});
    if (r.beds.empty())
        return start;
    SuggestOptions options;
    options.fit = {r.marginMm, r.anyRotation};
    options.islandsApart = r.islandsApart;
    options.seed = r.seed;
    auto suggestion = suggestGrid(*project.part.mesh, *start, r.beds, options, context);
    if (!suggestion)
        return suggestion.problem();
    project.suggestion = std::move(*suggestion);
    return project.suggestion.plan;
}

Status poseAll(Project& project, const Context& context)
{
    for (Piece& piece : project.pieces) {
        if (context.cancelled())
            return cancelled();
        auto pose = fitOnBeds(piece.mesh, project.beds, {project.marginMm, project.anyRotation});
        if (!pose) {
            const mesh::Vec3 e = mesh::bounds(piece.mesh).extents();
            return Problem{
                Reason::DoesNotFit,
                fmt::format("piece {} ({:.1f} x {:.1f} x {:.1f} mm as it stands in the part) fits none of the "
                            "beds with {} mm margin",
                            piece.number, e.x, e.y, e.z, project.marginMm),
                {},
                {},
                "Give a larger bed, a smaller margin or scale, or --any-rotation."};
        }
        piece.pose = *pose;
        if (!pose->standsFlat)
            project.notes.push_back(
                {Note::Severity::Warning,
                 fmt::format("piece {} fits standing on none of its flat faces: it needs support", piece.number),
                 {}});
    }
    return Done{};
}

} // namespace

std::vector<std::string> scalingLines(double factor, const mesh::Health& before)
{
    const double f = factor;
    if (f == 1)
        return {fmt::format("size kept: {:.4g} x {:.4g} x {:.4g} mm", before.extentsMm.x, before.extentsMm.y,
                            before.extentsMm.z)};
    std::vector<std::string> lines{
        fmt::format("scale {:.4g}: {:.4g} x {:.4g} x {:.4g} mm become {:.1f} x {:.1f} x {:.1f} mm", f,
                    before.extentsMm.x, before.extentsMm.y, before.extentsMm.z, f * before.extentsMm.x,
                    f * before.extentsMm.y, f * before.extentsMm.z),
        fmt::format("mass and volume grow by the cube, {:.4g} times (solid): {:.4g} cm3 become {:.4g} cm3", f * f * f,
                    before.volumeMm3 / 1e3, f * f * f * before.volumeMm3 / 1e3),
        fmt::format("surface, paint and wind force grow by the square, {:.4g} times: {:.4g} cm2 become {:.4g} cm2",
                    f * f, before.areaMm2 / 1e2, f * f * before.areaMm2 / 1e2),
        fmt::format(
            "gaps, walls and play grow in proportion, {:.4g} times: 0.2 mm of play becomes {:.2f} mm, so bearings "
            "and pins want new clearances",
            f, 0.2 * f)};
    double thinnest = 1e300;
    for (const mesh::BodyHealth& body : before.bodies)
        if (body.thinnestWallMm)
            thinnest = std::min(thinnest, *body.thinnestWallMm);
    if (thinnest < 1e300)
        lines.push_back(
            fmt::format("the thinnest wall found (sampled) grows from {:.3g} to {:.3g} mm", thinnest, f * thinnest));
    return lines;
}

Result<Project> split(const SplitRequest& r, const Context& context)
{
    Project project;
    if (findMaterial(r.material) == nullptr)
        return Problem{Reason::BadArgument,
                       "unknown material \"" + r.material + "\"",
                       {},
                       {},
                       "Known: PLA, PETG, ABS, ASA, PA12, PA6."};
    auto loaded = loadSound(r, project, context);
    if (!loaded)
        return loaded.problem();
    const auto factor = factorFor(r, loaded->mesh, context);
    if (!factor)
        return factor.problem();
    const auto hash = sha256OfFile(r.file);
    if (!hash)
        return hash.problem();
    for (std::string& line : scalingLines(*factor, loaded->health))
        project.notes.push_back({Note::Severity::Info, std::move(line), {}});

    project.part.name = r.file.stem().string();
    project.part.sourceFile = r.file.string();
    project.part.sourceSha256 = *hash;
    project.part.scale = *factor;
    project.part.material = findMaterial(r.material)->name;
    project.part.mesh = std::make_shared<const mesh::Mesh>(scaledPart(loaded->mesh, *factor, project));
    project.beds = r.beds.empty() ? std::vector{openFloor()} : r.beds;
    project.marginMm = r.beds.empty() ? 0 : r.marginMm;
    project.anyRotation = r.anyRotation;
    project.islandsApart = r.islandsApart;

    auto plan = planFor(r, project, context);
    if (!plan)
        return plan.problem();
    project.plan = std::move(*plan);
    auto leaves = cutByPlan(*project.part.mesh, project.plan, context);
    if (!leaves)
        return leaves.problem();
    int crumbs = 0;
    project.pieces = piecesOf(*leaves, r.islandsApart, &crumbs);
    if (crumbs > 0)
        project.notes.push_back(
            {Note::Severity::Warning,
             fmt::format("{} crumbs too small to print were left out where a plane all but touches the "
                         "surface; move that plane a little",
                         crumbs),
             {}});
    context.report(0.6, "finding print poses");
    if (const Status s = poseAll(project, context); !s)
        return s.problem();
    project.seams = seamsOf(project.pieces, project.plan);
    project.jointOptions = r.joints;
    project.jointOptions.clearanceMm = findMaterial(r.material)->clearanceMm(r.fit);
    context.report(0.7, "laying out joints");
    auto layout = layOutJoints(project.pieces, project.seams, project.plan, project.jointOptions, context);
    if (!layout)
        return layout.problem();
    project.layout = std::move(*layout);
    return project;
}

} // namespace quoin::core
