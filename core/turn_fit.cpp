// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/turn_fit.h"

#include "mesh/hull.h"

#include <algorithm>
#include <array>
#include <numbers>

namespace quoin::core {

using mesh::Loop;
using mesh::Vec2;

namespace {

constexpr double quarter = std::numbers::pi / 2;

/// Turns in [0, quarter) that bring an edge along the frame, sorted.
std::vector<double> criticalTurns(const Loop& polygon)
{
    std::vector<double> turns;
    for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
        const Vec2 e = polygon[i] - polygon[j];
        // The edge turned by quarters into the first quadrant: an edge along an axis gives exactly 0.
        const Vec2 first = std::abs(e.x) == 0 || std::abs(e.y) == 0 ? Vec2{1, 0}
                           : e.x * e.y > 0                          ? Vec2{std::abs(e.x), std::abs(e.y)}
                                                                    : Vec2{std::abs(e.y), std::abs(e.x)};
        turns.push_back(std::atan2(first.y, first.x));
    }
    std::sort(turns.begin(), turns.end());
    turns.erase(std::unique(turns.begin(), turns.end()), turns.end());
    return turns;
}

/// The four corners that touch a frame turned by an angle: furthest along x, y, -x, -y of the frame.
class Calipers {
public:
    explicit Calipers(const Loop& polygon) : m_polygon(polygon) {}

    void turnTo(double radians)
    {
        Vec2 direction{std::cos(radians), std::sin(radians)};
        for (std::size_t& corner : m_corners) {
            corner = m_started ? climbed(corner, direction) : furthest(direction);
            direction = {-direction.y, direction.x};
        }
        m_started = true;
    }
    Vec2 across() const { return m_polygon[m_corners[0]] - m_polygon[m_corners[2]]; }
    Vec2 along() const { return m_polygon[m_corners[1]] - m_polygon[m_corners[3]]; }

private:
    std::size_t furthest(Vec2 direction) const
    {
        const auto less = [&](Vec2 a, Vec2 b) { return dot(a, direction) < dot(b, direction); };
        return static_cast<std::size_t>(std::max_element(m_polygon.begin(), m_polygon.end(), less) - m_polygon.begin());
    }
    std::size_t climbed(std::size_t corner, Vec2 direction) const
    {
        for (std::size_t steps = 0; steps < m_polygon.size(); ++steps) {
            const std::size_t next = (corner + 1) % m_polygon.size();
            if (dot(m_polygon[next] - m_polygon[corner], direction) <= 0)
                break;
            corner = next;
        }
        return corner;
    }

    const Loop& m_polygon;
    std::array<std::size_t, 4> m_corners{};
    bool m_started = false;
};

/// The best turn seen so far. The frame is turned against the polygon.
class Best {
public:
    Best(double widthMm, double depthMm) : m_width(widthMm), m_depth(depthMm) {}

    /// Looks at a turn of the frame, and at a quarter more, where the polygon's corners touch as given.
    void look(double radians, Vec2 across, Vec2 along)
    {
        const double c = std::cos(radians), s = std::sin(radians);
        const double x = across.x * c + across.y * s, y = along.y * c - along.x * s;
        take(radians, std::min(m_width - x, m_depth - y));
        take(radians + quarter, std::min(m_width - y, m_depth - x));
    }
    double radians() const { return m_radians; }

private:
    void take(double radians, double slack)
    {
        if (slack > m_slack) {
            m_slack = slack;
            m_radians = radians;
        }
    }
    double m_width, m_depth;
    double m_slack = -1e300, m_radians = 0;
};

/// Turns in [from, to] where a cos t + b sin t = value.
std::vector<double> solutions(double a, double b, double value, double from, double to)
{
    std::vector<double> out;
    const double size = std::hypot(a, b);
    if (size == 0 || std::abs(value) > size)
        return out;
    const double middle = std::atan2(b, a), half = std::acos(value / size);
    for (const double t : {middle - half, middle + half}) {
        const double round = 2 * std::numbers::pi;
        const double turned = from + std::remainder(t - from - std::numbers::pi, round) + std::numbers::pi;
        if (turned <= to)
            out.push_back(turned);
    }
    return out;
}

double slackAt(const Loop& polygon, double radians, double widthMm, double depthMm)
{
    const double c = std::cos(radians), s = std::sin(radians);
    double lowX = 1e300, highX = -1e300, lowY = 1e300, highY = -1e300;
    for (const Vec2 p : polygon) {
        const double x = p.x * c - p.y * s, y = p.x * s + p.y * c;
        lowX = std::min(lowX, x);
        highX = std::max(highX, x);
        lowY = std::min(lowY, y);
        highY = std::max(highY, y);
    }
    return std::min(widthMm - (highX - lowX), depthMm - (highY - lowY));
}

} // namespace

TurnFit bestTurn(const std::vector<Vec2>& points, double widthMm, double depthMm)
{
    const Loop polygon = mesh::convexHull(points);
    if (polygon.size() < 2)
        return {0, std::min(widthMm, depthMm)};
    const std::vector<double> turns = criticalTurns(polygon);
    Calipers calipers(polygon);
    Best best(widthMm, depthMm);
    const double difference = widthMm - depthMm;
    for (std::size_t i = 0; i < turns.size(); ++i) {
        const double from = turns[i], to = i + 1 < turns.size() ? turns[i + 1] : turns[0] + quarter;
        calipers.turnTo((from + to) / 2);
        const Vec2 across = calipers.across(), along = calipers.along();
        best.look(from, across, along);
        best.look(to, across, along);
        // Extent across less extent along, as a cos t + b sin t: equal slacks as the frame stands, and a quarter on.
        const double a = across.x - along.y, b = across.y + along.x;
        for (const double value : {difference, -difference})
            for (const double t : solutions(a, b, value, from, to))
                best.look(t, across, along);
    }
    const double radians = -std::remainder(best.radians(), 2 * std::numbers::pi);
    return {radians, slackAt(polygon, radians, widthMm, depthMm)};
}

} // namespace quoin::core
