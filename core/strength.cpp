// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/strength.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

std::string listed(const std::vector<int>& numbers)
{
    std::string out;
    for (const int n : numbers)
        out += (out.empty() ? "" : ", ") + std::to_string(n);
    return out;
}

/// Seams of the same two pieces on the same cut, in the order of their first.
std::vector<JointCheck> facesOf(const Project& project)
{
    std::vector<JointCheck> faces;
    for (std::size_t i = 0; i < project.seams.size(); ++i) {
        const Seam& seam = project.seams[i];
        const auto same = std::find_if(faces.begin(), faces.end(), [&](const JointCheck& f) {
            const Seam& first = project.seams[f.seams.front()];
            return first.cut == seam.cut && first.pieceBelow == seam.pieceBelow && first.pieceAbove == seam.pieceAbove;
        });
        JointCheck& face = same == faces.end() ? faces.emplace_back() : *same;
        face.cut = seam.cut;
        face.seams.push_back(i);
        face.marks += (face.marks.empty() ? "" : ", ") + seam.mark;
    }
    return faces;
}

SeamSide sideOf(const Project& project, int number, const MaterialStrength& material, mesh::Vec3 normal)
{
    const auto piece = std::find_if(project.pieces.begin(), project.pieces.end(),
                                    [number](const Piece& p) { return p.number == number; });
    return {number, &material, piece != project.pieces.end() ? layerAngle(piece->pose, normal) : 0};
}

std::string wordsOf(const JointCheck& j, const LoadCase& load)
{
    const std::string where =
        fmt::format("Seam {} ({} {})", j.marks, j.hanging.hanging == 0 ? "on piece" : "piece",
                    j.hanging.hanging == 0 ? std::to_string(j.hanging.held)
                                           : fmt::format("{} on {}", j.hanging.hanging, j.hanging.held));
    if (j.hanging.hanging == 0)
        return where + ": both pieces are fixed, nothing hangs on it.";
    const SectionForces& f = j.forces;
    std::string words = fmt::format(
        "{}: {:.2f} kg hang on it ({} {}){}; {} {:.1f} N, shear {:.1f} N, bending "
        "{:.2f} N m, torsion {:.2f} N m.",
        where, j.hanging.massKg, j.hanging.pieces.size() == 1 ? "piece" : "pieces", listed(j.hanging.pieces),
        j.hanging.inLoop ? ", taken as if no other seam helped" : "", f.axialN < 0 ? "pressed by" : "pulled by",
        std::abs(f.axialN), length(f.shearN), length(f.bendingNmm) / 1000, std::abs(f.torsionNmm) / 1000);
    if (!std::isfinite(j.safety) || j.checks.empty())
        return words + " Nothing strains it.";
    words += fmt::format(" Weakest: {}, safety {:.2f}", j.checks[j.weakest].name, j.safety);
    words += j.low ? fmt::format(", below {:g}.", load.safetyLimit) : ".";
    return words + fmt::format(" Its joints bear {:.0f} % of the bending that the uncut section would.",
                               100 * j.bendingOfWhole);
}

void check(const Project& project, const LoadCase& load, const MaterialStrength& material, const HangingGraph& graph,
           JointCheck& j)
{
    const Seam& first = project.seams[j.seams.front()];
    const mesh::Plane& plane = project.plan.nodes.at(static_cast<std::size_t>(j.cut)).plane;
    const mesh::PlaneFrame frame = mesh::frameOf(plane);
    SeamLoad seam;
    for (const std::size_t i : j.seams) {
        seam.region.insert(seam.region.end(), project.seams[i].region.begin(), project.seams[i].region.end());
        const std::vector<JointMember> members = membersOf(project, i, load);
        seam.members.insert(seam.members.end(), members.begin(), members.end());
    }
    j.section = sectionProperties(seam.region);
    j.hanging = graph.between(first.pieceBelow, first.pieceAbove);
    j.safety = std::numeric_limits<double>::infinity();
    if (j.hanging.hanging == 0)
        return;
    seam.forces = sectionForces(frame, j.hanging.hanging == first.pieceAbove, j.section.centroid, j.hanging.loads);
    seam.below = sideOf(project, first.pieceBelow, material, plane.normal);
    seam.above = sideOf(project, first.pieceAbove, material, plane.normal);
    seam.glueMpa = load.glueMpa;
    SeamStrength result = seamStrength(seam);
    j.forces = result.forces;
    j.checks = std::move(result.checks);
    j.bendingOfWhole = result.bendingOfWhole;
    for (std::size_t i = 0; i < j.checks.size(); ++i)
        if (j.checks[i].safety < j.safety) {
            j.safety = j.checks[i].safety;
            j.weakest = i;
        }
    j.low = j.safety < load.safetyLimit;
}

/// What the figures rest on, for the report.
void addGrounds(const LoadCase& load, const MaterialStrength& material, const HangingGraph& graph,
                StrengthReport& report)
{
    const auto info = [&](std::string text) { report.notes.push_back({Note::Severity::Info, std::move(text), ""}); };
    info(fmt::format("Load: own weight in {} ({:g} g/cm3, {:.0f} % of the volume filled{}) times {:g} for shocks{}.",
                     material.name, material.densityGPerCm3, 100 * load.fillShare,
                     load.fillShare == 1 ? ", as no recipe is known" : "", load.dynamicFactor,
                     load.extra.empty() ? "" : fmt::format(", and {} force(s) as given", load.extra.size())));
    info(fmt::format("Taken as fixed: piece {}{}.", listed(graph.fixedPieces()),
                     load.held.empty() ? ", the lowest" : ""));
    if (!graph.apart().empty())
        report.notes.push_back({Note::Severity::Warning,
                                "No seam joins these pieces to the fixed one; each is taken as fixed by itself: " +
                                    listed(graph.apart()) + ".",
                                ""});
    info(fmt::format("Strength of {}: {:g} MPa along the layers, {:g} MPa across ({}). {}.", material.name,
                     material.tensileAlongMpa, material.tensileAcrossMpa, material.source, material.shearRule));
    info(load.glueMpa > 0 ? fmt::format("Faces without screws or bolts are taken as glued all over, {:g} MPa (common "
                                        "practice, no source): try the glue on a sample.",
                                        load.glueMpa)
                          : std::string("No glue is counted on: dowels and keys bear no pull."));
}

} // namespace

const JointCheck* StrengthReport::weakest() const
{
    const JointCheck* found = nullptr;
    for (const JointCheck& j : joints)
        if (std::isfinite(j.safety) && (found == nullptr || j.safety < found->safety))
            found = &j;
    return found;
}

std::vector<Note> strengthNotes(const StrengthEstimate& estimate)
{
    if (!estimate.report)
        return estimate.whyNot.empty()
                   ? std::vector<Note>{}
                   : std::vector<Note>{{Note::Severity::Warning, "Strength was not estimated: " + estimate.whyNot, ""}};
    const StrengthReport& report = *estimate.report;
    if (report.joints.empty())
        return {};
    std::vector<Note> notes{{Note::Severity::Info, "Strength. " + strengthCaution(), ""}};
    const JointCheck* weakest = report.weakest();
    if (weakest == nullptr)
        notes.push_back({Note::Severity::Info, "Nothing strains the seams.", ""});
    else
        notes.push_back({weakest->low ? Note::Severity::Warning : Note::Severity::Info,
                         "The weakest seam: " + weakest->words, "seam " + weakest->marks});
    for (const JointCheck& j : report.joints)
        if (j.low && &j != weakest)
            notes.push_back({Note::Severity::Warning, j.words, "seam " + j.marks});
    for (const Note& n : report.notes)
        if (n.severity == Note::Severity::Warning && n.place.empty())
            notes.push_back(n);
    return notes;
}

std::string strengthCaution()
{
    return "These are estimates for planning. Printed plastic varies from machine to machine, with age and with heat. "
           "Where people are below or beside it, have it checked by someone licensed.";
}

Result<StrengthReport> strengthOf(const Project& project, const LoadCase& load, const Context& context)
{
    if (Status status = checkLoadCase(project, load); !status)
        return status.problem();
    const MaterialStrength* material = findStrength(project.part.material);
    if (material == nullptr)
        return Problem{Reason::BadArgument, "the strength of \"" + project.part.material + "\" is not known", "", "",
                       "Choose one of the materials that the program ships."};
    StrengthReport report;
    const HangingGraph graph(project, load);
    report.fixedPieces = graph.fixedPieces();
    addGrounds(load, *material, graph, report);
    report.joints = facesOf(project);
    for (JointCheck& j : report.joints) {
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled while reckoning strength", {}, {}, {}};
        check(project, load, *material, graph, j);
        j.words = wordsOf(j, load);
        if (j.low)
            report.notes.push_back({Note::Severity::Warning, j.words, "seam " + j.marks});
    }
    report.notes.push_back({Note::Severity::Info, strengthCaution(), ""});
    return report;
}

Result<StrengthReport> strengthOf(const Project& project, const Context& context)
{
    return strengthOf(project, project.load, context);
}

} // namespace quoin::core
