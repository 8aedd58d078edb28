// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_polish.h"

#include "core/parallel.h"
#include "mesh/plane_cut.h"

#include <algorithm>
#include <numbers>

namespace quoin::core {

using mesh::Mesh;
using mesh::Plane;
using mesh::Vec3;

namespace {

/// Steps along the normal as shares of the cell's height, and how far to look for necks.
constexpr double steps[] = {0.004, 0.015, 0.05};
constexpr double neckReach = 0.15;
constexpr int neckLevels = 64;

/// The part's own directions are tried when they are within this angle of a plane's (cosine of 30 degrees).
constexpr double nearCosine = 0.866;
constexpr double likedBelow = 0.2; ///< dislike of a direction that counts as the part's own
constexpr std::size_t mostSnaps = 5;

/// Tilts, radians.
constexpr double tilts[] = {0.02, 0.08};

/// Less than this share of the cost saved is not worth a change; turned away from a liked direction costs this much.
constexpr double worthwhile = 0.003;
constexpr double oddDirection = 0.03;

struct Halves {
    Mesh below, above;
};

std::optional<Halves> halvesOf(const Mesh& mesh, const Plane& plane)
{
    // Labelled: what cuts cost hangs on where the skin is.
    mesh::CutOptions options;
    options.threads = 1;
    auto halves = mesh::cutByPlane(mesh, plane, options);
    if (!halves)
        return std::nullopt;
    return Halves{std::move(halves->below), std::move(halves->above)};
}

std::vector<HalfSpace> with(std::vector<HalfSpace> within, const Plane& plane, bool above)
{
    within.push_back({plane, above});
    return within;
}

class Polish {
public:
    Polish(const CutGround& ground, const CutCost& cost, unsigned seed, const SearchLimits& limits)
        : m_ground(ground), m_cost(cost), m_limits(limits), m_random(seed)
    {
    }

    PricedTree run(const Mesh& mesh, const std::vector<HalfSpace>& within, PricedTree tree)
    {
        if (!tree.tree->below || stopped())
            return tree;
        tree = moved(mesh, within, std::move(tree));
        if (!tree.tree->below)
            return tree;
        const Plane plane = tree.tree->plane;
        const auto halves = halvesOf(mesh, plane);
        if (!halves)
            return tree;
        for (const bool above : {false, true}) {
            const PlaneTreePtr& side = above ? tree.tree->above : tree.tree->below;
            if (!side->below)
                continue;
            const Mesh& cell = above ? halves->above : halves->below;
            const auto inCell = with(within, plane, above);
            auto before = priced(cell, inCell, *side, m_ground, m_cost, side->pieces);
            if (!before)
                continue;
            const double had = before->cost;
            const PricedTree after = run(cell, inCell, std::move(*before));
            if (!(after.cost < had) && after.tree->pieces >= side->pieces)
                continue;
            auto changed = std::make_shared<PlaneTree>(*tree.tree);
            (above ? changed->above : changed->below) = after.tree;
            changed->pieces = changed->below->pieces + changed->above->pieces;
            tree.tree = std::move(changed);
            tree.cost += after.cost - had;
        }
        return tree;
    }

private:
    bool stopped() const
    {
        return m_limits.context.cancelled() || std::chrono::steady_clock::now() > m_limits.deadline;
    }

    double unit() { return static_cast<double>(m_random()) / 4294967296.0; }

    std::vector<Plane> variants(const Mesh& mesh, const Plane& plane)
    {
        std::vector<Plane> out;
        double low = 1e300, high = -1e300;
        for (const Vec3 p : mesh.points) {
            low = std::min(low, dot(plane.normal, p));
            high = std::max(high, dot(plane.normal, p));
        }
        const double size = high - low;
        for (const double step : steps)
            for (const double sign : {-1.0, 1.0})
                out.push_back({plane.normal, plane.offset + sign * step * size});
        const CutSketch sketch = sketchOf(mesh, mesh.points);
        const CutSweep sweep(sketch, plane.normal, neckLevels);
        const SweepLevel* neck = nullptr;
        for (const SweepLevel& l : sweep.levels())
            if (std::abs(l.at - plane.offset) < neckReach * size && (!neck || l.areaMm2 < neck->areaMm2))
                neck = &l;
        if (neck)
            out.push_back({plane.normal, neck->at});
        // Turned about the middle of the section.
        Vec3 middle{0, 0, 0};
        const mesh::Buffer<Vec3> below = sweep.side(plane.offset, false, false);
        std::size_t rim = 0;
        for (const Vec3 p : below)
            if (std::abs(plane.distance(p)) < 1e-6 * (1 + size)) {
                middle = middle + p;
                ++rim;
            }
        if (rim == 0)
            return out;
        middle = middle / static_cast<double>(rim);
        std::vector<std::pair<double, Vec3>> snaps;
        for (const CutNormal& n : m_ground.normals) {
            const double cosine = dot(n.direction, plane.normal);
            if (n.dislike < likedBelow && std::abs(cosine) > nearCosine && std::abs(cosine) < 1 - 1e-9)
                snaps.emplace_back(-std::abs(cosine), cosine < 0 ? -n.direction : n.direction);
        }
        for (const LimbCut& limb : m_ground.limbs) {
            const double cosine = dot(limb.plane.normal, plane.normal);
            if (length(limb.middle - middle) < neckReach * size && std::abs(cosine) > nearCosine)
                out.push_back(cosine < 0 ? Plane{-limb.plane.normal, -limb.plane.offset} : limb.plane);
        }
        std::stable_sort(snaps.begin(), snaps.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
        for (std::size_t i = 0; i < std::min(mostSnaps, snaps.size()); ++i)
            out.push_back(mesh::planeThrough(middle, snaps[i].second));
        const mesh::PlaneFrame frame = mesh::frameOf(plane);
        for (const double tilt : tilts)
            for (int k = 0; k < 3; ++k) {
                const double a = 2 * std::numbers::pi * unit();
                out.push_back(
                    mesh::planeThrough(middle, plane.normal + tilt * (std::cos(a) * frame.u + std::sin(a) * frame.v)));
            }
        return out;
    }

    /// What a plane's own direction costs.
    double odd(const Plane& plane) const
    {
        const bool liked = std::any_of(m_ground.normals.begin(), m_ground.normals.end(), [&](const CutNormal& n) {
            return n.dislike < likedBelow && std::abs(dot(n.direction, plane.normal)) > 1 - 1e-7;
        });
        return liked ? 0 : oddDirection;
    }

    PricedTree moved(const Mesh& mesh, const std::vector<HalfSpace>& within, PricedTree tree)
    {
        const std::vector<Plane> all = variants(mesh, tree.tree->plane);
        std::vector<std::optional<PricedTree>> tried(all.size());
        forEachIndex(all.size(), [&](std::size_t i) {
            if (stopped())
                return;
            PlaneTree other = *tree.tree;
            other.plane = all[i];
            tried[i] = priced(mesh, within, other, m_ground, m_cost, tree.tree->pieces);
        });
        PricedTree best = std::move(tree);
        double least = best.cost * (1 - worthwhile) + odd(best.tree->plane);
        for (auto& other : tried) {
            if (!other)
                continue;
            const double cost = other->cost + (other->tree->below ? odd(other->tree->plane) : 0);
            if (other->tree->pieces < best.tree->pieces || (other->tree->pieces == best.tree->pieces && cost < least)) {
                least = cost;
                best = std::move(*other);
            }
        }
        return best;
    }

    const CutGround& m_ground;
    const CutCost& m_cost;
    const SearchLimits& m_limits;
    std::mt19937 m_random;
};

} // namespace

std::optional<PricedTree> priced(const Mesh& mesh, const std::vector<HalfSpace>& within, const PlaneTree& tree,
                                 const CutGround& ground, const CutCost& cost, int mostPieces)
{
    if (!tree.below) {
        const auto pieces = fittingPieces(mesh, ground.beds, ground.fit, ground.islandsApart);
        if (!pieces || *pieces > mostPieces)
            return std::nullopt;
        auto leaf = std::make_shared<PlaneTree>();
        leaf->pieces = *pieces;
        return PricedTree{std::move(leaf), 0};
    }
    if (mostPieces < 1 || (ground.keepClear && ground.keepClear->crossedBy(tree.plane, within)))
        return std::nullopt;
    auto halves = halvesOf(mesh, tree.plane);
    if (!halves)
        return std::nullopt;
    if (halves->below.empty() || halves->above.empty())
        return priced(mesh, within, halves->below.empty() ? *tree.above : *tree.below, ground, cost, mostPieces);
    auto below = priced(halves->below, with(within, tree.plane, false), *tree.below, ground, cost, mostPieces - 1);
    if (!below)
        return std::nullopt;
    auto above = priced(halves->above, with(within, tree.plane, true), *tree.above, ground, cost,
                        mostPieces - below->tree->pieces);
    if (!above)
        return std::nullopt;
    auto out = std::make_shared<PlaneTree>();
    out->plane = tree.plane;
    PricedTree all{nullptr, below->cost + above->cost};
    if (const auto section = mesh::sectionByPlane(mesh, tree.plane)) {
        out->areaMm2 = mesh::area(*section);
        if (out->areaMm2 > 0)
            all.cost += cost(mesh, tree.plane, *section);
    }
    out->areaMm2 += below->tree->areaMm2 + above->tree->areaMm2;
    out->pieces = below->tree->pieces + above->tree->pieces;
    out->below = std::move(below->tree);
    out->above = std::move(above->tree);
    all.tree = std::move(out);
    return all;
}

PricedTree polished(const Mesh& mesh, const std::vector<HalfSpace>& within, PricedTree tree, const CutGround& ground,
                    const CutCost& cost, int rounds, unsigned seed, const SearchLimits& limits)
{
    Polish polish(ground, cost, seed, limits);
    for (int round = 0; round < rounds; ++round) {
        const double before = tree.cost;
        const int pieces = tree.tree->pieces;
        tree = polish.run(mesh, within, std::move(tree));
        if (tree.tree->pieces >= pieces && tree.cost > (1 - worthwhile) * before)
            break;
    }
    return tree;
}

} // namespace quoin::core
