// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_size.h"

#include "core/hardware.h"
#include "core/joint_defaults.h"
#include "core/joint_envelope.h"
#include "core/joint_rod.h"
#include "core/joint_rules.h"
#include "core/thread_mesh.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

using Kind = JointForm::Kind;

bool threaded(const JointForm& form)
{
    return form.kind == Kind::Screw || form.kind == Kind::Stud;
}

} // namespace

std::string sizeFault(const Joint& joint)
{
    for (const double x : {joint.at.x, joint.at.y, joint.angle})
        if (!std::isfinite(x))
            return "its place or its angle is not a number";
    if (joint.kind != Kind::DrawBolt)
        if (std::string fault = sizeFault(joint.diameterMm, joint.depthMm); !fault.empty())
            return fault;
    if (joint.kind == Kind::Dowel) {
        const Status rod = rodCheck(joint);
        return rod ? std::string() : rod.problem().what + ": " + rod.problem().remedy;
    }
    for (const bool above : {false, true})
        if (const auto side = jointEnvelope(joint, above); !side)
            return side.problem().what + (side.problem().remedy.empty() ? "" : ": " + side.problem().remedy);
    return {};
}

std::vector<double> sizeSeries(const JointForm& form)
{
    std::vector<double> sizes;
    if (form.kind == Kind::DrawBolt) {
        const auto bolts = boltDiametersMm();
        sizes.assign(bolts.begin(), bolts.end());
    } else if (form.kind == Kind::Dowel && form.rod != JointForm::Rod::Printed) {
        const auto rods = rodDiametersMm(form.rod);
        sizes.assign(rods.begin(), rods.end());
    } else if (!threaded(form)) {
        sizes.assign(dowelSeriesMm.begin(), dowelSeriesMm.end());
    } else if (form.thread.trapezoidal) {
        for (const PitchPlanRow& row : trapezoidalPlan())
            if (row.preferred)
                sizes.push_back(row.diameterMm);
    } else {
        for (const PrintableSize& size : printableSizes())
            sizes.push_back(size.diameterMm);
    }
    return sizes;
}

Joint resized(Joint joint, double diameterMm)
{
    if (threaded(joint))
        joint.thread.pitchMm =
            (joint.thread.trapezoidal ? trapezoidalThread(diameterMm) : printableThread(diameterMm)).pitchMm;
    joint.diameterMm = diameterMm;
    return joint;
}

double leastDepthMm(const Joint& joint)
{
    if (joint.kind == Kind::DrawBolt || liesAlongFace(joint))
        return joint.depthMm;
    if (threaded(joint)) {
        const auto least = shortestLengthMm(threadOf(joint), joint.clearanceMm);
        return least ? std::ceil(10 * *least) / 10 : joint.depthMm;
    }
    return std::max(shallowestDowelMm, leastReachDiameters * joint.diameterMm);
}

} // namespace quoin::core
