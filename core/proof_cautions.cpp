// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/material.h"
#include "core/proof_evidence.h"
#include "mesh/mass.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace {

/// Above this one person shouldn't lift a piece alone (common practice, no source).
constexpr double twoPeopleKg = 20;

std::string listed(const std::vector<int>& numbers)
{
    std::string out;
    for (const int n : numbers)
        out += (out.empty() ? "" : ", ") + std::to_string(n);
    return out;
}

/// What this set in particular calls for.
void addOwn(const Evidence& evidence, std::vector<std::string>& cautions)
{
    const Project& project = evidence.project;
    std::vector<int> alone, onSupport;
    for (const Piece& piece : project.pieces) {
        if (project.pieces.size() > 1 && std::none_of(project.seams.begin(), project.seams.end(), [&](const Seam& s) {
                return s.pieceBelow == piece.number || s.pieceAbove == piece.number;
            }))
            alone.push_back(piece.number);
        if (!piece.pose.standsFlat)
            onSupport.push_back(piece.number);
    }
    if (!alone.empty())
        cautions.push_back("No face of 1 mm2 or more joins these pieces to any other: " + listed(alone) +
                           ". They need to be fixed by other means, or the cuts moved.");
    if (!onSupport.empty())
        cautions.push_back("These pieces stand on no flat face and need support while printing: " + listed(onSupport) +
                           ".");
    const auto butt = std::count_if(project.layout.reports.begin(), project.layout.reports.end(),
                                    [](const SeamReport& r) { return r.butt; });
    if (butt > 0)
        cautions.push_back(fmt::format("{} of {} seams are plain faces held by glue alone: nothing locates them, and "
                                       "nothing holds if the glue doesn't.",
                                       butt, project.seams.size()));
}

void addWeights(const Evidence& evidence, std::vector<std::string>& cautions)
{
    const Material* material = findMaterial(evidence.project.part.material);
    if (material == nullptr)
        return;
    double heaviest = 0, sum = 0;
    int which = 0;
    for (const Piece& piece : evidence.project.pieces) {
        // mm3 to cm3, g to kg.
        const double kg = mesh::volume(evidence.meshOf(piece.number)) * material->densityGPerCm3 / 1e6;
        sum += kg;
        if (kg > heaviest) {
            heaviest = kg;
            which = piece.number;
        }
    }
    cautions.push_back(fmt::format("Masses are estimates: printed solid in {} ({:g} g/cm3) the set weighs {:.2f} kg, "
                                   "the heaviest piece ({}) {:.2f} kg; with infill it weighs less, with glue, paint "
                                   "and fittings more.",
                                   material->name, material->densityGPerCm3, sum, which, heaviest));
    if (heaviest > twoPeopleKg)
        cautions.push_back(fmt::format("Piece {} may weigh {:.0f} kg: lift it with two people or a hoist, and keep "
                                       "hands out from under it.",
                                       which, heaviest));
}

/// What the proof says about strength, which is not its matter.
void addStrength(const StrengthEstimate& strength, std::vector<std::string>& cautions)
{
    constexpr const char* aboutShape = "The proof is about shape, from the files as written: no claim says that the "
                                       "joints or the material carry any load. ";
    if (!strength.report) {
        cautions.push_back(aboutShape + ("Strength was not estimated: " + strength.whyNot));
        return;
    }
    cautions.push_back(aboutShape + std::string("Strength is estimated apart from it, in strength.json. ") +
                       strengthCaution());
    for (const Note& note : strength.report->notes)
        if (note.severity == Note::Severity::Warning)
            cautions.push_back((note.place.empty() ? "" : "Low strength: ") + note.text);
}

} // namespace

void addCautions(const Evidence& evidence, Proof& proof)
{
    std::vector<std::string>& cautions = proof.cautions;
    addOwn(evidence, cautions);
    addWeights(evidence, cautions);
    addStrength(proof.strength, cautions);
    cautions.push_back("Anything that hangs or stands above people, moves near them or is climbed on needs a second "
                       "means of holding it, and somebody licensed to answer for it; local codes and the owner of the "
                       "place decide, not this page.");
    cautions.push_back(
        "Printed plastic is weakest across its layers, creeps under steady load and softens in heat: PLA "
        "bends in a car or in the sun. Choose the material for the place, and try a piece there first.");
    cautions.push_back(
        "Hot nozzles and beds burn, and melting plastic gives off fumes: let parts cool before handling, "
        "and air the room.");
    cautions.push_back("Clearances are those of the files. Every machine adds its own error: print one dowel and one "
                       "bore and try them before printing the set.");
    cautions.push_back("The surface was compared at sampled points and corners; between them a difference smaller than "
                       "a triangle could go unseen. Everything else was tested on the whole.");
}

} // namespace quoin::core
