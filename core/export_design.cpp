// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/export_design.h"

#include "core/parts_list.h"
#include "mesh/place.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace quoin::core {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t mostNamed = 4;

/// "piece 3 by 12.4 mm, piece 5 by 3.0 mm and 2 more", of those that stick out.
std::string stickingOut(const Project& project)
{
    std::string words;
    std::size_t count = 0;
    for (const Piece& piece : project.pieces)
        if (piece.pose.slackMm < 0 && count++ < mostNamed)
            words +=
                fmt::format("{}piece {} by {:.1f} mm", words.empty() ? "" : ", ", piece.number, -piece.pose.slackMm);
    if (count > mostNamed)
        words += fmt::format(" and {} more", count - mostNamed);
    return words;
}

Result<std::vector<const PartDesign*>> chosen(const Design& design, const std::vector<int>& ids)
{
    std::vector<const PartDesign*> parts;
    if (ids.empty())
        for (const PartDesign& part : design.parts)
            parts.push_back(&part);
    for (const int id : ids)
        if (const PartDesign* part = design.part(id))
            parts.push_back(part);
        else
            return Problem{Reason::BadArgument, fmt::format("the design has no part of number {}", id), {}, {}, {}};
    if (parts.empty())
        return Problem{Reason::BadArgument, "the design has no part to export", {}, {}, "Open a model first."};
    return parts;
}

void tellPart(const DesignExportOptions& options, std::size_t index, const std::vector<const PartDesign*>& parts)
{
    if (options.onPart)
        options.onPart(index, parts.size(), parts[index]->name);
}

/// Every part worked out to the end; a problem that names everything in the way.
Result<std::vector<RealisedPtr>> realiseAll(const Design& design, const std::vector<const PartDesign*>& parts,
                                            const DesignExportOptions& options, const Context& context)
{
    std::vector<RealisedPtr> all;
    std::string whyNot;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const PartDesign& part = *parts[i];
        const auto known = options.known.find(part.id);
        tellPart(options, i, parts);
        auto realised =
            realise(design, part, known == options.known.end() ? RealisedPtr{} : known->second, {}, context);
        if (!realised) {
            Problem problem = realised.problem();
            problem.what = fmt::format("part \"{}\": {}", part.name, problem.what);
            return problem;
        }
        all.push_back(std::move(*realised));
        if (const PartReadiness r = readiness(part, all.back()); !r.ready())
            whyNot += fmt::format("{}part \"{}\": {}", whyNot.empty() ? "" : "; ", part.name, r.whyNot);
    }
    if (!whyNot.empty())
        return Problem{Reason::DoesNotFit,
                       whyNot,
                       {},
                       {},
                       "Cut further, give a larger bed, a smaller margin or scale, or allow any rotation."};
    return all;
}

std::string afterOthers(const std::string& what, const std::string& part, const std::vector<ExportedPart>& done)
{
    std::string text = fmt::format("part \"{}\": {}", part, what);
    if (!done.empty())
        text += fmt::format(" ({} before it {} written)", mesh::counted(done.size(), "part"),
                            done.size() == 1 ? "was" : "were");
    return text;
}

} // namespace

PartReadiness readiness(const PartDesign& part, const RealisedPtr& realised)
{
    PartReadiness r;
    r.part = part.id;
    r.name = part.name;
    if (!realised) {
        r.whyNot = "its pieces are not worked out yet";
        return r;
    }
    const Project& project = realised->project;
    r.pieces = project.pieces.size();
    r.seams = project.seams.size();
    r.joints = project.layout.joints.size();
    r.plainSeams = static_cast<std::size_t>(std::count_if(project.layout.reports.begin(), project.layout.reports.end(),
                                                          [](const SeamReport& s) { return s.butt; }));
    r.fits = realised->fitsBeds();
    if (r.pieces == 0)
        r.whyNot = "nothing is left to print after the cuts";
    else if (realised->stage == Realised::Stage::Cut)
        r.whyNot = "its pieces are still being tried on the beds";
    else if (!r.fits)
        r.whyNot = "sticking out of every bed: " + stickingOut(project);
    else if (realised->stage != Realised::Stage::Jointed)
        r.whyNot = "its joints are still being laid out";
    return r;
}

std::vector<fs::path> exportFolders(const Design& design, const std::vector<int>& parts, const fs::path& folder)
{
    const auto wanted = chosen(design, parts);
    if (!wanted)
        return {};
    if (wanted->size() == 1)
        return {folder};
    std::vector<fs::path> folders;
    std::set<std::string> taken;
    for (const PartDesign* part : *wanted) {
        const std::string base = fileNameFrom(part->name);
        std::string name = base;
        for (int n = 2; !taken.insert(name).second; ++n)
            name = fmt::format("{}-{}", base, n);
        folders.push_back(folder / name);
    }
    return folders;
}

Result<std::vector<ExportedPart>> exportDesign(const Design& design, const fs::path& folder,
                                               const DesignExportOptions& options, const Context& context)
{
    const auto parts = chosen(design, options.parts);
    if (!parts)
        return parts.problem();
    const std::vector<fs::path> folders = exportFolders(design, options.parts, folder);
    for (const fs::path& each : folders)
        if (const Status s = mayExport(each, options.each.force); !s)
            return s.problem();
    const auto realised = realiseAll(design, *parts, options, context);
    if (!realised)
        return realised.problem();
    std::vector<ExportedPart> done;
    for (std::size_t i = 0; i < parts->size(); ++i) {
        const PartDesign& part = *(*parts)[i];
        tellPart(options, i, *parts);
        ExportOptions each = options.each;
        if (each.printing.machine.empty())
            each.printing.machine = part.machine;
        auto exported = exportProject((*realised)[i]->project, folders[i], each, context);
        if (!exported) {
            Problem problem = exported.problem();
            problem.what = afterOthers(problem.what, part.name, done);
            return problem;
        }
        done.push_back({part.id, part.name, part.quantity, (*realised)[i], std::move(*exported)});
    }
    return done;
}

} // namespace quoin::core
