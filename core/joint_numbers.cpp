// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_numbers.h"

#include "core/joint_rules.h"
#include "core/thread_mesh.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace quoin::core {

namespace {

/// Of diameters and depths: what no machine prints, and no memory holds the threads of.
constexpr double largestMm = 2000;

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

} // namespace

Status checkNumbers(const Joint& joint)
{
    const double numbers[] = {joint.at.x,      joint.at.y,     joint.angle,   joint.diameterMm,    joint.depthMm,
                              joint.taperMm,   joint.lengthMm, joint.gripMm,  joint.clearanceMm,   joint.endClearanceMm,
                              joint.headOutMm, joint.nutOutMm, joint.chordMm, joint.thread.pitchMm};
    if (!std::ranges::all_of(numbers, [](double n) { return std::isfinite(n); }))
        return refused(fmt::format("a {} has a size that is no number", kindName(joint.kind)), "Give all sizes in mm.");
    for (const auto& [name, mm] : {std::pair("a diameter", joint.diameterMm), std::pair("a depth", joint.depthMm)})
        if (!(mm > 0 && mm <= largestMm))
            return refused(fmt::format("{} of {:g} mm can't be made", name, mm),
                           fmt::format("Take one of up to {:g} mm.", largestMm));
    if (joint.chordMm < finestChordMm || joint.chordMm > coarsestChordMm)
        return refused(
            fmt::format("a {} can't be made to a chord error of {:g} mm", kindName(joint.kind), joint.chordMm),
            fmt::format("Take one of {:g} to {:g} mm.", finestChordMm, coarsestChordMm));
    if (joint.endClearanceMm < 0)
        return refused(
            fmt::format("a {} can't have {:g} mm of room past its end", kindName(joint.kind), joint.endClearanceMm),
            "Give none, or some.");
    if (joint.kind == Joint::Kind::Dowel)
        if (const std::string fault = sizeFault(joint.diameterMm, joint.depthMm); !fault.empty())
            return refused(fault, {});
    return Done{};
}

} // namespace quoin::core
