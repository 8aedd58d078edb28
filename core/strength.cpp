// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/strength.h"

#include "core/load_sharing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

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
std::vector<JointCheck> facesOf(const StrengthScene& scene)
{
    std::vector<JointCheck> faces;
    for (std::size_t i = 0; i < scene.seams.size(); ++i) {
        const Seam& seam = scene.seams[i];
        const auto same = std::find_if(faces.begin(), faces.end(), [&](const JointCheck& f) {
            const Seam& first = scene.seams[f.seams.front()];
            return first.cut == seam.cut && first.pieceBelow == seam.pieceBelow && first.pieceAbove == seam.pieceAbove;
        });
        JointCheck& face = same == faces.end() ? faces.emplace_back() : *same;
        face.cut = seam.cut;
        face.seams.push_back(i);
        face.marks += (face.marks.empty() ? "" : ", ") + seam.mark;
    }
    return faces;
}

SeamSide sideOf(const StrengthScene& scene, int number, const MaterialStrength& material, mesh::Vec3 normal)
{
    const Piece* piece = scene.piece(number);
    return {number, &material, piece != nullptr ? layerAngle(piece->pose, normal) : 0};
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
    std::string words = fmt::format("{}: {:.2f} kg hang on it ({} {}){}; {} {:.1f} N, shear {:.1f} N, bending "
                                    "{:.2f} N m, torsion {:.2f} N m.",
                                    where, j.hanging.massKg, j.hanging.pieces.size() == 1 ? "piece" : "pieces",
                                    listed(j.hanging.pieces),
                                    j.shared           ? ", together with other seams; its part"
                                    : j.hanging.inLoop ? ", taken as if no other seam helped"
                                                       : "",
                                    f.axialN < 0 ? "pressed by" : "pulled by", std::abs(f.axialN), length(f.shearN),
                                    length(f.bendingNmm) / 1000, std::abs(f.torsionNmm) / 1000);
    if (!std::isfinite(j.safety) || j.checks.empty())
        return words + " Nothing strains it.";
    words += fmt::format(" Weakest: {}, safety {:.2f}", j.checks[j.weakest].name, j.safety);
    words += j.low ? fmt::format(", below {:g}.", load.safetyLimit) : ".";
    return words + fmt::format(" Its joints bear {:.0f} % of the bending that the uncut section would.",
                               100 * j.bendingOfWhole);
}

mesh::Region regionOf(const StrengthScene& scene, const JointCheck& j)
{
    mesh::Region region;
    for (const std::size_t i : j.seams)
        region.insert(region.end(), scene.seams[i].region.begin(), scene.seams[i].region.end());
    return region;
}

mesh::PlaneFrame frameOfCut(const StrengthScene& scene, const JointCheck& j)
{
    return mesh::frameOf(scene.plan.nodes.at(static_cast<std::size_t>(j.cut)).plane);
}

/// A face that nothing joins, neither joint nor glue, is no more than a stop: it is left with next to nothing.
constexpr double unjoinedStiffness = 1e-6;

bool isJoined(const StrengthScene& scene, const JointCheck& j)
{
    return std::ranges::any_of(scene.joints,
                               [&](const Joint& joint) { return std::ranges::count(j.seams, joint.seam) > 0; });
}

/// How the faces share the load, where some piece is held in more than one way; nullopt when none is, or when the
/// faces are too little to tell.
std::optional<std::vector<FaceResultant>> sharedOver(const StrengthScene& scene, const LoadCase& load,
                                                     const HangingGraph& graph, const std::vector<JointCheck>& faces)
{
    std::map<std::pair<int, int>, int> facesOfPair;
    bool loops = false;
    for (const JointCheck& j : faces) {
        const Seam& seam = scene.seams[j.seams.front()];
        loops |= j.hanging.inLoop || ++facesOfPair[std::minmax({seam.pieceBelow, seam.pieceAbove})] > 1;
    }
    if (!loops)
        return std::nullopt;
    std::vector<SharingPiece> pieces;
    std::map<int, std::size_t> index;
    for (const Piece& piece : scene.pieces) {
        index[piece.number] = pieces.size();
        pieces.push_back({graph.loadsOn(piece.number), std::ranges::count(graph.fixedPieces(), piece.number) > 0});
    }
    std::vector<SharingFace> shares;
    for (const JointCheck& j : faces) {
        const Seam& seam = scene.seams[j.seams.front()];
        const bool joined = load.glueMpa > 0 || isJoined(scene, j);
        shares.push_back({index.at(seam.pieceBelow), index.at(seam.pieceAbove), frameOfCut(scene, j), j.section,
                          joined ? 1 : unjoinedStiffness});
    }
    return sharedLoads(pieces, shares);
}

/// What a face has to carry: all that hangs on it, or its part of it.
SectionForces forcesOn(const StrengthScene& scene, const JointCheck& j, const FaceResultant* part)
{
    const mesh::PlaneFrame frame = frameOfCut(scene, j);
    const bool loadedAbove = j.hanging.hanging == scene.seams[j.seams.front()].pieceAbove;
    const mesh::Vec3 centre = frame.space(j.section.centroid);
    return sectionForces(frame, loadedAbove, j.section.centroid,
                         part != nullptr ? part->asLoads(centre, loadedAbove ? 1 : -1) : j.hanging.loads);
}

void check(const StrengthScene& scene, const LoadCase& load, const MaterialStrength& material,
           const FaceResultant* part, JointCheck& j)
{
    j.safety = std::numeric_limits<double>::infinity();
    if (j.hanging.hanging == 0)
        return;
    const Seam& first = scene.seams[j.seams.front()];
    const mesh::Vec3 normal = frameOfCut(scene, j).normal;
    SeamLoad seam;
    seam.region = regionOf(scene, j);
    for (const std::size_t i : j.seams) {
        const std::vector<JointMember> members = membersOf(scene, i, load);
        seam.members.insert(seam.members.end(), members.begin(), members.end());
    }
    seam.forces = forcesOn(scene, j, part);
    seam.below = sideOf(scene, first.pieceBelow, material, normal);
    seam.above = sideOf(scene, first.pieceAbove, material, normal);
    seam.glueMpa = load.glueMpa;
    SeamStrength result = seamStrength(seam);
    j.shared = part != nullptr;
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

/// How loops were dealt with, where there are any.
void addSharing(bool shared, StrengthReport& report)
{
    const bool loops = std::ranges::any_of(report.joints, [](const JointCheck& j) { return j.hanging.inLoop; });
    if (shared)
        report.notes.push_back({Note::Severity::Info,
                                "Where several seams hold the same pieces they share the load by their stiffness: "
                                "pieces taken as rigid, faces as elastic beds that pull as well as press (rigid bodies "
                                "and springs, Kawai 1978). A seam that opens leaves its part to the others.",
                                ""});
    else if (loops)
        report.notes.push_back({Note::Severity::Info,
                                "Where several seams hold the same pieces, each is taken to carry all of the load.",
                                ""});
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

LoadedFaces loadedFaces(const StrengthScene& scene, const LoadCase& load, const HangingGraph& graph)
{
    LoadedFaces out{facesOf(scene), {}};
    for (JointCheck& j : out.faces) {
        const Seam& seam = scene.seams[j.seams.front()];
        j.section = sectionProperties(regionOf(scene, j));
        j.hanging = graph.between(seam.pieceBelow, seam.pieceAbove);
    }
    out.parts = sharedOver(scene, load, graph, out.faces);
    return out;
}

JointCheck checkedFace(const StrengthScene& scene, const LoadCase& load, const LoadedFaces& loaded, std::size_t face)
{
    JointCheck j = loaded.faces[face];
    check(scene, load, *findStrength(scene.material), loaded.parts ? &(*loaded.parts)[face] : nullptr, j);
    j.words = wordsOf(j, load);
    return j;
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
    const StrengthScene scene(project);
    const LoadedFaces loaded = loadedFaces(scene, load, graph);
    for (std::size_t i = 0; i < loaded.faces.size(); ++i) {
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled while reckoning strength", {}, {}, {}};
        report.joints.push_back(checkedFace(scene, load, loaded, i));
    }
    addSharing(loaded.parts.has_value(), report);
    for (const JointCheck& j : report.joints)
        if (j.low)
            report.notes.push_back({Note::Severity::Warning, j.words, "seam " + j.marks});
    report.notes.push_back({Note::Severity::Info, strengthCaution(), ""});
    return report;
}

Result<StrengthReport> strengthOf(const Project& project, const Context& context)
{
    return strengthOf(project, project.load, context);
}

} // namespace quoin::core
