// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/layer_loops.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace quoin::core {

namespace {

using mesh::Loop;
using mesh::Vec2;

/// Ends that a 32-bit file may have moved apart are together.
constexpr double samePlaceMm = 1e-3;
/// Above so many open ends the nearest ones are no longer looked for: each chain closes on itself.
constexpr std::size_t mostChains = 1000;

double squared(Vec2 a)
{
    return dot(a, a);
}

double squaredDistance(Vec2 p, Vec2 a, Vec2 b)
{
    const Vec2 e = b - a;
    const double l2 = dot(e, e);
    const double t = l2 > 0 ? std::clamp(dot(p - a, e) / l2, 0.0, 1.0) : 0.0;
    return squared(p - (a + t * e));
}

struct Pair {
    double squared;
    std::size_t end, begin; ///< chains
};

/// Which chain follows each: the nearest pairs first, each end and each beginning once.
std::vector<std::size_t> followers(const std::vector<Loop>& chains)
{
    std::vector<std::size_t> next(chains.size());
    for (std::size_t i = 0; i < chains.size(); ++i)
        next[i] = i;
    if (chains.size() > mostChains)
        return next;
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i < chains.size(); ++i)
        for (std::size_t j = 0; j < chains.size(); ++j)
            pairs.push_back({squared(chains[i].back() - chains[j].front()), i, j});
    std::stable_sort(pairs.begin(), pairs.end(), [](const Pair& a, const Pair& b) { return a.squared < b.squared; });
    std::vector<char> ended(chains.size(), 0), begun(chains.size(), 0);
    for (const Pair& p : pairs)
        if (ended[p.end] == 0 && begun[p.begin] == 0) {
            ended[p.end] = begun[p.begin] = 1;
            next[p.end] = p.begin;
        }
    return next;
}

/// Keeps what lies between two kept points and is too far from the line between them.
void keepBetween(const Loop& loop, std::size_t from, std::size_t to, double toleranceMm2, std::vector<char>& kept)
{
    std::vector<std::pair<std::size_t, std::size_t>> open{{from, to}};
    while (!open.empty()) {
        const auto [a, b] = open.back();
        open.pop_back();
        double worst = toleranceMm2;
        std::size_t at = 0;
        for (std::size_t i = a + 1; i < b; ++i)
            if (const double d = squaredDistance(loop[i], loop[a], loop[b % loop.size()]); d > worst) {
                worst = d;
                at = i;
            }
        if (at == 0)
            continue;
        kept[at] = 1;
        open.emplace_back(a, at);
        open.emplace_back(at, b);
    }
}

} // namespace

MendedLoops closedChains(std::vector<Loop> chains)
{
    std::erase_if(chains, [](const Loop& c) { return c.empty(); });
    MendedLoops out;
    const std::vector<std::size_t> next = followers(chains);
    std::vector<char> used(chains.size(), 0);
    for (std::size_t i = 0; i < chains.size(); ++i) {
        if (used[i] != 0)
            continue;
        Loop loop;
        for (std::size_t c = i; used[c] == 0; c = next[c]) {
            used[c] = 1;
            if (squared(chains[c].back() - chains[next[c]].front()) > samePlaceMm * samePlaceMm)
                out.mended = true;
            loop.insert(loop.end(), chains[c].begin(), chains[c].end());
        }
        if (loop.size() >= 3)
            out.loops.push_back(std::move(loop));
    }
    return out;
}

Loop simplified(const Loop& loop, double toleranceMm)
{
    if (loop.size() < 4)
        return loop;
    std::size_t far = 0;
    for (std::size_t i = 1; i < loop.size(); ++i)
        if (squared(loop[i] - loop[0]) > squared(loop[far] - loop[0]))
            far = i;
    std::vector<char> kept(loop.size(), 0);
    kept[0] = kept[far] = 1;
    const double tolerance2 = toleranceMm * toleranceMm;
    keepBetween(loop, 0, far, tolerance2, kept);
    keepBetween(loop, far, loop.size(), tolerance2, kept);
    Loop out;
    for (std::size_t i = 0; i < loop.size(); ++i)
        if (kept[i] != 0)
            out.push_back(loop[i]);
    return out;
}

} // namespace quoin::core
