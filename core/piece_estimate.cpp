// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/piece_estimate.h"

#include "core/bed_room.h"
#include "core/cell_grid.h"
#include "core/parallel.h"
#include "mesh/hull.h"
#include "mesh/plane.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

using mesh::Buffer;
using mesh::Vec3;

namespace {

/// Lengths of a table's sides: from this share of the longest diagonal up to all of it.
constexpr int steps = 28;
constexpr double leastShare = 1.0 / 40;
constexpr int halvings = 10;

/// Divisions of one frame that are counted out, the least products first; no side is divided into more cells.
constexpr std::size_t countedOut = 3;
constexpr int mostAlong = 60;

/// Rounding of an even division.
constexpr double digit = 1e-9;

struct Division {
    double product;
    std::array<int, 3> cells;
};

void keep(std::vector<Division>& least, const Division& d)
{
    const auto at = std::find_if(least.begin(), least.end(), [&](const Division& l) { return d.product < l.product; });
    least.insert(at, d);
    if (least.size() > countedOut)
        least.pop_back();
}

/// Cells of a divided box that hold a point.
int cellsHeld(const Buffer<Vec3>& inFrame, const mesh::Box3& box, const std::array<int, 3>& cells, int enough,
              std::vector<char>& held)
{
    held.assign(static_cast<std::size_t>(cells[0]) * static_cast<std::size_t>(cells[1]) *
                    static_cast<std::size_t>(cells[2]),
                0);
    const Vec3 e = box.extents();
    const auto rate = [](int n, double extent) { return extent > 0 ? n / extent : 0; };
    const double rx = rate(cells[0], e.x), ry = rate(cells[1], e.y), rz = rate(cells[2], e.z);
    int count = 0;
    for (const Vec3 p : inFrame) {
        const int i = std::min(cells[0] - 1, static_cast<int>((p.x - box.min.x) * rx));
        const int j = std::min(cells[1] - 1, static_cast<int>((p.y - box.min.y) * ry));
        const int k = std::min(cells[2] - 1, static_cast<int>((p.z - box.min.z) * rz));
        char& cell = held[static_cast<std::size_t>((i * cells[1] + j) * cells[2] + k)];
        if (cell)
            continue;
        cell = 1;
        if (++count >= enough)
            break;
    }
    return count;
}

} // namespace

PieceEstimator::PieceEstimator(const std::vector<Bed>& beds, const FitOptions& options)
{
    double diagonal = 0;
    for (const Bed& bed : beds) {
        const BedRoom room = withRounding(roomOf(bed, options.marginMm));
        const double across = room.round ? room.widthMm / std::sqrt(2.0) : std::min(room.widthMm, room.depthMm);
        m_leastSide = std::max(m_leastSide, std::min(across, room.heightMm));
        diagonal = std::max(diagonal, std::hypot(room.widthMm, room.round ? 0 : room.depthMm, room.heightMm));
        for (const double side : {room.widthMm, room.depthMm, room.heightMm})
            m_steps.push_back(side);
    }
    if (!(m_leastSide > 0))
        return;
    for (int i = 0; i <= steps; ++i)
        m_steps.push_back(diagonal * std::pow(leastShare, 1 - static_cast<double>(i) / steps));
    std::sort(m_steps.begin(), m_steps.end());
    m_steps.erase(std::unique(m_steps.begin(), m_steps.end()), m_steps.end());
    const std::size_t n = m_steps.size();
    m_longest.assign(n * n, 0);
    forEachIndex(n, [&](std::size_t i) {
        for (std::size_t j = i; j < n; ++j) {
            const auto fits = [&](double c) { return boxFits({m_steps[i], m_steps[j], c}, beds, options.marginMm); };
            double low = 0, high = diagonal;
            if (fits(m_steps[n / 4]) || fits(m_steps[0]))
                for (int k = 0; k < halvings; ++k) {
                    const double middle = (low + high) / 2;
                    (fits(middle) ? low : high) = middle;
                }
            // A side of the bed itself is a length that bisection would just miss.
            for (const Bed& bed : beds) {
                const BedRoom room = withRounding(roomOf(bed, options.marginMm));
                for (const double side : {room.widthMm, room.depthMm, room.heightMm})
                    if (side > low && side < low + diagonal / 500 && fits(side))
                        low = side;
            }
            m_longest[i * n + j] = low;
        }
    });
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < i; ++j)
            m_longest[i * n + j] = m_longest[j * n + i];
}

std::size_t PieceEstimator::stepOf(double side) const
{
    return static_cast<std::size_t>(std::lower_bound(m_steps.begin(), m_steps.end(), side * (1 - digit)) -
                                    m_steps.begin());
}

double PieceEstimator::longestThird(double a, double b) const
{
    const std::size_t i = stepOf(a), j = stepOf(b);
    return i < m_steps.size() && j < m_steps.size() ? m_longest[i * m_steps.size() + j] : 0;
}

int PieceEstimator::pieces(std::span<const GridFrame> frames, const Buffer<Vec3>& points) const
{
    int best = 1'000'000;
    Buffer<Vec3> inFrame(points.size());
    std::vector<char> held;
    for (const GridFrame& frame : frames) {
        mesh::Box3 box;
        for (std::size_t i = 0; i < points.size(); ++i) {
            const Vec3 p = points[i];
            inFrame[i] = {dot(frame.axes[0], p), dot(frame.axes[1], p), dot(frame.axes[2], p)};
            box.add(inFrame[i]);
        }
        const Vec3 e = box.extents();
        const auto most = [&](double extent) {
            return std::min(mostAlong, 2 * std::max(1, static_cast<int>(std::ceil(extent / m_leastSide))));
        };
        std::vector<Division> least;
        for (int a = 1; a <= most(e.x); ++a)
            for (int b = 1; b <= most(e.y); ++b) {
                const double c = longestThird(e.x / a, e.y / b);
                if (c <= 0)
                    continue;
                const int along = std::max(1, static_cast<int>(std::ceil(e.z / c * (1 - digit))));
                keep(least, {static_cast<double>(a) * b * along, {a, b, along}});
            }
        for (const Division& d : least)
            if (d.product < 1e5)
                best = std::min(best, cellsHeld(inFrame, box, d.cells, best, held));
    }
    return best;
}

GridFrame frameAlong(Vec3 up, const Buffer<Vec3>& points)
{
    const mesh::PlaneFrame flat = mesh::frameOf({up, 0});
    std::vector<mesh::Vec2> shadow;
    shadow.reserve(points.size());
    for (const Vec3 p : points)
        shadow.push_back(flat.flat(p));
    const mesh::Loop polygon = mesh::convexHull(std::move(shadow));
    GridFrame best{{flat.u, flat.v, up}, "across a cut"};
    double least = 1e300;
    for (std::size_t i = 0, j = polygon.size() - 1; polygon.size() >= 3 && i < polygon.size(); j = i++) {
        const mesh::Vec2 e = polygon[i] - polygon[j];
        const mesh::Vec2 u = (1 / length(e)) * e, v{-u.y, u.x};
        mesh::Box3 box;
        for (const mesh::Vec2 p : polygon)
            box.add({dot(u, p), dot(v, p), 0});
        const Vec3 extents = box.extents();
        if (extents.x * extents.y < least) {
            least = extents.x * extents.y;
            best.axes = {u.x * flat.u + u.y * flat.v, v.x * flat.u + v.y * flat.v, up};
        }
    }
    return best;
}

} // namespace quoin::core
