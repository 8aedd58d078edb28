// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joints_shown.h"

#include "core/face_choice.h"
#include "core/joint_rules.h"

#include <algorithm>

namespace quoin::ui {

namespace {

/// How far a box reaches on one side of a plane, mm.
double depthBehind(const mesh::Box3& box, const mesh::Plane& plane, bool above)
{
    double depth = 0;
    for (int i = 0; i < 8; ++i) {
        const mesh::Vec3 corner{(i & 1 ? box.max : box.min).x, (i & 2 ? box.max : box.min).y,
                                (i & 4 ? box.max : box.min).z};
        depth = std::max(depth, (above ? 1 : -1) * plane.distance(corner));
    }
    return depth;
}

} // namespace

std::vector<std::optional<FaceStrength>> strengthShown(const core::StrengthReport& report, std::size_t seams)
{
    std::vector<std::optional<FaceStrength>> out(seams);
    for (const core::JointCheck& check : report.joints)
        for (const std::size_t seam : check.seams)
            if (seam < seams && !check.checks.empty()) {
                FaceStrength face{check.safety, check.low, QString::fromStdString(check.words),
                                  QString::fromStdString(check.marks), check.checks};
                std::stable_sort(face.checks.begin(), face.checks.end(),
                                 [](const auto& a, const auto& b) { return a.safety < b.safety; });
                out[seam] = std::move(face);
            }
    return out;
}

PartJoints jointsShown(const core::Realised& realised, const core::PartDesign& part)
{
    const core::Project& project = realised.project;
    PartJoints shown{{}, part.joints, part.fit, QString::fromStdString(part.material), part.machine, part.fits};
    std::vector<mesh::Box3> boxes;
    for (const core::Piece& piece : project.pieces)
        boxes.push_back(mesh::bounds(piece.mesh));
    const core::SeamChoices choices = core::seamChoices(project, realised.cutOfNode, part);
    for (std::size_t s = 0; s < project.seams.size(); ++s) {
        const core::Seam& seam = project.seams[s];
        FaceRow row;
        row.seam = s;
        row.mark = QString::fromStdString(seam.mark);
        row.pieceBelow = seam.pieceBelow;
        row.pieceAbove = seam.pieceAbove;
        row.areaMm2 = seam.areaMm2;
        row.region = seam.region;
        const mesh::Plane& cut = project.plan.nodes[static_cast<std::size_t>(seam.cut)].plane;
        row.depthBelowMm = depthBehind(boxes[static_cast<std::size_t>(seam.pieceBelow) - 1], cut, false);
        row.depthAboveMm = depthBehind(boxes[static_cast<std::size_t>(seam.pieceAbove) - 1], cut, true);
        if (const core::FaceChoice* held = choices.of(s)) {
            row.held = true;
            row.choice = *held;
        } else {
            row.choice.cut = realised.cutOfNode[static_cast<std::size_t>(seam.cut)];
        }
        shown.faces.push_back(std::move(row));
    }
    for (const core::SeamReport& report : project.layout.reports) {
        shown.faces[report.seam].got = QString::fromStdString(report.text);
        shown.faces[report.seam].butt = report.butt;
    }
    for (std::size_t j = 0; j < project.layout.joints.size(); ++j) {
        const core::Joint& joint = project.layout.joints[j];
        JointRow row{
            QString::fromStdString(core::jointName(project.seams, project.layout.joints, j)), joint, {}, false};
        for (const core::JointFault& fault : project.layout.faults)
            if (fault.joint == j) {
                row.fault = QString::fromStdString(fault.text);
                row.impossible = fault.impossible;
            }
        FaceRow& face = shown.faces[joint.seam];
        // Told of the joint itself, not once more of the face: rules that are broken come last there.
        if (const qsizetype from =
                face.got.indexOf(QString("; %1 %2 breaks a rule: ").arg(core::kindName(joint.kind), row.name));
            from >= 0)
            face.got.truncate(from);
        face.joints.push_back(std::move(row));
    }
    return shown;
}

} // namespace quoin::ui
