// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/screwed_boxes.h"

#include "core/joint_dowel.h"
#include "mesh/primitives.h"

namespace quoin::test {

using mesh::Vec3;

Result<mesh::Mesh> boxWithFeatures(Vec3 min, Vec3 max, const std::vector<mesh::FacePatch>& patches)
{
    const bool above = min.z == 0;
    mesh::Mesh box = mesh::box(min, max);
    for (std::size_t t = 0; t < box.triangles.size(); ++t) {
        bool face = true;
        for (int k = 0; k < 3; ++k)
            face = face && box.corner(t, k).z == 0;
        box.labels.push_back(face ? facedLabel : mesh::skinLabel);
    }
    return mesh::withFeatures(box, facedLabel, core::outwardPlane({{0, 0, 1}, 0}, above), {}, patches, 7);
}

ScrewedBoxes screwedBoxes(const std::string& designation, double lengthMm, double clearanceMm, double chordMm)
{
    ScrewedBoxes made;
    made.shape.thread = core::threadFrom(designation).value();
    made.shape.lengthMm = lengthMm;
    made.shape.clearanceMm = clearanceMm;
    made.shape.chordMm = chordMm;
    made.at = {3, -2, 0};
    // The shapes stand up from z = 0; here they go down.
    const mesh::Transform place = mesh::Transform::translation(made.at) * core::lowerHalfTurn();
    const double half = 1.1 * made.shape.thread.diameterMm;
    const auto sewn = [&](const Result<core::ThreadSurface>& surface, Vec3 min, Vec3 max) {
        return boxWithFeatures(min, max, {{mesh::transformed(surface.value().mesh, place)}}).value();
    };
    made.below = sewn(core::internalThread(made.shape), {-half, -half, -1.5 * lengthMm}, Vec3{half, half, 0});
    made.above = sewn(core::externalThread(made.shape), {-half, -half, 0}, Vec3{half, half, lengthMm});
    return made;
}

} // namespace quoin::test
