// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/nest_place.h"

#include "core/bed_room.h"
#include "mesh/hull.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

constexpr int circleSides = 72;
constexpr double wholeSlack = 1e-4; ///< of a grid step: a crossing that is meant to be on the grid
constexpr long pairsInAStep = 16;   ///< edge pairs that cost about as much as trying a place

struct Edge {
    NestPoint a, b;
    NestBox box;
};

Edge edgeOf(NestPoint a, NestPoint b)
{
    Edge e{a, b, {}};
    e.box.add(a);
    e.box.add(b);
    return e;
}

bool apart(const NestBox& a, const NestBox& b)
{
    return a.low.x > b.high.x || b.low.x > a.high.x || a.low.y > b.high.y || b.low.y > a.high.y;
}

/// The room that a bed leaves for the origin of a shape, as a convex loop; inside it for a round bed. None when the
/// shape is too large.
std::optional<NestLoop> roomOn(const NestBed& bed, const NestShape& shape)
{
    if (!bed.round) {
        const NestPoint low = bed.low - shape.box.low, high = bed.high - shape.box.high;
        if (low.x > high.x || low.y > high.y)
            return std::nullopt;
        return NestLoop{low, {high.x, low.y}, high, {low.x, high.y}};
    }
    std::vector<mesh::Vec2> points;
    for (const NestPoint p : shape.hull)
        points.push_back({static_cast<double>(p.x), static_cast<double>(p.y)});
    const mesh::Circle circle = mesh::smallestEnclosingCircle(points);
    const double radius = static_cast<double>(bed.radius);
    if (circle.radius > radius)
        return std::nullopt;
    // From the place where the shape stands in the middle, as far as the first of its corners allows.
    NestLoop room;
    for (int k = 0; k < circleSides; ++k) {
        const double angle = 2 * std::numbers::pi * k / circleSides - std::numbers::pi / 2;
        const mesh::Vec2 way{std::cos(angle), std::sin(angle)};
        double far = 2 * radius;
        for (const mesh::Vec2 p : points) {
            const mesh::Vec2 q = p - circle.centre;
            const double along = mesh::dot(q, way);
            const double square = along * along + radius * radius - mesh::dot(q, q);
            far = std::min(far, std::sqrt(std::max(square, 0.0)) - along);
        }
        const mesh::Vec2 at = std::max(far - 2, 0.0) * way - circle.centre; // rounding stays inside
        room.push_back({std::llround(at.x), std::llround(at.y)});
    }
    return room;
}

class Places {
public:
    Places(NoFitTable& table, const NestBed& bed, const std::vector<NestPlaced>& placed, std::size_t shape, long& work)
        : m_table(table), m_bed(bed), m_placed(placed), m_shape(shape), m_work(work)
    {
    }

    std::optional<NestPoint> lowest()
    {
        const auto room = roomOn(m_bed, m_table.shape(m_shape));
        if (!room)
            return std::nullopt;
        m_room = boxOf(*room);
        addLoop(*room, {});
        for (const NestPlaced& p : m_placed) {
            const NoFit& no = m_table.between(p.shape, m_shape, m_work);
            NestBox box{no.box.low + p.at, no.box.high + p.at};
            if (apart(box, m_room))
                continue;
            m_near.push_back({&no, p.at});
            m_groups.push_back(m_edges.size());
            for (const NestLoop& loop : no.outline)
                addLoop(loop, p.at);
        }
        m_groups.push_back(m_edges.size());
        addCrossings();
        std::sort(m_candidates.begin(), m_candidates.end(),
                  [](NestPoint a, NestPoint b) { return a.y != b.y ? a.y < b.y : a.x < b.x; });
        m_candidates.erase(std::unique(m_candidates.begin(), m_candidates.end()), m_candidates.end());
        for (const NestPoint at : m_candidates) {
            ++m_work;
            if (isFree(at))
                return at;
        }
        return std::nullopt;
    }

private:
    struct Near {
        const NoFit* noFit;
        NestPoint at;
    };

    void addLoop(const NestLoop& loop, NestPoint at)
    {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const NestPoint a = loop[i] + at, b = loop[(i + 1) % loop.size()] + at;
            tryAt(a);
            const Edge e = edgeOf(a, b);
            if (!(a == b) && !apart(e.box, m_room))
                m_edges.push_back(e);
        }
    }

    void tryAt(NestPoint p)
    {
        if (p.x >= m_room.low.x && p.x <= m_room.high.x && p.y >= m_room.low.y && p.y <= m_room.high.y)
            m_candidates.push_back(p);
    }

    void addCrossings()
    {
        // The room's own edges come first, then those of each placed shape.
        std::vector<std::size_t> starts{0};
        starts.insert(starts.end(), m_groups.begin(), m_groups.end());
        for (std::size_t g = 0; g + 2 < starts.size(); ++g)
            for (std::size_t i = starts[g]; i < starts[g + 1]; ++i)
                for (std::size_t j = starts[g + 1]; j < m_edges.size(); ++j)
                    if (!apart(m_edges[i].box, m_edges[j].box))
                        cross2(m_edges[i], m_edges[j]);
        m_work += static_cast<long>(m_edges.size() * m_edges.size()) / (2 * pairsInAStep);
    }

    void cross2(const Edge& e, const Edge& f)
    {
        const NestPoint d = e.b - e.a, g = f.b - f.a;
        const std::int64_t along = cross(d, g);
        if (along == 0)
            return;
        const double t = static_cast<double>(cross(f.a - e.a, g)) / static_cast<double>(along);
        const double u = static_cast<double>(cross(f.a - e.a, d)) / static_cast<double>(along);
        constexpr double slack = 1e-9;
        if (t < -slack || t > 1 + slack || u < -slack || u > 1 + slack)
            return;
        const double x = static_cast<double>(e.a.x) + t * static_cast<double>(d.x);
        const double y = static_cast<double>(e.a.y) + t * static_cast<double>(d.y);
        // A crossing off the grid is tried at all four corners round it.
        const auto low = [](double v) { return static_cast<std::int64_t>(std::floor(v + wholeSlack)); };
        const auto high = [](double v) { return static_cast<std::int64_t>(std::ceil(v - wholeSlack)); };
        for (std::int64_t px = low(x); px <= high(x); ++px)
            for (std::int64_t py = low(y); py <= high(y); ++py)
                tryAt({px, py});
    }

    bool isFree(NestPoint at) const
    {
        return std::none_of(m_near.begin(), m_near.end(),
                            [&](const Near& n) { return n.noFit->overlapsAt(at - n.at); }) &&
               m_bed.holds(m_table.shape(m_shape), at);
    }

    NoFitTable& m_table;
    const NestBed& m_bed;
    const std::vector<NestPlaced>& m_placed;
    std::size_t m_shape;
    long& m_work;
    NestBox m_room;
    std::vector<Near> m_near;
    std::vector<Edge> m_edges;
    std::vector<std::size_t> m_groups; ///< where the edges of each near shape begin
    std::vector<NestPoint> m_candidates;
};

} // namespace

bool NestBed::holds(const NestShape& shape, NestPoint at) const
{
    if (!round) {
        const NestPoint l = shape.box.low + at, h = shape.box.high + at;
        return l.x >= low.x && l.y >= low.y && h.x <= high.x && h.y <= high.y;
    }
    return std::all_of(shape.hull.begin(), shape.hull.end(), [&](NestPoint p) {
        const NestPoint q = p + at;
        return q.x * q.x + q.y * q.y <= radius * radius;
    });
}

double NestBed::areaMm2() const
{
    if (round)
        return std::numbers::pi * static_cast<double>(radius) * static_cast<double>(radius) * nestStepMm * nestStepMm;
    const mesh::Vec2 l = placeOf(low), h = placeOf(high);
    return (h.x - l.x) * (h.y - l.y);
}

NestBed nestBed(const Bed& bed, double marginMm)
{
    const BedRoom room = withRounding(roomOf(bed, marginMm));
    // A corner may be rounded outwards by half a step at either end.
    const auto half = [](double mm) { return static_cast<std::int64_t>(std::llround(mm / 2 / nestStepMm)) + 1; };
    NestBed out;
    out.round = room.round;
    if (room.round)
        out.radius = half(room.widthMm);
    out.high = {half(room.widthMm), half(room.depthMm)};
    out.low = NestPoint{} - out.high;
    return out;
}

std::optional<NestPoint> lowestPlace(NoFitTable& table, const NestBed& bed, const std::vector<NestPlaced>& placed,
                                     std::size_t shape, long& work)
{
    return Places(table, bed, placed, shape, work).lowest();
}

} // namespace quoin::core
