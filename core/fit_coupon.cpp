// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fit_coupon.h"

#include "core/coupon_measure.h"
#include "core/coupon_plate.h"
#include "core/coupon_thread.h"
#include "core/parts_list.h"
#include "mesh/print_ready.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

constexpr int mostSteps = 40;
constexpr double leastStepMm = 0.01, mostClearanceMm = 2; ///< below, no printer shows a difference; above, none fits
constexpr double leastSizeMm = 4, mostSizeMm = 60;

constexpr double mouthMm = 0.5;     ///< a mouth is chamfered, so wider than its wall by less than this
constexpr double depthShare = 0.75; ///< of the larger gauge: deep enough to feel, little to print
constexpr double mostDepthMm = 12;
constexpr double lengthShare = 3;    ///< of a gauge, so that it can be gripped
constexpr double belowGaugeMm = 0.5; ///< free under a gauge's end

/// Allowed between the designed and the measured gap: a chord error each (mesh/tolerance.h) and rounding.
constexpr double gapSlackMm = 0.045;
constexpr double gapRoundingMm = 1e-4;

constexpr mesh::Label pocketLabel = 2;

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

/// Whether something lies on the bed.
Status fitsBed(const CouponPart& made, const CouponOptions& o)
{
    const mesh::Vec3 size = mesh::bounds(made.mesh).extents();
    const double width = o.bed.widthMm - 2 * o.marginMm, depth = o.bed.depthMm - 2 * o.marginMm;
    const bool flat =
        o.bed.shape == Bed::Shape::Round ? std::hypot(size.x, size.y) <= width : size.x <= width && size.y <= depth;
    if (flat && size.z <= o.bed.heightMm - o.marginMm)
        return Done{};
    return Problem{
        Reason::DoesNotFit,
        fmt::format("the {} of {:.1f} x {:.1f} x {:.1f} mm has no room on the bed {} with a margin of {:g} mm",
                    made.name, size.x, size.y, size.z, sizeWords(o.bed), o.marginMm),
        {},
        {},
        "Take smaller gauges, or a larger bed."};
}

Status addPart(Coupon& coupon, const CouponOptions& o, const std::string& name, const mesh::Mesh& m)
{
    auto made = part(name, fileNameFrom(name) + ".stl", m);
    if (!made)
        return made.problem();
    coupon.parts.push_back(std::move(*made));
    return fitsBed(coupon.parts.back(), o);
}

/// The gap found when a gauge stands in a pocket, kept, and compared with the design.
Status keepGap(CouponPocket& pocket, double measuredMm)
{
    pocket.measuredMm = measuredMm;
    const double over = measuredMm - pocket.clearanceMm;
    if (over >= -gapRoundingMm && over <= gapSlackMm)
        return Done{};
    return Problem{Reason::JointFailed,
                   fmt::format("the {} pocket {} was made with {:.4f} mm per side, not {:.4f}", pairName(pocket.pair),
                               pocket.number, measuredMm, pocket.clearanceMm),
                   {},
                   {},
                   "Report this with the options that you gave."};
}

double straightDepthMm(const CouponOptions& o)
{
    return std::min(depthShare * std::max(o.dowelMm, o.keyMm), mostDepthMm);
}

Status addStraightPlate(Coupon& coupon, const CouponOptions& o)
{
    PlateOrder order{stepsOf(o), {}, straightDepthMm(o)};
    for (const CouponPair pair : straightPairs)
        order.mouthMm.push_back(sizeOf(o, pair) + 2 * (o.toMm + mouthMm));
    const auto layout = layoutOnBed(order, o.bed, o.marginMm);
    if (!layout)
        return layout.problem();
    const mesh::PlaneFrame frame = mesh::frameOf(layout->top());
    std::vector<mesh::Recess> recesses = numberRecesses(*layout);
    for (int step = 0; step < order.steps; ++step)
        for (std::size_t p = 0; p < straightPairs.size(); ++p) {
            const mesh::Vec2 at = layout->pocketAt(step, p);
            const CouponPair pair = straightPairs[p];
            coupon.sheet.pockets.push_back(
                {pair, step + 1, {at.x, at.y, layout->plateMm.z}, coupon.sheet.clearanceMm(step + 1), 0});
            const CouponPocket& pocket = coupon.sheet.pockets.back();
            recesses.push_back(couponPocket(pair, sizeOf(o, pair), pocket.clearanceMm, order.depthMm,
                                            frame.flat(pocket.mouth), layout->top()));
        }
    auto plate = mesh::withRecesses(barePlate(*layout), plateTopLabel, layout->top(), recesses, pocketLabel);
    if (!plate)
        return plate.problem();
    plate->labels.clear();
    return addPart(coupon, o, "plate", *plate);
}

/// A straight gauge, put as it will be written into each of its pockets.
Status addGauge(Coupon& coupon, const CouponOptions& o, CouponPair pair, const mesh::Mesh& plate)
{
    const double size = sizeOf(o, pair);
    const Gauge gauge = couponGauge(pair, size, lengthShare * size);
    const std::string name = pair == CouponPair::Dowel ? "dowel" : pairName(pair) + " key";
    if (const Status s = addPart(coupon, o, name, mesh::transformed(gauge.upright, gauge.printFromUpright)); !s)
        return s;
    const GapMeter meter(plate, mesh::transformed(coupon.parts.back().mesh, gauge.printFromUpright.rigidInverse()));
    for (CouponPocket& pocket : coupon.sheet.pockets) {
        if (pocket.pair != pair)
            continue;
        const double lift = pocket.clearanceMm + belowGaugeMm - straightDepthMm(o);
        const mesh::Transform seat = mesh::Transform::translation(pocket.mouth + mesh::Vec3{0, 0, lift});
        if (const Status s = keepGap(pocket, meter.leastMm(seat)); !s)
            return s;
    }
    return Done{};
}

Status addThreadPlate(Coupon& coupon, const CouponOptions& o, double lengthMm)
{
    const auto room = threadRoom(*o.thread, lengthMm, o.toMm);
    if (!room)
        return room.problem();
    const PlateOrder order{stepsOf(o), {room->mouthMm}, room->depthMm};
    const auto layout = layoutOnBed(order, o.bed, o.marginMm);
    if (!layout)
        return layout.problem();
    std::vector<mesh::FacePatch> patches;
    for (int step = 0; step < order.steps; ++step) {
        const mesh::Vec2 at = layout->pocketAt(step, 0);
        const CouponPocket pocket{
            CouponPair::Thread, step + 1, {at.x, at.y, layout->plateMm.z}, coupon.sheet.clearanceMm(step + 1), 0};
        auto patch = threadPocket(*o.thread, lengthMm, pocket.clearanceMm, pocket.mouth);
        if (!patch)
            return patch.problem();
        patches.push_back(std::move(*patch));
        coupon.sheet.pockets.push_back(pocket);
    }
    auto plate = mesh::withFeatures(barePlate(*layout), plateTopLabel, layout->top(), numberRecesses(*layout), patches,
                                    pocketLabel);
    if (!plate)
        return plate.problem();
    plate->labels.clear();
    return addPart(coupon, o, "thread plate", *plate);
}

Status addThread(Coupon& coupon, const CouponOptions& o)
{
    const auto length = couponThreadLengthMm(*o.thread, o.toMm);
    if (!length)
        return length.problem();
    const auto gauge = threadGauge(*o.thread, *length);
    if (!gauge)
        return gauge.problem();
    if (const Status s = addThreadPlate(coupon, o, *length); !s)
        return s;
    const mesh::Mesh plate = coupon.parts.back().mesh;
    if (const Status s =
            addPart(coupon, o, "threaded stud", mesh::transformed(gauge->upright, gauge->printFromUpright));
        !s)
        return s;
    const GapMeter meter(plate, mesh::transformed(coupon.parts.back().mesh, gauge->printFromUpright.rigidInverse()));
    for (CouponPocket& pocket : coupon.sheet.pockets) {
        if (pocket.pair != CouponPair::Thread)
            continue;
        // Backed out a little, so that the grip on the plate is not the nearest.
        const double gap = meter.leastMm(threadSeat(*o.thread, pocket.mouth, pocket.clearanceMm + belowGaugeMm));
        if (const Status s = keepGap(pocket, gap); !s)
            return s;
    }
    return Done{};
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
    Coupon coupon;
    CouponSheet& sheet = coupon.sheet;
    sheet = {options.material,
             options.machine,
             date,
             options.fromMm,
             options.stepMm,
             stepsOf(options),
             options.dowelMm,
             options.keyMm,
             options.thread ? designation(*options.thread) : "",
             {}};
    if (const Status s = addStraightPlate(coupon, options); !s)
        return s.problem();
    const mesh::Mesh plate = coupon.parts.back().mesh;
    for (const CouponPair pair : straightPairs)
        if (const Status s = addGauge(coupon, options, pair, plate); !s)
            return s.problem();
    if (options.thread)
        if (const Status s = addThread(coupon, options); !s)
            return s.problem();
    return coupon;
}

} // namespace quoin::core
