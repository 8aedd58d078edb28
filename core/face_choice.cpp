// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/face_choice.h"

#include "core/joint_rules.h"
#include "mesh/region.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// A choice whose place has come to lie beside its face still means it up to this share of the face's size.
constexpr double nearShare = 0.1;
constexpr double nearLeastMm = 2;
/// placeOn: the inward offset is found to this share of the face's size.
constexpr double placeShare = 0.02;
constexpr double thinnestMm = 1e-3; ///< a face thinner than this has no inside to speak of
constexpr double arcErrorMm = 0.05;
/// placeOn: points of the outline nearer to each other than this share of the face's size are looked at as one.
constexpr double thinShare = 0.01;
constexpr int placesAcross = 40; ///< placeForAnother: grid over the face's box

struct Match {
    std::size_t seam;
    double besideMm; ///< from the place to the seam; 0 on it
};

std::optional<Match> matchOf(const Project& project, const std::vector<int>& cutOfNode, const FaceChoice& choice)
{
    std::optional<Match> best;
    for (std::size_t s = 0; s < project.seams.size(); ++s) {
        const Seam& seam = project.seams[s];
        const auto node = static_cast<std::size_t>(seam.cut);
        if (node >= cutOfNode.size() || cutOfNode[node] != choice.cut)
            continue;
        const double beside =
            mesh::contains(seam.region, choice.at) ? 0 : mesh::distanceToOutline(seam.region, choice.at);
        const double limit = std::max(nearLeastMm, nearShare * std::sqrt(seam.areaMm2));
        if (beside <= limit && (!best || beside < best->besideMm))
            best = Match{s, beside};
    }
    return best;
}

} // namespace

const FaceChoice* SeamChoices::of(std::size_t seam) const
{
    const auto found = bySeam.find(seam);
    return found == bySeam.end() ? nullptr : &found->second;
}

Clearances SeamChoices::clearances(std::size_t seam, const JointOptions& options) const
{
    const FaceChoice* choice = of(seam);
    return choice != nullptr && choice->fit ? clearancesFor(fits, material, machine, *choice->fit) : options.clearances;
}

std::optional<std::size_t> seamOfChoice(const Project& project, const std::vector<int>& cutOfNode,
                                        const FaceChoice& choice)
{
    const auto match = matchOf(project, cutOfNode, choice);
    return match ? std::optional(match->seam) : std::nullopt;
}

SeamChoices seamChoices(const Project& project, const std::vector<int>& cutOfNode, const PartDesign& part)
{
    SeamChoices choices{{}, part.material, part.machine, part.fits, part.load};
    std::map<std::size_t, double> beside;
    for (const FaceChoice& choice : part.faces)
        if (const auto match = matchOf(project, cutOfNode, choice)) {
            const auto held = beside.find(match->seam);
            if (held != beside.end() && held->second < match->besideMm)
                continue;
            beside[match->seam] = match->besideMm;
            choices.bySeam[match->seam] = choice;
        }
    return choices;
}

namespace {

/// The outline with fewer points: those nearer than this to the last one kept are left out. Thousands of points of a
/// fine model's section say no more about where there is room.
mesh::Region thinned(const mesh::Region& region, double apartMm)
{
    mesh::Region out;
    for (const mesh::Loop& loop : region) {
        mesh::Loop kept;
        for (const mesh::Vec2 p : loop)
            if (kept.empty() || mesh::length(p - kept.back()) >= apartMm)
                kept.push_back(p);
        if (kept.size() >= 3)
            out.push_back(std::move(kept));
    }
    return out;
}

mesh::Vec2 roomiestPlace(const mesh::Region& region);

} // namespace

mesh::Vec2 placeOn(const mesh::Region& region)
{
    const mesh::Region coarse = thinned(region, thinShare * std::sqrt(mesh::area(region)));
    if (!coarse.empty() && mesh::area(coarse) > 0)
        if (const mesh::Vec2 place = roomiestPlace(coarse); mesh::contains(region, place))
            return place;
    return roomiestPlace(region);
}

namespace {

mesh::Vec2 roomiestPlace(const mesh::Region& region)
{
    // The inward offset just before it vanishes; a corner of it lies within the last step of the roomiest place.
    const double size = std::sqrt(mesh::area(region));
    double low = 0, high = 1.01 * size / std::sqrt(M_PI);
    mesh::Region last = region;
    while (high - low > placeShare * size || (low == 0 && high > thinnestMm)) {
        const double middle = 0.5 * (low + high);
        mesh::Region inner = mesh::offset(region, -middle, arcErrorMm);
        if (inner.empty()) {
            high = middle;
        } else {
            low = middle;
            last = std::move(inner);
        }
    }
    // The middle of the remnant, when it lies on the face; its first corner else.
    mesh::Vec2 sum{0, 0};
    for (const mesh::Vec2 p : last.front())
        sum = sum + p;
    const mesh::Vec2 middle = (1.0 / static_cast<double>(last.front().size())) * sum;
    if (mesh::contains(last, middle) || low == 0)
        return middle;
    return last.front().front();
}

} // namespace

mesh::Vec2 placeForAnother(const mesh::Region& region, const std::vector<JointForm>& dowels)
{
    mesh::Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
    for (const mesh::Loop& loop : region)
        for (const mesh::Vec2 p : loop) {
            low = {std::min(low.x, p.x), std::min(low.y, p.y)};
            high = {std::max(high.x, p.x), std::max(high.y, p.y)};
        }
    mesh::Vec2 best = placeOn(region);
    const auto room = [&](mesh::Vec2 at) {
        double least = mesh::contains(region, at) ? mesh::distanceToOutline(region, at) : -1;
        for (const JointForm& d : dowels)
            least = std::min(least, (mesh::length(at - d.at) - d.diameterMm / 2) / 2);
        return least;
    };
    double most = room(best);
    for (int i = 1; i < placesAcross; ++i)
        for (int j = 1; j < placesAcross; ++j) {
            const mesh::Vec2 at{low.x + (high.x - low.x) * i / placesAcross,
                                low.y + (high.y - low.y) * j / placesAcross};
            if (const double r = room(at); r > most) {
                most = r;
                best = at;
            }
        }
    return best;
}

PartDesign withFaceChoice(const Project& project, const std::vector<int>& cutOfNode, const PartDesign& part,
                          const FaceChoice& choice)
{
    PartDesign next = part;
    const auto seam = seamOfChoice(project, cutOfNode, choice);
    std::erase_if(next.faces, [&](const FaceChoice& held) {
        return held.cut == choice.cut &&
               (held.at == choice.at || (seam && seamOfChoice(project, cutOfNode, held) == seam));
    });
    if (choice.how != FaceChoice::How::Automatic || choice.kind || choice.clocked || choice.diameterMm || choice.fit)
        next.faces.push_back(choice);
    return next;
}

FaceChoice choiceFor(const Project& project, const std::vector<int>& cutOfNode, const PartDesign& part,
                     std::size_t seam)
{
    const SeamChoices choices = seamChoices(project, cutOfNode, part);
    if (const FaceChoice* held = choices.of(seam))
        return *held;
    FaceChoice fresh;
    fresh.cut = cutOfNode[static_cast<std::size_t>(project.seams[seam].cut)];
    fresh.at = placeOn(project.seams[seam].region);
    return fresh;
}

FaceChoice takenByHand(FaceChoice choice, const JointLayout& layout, std::size_t seam)
{
    choice.how = FaceChoice::How::ByHand;
    choice.clocked = false;
    choice.joints.clear();
    for (const Joint& joint : layout.joints)
        if (joint.seam == seam)
            choice.joints.push_back(joint);
    return choice;
}

std::vector<Joint> jointsByHand(std::size_t seam, const FaceChoice& choice, const Clearances& clearances,
                                double chordMm)
{
    std::vector<Joint> joints;
    if (choice.how == FaceChoice::How::ByHand)
        for (const JointForm& form : choice.joints)
            joints.push_back({form, seam, clearances.of(fitProcessOf(form)), boreEndClearanceMm, chordMm});
    return joints;
}

} // namespace quoin::core
