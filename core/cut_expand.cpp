// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/clear_places.h"
#include "core/cut_node.h"
#include "core/parallel.h"
#include "mesh/plane_cut.h"
#include "mesh/topology.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace quoin::core {

using mesh::Plane;
using mesh::Vec3;

namespace {

constexpr int levels = 48;

/// What else than the number of pieces counts when ways are put in order, in pieces: volume that is left to be cut (as
/// a share of the node's), area of the section (in faces of the bed), a direction that nobody would take.
constexpr double restWeight = 0.4, areaWeight = 0.15, dislikeWeight = 0.06;

/// Planes that are nearly the same are really cut once: cosine, and share of the size.
constexpr double sameCosine = 0.985, sameShare = 0.04;
/// Of directions so near to each other no more than this many planes are cut.
constexpr double nearCosine = 0.94;
constexpr std::size_t mostNear = 4;

/// A plane whose side should just fit, but doesn't, is drawn back by these shares of the side's height.
constexpr double drawnBack[] = {0.01, 0.04};

/// Where a cut fails it is tried again beside, at these shares of the size.
constexpr double besides[] = {0.003, -0.003, 0.009, -0.009};

/// Nodes with more pieces than this are looked at in fewer directions.
constexpr int manyPieces = 40, somePieces = 14;
constexpr std::size_t fewNormals = 24, someNormals = 70;

/// A minimum of the section counts when it is less than this share of what is around it.
constexpr double worthNecking = 0.8;
constexpr std::size_t mostNecks = 4;
constexpr std::size_t mostLimbs = 32;
constexpr int slides = 6;

struct Normal {
    Vec3 direction;
    double dislike = 0;
    std::vector<double> offsets; ///< to be tried in any case
    int limb = -1;
};

struct Candidate {
    Plane plane;
    double value = 0, dislike = 0;
    bool fitsBelow = false, fitsAbove = false;
    int limb = -1;
};

/// A plane that parts the bodies of a node without cutting any; of several the one that parts them most evenly.
std::optional<Plane> partingPlane(const CutNode& node, const std::vector<Normal>& normals)
{
    std::optional<Plane> best;
    double most = 0;
    for (const Normal& n : normals) {
        std::vector<std::pair<double, double>> spans;
        for (const CutBody& body : node.bodies) {
            double low = 1e300, high = -1e300;
            for (const Vec3 p : body.outline) {
                low = std::min(low, dot(n.direction, p));
                high = std::max(high, dot(n.direction, p));
            }
            spans.emplace_back(low, high);
        }
        std::sort(spans.begin(), spans.end());
        double reached = spans.front().second;
        for (std::size_t i = 1; i < spans.size(); ++i) {
            const double gap = spans[i].first - reached;
            const double even = static_cast<double>(std::min(i, spans.size() - i)) - n.dislike / 2;
            if (gap > 1e-6 * (1 + std::abs(reached)) && even > most) {
                most = even;
                best = Plane{n.direction, reached + gap / 2};
            }
            reached = std::max(reached, spans[i].second);
        }
    }
    return best;
}

class Expansion {
public:
    Expansion(CutNode& node, const CutGround& ground, const Breadth& breadth)
        : m_node(node), m_ground(ground), m_breadth(breadth), m_face(std::pow(ground.quick.volumeMm3(), 2.0 / 3))
    {
    }

    void run()
    {
        const std::vector<Normal> all = normals();
        if (m_node.bodies.size() > 1)
            if (const auto plane = partingPlane(m_node, all); plane && !marked(*plane)) {
                std::vector<std::optional<CutMove>> parted(1);
                parted[0] = cut({*plane, 0, 0, false, false, -1}, *plane);
                if (parted[0]) {
                    m_node.moves.clear();
                    take(std::move(parted));
                    return;
                }
            }
        mesh::Buffer<Vec3> outline;
        for (const CutBody& body : m_node.bodies) {
            outline.insert(outline.end(), body.outline.begin(), body.outline.end());
            m_hullMm3 += body.hullMm3;
        }
        m_sketch = sketchOf(m_node.mesh, std::move(outline));
        // Surfaces of cavities are parts of the surface that make no piece of their own.
        m_cavities = static_cast<int>(mesh::connectedParts(m_node.mesh).count) - m_node.pieces;
        std::vector<std::vector<Candidate>> found(all.size());
        forEachIndex(all.size(), [&](std::size_t i) {
            if (!m_ground.stopped())
                found[i] = candidates(all[i]);
        });
        std::vector<Candidate> every;
        for (const auto& some : found)
            every.insert(every.end(), some.begin(), some.end());
        std::stable_sort(every.begin(), every.end(),
                         [](const Candidate& a, const Candidate& b) { return a.value < b.value; });
        every = chosen(every);
        std::vector<std::optional<CutMove>> moves(every.size());
        forEachIndex(every.size(), [&](std::size_t i) {
            if (!m_ground.stopped())
                moves[i] = tried(every[i]);
        });
        take(std::move(moves));
    }

private:
    bool marked(const Plane& plane) const
    {
        return m_ground.keepClear && m_ground.keepClear->crossedBy(plane, m_node.within);
    }
    bool inside(Vec3 p) const
    {
        return std::all_of(m_node.within.begin(), m_node.within.end(),
                           [&](const HalfSpace& h) { return (h.plane.distance(p) >= 0) == h.above; });
    }

    std::vector<Normal> normals() const
    {
        std::vector<Normal> out;
        const int pieces = m_node.estimate;
        const auto add = [&](Vec3 d, double dislike, double cosine) -> Normal* {
            for (Normal& n : out)
                if (std::abs(dot(n.direction, d)) > cosine)
                    return &n;
            out.push_back({d, dislike, {}, -1});
            return &out.back();
        };
        constexpr double same = 0.99999;
        for (const Plane& p : m_breadth.planes) {
            Normal* n = add(p.normal, 0.2, 0.999999999);
            n->offsets.push_back(dot(n->direction, p.normal) > 0 ? p.offset : -p.offset);
        }
        for (const Vec3 d : m_breadth.more)
            add(normalized(d), 0.7, same);
        if (m_breadth.onlyThese)
            return out;
        for (const Vec3 down : m_node.downs)
            add(down, 0, same);
        if (!m_node.bodies.empty())
            for (const Vec3 down : m_node.downs)
                for (const Vec3 axis : frameAlong(down, m_node.bodies.front().outline).axes)
                    add(axis, 0, same);
        const std::size_t most = pieces > manyPieces   ? fewNormals
                                 : pieces > somePieces ? someNormals
                                                       : m_ground.normals.size();
        // Of the even directions every other one, by turns: a part of a part has them all again on its next levels.
        const std::size_t turn = m_node.within.size();
        for (std::size_t i = 0; i < std::min(most, m_ground.normals.size()); ++i)
            if (m_ground.normals[i].dislike < 0.5 || m_node.within.empty() || (i + turn) % 2 == 0)
                add(m_ground.normals[i].direction, m_ground.normals[i].dislike, same);
        std::vector<int> limbs;
        for (std::size_t i = 0; i < m_ground.limbs.size(); ++i)
            if (inside(m_ground.limbs[i].middle))
                limbs.push_back(static_cast<int>(i));
        const std::size_t step = std::max<std::size_t>(1, limbs.size() / mostLimbs);
        for (std::size_t i = 0; i < limbs.size(); i += step) {
            const Plane p = m_ground.limbs[static_cast<std::size_t>(limbs[i])].plane;
            out.push_back({p.normal, 0.1, {p.offset}, limbs[i]});
        }
        return out;
    }

    /// Offsets worth looking at: where a side just fits, even divisions by the bed, necks of the section.
    std::vector<double> offsets(const CutSweep& sweep, const Normal& normal, double low, double high) const
    {
        std::vector<double> out = normal.offsets;
        const double from = sweep.low(), to = sweep.high(), size = to - from;
        const auto& all = sweep.levels();
        const auto leastBetween = [&](double a, double b) {
            const SweepLevel* least = nullptr;
            for (const SweepLevel& l : all)
                if (l.at >= a && l.at <= b && (!least || l.areaMm2 < least->areaMm2))
                    least = &l;
            if (least)
                out.push_back(least->at);
        };
        if (normal.limb >= 0) {
            out.push_back(low);
            out.push_back(high);
            return out;
        }
        if (low > from && low < to) {
            out.push_back(low);
            leastBetween(low - 0.2 * (low - from), low);
        }
        if (high < to && high > from) {
            out.push_back(high);
            leastBetween(high, high + 0.2 * (to - high));
        }
        if (high <= low) {
            out.push_back((std::max(high, from) + std::min(low, to)) / 2);
            leastBetween(high, low);
        }
        for (const double side : m_ground.quick.sidesMm()) {
            const int cells = static_cast<int>(std::ceil(size / side * (1 - 1e-9)));
            if (cells < 2 || cells > 60)
                continue;
            out.push_back(from + size / cells * (cells / 2));
            out.push_back(from + side);
            out.push_back(to - side);
        }
        std::vector<std::pair<double, double>> necks; // share of what is around, offset
        for (std::size_t i = 2; i + 2 < all.size(); ++i) {
            const double a = all[i].areaMm2;
            if (a > all[i - 1].areaMm2 || a > all[i + 1].areaMm2)
                continue;
            double before = 0, after = 0;
            for (std::size_t k = 0; k < i; ++k)
                before = std::max(before, all[k].areaMm2);
            for (std::size_t k = i + 1; k < all.size(); ++k)
                after = std::max(after, all[k].areaMm2);
            const double around = std::min(before, after);
            if (a < worthNecking * around)
                necks.emplace_back(a / around, all[i].at);
        }
        std::sort(necks.begin(), necks.end());
        for (std::size_t i = 0; i < std::min(mostNecks, necks.size()); ++i)
            out.push_back(necks[i].second);
        return out;
    }

    std::vector<Candidate> candidates(const Normal& normal) const
    {
        std::vector<Candidate> out;
        const CutSweep sweep(m_sketch, normal.direction, levels);
        const double size = sweep.high() - sweep.low();
        if (!(size > 0))
            return out;
        const double low = farthestFit(sweep, false, m_ground.quick, m_node.downs);
        const double high = farthestFit(sweep, true, m_ground.quick, m_node.downs);
        std::vector<double> all = offsets(sweep, normal, low, high);
        if (m_ground.keepClear && !m_ground.keepClear->empty()) {
            const auto free =
                m_ground.keepClear->freeOffsets(normal.direction, sweep.low(), sweep.high(), m_node.within);
            std::vector<double> moved;
            for (const double at : all)
                if (const auto place = nearestFree(at, {at - 0.2 * size, at + 0.2 * size}, free))
                    moved.push_back(*place);
            all = std::move(moved);
        }
        std::sort(all.begin(), all.end());
        double last = -1e300, volume = 0;
        for (const SweepLevel& l : sweep.levels())
            volume += l.areaMm2;
        for (const double at : all) {
            if (at <= sweep.low() + 1e-4 * size || at >= sweep.high() - 1e-4 * size || at < last + 1e-4 * size)
                continue;
            last = at;
            out.push_back(rated(sweep, normal, at, low, high, volume));
        }
        return out;
    }

    Candidate rated(const CutSweep& sweep, const Normal& normal, double at, double low, double high,
                    double volume) const
    {
        Candidate c{{normal.direction, at}, 0, normal.dislike, at <= low, at >= high, normal.limb};
        const SweepLevel& level = sweep.near(at);
        double below = 0;
        for (const SweepLevel& l : sweep.levels())
            below += l.at < at ? l.areaMm2 : 0;
        const double share = volume > 0 ? below / volume : 0.5;
        const auto pieces = [&](bool above) {
            const int parts = m_ground.islandsApart ? std::max(1, (above ? level.above : level.below) - m_cavities) : 1;
            if (above ? c.fitsAbove : c.fitsBelow)
                return parts;
            const mesh::Buffer<Vec3> points = sweep.side(at, above, true);
            std::vector<GridFrame> frames = m_ground.frames;
            frames.push_back(frameAlong(normal.direction, points));
            return std::max({2, parts, m_ground.estimator.pieces(frames, points)});
        };
        const double rest = (c.fitsBelow ? 0 : share) + (c.fitsAbove ? 0 : 1 - share);
        c.value = pieces(false) + pieces(true) + restWeight * rest + areaWeight * level.areaMm2 / m_face +
                  dislikeWeight * normal.dislike;
        return c;
    }

    /// The first of the list that are not all alike.
    std::vector<Candidate> chosen(const std::vector<Candidate>& every) const
    {
        std::vector<Candidate> out;
        for (const Plane& p : m_breadth.planes)
            out.push_back({p, 0, 0.2, false, false, -1});
        const std::size_t most = out.size() + m_breadth.cuts;
        for (const Candidate& c : every) {
            if (out.size() >= most)
                break;
            std::size_t near = 0;
            const bool same = std::any_of(out.begin(), out.end(), [&](const Candidate& o) {
                const double cosine = dot(o.plane.normal, c.plane.normal);
                near += std::abs(cosine) > nearCosine ? 1 : 0;
                const double offset = cosine > 0 ? o.plane.offset : -o.plane.offset;
                return std::abs(cosine) > sameCosine && std::abs(offset - c.plane.offset) < sameShare * m_sketch.sizeMm;
            });
            if (!same && near < mostNear)
                out.push_back(c);
        }
        return out;
    }

    /// Really cuts, and says what the sides are; nullopt when nothing is cut or something marked would be.
    std::optional<CutMove> cut(const Candidate& c, const Plane& plane) const
    {
        if (marked(plane))
            return std::nullopt;
        mesh::CutOptions options;
        options.withLabels = false;
        options.threads = 1;
        CutMove move;
        move.plane = plane;
        auto halves = mesh::cutByPlane(m_node.mesh, plane, options);
        // A stand-in may pass through itself here and there: a little beside is as good.
        for (const double share : besides) {
            if (halves)
                break;
            move.plane.offset = plane.offset + share * m_sketch.sizeMm;
            if (!marked(move.plane))
                halves = mesh::cutByPlane(m_node.mesh, move.plane, options);
        }
        if (!halves || halves->below.empty() || halves->above.empty())
            return std::nullopt;
        move.dislike = c.dislike;
        for (std::size_t t = halves->belowCap; t < halves->below.triangles.size(); ++t)
            move.areaMm2 += mesh::triangleArea(halves->below, t);
        for (const bool above : {false, true}) {
            std::vector<HalfSpace> within = m_node.within;
            within.push_back({move.plane, above});
            auto node = nodeOf(std::move(above ? halves->above : halves->below), std::move(within), m_ground);
            if (node->bodies.empty())
                return std::nullopt;
            (above ? move.above : move.below) = std::move(node);
        }
        rate(move);
        return move;
    }

    void rate(CutMove& move) const
    {
        double rest = 0;
        for (const CutNode* side : {move.below.get(), move.above.get()})
            for (const CutBody& body : side->bodies)
                rest += body.hullMm3;
        move.estimate = move.below->estimate + move.above->estimate;
        move.least = move.below->least + move.above->least;
        move.value = move.estimate + restWeight * (m_hullMm3 > 0 ? rest / m_hullMm3 : 0) +
                     areaWeight * move.areaMm2 / m_face + dislikeWeight * move.dislike;
    }

    std::optional<CutMove> tried(const Candidate& c) const
    {
        Candidate best = c;
        if (c.limb >= 0 && c.fitsBelow != c.fitsAbove)
            best = slid(c);
        auto move = cut(best, best.plane);
        if (best.fitsBelow == best.fitsAbove)
            return move;
        // The side that should fit is made smaller until it does.
        double low = 1e300, high = -1e300;
        for (const Vec3 p : m_sketch.outline) {
            low = std::min(low, dot(best.plane.normal, p));
            high = std::max(high, dot(best.plane.normal, p));
        }
        for (const double share : drawnBack) {
            if (move && (best.fitsBelow ? move->below : move->above)->fits)
                break;
            Plane plane = best.plane;
            plane.offset += best.fitsBelow ? -share * (plane.offset - low) : share * (high - plane.offset);
            auto other = cut(best, plane);
            if (other && (!move || other->value < move->value))
                move = std::move(other);
        }
        return move;
    }

    /// Along a limb as far as its end still fits.
    Candidate slid(const Candidate& c) const
    {
        const LimbCut& start = m_ground.limbs[static_cast<std::size_t>(c.limb)];
        if (std::abs(start.plane.offset - c.plane.offset) > 1e-6 * m_sketch.sizeMm)
            return c;
        Candidate best = c;
        double good = 0, bad = 0.5 * m_sketch.sizeMm;
        for (int i = 0; i < slides; ++i) {
            const double along = (good + bad) / 2;
            const auto limb = m_ground.limbCuts->beside(start, c.fitsBelow ? along : -along);
            bool fits = false;
            if (limb && inside(limb->middle)) {
                const CutSweep sweep(m_sketch, limb->plane.normal, 1);
                std::vector<Vec3> downs{c.fitsAbove ? -limb->plane.normal : limb->plane.normal};
                downs.insert(downs.end(), m_node.downs.begin(), m_node.downs.end());
                fits = m_ground.quick.fits(sweep.side(limb->plane.offset, c.fitsAbove, false), downs);
            }
            if (fits)
                best.plane = limb->plane;
            (fits ? good : bad) = along;
        }
        return best;
    }

    /// Adds ways to the node's, best first, as many as are to be kept; those that were there keep their nodes.
    void take(std::vector<std::optional<CutMove>> moves)
    {
        for (auto& move : moves)
            if (move) {
                move->id = m_node.moveIds++;
                m_node.moves.push_back(std::move(*move));
            }
        const auto sooner = [](const CutMove& a, const CutMove& b) { return a.value < b.value; };
        std::stable_sort(m_node.moves.begin(), m_node.moves.end(), sooner);
        std::size_t kept = 0;
        std::erase_if(m_node.moves,
                      [&](const CutMove& m) { return kept++ >= m_breadth.kept && m.id != m_node.bestMove; });
    }

    CutNode& m_node;
    const CutGround& m_ground;
    const Breadth& m_breadth;
    double m_face;
    double m_hullMm3 = 0;
    int m_cavities = 0;
    CutSketch m_sketch;
};

} // namespace

void expand(CutNode& node, const CutGround& ground, const Breadth& breadth)
{
    Expansion(node, ground, breadth).run();
    node.expanded = true;
}

} // namespace quoin::core
