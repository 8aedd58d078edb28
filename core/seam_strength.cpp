// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/seam_strength.h"

#include "core/fastener_group.h"
#include "mesh/region.h"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

namespace quoin::core {

using mesh::Vec2;
using std::numbers::pi;
using Kind = JointMember::Kind;

namespace {

/// A torque of less than this part of force times size is rounding of the sums, not a load.
constexpr double torqueNoise = 1e-9;

class Checks {
public:
    /// Keeps the worst of equal names.
    void add(StrengthCheck check)
    {
        const auto same =
            std::find_if(m_all.begin(), m_all.end(), [&](const StrengthCheck& c) { return c.name == check.name; });
        if (same == m_all.end())
            m_all.push_back(std::move(check));
        else if (check.safety < same->safety)
            *same = std::move(check);
    }
    std::vector<StrengthCheck> take() { return std::move(m_all); }

private:
    std::vector<StrengthCheck> m_all;
};

/// A check with the material's own words behind the formula's source.
StrengthCheck sourced(StrengthCheck check, const MaterialStrength& m, const std::string& rule)
{
    check.source += "; " + m.name + ": " + (rule.empty() ? m.source : rule + "; " + m.source);
    return check;
}

StrengthCheck named(StrengthCheck check, const std::string& name)
{
    check.name = name;
    return check;
}

const MaterialStrength& weakerIn(double MaterialStrength::*value, const MaterialStrength& a, const MaterialStrength& b)
{
    return a.*value <= b.*value ? a : b;
}

/// Shear of printed parts is held against the strength between layers, whichever way they lie: shear on one plane goes
/// with the same shear on the plane square to it, and one of them is a layer or cuts few.
double shearOf(const MaterialStrength& m)
{
    return std::min(m.shearAlongMpa, m.shearAcrossMpa);
}

struct Face {
    const SeamLoad& load;
    SectionProperties section;
    SectionForces forces; ///< about the centroid
    double torsionModulus = 0;
    Checks checks;
    double noTorqueNmm = 0;

    std::vector<const JointMember*> of(std::initializer_list<Kind> kinds) const
    {
        std::vector<const JointMember*> found;
        for (const JointMember& m : load.members)
            if (std::find(kinds.begin(), kinds.end(), m.kind) != kinds.end())
                found.push_back(&m);
        return found;
    }
    const MaterialStrength& softerSide() const
    {
        return weakerIn(&MaterialStrength::bearingMpa, *load.below.material, *load.above.material);
    }
    const MaterialStrength& weakerShearSide() const
    {
        return weakerIn(&MaterialStrength::shearAcrossMpa, *load.below.material, *load.above.material);
    }
};

std::vector<Vec2> placesOf(const std::vector<const JointMember*>& members)
{
    std::vector<Vec2> places;
    for (const JointMember* m : members)
        places.push_back(m->at);
    return places;
}

void glueShear(Face& face, double shearN, double torqueNmm)
{
    face.checks.add(glueSheared(shearN, torqueNmm, face.section.areaMm2, face.torsionModulus, face.load.glueMpa));
}

/// One joint pushed sideways.
void addSideways(Face& face, const JointMember& m, Vec2 forceN)
{
    const double force = length(forceN);
    const MaterialStrength& wall = weakerIn(&MaterialStrength::bearingMpa, face.softerSide(), *m.material);
    if (m.kind == Kind::Key || m.kind == Kind::Dovetail || m.kind == Kind::ClockingKey) {
        const Vec2 slide{std::cos(m.slideAngle), std::sin(m.slideAngle)};
        const bool slides = m.kind != Kind::Key;
        const std::string what = m.kind == Kind::ClockingKey ? "clocking key" : "key";
        const double square = slides ? std::abs(cross(slide, forceN)) : force;
        if (slides && std::abs(dot(slide, forceN)) > torqueNoise * force)
            glueShear(face, std::abs(dot(slide, forceN)), 0);
        face.checks.add(
            named(sourced(keySheared(square, m.sectionMm2, shearOf(*m.material)), *m.material, m.material->shearRule),
                  what + " sheared off"));
        face.checks.add(named(sourced(keyBearing(square, std::min(m.widthMm, m.heightMm), m.depthMm, wall.bearingMpa),
                                      wall, wall.bearingRule),
                              what + "'s side pressed"));
        return;
    }
    if (m.kind == Kind::DrawBolt) {
        face.checks.add(boltSheared(force, m.stressAreaMm2, m.boltClass));
        face.checks.add(named(sourced(dowelBearing(force, m.diameterMm, m.depthMm, face.softerSide().bearingMpa),
                                      face.softerSide(), face.softerSide().bearingRule),
                              "bolt's bore pressed, mean"));
        return;
    }
    const bool threaded = m.kind == Kind::Screw || m.kind == Kind::Stud;
    const std::string what = memberName(m.kind);
    const double d = threaded ? m.thread.coreMm : m.diameterMm;
    face.checks.add(named(sourced(dowelSheared(force, d, shearOf(*m.material)), *m.material, m.material->shearRule),
                          what + " sheared off"));
    face.checks.add(named(sourced(dowelBearing(force, d, m.depthMm, wall.bearingMpa), wall, wall.bearingRule),
                          what + "'s bore pressed, mean"));
    face.checks.add(named(sourced(dowelMouthBearing(force, d, m.depthMm, wall.bearingMpa), wall, wall.bearingRule),
                          what + "'s bore pressed at its mouth"));
}

/// The torque that a lone joint is left with, about its own axis.
void addLoneTorque(Face& face, const JointMember& m, double torqueNmm)
{
    if (m.kind == Kind::Key && m.torsionModulusMm3 > 0) {
        const MaterialStrength& wall = weakerIn(&MaterialStrength::bearingMpa, face.softerSide(), *m.material);
        face.checks.add(sourced(keyTwisted(torqueNmm, m.torsionModulusMm3, shearOf(*m.material)), *m.material,
                                m.material->shearRule));
        face.checks.add(
            sourced(squareKeyTurned(torqueNmm, m.turnSideMm, m.depthMm, wall.bearingMpa), wall, wall.bearingRule));
        return;
    }
    if (m.kind == Kind::Screw || m.kind == Kind::Stud) {
        const std::vector<double> pull = groupPull({m.at}, face.load.region, face.forces);
        const double holds = looseningTorqueNmm(m.thread, pull.front(), printedThreadFriction);
        face.checks.add(checked(turnedByTorsion, torqueNmm, holds, "N mm",
                                fmt::format("F d2/2 tan(r - l) with F = {:.1f} N from the load alone, friction {:g}",
                                            pull.front(), printedThreadFriction),
                                "power screws (Shigley, ch. 8); friction: common practice, no source. A key beside "
                                "the screw, or glue, would hold it"));
        return;
    }
    glueShear(face, 0, torqueNmm);
}

/// What clocking keys bear of a torque about a place that can't take it: all alike stiff, each square to its slide.
/// Empty where none has a lever.
std::vector<Vec2> clockingForces(const std::vector<const JointMember*>& keys, Vec2 about, double torqueNmm)
{
    std::vector<Vec2> forces;
    constexpr double leastLever = 1e-3; ///< as a share of the distance: a way past the place has none
    double levers = 0, distances = 0;
    for (const JointMember* key : keys) {
        const Vec2 across{-std::sin(key->slideAngle), std::cos(key->slideAngle)};
        const double lever = cross(key->at - about, across);
        levers += lever * lever;
        distances += dot(key->at - about, key->at - about);
        forces.push_back(lever * across);
    }
    if (!(levers > leastLever * leastLever * distances))
        return {};
    for (Vec2& force : forces)
        force = (torqueNmm / levers) * force;
    return forces;
}

void addShear(Face& face)
{
    std::vector<const JointMember*> carriers = face.of({Kind::Dowel, Kind::Key, Kind::Dovetail});
    std::vector<const JointMember*> keys = face.of({Kind::ClockingKey});
    if (carriers.empty())
        carriers = face.of({Kind::Screw, Kind::Stud});
    if (carriers.empty())
        carriers = face.of({Kind::DrawBolt});
    if (carriers.empty())
        carriers.swap(keys);
    if (carriers.empty()) {
        glueShear(face, length(face.forces.shearN), std::abs(face.forces.torsionNmm));
        return;
    }
    const std::vector<Vec2> places = placesOf(carriers);
    std::vector<Vec2> each = groupShear(places, face.forces);
    const double torque = face.forces.movedTo(groupCentroid(places)).torsionNmm;
    const bool left = !takesTorsion(places) && std::abs(torque) > face.noTorqueNmm;
    const std::vector<Vec2> clocked = left ? clockingForces(keys, groupCentroid(places), torque) : std::vector<Vec2>{};
    for (std::size_t i = 0; i < clocked.size(); ++i) {
        addSideways(face, *keys[i], clocked[i]);
        for (Vec2& force : each) // the couple's other half
            force = force - (1.0 / static_cast<double>(each.size())) * clocked[i];
    }
    for (std::size_t i = 0; i < carriers.size(); ++i)
        addSideways(face, *carriers[i], each[i]);
    if (left && clocked.empty())
        addLoneTorque(face, *carriers.front(), std::abs(torque));
}

void addThreadPull(Face& face, const JointMember& m, double pullN)
{
    const MaterialStrength& nut = face.weakerShearSide();
    face.checks.add(sourced(screwStripped(m.thread, m.engagementMm, pullN, shearOf(*m.material)), *m.material,
                            m.material->shearRule));
    face.checks.add(sourced(nutStripped(m.thread, m.engagementMm, pullN, shearOf(nut)), nut, nut.shearRule));
    const double tensile = tensileAt(*m.material, m.layerAngle);
    face.checks.add(sourced(corePulled(m.thread, pullN, tensile), *m.material, "Tsai-Hill by the print pose"));
    face.checks.add(sourced(coreTightened(m.thread, pullN, printedThreadFriction, tensile), *m.material,
                            "Tsai-Hill by the print pose"));
}

void addBoltPull(Face& face, const JointMember& m, double pullN)
{
    const MaterialStrength& soft = face.softerSide();
    const MaterialStrength& torn = face.weakerShearSide();
    face.checks.add(boltPulled(pullN, m.stressAreaMm2, m.boltClass));
    const auto seat = [&](const std::string& what, double seatMm, double holeMm, double wallMm) {
        face.checks.add(named(sourced(seatPressed(pullN, seatMm, holeMm, soft.bearingMpa), soft, soft.bearingRule),
                              what + "'s seat pressed"));
        face.checks.add(named(sourced(seatPunched(pullN, seatMm, wallMm, shearOf(torn)), torn, torn.shearRule),
                              what + " punched through"));
    };
    if (m.headMm > 0)
        seat("bolt's head", m.headMm, m.headHoleMm, m.headWallMm);
    if (m.nutMm > 0)
        seat("nut", m.nutMm, m.nutHoleMm, m.nutWallMm);
    if (m.insertMm > 0)
        face.checks.add(
            sourced(insertPulled(pullN, m.insertMm, m.insertLengthMm, shearOf(torn)), torn, torn.shearRule));
}

void addPull(Face& face, const JointMember& m, double pullN)
{
    if (m.kind == Kind::DrawBolt) {
        addBoltPull(face, m, pullN);
    } else if (m.kind == Kind::Dovetail) {
        const double tensile = tensileAt(*m.material, m.layerAngle);
        face.checks.add(sourced(
            checked("dovetail's neck pulled apart", m.sectionMm2 > 0 ? pullN / m.sectionMm2 : 1e300, tensile, "MPa",
                    fmt::format("F / A with F = {:.1f} N, A = {:.1f} mm2", pullN, m.sectionMm2), "bar in tension"),
            *m.material, "Tsai-Hill by the print pose"));
    } else {
        addThreadPull(face, m, pullN);
    }
}

/// The pull at which the first of a joint's pull checks comes to a safety of 1.
double pullCapacityN(const Face& face, const JointMember& m)
{
    Face probe{face.load, face.section, face.forces, face.torsionModulus, {}, face.noTorqueNmm};
    addPull(probe, m, 1);
    double least = 1e300;
    for (const StrengthCheck& c : probe.checks.take())
        // The tightened core is a stress that isn't there when the load comes.
        if (c.name != "screw's core while it is tightened")
            least = std::min(least, c.safety);
    return least;
}

/// Tension that a unit of moment in the load's direction makes in the whole face, 1/mm3; the way the pull grows.
double unitBending(const Face& face, SectionForces& unit)
{
    unit = {};
    unit.about = face.section.centroid;
    const double m = length(face.forces.bendingNmm);
    unit.bendingNmm = m > face.noTorqueNmm ? 1 / m * face.forces.bendingNmm : Vec2{1, 0};
    return peakTension(face.load.region, face.section, unit);
}

/// Pull and bending; returns the bending moment that the joints bear.
double addTension(Face& face, double unitTension, Vec2 direction)
{
    const std::vector<const JointMember*> carriers = face.of({Kind::Screw, Kind::Stud, Kind::Dovetail, Kind::DrawBolt});
    if (carriers.empty()) {
        face.checks.add(gluePulled(peakTension(face.load.region, face.section, face.forces), face.load.glueMpa));
        return face.load.glueMpa / unitTension;
    }
    const std::vector<Vec2> places = placesOf(carriers);
    const std::vector<double> each = groupPull(places, face.load.region, face.forces);
    double weakest = 1e300;
    for (std::size_t i = 0; i < carriers.size(); ++i) {
        addPull(face, *carriers[i], each[i]);
        weakest = std::min(weakest, pullCapacityN(face, *carriers[i]));
    }
    return momentByEdgeNmm(places, face.load.region, direction, weakest);
}

/// Face less the bores.
mesh::Region netRegion(const SeamLoad& load, bool above)
{
    constexpr int corners = 48;
    mesh::Region bores;
    for (const JointMember& m : load.members) {
        if (const mesh::Loop& taken = above ? m.takenAbove : m.takenBelow; !taken.empty()) {
            bores = mesh::unionOf(bores, {taken});
            continue;
        }
        const double bore = above ? m.boreAboveMm : m.boreBelowMm;
        if (!(bore > 0))
            continue;
        mesh::Loop loop;
        const double r = bore / 2 / std::cos(pi / corners); // around the circle, so that too much is taken off
        for (int k = 0; k < corners; ++k)
            loop.push_back(m.at + Vec2{r * std::cos(2 * pi * k / corners), r * std::sin(2 * pi * k / corners)});
        bores = mesh::unionOf(bores, {loop});
    }
    return bores.empty() ? load.region : mesh::difference(load.region, bores);
}

void addSection(Face& face, const SeamSide& side, bool above)
{
    const mesh::Region net = netRegion(face.load, above);
    const SectionProperties section = sectionProperties(net);
    const SectionForces forces = face.forces.movedTo(section.centroid);
    const double tension = section.areaMm2 > 0 ? peakTension(net, section, forces) : 1e300;
    const std::string piece = fmt::format("piece {}", side.piece);
    face.checks.add(
        named(sectionPulled(tension, *side.material, side.layerAngle), piece + " pulled apart beside the cut"));
    const double pressure = section.areaMm2 > 0 ? peakPressure(net, section, forces) : 1e300;
    face.checks.add(
        named(sourced(sectionPressed(pressure, side.material->bearingMpa), *side.material, side.material->bearingRule),
              piece + " crushed beside the cut"));
    face.checks.add(named(sourced(sectionSheared(length(forces.shearN), std::abs(forces.torsionNmm), section.areaMm2,
                                                 torsionModulusMm3(net, section), shearOf(*side.material)),
                                  *side.material, side.material->shearRule),
                          piece + " sheared beside the cut"));
}

} // namespace

std::string memberName(Kind kind)
{
    switch (kind) {
    case Kind::Dowel:
        return "dowel";
    case Kind::Screw:
        return "screw";
    case Kind::Stud:
        return "stud";
    case Kind::Key:
        return "key";
    case Kind::Dovetail:
        return "dovetail";
    case Kind::DrawBolt:
        return "bolt";
    case Kind::ClockingKey:
        return "clocking key";
    }
    return {};
}

SeamStrength seamStrength(const SeamLoad& load)
{
    Face face{load, sectionProperties(load.region), {}, 0, {}, 0};
    face.forces = load.forces.movedTo(face.section.centroid);
    face.torsionModulus = torsionModulusMm3(load.region, face.section);
    const double size = std::sqrt(face.section.areaMm2) + length(face.section.centroid - load.forces.about);
    const double force = length(face.forces.shearN) + std::abs(face.forces.axialN);
    // Rounding of the arms that the torque was summed up over, too.
    face.noTorqueNmm = torqueNoise * (force * size + length(face.forces.bendingNmm));
    if (std::abs(face.forces.torsionNmm) <= face.noTorqueNmm)
        face.forces.torsionNmm = 0;

    SectionForces unit;
    const double unitTension = unitBending(face, unit);
    const Vec2 direction{-unit.bendingNmm.y, unit.bendingNmm.x};
    addShear(face);
    const double joints = addTension(face, unitTension, direction);
    addSection(face, load.below, false);
    addSection(face, load.above, true);
    const double whole = std::min(tensileAt(*load.below.material, load.below.layerAngle),
                                  tensileAt(*load.above.material, load.above.layerAngle)) /
                         unitTension;
    return {face.section, face.forces, face.checks.take(), joints / whole};
}

} // namespace quoin::core
