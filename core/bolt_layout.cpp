// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bolt_layout.h"

#include "core/hardware.h"
#include "core/thread.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

/// The screw reaches this many pitches past its nut.
constexpr double pitchesPastNut = 2;
/// Room beyond the screw's end, at least, mm.
constexpr double beyondEndMm = 1;
/// Least material under the head and over the nut, as a share of the diameter.
constexpr double leastGripShare = 0.5;
/// The bore for the screw's end is narrower than the insert's by this a side, at least, mm.
constexpr double insertLedgeMm = 0.2;

Problem refused(const Joint& joint, const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, fmt::format("a draw bolt M{:g} {}", joint.diameterMm, what), "", "", remedy};
}

Status numbersMakeSense(const Joint& joint)
{
    for (const double x : {joint.diameterMm, joint.depthMm, joint.gripMm, joint.clearanceMm, joint.endClearanceMm,
                           joint.headOutMm, joint.nutOutMm, joint.angle, joint.at.x, joint.at.y})
        if (!std::isfinite(x))
            return refused(joint, "has a size that is no number", "Give all sizes in mm.");
    if (joint.clearanceMm < 0 || joint.endClearanceMm < 0 || joint.clearanceMm > joint.diameterMm / 4)
        return refused(joint, fmt::format("can't have a clearance of {:g} mm", joint.clearanceMm),
                       "Give 0 mm or more, less than a quarter of the diameter.");
    if (joint.chordMm <= 0)
        return refused(joint, "needs a chord error", "Give more than 0 mm.");
    return Done{};
}

/// All that is known of the bought parts.
struct Hardware {
    SocketHeadScrew screw;
    ClearanceHole hole;
    PlainWasher washer;
    HexagonNut nut;
    std::optional<HeatSetInsert> insert;
    double pitchMm;
};

Result<Hardware> hardwareFor(const Joint& joint)
{
    const double d = joint.diameterMm;
    const auto screw = socketHeadScrew(d);
    const auto hole = clearanceHole(d);
    const auto washer = plainWasher(d);
    const auto nut = hexagonNut(d);
    const auto thread = metricThread(d);
    if (!screw || !hole || !washer || !nut || !thread)
        return refused(joint, "is not made", "Take M3 M4 M5 M6 M8 M10 M12 M14 M16 M20 or M24.");
    const auto insert = heatSetInsert(d);
    if (joint.hold == JointForm::Hold::Insert && !insert)
        return refused(joint, "has no heat-set insert", "Take M3 to M10, or a nut.");
    return Hardware{*screw, *hole, *washer, *nut, insert, thread->P};
}

Status placesMakeSense(const Joint& joint, const Hardware& h)
{
    const double least = leastGripShare * joint.diameterMm;
    const bool insert = joint.hold == JointForm::Hold::Insert;
    if (joint.gripMm < least)
        return refused(joint, fmt::format("has too short a grip, {:g} mm", joint.gripMm),
                       fmt::format("Leave {:g} mm or more under the head.", least));
    if (!insert && joint.depthMm < least)
        return refused(joint, fmt::format("has its nut too near the face, {:g} mm", joint.depthMm),
                       fmt::format("Put it {:g} mm or deeper.", least));
    if (insert && joint.depthMm < h.insert->lengthMm)
        return refused(joint, fmt::format("has too shallow a bore for its insert, {:g} mm", joint.depthMm),
                       fmt::format("Make it {:g} mm or deeper.", h.insert->lengthMm));
    if (joint.headOutMm <= joint.gripMm)
        return refused(joint, fmt::format("has no way in for its head: it ends at {:g} mm", joint.headOutMm),
                       fmt::format("Let it go on past the outside, beyond {:g} mm.", joint.gripMm));
    return Done{};
}

Status wayOfNutMakesSense(const Joint& joint, const BoltLayout& layout)
{
    const bool insert = joint.hold == JointForm::Hold::Insert;
    const double from = joint.hold == JointForm::Hold::FarNut ? joint.depthMm : layout.nutCornerMm;
    if (insert || joint.nutOutMm > from)
        return Done{};
    return refused(joint, fmt::format("has no way in for its nut: it ends at {:g} mm", joint.nutOutMm),
                   fmt::format("Let it go on past the outside, beyond {:g} mm.", from));
}

/// The shortest screw that is sold and long enough.
Result<double> lengthFor(const Joint& joint, const Hardware& h, double neededMm)
{
    const auto lengths = screwLengthsMm();
    const auto fits = std::lower_bound(lengths.begin(), lengths.end(), std::max(neededMm, h.screw.shortestMm) - 1e-9);
    if (fits == lengths.end() || *fits > h.screw.longestMm)
        return refused(
            joint, fmt::format("would need a screw of {:.1f} mm; the longest is {:g} mm", neededMm, h.screw.longestMm),
            "Sink the head deeper (a shorter grip), set the nut nearer the face, or take a larger size.");
    const double threadFrom = h.screw.threadFromMm(*fits, h.pitchMm);
    const double nutFrom = h.washer.h + joint.gripMm + (joint.hold == JointForm::Hold::Insert ? 0 : joint.depthMm);
    if (threadFrom > nutFrom)
        return refused(joint,
                       fmt::format("of {:g} mm has no thread in its first {:g} mm, but its {} begins at {:g} mm", *fits,
                                   threadFrom, joint.hold == JointForm::Hold::Insert ? "insert" : "nut", nutFrom),
                       "Make the grip longer.");
    return *fits;
}

} // namespace

double insertEndRadiusMm(const Joint& joint, const BoltLayout& layout)
{
    return std::min(joint.diameterMm / 2 + joint.clearanceMm, layout.insertRadiusMm - insertLedgeMm);
}

Result<BoltLayout> boltLayout(const Joint& joint)
{
    if (const Status s = numbersMakeSense(joint); !s)
        return s.problem();
    const auto h = hardwareFor(joint);
    if (!h)
        return h.problem();
    if (const Status s = placesMakeSense(joint, *h); !s)
        return s.problem();
    const bool insert = joint.hold == JointForm::Hold::Insert;
    BoltLayout l;
    l.boreRadiusMm = h->hole.medium / 2 + joint.clearanceMm;
    l.counterboreRadiusMm = h->washer.d2 / 2 + joint.clearanceMm;
    l.headMm = joint.gripMm + h->washer.h + h->screw.k;
    l.nutFlatMm = h->nut.s / 2 + joint.clearanceMm;
    l.nutCornerMm =
        l.nutFlatMm / std::cos(std::numbers::pi / 6) + (joint.hold == JointForm::Hold::FarNut ? boltCornerReliefMm : 0);
    l.nutFromMm = insert ? 0 : joint.depthMm;
    l.nutToMm = insert ? joint.depthMm : joint.depthMm + h->nut.m + 2 * joint.clearanceMm;
    l.insertRadiusMm = insert ? h->insert->boreMm / 2 : 0;
    l.mouthRadiusMm = std::max(l.insertRadiusMm, l.boreRadiusMm) + boltMouthChamferMm;
    if (const Status s = wayOfNutMakesSense(joint, l); !s)
        return s.problem();
    const double needed = h->washer.h + joint.gripMm +
                          (insert ? h->insert->lengthMm : joint.depthMm + h->nut.m + pitchesPastNut * h->pitchMm);
    const auto length = lengthFor(joint, *h, needed);
    if (!length)
        return length.problem();
    l.lengthMm = *length;
    l.endMm = l.lengthMm - h->washer.h - joint.gripMm;
    l.boreEndMm = l.endMm + std::max(joint.endClearanceMm, beyondEndMm);
    if (insert)
        l.boreEndMm = std::max(l.boreEndMm,
                               l.nutToMm + insertMeltMm + l.insertRadiusMm - insertEndRadiusMm(joint, l) + beyondEndMm);
    return l;
}

Result<std::vector<BoughtPart>> boltParts(const Joint& joint)
{
    const auto layout = boltLayout(joint);
    if (!layout)
        return layout.problem();
    const double d = joint.diameterMm;
    std::vector<BoughtPart> parts{{fmt::format("socket head cap screw ISO 4762 M{:g} x {:g}", d, layout->lengthMm)},
                                  {fmt::format("plain washer ISO 7089 for M{:g}", d)}};
    if (joint.hold == JointForm::Hold::Insert) {
        const HeatSetInsert insert = heatSetInsert(d).value();
        parts.push_back({fmt::format("heat-set insert M{:g}, {:g} mm long, for a bore of {:g} mm", d, insert.lengthMm,
                                     insert.boreMm)});
    } else {
        parts.push_back({fmt::format("hexagon nut ISO 4032 M{:g}", d)});
    }
    return parts;
}

} // namespace quoin::core
