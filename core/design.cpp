// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/design.h"

#include "core/cut_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

namespace quoin::core {

namespace {

auto find(auto& cuts, int id)
{
    return std::find_if(cuts.begin(), cuts.end(), [&](const CutStep& c) { return c.id == id; });
}

/// Limits that name no earlier cut of the list go.
void dropLateLimits(std::vector<CutStep>& cuts)
{
    for (auto cut = cuts.begin(); cut != cuts.end(); ++cut)
        std::erase_if(cut->within, [&](const CutSide& side) {
            return std::none_of(cuts.begin(), cut, [&](const CutStep& c) { return c.id == side.cut; });
        });
}

/// With cuts, hand-placed joints and the places of forces moved as the part grows by a ratio.
PartDesign grown(const PartDesign& part, double ratio)
{
    PartDesign out = part;
    // A plane's frame has its origin on the plane below the part's own origin, so places in it scale alike.
    for (CutStep& cut : out.cuts)
        cut.plane.offset *= ratio;
    for (FaceChoice& face : out.faces) {
        face.at = ratio * face.at;
        for (JointForm& dowel : face.joints)
            dowel.at = ratio * dowel.at;
    }
    for (ExtraForce& force : out.load.extra)
        force.at = ratio * force.at;
    return out;
}

std::string freeName(const Design& design, const std::string& wanted)
{
    const auto taken = [&](const std::string& name) {
        return std::any_of(design.parts.begin(), design.parts.end(),
                           [&](const PartDesign& p) { return p.name == name; });
    };
    std::string name = wanted;
    for (int n = 2; taken(name); ++n)
        name = fmt::format("{} {}", wanted, n);
    return name;
}

} // namespace

const PartDesign* Design::part(int id) const
{
    const auto found = std::find_if(parts.begin(), parts.end(), [&](const PartDesign& p) { return p.id == id; });
    return found == parts.end() ? nullptr : &*found;
}

PartDesign* Design::part(int id)
{
    return const_cast<PartDesign*>(std::as_const(*this).part(id));
}

const CutStep* cutOf(const PartDesign& part, int cut)
{
    const auto found = find(part.cuts, cut);
    return found == part.cuts.end() ? nullptr : &*found;
}

mesh::Box3 scaledBounds(const PartDesign& part)
{
    const mesh::Box3 box = part.sourceBox.empty() ? mesh::bounds(*part.source) : part.sourceBox;
    if (box.empty())
        return box;
    return {part.scale * box.min, part.scale * box.max};
}

PartDesign withScale(const PartDesign& part, double scale)
{
    PartDesign out = grown(part, scale / part.scale);
    out.scale = scale;
    return out;
}

PartDesign withUnit(const PartDesign& part, mesh::Unit unit)
{
    const double ratio = mesh::millimetresIn(unit) / mesh::millimetresIn(part.sourceUnit);
    PartDesign out = grown(part, ratio);
    out.sourceUnit = unit;
    out.source = std::make_shared<const mesh::Mesh>(mesh::transformed(*part.source, mesh::Transform::scaling(ratio)));
    out.sourceBox = mesh::bounds(*out.source);
    for (mesh::Transform& place : out.places)
        for (const std::size_t i : {3u, 7u, 11u})
            place.m[i] *= ratio;
    return out;
}

Design withCommonScale(const Design& design, int part, double scale)
{
    Design out = design;
    const PartDesign* leader = design.part(part);
    if (leader != nullptr)
        for (PartDesign& p : out.parts)
            if (p.scale == leader->scale)
                p = withScale(p, scale);
    return out;
}

PartDesign withCut(const PartDesign& part, const mesh::Plane& plane, std::vector<CutSide> within, int* id)
{
    PartDesign out = part;
    out.cuts.push_back({out.nextCut, {}, plane, true, std::move(within)});
    if (id != nullptr)
        *id = out.nextCut;
    ++out.nextCut;
    return out;
}

PartDesign withoutCut(const PartDesign& part, int cut)
{
    PartDesign out = part;
    std::erase_if(out.cuts, [&](const CutStep& c) { return c.id == cut; });
    std::erase_if(out.faces, [&](const FaceChoice& f) { return f.cut == cut; });
    dropLateLimits(out.cuts);
    return out;
}

PartDesign withCutPlane(const PartDesign& part, int cut, const mesh::Plane& plane)
{
    PartDesign out = part;
    const auto found = find(out.cuts, cut);
    if (found == out.cuts.end())
        return out;
    const bool turned = !(found->plane.normal == plane.normal);
    found->plane = plane;
    if (turned)
        std::erase_if(out.faces, [&](const FaceChoice& f) { return f.cut == cut; });
    return out;
}

PartDesign withCutMoved(const PartDesign& part, int cut, std::size_t place)
{
    PartDesign out = part;
    const auto found = find(out.cuts, cut);
    if (found == out.cuts.end())
        return out;
    CutStep moved = std::move(*found);
    out.cuts.erase(found);
    out.cuts.insert(std::next(out.cuts.begin(), static_cast<std::ptrdiff_t>(std::min(place, out.cuts.size()))),
                    std::move(moved));
    dropLateLimits(out.cuts);
    return out;
}

PartDesign withPlan(const PartDesign& part, const CutPlan& plan, const std::string& words)
{
    PartDesign out = part;
    out.cuts.clear();
    out.faces.clear();
    out.suggestionWords = words;
    const auto add = [&](const auto& self, int node, const std::vector<CutSide>& within) -> void {
        if (node < 0)
            return;
        const CutPlan::Node& n = plan.nodes[static_cast<std::size_t>(node)];
        const int id = out.nextCut++;
        out.cuts.push_back({id, {}, n.plane, true, within});
        for (const bool above : {false, true}) {
            std::vector<CutSide> deeper = within;
            deeper.push_back({id, above});
            self(self, above ? n.above : n.below, deeper);
        }
    };
    add(add, plan.empty() ? -1 : 0, {});
    return out;
}

Design withPart(const Design& design, PartDesign part, int* id)
{
    Design out = design;
    part.id = out.nextPart++;
    part.name = freeName(design, part.name);
    part.sourceBox = mesh::bounds(*part.source);
    if (id != nullptr)
        *id = part.id;
    out.parts.push_back(std::move(part));
    return out;
}

Design withBoxes(Design design)
{
    for (PartDesign& part : design.parts)
        part.sourceBox = mesh::bounds(*part.source);
    return design;
}

Design withoutPart(const Design& design, int part)
{
    Design out = design;
    std::erase_if(out.parts, [&](const PartDesign& p) { return p.id == part; });
    return out;
}

PartDesign withKeepClear(const PartDesign& part, const std::vector<mesh::Index>& triangles, bool keepClear)
{
    std::vector<mesh::Index> sorted = triangles;
    std::sort(sorted.begin(), sorted.end());
    sorted.erase(std::unique(sorted.begin(), sorted.end()), sorted.end());
    PartDesign out = part;
    out.keepClear.clear();
    const auto to = std::back_inserter(out.keepClear);
    if (keepClear)
        std::set_union(part.keepClear.begin(), part.keepClear.end(), sorted.begin(), sorted.end(), to);
    else
        std::set_difference(part.keepClear.begin(), part.keepClear.end(), sorted.begin(), sorted.end(), to);
    return out;
}

} // namespace quoin::core
