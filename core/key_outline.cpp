// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/key_outline.h"

#include "core/profile_stack.h"
#include "mesh/primitives.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using mesh::Loop;
using mesh::Vec2;
using std::numbers::pi;

/// Where the flat of a D stands, as a share of the radius.
constexpr double flatShare = 0.6;
/// Broken edges: as a share of the diameter, and their limits in mm.
constexpr double breakShare = 0.06;
constexpr double leastBreakMm = 0.5;
constexpr double largestBreakMm = 2;
/// No more of the diameter than this goes into a broken edge: a section has to be left.
constexpr double mostBreakShare = 0.15;
constexpr double mostCrossBreakShare = 0.1;
/// Lead-in at the ends, as a share of the diameter, and its limit in mm.
constexpr double leadShare = 0.1;
constexpr double largestLeadMm = 1.5;
/// Sizes that are made, mm.
constexpr double smallestDiameterMm = 4;
constexpr double smallestDepthMm = 2;
/// A foot this much (times the clearance) smaller than the chamfer keeps the clearance: sqrt(2) - 1 between parallel
/// chamfers of 45 degrees, rounded up for the corners, where they are steeper; tapered ones are steeper by the slope.
constexpr double footShare = 0.5;

/// Each corner cut off at so much of both its edges. Edge 2i is the cut of corner i, edge 2i + 1 the rest of the edge
/// to the next corner.
Loop broken(const Loop& corners, const std::vector<double>& cutMm)
{
    Loop out;
    const std::size_t n = corners.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Vec2 in = corners[i] - corners[(i + n - 1) % n], to = corners[(i + 1) % n] - corners[i];
        out.push_back(corners[i] - (cutMm[i] / mesh::length(in)) * in);
        out.push_back(corners[i] + (cutMm[i] / mesh::length(to)) * to);
    }
    return out;
}

const char* sectionName(JointForm::Section section)
{
    return section == JointForm::Section::Square ? "square" : section == JointForm::Section::D ? "D" : "cross";
}

Problem refused(const Joint& joint, const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument,
            fmt::format("a {} key of {:g} mm {}", sectionName(joint.section), joint.diameterMm, what), "", "", remedy};
}

Status numbersMakeSense(const Joint& joint)
{
    for (const double x : {joint.diameterMm, joint.depthMm, joint.taperMm, joint.clearanceMm, joint.endClearanceMm,
                           joint.angle, joint.at.x, joint.at.y})
        if (!std::isfinite(x))
            return refused(joint, "has a size that is no number", "Give all sizes in mm.");
    if (joint.diameterMm < smallestDiameterMm)
        return refused(joint, "is too thin", fmt::format("Make it {:g} mm or more.", smallestDiameterMm));
    if (joint.depthMm < smallestDepthMm)
        return refused(joint, fmt::format("can't reach only {:g} mm deep", joint.depthMm),
                       fmt::format("Make it {:g} mm or deeper.", smallestDepthMm));
    if (joint.taperMm < 0 || joint.clearanceMm < 0 || joint.endClearanceMm < 0)
        return refused(joint, "has a negative taper or clearance", "Give 0 or more.");
    if (joint.chordMm <= 0)
        return refused(joint, "needs a chord error", "Give more than 0 mm.");
    return Done{};
}

/// How far edges are broken: the same everywhere, enough that none vanishes where the section is narrowest or, at the
/// inner corners, widest.
double breakFor(const Joint& joint, double endTaperMm)
{
    const double wish = std::clamp(breakShare * joint.diameterMm, leastBreakMm, largestBreakMm);
    const double widened = 0.75 * (joint.clearanceMm + keyMouthChamferMm);
    // Half of it is left to the pocket, whose cut edge gets shorter by 0.83 times the taper; by 2.83 times where the
    // edge itself isn't tapered, but its neighbours are (a loose cross).
    const bool restsOnEdges = joint.section == JointForm::Section::Cross && !joint.integral;
    const double narrowed = endTaperMm > 0 ? (restsOnEdges ? 4.2 : 1.3) * endTaperMm + 0.1 : 0;
    return std::max({wish, widened, narrowed});
}

} // namespace

KeyOutline::Edges KeyOutline::squareEdges(double radiusMm, double breakMm)
{
    const double half = radiusMm / std::numbers::sqrt2;
    const Loop corners{{half, -half}, {half, half}, {-half, half}, {-half, -half}};
    return {broken(corners, std::vector<double>(4, breakMm)), std::vector<char>(8, 1)};
}

KeyOutline::Edges KeyOutline::crossEdges(double radiusMm, double outerBreakMm, double innerBreakMm)
{
    const auto half = [&](int arm) { return 2 * (arm % 4 == 2 ? keyNarrowArmShare : keyArmShare) * radiusMm; };
    Loop corners;
    std::vector<double> cuts;
    for (int arm = 0; arm < 4; ++arm) {
        const double side = half(arm), end = std::sqrt(radiusMm * radiusMm - side * side);
        for (const auto& [p, cut] : {std::pair{Vec2{end, -side}, outerBreakMm},
                                     {Vec2{end, side}, outerBreakMm},
                                     {Vec2{half(arm + 1), side}, innerBreakMm}}) {
            const Vec2 turned[]{p, {-p.y, p.x}, {-p.x, -p.y}, {p.y, -p.x}};
            corners.push_back(turned[arm]);
            cuts.push_back(cut);
        }
    }
    return {broken(corners, cuts), std::vector<char>(24, 1)};
}

KeyOutline::Edges KeyOutline::roundEdges(double radiusMm, double breakMm, bool pocket, double chordMm)
{
    // Key and pocket share the corners of the arc, so that its facets are parallel; the pocket has one more at either
    // end.
    const double corner = std::acos(flatShare);
    const double first = corner + breakMm / radiusMm;
    const double fullStep = 2 * pi / mesh::sidesForChord(radiusMm, chordMm);
    const int steps = std::max(8, static_cast<int>(std::ceil((2 * pi - 2 * first) / fullStep)));
    const double flatEnd = radiusMm * std::sin(corner) - (pocket ? breakMm / 2 : breakMm);
    Loop outline{{flatShare * radiusMm, -flatEnd}, {flatShare * radiusMm, flatEnd}};
    const auto add = [&](double angle) { outline.push_back({radiusMm * std::cos(angle), radiusMm * std::sin(angle)}); };
    if (pocket)
        add(corner + breakMm / 2 / radiusMm);
    for (int i = 0; i <= steps; ++i)
        add(first + (2 * pi - 2 * first) * i / steps);
    if (pocket)
        add(-corner - breakMm / 2 / radiusMm);
    return {outline, std::vector<char>(outline.size(), 1)};
}

void KeyOutline::setEdges(const Joint& joint, double breakMm)
{
    const double radius = joint.diameterMm / 2;
    std::vector<std::size_t> resting;
    switch (joint.section) {
    case JointForm::Section::Square:
        m_key = squareEdges(radius, breakMm);
        m_pocket = squareEdges(radius, breakMm / 2);
        m_restMm = radius / std::numbers::sqrt2;
        resting = {1};
        break;
    case JointForm::Section::D:
        m_key = roundEdges(radius, breakMm, false, joint.chordMm);
        m_pocket = roundEdges(radius, breakMm, true, joint.chordMm);
        m_restMm = flatShare * radius;
        resting = {0};
        break;
    case JointForm::Section::Cross: {
        m_key = crossEdges(radius, breakMm, breakMm / 2);
        m_pocket = crossEdges(radius, breakMm / 2, breakMm);
        const Vec2 edge = m_key.outline[2];
        m_restAngle = pi / 4;
        m_restMm = (edge.x + edge.y) / std::numbers::sqrt2;
        resting = {2, 6};
        break;
    }
    }
    if (!joint.integral)
        for (const std::size_t i : resting)
            m_key.tapered[i] = m_pocket.tapered[i] = 0;
}

Result<KeyOutline> KeyOutline::of(const Joint& joint)
{
    if (const Status s = numbersMakeSense(joint); !s)
        return s.problem();
    KeyOutline o;
    o.m_clearanceMm = joint.clearanceMm;
    o.m_pocketDepthMm = joint.depthMm + std::max(joint.endClearanceMm, joint.clearanceMm);
    o.m_leadMm = std::min({leadShare * joint.diameterMm, largestLeadMm, joint.depthMm / 4});
    o.m_slope = joint.taperMm / joint.depthMm;
    o.m_footMm = std::max(0.0, keyMouthChamferMm * (1 - 2 * o.m_slope) - footShare * joint.clearanceMm);
    const double breakMm = breakFor(joint, o.m_slope * o.m_pocketDepthMm);
    const double most = joint.section == JointForm::Section::Cross ? mostCrossBreakShare : mostBreakShare;
    if (breakMm > most * joint.diameterMm)
        return refused(joint,
                       fmt::format("is too small for a clearance of {:g} mm and a taper of {:g} mm a side",
                                   joint.clearanceMm, joint.taperMm),
                       "Make it thicker, or give less taper or clearance.");
    o.setEdges(joint, breakMm);
    for (const Loop& outline :
         {o.keyAt(joint.depthMm), o.foot(), o.pocketAt(keyMouthChamferMm), o.pocketAt(o.m_pocketDepthMm), o.mouth()})
        if (outline.empty())
            return refused(joint, "has no section left at its end", "Make it thicker, or give less taper.");
    return o;
}

Loop KeyOutline::moved(const Edges& edges, double outMm, double heightMm, bool clear) const
{
    // A tapered flank leans: its clearance, square to it, is more when measured in the level.
    const double leaning = std::hypot(1, m_slope);
    std::vector<double> distances;
    for (const char tapered : edges.tapered)
        distances.push_back(outMm - (tapered ? m_slope * heightMm : 0) +
                            (clear ? m_clearanceMm * (tapered ? leaning : 1) : 0));
    return movedEdges(edges.outline, distances);
}

Loop KeyOutline::keyAt(double heightMm) const
{
    return moved(m_key, 0, std::fabs(heightMm), false);
}

Loop KeyOutline::foot() const
{
    return moved(m_key, m_footMm, 0, false);
}

Loop KeyOutline::pocketAt(double depthMm) const
{
    return moved(m_pocket, 0, depthMm, true);
}

Loop KeyOutline::mouth() const
{
    return moved(m_pocket, keyMouthChamferMm, 0, true);
}

} // namespace quoin::core
