// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/parts_list.h"

#include "core/joint_json.h"
#include "core/joint_shape.h"
#include "core/print_totals.h"
#include "mesh/mass.h"
#include "mesh/print_ready.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <map>
#include <set>

namespace quoin::core {

namespace {

Result<mesh::Mesh> ready(const mesh::Mesh& assembled, const mesh::Transform& pose, const std::string& what)
{
    auto out = mesh::printReady(mesh::transformed(assembled, pose));
    if (!out) {
        Problem problem = out.problem();
        problem.what = what + ": " + problem.what;
        return problem;
    }
    return std::move(out->mesh);
}

Status addPieces(const Project& project, const std::vector<mesh::Mesh>& jointed, std::vector<ListedPart>& parts)
{
    for (std::size_t i = 0; i < project.pieces.size(); ++i) {
        const Piece& piece = project.pieces[i];
        ListedPart part;
        part.number = piece.number;
        part.kind = "piece";
        part.name = fmt::format("{} {}", project.part.name, piece.number);
        part.file = fmt::format("pieces/{:02}-{}.stl", piece.number, fileNameFrom(project.part.name));
        auto mesh = ready(jointed[i], piece.pose.printFromAssembled, fmt::format("piece {}", piece.number));
        if (!mesh)
            return mesh.problem();
        part.mesh = std::move(*mesh);
        part.bed = project.beds[piece.pose.bed].name;
        part.standsFlat = piece.pose.standsFlat;
        std::set<int> neighbours;
        for (const Seam& s : project.seams) {
            if (s.pieceBelow == piece.number)
                neighbours.insert(s.pieceAbove);
            if (s.pieceAbove == piece.number)
                neighbours.insert(s.pieceBelow);
        }
        part.neighbours.assign(neighbours.begin(), neighbours.end());
        for (std::size_t j = 0; j < project.layout.joints.size(); ++j) {
            const Seam& s = project.seams[project.layout.joints[j].seam];
            if (s.pieceBelow == piece.number || s.pieceAbove == piece.number)
                part.joints.push_back(j);
        }
        part.assembledFromPrint = {piece.pose.printFromAssembled.rigidInverse()};
        parts.push_back(std::move(part));
    }
    return Done{};
}

/// Loose parts of one kind and size, and where each copy belongs.
struct Alike {
    JointPart first;
    std::vector<mesh::Transform> places; ///< from the plate
    std::vector<std::size_t> joints;
};

Result<std::vector<Alike>> loosePartsOf(const Project& project)
{
    std::map<std::pair<std::string, std::string>, std::size_t> known;
    std::vector<Alike> all;
    for (std::size_t j = 0; j < project.layout.joints.size(); ++j) {
        const Joint& joint = project.layout.joints[j];
        const Seam& seam = project.seams[joint.seam];
        auto parts = printedParts(joint, project.plan.nodes[static_cast<std::size_t>(seam.cut)].plane);
        if (!parts)
            return parts.problem();
        for (JointPart& part : *parts) {
            const auto [place, fresh] = known.try_emplace({part.kind, part.name}, all.size());
            const mesh::Transform back = part.printPose.rigidInverse();
            if (fresh)
                all.push_back({std::move(part), {}, {}});
            all[place->second].places.push_back(back);
            all[place->second].joints.push_back(j);
        }
    }
    return all;
}

Status addLoose(const Project& project, std::vector<ListedPart>& parts)
{
    auto all = loosePartsOf(project);
    if (!all)
        return all.problem();
    std::ranges::sort(*all, [](const Alike& a, const Alike& b) {
        return std::pair(a.first.kind, mesh::volume(a.first.inPlace)) <
               std::pair(b.first.kind, mesh::volume(b.first.inPlace));
    });
    for (const Alike& alike : *all) {
        ListedPart part;
        part.number = static_cast<int>(parts.size()) + 1;
        part.kind = alike.first.kind;
        part.name = alike.first.name;
        part.file = fmt::format("pieces/{:02}-{}.stl", part.number, fileNameFrom(part.name));
        part.count = static_cast<int>(alike.joints.size());
        part.joints = alike.joints;
        part.assembledFromPrint = alike.places;
        auto mesh = ready(alike.first.inPlace, alike.first.printPose, part.name);
        if (!mesh)
            return mesh.problem();
        part.mesh = std::move(*mesh);
        std::set<int> neighbours;
        for (const std::size_t j : alike.joints) {
            const Seam& seam = project.seams[project.layout.joints[j].seam];
            neighbours.insert({seam.pieceBelow, seam.pieceAbove});
        }
        part.neighbours.assign(neighbours.begin(), neighbours.end());
        // Loose parts go on the smallest bed that holds them.
        const auto pose = fitOnBeds(part.mesh, project.beds, {project.marginMm, true});
        if (!pose)
            return Problem{Reason::DoesNotFit, fmt::format("the {} fits no bed", part.name), {}, {}, {}};
        part.bed = project.beds[pose->bed].name;
        parts.push_back(std::move(part));
    }
    return Done{};
}

/// What a joint is, for the list.
nlohmann::json listedJoint(const Project& project, std::size_t j)
{
    const Joint& joint = project.layout.joints[j];
    nlohmann::json out = jointFormJson(joint);
    out.erase("at_mm");
    out.erase("angle_rad");
    out["mark"] = project.seams[joint.seam].mark;
    if (joint.kind == Joint::Kind::Dowel || joint.kind == Joint::Kind::Stud ||
        (joint.kind == Joint::Kind::Key && !joint.integral))
        out["length_mm"] = 2 * joint.depthMm;
    return out;
}

std::string joinedNumbers(const std::vector<int>& numbers)
{
    std::string s;
    for (const int n : numbers)
        s += (s.empty() ? "" : " ") + std::to_string(n);
    return s;
}

/// What was estimated of a part; null when nothing was.
const PieceEstimate* estimateOf(const ProjectEstimate* estimate, int number)
{
    if (estimate != nullptr)
        for (const EstimatedPiece& p : estimate->pieces)
            if (p.number == number)
                return &p.each;
    return nullptr;
}

double densityOf(const Project& project)
{
    const Material* material = findMaterial(project.part.material);
    return material != nullptr ? material->densityGPerCm3 : 0;
}

} // namespace

std::string fileNameFrom(const std::string& name)
{
    std::string out;
    for (const char c : name) {
        if (std::isalnum(static_cast<unsigned char>(c)) != 0)
            out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        else if (!out.empty() && out.back() != '-')
            out += '-';
    }
    while (!out.empty() && out.back() == '-')
        out.pop_back();
    return out.empty() ? "part" : out.substr(0, 60);
}

Result<std::vector<ListedPart>> partsList(const Project& project, const std::vector<mesh::Mesh>& jointed)
{
    std::vector<ListedPart> parts;
    if (const Status s = addPieces(project, jointed, parts); !s)
        return s.problem();
    if (const Status s = addLoose(project, parts); !s)
        return s.problem();
    return parts;
}

std::vector<BoughtPart> boughtList(const Project& project)
{
    std::map<std::string, int> counts;
    for (const Joint& joint : project.layout.joints)
        for (const BoughtPart& item : boughtParts(joint))
            counts[item.name] += item.count;
    std::vector<BoughtPart> list;
    for (const auto& [name, count] : counts)
        list.push_back({name, count});
    return list;
}

nlohmann::json partsJson(const Project& project, const std::vector<ListedPart>& parts, const ProjectEstimate* estimate)
{
    nlohmann::json list = nlohmann::json::array();
    for (const ListedPart& p : parts) {
        const mesh::Vec3 e = mesh::bounds(p.mesh).extents();
        const double v = mesh::volume(p.mesh);
        nlohmann::json joints = nlohmann::json::array();
        for (const std::size_t j : p.joints)
            joints.push_back(listedJoint(project, j));
        nlohmann::json placements = nlohmann::json::array();
        for (const mesh::Transform& t : p.assembledFromPrint)
            placements.push_back(t.m);
        list.push_back({{"number", p.number},
                        {"kind", p.kind},
                        {"name", p.name},
                        {"file", p.file},
                        {"count", p.count},
                        {"volume_mm3", v},
                        {"area_mm2", mesh::area(p.mesh)},
                        {"solid_mass_g", v / 1000 * densityOf(project)},
                        {"extents_mm", {e.x, e.y, e.z}},
                        {"bed", p.bed},
                        {"stands_flat", p.standsFlat},
                        {"neighbours", p.neighbours},
                        {"joints", joints},
                        {"assembled_from_print", p.assembledFromPrint.front().m},
                        {"placements", placements}});
        if (const PieceEstimate* printed = estimateOf(estimate, p.number))
            list.back().update({{"printed_mass_g", printed->grams},
                                {"print_time_h", printed->hours},
                                {"print_cost", printed->money()}});
    }
    nlohmann::json bought = nlohmann::json::array();
    for (const BoughtPart& item : boughtList(project))
        bought.push_back({{"name", item.name}, {"count", item.count}});
    return {{"unit", "mm"},
            {"part", project.part.name},
            {"material", project.part.material},
            {"pieces", list},
            {"bought", bought}};
}

std::string partsCsv(const Project& project, const std::vector<ListedPart>& parts, const ProjectEstimate* estimate)
{
    std::string out = "number,kind,name,file,count,x_mm,y_mm,z_mm,volume_mm3,area_mm2,solid_mass_g,bed,neighbours,"
                      "joints,stands_flat,printed_mass_g,print_time_h,print_cost\r\n";
    const auto quoted = [](const std::string& s) {
        std::string q = "\"";
        for (const char c : s)
            q += c == '"' ? std::string("\"\"") : std::string(1, c);
        return q + "\"";
    };
    for (const ListedPart& p : parts) {
        const mesh::Vec3 e = mesh::bounds(p.mesh).extents();
        const double v = mesh::volume(p.mesh);
        const PieceEstimate* printed = estimateOf(estimate, p.number);
        out += fmt::format("{},{},{},{},{},{:.3f},{:.3f},{:.3f},{:.3f},{:.3f},{:.2f},{},{},{},{},{}\r\n", p.number,
                           p.kind, quoted(p.name), quoted(p.file), p.count, e.x, e.y, e.z, v, mesh::area(p.mesh),
                           v / 1000 * densityOf(project), quoted(p.bed), joinedNumbers(p.neighbours), p.joints.size(),
                           p.standsFlat ? "yes" : "no",
                           printed == nullptr
                               ? ",,"
                               : fmt::format("{:.2f},{:.4f},{:.2f}", printed->grams, printed->hours, printed->money()));
    }
    return out;
}

} // namespace quoin::core
