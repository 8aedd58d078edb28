// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "sample_models/heron_part.h"
#include "sample_models/sweep.h"

#include <algorithm>
#include <numbers>

namespace quoin::samples {

using std::numbers::pi;

namespace {

// The blade by distance from the hinge (y, mm).
const Profile leadingX({{0, 18}, {10, 20}, {26, 22.5}, {40, 20.5}, {55, 14.5}, {70, 5}, {size::wingSpan, -9}});
const Profile trailingX({{0, -15}, {10, -18}, {26, -22}, {45, -25}, {62, -27}, {74, -27}, {size::wingSpan, -23}});
const Profile thickness({{0, 6.0}, {20, 5.2}, {50, 3.4}, {size::wingSpan, 2.0}});
const Profile camber({{0, 0.015}, {12, 0.03}, {35, 0.06}, {size::wingSpan, 0.045}});
const Profile archZ({{0, 0}, {12, 0.3}, {40, 3.6}, {60, 4.0}, {size::wingSpan, 1.5}});
/// How far the feathers' gaps reach in from the trailing edge, mm.
const Profile featherDepth({{8, 0}, {16, 1.8}, {40, 3.2}, {60, 5.0}, {size::wingSpan, 6.5}});

/// The blade begins beside the hinge axis: a face through the axis would meet the corners of round tools.
constexpr double bladeFrom = 0.613;
constexpr double feathersFrom = 9; // mm from the hinge
constexpr int feathers = 11;
constexpr double tipFrom = 0.955;   // of the span
constexpr double edgeHalfMm = 0.75; // half of the least thickness near the edges

/// 0 in the middle of a feather, 1 in the gap between two; feathers get broader towards the tip.
double featherGap(double y)
{
    const double u = std::clamp((y - feathersFrom) / (size::wingSpan - feathersFrom), 0.0, 1.0);
    const double phase = feathers * (1.25 * u - 0.25 * u * u);
    return 1 - std::pow(std::abs(std::sin(pi * phase)), 0.75);
}

/// One section across the span: a rounded blade with its greatest thickness ahead of the middle.
std::vector<Vec3> bladeRing(double y, double round)
{
    constexpr int corners = 72;
    const double gap = featherGap(y);
    const double lead = leadingX(y), trail = trailingX(y) + featherDepth(y) * gap;
    const double middle = 0.45 * lead + 0.55 * trail;
    const double nose = middle + round * (lead - middle), tail = middle + round * (trail - middle);
    const double chord = nose - tail;
    std::vector<Vec3> ring;
    for (int k = 0; k < corners; ++k) {
        const double angle = 2 * pi * k / corners;
        const double s = (1 - std::cos(angle)) / 2; // 0 at the nose, 1 at the trailing edge
        const double bulge = std::pow(std::abs(std::sin(angle)), 0.75);
        // Feathers lie as faint ridges over the rear half.
        const double ridge = 1 - 0.22 * gap * std::clamp((s - 0.3) / 0.3, 0.0, 1.0);
        const double half =
            std::max(0.5 * thickness(y) * (1.12 - 0.75 * s) * ridge, edgeHalfMm) * bulge * std::sqrt(round);
        const double z = archZ(y) + camber(y) * chord * 4 * s * (1 - s);
        ring.push_back({nose - chord * s, y, z + (angle < pi ? half : -half)});
    }
    return ring;
}

Mesh blade()
{
    std::vector<std::vector<Vec3>> rings;
    for (const double t : stationsToTip(220, 20, tipFrom))
        rings.push_back(bladeRing(bladeFrom + t * (size::wingSpan - bladeFrom), roundingAtEnd(t, tipFrom)));
    const std::vector<Vec3> last = bladeRing(size::wingSpan, 0.01);
    Vec3 sum{0, 0, 0};
    for (const Vec3 p : last)
        sum = sum + p;
    rings.push_back({sum / static_cast<double>(last.size())});
    return mesh::loft(rings);
}

/// The two lugs under the blade that hold the rod's end between them.
Mesh lugs(double rodX)
{
    using namespace size;
    const Outline outline = linkOutline({leverY, leverZ}, leverEye, {leverY, 0.2}, 2);
    const double inner = rodThickness / 2 + sideGap, outer = inner + lugThickness;
    constexpr double chamfer = 0.4;
    return together({raisedAlongX(outline, rodX + inner, rodX + outer, 0, chamfer),
                     raisedAlongX(outline, rodX - outer, rodX - inner, chamfer, 0)});
}

/// Cuts the blade away where the body's knuckles are.
Mesh knuckleRooms()
{
    using namespace size;
    // The hub's ends stand out of the blade, so that only they rub.
    constexpr double room = 1.0, far = 40, start = hubHalf - hingeRelief;
    const Outline outline = circleOutline({0, 0}, hubRadius + room, 0.25);
    return together({raisedAlongX(outline, start, far), raisedAlongX(outline, -far, -start)});
}

Mesh leftWing(double rodX)
{
    using namespace size;
    constexpr double chamfer = 0.5;
    const Mesh hub = raisedAlongX(circleOutline({0, 0}, hubRadius), -hubHalf, hubHalf, chamfer, chamfer);
    const Mesh solid = fused(without(blade(), knuckleRooms()), together({hub, lugs(rodX)}));
    const double reach = rodThickness / 2 + sideGap + lugThickness + 1;
    return without(solid,
                   together({boreAlongX({0, 0}, wingPinRadius + runningFit, -hubHalf - 1, hubHalf + 1),
                             boreAlongX({leverY, leverZ}, rodPinRadius + runningFit, rodX - reach, rodX + reach)}));
}

} // namespace

HeronPart heronWing(bool left)
{
    using namespace size;
    // The right wing is the left one's mirror image but for the plane of its rod.
    const double rodX = (left ? leftRodX : rightRodX) - hingeX;
    const double sign = left ? 1 : -1;
    Mesh solid = leftWing(rodX);
    if (!left) {
        Transform mirror;
        mirror.m[5] = -1;
        solid = transformed(solid, mirror);
    }
    std::vector<HeronAxis> axes{{"wing-pin", {0, 0, 0}, {1, 0, 0}, wingPinRadius + runningFit, true}};
    const double lug = rodThickness / 2 + sideGap + lugThickness / 2;
    for (const double x : {rodX - lug, rodX + lug})
        axes.push_back({"rod-pin", {x, sign * leverY, leverZ}, {1, 0, 0}, rodPinRadius + runningFit, true});
    // Printed on its back, lugs up.
    return heronPart(left ? "wing-left" : "wing-right", solid, quarterTurns({1, 0, 0}, 2),
                     left ? Link::LeftWing : Link::RightWing, axes);
}

} // namespace quoin::samples
