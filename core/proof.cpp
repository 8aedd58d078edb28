// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof.h"

#include "core/proof_evidence.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace quoin::core {

namespace {

/// Limits of what a project file may ask the proof to build: beyond them it was damaged, and following it would only
/// fill the memory.
constexpr double largestFeatureMm = 10'000;
constexpr double smallestFeatureMm = 0.01;
constexpr std::size_t mostCuts = 100'000;
constexpr std::size_t longestMark = 100;

bool between(double value, double low, double high)
{
    return value >= low && value <= high;
}

bool saneJoint(const Joint& j)
{
    return between(j.diameterMm, smallestFeatureMm, largestFeatureMm) &&
           between(j.depthMm, smallestFeatureMm, largestFeatureMm) && between(j.clearanceMm, 0, largestFeatureMm) &&
           between(j.endClearanceMm, 0, largestFeatureMm);
}

bool saneMark(const Mark& m)
{
    return between(m.heightMm, smallestFeatureMm, largestFeatureMm) &&
           between(m.strokeMm, smallestFeatureMm, largestFeatureMm) &&
           between(m.depthMm, smallestFeatureMm, largestFeatureMm) && m.textBelow.size() <= longestMark &&
           m.textAbove.size() <= longestMark;
}

bool saneWitness(const Witness& w)
{
    constexpr std::size_t mostStations = 1000;
    constexpr double farthestMm = 1e6;
    return between(w.widthMm, smallestFeatureMm, largestFeatureMm) &&
           between(w.depthMm, smallestFeatureMm, largestFeatureMm) && w.stations.size() <= mostStations &&
           std::ranges::all_of(w.stations, [](const Witness::Station& s) {
               return mesh::length(s.at) <= farthestMm && std::abs(mesh::length(s.in) - 1) <= 1e-6;
           });
}

Status requireSane(const Project& project, const std::filesystem::path& folder)
{
    const auto& joints = project.layout.joints;
    const auto& marks = project.layout.marks;
    if (std::all_of(joints.begin(), joints.end(), saneJoint) && std::all_of(marks.begin(), marks.end(), saneMark) &&
        std::ranges::all_of(project.layout.witnesses, saneWitness) && project.plan.nodes.size() <= mostCuts)
        return Done{};
    return Problem{
        Reason::FileMalformed,
        "the project is damaged: a joint, a mark, a witness line or the number of cuts is beyond all measure",
        (folder / "project.quoin.json").string(),
        {},
        "Export it again."};
}

} // namespace

bool Proof::holds() const
{
    return std::all_of(claims.begin(), claims.end(), [](const Claim& c) { return c.holds; });
}

Result<Proof> prove(const std::filesystem::path& folder, const Context& context)
{
    context.report(0, "reading the export back");
    const auto evidence = readEvidence(folder, context);
    if (!evidence)
        return evidence.problem();
    if (const Status s = requireSane(evidence->project, folder); !s)
        return s.problem();
    using Group = void (*)(const Evidence&, Proof&);
    const std::array<std::pair<const char*, Group>, 8> groups{{{"proving: files", proveFiles},
                                                               {"proving: beds", proveFit},
                                                               {"proving: the part rebuilt", proveRebuild},
                                                               {"proving: joints", proveJoints},
                                                               {"proving: witness lines", proveWitnesses},
                                                               {"proving: assembly", proveAssembly},
                                                               {"estimating strength", estimateStrength},
                                                               {"proving: cautions", addCautions}}};
    Proof proof;
    for (std::size_t i = 0; i < groups.size(); ++i) {
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled while proving", {}, {}, {}};
        context.report(static_cast<double>(i + 1) / (groups.size() + 1), groups[i].first);
        groups[i].second(*evidence, proof);
    }
    return proof;
}

nlohmann::json toJson(const Proof& proof)
{
    nlohmann::json claims = nlohmann::json::array();
    for (const Claim& c : proof.claims)
        claims.push_back({{"id", c.id},
                          {"subject", c.subject},
                          {"text", c.text},
                          {"measured", c.measured},
                          {"relation", c.relation},
                          {"limit", c.limit},
                          {"unit", c.unit},
                          {"holds", c.holds}});
    const auto failed =
        std::count_if(proof.claims.begin(), proof.claims.end(), [](const Claim& c) { return !c.holds; });
    return {{"kind", "quoin proof"}, {"holds", proof.holds()},     {"failed_claims", failed},
            {"claims", claims},      {"assembly", proof.assembly}, {"cautions", proof.cautions}};
}

} // namespace quoin::core
