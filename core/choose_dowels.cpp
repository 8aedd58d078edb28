// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/choose_dowels.h"

#include "core/wall_line.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

/// A dowel asks for about this share of the side of a square face of the same area (common practice, no source).
constexpr double sizeShare = 0.16;
/// Reach into each side in diameters, best first.
constexpr std::array<double, 3> reaches{1.5, 1.25, 1.0};
/// Two dowels closer than this many diameters, middle to middle, locate the faces poorly.
constexpr double leastSpreadDiameters = 2.5;
/// From this size on a key is worth its corners.
constexpr double leastKeyMm = 10;
/// A key alone carries what two dowels would: larger by so much (area of two circles in one).
constexpr double keyOfDowel = 1.4;
/// Along a wall: so many diameters from one dowel to the next, and so many at most (common practice, no source).
constexpr double wallSpacingDiameters = 12;
constexpr std::size_t mostAlongWall = 24;
/// Of the places along a wall at least this share must hold a dowel of a size for it to be taken.
constexpr double leastPlacesShare = 0.75;

std::size_t wantedCount(const Seam& seam)
{
    // Two locate; more on large faces share the load (common practice, no source).
    return seam.areaMm2 > 60000 ? 4 : seam.areaMm2 > 15000 ? 3 : 2;
}

/// Places where such a dowel may go.
std::vector<mesh::Vec2> allowed(const JointGround& ground, const std::vector<JointSite>& sites, Joint joint)
{
    std::vector<mesh::Vec2> good;
    const double need = radiusNeededMm(joint.diameterMm, joint.clearanceMm, ground.options().wallMm);
    for (const JointSite& s : sites) {
        joint.at = s.at;
        if (s.freeRadius(joint.depthMm + joint.endClearanceMm) >= need && ground.clear(joint))
            good.push_back(s.at);
    }
    return good;
}

/// The sizes of the series up to one, largest first.
std::vector<double> sizesTo(double largestMm)
{
    std::vector<double> sizes;
    for (auto d = dowelSeriesMm.rbegin(); d != dowelSeriesMm.rend(); ++d)
        if (*d <= largestMm)
            sizes.push_back(*d);
    return sizes;
}

mesh::Vec2 roomiest(const Seam& seam, const std::vector<mesh::Vec2>& places)
{
    return *std::max_element(places.begin(), places.end(), [&](mesh::Vec2 a, mesh::Vec2 b) {
        return mesh::distanceToOutline(seam.region, a) < mesh::distanceToOutline(seam.region, b);
    });
}

JointForm keyForm(mesh::Vec2 at, double diameterMm, double depthMm, JointForm::Section section)
{
    JointForm form;
    form.kind = JointForm::Kind::Key;
    form.at = at;
    form.diameterMm = diameterMm;
    form.depthMm = depthMm;
    form.section = section;
    return form;
}

} // namespace

double dowelWantedMm(const JointGround& ground, std::size_t seam, const DowelWish& wish)
{
    const double wanted = wish.sizeFactor * sizeShare * std::sqrt(ground.seam(seam).areaMm2);
    double diameter = dowelSeriesMm.front();
    for (const double d : dowelSeriesMm)
        if (d <= wanted)
            diameter = d;
    return std::min(diameter, ground.largestAsked(seam).value_or(diameter));
}

JointSites dowelSites(const JointGround& ground, std::size_t seam, const DowelWish& wish)
{
    const double smallest = dowelSeriesMm.front();
    const double clearance = ground.jointOf(seam, JointForm{}).clearanceMm;
    return jointSites(ground.seam(seam), ground.scene().room,
                      {radiusNeededMm(smallest, clearance, ground.options().wallMm),
                       smallest * reaches.back() + boreEndClearanceMm,
                       std::max(dowelWantedMm(ground, seam, wish), smallest) * reaches.front() + boreEndClearanceMm});
}

Chosen severalDowels(const JointGround& ground, std::size_t seam, const std::vector<JointSite>& sites,
                     const DowelWish& wish)
{
    for (const double d : sizesTo(dowelWantedMm(ground, seam, wish)))
        for (const double reach : reaches) {
            const auto places = farApart(allowed(ground, sites, ground.jointOf(seam, dowelForm({0, 0}, d, reach * d))),
                                         wish.countFactor * wantedCount(ground.seam(seam)), leastSpreadDiameters * d);
            if (places.size() < 2)
                continue;
            Chosen chosen;
            for (const mesh::Vec2 at : places)
                chosen.joints.push_back(ground.jointOf(seam, dowelForm(at, d, reach * d)));
            chosen.text = fmt::format("{} dowels of {} mm, {:g} mm into each side, {:.0f} mm apart", places.size(), d,
                                      reach * d, spreadOf(chosen.joints));
            return chosen;
        }
    return {};
}

Chosen oneKey(const JointGround& ground, std::size_t seam, const std::vector<JointSite>& sites,
              JointForm::Section section)
{
    const char* name = section == JointForm::Section::Square ? "square"
                       : section == JointForm::Section::D    ? "D"
                                                             : "cross";
    const double largest = ground.largestAsked(seam).value_or(keyOfDowel * dowelWantedMm(ground, seam));
    for (const double d : sizesTo(largest))
        for (const double reach : reaches) {
            std::vector<mesh::Vec2> good;
            for (const JointSite& s : sites)
                if (ground.fits(ground.jointOf(seam, keyForm(s.at, d, reach * d, section))))
                    good.push_back(s.at);
            if (good.empty())
                continue;
            const mesh::Vec2 at = roomiest(ground.seam(seam), good);
            return {{ground.jointOf(seam, keyForm(at, d, reach * d, section))},
                    fmt::format("1 {} key of {:g} mm, {:g} mm into each side", name, d, reach * d)};
        }
    return {};
}

Chosen oneDowel(const JointGround& ground, std::size_t seam, const std::vector<JointSite>& sites)
{
    for (const double d : sizesTo(dowelWantedMm(ground, seam)))
        for (const double reach : reaches) {
            const auto good = allowed(ground, sites, ground.jointOf(seam, dowelForm({0, 0}, d, reach * d, true)));
            if (good.empty())
                continue;
            const mesh::Vec2 at = roomiest(ground.seam(seam), good);
            const Joint key = ground.jointOf(seam, keyForm(at, d, reach * d, JointForm::Section::D));
            if (d >= leastKeyMm && ground.fits(key))
                return {{key},
                        fmt::format("1 D key of {:g} mm, {:g} mm into each side (room for one joint only; it keeps the "
                                    "pieces from turning)",
                                    d, reach * d)};
            return {{ground.jointOf(seam, dowelForm(at, d, reach * d, true))},
                    fmt::format("1 keyed dowel of {} mm, {:g} mm into each side (room for one only; its flat "
                                "keeps the pieces from turning)",
                                d, reach * d)};
        }
    return {};
}

namespace {

/// As many of the places as hold such a dowel clear of each other.
std::vector<Joint> alongWall(const JointGround& ground, std::size_t seam, const WallLine& wall, double diameterMm,
                             double reach, std::size_t count)
{
    std::vector<Joint> joints;
    for (std::size_t i = 0; i < count; ++i)
        // Where the place itself is taken, or a corner, the nearest one to either side.
        for (const mesh::Vec2 at : wall.placesAbout(i, count)) {
            const Joint joint = ground.jointOf(seam, dowelForm(at, diameterMm, reach * diameterMm));
            const bool apart = std::all_of(joints.begin(), joints.end(), [&](const Joint& other) {
                return mesh::length(other.at - at) >= leastSpreadDiameters * diameterMm;
            });
            if (apart && ground.fits(joint)) {
                joints.push_back(joint);
                break;
            }
        }
    return joints;
}

} // namespace

Chosen wallDowels(const JointGround& ground, std::size_t seam)
{
    const WallLine wall(ground.seam(seam).region);
    if (!wall.isLongAndThin())
        return {};
    for (const double d : sizesTo(dowelWantedMm(ground, seam)))
        for (const double reach : reaches) {
            const double spacing = wallSpacingDiameters * d;
            const auto wanted = static_cast<std::size_t>(std::lround(wall.lengthMm() / spacing));
            const std::size_t count = std::clamp<std::size_t>(wanted, wall.closed() ? 3 : 2, mostAlongWall);
            std::vector<Joint> joints = alongWall(ground, seam, wall, d, reach, count);
            if (joints.size() < 2 || static_cast<double>(joints.size()) < leastPlacesShare * static_cast<double>(count))
                continue;
            std::string text = fmt::format("{} dowels of {} mm, {:g} mm into each side, along the middle of the wall, "
                                           "about {:.0f} mm from one to the next: the section is {:.0f} mm long and "
                                           "{:.1f} mm thick",
                                           joints.size(), d, reach * d, wall.lengthMm() / static_cast<double>(count),
                                           wall.lengthMm(), wall.thicknessMm());
            return {std::move(joints), std::move(text)};
        }
    return {};
}

} // namespace quoin::core
