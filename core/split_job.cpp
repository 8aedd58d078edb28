// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/split_job.h"

#include "core/cut_ways.h"
#include "core/load_model.h"
#include "core/realise.h"
#include "mesh/mass.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

Problem cancelled()
{
    return {Reason::Cancelled, "cancelled", {}, {}, {}};
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
        return largestScale(part, r.beds, {r.marginMm, r.anyRotation}, context);
    }
    return 1.0;
}

/// The cuts: the user's planes, completed by the suggestion when there are beds.
Result<PartDesign> withCuts(const SplitRequest& r, PartDesign part, const mesh::Mesh& scaled, Suggestion& suggestion,
                            std::vector<Note>& notes, const Context& context)
{
    context.report(0.3, "cutting");
    auto start = planByCutting(scaled, r.planes, context);
    if (!start)
        return start.problem();
    if (!r.planes.empty() && start->empty())
        notes.push_back({Note::Severity::Warning, "none of the given planes meets the scaled part", {}});
    if (r.beds.empty())
        return withPlan(part, *start, {});
    SuggestOptions options;
    options.fit = {r.marginMm, r.anyRotation};
    options.islandsApart = r.islandsApart;
    options.seed = r.seed;
    options.seconds = r.seconds;
    options.weights = r.weights;
    options.morePieces = r.morePieces;
    options.alternatives = std::max(r.alternatives, r.take);
    options.judge = {r.joints, r.load, r.material};
    auto found = findCuts(scaled, *start, r.beds, options, context);
    if (!found)
        return found.problem();
    auto taken = suggestionTaken(*found, r.take);
    if (!taken)
        return taken.problem();
    suggestion = std::move(*taken);
    return withPlan(part, suggestion.plan, suggestion.words);
}

/// None may stick out of every bed.
Status allFit(const Project& project)
{
    for (const Piece& piece : project.pieces)
        if (piece.pose.slackMm < 0) {
            const mesh::Vec3 e = mesh::bounds(piece.mesh).extents();
            return Problem{
                Reason::DoesNotFit,
                fmt::format("piece {} ({:.1f} x {:.1f} x {:.1f} mm as it stands in the part) fits none of the "
                            "beds with {} mm margin",
                            piece.number, e.x, e.y, e.z, project.marginMm),
                {},
                {},
                "Give a larger bed, a smaller margin or scale, --any-rotation, or joints that don't stand out of "
                "their pieces."};
        }
    return Done{};
}

/// Everything that split() decides, before joints are laid out.
struct Decided {
    Design design; ///< of one part
    mesh::MeshPtr scaled;
    Suggestion suggestion;
    std::vector<Note> notes;
};

Result<Decided> decide(const SplitRequest& r, const Context& context)
{
    if (findMaterial(r.material) == nullptr)
        return Problem{Reason::BadArgument,
                       "unknown material \"" + r.material + "\"",
                       {},
                       {},
                       "Known: PLA, PETG, ABS, ASA, PA12, PA6."};
    auto loaded = loadModel(r.file, r.read, r.repair, context);
    if (!loaded)
        return loaded.problem();
    Decided out;
    out.notes = loaded->notes;
    const auto factor = factorFor(r, *loaded->part.source, context);
    if (!factor)
        return factor.problem();
    for (std::string& line : scalingLines(*factor, loaded->health))
        out.notes.push_back({Note::Severity::Info, std::move(line), {}});
    PartDesign part = std::move(loaded->part);
    part.scale = *factor;
    part.material = findMaterial(r.material)->name;
    part.joints = r.joints;
    part.load = r.load;
    part.fit = r.fit;
    part.machine = r.machine;
    part.fits = r.fits;
    out.scaled = std::make_shared<const mesh::Mesh>(scaledPart(*part.source, part.scale));
    auto cut = withCuts(r, std::move(part), *out.scaled, out.suggestion, out.notes, context);
    if (!cut)
        return cut.problem();
    out.design.beds = r.beds;
    out.design.marginMm = r.marginMm;
    out.design.anyRotation = r.anyRotation;
    out.design.islandsApart = r.islandsApart;
    out.design = withPart(out.design, std::move(*cut));
    return out;
}

/// Four figures, never with an exponent.
std::string figures(double value)
{
    constexpr double fourFigures = 1e4;
    return std::abs(value) < fourFigures ? fmt::format("{:.4g}", value) : fmt::format("{:.0f}", value);
}

} // namespace

// By bisection between a size that surely fits and one that surely doesn't (its diagonal longer than the bed's).
Result<double> largestScale(const mesh::Mesh& part, const std::vector<Bed>& beds, const FitOptions& options,
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
        fmt::format("mass and volume grow by the cube, {} times (solid): {} cm3 become {} cm3", figures(f * f * f),
                    figures(before.volumeMm3 / 1e3), figures(f * f * f * before.volumeMm3 / 1e3)),
        fmt::format("surface, paint and wind force grow by the square, {} times: {} cm2 become {} cm2", figures(f * f),
                    figures(before.areaMm2 / 1e2), figures(f * f * before.areaMm2 / 1e2)),
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

Result<Design> designOf(const SplitRequest& request, const Context& context)
{
    auto decided = decide(request, context);
    if (!decided)
        return decided.problem();
    return std::move(decided->design);
}

Result<Project> split(const SplitRequest& r, const Context& context, Design* design)
{
    auto decided = decide(r, context);
    if (!decided)
        return decided.problem();
    context.report(0.6, "finding print poses");
    auto made = realise(decided->design, decided->design.parts.front(), {}, {}, context);
    if (!made)
        return made.problem();
    if (const Status s = allFit((*made)->project); !s)
        return s.problem();
    Project project = (*made)->project;
    project.suggestion = std::move(decided->suggestion);
    project.notes.insert(project.notes.begin(), decided->notes.begin(), decided->notes.end());
    if (design != nullptr)
        *design = std::move(decided->design);
    return project;
}

} // namespace quoin::core
