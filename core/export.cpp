// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/export.h"

#include "core/joint_layout.h"
#include "core/jointed_pieces.h"
#include "core/parts_list.h"
#include "core/project_assembly.h"
#include "core/project_file.h"
#include "core/strength_json.h"
#include "mesh/atomic_file.h"
#include "mesh/write_model.h"

#include <fmt/format.h>

#include <array>
#include <cstdlib>
#include <fstream>
#include <set>

namespace quoin::core {

namespace fs = std::filesystem;

namespace {

/// What an export writes at the top of its folder.
constexpr std::array<const char*, 12> ownEntries{"pieces",     "pieces.3mf",         "pieces.csv",    "pieces.json",
                                                 "proof.json", "proof.html",         "assembled.png", "exploded.png",
                                                 "part.ply",   "project.quoin.json", "strength.json", "estimate.json"};

Problem cannotWrite(const fs::path& path, const std::error_code& error)
{
    return {Reason::FileUnwritable,
            "can't write here: " + error.message(),
            path.string(),
            {},
            "Choose another folder (--out) or free some room."};
}

/// A folder beside the wanted one, gone again unless kept.
class Workbench {
public:
    static Result<Workbench> beside(const fs::path& folder)
    {
        std::error_code error;
        const fs::path parent = fs::absolute(folder).lexically_normal().parent_path();
        fs::create_directories(parent, error);
        std::string pattern = (parent / ("." + folder.filename().string() + ".quoin-XXXXXX")).string();
        if (error || mkdtemp(pattern.data()) == nullptr)
            return cannotWrite(parent, error ? error : std::error_code(errno, std::generic_category()));
        fs::permissions(pattern,
                        fs::perms::owner_all | fs::perms::group_read | fs::perms::group_exec | fs::perms::others_read |
                            fs::perms::others_exec,
                        error);
        Workbench bench;
        bench.m_path = pattern;
        return bench;
    }
    Workbench(Workbench&& other) noexcept : m_path(std::exchange(other.m_path, {})) {}
    Workbench& operator=(Workbench&&) = delete;
    ~Workbench()
    {
        std::error_code ignored;
        if (!m_path.empty())
            fs::remove_all(m_path, ignored);
    }
    const fs::path& path() const { return m_path; }
    void keep() { m_path.clear(); }

private:
    Workbench() = default;
    fs::path m_path;
};

/// Reads a document no further than to the kind that it says it is; projects are long.
class KindReader : public nlohmann::json_sax<nlohmann::json> {
public:
    std::string kind;

    bool key(std::string& name) override
    {
        m_next = m_depth == 1 && name == "kind";
        return true;
    }
    bool string(std::string& value) override
    {
        if (m_next)
            kind = value;
        return !std::exchange(m_next, false);
    }
    bool start_object(std::size_t) override { return ++m_depth > 0; }
    bool end_object() override { return --m_depth >= 0; }
    bool start_array(std::size_t) override { return ++m_depth > 1; } // a list at the top is no project
    bool end_array() override { return --m_depth >= 0; }
    bool null() override { return !m_next; }
    bool boolean(bool) override { return !m_next; }
    bool number_integer(number_integer_t) override { return !m_next; }
    bool number_unsigned(number_unsigned_t) override { return !m_next; }
    bool number_float(number_float_t, const string_t&) override { return !m_next; }
    bool binary(binary_t&) override { return false; }
    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception&) override { return false; }

private:
    int m_depth = 0;
    bool m_next = false;
};

/// Whether the folder is what an export left: its project says so itself. A design or anything else of that name is
/// the user's.
bool isExport(const fs::path& folder)
{
    const fs::path file = folder / "project.quoin.json";
    std::error_code error;
    if (!fs::is_regular_file(file, error))
        return false;
    std::ifstream in(file);
    KindReader reader;
    nlohmann::json::sax_parse(in, &reader);
    return reader.kind == "quoin project";
}

/// Piece files that the export standing in `folder` says it wrote.
std::set<std::string> listedFiles(const fs::path& folder)
{
    std::set<std::string> files;
    std::ifstream in(folder / "pieces.json");
    const nlohmann::json list = nlohmann::json::parse(in, nullptr, false);
    if (list.is_object() && list.contains("pieces") && list["pieces"].is_array())
        for (const auto& p : list["pieces"])
            if (p.is_object() && p.contains("file") && p["file"].is_string())
                files.insert(p["file"].get<std::string>());
    return files;
}

/// Whatever the user put beside an earlier export moves into the new one.
Status carryOver(const fs::path& from, const fs::path& to)
{
    const std::set<std::string> written = listedFiles(from);
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(from, error)) {
        const std::string name = entry.path().filename().string();
        if (std::find(ownEntries.begin(), ownEntries.end(), name) == ownEntries.end())
            fs::rename(entry.path(), to / name, error);
        if (error)
            return cannotWrite(entry.path(), error);
    }
    for (const auto& entry : fs::directory_iterator(from / "pieces", error)) {
        const std::string name = "pieces/" + entry.path().filename().string();
        if (written.count(name) == 0 && !fs::exists(to / name))
            fs::rename(entry.path(), to / name, error);
        if (error)
            return cannotWrite(entry.path(), error);
    }
    return Done{};
}

Status putInPlace(Workbench& bench, const fs::path& folder)
{
    std::error_code error;
    if (fs::exists(folder, error) && !fs::is_empty(folder, error)) {
        if (const Status s = carryOver(folder, bench.path()); !s)
            return s;
        const fs::path old = bench.path().string() + "-old";
        fs::rename(folder, old, error);
        if (error)
            return cannotWrite(folder, error);
        fs::rename(bench.path(), folder, error);
        if (error) {
            std::error_code ignored;
            fs::rename(old, folder, ignored);
            return cannotWrite(folder, error);
        }
        bench.keep();
        fs::remove_all(old, error);
        return Done{};
    }
    fs::remove(folder, error); // an empty folder, or nothing
    fs::rename(bench.path(), folder, error);
    if (error)
        return cannotWrite(folder, error);
    bench.keep();
    return Done{};
}

/// All parts side by side in one 3MF, in the positive octant, in their print poses.
Status writeSet(const fs::path& file, const std::vector<ListedPart>& parts)
{
    constexpr double gapMm = 10;
    std::vector<mesh::NamedMesh> objects;
    double x = gapMm;
    for (const ListedPart& p : parts) {
        const mesh::Box3 box = mesh::bounds(p.mesh);
        objects.push_back({fmt::format("{:02} {}", p.number, p.name), &p.mesh,
                           mesh::Transform::translation({x - box.min.x, gapMm - box.min.y, -box.min.z})});
        x += box.extents().x + gapMm;
    }
    return mesh::write3mf(file, objects);
}

Status writeFiles(const Project& project, const std::vector<ListedPart>& parts, const ProjectEstimate& estimate,
                  const fs::path& folder, const Context& context)
{
    std::error_code error;
    fs::create_directory(folder / "pieces", error);
    if (error)
        return cannotWrite(folder / "pieces", error);
    for (const ListedPart& p : parts) {
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled while writing", {}, {}, {}};
        if (const Status s = mesh::writeStl(folder / p.file, p.mesh); !s)
            return s;
    }
    const std::array<Status, 6> written{
        writeSet(folder / "pieces.3mf", parts),
        mesh::writePly(folder / "part.ply", *project.part.mesh),
        mesh::writeAtomically(folder / "pieces.json", partsJson(project, parts, &estimate).dump(1) + "\n"),
        mesh::writeAtomically(folder / "pieces.csv", partsCsv(project, parts, &estimate)),
        mesh::writeAtomically(folder / "estimate.json", toJson(estimate).dump(1) + "\n"),
        mesh::writeAtomically(folder / "project.quoin.json", toJson(project).dump(1) + "\n"),
    };
    for (const Status& s : written)
        if (!s)
            return s;
    return Done{};
}

/// Weight, time and cost of what will be written. A recipe or a material that isn't known stops no export: the notes
/// say so.
/// @param parts  handed back as they are: meshes are not copied
Result<ProjectEstimate> estimateOf(const Project& project, std::vector<ListedPart>& parts, const PrintSetup& setup,
                                   const Context& context)
{
    std::vector<PartToPrint> one(1);
    one[0].name = project.part.name;
    one[0].material = project.part.material;
    one[0].list = std::move(parts);
    auto estimate = estimateParts(one, setup, context, 0.8, 0.84);
    parts = std::move(one[0].list);
    if (estimate || estimate.problem().reason == Reason::Cancelled)
        return estimate;
    ProjectEstimate none;
    none.notes.push_back({Note::Severity::Warning, "not estimated: " + estimate.problem().sentence(), {}});
    return none;
}

Problem proofFailed(const Proof& proof, const fs::path& folder)
{
    std::string what = "the proof failed, nothing was written:";
    int named = 0;
    for (const Claim& c : proof.claims)
        if (!c.holds && named++ < 5)
            what += fmt::format("\n  {}: {} (measured {:.6g} {}, wanted {} {:.6g})", c.subject, c.text, c.measured,
                                c.unit, c.relation, c.limit);
    if (named > 5)
        what += fmt::format("\n  and {} more", named - 5);
    return {Reason::ProofFailed,
            what,
            folder.string(),
            {},
            "Move a cut or change the joints; --even-if-unproved writes the folder all the same, and says so in it"};
}

} // namespace

Status mayExport(const fs::path& folder, bool force)
{
    std::error_code error;
    if (!fs::exists(folder, error))
        return Done{};
    if (!fs::is_directory(folder, error))
        return Problem{Reason::FileExists,
                       "a file of this name is in the way",
                       folder.string(),
                       {},
                       "Choose another folder (--out)."};
    if (fs::is_empty(folder, error))
        return Done{};
    if (!force)
        return Problem{Reason::FileExists,
                       "the folder is not empty",
                       folder.string(),
                       {},
                       "Choose another folder, or have the earlier export in it replaced (--force)."};
    if (!isExport(folder))
        return Problem{Reason::FileExists,
                       "the folder holds something other than an earlier export",
                       folder.string(),
                       {},
                       "Choose another folder; only earlier exports are replaced."};
    return Done{};
}

Result<Exported> exportProject(const Project& design, const fs::path& folder, const ExportOptions& options,
                               const Context& context)
{
    if (const Status s = mayExport(folder, options.force); !s)
        return s.problem();
    Project project = design;
    context.report(0.75, "sinking joints");
    auto jointed = jointedPieces(project.pieces, project.seams, project.plan, project.layout, context);
    if (!jointed)
        return jointed.problem();
    context.report(0.78, "finding the order of assembly");
    project.assembly = planAssembly(assemblyInput(project, *jointed), context);
    if (context.cancelled())
        return Problem{Reason::Cancelled, "cancelled", {}, {}, {}};
    context.report(0.8, "making files");
    auto parts = partsList(project, *jointed);
    if (!parts)
        return parts.problem();
    auto bench = Workbench::beside(folder);
    if (!bench)
        return bench.problem();
    auto estimate = estimateOf(project, *parts, options.printing, context);
    if (!estimate)
        return estimate.problem();
    if (const Status s = writeFiles(project, *parts, *estimate, bench->path(), context); !s)
        return s.problem();
    if (options.draw) {
        context.report(0.85, "drawing");
        if (const Status s = options.draw(bench->path(), project, *jointed); !s)
            return s.problem();
    }
    context.report(0.9, "proving");
    auto proof = prove(bench->path(), context);
    if (!proof)
        return proof.problem();
    if (!proof->holds() && !options.evenIfProofFails)
        return proofFailed(*proof, folder);
    const nlohmann::json list = partsJson(project, *parts, &*estimate);
    for (const Status& s :
         {mesh::writeAtomically(bench->path() / "proof.json", toJson(*proof).dump(1) + "\n"),
          mesh::writeAtomically(bench->path() / "strength.json", toJson(proof->strength).dump(1) + "\n"),
          mesh::writeAtomically(bench->path() / "proof.html", toHtml(*proof, list, project.part.name))})
        if (!s)
            return s.problem();
    if (const Status s = putInPlace(*bench, folder); !s)
        return s.problem();
    context.report(1, "done");
    return Exported{folder, std::move(*proof), parts->size(), std::move(*estimate)};
}

} // namespace quoin::core
