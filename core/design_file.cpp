// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/design_file.h"

#include "core/design_json.h"
#include "core/export_reopen.h"
#include "core/json_place.h"
#include "mesh/atomic_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

namespace quoin::core {

namespace fs = std::filesystem;
using nlohmann::json;

namespace {

constexpr std::string_view designSuffix = ".quoin.json", meshFolderSuffix = ".quoin-meshes";
constexpr std::string_view exportName = "project.quoin.json";
constexpr std::uint64_t mostDocumentBytes = std::uint64_t{1} << 28;

Problem cancelled()
{
    return {Reason::Cancelled, "cancelled", {}, {}, {}};
}

Status checkName(const fs::path& file)
{
    const std::string name = file.filename().string();
    if (!name.ends_with(designSuffix) || name.size() == designSuffix.size())
        return Problem{Reason::BadArgument,
                       fmt::format("the name of a design ends in {}", designSuffix),
                       file.string(),
                       {},
                       "Choose another name."};
    if (name == exportName)
        return Problem{Reason::BadArgument,
                       "this name belongs to the project of an export",
                       file.string(),
                       {},
                       "Choose another name."};
    return Done{};
}

/// The design that stands at a name, none when nothing does. FileExists when something else is there.
Result<DesignDocument> standing(const fs::path& file)
{
    std::error_code error;
    if (!fs::exists(fs::symlink_status(file, error)))
        return DesignDocument{};
    auto document = jsonInFile(file, mostDocumentBytes);
    auto design = document ? designFromJson(*document, file.string()) : Result<DesignDocument>(document.problem());
    if (design)
        return design;
    return Problem{Reason::FileExists,
                   "what has this name already is not a design that this program can read (" + design.problem().what +
                       ")",
                   file.string(), design.problem().place, "Choose another name, or move that file away."};
}

/// Whether any design in the folder names a mesh. One that can't be read may.
bool usedBeside(const fs::path& folder, const std::string& sha256)
{
    std::error_code error;
    for (auto entry = fs::directory_iterator(folder, error); !error && entry != fs::directory_iterator();
         entry.increment(error)) {
        if (entry->path().filename().string().find(designSuffix) == std::string::npos)
            continue;
        std::ifstream in(entry->path(), std::ios::binary);
        const std::string content{std::istreambuf_iterator<char>(in), {}};
        if (content.empty() || content.find(sha256) != std::string::npos)
            return true;
    }
    return static_cast<bool>(error);
}

/// Removes what only the earlier design of this very name used, from its own folder of meshes and from nowhere else.
void removeUnused(const fs::path& folder, const std::string& own, const DesignDocument& before,
                  const DesignDocument& now)
{
    std::set<std::string> kept;
    for (const MeshReference& m : now.meshes)
        kept.insert(m.sha256);
    std::error_code ignored;
    for (const MeshReference& m : before.meshes)
        if (kept.insert(m.sha256).second && fs::path(m.file).parent_path() == own && !usedBeside(folder, m.sha256))
            fs::remove(folder / m.file, ignored);
}

/// Null when it can be read again as it is.
Status checkReadable(const json& document, const std::string& file)
{
    const auto again = designFromJson(document, file);
    if (again)
        return Done{};
    Problem problem = again.problem();
    problem.reason = Reason::BadArgument;
    problem.remedy = "Nothing was written. Take back the last change and save again.";
    return problem;
}

/// The mesh of one part, or of what was found instead of it.
Result<mesh::MeshPtr> meshOf(PartDesign& part, const MeshReference& reference, const fs::path& folder,
                             MeshKeeper& keeper, const OpenOptions& options, std::vector<Note>& notes,
                             const Context& context)
{
    auto mesh = keeper.load(folder / reference.file, reference.sha256, context);
    if (mesh && (*mesh)->triangles.size() != reference.triangles)
        return Problem{Reason::FileMalformed,
                       fmt::format("the mesh of part \"{}\" has {} triangles, the design speaks of {}", part.name,
                                   (*mesh)->triangles.size(), reference.triangles),
                       (folder / reference.file).string(),
                       {},
                       "Take an earlier copy of the design."};
    const auto instead = options.instead.find(part.id);
    if (mesh || instead == options.instead.end() || instead->second == nullptr) {
        if (mesh || mesh.problem().reason == Reason::Cancelled)
            return mesh;
        Problem problem = mesh.problem();
        problem.what = fmt::format("part \"{}\": {}", part.name, problem.what);
        return problem;
    }
    if (keeper.hashOf(instead->second) != reference.sha256) {
        notes.push_back({Note::Severity::Warning,
                         fmt::format("part \"{}\" has another mesh than the one that it was saved with{}", part.name,
                                     part.keepClear.empty() ? "" : "; regions kept clear of cuts are gone"),
                         {}});
        part.keepClear.clear();
    }
    return instead->second;
}

Status addMeshes(OpenedDesign& opened, const std::vector<MeshReference>& meshes, MeshKeeper& keeper,
                 const OpenOptions& options, const Context& context)
{
    const fs::path folder = opened.file.parent_path();
    for (std::size_t i = 0; i < meshes.size(); ++i) {
        context.report(static_cast<double>(i) / static_cast<double>(meshes.size()), "reading meshes");
        PartDesign& part = opened.design.parts[i];
        auto mesh = meshOf(part, meshes[i], folder, keeper, options, opened.notes, context);
        if (mesh)
            part.source = std::move(*mesh);
        else if (options.lostMeshes && mesh.problem().reason != Reason::Cancelled)
            opened.lost.push_back({part.id, part.name, part.sourceFile, part.sourceSha256, mesh.problem()});
        else
            return mesh.problem();
    }
    return Done{};
}

} // namespace

fs::path withDesignSuffix(const fs::path& file)
{
    std::string name = file.filename().string();
    if (name.empty() || name.ends_with(designSuffix))
        return file;
    if (name.ends_with(".json") && name.size() > 5)
        name.resize(name.size() - 5);
    return file.parent_path() / (name + std::string(designSuffix));
}

std::string designName(const fs::path& file)
{
    const std::string name = file.filename().string();
    return name.ends_with(designSuffix) ? name.substr(0, name.size() - designSuffix.size()) : name;
}

Status saveDesign(const Design& design, const fs::path& file, MeshKeeper& keeper, const Context& context)
{
    if (const Status s = checkName(file); !s)
        return s;
    const auto before = standing(file);
    if (!before)
        return before.problem();
    const std::string own = designName(file) + std::string(meshFolderSuffix);
    DesignDocument now{design, {}};
    for (const PartDesign& part : design.parts) {
        const std::string sha256 = keeper.hashOf(part.source);
        now.meshes.push_back({own + "/" + keptName(sha256), sha256, part.source->triangles.size()});
    }
    const json document = toJson(now);
    if (const Status s = checkReadable(document, file.string()); !s)
        return s;
    for (std::size_t i = 0; i < design.parts.size(); ++i) {
        if (context.cancelled())
            return cancelled();
        context.report(static_cast<double>(i) / static_cast<double>(design.parts.size()), "saving meshes");
        if (const auto kept = keeper.keep(design.parts[i].source, file.parent_path() / own); !kept)
            return kept.problem();
    }
    if (const Status s = mesh::writeAtomically(file, document.dump(1) + "\n"); !s)
        return s;
    removeUnused(fs::absolute(file).parent_path(), own, *before, now);
    context.report(1, "saved");
    return Done{};
}

Result<OpenedDesign> openDesign(const fs::path& file, MeshKeeper& keeper, const OpenOptions& options,
                                const Context& context)
{
    std::error_code error;
    const fs::path wanted = fs::is_directory(file, error) ? file / exportName : file;
    const auto document = jsonInFile(wanted, mostDocumentBytes);
    if (!document)
        return document.problem();
    if (isExportDocument(*document)) {
        auto reopened = designFromExport(*document, wanted, context);
        if (!reopened)
            return reopened.problem();
        return OpenedDesign{std::move(reopened->design), {}, std::move(reopened->notes), {}};
    }
    auto read = designFromJson(*document, wanted.string());
    if (!read)
        return read.problem();
    OpenedDesign opened{std::move(read->design), fs::absolute(wanted).lexically_normal(), {}, {}};
    if (const Status s = addMeshes(opened, read->meshes, keeper, options, context); !s)
        return s.problem();
    context.report(1, "read");
    return opened;
}

} // namespace quoin::core
