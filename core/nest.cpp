// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/nest.h"

#include "core/nest_place.h"
#include "core/nest_turns.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>
#include <set>

namespace quoin::core {

using mesh::Region;

namespace {

constexpr std::size_t ordersTried = 12;  ///< of the items of one plate with one more, before it is given up
constexpr std::size_t roundsWithout = 3; ///< rounds of the search without anything better, before it ends

/// One plate while it is being filled.
struct Layout {
    std::vector<NestPlaced> placed;
    std::vector<std::size_t> items; ///< one for each
    std::set<std::size_t> refused;  ///< outlines that found no place: they won't on a fuller plate
    double area = 0, load = 0;
    bool alone = false;
};

class Nester {
public:
    Nester(const std::vector<Region>& outlines, const std::vector<NestItem>& items, const Bed& bed,
           const NestRules& rules, const Context& context)
        : m_items(items),
          m_rules(rules),
          m_context(context),
          m_bed(nestBed(bed, rules.marginMm)),
          m_random(rules.seed),
          m_table(shapesOf(outlines, rules))
    {
    }

    Nesting run()
    {
        Nesting out;
        bound(out);
        firstFit(out);
        if (m_plates.size() > out.leastPlates)
            search(out.leastPlates);
        out.work = m_work;
        for (Layout& plate : m_plates)
            out.plates.push_back(finished(plate));
        return out;
    }

private:
    struct Turn {
        std::size_t shape;
        double angle;
    };

    std::vector<NoFitTable::Entry> shapesOf(const std::vector<Region>& outlines, const NestRules& rules)
    {
        std::vector<NoFitTable::Entry> shapes;
        for (const Region& outline : outlines) {
            std::vector<Turn> turns;
            for (const double first : firstTurns(outline, rules.turns)) {
                const std::size_t base = shapes.size();
                shapes.push_back({nestShape(outline, first, rules.gapMm / 2, rules.thinMm), base, 0});
                turns.push_back({base, first});
                const int quarters = rules.turns == NestTurns::None ? 1 : differentQuarters(outline);
                for (int k = 1; k < quarters; ++k) {
                    turns.push_back({shapes.size(), first + k * quarterTurn});
                    shapes.push_back({quarterTurned(shapes[base].shape, k), base, k});
                }
            }
            m_turns.push_back(std::move(turns));
            m_area.push_back(mesh::area(outline));
        }
        return shapes;
    }

    double areaOf(std::size_t item) const { return m_area[m_items[item].outline]; }
    bool spent() const { return m_work >= m_rules.work || m_context.cancelled(); }

    void bound(Nesting& out) const
    {
        double area = 0, load = 0;
        std::size_t alone = 0, shared = 0, large = 0;
        for (std::size_t i = 0; i < m_items.size(); ++i) {
            if (m_items[i].alone) {
                ++alone;
                continue;
            }
            ++shared;
            area += areaOf(i);
            load += m_items[i].load;
            large += areaOf(i) > m_bed.areaMm2() / 2 ? 1 : 0;
        }
        const auto whole = [](double v) { return static_cast<std::size_t>(std::max(0.0, std::ceil(v - 1e-6))); };
        const std::size_t byArea = whole(area / m_bed.areaMm2());
        const std::size_t byLoad = std::isfinite(m_rules.mostLoad) ? whole(load / m_rules.mostLoad) : 0;
        const std::size_t most = std::max({byArea, byLoad, large, std::size_t{shared > 0 ? 1u : 0u}});
        out.leastPlates = alone + most;
        out.leastWords = most == 0        ? "each stands alone"
                         : most == byLoad ? "the hours of the pieces by what one plate may take"
                         : most == large  ? "pieces larger than half the plate"
                                          : "the area of the outlines by that of the plate";
        if (alone > 0 && most > 0)
            out.leastWords += fmt::format(", and {} that stand alone", alone);
    }

    /// Puts an item on a plate as low as it goes, in the turn in which it ends lowest.
    bool add(Layout& plate, std::size_t item)
    {
        const std::size_t outline = m_items[item].outline;
        if (plate.refused.contains(outline))
            return false;
        const bool shared = !plate.items.empty();
        if (shared && (plate.alone || m_items[item].alone || plate.load + m_items[item].load > m_rules.mostLoad ||
                       plate.area + areaOf(item) > m_bed.areaMm2() * (1 + 1e-9)))
            return false;
        std::optional<NestPlaced> best;
        std::pair<std::int64_t, std::int64_t> bestTop;
        for (const Turn& t : m_turns[outline]) {
            const auto at = lowestPlace(m_table, m_bed, plate.placed, t.shape, m_work);
            if (!at)
                continue;
            const NestPoint top = m_table.shape(t.shape).box.high + *at;
            if (!best || std::pair(top.y, top.x) < bestTop) {
                best = NestPlaced{t.shape, *at};
                bestTop = {top.y, top.x};
            }
        }
        if (!best) {
            plate.refused.insert(outline);
            return false;
        }
        plate.placed.push_back(*best);
        plate.items.push_back(item);
        plate.area += areaOf(item);
        plate.load += m_items[item].load;
        plate.alone = m_items[item].alone;
        return true;
    }

    std::vector<std::size_t> byArea(std::vector<std::size_t> items) const
    {
        std::stable_sort(items.begin(), items.end(),
                         [&](std::size_t a, std::size_t b) { return areaOf(a) > areaOf(b); });
        return items;
    }

    void firstFit(Nesting& out)
    {
        std::vector<std::size_t> order(m_items.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::size_t done = 0;
        for (const std::size_t item : byArea(std::move(order))) {
            m_context.report(0.5 * static_cast<double>(done++) / static_cast<double>(m_items.size()), "nesting");
            if (m_context.cancelled())
                return;
            const bool placed =
                std::any_of(m_plates.begin(), m_plates.end(), [&](Layout& plate) { return add(plate, item); });
            if (placed)
                continue;
            Layout plate;
            if (add(plate, item))
                m_plates.push_back(std::move(plate));
            else
                out.unplaced.push_back(item);
        }
    }

    /// All of some items on one plate, in some order; none when no order tried works.
    std::optional<Layout> onOne(const std::vector<std::size_t>& items)
    {
        std::vector<std::size_t> order = byArea(items);
        std::vector<std::size_t> best = order;
        double bestArea = -1;
        const std::size_t tries = items.size() * ordersTried;
        for (std::size_t n = 0; n < tries && !spent(); ++n) {
            Layout plate;
            std::vector<std::size_t> left;
            for (const std::size_t item : order)
                if (!add(plate, item))
                    left.push_back(item);
            if (left.empty())
                return plate;
            if (plate.area >= bestArea) {
                bestArea = plate.area;
                best = order;
                m_left = left;
            }
            order = disturbed(best, m_left);
        }
        return std::nullopt;
    }

    /// Another order: an item that found no place comes earlier, or two change places.
    std::vector<std::size_t> disturbed(std::vector<std::size_t> order, const std::vector<std::size_t>& left)
    {
        const auto any = [&](std::size_t n) { return static_cast<std::size_t>(m_random() % n); };
        if (m_random() % 2 == 0) {
            const std::size_t item = left[any(left.size())];
            const auto at = std::find(order.begin(), order.end(), item);
            const auto to = static_cast<std::ptrdiff_t>(any(static_cast<std::size_t>(at - order.begin()) + 1));
            std::rotate(order.begin() + to, at, at + 1);
        } else {
            std::swap(order[any(order.size())], order[any(order.size())]);
        }
        return order;
    }

    /// Plates that may share, the lightest first.
    std::vector<std::size_t> lightestFirst() const
    {
        std::vector<std::size_t> order;
        for (std::size_t i = 0; i < m_plates.size(); ++i)
            if (!m_plates[i].alone)
                order.push_back(i);
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return m_plates[a].area < m_plates[b].area; });
        return order;
    }

    /// Moves items of one plate to others. @return whether any has moved
    bool pourOut(std::size_t from)
    {
        bool moved = false;
        for (const std::size_t item : byArea(m_plates[from].items)) {
            auto order = lightestFirst();
            std::reverse(order.begin(), order.end());
            for (const std::size_t to : order) {
                if (to == from || spent() || m_plates[to].area + areaOf(item) > m_bed.areaMm2() * (1 + 1e-9) ||
                    m_plates[to].load + m_items[item].load > m_rules.mostLoad)
                    continue;
                std::vector<std::size_t> more = m_plates[to].items;
                more.push_back(item);
                auto plate = onOne(more);
                if (!plate)
                    continue;
                m_plates[to] = std::move(*plate);
                takeOff(m_plates[from], item);
                moved = true;
                break;
            }
        }
        return moved;
    }

    void takeOff(Layout& plate, std::size_t item)
    {
        const auto at =
            static_cast<std::ptrdiff_t>(std::find(plate.items.begin(), plate.items.end(), item) - plate.items.begin());
        plate.items.erase(plate.items.begin() + at);
        plate.placed.erase(plate.placed.begin() + at);
        plate.refused.clear();
        plate.area -= areaOf(item);
        plate.load -= m_items[item].load;
    }

    void search(std::size_t least)
    {
        std::size_t without = 0;
        while (m_plates.size() > least && without < roundsWithout && !spent()) {
            m_context.report(0.5 + 0.5 * static_cast<double>(m_work) / static_cast<double>(m_rules.work), "nesting");
            bool moved = false;
            for (const std::size_t from : lightestFirst())
                if (!spent() && pourOut(from)) {
                    moved = true;
                    break;
                }
            std::erase_if(m_plates, [](const Layout& p) { return p.items.empty(); });
            without = moved ? 0 : without + 1;
        }
    }

    /// In the middle of the plate, in mm.
    NestPlate finished(const Layout& plate) const
    {
        NestBox box;
        for (const NestPlaced& p : plate.placed) {
            box.add(m_table.shape(p.shape).box.low + p.at);
            box.add(m_table.shape(p.shape).box.high + p.at);
        }
        const NestPoint twice = box.low + box.high;
        NestPoint by{-twice.x / 2, -twice.y / 2};
        for (const NestPlaced& p : plate.placed)
            if (!m_bed.holds(m_table.shape(p.shape), p.at + by)) {
                by = {}; // a round plate holds them only where they are
                break;
            }
        NestPlate out;
        for (std::size_t i = 0; i < plate.items.size(); ++i) {
            double angle = 0;
            for (const Turn& t : m_turns[m_items[plate.items[i]].outline])
                if (t.shape == plate.placed[i].shape)
                    angle = t.angle;
            out.places.push_back({plate.items[i], angle, placeOf(plate.placed[i].at + by)});
        }
        out.filledShare = plate.area / m_bed.areaMm2();
        out.load = plate.load;
        return out;
    }

    const std::vector<NestItem>& m_items;
    NestRules m_rules;
    const Context& m_context;
    NestBed m_bed;
    std::mt19937_64 m_random;
    std::vector<std::vector<Turn>> m_turns; ///< of each outline
    std::vector<double> m_area;             ///< of each outline
    NoFitTable m_table;
    std::vector<Layout> m_plates;
    std::vector<std::size_t> m_left;
    long m_work = 0;
};

} // namespace

Result<Nesting> nest(const std::vector<Region>& outlines, const std::vector<NestItem>& items, const Bed& bed,
                     const NestRules& rules, const Context& context)
{
    for (const NestItem& item : items)
        if (item.outline >= outlines.size() || !(mesh::area(outlines[item.outline]) > 0))
            return Problem{Reason::BadArgument, "a piece to be nested has no outline", {}, {}, "Check its mesh."};
    if (const Status s = checkBed(bed); !s)
        return s.problem();
    return Nester(outlines, items, bed, rules, context).run();
}

} // namespace quoin::core
