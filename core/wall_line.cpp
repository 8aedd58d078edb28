// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/wall_line.h"

#include "core/section_forces.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// Area over the square of the greatest thickness, from which on a section is a wall.
constexpr double longAndThin = 12;
/// Places looked at along the outline.
constexpr int places = 400;
/// The outline must be as near to the middle as half the wall, up to this.
constexpr double ridgeShare = 0.95;
constexpr double offOutlineMm = 1e-6;

struct Place {
    mesh::Vec2 at, inward;
};

/// Evenly spaced places along a loop with the normal to its left.
std::vector<Place> along(const mesh::Loop& loop)
{
    double length = 0;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++)
        length += mesh::length(loop[i] - loop[j]);
    std::vector<Place> found;
    const double step = length / places;
    double ahead = step / 2;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const mesh::Vec2 edge = loop[i] - loop[j];
        const double l = mesh::length(edge);
        for (; ahead < l; ahead += step)
            found.push_back({loop[j] + (ahead / l) * edge, (1 / l) * mesh::Vec2{-edge.y, edge.x}});
        ahead -= l;
    }
    return found;
}

/// Along a ray to the next edge of a region; infinite when there is none.
double across(const mesh::Region& region, mesh::Vec2 from, mesh::Vec2 way)
{
    double least = 1e300;
    for (const mesh::Loop& loop : region)
        for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
            const mesh::Vec2 edge = loop[i] - loop[j], to = loop[j] - from;
            const double turn = mesh::cross(way, edge);
            if (turn == 0)
                continue;
            const double distance = mesh::cross(to, edge) / turn, share = mesh::cross(to, way) / turn;
            if (distance > offOutlineMm && share >= 0 && share <= 1)
                least = std::min(least, distance);
        }
    return least;
}

} // namespace

WallLine::WallLine(const mesh::Region& region)
{
    const double thickest = largestCircleMm(region);
    m_longAndThin = thickest > 0 && mesh::area(region) > longAndThin * thickest * thickest;
    if (!m_longAndThin)
        return;
    m_closed = region.size() > 1;
    follow(region);
    if (!m_closed)
        openUp();
    m_along.assign(m_line.size(), 0);
    for (std::size_t i = 1; i < m_line.size(); ++i)
        m_along[i] = m_along[i - 1] + mesh::length(m_line[i] - m_line[i - 1]);
    m_longAndThin = m_line.size() > 2;
    if (m_longAndThin)
        m_lengthMm = m_along.back() + (m_closed ? mesh::length(m_line.front() - m_line.back()) : 0);
}

void WallLine::follow(const mesh::Region& region)
{
    const auto outer = std::max_element(region.begin(), region.end(), [](const mesh::Loop& a, const mesh::Loop& b) {
        return mesh::signedArea(a) < mesh::signedArea(b);
    });
    std::vector<double> thick;
    for (const Place& place : along(*outer)) {
        const double wall = across(region, place.at, place.inward);
        const mesh::Vec2 middle = place.at + wall / 2 * place.inward;
        if (wall > 1e299 || mesh::distanceToOutline(region, middle) < ridgeShare * wall / 2)
            continue;
        m_line.push_back(middle);
        thick.push_back(wall);
    }
    if (thick.empty())
        return;
    std::nth_element(thick.begin(), thick.begin() + static_cast<std::ptrdiff_t>(thick.size() / 2), thick.end());
    m_thicknessMm = thick[thick.size() / 2];
}

void WallLine::openUp()
{
    const std::size_t n = m_line.size(), half = n / 2;
    if (half < 2)
        return;
    std::size_t start = 0;
    double best = 1e300;
    for (std::size_t s = 0; s < n; ++s) {
        double sum = 0;
        for (std::size_t k = 1; k <= half; ++k)
            sum += mesh::length(m_line[(s + k) % n] - m_line[(s + n - k) % n]);
        if (sum < best) {
            best = sum;
            start = s;
        }
    }
    std::rotate(m_line.begin(), m_line.begin() + static_cast<std::ptrdiff_t>(start), m_line.end());
    m_line.resize(half + 1);
}

mesh::Vec2 WallLine::placeAt(double alongMm) const
{
    double at = m_closed ? std::fmod(std::fmod(alongMm, m_lengthMm) + m_lengthMm, m_lengthMm)
                         : std::clamp(alongMm, 0.0, m_lengthMm);
    const auto after = std::upper_bound(m_along.begin(), m_along.end(), at);
    const auto i = static_cast<std::size_t>(after - m_along.begin());
    const bool last = after == m_along.end();
    if (last && !m_closed)
        return m_line.back();
    const double to = last ? m_lengthMm : m_along[i], from = m_along[i - 1];
    const double share = to > from ? (at - from) / (to - from) : 0;
    const mesh::Vec2 a = m_line[i - 1], b = last ? m_line.front() : m_line[i];
    return a + share * (b - a);
}

std::vector<mesh::Vec2> WallLine::placesAbout(std::size_t i, std::size_t count) const
{
    constexpr int tries = 8;
    const double spacing = m_lengthMm / static_cast<double>(count);
    const double middle = (static_cast<double>(i) + 0.5) * spacing;
    std::vector<mesh::Vec2> found{placeAt(middle)};
    for (int k = 1; k <= tries; ++k)
        for (const double sign : {1.0, -1.0})
            found.push_back(placeAt(middle + sign * k * spacing / 3 / tries));
    return found;
}

} // namespace quoin::core
