// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fit_coupon.h"

#include "core/coupon_measure.h"
#include "core/stroke_font.h"
#include "mesh/primitives.h"
#include "mesh/print_ready.h"
#include "mesh/region.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace quoin::core {

namespace {

constexpr int mostSteps = 40;
constexpr double leastStepMm = 0.01, mostClearanceMm = 2; ///< below, no printer shows a difference; above, none fits
constexpr double leastSizeMm = 4, mostSizeMm = 60;

constexpr double wallMm = 2.4;      ///< between pockets, and to the rim (three lines of 0.8 mm)
constexpr double mouthMm = 0.5;     ///< a mouth is chamfered, so wider than its wall by less than this
constexpr double floorMm = 1.6;     ///< under a pocket: eight layers of 0.2 mm
constexpr double depthShare = 0.75; ///< of the larger gauge: deep enough to feel, little to print
constexpr double mostDepthMm = 12;
constexpr double lengthShare = 3;    ///< of a gauge, so that it can be gripped
constexpr double belowGaugeMm = 0.5; ///< free under a gauge's end

// Numbers: as high as the small marks of pieces.
constexpr double numberMm = 5, strokeMm = 0.9, numberDepthMm = 0.6, arcErrorMm = 0.03;

/// Allowed between the designed and the measured gap: a chord error each (mesh/tolerance.h) and rounding.
constexpr double gapSlackMm = 0.045;
constexpr double gapRoundingMm = 1e-4;

constexpr mesh::Label topLabel = 1, pocketLabel = 2;

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

int stepsOf(const CouponOptions& o)
{
    return 1 + static_cast<int>(std::lround((o.toMm - o.fromMm) / o.stepMm));
}

Status checkOptions(const CouponOptions& o)
{
    if (!(o.stepMm >= leastStepMm && o.stepMm <= mostClearanceMm))
        return refused(
            fmt::format("a step of {:g} mm is not between {:g} and {:g} mm", o.stepMm, leastStepMm, mostClearanceMm),
            "0.05 mm is a good step.");
    if (!(o.fromMm >= 0 && o.toMm <= mostClearanceMm && o.toMm > o.fromMm))
        return refused(
            fmt::format("clearances from {:g} to {:g} mm per side can't be stepped", o.fromMm, o.toMm),
            fmt::format("Go from a small one, 0 or more, to a larger one, at most {:g} mm.", mostClearanceMm));
    const double steps = (o.toMm - o.fromMm) / o.stepMm;
    if (std::abs(steps - std::round(steps)) > 1e-6)
        return refused(fmt::format("steps of {:g} mm from {:g} mm don't end at {:g} mm", o.stepMm, o.fromMm, o.toMm),
                       "Choose an end that is a whole number of steps away.");
    if (stepsOf(o) > mostSteps)
        return refused(fmt::format("{} steps are too many for a coupon", stepsOf(o)),
                       fmt::format("At most {} can be: take a larger step.", mostSteps));
    for (const double size : {o.dowelMm, o.keyMm})
        if (!(size >= leastSizeMm && size <= mostSizeMm))
            return refused(
                fmt::format("a gauge of {:g} mm is not between {:g} and {:g} mm", size, leastSizeMm, mostSizeMm),
                "8 mm is a good size.");
    if (!(o.marginMm >= 0))
        return refused(fmt::format("a margin of {:g} mm can't be", o.marginMm), "Give 0 mm or more.");
    return checkBed(o.bed);
}

double sizeOf(const CouponOptions& o, CouponPair pair)
{
    return pair == CouponPair::Dowel ? o.dowelMm : o.keyMm;
}

/// How the plate is divided: lines of columns, each line with a row of numbers and a row for each pair.
struct Layout {
    int columns = 0, lines = 0;
    double pitchMm = 0, numberRowMm = 0, depthMm = 0;
    std::array<double, couponPairs.size()> rowMm{}; ///< along y, one a pair
    double widthMm = 0, heightMm = 0, thickMm = 0;  ///< of the plate; height is along y

    double lineMm() const { return std::accumulate(rowMm.begin(), rowMm.end(), numberRowMm); }
    /// Middle of a column's number, and of a pair's pocket under it, seen from above; the first line is at the back.
    mesh::Vec2 numberAt(int step) const
    {
        const int column = step % columns, line = step / columns;
        return {-widthMm / 2 + wallMm / 2 + (column + 0.5) * pitchMm,
                heightMm / 2 - wallMm / 2 - line * lineMm() - numberRowMm / 2};
    }
    mesh::Vec2 pocketAt(int step, std::size_t pair) const
    {
        const auto row = rowMm.begin() + static_cast<std::ptrdiff_t>(pair);
        return numberAt(step) - mesh::Vec2{0, std::accumulate(rowMm.begin(), row, numberRowMm / 2) + *row / 2};
    }
};

Layout layoutOf(const CouponOptions& o, int lines)
{
    Layout l;
    const int steps = stepsOf(o);
    const double numberWidthMm = numberMm * strokeText(fmt::format("{}", steps)).width + strokeMm;
    l.columns = (steps + lines - 1) / lines;
    l.lines = (steps + l.columns - 1) / l.columns;
    const double around = 2 * (o.toMm + mouthMm) + wallMm;
    l.pitchMm = std::max({o.dowelMm, o.keyMm, numberWidthMm}) + around;
    for (std::size_t p = 0; p < couponPairs.size(); ++p)
        l.rowMm[p] = sizeOf(o, couponPairs[p]) + around;
    l.numberRowMm = (1 - strokeBarY) * numberMm + strokeMm + wallMm;
    l.depthMm = std::min(depthShare * std::max(o.dowelMm, o.keyMm), mostDepthMm);
    l.widthMm = l.columns * l.pitchMm + wallMm;
    l.heightMm = l.lines * l.lineMm() + wallMm;
    l.thickMm = l.depthMm + floorMm;
    return l;
}

bool fits(const Layout& l, const CouponOptions& o)
{
    const double width = o.bed.widthMm - 2 * o.marginMm, depth = o.bed.depthMm - 2 * o.marginMm;
    const bool flat = o.bed.shape == Bed::Shape::Round ? std::hypot(l.widthMm, l.heightMm) <= width
                                                       : l.widthMm <= width && l.heightMm <= depth;
    const double gaugeMm = lengthShare * std::max(o.dowelMm, o.keyMm);
    const bool gauge = gaugeMm <= width && gaugeMm <= depth;
    return flat && gauge && std::max({l.thickMm, o.dowelMm, o.keyMm}) <= o.bed.heightMm - o.marginMm;
}

Result<Layout> layoutOnBed(const CouponOptions& o)
{
    Layout squarest = layoutOf(o, 1);
    for (int lines = 1; lines <= stepsOf(o); ++lines) {
        const Layout l = layoutOf(o, lines);
        if (fits(l, o))
            return l;
        if (std::max(l.widthMm, l.heightMm) < std::max(squarest.widthMm, squarest.heightMm))
            squarest = l;
    }
    return Problem{Reason::DoesNotFit,
                   fmt::format("a coupon of {} steps needs a plate such as {:.1f} x {:.1f} x {:.1f} mm, and the bed {} "
                               "with a margin of {:g} mm has no room for it",
                               stepsOf(o), squarest.widthMm, squarest.heightMm, squarest.thickMm, sizeWords(o.bed),
                               o.marginMm),
                   {},
                   {},
                   "Take fewer steps or smaller gauges, or a larger bed."};
}

/// The number as letters sunk into the face, one recess a letter.
void addNumber(int number, mesh::Vec2 at, const mesh::PlaneFrame& frame, double topMm,
               std::vector<mesh::Recess>& recesses)
{
    const StrokeText text = strokeText(fmt::format("{}", number));
    std::vector<std::vector<mesh::Vec2>> paths = text.paths;
    for (auto& path : paths)
        for (mesh::Vec2& p : path) {
            const mesh::Vec2 onPlate = at + numberMm * mesh::Vec2{p.x - text.width / 2, p.y - 0.5 * (1 + strokeBarY)};
            p = frame.flat({onPlate.x, onPlate.y, topMm});
        }
    for (const mesh::Region& letter : mesh::islands(mesh::strokes(paths, strokeMm, arcErrorMm)))
        recesses.push_back({{{0, letter}, {numberDepthMm, letter}}});
}

/// A slab with its top face labelled, middle at x = y = 0, standing on z = 0.
mesh::Mesh slab(const Layout& l)
{
    mesh::Mesh m = mesh::box({-l.widthMm / 2, -l.heightMm / 2, 0}, {l.widthMm / 2, l.heightMm / 2, l.thickMm});
    for (std::size_t t = 0; t < m.triangles.size(); ++t) {
        const bool top =
            m.corner(t, 0).z == l.thickMm && m.corner(t, 1).z == l.thickMm && m.corner(t, 2).z == l.thickMm;
        m.labels.push_back(top ? topLabel : mesh::skinLabel);
    }
    return m;
}

Result<CouponPart> part(const std::string& name, const std::string& file, const mesh::Mesh& m)
{
    auto ready = mesh::printReady(m);
    if (!ready) {
        Problem problem = ready.problem();
        problem.what = "the coupon's " + name + ": " + problem.what;
        return problem;
    }
    return CouponPart{name, file, std::move(ready->mesh)};
}

Result<CouponPart> platePart(const CouponOptions& o, const Layout& l, std::vector<CouponPocket>& pockets)
{
    const mesh::Plane top{{0, 0, 1}, l.thickMm};
    const mesh::PlaneFrame frame = mesh::frameOf(top);
    std::vector<mesh::Recess> recesses;
    for (int step = 0; step < stepsOf(o); ++step) {
        addNumber(step + 1, l.numberAt(step), frame, l.thickMm, recesses);
        for (std::size_t p = 0; p < couponPairs.size(); ++p) {
            const mesh::Vec2 at = l.pocketAt(step, p);
            const double clearance = o.fromMm + step * o.stepMm;
            pockets.push_back({couponPairs[p], step + 1, {at.x, at.y, l.thickMm}, clearance, 0});
            recesses.push_back(couponPocket(couponPairs[p], sizeOf(o, couponPairs[p]), clearance, l.depthMm,
                                            frame.flat(pockets.back().mouth), top));
        }
    }
    auto plate = mesh::withRecesses(slab(l), topLabel, top, recesses, pocketLabel);
    if (!plate)
        return plate.problem();
    plate->labels.clear();
    return part("plate", "plate.stl", *plate);
}

std::string gaugeName(CouponPair pair)
{
    return pair == CouponPair::Dowel ? "dowel" : pairName(pair) + " key";
}

std::string gaugeFile(CouponPair pair)
{
    return pair == CouponPair::Dowel ? "dowel.stl" : pair == CouponPair::Square ? "square-key.stl" : "d-key.stl";
}

/// Puts the gauge, as it will be written, into each of its pockets.
Status measure(Coupon& coupon, CouponPair pair, const CouponPart& gauge, const mesh::Transform& printFromUpright,
               const Layout& l)
{
    const mesh::Mesh upright = mesh::transformed(gauge.mesh, printFromUpright.rigidInverse());
    const GapMeter meter(coupon.parts.front().mesh, upright);
    for (CouponPocket& pocket : coupon.sheet.pockets) {
        if (pocket.pair != pair)
            continue;
        const double lift = std::max(belowGaugeMm, pocket.clearanceMm + belowGaugeMm);
        pocket.measuredMm = meter.leastMm(pocket.mouth + mesh::Vec3{0, 0, lift - l.depthMm});
        const double over = pocket.measuredMm - pocket.clearanceMm;
        if (!(over >= -gapRoundingMm && over <= gapSlackMm))
            return Problem{Reason::JointFailed,
                           fmt::format("the {} pocket {} was made with {:.4f} mm per side, not {:.4f}", pairName(pair),
                                       pocket.number, pocket.measuredMm, pocket.clearanceMm),
                           {},
                           {},
                           "Report this with the options that you gave."};
    }
    return Done{};
}

Status addGauge(Coupon& coupon, const CouponOptions& o, CouponPair pair, const Layout& l)
{
    const double size = sizeOf(o, pair);
    const Gauge gauge = couponGauge(pair, size, lengthShare * size);
    auto made = part(gaugeName(pair), gaugeFile(pair), mesh::transformed(gauge.upright, gauge.printFromUpright));
    if (!made)
        return made.problem();
    const Status measured = measure(coupon, pair, *made, gauge.printFromUpright, l);
    coupon.parts.push_back(std::move(*made));
    return measured;
}

} // namespace

double CouponSheet::clearanceMm(int number) const
{
    // Whole micrometres: 0.05 + 4 * 0.05 is meant as 0.25.
    return std::round(1000 * (fromMm + (number - 1) * stepMm)) / 1000;
}

bool CouponSheet::has(CouponPair pair) const
{
    return std::any_of(pockets.begin(), pockets.end(), [&](const CouponPocket& p) { return p.pair == pair; });
}

Result<Coupon> makeCoupon(const CouponOptions& options, const std::string& date)
{
    if (const Status good = checkOptions(options); !good)
        return good.problem();
    const auto layout = layoutOnBed(options);
    if (!layout)
        return layout.problem();
    Coupon coupon;
    CouponSheet& sheet = coupon.sheet;
    sheet = {options.material, options.machine, date, options.fromMm, options.stepMm, stepsOf(options),
             options.dowelMm,  options.keyMm,   {}};
    coupon.plateMm = {layout->widthMm, layout->heightMm, layout->thickMm};
    auto plate = platePart(options, *layout, sheet.pockets);
    if (!plate)
        return plate.problem();
    coupon.parts.push_back(std::move(*plate));
    for (const CouponPair pair : couponPairs)
        if (const Status s = addGauge(coupon, options, pair, *layout); !s)
            return s.problem();
    return coupon;
}

} // namespace quoin::core
