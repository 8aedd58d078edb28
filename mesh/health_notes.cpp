// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/health_notes.h"

#include "mesh/place.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::mesh {

namespace {

const char* const repairIt = "Repair it (--repair).";
const char* const exportAgain = "Export it again.";

/// One thing wrong with a model that keeps it from being cut.
struct Fault {
    Reason reason;
    std::string text;
    std::string place;
    const char* remedy;
};

std::string isOrAre(std::size_t count)
{
    return count == 1 ? " is" : " are";
}

void addTopologyFaults(const Health& h, std::vector<Fault>& faults)
{
    const Topology& t = h.topology;
    if (t.openEdges != 0)
        faults.push_back(
            {Reason::NotClosed,
             "the surface is not closed: " + counted(h.holes, "hole") + " with " + counted(t.openEdges, "open edge"),
             placeText(t.openAt), repairIt});
    if (t.nonManifoldEdges != 0)
        faults.push_back(
            {Reason::NotManifold,
             counted(t.nonManifoldEdges, "edge") + isOrAre(t.nonManifoldEdges) + " shared by three or more triangles",
             placeText(t.nonManifoldEdgeAt), repairIt});
    if (t.flippedEdges != 0)
        faults.push_back({Reason::NotOriented,
                          "neighbouring triangles face opposite ways at " + counted(t.flippedEdges, "edge"),
                          placeText(t.flippedAt), repairIt});
    if (t.nonManifoldVertices != 0)
        faults.push_back({Reason::NotManifold,
                          "the surface touches itself at " + counted(t.nonManifoldVertices, "point"),
                          placeText(t.nonManifoldVertexAt), repairIt});
}

/// A fault of all bodies for which `wrong` holds, placed at the first.
template <class Wrong>
void addBodyFault(const Health& h, Reason reason, const std::string& does, const std::string& do_, const char* remedy,
                  std::vector<Fault>& faults, const Wrong& wrong)
{
    const auto count = static_cast<std::size_t>(std::count_if(h.bodies.begin(), h.bodies.end(), wrong));
    if (count == 0)
        return;
    const BodyHealth& first = *std::find_if(h.bodies.begin(), h.bodies.end(), wrong);
    const std::string text = h.bodies.size() == 1
                                 ? "the model " + does
                                 : fmt::format("{} of {} bodies {}", count, h.bodies.size(), count == 1 ? does : do_);
    faults.push_back({reason, text, placeText(first.at), remedy});
}

std::vector<Fault> faultsOf(const Health& h)
{
    if (h.triangles == 0)
        return {{Reason::NoVolume, "the model has no triangles", "", exportAgain}};
    if (h.notFinite != 0)
        return {{Reason::NumberNotFinite, counted(h.notFinite, "point") + " without a finite place", "", exportAgain}};
    std::vector<Fault> faults;
    addTopologyFaults(h, faults);
    if (h.selfIntersectingPairs != 0)
        faults.push_back({Reason::SelfIntersecting,
                          "the surface cuts or touches itself: " +
                              counted(h.selfIntersectingPairs, "pair of triangles", "pairs of triangles"),
                          placeText(h.selfIntersectionAt), repairIt});
    const auto closed = [](const BodyHealth& b) { return b.topology.closed(); };
    addBodyFault(h, Reason::SelfIntersecting, "lies inside the solid material of another",
                 "lie inside the solid material of another", repairIt, faults,
                 [](const BodyHealth& b) { return b.inMaterial; });
    addBodyFault(h, Reason::NotOriented, "is inside out", "are inside out", repairIt, faults,
                 [&](const BodyHealth& b) { return closed(b) && b.volumeMm3 < 0; });
    addBodyFault(h, Reason::NoVolume, "encloses no volume", "enclose no volume", "Export it again as a solid.", faults,
                 [&](const BodyHealth& b) { return closed(b) && b.volumeMm3 == 0; });
    return faults;
}

void addRemarks(const Health& h, std::vector<Note>& notes)
{
    const Topology& t = h.topology;
    if (t.duplicateTriangles != 0)
        notes.push_back({Note::Severity::Warning,
                         counted(t.duplicateTriangles, "triangle") + isOrAre(t.duplicateTriangles) + " there twice",
                         placeText(t.duplicateAt)});
    if (t.degenerateTriangles != 0)
        notes.push_back(
            {Note::Severity::Warning,
             counted(t.degenerateTriangles, "triangle") + (t.degenerateTriangles == 1 ? " has" : " have") + " no area",
             placeText(t.degenerateAt)});
    std::size_t cavities = 0;
    const BodyHealth* thinnest = nullptr;
    for (const BodyHealth& b : h.bodies) {
        cavities += b.cavities;
        if (b.thinnestWallMm && (thinnest == nullptr || *b.thinnestWallMm < *thinnest->thinnestWallMm))
            thinnest = &b;
    }
    if (cavities != 0)
        notes.push_back({Note::Severity::Info,
                         counted(cavities, "closed cavity", "closed cavities") + " that nothing leads into", ""});
    if (thinnest != nullptr)
        notes.push_back({Note::Severity::Info,
                         fmt::format("the thinnest wall met is {:.3g} mm", *thinnest->thinnestWallMm),
                         placeText(thinnest->thinnestWallAt)});
}

} // namespace

std::vector<Note> healthNotes(const Health& health)
{
    std::vector<Note> notes;
    for (const Fault& f : faultsOf(health))
        notes.push_back({Note::Severity::Error, f.text + ". " + f.remedy, f.place});
    addRemarks(health, notes);
    return notes;
}

std::optional<Problem> whyNotSound(const Mesh& mesh, const Health& health)
{
    if (mesh.empty())
        return Problem{Reason::NoVolume, "the model has no triangles", "", "", exportAgain};
    const std::vector<Fault> faults = faultsOf(health);
    if (faults.empty())
        return std::nullopt;
    const Fault& first = faults.front();
    return Problem{first.reason, first.text, "", first.place, first.remedy};
}

} // namespace quoin::mesh
