// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof_evidence.h"

#include "core/parallel.h"
#include "core/project_file.h"
#include "mesh/float_grid.h"
#include "mesh/model_file.h"

#include <fmt/format.h>

#include <cmath>
#include <fstream>

namespace quoin::core {

namespace fs = std::filesystem;
using nlohmann::json;

namespace {

/// Steps that a corner may be off after mesh/print_ready.h: an edge of three closed, and the rounding itself.
constexpr double fileRoundingSteps = 4;
/// A count in pieces.json above this is a typing error, not a set of parts.
constexpr std::size_t mostPlacements = 100'000;

Result<json> readJson(const fs::path& file)
{
    std::error_code error;
    if (!fs::is_regular_file(file, error))
        return Problem{Reason::FileMissing, "the export lacks this file", file.string(), {}, "Export it again."};
    std::ifstream in(file);
    if (!in)
        return Problem{Reason::FileUnreadable, "the file can't be opened", file.string(), {}, {}};
    try {
        return json::parse(in);
    } catch (const json::exception& e) {
        return Problem{
            Reason::FileMalformed, fmt::format("not JSON: {}", e.what()), file.string(), {}, "Export it again."};
    }
}

Problem malformed(const fs::path& file, const std::string& what)
{
    return {Reason::FileMalformed, "the list is damaged: " + what, file.string(), {}, "Export it again."};
}

/// Only names that stay in the folder.
bool staysInside(const std::string& name)
{
    const fs::path path(name);
    if (name.empty() || path.is_absolute())
        return false;
    for (const fs::path& step : path)
        if (step == "..")
            return false;
    return true;
}

constexpr std::array<std::string_view, 5> partKinds{"piece", "dowel", "key", "stud", "clocking key"};

PartFile partFrom(const json& j)
{
    PartFile part;
    part.number = j.at("number");
    part.kind = j.at("kind");
    part.file = j.at("file");
    part.count = j.at("count");
    part.volumeMm3 = j.at("volume_mm3");
    part.areaMm2 = j.at("area_mm2");
    const auto extents = j.at("extents_mm").get<std::array<double, 3>>();
    part.extentsMm = {extents[0], extents[1], extents[2]};
    part.bed = j.at("bed");
    part.standsFlat = j.at("stands_flat");
    for (const json& placement : j.at("placements")) {
        if (!placement.is_array() || placement.size() != 16)
            throw json::other_error::create(505, part.file + " has a placement that is not 16 numbers", nullptr);
        part.placements.push_back({placement.get<std::array<double, 16>>()});
    }
    if (part.placements.empty() || part.placements.size() > mostPlacements)
        throw json::other_error::create(505, part.file + " has no placement, or too many", nullptr);
    if (part.placements.front().m != j.at("assembled_from_print").get<std::array<double, 16>>())
        throw json::other_error::create(505, part.file + " has two different places", nullptr);
    if (std::ranges::find(partKinds, part.kind) == partKinds.end())
        throw json::other_error::create(505, "unknown kind \"" + part.kind + "\"", nullptr);
    if (!staysInside(part.file))
        throw json::other_error::create(505, "a file name leads out of the folder", nullptr);
    return part;
}

Result<std::vector<PartFile>> readList(const fs::path& file)
{
    const auto list = readJson(file);
    if (!list)
        return list.problem();
    std::vector<PartFile> parts;
    try {
        for (const json& j : list->at("pieces"))
            parts.push_back(partFrom(j));
    } catch (const json::exception& e) {
        return malformed(file, e.what());
    }
    return parts;
}

void readMesh(const fs::path& folder, PartFile& part)
{
    auto model = mesh::readModel(folder / part.file);
    if (!model) {
        part.unreadable = model.problem();
        return;
    }
    part.mesh = std::move(model->mesh);
    part.droppedTriangles = model->droppedTriangles;
}

/// Which file is which piece; a Problem when the list and the project don't speak of the same pieces.
Status assignPieces(Evidence& evidence, const fs::path& list)
{
    evidence.fileOf.assign(evidence.project.pieces.size(), Evidence::noFile);
    for (std::size_t i = 0; i < evidence.parts.size(); ++i) {
        const PartFile& part = evidence.parts[i];
        if (part.kind != "piece")
            continue;
        if (part.number < 1 || part.number > static_cast<int>(evidence.fileOf.size()))
            return malformed(list, fmt::format("the project has no piece {}", part.number));
        std::size_t& place = evidence.fileOf[static_cast<std::size_t>(part.number) - 1];
        if (place != Evidence::noFile)
            return malformed(list, fmt::format("piece {} is listed twice", part.number));
        place = i;
    }
    return Done{};
}

} // namespace

std::string Evidence::nameOf(int piece) const
{
    const std::size_t place = fileOf[static_cast<std::size_t>(piece) - 1];
    return place == noFile ? fmt::format("piece {}", piece) : parts[place].file;
}

Result<Evidence> readEvidence(const fs::path& folder, const Context& context)
{
    Evidence evidence;
    const fs::path projectFile = folder / "project.quoin.json", list = folder / "pieces.json";
    const auto document = readJson(projectFile);
    if (!document)
        return document.problem();
    auto project = projectFromJson(*document, projectFile.string());
    if (!project)
        return project.problem();
    evidence.project = std::move(*project);
    auto part = mesh::readModel(folder / "part.ply", {}, context);
    if (!part)
        return part.problem();
    evidence.project.part.mesh = std::make_shared<const mesh::Mesh>(std::move(part->mesh));
    auto parts = readList(list);
    if (!parts)
        return parts.problem();
    evidence.parts = std::move(*parts);
    if (const Status s = assignPieces(evidence, list); !s)
        return s.problem();
    forEachIndex(evidence.parts.size(), [&](std::size_t i) {
        if (!context.cancelled())
            readMesh(folder, evidence.parts[i]);
    });
    evidence.assembled.resize(evidence.project.pieces.size());
    forEachIndex(evidence.assembled.size(), [&](std::size_t i) {
        if (evidence.fileOf[i] != Evidence::noFile) {
            const PartFile& file = evidence.parts[evidence.fileOf[i]];
            evidence.assembled[i] = mesh::transformed(file.mesh, file.placements.front());
        }
    });
    for (const Piece& piece : evidence.project.pieces)
        evidence.features.emplace_back(evidence.project, piece.number);
    return evidence;
}

Claim claim(std::string id, std::string subject, std::string text, double measured, std::string relation, double limit,
            std::string unit)
{
    const bool holds = std::isfinite(measured) && std::isfinite(limit) &&
                       (relation == "<="   ? measured <= limit
                        : relation == ">=" ? measured >= limit
                        : relation == ">"  ? measured > limit
                                           : measured == limit);
    return {std::move(id), std::move(subject), std::move(text), measured, std::move(relation), limit, std::move(unit),
            holds};
}

double fileRoundingMm(const mesh::Mesh& inPrintPose)
{
    return fileRoundingSteps * mesh::FloatGrid::of(mesh::bounds(inPrintPose)).largestStep();
}

} // namespace quoin::core
