// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/joint_block.h"

#include "core/joint_dowel.h"
#include "core/piece_features.h"
#include "mesh/local_boolean.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"

#include <algorithm>
#include <random>

namespace quoin::test {

namespace {

constexpr mesh::Label faceLabel = 1, featureLabel = 1000001;
/// Rounding of new points, mm.
constexpr double slackMm = 1e-5;

} // namespace

JointBlock jointBlock(const core::Joint& joint, double halfMm, unsigned seed)
{
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> number(-1, 1);
    JointBlock block;
    block.cut = mesh::planeAt({number(random), number(random), 1.5}, 4 * number(random));
    const mesh::Vec3 place = mesh::frameOf(block.cut).space(joint.at);
    const mesh::Vec3 corner{halfMm, halfMm, halfMm};
    const auto halves = mesh::cutByPlane(mesh::box(place - corner, place + corner), block.cut, {.label = faceLabel});
    block.below = halves->below;
    block.above = halves->above;
    return block;
}

Result<mesh::Mesh> withSide(const JointBlock& block, const core::SideShape& side, bool above)
{
    auto made = mesh::withFeatures(block.half(above), faceLabel, core::outwardPlane(block.cut, above), side.recesses,
                                   side.patches, featureLabel);
    for (const mesh::Mesh& solid : side.taken)
        if (made)
            made = mesh::withoutSolid(*made, solid, featureLabel);
    return made;
}

mesh::Mesh featureOf(const mesh::Mesh& piece)
{
    std::vector<mesh::Index> own;
    for (std::size_t t = 0; t < piece.triangles.size(); ++t)
        if (piece.label(t) == featureLabel)
            own.push_back(static_cast<mesh::Index>(t));
    return mesh::subset(piece, own);
}

bool inZones(const mesh::Mesh& m, const core::SideShape& side)
{
    return std::all_of(m.points.begin(), m.points.end(), [&](mesh::Vec3 p) {
        for (const auto* zones : {&side.zones, &side.mouths, &side.openings, &side.proud})
            for (const core::JointZone& zone : *zones)
                if (core::inZone(zone, p, slackMm))
                    return true;
        return false;
    });
}

} // namespace quoin::test
