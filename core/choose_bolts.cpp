// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/choose_bolts.h"

#include "core/choose_dowels.h"
#include "core/hardware.h"
#include "core/joint_bolt.h"
#include "core/joint_size.h"
#include "core/open_way.h"
#include "core/section_forces.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

using Hold = JointForm::Hold;

/// Metric size by the width of a face, at most (common practice, no source).
struct SizeFor {
    double widthMm, diameterMm;
};
constexpr std::array sizesByWidth{SizeFor{60, 5}, SizeFor{120, 6}, SizeFor{200, 8}, SizeFor{320, 10}};
constexpr double largestChosenMm = 12;
constexpr double smallestChosenMm = 4;
/// Material under the head and over a far nut, in diameters: no less, and no more, than is good for the screw.
constexpr double leastGripDiameters = 1.5, mostGripDiameters = 6;
/// Two bolts closer than this many diameters are one.
constexpr double leastSpreadDiameters = 6;
constexpr std::size_t mostBolts = 4;
/// Places that are tried: each is followed out of both pieces.
constexpr std::size_t mostSites = 300;
/// Heads end below the skin by this, at least, mm.
constexpr double belowSkinMm = 0.5;

double wantedMm(const JointGround& ground, std::size_t seam, double widthMm)
{
    double size = largestChosenMm;
    for (auto s = sizesByWidth.rbegin(); s != sizesByWidth.rend(); ++s)
        if (widthMm <= s->widthMm)
            size = s->diameterMm;
    return std::min(size, ground.largestAsked(seam).value_or(size));
}

/// How long the grip may be so that what lies over it ends below the skin: whole mm.
double sunk(double skinMm, double overMm, double diameterMm)
{
    return std::min(std::floor(skinMm - overMm - belowSkinMm), mostGripDiameters * diameterMm);
}

/// A bolt at a place, its head sunk as it should be; none where that can't be.
std::optional<Joint> boltAt(const JointGround& ground, Joint joint, mesh::Vec2 at)
{
    joint.at = at;
    const double d = joint.diameterMm, least = leastGripDiameters * d;
    joint.gripMm = least;
    if (joint.hold == Hold::FarNut)
        joint.depthMm = least;
    if (jointSpare(ground.scene(), joint, 0).spareMm < 0)
        return std::nullopt;
    const OpenWays ways = openWays(ground.scene(), joint);
    if (!ways.fault.empty())
        return std::nullopt;
    joint.gripMm = sunk(ways.headSkinMm, socketHeadScrew(d)->k + plainWasher(d)->h, d);
    if (joint.hold == Hold::FarNut)
        joint.depthMm = sunk(ways.nutSkinMm, hexagonNut(d)->m, d);
    if (joint.gripMm < least || (joint.hold == Hold::FarNut && joint.depthMm < least) || !ground.fits(joint))
        return std::nullopt;
    return joint;
}

/// Whether both sides of a bolt can be made as it stands.
bool canBeMade(const JointGround& ground, const Joint& bolt)
{
    const Joint open = withWays(ground.scene(), bolt);
    const mesh::Plane& cut = ground.scene().cutOf(bolt);
    return sideShape(open, cut, false) && sideShape(open, cut, true);
}

/// All bolts of one size and sort that fit, one a site.
std::vector<Joint> boltsAt(const JointGround& ground, std::size_t seam, const std::vector<JointSite>& sites,
                           double diameterMm, bool headAbove, Hold hold)
{
    JointForm form;
    form.kind = JointForm::Kind::DrawBolt;
    form.diameterMm = diameterMm;
    form.carrierAbove = headAbove;
    form.hold = hold;
    if (hold == Hold::Insert) {
        const auto insert = heatSetInsert(diameterMm);
        if (!insert)
            return {};
        form.depthMm = insert->lengthMm;
    }
    std::vector<Joint> bolts;
    const std::size_t stride = 1 + sites.size() / mostSites;
    for (std::size_t i = 0; i < sites.size(); i += stride)
        if (const auto bolt = boltAt(ground, ground.jointOf(seam, form), sites[i].at))
            bolts.push_back(*bolt);
    return bolts;
}

/// The bolts of a set that are far apart; the one nearest to the middle when no two are.
std::vector<Joint> spread(const JointGround& ground, std::size_t seam, const std::vector<Joint>& bolts, double leastMm)
{
    if (bolts.empty())
        return {};
    std::vector<mesh::Vec2> places;
    for (const Joint& bolt : bolts)
        places.push_back(bolt.at);
    std::vector<mesh::Vec2> chosen = farApart(places, mostBolts, leastMm);
    if (chosen.size() < 2) {
        const mesh::Vec2 middle = sectionProperties(ground.seam(seam).region).centroid;
        chosen = {*std::min_element(places.begin(), places.end(), [&](mesh::Vec2 a, mesh::Vec2 b) {
            return mesh::length(a - middle) < mesh::length(b - middle);
        })};
    }
    std::vector<Joint> out;
    for (const mesh::Vec2 at : chosen)
        out.push_back(*std::find_if(bolts.begin(), bolts.end(), [&](const Joint& b) { return b.at == at; }));
    // Like bolts are bought together: the shortest grip of all, where it fits everywhere.
    std::vector<Joint> alike = out;
    const auto shortest = [&](double JointForm::*what) {
        return (*std::min_element(out.begin(), out.end(),
                                  [&](const Joint& a, const Joint& b) { return a.*what < b.*what; })).*
               what;
    };
    for (Joint& bolt : alike) {
        bolt.gripMm = shortest(&JointForm::gripMm);
        bolt.depthMm = shortest(&JointForm::depthMm);
    }
    const bool allFit = std::all_of(alike.begin(), alike.end(), [&](const Joint& b) { return ground.fits(b); });
    return allFit ? alike : out;
}

std::string wordsFor(const JointGround& ground, const std::vector<Joint>& bolts)
{
    const Joint& first = bolts.front();
    const Seam& seam = ground.scene().seamOf(first);
    std::string lengths;
    for (const Joint& bolt : bolts)
        if (const auto length = boltLengthMm(withWays(ground.scene(), bolt)))
            if (const std::string l = fmt::format("{:g}", *length); lengths.find(l) == std::string::npos)
                lengths += (lengths.empty() ? "" : ", ") + l;
    const char* s = bolts.size() > 1 ? "s" : "";
    return fmt::format("{} draw bolt{} M{:g} x {}, head{} in piece {}, {}{} in piece {}", bolts.size(), s,
                       first.diameterMm, lengths, s, first.carrierAbove ? seam.pieceAbove : seam.pieceBelow,
                       first.hold == Hold::Insert ? "insert" : "nut", s,
                       first.carrierAbove ? seam.pieceBelow : seam.pieceAbove);
}

} // namespace

Chosen cornerBolts(const JointGround& ground, std::size_t seam, const std::vector<JointSite>& sites)
{
    const double width = largestCircleMm(ground.seam(seam).region);
    const double wanted = wantedMm(ground, seam, width);
    JointForm bolt;
    bolt.kind = JointForm::Kind::DrawBolt;
    const std::vector<double> sizes = sizeSeries(bolt);
    for (auto d = sizes.rbegin(); d != sizes.rend(); ++d)
        for (const Hold hold : {Hold::Insert, Hold::FarNut})
            for (const bool above : {true, false}) {
                if (*d > wanted || *d < smallestChosenMm)
                    continue;
                const auto bolts =
                    spread(ground, seam, boltsAt(ground, seam, sites, *d, above, hold), leastSpreadDiameters * *d);
                if (bolts.empty() || !canBeMade(ground, bolts.front()))
                    continue;
                JointGround with = ground;
                for (const Joint& placed : bolts)
                    with.put(placed);
                Chosen locating = severalDowels(with, seam, sites);
                if (!locating)
                    locating = oneDowel(with, seam, sites);
                if (!locating)
                    continue;
                Chosen chosen{bolts, wordsFor(ground, bolts) + ", and " + locating.text + " to locate them"};
                chosen.joints.insert(chosen.joints.end(), locating.joints.begin(), locating.joints.end());
                return chosen;
            }
    return {{},
            fmt::format("no draw bolt of M{:g} to M{:g} has walls, dowels beside it and a free way for its head",
                        smallestChosenMm, std::max(smallestChosenMm, wanted))};
}

} // namespace quoin::core
