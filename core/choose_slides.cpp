// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/choose_slides.h"

#include "core/assembly.h"
#include "core/choose_screw.h"
#include "core/joint_clocking.h"
#include "core/joint_size.h"
#include "core/open_way.h"
#include "core/section_forces.h"
#include "core/turning.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace quoin::core {

namespace {

using Kind = JointForm::Kind;
using mesh::Vec2;

/// How far an open end lies from the skin along its way, best first, mm.
constexpr std::array<double, 10> belowSkinMm{0.5, 1, 1.5, 2, 3, 4, 6, 8, 12, 16};
/// Clocking keys: width as a share of the screw's diameter; length in widths, best first; ways that are tried.
constexpr double keyShare = 0.2;
constexpr double leastKeyMm = 4, largestKeyMm = 20;
constexpr std::array<double, 4> keyLengths{4, 3, 2, 1.5};
constexpr int keyWays = 24;
/// Dovetails: width as a share of the narrower width of the face, height as one of the width, length as one of the
/// face's, best first.
constexpr double dovetailShare = 0.4, dovetailHeight = 0.5;
constexpr std::array<double, 4> dovetailLengths{0.75, 0.6, 0.45, 0.3};
constexpr double leastDovetailMm = 8;

/// From a place inside a region along a way to its outline, mm; 0 when it is not inside.
double toOutline(const mesh::Region& region, Vec2 from, Vec2 way)
{
    if (!mesh::contains(region, from))
        return 0;
    double least = 1e300;
    for (const mesh::Loop& loop : region)
        for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
            const Vec2 a = loop[j] - from, edge = loop[i] - loop[j];
            const double turn = mesh::cross(way, edge);
            if (turn == 0)
                continue;
            const double along = mesh::cross(a, edge) / turn, on = mesh::cross(a, way) / turn;
            if (along > 0 && on >= 0 && on <= 1)
                least = std::min(least, along);
        }
    return least < 1e300 ? least : 0;
}

/// Whether a clocking key comes out of the skin nearly square to it: not through a corner, nor at a slant that leaves
/// thin lips. Others may leave as they like.
bool leavesSquarely(const JointGround& ground, const Joint& joint)
{
    constexpr double mostSlant = 0.6; // over the width
    if (joint.kind != Kind::ClockingKey)
        return true;
    const OpenWays ways = openWays(ground.scene(), joint);
    return ways.nutMostMm - ways.nutSkinMm <= mostSlant * joint.diameterMm;
}

/// A joint along a way from a place, its open end as near to the skin as it keeps its rules, no nearer to the place
/// than `leastMm`; the longest of `lengths`.
template <class Lengths>
std::optional<Joint> along(const JointGround& ground, Joint joint, Vec2 from, double angle, double leastMm,
                           const Lengths& lengths, double unitMm)
{
    const Vec2 way{std::cos(angle), std::sin(angle)};
    const double edge = toOutline(ground.scene().seamOf(joint).region, from, way);
    joint.angle = angle;
    for (const double length : lengths)
        for (const double below : belowSkinMm) {
            joint.lengthMm = std::floor(2 * length * unitMm) / 2;
            const double start = edge - below - joint.lengthMm;
            if (start < leastMm)
                continue;
            joint.at = from + start * way;
            if (ground.fits(joint) && leavesSquarely(ground, joint))
                return joint;
        }
    return {};
}

Joint keyOf(const JointGround& ground, std::size_t seam, double widthMm)
{
    JointForm form;
    form.kind = Kind::ClockingKey;
    form.diameterMm = widthMm;
    form.depthMm = widthMm / 2;
    return ground.jointOf(seam, form);
}

double leverOf(const Joint& key, Vec2 centre)
{
    return mesh::length(key.at - centre) + key.lengthMm / 2;
}

/// Why pieces can't slide along the face; empty when they can.
std::string slideObstacle(const JointGround& ground, std::size_t seam, const Joint& dovetail)
{
    const JointScene& scene = ground.scene();
    const TurnObstacle quick = turnObstacleOf(scene.pieces, scene.seams, scene.plan, seam);
    if (!quick)
        return {}; // all of the one side lies on its side of the cut's plane: it slides as it would turn
    std::vector<Joint> joints = ground.joints();
    joints.push_back(dovetail);
    const AssemblyPlan plan = planAssembly(assemblyInput(scene.pieces, scene.plan, scene.seams, joints));
    return plan.complete() ? std::string() : plan.problems.front().text;
}

/// The longest dovetail along a way right across the face; `why` is set where the pieces can't slide.
std::optional<Joint> dovetailAlong(const JointGround& ground, std::size_t seam, const JointForm& form, Vec2 middle,
                                   double angle, std::string& why)
{
    const mesh::Region& region = ground.seam(seam).region;
    const Vec2 way{std::cos(angle), std::sin(angle)};
    const double back = toOutline(region, middle, -1.0 * way), whole = back + toOutline(region, middle, way);
    const auto found = along(ground, ground.jointOf(seam, form), middle, angle, -back, dovetailLengths, whole);
    if (!found)
        return {};
    std::string obstacle = slideObstacle(ground, seam, *found);
    if (obstacle.empty())
        return found;
    why = std::move(obstacle);
    return {};
}

std::string wordsFor(const JointGround& ground, const Joint& dovetail, double widthMm)
{
    const Seam& seam = ground.scene().seamOf(dovetail);
    const int carrier = dovetail.carrierAbove ? seam.pieceAbove : seam.pieceBelow;
    return fmt::format("1 dovetail of {:g} x {:g} mm, {:g} mm high, grown on piece {}, which slides along the face, "
                       "{:.0f} mm wide",
                       dovetail.diameterMm, dovetail.lengthMm, dovetail.depthMm, carrier, widthMm);
}

} // namespace

Chosen clockingKey(const JointGround& ground, std::size_t seam, const Joint& centre)
{
    const double wanted = std::clamp(keyShare * centre.diameterMm, leastKeyMm, largestKeyMm);
    const double inner = mouthRadiusMm(centre) + ground.options().wallMm;
    const std::vector<double> sizes = sizeSeries(keyOf(ground, seam, wanted));
    for (auto d = sizes.rbegin(); d != sizes.rend(); ++d) {
        if (*d > wanted || *d < leastKeyMm)
            continue;
        std::optional<Joint> best;
        double most = 0;
        for (int k = 0; k < keyWays; ++k) {
            const auto key =
                along(ground, keyOf(ground, seam, *d), centre.at, 2 * M_PI * k / keyWays, inner, keyLengths, *d);
            constexpr double better = 1 + 1e-6;
            if (key && leverOf(*key, centre.at) * key->lengthMm > better * most) {
                most = leverOf(*key, centre.at) * key->lengthMm;
                best = key;
            }
        }
        if (!best)
            continue;
        const double play = clockingLayout(*best).value().play(leverOf(*best, centre.at));
        return {{*best},
                fmt::format(
                    "1 clocking key of {:g} x {:g} x {:g} mm let in from outside when they are together, {:.0f} "
                    "mm off its axis: they can't turn by more than {:.1f} degrees either way, and with glue "
                    "not at all",
                    best->diameterMm, 2 * best->depthMm, best->lengthMm, leverOf(*best, centre.at), play * 180 / M_PI)};
    }
    return {{},
            fmt::format("no clocking key of {:g} mm or wider has its walls and a way in from outside beside it",
                        leastKeyMm)};
}

Chosen slidingDovetail(const JointGround& ground, std::size_t seam)
{
    const mesh::Region& region = ground.seam(seam).region;
    const SectionProperties section = sectionProperties(region);
    const double narrow = largestCircleMm(region);
    const double wanted = std::min(dovetailShare * narrow, ground.largestAsked(seam).value_or(1e300));
    JointForm form;
    form.kind = Kind::Dovetail;
    std::string why = fmt::format("no dovetail of {:g} to {:.0f} mm has its walls and a free way out along the face",
                                  leastDovetailMm, std::max(wanted, leastDovetailMm));
    const std::vector<double> sizes = sizeSeries(ground.jointOf(seam, form));
    for (auto d = sizes.rbegin(); d != sizes.rend(); ++d) {
        if (*d > wanted || *d < leastDovetailMm)
            continue;
        form.diameterMm = *d;
        form.depthMm = std::round(2 * dovetailHeight * *d) / 2;
        for (const Vec2 middle : middlePlaces(ground.seam(seam)))
            // The axis of the largest second moment lies across the longer way; out at either end of it, then across.
            for (const double turn : {0.0, M_PI, M_PI / 2, -M_PI / 2})
                for (const bool above : {true, false}) {
                    form.carrierAbove = above;
                    if (auto found =
                            dovetailAlong(ground, seam, form, middle, section.principalAngle + M_PI / 2 + turn, why))
                        return {{*found}, wordsFor(ground, *found, narrow)};
                }
    }
    return {{}, why};
}

} // namespace quoin::core
