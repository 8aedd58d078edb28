// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/sweep.h"

#include "mesh/convex_gap.h"
#include "mesh/sweep_tree.h"

#include <algorithm>
#include <limits>
#include <numbers>

namespace quoin::mesh {

namespace {

using std::numbers::pi;

/// Bisections of the way to a first contact: to a millionth of it.
constexpr int waySteps = 24;
/// Halving of two elements that may meet ends here (or at the resolution).
constexpr int deepestSplit = 40;
/// Groups whose gap is at least this share of the least one known are not looked into.
constexpr double closeEnough = 0.7;
/// In a search for the gap beside the way, a step out of the way's length counts as so much more than one beside it.
constexpr double alongScale = 100;
/// Elements are not split further for a gap's sake once they are flat to this, mm.
constexpr double gapResolutionMm = 0.01;
/// Comparisons of elements after which an earlier contact counts only when it is earlier by this much; and after which
/// the one that was found is enough.
constexpr std::size_t exactWork = 100'000, mostWork = 2'000'000;
constexpr double earlierMm = 0.1, earlierShare = 0.1;

using Impl = SweptBody::Impl;

/// Whether, and how near, two elements come on the way. `scale` stretches the way.
GapBounds elementGap(const SweepFrame& frame, const SweepElement& a, const SweepElement& b, double from, double to,
                     double enough, double scale)
{
    std::array<Vec3, 3> p = a.moved, q = b.moved;
    for (auto* t : {&p, &q})
        for (Vec3& m : *t)
            m.z *= scale;
    Box3 shifts{{0, 0, scale * from}, {0, 0, scale * to}};
    if (frame.straight())
        return sweptGap(p, q, shifts, enough);
    const double error = a.errorR + b.errorR;
    if (a.wholeTurn || b.wholeTurn) {
        for (auto* t : {&p, &q})
            for (Vec3& m : *t)
                m.y = 0;
        const GapBounds g = sweptGap(p, q, shifts, enough + error);
        return {std::max(0.0, g.lowMm - error), g.highMm + error};
    }
    const double all = error + a.errorF + b.errorF, period = frame.period();
    const auto [lowA, highA] = std::minmax({p[0].y, p[1].y, p[2].y});
    const auto [lowB, highB] = std::minmax({q[0].y, q[1].y, q[2].y});
    const double reach = std::min(enough, period) + all;
    GapBounds best{enough + 1, enough + 1 + all};
    for (double m = std::floor((lowB - highA - reach) / period); m <= std::ceil((highB - lowA + reach) / period); ++m) {
        shifts.min.y = shifts.max.y = m * period;
        const GapBounds g = sweptGap(p, q, shifts, enough + all);
        best = {std::min(best.lowMm, std::max(0.0, g.lowMm - all)), std::min(best.highMm, g.highMm + all)};
    }
    return best;
}

/// Earliest contact, by depth-first search that leaves out what can't come earlier.
class ContactSearch {
public:
    ContactSearch(const Impl& moving, const Impl& standing, double from, double to)
        : m_moving(moving), m_standing(standing), m_frame(moving.frame), m_from(from), m_to(to), m_until(to)
    {
    }

    std::optional<SweepContact> run()
    {
        if (!m_moving.nodes.empty() && !m_standing.nodes.empty())
            visit(0, 0);
        return m_found;
    }

private:
    void visit(std::size_t i, std::size_t j)
    {
        const Impl::Node& a = m_moving.nodes[i];
        const Impl::Node& b = m_standing.nodes[j];
        if (!possible(a.extents, b.extents))
            return;
        if (a.count != 0 && b.count != 0) {
            for (std::size_t s = a.link; s < a.link + a.count; ++s)
                for (std::size_t t = b.link; t < b.link + b.count; ++t)
                    if (possible(m_moving.extents[s], m_standing.extents[t]))
                        compare(m_moving.elements[s], m_standing.elements[t], 0);
            return;
        }
        const bool splitA = b.count != 0 || (a.count == 0 && size(a) >= size(b));
        std::array<std::size_t, 2> parts = splitA ? std::array{i + 1, a.link} : std::array{j + 1, b.link};
        const auto earliest = [&](std::size_t part) {
            return splitA ? b.extents.bottom - m_moving.nodes[part].extents.top
                          : m_standing.nodes[part].extents.bottom - a.extents.top;
        };
        if (earliest(parts[1]) < earliest(parts[0]))
            std::swap(parts[0], parts[1]);
        for (const std::size_t part : parts)
            splitA ? visit(part, j) : visit(i, part);
    }

    static double size(const Impl::Node& n)
    {
        return n.extents.high[0] - n.extents.low[0] + n.extents.high[sweepAlongF] - n.extents.low[sweepAlongF] +
               n.extents.top - n.extents.bottom;
    }

    bool possible(const SweepExtents& a, const SweepExtents& b) const
    {
        return !done() && b.top - a.bottom >= m_from && b.bottom - a.top < m_until && apart(a, b, m_frame) <= 0;
    }

    /// A contact at the start can't be beaten by more than is told apart, and one that took long to find isn't beaten.
    bool done() const { return m_found && (m_to <= m_from + sweepResolutionMm || m_work > mostWork); }

    bool meet(const SweepElement& a, const SweepElement& b, double to) const
    {
        return to >= m_from && elementGap(m_frame, a, b, m_from, to, 0, 1).lowMm <= 0;
    }

    void compare(const SweepElement& a, const SweepElement& b, int depth)
    {
        ++m_work;
        if (done() || !meet(a, b, m_until))
            return;
        if (a.error() + b.error() > sweepResolutionMm && depth < deepestSplit) {
            const bool splitA = a.error() >= b.error();
            for (const SweepElement& half : halvesOf(m_frame, splitA ? a : b))
                splitA ? compare(half, b, depth + 1) : compare(a, half, depth + 1);
            return;
        }
        double early = m_from, late = m_until;
        for (int step = 0; step < waySteps; ++step)
            (meet(a, b, 0.5 * (early + late)) ? late : early) = 0.5 * (early + late);
        m_to = late;
        // Where surfaces meet all over at once, each pair would come a trifle earlier than the one before.
        m_until = m_work < exactWork ? late : late - std::max(earlierMm, earlierShare * late);
        m_found = SweepContact{late, m_frame.out((b.at[0] + b.at[1] + b.at[2]) / 3.0)};
    }

    const Impl& m_moving;
    const Impl& m_standing;
    const SweepFrame& m_frame;
    double m_from, m_to;
    double m_until; ///< contacts from here on are of no interest
    std::size_t m_work = 0;
    std::optional<SweepContact> m_found;
};

/// Least gap beside the way; a lower bound of it.
class GapSearch {
public:
    GapSearch(const Impl& moving, const Impl& standing, double from, double to, double upTo)
        : m_moving(moving),
          m_standing(standing),
          m_frame(moving.frame),
          m_from(from),
          m_to(to),
          m_best(upTo),
          m_sure(upTo)
    {
    }

    double run()
    {
        if (!m_moving.nodes.empty() && !m_standing.nodes.empty())
            visit(0, 0);
        return std::max(0.0, std::min(m_sure, m_best));
    }

private:
    /// A gap in (r, f) is one in space when divided by sqrt(1 + (rate / r)^2): no function of (r, z - rate t) is
    /// steeper in space than in (r, f) by more at a radius r, and who goes from one body to the other by less than the
    /// best gap comes no nearer to the axis than that. A gap in r is one in space as it is.
    double inSpace(double gap, double radialGap, double outerRadius) const
    {
        if (m_frame.straight())
            return gap;
        const double rate = m_frame.lead / (2 * pi), radius = outerRadius - m_best;
        return std::max(radialGap, radius > 0 ? gap / std::sqrt(1 + (rate / radius) * (rate / radius)) : 0.0);
    }

    bool leftOut(const SweepExtents& a, const SweepExtents& b)
    {
        if (b.top - a.bottom < m_from || b.bottom - a.top > m_to)
            return true;
        const double gap = inSpace(apart(a, b, m_frame), apartInRadius(a, b), std::max(a.low[0], b.low[0]));
        if (gap < closeEnough * m_best)
            return false;
        m_sure = std::min(m_sure, gap);
        return true;
    }

    void visit(std::size_t i, std::size_t j)
    {
        const Impl::Node& a = m_moving.nodes[i];
        const Impl::Node& b = m_standing.nodes[j];
        if (m_best <= 0 || m_sure <= 0 || leftOut(a.extents, b.extents))
            return;
        if (a.count != 0 && b.count != 0) {
            for (std::size_t s = a.link; s < a.link + a.count; ++s)
                for (std::size_t t = b.link; t < b.link + b.count; ++t)
                    if (!leftOut(m_moving.extents[s], m_standing.extents[t]))
                        measure(m_moving.elements[s], m_standing.elements[t], 0);
            return;
        }
        const bool splitA = b.count != 0 || (a.count == 0 && a.link - i >= b.link - j);
        std::array<std::size_t, 2> parts = splitA ? std::array{i + 1, a.link} : std::array{j + 1, b.link};
        const auto near = [&](std::size_t part) {
            return splitA ? apart(m_moving.nodes[part].extents, b.extents, m_frame)
                          : apart(a.extents, m_standing.nodes[part].extents, m_frame);
        };
        if (near(parts[1]) < near(parts[0]))
            std::swap(parts[0], parts[1]);
        for (const std::size_t part : parts)
            splitA ? visit(part, j) : visit(i, part);
    }

    void measure(const SweepElement& a, const SweepElement& b, int depth)
    {
        if (m_sure <= 0)
            return; // no less can be found
        const SweepExtents extentsA(a), extentsB(b);
        const GapBounds g = elementGap(m_frame, a, b, m_from, m_to, 2 * m_best, alongScale);
        const double low =
            inSpace(g.lowMm, apartInRadius(extentsA, extentsB), std::max(extentsA.low[0], extentsB.low[0]));
        if (low >= m_best)
            return;
        if (g.highMm - g.lowMm > std::max(gapResolutionMm, (1 - closeEnough) * g.highMm) && depth < deepestSplit &&
            a.error() + b.error() > gapResolutionMm) {
            const bool splitA = a.error() >= b.error();
            for (const SweepElement& half : halvesOf(m_frame, splitA ? a : b))
                splitA ? measure(half, b, depth + 1) : measure(a, half, depth + 1);
            return;
        }
        m_best = std::min(m_best, g.highMm);
        m_sure = std::min(m_sure, low);
    }

    const Impl& m_moving;
    const Impl& m_standing;
    const SweepFrame& m_frame;
    double m_from, m_to, m_best, m_sure;
};

} // namespace

Transform placeAlong(const Sweep& sweep, double sMm)
{
    const Vec3 d = normalized(sweep.direction);
    const Transform shift = Transform::translation(sMm * d);
    if (sweep.leadMm == 0)
        return shift;
    return shift * Transform::translation(sweep.point) * Transform::rotation(d, 2 * pi * sMm / sweep.leadMm) *
           Transform::translation(-sweep.point);
}

SweptBody::SweptBody(const Mesh& mesh, const Sweep& sweep) : m_impl(std::make_unique<Impl>(mesh, sweep)) {}
SweptBody::~SweptBody() = default;
SweptBody::SweptBody(SweptBody&&) noexcept = default;
SweptBody& SweptBody::operator=(SweptBody&&) noexcept = default;

double SweptBody::lowMm() const
{
    return m_impl->low;
}

double SweptBody::highMm() const
{
    return m_impl->high;
}

std::optional<SweepContact> firstContact(const SweptBody& moving, const SweptBody& standing, double fromMm, double toMm)
{
    return ContactSearch(moving.impl(), standing.impl(), fromMm, toMm).run();
}

double leastGapBeside(const SweptBody& moving, const SweptBody& standing, double fromMm, double toMm, double upToMm)
{
    return GapSearch(moving.impl(), standing.impl(), fromMm, toMm, upToMm).run();
}

} // namespace quoin::mesh
