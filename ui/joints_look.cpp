// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joints_look.h"

#include "ui/quantity_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr double clearShare = 0.25; ///< of the part's size: how far off a step begins
constexpr double arrowShare = 0.15; ///< of it: room for the arrow behind what moves

Vec3 shiftOf(const PartView& view, int piece, double gapMm)
{
    return gapMm * view.apart[static_cast<std::size_t>(piece) - 1];
}

mesh::PlaneFrame frameOf(const core::Project& project, const core::Seam& seam)
{
    return mesh::frameOf(project.plan.nodes[static_cast<std::size_t>(seam.cut)].plane);
}

double clearOf(const PartView& view)
{
    return clearShare * mesh::length(core::scaledBounds(view.realised->design).extents());
}

bool holds(const std::vector<int>& pieces, int piece)
{
    return std::binary_search(pieces.begin(), pieces.end(), piece);
}

} // namespace

bool facesSeam(const FacingFace& facing, const core::Seam& seam)
{
    return std::minmax(facing.piece, facing.before) == std::minmax(seam.pieceBelow, seam.pieceAbove);
}

void addSafetyLines(const PartView& view, const SafetyShown& safety, const std::optional<FacingFace>& facing,
                    const Transform& place, double gapMm, std::vector<ViewPolyline>& lines)
{
    const core::Project& project = view.realised->project;
    for (std::size_t s = 0; s < project.seams.size() && s < safety.faces.size(); ++s) {
        const SafetyLevel level = safety.faces[s].level;
        if (level == SafetyLevel::Unknown)
            continue;
        const core::Seam& seam = project.seams[s];
        if (facing && level != SafetyLevel::Weak && !facesSeam(*facing, seam))
            continue;
        const mesh::PlaneFrame frame = frameOf(project, seam);
        for (const int piece : {seam.pieceBelow, seam.pieceAbove}) {
            if (piece == seam.pieceAbove && gapMm == 0)
                continue; // the same line
            for (const mesh::Loop& loop : seam.region) {
                ViewPolyline line{{}, safetyColour(level), safetyWidthPx(level), true};
                for (const mesh::Vec2 q : loop)
                    line.points.push_back(place.point(frame.space(q) + shiftOf(view, piece, gapMm)));
                lines.push_back(std::move(line));
            }
        }
    }
}

void addSafetyNotes(const PartView& view, const SafetyShown& safety, const Transform& place, double gapMm,
                    std::vector<SceneNote>& notes)
{
    const core::Project& project = view.realised->project;
    for (std::size_t s = 0; s < project.seams.size() && s < safety.faces.size(); ++s) {
        if (safety.faces[s].words.empty())
            continue;
        const core::Seam& seam = project.seams[s];
        const mesh::PlaneFrame frame = frameOf(project, seam);
        Vec3 top{0, 0, -1e300};
        for (const mesh::Loop& loop : seam.region)
            for (const mesh::Vec2 q : loop)
                if (const Vec3 p = frame.space(q); p.z > top.z)
                    top = p;
        const Vec3 between = 0.5 * (shiftOf(view, seam.pieceBelow, gapMm) + shiftOf(view, seam.pieceAbove, gapMm));
        notes.push_back({place.point(top + between), safety.faces[s].words});
    }
}

std::vector<SceneArrow> forceArrows(const core::LoadCase& load, const Transform& place, int chosen)
{
    std::vector<SceneArrow> arrows;
    for (std::size_t i = 0; i < load.extra.size(); ++i) {
        const core::ExtraForce& force = load.extra[i];
        const double size = mesh::length(force.forceN);
        if (size > 0)
            arrows.push_back({place.point(force.at), place.direction(force.forceN / size),
                              fmt::format("{}: {} N", i + 1, numberText(size, 1).toStdString()),
                              static_cast<int>(i) == chosen});
    }
    return arrows;
}

Transform orderPlacement(const core::AssemblyStep& step, double apart, double clearMm)
{
    const core::Motion off = step.motion.reversed();
    const mesh::Sweep sweep = off.sweep();
    const bool helix = step.motion.kind == core::Motion::Kind::Helix;
    const double threaded = helix ? step.motion.travelMm : 0;
    const double whole = std::max(clearMm, step.motion.travelMm + (helix ? clearMm : 0));
    // Along a thread the turns are what there is to see: they take most of the time.
    constexpr double turningShare = 0.75;
    if (!helix)
        return mesh::placeAlong(sweep, apart * whole);
    if (apart <= turningShare)
        return mesh::placeAlong(sweep, apart / turningShare * threaded);
    const double beyond = (apart - turningShare) / (1 - turningShare) * (whole - threaded);
    return Transform::translation(beyond * off.direction) * mesh::placeAlong(sweep, threaded);
}

OrderLook::OrderLook(const core::AssemblyStep& step, double apart, double clearMm)
    : m_step(step), m_apart(apart), m_moved(orderPlacement(step, apart, clearMm))
{
}

OrderLook::Role OrderLook::role(int piece) const
{
    return holds(m_step.moving, piece) ? Role::Moves : holds(m_step.onto, piece) ? Role::Stands : Role::Absent;
}

Transform OrderLook::placement(int piece) const
{
    return role(piece) == Role::Moves ? m_moved : Transform{};
}

bool OrderLook::shows(const core::Project& project, const LooseView& loose) const
{
    const core::Seam& seam = project.seams[loose.seam];
    if (role(seam.pieceBelow) == Role::Absent || role(seam.pieceAbove) == Role::Absent)
        return false;
    const bool ofStep = std::find(m_step.joints.begin(), m_step.joints.end(), loose.joint) != m_step.joints.end();
    const bool bolt = loose.joint < project.layout.joints.size() &&
                      project.layout.joints[loose.joint].kind == core::JointForm::Kind::DrawBolt;
    return !(ofStep && bolt) || m_apart == 0;
}

Transform OrderLook::placement(const core::Project& project, const LooseView& loose) const
{
    const core::Seam& seam = project.seams[loose.seam];
    // Between the two sides it lies in the one that stands.
    return role(seam.pieceBelow) == Role::Moves && role(seam.pieceAbove) == Role::Moves ? m_moved : Transform{};
}

SceneArrow OrderLook::arrow(const PartView& view, const Transform& place) const
{
    // From behind, so that it hides neither the pieces nor their numbers.
    mesh::Box3 box;
    for (const int piece : m_step.moving) {
        const mesh::Box3 own = boundsOf(*view.pieces[static_cast<std::size_t>(piece) - 1].draw);
        box.add(own.min);
        box.add(own.max);
    }
    const Vec3 half = 0.5 * box.extents(), way = m_step.motion.direction;
    const double behind = half.x * std::abs(way.x) + half.y * std::abs(way.y) + half.z * std::abs(way.z);
    const Vec3 from = box.centre() - behind * way;
    const bool turns = m_step.motion.kind == core::Motion::Kind::Helix;
    const std::string words = turns ? fmt::format("turn {:.1f} times {}", m_step.motion.turns(),
                                                  m_step.motion.leadMm > 0 ? "clockwise" : "counter-clockwise")
                                    : "push";
    return {place.point(m_moved.point(from)), place.direction(way), words, true};
}

mesh::Box3 OrderLook::reach(const PartView& view, const core::AssemblyStep& step)
{
    const OrderLook before(step, 1, clearOf(view)), after(step, 0, clearOf(view));
    mesh::Box3 box;
    const std::vector<core::Piece>& pieces = view.realised->project.pieces;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        for (const OrderLook* look : {&before, &after}) {
            if (look->role(pieces[i].number) == Role::Absent)
                continue;
            const mesh::Box3 own = boundsOf(*view.pieces[i].draw);
            const Transform at = look->placement(pieces[i].number);
            const Vec3 behind = look->role(pieces[i].number) == Role::Moves
                                    ? -arrowShare / clearShare * clearOf(view) * step.motion.direction
                                    : Vec3{0, 0, 0};
            for (int corner = 0; corner < 8; ++corner)
                for (const Vec3 more : {Vec3{0, 0, 0}, behind})
                    box.add(more + at.point({(corner & 1 ? own.max : own.min).x, (corner & 2 ? own.max : own.min).y,
                                             (corner & 4 ? own.max : own.min).z}));
        }
    return box;
}

std::optional<OrderLook> orderLook(const PartView& view, const ViewState& state)
{
    if (state.step != JobStep::Joint || state.jointTab != JointTab::Order || !state.order ||
        state.order->cutStamp != view.realised->cutStamp || state.order->step >= state.order->plan->steps.size())
        return std::nullopt;
    return OrderLook(state.order->plan->steps[state.order->step], state.order->apart, clearOf(view));
}

} // namespace quoin::ui
