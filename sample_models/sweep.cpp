// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample_models/sweep.h"

#include <algorithm>
#include <numbers>
#include <stdexcept>

namespace quoin::samples {

using std::numbers::pi;

Profile::Profile(std::vector<Vec2> knots) : m_knots(std::move(knots)), m_slopes(m_knots.size(), 0.0)
{
    if (m_knots.size() < 2)
        throw std::invalid_argument("a profile needs two knots");
    const std::size_t n = m_knots.size();
    const auto secant = [&](std::size_t i) {
        return (m_knots[i + 1].y - m_knots[i].y) / (m_knots[i + 1].x - m_knots[i].x);
    };
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const double a = secant(i - 1), b = secant(i);
        // The harmonic mean keeps within Fritsch and Carlson's region of monotone slopes.
        m_slopes[i] = a * b > 0 ? 2 * a * b / (a + b) : 0;
    }
    m_slopes.front() = secant(0);
    m_slopes.back() = secant(n - 2);
}

double Profile::operator()(double t) const
{
    if (t <= m_knots.front().x)
        return m_knots.front().y;
    if (t >= m_knots.back().x)
        return m_knots.back().y;
    const auto next = std::upper_bound(m_knots.begin(), m_knots.end(), t, [](double v, Vec2 k) { return v < k.x; });
    const auto i = static_cast<std::size_t>(next - m_knots.begin()) - 1;
    const double width = m_knots[i + 1].x - m_knots[i].x;
    const double u = (t - m_knots[i].x) / width;
    const double h = u * u * (3 - 2 * u);
    return (1 - h) * m_knots[i].y + h * m_knots[i + 1].y +
           width * u * (1 - u) * ((1 - u) * m_slopes[i] - u * m_slopes[i + 1]);
}

Path::Path(std::vector<Vec3> points, std::optional<Vec3> startDirection, std::optional<Vec3> endDirection)
    : m_points(std::move(points)), m_knots(m_points.size(), 0.0), m_bend(m_points.size(), Vec3{0, 0, 0})
{
    const std::size_t n = m_points.size();
    if (n < 3)
        throw std::invalid_argument("a path needs three points");
    for (std::size_t i = 1; i < n; ++i)
        m_knots[i] = m_knots[i - 1] + length(m_points[i] - m_points[i - 1]);
    const auto width = [&](std::size_t i) { return m_knots[i + 1] - m_knots[i]; };
    const auto secant = [&](std::size_t i) { return (m_points[i + 1] - m_points[i]) / width(i); };
    // The tridiagonal system of the second derivatives, solved by elimination from the front.
    std::vector<double> upper(n, 0.0);
    const auto eliminate = [&](std::size_t i, double below, double diagonal, double above, Vec3 right) {
        const double pivot = diagonal - (i > 0 ? below * upper[i - 1] : 0);
        upper[i] = above / pivot;
        m_bend[i] = (right - (i > 0 ? below * m_bend[i - 1] : Vec3{0, 0, 0})) / pivot;
    };
    if (startDirection)
        eliminate(0, 0, width(0) / 3, width(0) / 6, secant(0) - normalized(*startDirection));
    else
        eliminate(0, 0, 1, 0, {0, 0, 0});
    for (std::size_t i = 1; i + 1 < n; ++i)
        eliminate(i, width(i - 1) / 6, (width(i - 1) + width(i)) / 3, width(i) / 6, secant(i) - secant(i - 1));
    if (endDirection)
        eliminate(n - 1, width(n - 2) / 6, width(n - 2) / 3, 0, normalized(*endDirection) - secant(n - 2));
    else
        eliminate(n - 1, 0, 1, 0, {0, 0, 0});
    for (std::size_t i = n - 1; i-- > 0;)
        m_bend[i] = m_bend[i] - upper[i] * m_bend[i + 1];
}

Path::Place Path::locate(double t) const
{
    const double s = std::clamp(t, 0.0, 1.0) * m_knots.back();
    const auto next = std::upper_bound(m_knots.begin() + 1, m_knots.end() - 1, s);
    const auto i = static_cast<std::size_t>(next - m_knots.begin()) - 1;
    return {i, s - m_knots[i], m_knots[i + 1] - s, m_knots[i + 1] - m_knots[i]};
}

Vec3 Path::at(double t) const
{
    const auto [i, from, to, width] = locate(t);
    const double a = to / width, b = from / width;
    return a * m_points[i] + b * m_points[i + 1] +
           width * width / 6 * ((a * a * a - a) * m_bend[i] + (b * b * b - b) * m_bend[i + 1]);
}

Vec3 Path::tangent(double t) const
{
    const auto [i, from, to, width] = locate(t);
    const double a = to / width, b = from / width;
    return normalized((m_points[i + 1] - m_points[i]) / width +
                      width / 6 * ((1 - 3 * a * a) * m_bend[i] + (3 * b * b - 1) * m_bend[i + 1]));
}

std::vector<Vec3> sectionRing(Vec3 centre, Vec3 tangent, Section section, int sides)
{
    const Vec3 sideways{0, 1, 0};
    const Vec3 upward = cross(tangent, sideways);
    std::vector<Vec3> ring;
    for (int k = 0; k < sides; ++k) {
        const double angle = 2 * pi * k / sides;
        const double height = std::sin(angle) * (std::sin(angle) > 0 ? section.up : section.down);
        ring.push_back(centre + section.side * std::cos(angle) * sideways + height * upward);
    }
    return ring;
}

double roundingAtEnd(double t, double start)
{
    if (t <= start)
        return 1;
    const double u = std::min((t - start) / (1 - start), 1.0);
    return std::sqrt(1 - u * u);
}

std::vector<double> stationsToTip(int straight, int round, double start)
{
    std::vector<double> stations;
    for (int i = 0; i < straight; ++i)
        stations.push_back(start * i / straight);
    for (int i = 0; i < round; ++i)
        stations.push_back(start + (1 - start) * std::sin(pi / 2 * i / round));
    return stations;
}

} // namespace quoin::samples
