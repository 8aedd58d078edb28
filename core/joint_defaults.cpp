// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_defaults.h"

#include "core/hardware.h"
#include "core/joint_bolt.h"
#include "core/joint_clocking.h"
#include "core/joint_dovetail.h"
#include "core/joint_key.h"
#include "core/joint_rod.h"
#include "core/joint_rules.h"
#include "core/joint_size.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

namespace quoin::core {

namespace {

using Kind = JointForm::Kind;

/// How a kind sits in the room about its axis; shares of the free radius and of the diameter.
struct Habit {
    double ofRadius;          ///< diameter over the free radius
    double depth, leastDepth; ///< diameters: reach as a rule; at least
    double leastMm, mostMm;   ///< diameters to begin with
};

Habit habitOf(Kind kind)
{
    switch (kind) {
    case Kind::Dowel: // two or more share a face
        return {0.8, 1.5, leastReachDiameters, 4, 30};
    case Kind::Screw: // one alone, as large as the face bears
        return {1.4, 0.8, 0.4, 8, 200};
    case Kind::Stud:
        return {1.2, 0.8, 0.4, 8, 200};
    case Kind::Key:
        return {1.2, 0.75, 0.25, 6, 200};
    case Kind::Dovetail:
        return {1.0, 0.5, 0.25, 8, 200};
    case Kind::DrawBolt: // the head and the nut are twice as wide as the bolt
        return {0.6, 2.5, 1.5, 3, 24};
    case Kind::ClockingKey: // square, near the rim
        return {0.3, 0.5, 0.25, 4, 40};
    }
    return {1, 1, 0.25, 4, 200};
}

constexpr double taperShare = 1.0 / 20; ///< of a key, of its depth
constexpr double lengthWidths = 2.5;    ///< of a dovetail, of a clocking key
constexpr double gripDiameters = 3;     ///< of a draw bolt: holds without denting the plastic
constexpr double roundTo = 0.5;         ///< mm: depths are told in halves
/// Of a thread, its lead-in and its relief among them: one full pitch must be left.
constexpr double usualPitches = 3.5, leastPitches = 2.5;
constexpr double sameMm = 1e-6; ///< sizes nearer than this are one
constexpr double keyStepMm = 1, widestKeyMm = 200;
constexpr double finerShare = 2.0 / 3, coarserShare = 4.0 / 3; ///< of the usual pitch of a printable thread
constexpr double leastPitchMm = 2;                             ///< finer ones don't print

double largestNotAbove(const std::vector<double>& sizes, double mm)
{
    double best = sizes.front();
    for (const double s : sizes)
        if (s <= mm + sameMm)
            best = s;
    return best;
}

double nearest(const std::vector<double>& sizes, double mm)
{
    return *std::ranges::min_element(sizes, {}, [&](double s) { return std::abs(s - mm); });
}

double rounded(double mm)
{
    return std::max(roundTo, std::floor(mm / roundTo + sameMm) * roundTo);
}

/// Room along the axis on the sides that the joint reaches into.
double depthRoom(const JointForm& form, const JointSpace& space)
{
    const bool one = form.kind == Kind::Screw || form.kind == Kind::Dovetail ||
                     (form.kind == Kind::Key && form.integral) || form.kind == Kind::DrawBolt;
    if (one) // into the piece that doesn't carry it
        return form.carrierAbove ? space.depthBelowMm : space.depthAboveMm;
    return std::min(space.depthBelowMm, space.depthAboveMm);
}

double usualDepth(const JointForm& form)
{
    if (form.kind == Kind::DrawBolt && form.hold == JointForm::Hold::Insert)
        if (const auto insert = heatSetInsert(form.diameterMm))
            return std::ceil(insert->lengthMm / roundTo - sameMm) * roundTo;
    return std::max(habitOf(form.kind).depth * form.diameterMm, usualPitches * form.thread.pitchMm);
}

double leastDepth(const JointForm& form)
{
    return std::max(habitOf(form.kind).leastDepth * form.diameterMm, leastPitches * form.thread.pitchMm);
}

} // namespace

std::vector<double> sizesOf(const JointForm& form)
{
    std::vector<double> sizes;
    switch (form.kind) {
    case Kind::Dowel:
        if (form.rod == JointForm::Rod::Printed)
            sizes.assign(dowelSeriesMm.begin(), dowelSeriesMm.end());
        else
            sizes.assign(rodDiametersMm(form.rod).begin(), rodDiametersMm(form.rod).end());
        break;
    case Kind::Screw:
    case Kind::Stud:
        if (form.thread.trapezoidal)
            for (const PitchPlanRow& row : trapezoidalPlan())
                sizes.push_back(row.diameterMm);
        else
            for (const PrintableSize& size : printableSizes())
                sizes.push_back(size.diameterMm);
        break;
    case Kind::Key:
    case Kind::Dovetail:
    case Kind::ClockingKey:
        for (double d = habitOf(form.kind).leastMm; d <= widestKeyMm; d += d < 20 ? keyStepMm : d < 50 ? 5 : 10)
            sizes.push_back(d);
        break;
    case Kind::DrawBolt:
        for (const double d : boltDiametersMm())
            if (form.hold != JointForm::Hold::Insert || heatSetInsert(d))
                sizes.push_back(d);
        break;
    }
    return sizes;
}

std::vector<double> pitchesOf(const JointForm& form)
{
    if (form.thread.trapezoidal) {
        const auto& plan = trapezoidalPlan();
        const auto row = std::ranges::min_element(
            plan, {}, [&](const PitchPlanRow& r) { return std::abs(r.diameterMm - form.diameterMm); });
        std::vector<double> pitches = row->pitchesMm;
        std::ranges::sort(pitches);
        return pitches;
    }
    const double usual = printableThread(form.diameterMm).pitchMm;
    std::vector<double> pitches{usual};
    const double finer = rounded(finerShare * usual), coarser = rounded(coarserShare * usual);
    if (finer >= leastPitchMm && finer < usual)
        pitches.insert(pitches.begin(), finer);
    Thread coarse = threadOf(form);
    coarse.pitchMm = coarser;
    if (coarser > usual && dimensionsOf(coarse))
        pitches.push_back(coarser);
    return pitches;
}

namespace {

double usualPitch(const JointForm& form)
{
    if (!form.thread.trapezoidal)
        return printableThread(form.diameterMm).pitchMm;
    for (const PitchPlanRow& row : trapezoidalPlan())
        if (std::abs(row.diameterMm - form.diameterMm) < sameMm)
            return row.normalMm;
    return trapezoidalThread(form.diameterMm).pitchMm;
}

} // namespace

JointForm withDiameter(const JointForm& form, double diameterMm)
{
    JointForm next = form;
    next.diameterMm = diameterMm;
    const bool usualDeep = std::abs(form.depthMm - rounded(usualDepth(form))) < sameMm;
    if (form.kind == Kind::Screw || form.kind == Kind::Stud) {
        const bool usual = std::abs(form.thread.pitchMm - usualPitch(form)) < sameMm;
        const std::vector<double> pitches = pitchesOf(next);
        if (usual || std::ranges::find(pitches, form.thread.pitchMm) == pitches.end())
            next.thread.pitchMm = usualPitch(next);
        // A steep thread of several starts may not be had on a thinner core.
        while (next.thread.starts > 1 && !dimensionsOf(threadOf(next)))
            --next.thread.starts;
    }
    const auto upToHalf = [](double mm) { return std::ceil(mm / roundTo - sameMm) * roundTo; };
    if (form.kind == Kind::DrawBolt && form.hold == JointForm::Hold::Insert)
        next.depthMm = usualDepth(next);
    else
        next.depthMm = std::max(usualDeep ? rounded(usualDepth(next)) : next.depthMm, upToHalf(leastDepth(next)));
    if (liesAlongFace(form))
        next.lengthMm = std::max(next.lengthMm, upToHalf(diameterMm));
    if (form.kind == Kind::DrawBolt)
        next.gripMm = std::max(next.gripMm, diameterMm);
    return next;
}

JointForm withProfile(const JointForm& form, bool trapezoidal)
{
    JointForm next = form;
    if (form.thread.trapezoidal == trapezoidal)
        return next;
    next.thread.trapezoidal = trapezoidal;
    next.thread.pitchMm = 0; // the other profile's isn't kept
    return withDiameter(next, trapezoidal ? nearest(sizesOf(next), form.diameterMm) : form.diameterMm);
}

JointForm withRod(const JointForm& form, JointForm::Rod rod)
{
    JointForm next = form;
    next.rod = rod;
    if (rod == JointForm::Rod::Printed)
        return next;
    next.keyed = false;
    return withDiameter(next, nearest(sizesOf(next), form.diameterMm));
}

JointForm withHold(const JointForm& form, JointForm::Hold hold)
{
    JointForm next = form;
    if (hold == form.hold)
        return next;
    next.hold = hold;
    next.diameterMm = nearest(sizesOf(next), form.diameterMm);
    next.depthMm = rounded(usualDepth(next));
    return withDiameter(next, next.diameterMm);
}

namespace {

/// With the numbers of its kind by the room.
JointForm sized(JointForm next, const JointSpace& space)
{
    const Kind kind = next.kind;
    const Habit habit = habitOf(kind);
    const double wanted = std::clamp(habit.ofRadius * std::max(space.radiusMm, 0.0), habit.leastMm, habit.mostMm);
    const double room = depthRoom(next, space);
    std::vector<double> sizes = sizesOf(next);
    std::erase_if(sizes, [&](double s) { return s > habit.leastMm && habit.leastDepth * s > room; });
    next.diameterMm = largestNotAbove(sizes, wanted);
    if (kind == Kind::Screw || kind == Kind::Stud)
        next.thread.pitchMm = usualPitch(next);
    next.depthMm = rounded(std::clamp(usualDepth(next), leastDepth(next), std::max(room, leastDepth(next))));
    if (kind == Kind::Key)
        next.taperMm = std::round(20 * taperShare * next.depthMm) / 20;
    if (liesAlongFace(next))
        next.lengthMm = rounded(lengthWidths * next.diameterMm);
    if (kind == Kind::DrawBolt)
        next.gripMm =
            rounded(std::clamp(gripDiameters * next.diameterMm, next.diameterMm,
                               std::max(next.diameterMm, next.carrierAbove ? space.depthAboveMm : space.depthBelowMm)));
    return withDiameter(next, next.diameterMm);
}

} // namespace

JointForm jointFor(Kind kind, mesh::Vec2 at, const JointSpace& space)
{
    JointForm form;
    form.kind = kind;
    form.at = at;
    return sized(form, space);
}

JointForm changedTo(const JointForm& form, Kind kind, const JointSpace& space)
{
    if (form.kind == kind)
        return form;
    JointForm next;
    next.kind = kind;
    next.at = form.at;
    next.angle = form.angle;
    next.carrierAbove = form.carrierAbove;
    if (form.kind == Kind::Screw || form.kind == Kind::Stud)
        next.thread = form.thread;
    return sized(next, space);
}

Thread threadOf(const JointForm& form)
{
    return {form.thread.trapezoidal ? Thread::Profile::Trapezoidal : Thread::Profile::Printable, form.diameterMm,
            form.thread.pitchMm, form.thread.starts, form.thread.leftHand};
}

Status checkForm(const JointForm& form)
{
    constexpr double farOutMm = 1e5; // where the ways out of a bolt end depends on where it stands
    Joint joint{form};
    joint.clearanceMm = Clearances{}.of(fitProcessOf(form));
    joint.endClearanceMm = boreEndClearanceMm;
    joint.headOutMm = joint.nutOutMm = farOutMm;
    // Those that know remedies come first.
    std::optional<Problem> problem;
    const auto look = [&](const auto& result) {
        if (!result)
            problem = result.problem();
    };
    if (form.kind == Kind::Screw || form.kind == Kind::Stud)
        look(dimensionsOf(threadOf(form)));
    else if (form.kind == Kind::Key)
        look(keySide(joint, mesh::planeAt({0, 0, 1}, 0), form.carrierAbove));
    else if (form.kind == Kind::Dovetail)
        look(dovetailLayout(joint));
    else if (form.kind == Kind::DrawBolt)
        look(boltLayout(joint));
    else if (form.kind == Kind::ClockingKey)
        look(clockingLayout(joint));
    if (!problem)
        if (std::string fault = sizeFault(joint); !fault.empty()) {
            if (fault.back() == '.')
                fault.pop_back(); // the sentence has its own
            problem = Problem{Reason::BadArgument, fault, "", "", ""};
        }
    if (problem)
        return *problem;
    return Done{};
}

double turnsOf(const JointForm& form)
{
    return form.thread.leadMm() > 0 ? form.depthMm / form.thread.leadMm() : 0;
}

std::string sizeName(const JointForm& form)
{
    switch (form.kind) {
    case Kind::Screw:
    case Kind::Stud:
        return designation(threadOf(form));
    case Kind::DrawBolt:
        return fmt::format("M{:g}", form.diameterMm);
    case Kind::Dovetail:
    case Kind::ClockingKey:
        return fmt::format("{:g} \xC3\x97 {:g} mm", form.diameterMm, form.lengthMm);
    case Kind::Dowel:
    case Kind::Key:
        break;
    }
    return fmt::format("{:g} mm", form.diameterMm);
}

} // namespace quoin::core
