// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_rod.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

constexpr std::array woodDiameters{3.0,  4.0,  5.0,  6.0,  8.0,  10.0, 12.0, 14.0, 15.0, 16.0,
                                   18.0, 20.0, 22.0, 25.0, 28.0, 30.0, 35.0, 40.0, 50.0};
constexpr std::array steelDiameters{2.0,  3.0,  4.0,  5.0,  6.0,  8.0,  10.0, 12.0, 14.0, 15.0,
                                    16.0, 18.0, 20.0, 22.0, 25.0, 30.0, 35.0, 40.0, 50.0};

const char* rodName(JointForm::Rod rod)
{
    return rod == JointForm::Rod::Wood ? "wood dowel rod" : "drawn round steel bar";
}

/// "10 or 12 mm".
std::string nextSizes(std::span<const double> sizes, double diameterMm)
{
    const auto above = std::lower_bound(sizes.begin(), sizes.end(), diameterMm);
    if (above == sizes.begin())
        return fmt::format("{:g} mm", sizes.front());
    if (above == sizes.end())
        return fmt::format("{:g} mm", sizes.back());
    return fmt::format("{:g} or {:g} mm", *std::prev(above), *above);
}

} // namespace

std::span<const double> rodDiametersMm(JointForm::Rod rod)
{
    switch (rod) {
    case JointForm::Rod::Wood:
        return woodDiameters;
    case JointForm::Rod::Steel:
        return steelDiameters;
    case JointForm::Rod::Printed:
        break;
    }
    return {};
}

Status rodCheck(const Joint& joint)
{
    if (joint.rod == JointForm::Rod::Printed)
        return Done{};
    if (!std::isfinite(joint.diameterMm) || !(joint.depthMm > 0) || !std::isfinite(joint.depthMm))
        return Problem{Reason::BadArgument, "a dowel has a size that is no number", "", "", "Give all sizes in mm."};
    if (joint.keyed)
        return Problem{Reason::BadArgument, fmt::format("a {} is round and can't be keyed", rodName(joint.rod)), "", "",
                       "Print the dowel, or use two."};
    const auto sizes = rodDiametersMm(joint.rod);
    if (std::find(sizes.begin(), sizes.end(), joint.diameterMm) == sizes.end())
        return Problem{Reason::BadArgument,
                       fmt::format("no {} of {:g} mm is sold", rodName(joint.rod), joint.diameterMm), "", "",
                       fmt::format("Take {}.", nextSizes(sizes, joint.diameterMm))};
    return Done{};
}

Result<std::vector<BoughtPart>> rodParts(const Joint& joint)
{
    if (const Status s = rodCheck(joint); !s)
        return s.problem();
    if (joint.rod == JointForm::Rod::Printed)
        return std::vector<BoughtPart>{};
    return std::vector<BoughtPart>{
        {fmt::format("{} {:g} x {:g} mm", rodName(joint.rod), joint.diameterMm, 2 * joint.depthMm)}};
}

} // namespace quoin::core
