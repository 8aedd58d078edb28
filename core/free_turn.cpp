// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/free_turn.h"

#include "mesh/plane.h"

#include <algorithm>
#include <numbers>
#include <random>

namespace quoin::core {

using mesh::Buffer;
using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr std::size_t mostFaceStarts = 60;
constexpr int evenStarts = 200;
constexpr int turnsAboutDiagonal = 24;
/// Point visits that improving may take, about: a box gets every start improved, a hull of thousands only a few.
constexpr std::size_t pointVisits = 10'000'000;
constexpr std::size_t visitsAStart = 400;
constexpr std::size_t fewestImproved = 12;

/// Corners whose reach is this close to the furthest take part in a step: from a share of the room down to mm.
constexpr double firstNearShare = 0.05;
constexpr double lastNearMm = 1e-7;
constexpr int mostHalvings = 8;
constexpr int gilbertSteps = 60;

/// Round beds: random turns from about 9 degrees down to what moves a point of a 1 m piece by 1e-4 mm.
constexpr double firstStepRadians = 0.15;
constexpr double lastStepRadians = 1e-7;
constexpr int triesAtAStep = 12;

BedAxes turned(const BedAxes& axes, Vec3 rotationVector)
{
    const Transform turn = Transform::rotation(rotationVector, length(rotationVector));
    return {turn.direction(axes[0]), turn.direction(axes[1]), turn.direction(axes[2])};
}

/// The two points furthest apart, by walking from end to end; close to the diameter, which is all a start needs.
Vec3 longestDiagonal(const Buffer<Vec3>& points)
{
    Vec3 from = points[0], best{0, 0, 0};
    for (;;) {
        const auto nearer = [&](Vec3 a, Vec3 b) { return length(a - from) < length(b - from); };
        const Vec3 to = *std::max_element(points.begin(), points.end(), nearer);
        if (length(to - from) <= length(best))
            return best;
        best = to - from;
        from = to;
    }
}

/// Lays a direction of the piece along a direction of the bed, turned about it.
BedAxes layingAlong(Vec3 ofPiece, Vec3 ofBed, double radians)
{
    const Transform t = Transform::rotation(ofBed, radians) * Transform::turning(ofPiece, ofBed);
    const Transform back = t.rigidInverse();
    return {back.direction({1, 0, 0}), back.direction({0, 1, 0}), back.direction({0, 0, 1})};
}

/// Evenly spread rotation from three numbers in [0, 1) (Shoemake 1992, Uniform random rotations).
BedAxes evenRotation(double u1, double u2, double u3)
{
    const double a = 2 * std::numbers::pi * u2, b = 2 * std::numbers::pi * u3;
    const double r = std::sqrt(1 - u1), s = std::sqrt(u1);
    const double x = r * std::sin(a), y = r * std::cos(a), z = s * std::sin(b), w = s * std::cos(b);
    return {Vec3{1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)},
            Vec3{2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)},
            Vec3{2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)}};
}

/// A number in [0, 1) that is the same on every machine (std::uniform_real_distribution need not be).
double unitFrom(std::mt19937& random)
{
    return static_cast<double>(random()) / 4294967296.0;
}

Vec3 randomStep(std::mt19937& random, double radians)
{
    const double z = 2 * unitFrom(random) - 1, a = 2 * std::numbers::pi * unitFrom(random);
    const double r = std::sqrt(1 - z * z);
    return radians * Vec3{r * std::cos(a), r * std::sin(a), z};
}

std::vector<Standing> starts(const Buffer<Vec3>& points, const std::vector<Vec3>& directions, const BedRoom& room,
                             std::mt19937& random)
{
    std::vector<Standing> out;
    const auto add = [&](const BedAxes& axes) { out.push_back({axes, slackOf(points, axes, room)}); };
    for (std::size_t i = 0; i < std::min(mostFaceStarts, directions.size()); ++i)
        out.push_back(standOn(points, directions[i], room));
    const Vec3 diagonal = longestDiagonal(points);
    const double up = room.heightMm, x = room.widthMm, y = room.round ? 0 : room.depthMm;
    for (const Vec3 along : {Vec3{x, y, up}, Vec3{x, y, 0}, Vec3{x, 0, up}, Vec3{0, y, up}})
        for (int k = 0; k < turnsAboutDiagonal && length(along) > 0; ++k)
            add(layingAlong(diagonal, along, 2 * std::numbers::pi * k / turnsAboutDiagonal));
    for (int i = 0; i < evenStarts; ++i) {
        const double u1 = unitFrom(random), u2 = unitFrom(random);
        add(evenRotation(u1, u2, unitFrom(random)));
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const Standing& a, const Standing& b) { return a.slackMm > b.slackMm; });
    return out;
}

/// The corners that reach furthest both ways along one axis of the bed, nearly, as rates: how fast the room left
/// along it changes with a small turn (mm a radian, as a vector over turns).
struct Rates {
    std::vector<Vec3> high, low;
};

/// Rates along the axes that leave the least room, nearly.
std::vector<Rates> nearRates(const Buffer<Vec3>& points, const BedAxes& axes, const BedRoom& room, double nearMm)
{
    const std::array<double, 3> sides{room.widthMm, room.depthMm, room.heightMm};
    std::array<double, 3> low{1e300, 1e300, 1e300}, high{-1e300, -1e300, -1e300};
    for (const Vec3 p : points)
        for (std::size_t i = 0; i < 3; ++i) {
            low[i] = std::min(low[i], dot(axes[i], p));
            high[i] = std::max(high[i], dot(axes[i], p));
        }
    double least = 1e300;
    for (std::size_t i = 0; i < 3; ++i)
        least = std::min(least, sides[i] - (high[i] - low[i]));
    std::vector<Rates> out;
    for (std::size_t i = 0; i < 3; ++i) {
        if (sides[i] - (high[i] - low[i]) > least + nearMm)
            continue;
        Rates rates;
        for (const Vec3 p : points) {
            const double d = dot(axes[i], p);
            if (d >= high[i] - nearMm)
                rates.high.push_back(-cross(axes[i], p));
            if (d <= low[i] + nearMm)
                rates.low.push_back(cross(axes[i], p));
        }
        out.push_back(std::move(rates));
    }
    return out;
}

/// The shortest vector of the convex hull of all rates (Gilbert 1966): the turn that gains most for the worst of them.
Vec3 steepestTurn(const std::vector<Rates>& rates)
{
    const auto least = [](const std::vector<Vec3>& v, Vec3 along) {
        return *std::min_element(v.begin(), v.end(), [&](Vec3 a, Vec3 b) { return dot(a, along) < dot(b, along); });
    };
    const auto extreme = [&](Vec3 along) {
        Vec3 best = least(rates[0].high, along) + least(rates[0].low, along);
        for (const Rates& r : rates) {
            const Vec3 other = least(r.high, along) + least(r.low, along);
            if (dot(other, along) < dot(best, along))
                best = other;
        }
        return best;
    };
    Vec3 v = extreme({1, 0, 0});
    for (int step = 0; step < gilbertSteps; ++step) {
        const Vec3 w = extreme(v), d = w - v;
        if (!(dot(v, d) < 0))
            break;
        v = v + std::min(1.0, -dot(v, d) / dot(d, d)) * d;
    }
    return v;
}

/// Steepest ascent of the least room over near-active corners (Demyanov's epsilon-steepest descent, turned over).
void improve(Standing& standing, const Buffer<Vec3>& points, const BedRoom& room)
{
    double near = firstNearShare * std::min({room.widthMm, room.depthMm, room.heightMm});
    while (near > lastNearMm && standing.slackMm < 0) {
        const Vec3 turn = steepestTurn(nearRates(points, standing.axes, room, near));
        const double gain = length(turn);
        bool better = false;
        double radians = gain > 0 ? std::min(1.0, 2 * near / gain) : 0;
        for (int k = 0; k < mostHalvings && radians > 0 && !better; ++k, radians /= 2) {
            const BedAxes axes = turned(standing.axes, radians / gain * turn);
            const double slack = slackOf(points, axes, room);
            better = slack > standing.slackMm;
            if (better)
                standing = {axes, slack};
        }
        if (!better)
            near /= 2;
    }
}

/// Small random turns; one that helped is made again and longer.
void improveOnRound(Standing& standing, const Buffer<Vec3>& points, const BedRoom& room, std::mt19937& random)
{
    for (double step = firstStepRadians; step > lastStepRadians && standing.slackMm < 0; step /= 2)
        for (int i = 0; i < triesAtAStep && standing.slackMm < 0; ++i)
            for (Vec3 turn = randomStep(random, step);; turn = 2 * turn) {
                const BedAxes axes = turned(standing.axes, turn);
                const double slack = slackOf(points, axes, room);
                if (slack <= standing.slackMm)
                    break;
                standing = {axes, slack};
            }
}

} // namespace

Standing freeTurn(const mesh::Mesh& hull, const std::vector<Vec3>& directions, const BedRoom& room, double effort)
{
    std::mt19937 random(1);
    std::vector<Standing> tried = starts(hull.points, directions, room, random);
    Standing best = tried.front();
    const double affordable = effort * static_cast<double>(pointVisits / (visitsAStart * hull.points.size()));
    const std::size_t improved = std::max(fewestImproved, static_cast<std::size_t>(affordable));
    tried.resize(std::min(tried.size(), improved));
    for (Standing& standing : tried) {
        if (best.slackMm >= 0)
            break;
        if (room.round)
            improveOnRound(standing, hull.points, room, random);
        else
            improve(standing, hull.points, room);
        if (standing.slackMm > best.slackMm)
            best = standing;
    }
    return best;
}

Standing turnedFurther(Standing start, const Buffer<Vec3>& points, const BedRoom& room)
{
    std::mt19937 random(1);
    if (room.round)
        improveOnRound(start, points, room, random);
    else
        improve(start, points, room);
    return start;
}

} // namespace quoin::core
