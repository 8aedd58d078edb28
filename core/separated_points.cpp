// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/lower_bound.h"
#include "mesh/mass.h"

#include <algorithm>
#include <cstdint>
#include <numeric>
#include <random>
#include <unordered_set>

namespace quoin::core {

using mesh::Mesh;
using mesh::Vec3;

namespace {

/// Surface points looked at lie about this share of the distance apart, less where that gives too many.
constexpr double spacingShare = 1.0 / 150;
constexpr double mostSamples = 20'000;

/// Starts of the two ways of picking points (fewer when each takes long), and rounds of exchanging.
constexpr std::size_t mostStarts = 24;
constexpr std::size_t distancesMeasured = 100'000'000;
constexpr int mostExchanges = 50;
/// Distances measured, at most, while the best set is shaken up, and points taken out at a time.
constexpr std::size_t distancesShaken = 30'000'000;
constexpr std::size_t mostTakenOut = 3;

/// Keeps one point for each cube of space, the first that comes.
class Thinned {
public:
    explicit Thinned(double spacingMm) : m_spacing(spacingMm) {}

    void add(Vec3 p)
    {
        const auto cell = [&](double v) { return static_cast<std::uint64_t>(std::llround(v / m_spacing)) & 0x1fffff; };
        if (m_cells.insert(cell(p.x) << 42 | cell(p.y) << 21 | cell(p.z)).second)
            m_points.push_back(p);
    }
    std::vector<Vec3> taken() { return std::move(m_points); }

private:
    double m_spacing;
    std::unordered_set<std::uint64_t> m_cells;
    std::vector<Vec3> m_points;
};

/// Points of the surface: the outermost ones, all vertices and a lattice on the large triangles, thinned.
std::vector<Vec3> candidatePoints(const Mesh& mesh, double apartMm)
{
    const double spacing = std::max(spacingShare * apartMm, std::sqrt(mesh::area(mesh) / mostSamples));
    Thinned thinned(spacing);
    for (const Vec3 d : {Vec3{1, 0, 0},
                         {0, 1, 0},
                         {0, 0, 1},
                         {1, 1, 1},
                         {1, 1, -1},
                         {1, -1, 1},
                         {-1, 1, 1},
                         {1, 1, 0},
                         {1, 0, 1},
                         {0, 1, 1},
                         {1, -1, 0},
                         {1, 0, -1},
                         {0, 1, -1}}) {
        const auto less = [&](Vec3 a, Vec3 b) { return dot(a, d) < dot(b, d); };
        const auto [low, high] = std::minmax_element(mesh.points.begin(), mesh.points.end(), less);
        thinned.add(*low);
        thinned.add(*high);
    }
    // Corners before what lies between them: a corner is the better point.
    for (const Vec3 p : mesh.points)
        thinned.add(p);
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Vec3 a = mesh.corner(t, 0), u = mesh.corner(t, 1) - a, v = mesh.corner(t, 2) - a;
        const int steps = static_cast<int>(std::ceil(std::max({length(u), length(v), length(u - v)}) / spacing));
        for (int i = 0; steps > 1 && i <= steps; ++i)
            for (int j = 0; i + j <= steps; ++j)
                thinned.add(a + (static_cast<double>(i) / steps) * u + (static_cast<double>(j) / steps) * v);
    }
    return thinned.taken();
}

/// Picks points one after another from those that are far enough from all picked: the farthest, which spreads them
/// out (Gonzalez 1985), or the nearest, which packs them.
std::vector<std::size_t> picked(const std::vector<Vec3>& points, std::size_t start, double apartMm, bool farthest)
{
    std::vector<std::size_t> chosen{start};
    std::vector<double> nearest(points.size(), 1e300);
    for (;;) {
        std::size_t next = points.size();
        for (std::size_t i = 0; i < points.size(); ++i) {
            nearest[i] = std::min(nearest[i], length(points[i] - points[chosen.back()]));
            if (nearest[i] > apartMm && (next == points.size() || (nearest[i] > nearest[next]) == farthest))
                next = i;
        }
        if (next == points.size())
            return chosen;
        chosen.push_back(next);
    }
}

/// Takes one point out and puts two others in, where that can be done.
bool exchangeOne(std::vector<std::size_t>& chosen, const std::vector<Vec3>& points, double apartMm)
{
    // For each point that is too near to exactly one chosen one: it could take its place.
    std::vector<std::vector<std::size_t>> instead(chosen.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        std::size_t blockers = 0, blocker = 0;
        for (std::size_t k = 0; k < chosen.size() && blockers < 2; ++k)
            if (length(points[i] - points[chosen[k]]) <= apartMm) {
                ++blockers;
                blocker = k;
            }
        if (blockers == 1)
            instead[blocker].push_back(i);
    }
    for (std::size_t k = 0; k < chosen.size(); ++k) {
        // Two of them far enough apart: look from each end of the set.
        for (std::size_t tries = 0, from = 0; tries < 4 && !instead[k].empty(); ++tries) {
            const auto distance = [&](std::size_t i) { return length(points[i] - points[instead[k][from]]); };
            const auto to = std::max_element(instead[k].begin(), instead[k].end(),
                                             [&](std::size_t a, std::size_t b) { return distance(a) < distance(b); });
            if (distance(*to) > apartMm) {
                chosen[k] = instead[k][from];
                chosen.push_back(*to);
                return true;
            }
            from = static_cast<std::size_t>(to - instead[k].begin());
        }
    }
    return false;
}

/// Takes some points out at random, fills up with the nearest that are free, exchanges; keeps what isn't worse
/// (iterated local search: Lourenco, Martin and Stuetzle 2003).
void shake(std::vector<std::size_t>& best, const std::vector<Vec3>& points, double apartMm)
{
    std::mt19937 random(1);
    std::vector<double> nearest(points.size());
    for (std::size_t measured = 0; best.size() > 1 && measured < distancesShaken;) {
        std::vector<std::size_t> chosen = best;
        for (std::size_t out = 1 + random() % std::min(mostTakenOut, chosen.size() - 1); out > 0; --out) {
            std::swap(chosen[random() % chosen.size()], chosen.back());
            chosen.pop_back();
        }
        std::fill(nearest.begin(), nearest.end(), 1e300);
        const auto note = [&](std::size_t added) {
            for (std::size_t i = 0; i < points.size(); ++i)
                nearest[i] = std::min(nearest[i], length(points[i] - points[added]));
        };
        for (const std::size_t c : chosen)
            note(c);
        measured += (chosen.size() + 1) * points.size();
        bool any = true;
        for (bool first = true; any; first = false) {
            // The first one anywhere, so that another way is taken; the others close by.
            std::size_t next = points.size(), seen = 0;
            for (std::size_t i = 0; i < points.size(); ++i)
                if (nearest[i] > apartMm &&
                    (next == points.size() || (first ? random() % ++seen == 0 : nearest[i] < nearest[next])))
                    next = i;
            any = next != points.size();
            if (any) {
                chosen.push_back(next);
                note(next);
                measured += 2 * points.size();
            }
        }
        for (int i = 0; i < mostExchanges && exchangeOne(chosen, points, apartMm); ++i)
            measured += chosen.size() * points.size();
        measured += chosen.size() * points.size();
        if (chosen.size() >= best.size())
            best = std::move(chosen);
    }
}

} // namespace

std::vector<Vec3> separatedPoints(const Mesh& mesh, double apartMm)
{
    if (mesh.triangles.empty())
        return {};
    const std::vector<Vec3> points = candidatePoints(mesh, apartMm);
    std::vector<std::size_t> best;
    std::size_t measured = 0;
    for (std::size_t start = 0; start < std::min(mostStarts, points.size()) && measured < distancesMeasured; ++start)
        for (const bool farthest : {true, false}) {
            std::vector<std::size_t> chosen = picked(points, start, apartMm, farthest);
            measured += chosen.size() * points.size();
            if (chosen.size() > best.size())
                best = std::move(chosen);
        }
    for (int i = 0; i < mostExchanges && exchangeOne(best, points, apartMm); ++i)
        continue;
    shake(best, points, apartMm);
    std::vector<Vec3> out;
    for (const std::size_t i : best)
        out.push_back(points[i]);
    return out;
}

} // namespace quoin::core
