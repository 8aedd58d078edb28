// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joints_shown.h"

#include "core/face_choice.h"
#include "core/joint_rules.h"

namespace quoin::ui {

PartJoints jointsShown(const core::Realised& realised, const core::PartDesign& part)
{
    const core::Project& project = realised.project;
    PartJoints shown{{}, part.joints, part.fit, QString::fromStdString(part.material)};
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
        // Told of the joint itself, not once more of the face.
        if (!row.fault.isEmpty())
            face.got.remove(QString("; dowel %1 breaks a rule: %2").arg(row.name, row.fault));
        face.joints.push_back(std::move(row));
    }
    return shown;
}

} // namespace quoin::ui
