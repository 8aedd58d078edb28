// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/coupon_thread.h"

#include "core/thread_mesh.h"
#include "mesh/primitives.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

constexpr double fullTurns = 2;    ///< of engagement: enough to feel whether it binds
constexpr double gripBesideMm = 5; ///< the grip is this much wider than the thread, all round
constexpr double gripHeightMm = 8;
constexpr int gripSides = 8;
constexpr mesh::Label gripLabel = 1, studLabel = 2;

ThreadedShape shapeOf(const Thread& thread, double lengthMm, double clearanceMm)
{
    ThreadedShape shape;
    shape.thread = thread;
    shape.lengthMm = lengthMm;
    shape.clearanceMm = clearanceMm;
    shape.endClearanceMm = clearanceMm + 0.5;
    return shape;
}

/// The grip, its upper face in z = 0 and labelled.
mesh::Mesh grip(const Thread& thread)
{
    const double across = thread.diameterMm / 2 + gripBesideMm;
    mesh::Loop loop;
    for (int i = 0; i < gripSides; ++i) {
        const double angle = 2 * M_PI * (i + 0.5) / gripSides;
        loop.push_back(across / std::cos(M_PI / gripSides) * mesh::Vec2{std::cos(angle), std::sin(angle)});
    }
    mesh::Mesh m =
        mesh::transformed(mesh::prism({loop}, gripHeightMm), mesh::Transform::translation({0, 0, -gripHeightMm}));
    for (std::size_t t = 0; t < m.triangles.size(); ++t) {
        const bool top = m.corner(t, 0).z == 0 && m.corner(t, 1).z == 0 && m.corner(t, 2).z == 0;
        m.labels.push_back(top ? gripLabel : mesh::skinLabel);
    }
    return m;
}

} // namespace

Result<double> couponThreadLengthMm(const Thread& thread, double mostClearanceMm)
{
    double least = 0;
    for (const double clearance : {0.0, mostClearanceMm}) {
        const auto length = shortestLengthMm(thread, clearance);
        if (!length)
            return length.problem();
        least = std::max(least, *length);
    }
    // The shortest holds one pitch of full engagement.
    return std::ceil(least + (fullTurns - 1) * thread.pitchMm);
}

Result<Gauge> threadGauge(const Thread& thread, double lengthMm)
{
    auto stud = externalThread(shapeOf(thread, lengthMm, 0));
    if (!stud)
        return stud.problem();
    auto whole = mesh::withFeatures(grip(thread), gripLabel, {{0, 0, 1}, 0}, {}, {{std::move(stud->mesh)}}, studLabel);
    if (!whole)
        return whole.problem();
    whole->labels.clear();
    return Gauge{std::move(*whole), mesh::Transform::translation({0, 0, gripHeightMm})};
}

Result<ThreadRoom> threadRoom(const Thread& thread, double lengthMm, double clearanceMm)
{
    const auto layout = threadLayout(shapeOf(thread, lengthMm, clearanceMm));
    if (!layout)
        return layout.problem();
    return ThreadRoom{2 * layout->mouthRadiusMm, layout->boreDepthMm};
}

Result<mesh::FacePatch> threadPocket(const Thread& thread, double lengthMm, double clearanceMm, mesh::Vec3 at)
{
    auto bore = internalThread(shapeOf(thread, lengthMm, clearanceMm));
    if (!bore)
        return bore.problem();
    return mesh::FacePatch{mesh::transformed(bore->mesh, mesh::Transform::translation(at) * lowerHalfTurn())};
}

mesh::Transform threadSeat(const Thread& thread, mesh::Vec3 at, double liftMm)
{
    // Backing out moves the stud towards -z in its own frame; for a left-hand thread by the other turn.
    const double turn = (thread.leftHand ? 2 : -2) * M_PI * liftMm / thread.leadMm();
    return mesh::Transform::translation(at) * lowerHalfTurn() * screwMotion(thread, turn);
}

} // namespace quoin::core
