// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/jointed_pieces.h"
#include "core/json_place.h"
#include "core/print_project.h"
#include "core/project_file.h"
#include "core/realise.h"

#include <fmt/format.h>

namespace quoin::core {

namespace fs = std::filesystem;

namespace {

constexpr std::uint64_t mostBytes = std::uint64_t{1} << 30;
constexpr std::size_t mostLines = 100000, longestText = 4096;
constexpr int mostCopies = 1000000;

/// Where a listed file is: in the folder itself, nowhere else.
fs::path fileIn(const fs::path& folder, const JsonPlace& place)
{
    const fs::path file(place.text(longestText));
    for (const fs::path& step : file)
        if (file.is_absolute() || step == "..")
            place.fail("this is no file of the folder");
    return folder / file;
}

Result<std::vector<ListedPart>> listIn(const fs::path& folder, const Context& context)
{
    const fs::path file = folder / "pieces.json";
    const auto document = jsonInFile(file, mostBytes);
    if (!document)
        return document.problem();
    std::vector<ListedPart> list;
    std::vector<fs::path> files;
    try {
        JsonPlace(*document).at("pieces").each(mostLines, [&](const JsonPlace& place) {
            ListedPart part;
            part.number = place.at("number").wholeInt(1, INT32_MAX);
            part.kind = place.at("kind").text(longestText);
            part.name = place.at("name").text(longestText);
            part.file = place.at("file").text(longestText);
            part.count = place.at("count").wholeInt(1, mostCopies);
            part.bed = place.at("bed").text(longestText);
            files.push_back(fileIn(folder, place.at("file")));
            list.push_back(std::move(part));
        });
    } catch (const JsonPlace::Wrong& wrong) {
        return Problem{Reason::FileMalformed, "the list of pieces can't be used: " + wrong.what, file.string(),
                       wrong.place, "Export the design again."};
    }
    for (std::size_t i = 0; i < list.size(); ++i) {
        auto model = mesh::readModel(files[i], {}, context);
        if (!model)
            return model.problem();
        list[i].mesh = std::move(model->mesh);
    }
    return list;
}

mesh::MeshPtr smaller(const mesh::Mesh& large, double scale)
{
    return std::make_shared<const mesh::Mesh>(mesh::transformed(large, mesh::Transform::scaling(1 / scale)));
}

} // namespace

Result<PartToPrint> partFromExport(const fs::path& folder, const Context& context)
{
    const fs::path file = folder / "project.quoin.json";
    const auto document = jsonInFile(file, mostBytes);
    if (!document)
        return document.problem();
    const auto project = projectFromJson(*document, file.string());
    if (!project)
        return project.problem();
    PartToPrint part{project->part.name, project->part.material, {}, 1, {}, {}, project->part.scale};
    auto list = listIn(folder, context);
    if (!list)
        return list.problem();
    part.list = std::move(*list);
    // Without the whole part there is no table of scaling; the pieces are what counts.
    if (const auto whole = mesh::readModel(folder / "part.ply", {}, context); whole && part.scale > 0)
        part.small = smaller(whole->mesh, part.scale);
    if (context.cancelled())
        return Problem{Reason::Cancelled, "cancelled", {}, {}, {}};
    return part;
}

Result<PartToPrint> partFromModel(const fs::path& file, const mesh::ReadOptions& options, const Context& context)
{
    auto model = mesh::readModel(file, options, context);
    if (!model)
        return model.problem();
    PartToPrint part{file.stem().string(), "PLA", {}, 1, {}, {}, 1};
    ListedPart line;
    line.number = 1;
    line.kind = "piece";
    line.name = part.name;
    line.mesh = std::move(model->mesh);
    part.list.push_back(std::move(line));
    return part;
}

Result<PartToPrint> partFromDesign(const Design& design, const PartDesign& part, const Context& context)
{
    const auto realised = realise(design, part, {}, {}, context);
    if (!realised)
        return realised.problem();
    const Project& project = (*realised)->project;
    if (!(*realised)->fitsBeds() || (*realised)->stage != Realised::Stage::Jointed)
        return Problem{Reason::DoesNotFit,
                       fmt::format("part \"{}\" has a piece that fits no bed", part.name),
                       {},
                       {},
                       "Cut further, give a larger bed, or allow any rotation; then estimate again."};
    auto jointed = jointedPieces(project.pieces, project.seams, project.plan, project.layout, context);
    if (!jointed)
        return jointed.problem();
    auto list = partsList(project, *jointed);
    if (!list)
        return list.problem();
    return PartToPrint{part.name,        part.material, part.machine, part.quantity,
                       std::move(*list), part.source,   part.scale};
}

} // namespace quoin::core
