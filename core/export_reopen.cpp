// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/export_reopen.h"

#include "core/design_json.h"
#include "core/file_hash.h"
#include "core/mesh_folder.h"
#include "core/project_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace fs = std::filesystem;
using nlohmann::json;

namespace {

constexpr double sameClearanceMm = 1e-9;
/// What an export without a bed records in its place (core/split_job.cpp): room without end.
constexpr double openFloorMm = 1e6;

/// The part as the export holds it, exactly; as any PLY when another program has written it since.
Result<mesh::MeshPtr> exportedPart(const fs::path& file, const std::string& sha256, const Context& context)
{
    if (auto exact = MeshKeeper().load(file, sha256, context))
        return exact;
    auto model = mesh::readModel(file, {}, context);
    if (!model)
        return model.problem();
    return mesh::MeshPtr(std::make_shared<const mesh::Mesh>(std::move(model->mesh)));
}

/// The fit whose clearance the joints were made with; sliding when none is.
Fit fitOf(const Project& project)
{
    for (const Fit fit : {Fit::Sliding, Fit::Free, Fit::Snug, Fit::Press})
        if (std::abs(clearancesFor({}, project.part.material, {}, fit).dowelMm -
                     project.jointOptions.clearances.dowelMm) < sameClearanceMm)
            return fit;
    return Fit::Sliding;
}

/// An export's project is checked for its form; that its numbers are in measure is checked as for any design.
Status checkSane(const Design& design, const std::string& sha256, const fs::path& file)
{
    const DesignDocument document{design, {{keptName(sha256), sha256, design.parts[0].source->triangles.size()}}};
    const auto again = designFromJson(toJson(document), file.string());
    if (again)
        return Done{};
    return Problem{Reason::FileMalformed, again.problem().what, file.string(), {}, "Export it again."};
}

/// The exported plan as cuts, each within its own branch.
PartDesign withCuts(PartDesign part, const Project& project)
{
    return project.plan.empty() ? part : withPlan(part, project.plan, project.suggestion.words);
}

} // namespace

bool isExportDocument(const json& document)
{
    const auto kind = document.is_object() ? document.find("kind") : document.end();
    return document.is_object() && kind != document.end() && *kind == "quoin project";
}

Result<ReopenedExport> designFromExport(const json& document, const fs::path& file, const Context& context)
{
    const auto project = projectFromJson(document, file.string());
    if (!project)
        return project.problem();
    const fs::path mesh = file.parent_path() / "part.ply";
    const auto sha256 = sha256OfFile(mesh);
    if (!sha256)
        return Problem{Reason::FileMissing, "the export lacks its part", mesh.string(), {}, "Export it again."};
    auto source = exportedPart(mesh, *sha256, context);
    if (!source)
        return source.problem();

    PartDesign part;
    part.name = project->part.name;
    part.sourceFile = mesh.string();
    part.sourceSha256 = *sha256;
    part.repairs = project->part.repairs;
    part.source = std::move(*source);
    part.material = findMaterial(project->part.material) != nullptr ? project->part.material : part.material;
    part.joints = project->jointOptions;
    part.fit = fitOf(*project);
    part.load = project->load;
    ReopenedExport reopened;
    Design& design = reopened.design;
    const bool noBed =
        std::any_of(project->beds.begin(), project->beds.end(), [](const Bed& b) { return b.widthMm >= openFloorMm; });
    if (!noBed) {
        design.beds = project->beds;
        design.marginMm = project->marginMm;
    }
    design.anyRotation = project->anyRotation;
    design.islandsApart = project->islandsApart;
    design = withPart(design, withCuts(std::move(part), *project));
    if (const Status s = checkSane(design, *sha256, file); !s)
        return s.problem();
    reopened.notes.push_back({Note::Severity::Info,
                              fmt::format("opened from an export: the part is at its full size ({:g} times the model "
                                          "{}), so its scale is 1; joints are laid out anew",
                                          project->part.scale, project->part.sourceFile),
                              {}});
    return reopened;
}

} // namespace quoin::core
