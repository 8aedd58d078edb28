// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plate_source.h"

#include "core/coupon_file.h"
#include "core/material.h"
#include "core/nest_outline.h"
#include "core/plate_source_parts.h"
#include "mesh/mass.h"
#include "mesh/model_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace quoin::core {

namespace fs = std::filesystem;

namespace {

constexpr double outlineMm = 0.05; ///< by which outlines are rounded up
constexpr double wallMm = 1.6, infillShare = 0.15, gramsPerHour = 45, roughly = 1.0 / 3;
constexpr double roughStartHours = 0.15;
constexpr int mostCopies = 10'000;

class Maker {
public:
    Maker(const PlateSourceOptions& options, const Context& context) : m_options(options), m_context(context) {}

    Status add(const PartLines& part, double from, double to)
    {
        const std::size_t first = m_job.pieces.size();
        const std::set<std::size_t> pair = m_options.testPair ? testPairOf(part) : std::set<std::size_t>{};
        for (std::size_t i = 0; i < part.lines.size(); ++i) {
            const double share = (to - from) / static_cast<double>(part.lines.size());
            const double at = from + share * static_cast<double>(i);
            m_context.report(at, "estimating");
            if (m_context.cancelled())
                return Problem{Reason::Cancelled, "reading the pieces was cancelled", {}, {}, {}};
            if (const Status s = addLine(part, part.lines[i], at, at + share); !s)
                return s;
        }
        if (!pair.empty())
            m_pairs.push_back({first, m_job.pieces.size(), pairIds(part, pair)});
        return Done{};
    }

    Status addCoupon(const fs::path& folder)
    {
        const auto sheet = readCouponSheet(folder);
        if (!sheet)
            return sheet.problem();
        const fs::path dir = fs::is_directory(folder) ? folder : folder.parent_path();
        std::vector<fs::path> files;
        std::error_code error;
        for (const auto& entry : fs::directory_iterator(dir, error))
            if (entry.path().extension() == ".stl")
                files.push_back(entry.path());
        std::sort(files.begin(), files.end());
        PartLines part{"coupon", 1, {}, {}};
        for (const fs::path& file : files) {
            auto model = mesh::readModel(file, {}, m_context);
            if (!model)
                return model.problem();
            PlateLine line;
            line.part = "coupon";
            line.material = sheet->material;
            line.kind = "coupon";
            line.name = "coupon " + file.stem().string();
            line.file = file.string();
            line.number = static_cast<int>(part.lines.size()) + 1;
            line.mesh = std::move(model->mesh);
            part.lines.push_back(std::move(line));
        }
        const std::size_t first = m_job.pieces.size();
        if (const Status s = add(part, 0.95, 1); !s)
            return s;
        for (std::size_t i = first; i < m_job.pieces.size(); ++i)
            m_job.pieces[i].testFit = true;
        return Done{};
    }

    Result<PlateJob> finished()
    {
        // One pair is enough for each material and recipe: the one that takes the fewest hours.
        std::map<std::pair<std::string, std::string>, std::pair<double, const Pair*>> best;
        for (const Pair& pair : m_pairs) {
            double hours = 0;
            const PlatePieceInfo* any = nullptr;
            for (std::size_t i = pair.from; i < pair.to; ++i)
                if (pair.ids.contains(m_job.pieces[i].id)) {
                    any = &m_job.pieces[i];
                    hours += any->figures.hours;
                }
            if (any == nullptr)
                continue;
            auto& there = best[{any->material, any->figures.recipe}];
            if (there.second == nullptr || hours < there.first)
                there = {hours, &pair};
        }
        for (const auto& [key, pair] : best)
            for (std::size_t i = pair.second->from; i < pair.second->to; ++i)
                if (pair.second->ids.contains(m_job.pieces[i].id))
                    m_job.pieces[i].testFit = true;
        for (const std::string& wish : m_options.first) {
            bool found = false;
            for (PlatePieceInfo& p : m_job.pieces)
                if (p.id == wish || p.name == wish)
                    p.first = found = true;
            if (!found)
                return Problem{Reason::BadArgument,
                               fmt::format("there is no piece \"{}\" to be printed first", wish),
                               {},
                               {},
                               "The list of pieces shows their names."};
        }
        if (m_job.pieces.empty())
            return Problem{Reason::BadArgument, "there is nothing to print", {}, {}, "Give an export with pieces."};
        return std::move(m_job);
    }

private:
    struct Pair {
        std::size_t from, to;
        std::set<std::string> ids;
    };

    static std::string idOf(const std::string& part, int number, int copy)
    {
        return copy == 1 ? fmt::format("{}/{}", part, number) : fmt::format("{}/{}#{}", part, number, copy);
    }

    /// The two pieces that share a joint and are the least together, and the loose parts that both meet: indices.
    static std::set<std::size_t> testPairOf(const PartLines& part)
    {
        std::vector<double> volume;
        for (const PlateLine& l : part.lines)
            volume.push_back(mesh::volume(l.mesh));
        double least = 1e300;
        std::pair<std::size_t, std::size_t> best;
        const auto common = [](const PlateLine& a, const PlateLine& b) {
            return std::any_of(a.marks.begin(), a.marks.end(), [&](const auto& m) { return b.marks.contains(m); });
        };
        for (std::size_t i = 0; i < part.lines.size(); ++i)
            for (std::size_t j = i + 1; j < part.lines.size(); ++j)
                if (part.lines[i].kind == "piece" && part.lines[j].kind == "piece" &&
                    common(part.lines[i], part.lines[j]) && volume[i] + volume[j] < least) {
                    least = volume[i] + volume[j];
                    best = {i, j};
                }
        if (least == 1e300)
            return {};
        std::set<std::size_t> out{best.first, best.second};
        for (std::size_t k = 0; k < part.lines.size(); ++k) {
            const PlateLine& l = part.lines[k];
            const auto meets = [&](std::size_t i) {
                return std::find(l.neighbours.begin(), l.neighbours.end(), part.lines[i].number) != l.neighbours.end();
            };
            if (l.kind != "piece" && ((meets(best.first) && meets(best.second)) ||
                                      (common(l, part.lines[best.first]) && common(l, part.lines[best.second]))))
                out.insert(k);
        }
        return out;
    }

    /// Ids of the pair; of loose parts as many copies as the pair has joints in common, two at most.
    static std::set<std::string> pairIds(const PartLines& part, const std::set<std::size_t>& pair)
    {
        std::set<std::string> ids;
        for (const std::size_t i : pair) {
            const PlateLine& l = part.lines[i];
            for (int copy = 1; copy <= (l.kind == "piece" ? 1 : std::min(l.count, 2)); ++copy)
                ids.insert(idOf(part.name, l.number, copy));
        }
        return ids;
    }

    Status addLine(const PartLines& part, const PlateLine& line, double from, double to)
    {
        auto figures = m_options.figures
                           ? m_options.figures(line.mesh, line.material, m_context, from, to)
                           : Result<std::vector<PieceFigures>>(std::vector{roughFigures(line.mesh, line.material)});
        if (!figures) {
            Problem problem = figures.problem();
            problem.what = line.name + ": " + problem.what;
            if (problem.file.empty())
                problem.file = line.file;
            return problem;
        }
        PlatePieceInfo piece;
        piece.part = part.name;
        piece.file = line.file;
        piece.kind = line.kind;
        piece.material = line.material;
        piece.figures = figures->front();
        piece.others.assign(figures->begin() + 1, figures->end());
        piece.outline = m_job.outlines.size();
        piece.heightMm = mesh::bounds(line.mesh).extents().z;
        piece.standsFlat = line.standsFlat;
        piece.assembly = stepOf(part, line);
        m_job.outlines.push_back(roundedUp(shadowOf(line.mesh), outlineMm));
        for (int copy = 1; copy <= line.count * part.quantity; ++copy) {
            piece.id = idOf(part.name, line.number, copy);
            piece.name = line.count * part.quantity == 1 ? line.name : fmt::format("{} ({})", line.name, copy);
            m_job.pieces.push_back(piece);
        }
        return Done{};
    }

    /// The step of the assembly that needs a piece; a loose part is needed with the first piece that it meets.
    static int stepOf(const PartLines& part, const PlateLine& line)
    {
        if (line.kind == "piece") {
            const auto at = part.step.find(line.number);
            return at != part.step.end() ? at->second : 0;
        }
        int first = 0;
        for (const int n : line.neighbours)
            if (const auto at = part.step.find(n); at != part.step.end() && (first == 0 || at->second < first))
                first = at->second;
        return first;
    }

    const PlateSourceOptions& m_options;
    const Context& m_context;
    PlateJob m_job;
    std::vector<Pair> m_pairs;
};

Status setQuantity(PartLines& part, const std::map<std::string, int>& wanted, const std::map<std::string, int>& known)
{
    for (const auto* list : {&known, &wanted})
        if (const auto at = list->find(part.name); at != list->end())
            part.quantity = at->second;
    if (part.quantity < 1 || part.quantity > mostCopies)
        return Problem{Reason::BadArgument,
                       fmt::format("{} can't be made {} times", part.name, part.quantity),
                       {},
                       {},
                       "Give a number from 1 on."};
    return Done{};
}

} // namespace

PieceFigures roughFigures(const mesh::Mesh& mesh, const std::string& material)
{
    const Material* found = findMaterial(material);
    const double density = (found != nullptr ? found->densityGPerCm3 : 1.24) / 1000;
    const double volume = mesh::volume(mesh);
    const double walls = std::min(volume, mesh::area(mesh) * wallMm);
    PieceFigures f;
    f.recipe = "rough estimate";
    f.grams = density * (walls + infillShare * (volume - walls));
    f.hours = f.grams / gramsPerHour;
    f.lowGrams = f.grams * (1 - roughly);
    f.highGrams = f.grams * (1 + roughly);
    f.lowHours = f.hours * (1 - roughly);
    f.highHours = f.hours * (1 + roughly);
    f.startUpHours = roughStartHours;
    return f;
}

Result<PlateJob> plateJobOf(const fs::path& folder, const PlateSourceOptions& options, const Context& context)
{
    std::vector<fs::path> exports;
    std::error_code error;
    if (fs::exists(folder / "pieces.json", error)) {
        exports.push_back(folder);
    } else {
        for (const auto& entry : fs::directory_iterator(folder, error))
            if (fs::exists(entry.path() / "pieces.json", error))
                exports.push_back(entry.path());
        std::sort(exports.begin(), exports.end());
    }
    if (exports.empty())
        return Problem{Reason::FileMissing,
                       "there is no export here (no pieces.json)",
                       folder.string(),
                       {},
                       "Give the folder of an export, or one that holds exports."};
    const auto known = demoQuantities(folder);
    std::set<std::string> names;
    Maker maker(options, context);
    for (std::size_t i = 0; i < exports.size(); ++i) {
        context.report(static_cast<double>(i) / static_cast<double>(exports.size()), "reading pieces");
        auto part = partInExport(exports[i], context);
        if (!part)
            return part.problem();
        if (!names.insert(part->name).second)
            part->name = exports[i].filename().string();
        if (const Status s = setQuantity(*part, options.quantities, known); !s)
            return s.problem();
        const double share = 0.95 / static_cast<double>(exports.size());
        if (const Status s = maker.add(*part, share * static_cast<double>(i), share * static_cast<double>(i + 1)); !s)
            return s.problem();
    }
    for (const auto& [part, n] : options.quantities)
        if (!names.contains(part))
            return Problem{Reason::BadArgument,
                           fmt::format("there is no part \"{}\"", part),
                           folder.string(),
                           {},
                           "Name one of the exported parts."};
    if (!options.coupon.empty())
        if (const Status s = maker.addCoupon(options.coupon); !s)
            return s.problem();
    return maker.finished();
}

Result<PlateJob> plateJobOf(const std::vector<ListedProject>& projects, const PlateSourceOptions& options,
                            const Context& context)
{
    Maker maker(options, context);
    for (std::size_t i = 0; i < projects.size(); ++i) {
        const Project& project = *projects[i].project;
        PartLines part;
        part.name = project.part.name;
        part.quantity = projects[i].quantity;
        int step = 0;
        for (const AssemblyStep& s : project.assembly.steps) {
            ++step;
            for (const auto* side : {&s.onto, &s.moving})
                for (const int n : *side)
                    part.step.emplace(n, step);
        }
        for (const ListedPart& p : *projects[i].parts) {
            PlateLine line{part.name, project.part.material, p.kind,       p.name, p.file, p.number,
                           p.count,   p.standsFlat,          p.neighbours, {},     p.mesh};
            for (const std::size_t j : p.joints)
                line.marks.insert(project.seams[project.layout.joints[j].seam].mark);
            part.lines.push_back(std::move(line));
        }
        if (const Status s = setQuantity(part, options.quantities, {}); !s)
            return s.problem();
        const double share = 1.0 / static_cast<double>(projects.size());
        if (const Status s = maker.add(part, share * static_cast<double>(i), share * static_cast<double>(i + 1)); !s)
            return s.problem();
    }
    if (!options.coupon.empty())
        if (const Status s = maker.addCoupon(options.coupon); !s)
            return s.problem();
    return maker.finished();
}

} // namespace quoin::core
