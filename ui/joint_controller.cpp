// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_controller.h"

#include "core/face_choice.h"
#include "core/joint_rules.h"
#include "ui/joint_tool.h"
#include "ui/joints_panel.h"
#include "ui/view_controller.h"

namespace quoin::ui {

JointController::JointController(Bench& bench, JointsPanel& panel, ViewController& view, QObject* parent)
    : QObject(parent),
      m_bench(bench),
      m_panel(panel),
      m_view(view),
      m_tool(new JointTool(this)),
      m_warming(bench.jobs()),
      m_allowed(bench.jobs())
{
    connect(&m_panel, &JointsPanel::selected, this, &JointController::select);
    connect(&m_panel, &JointsPanel::faceChoiceWanted, this, &JointController::want);
    connect(&m_panel, &JointsPanel::optionsWanted, this,
            [this](const core::JointOptions& options, core::Fit fit, const QString& name) {
                if (const core::PartDesign* part = m_bench.part()) {
                    core::PartDesign next = *part;
                    next.joints = options;
                    next.fit = fit;
                    m_bench.document().editPart(name, std::move(next));
                }
            });
    connect(m_tool, &JointTool::selected, this, [this](int joint) { select(m_seam, joint); });
    connect(m_tool, &JointTool::deselected, this, [this] { select(m_seam, -1); });
    connect(m_tool, &JointTool::moveFinished, this, &JointController::moveJoint);
    m_tool->setVerdict([this](int joint, mesh::Vec2 at) { return verdict(joint, at); });
    connect(&bench.document(), &Document::designChanged, this, &JointController::showList);
    connect(&bench.document(), &Document::workChanged, this, &JointController::showList);
    connect(&bench, &Bench::chosen, this, [this] {
        showList();
        showHandles();
    });
    connect(&bench, &Bench::looked, this, [this] {
        if (m_bench.state().step == JobStep::Joint)
            showHandles(); // they go along when the pieces are moved apart
    });
    showList();
}

core::RealisedPtr JointController::laidOut() const
{
    const PartWork* work = m_bench.work();
    const core::RealisedPtr realised = m_bench.realised();
    return realised && work != nullptr && realised->stage == core::Realised::Stage::Jointed ? realised : nullptr;
}

void JointController::showList()
{
    if (m_bench.state().step != JobStep::Joint)
        return;
    const core::PartDesign* part = m_bench.part();
    const core::RealisedPtr realised = laidOut();
    if (part == nullptr || !realised) {
        m_panel.setWhyNone(part == nullptr ? tr("open a model first")
                           : m_bench.work() != nullptr && m_bench.work()->problem()
                               ? tr("the part can't be cut as it is")
                               : tr("the joints are being laid out"));
        return;
    }
    if (m_shown == realised)
        return;
    const bool newCut = !m_shown || m_shown->cutStamp != realised->cutStamp;
    m_shown = realised;
    m_panel.setWhyNone(realised->project.seams.empty() ? tr("the part is in one piece: there are no faces to join")
                                                       : QString());
    m_panel.setJoints(jointsShown(*realised, *part));
    if (newCut || m_seam >= static_cast<int>(realised->project.seams.size())) {
        m_seam = realised->project.seams.empty() ? -1 : 0;
        m_joint = -1;
    }
    m_panel.select(m_seam, m_joint);
    m_probe = std::make_shared<core::JointProbe>(std::shared_ptr<const core::Project>(realised, &realised->project));
    showHandles();
}

std::vector<std::size_t> JointController::jointsOf(std::size_t seam) const
{
    std::vector<std::size_t> out;
    const std::vector<core::Joint>& joints = m_shown->project.layout.joints;
    for (std::size_t j = 0; j < joints.size(); ++j)
        if (joints[j].seam == seam)
            out.push_back(j);
    return out;
}

void JointController::select(int seam, int joint)
{
    m_seam = seam;
    m_joint = joint;
    m_panel.select(seam, joint);
    if (m_shown && seam >= 0 && seam < static_cast<int>(m_shown->project.seams.size())) {
        const core::Seam& s = m_shown->project.seams[static_cast<std::size_t>(seam)];
        m_bench.look([&](ViewState& state) { state.pieces = {s.pieceBelow, s.pieceAbove}; });
    }
    showHandles();
}

void JointController::showHandles()
{
    const bool shown = m_bench.state().step == JobStep::Joint && m_shown && m_shown == laidOut() && m_seam >= 0 &&
                       m_seam < static_cast<int>(m_shown->project.seams.size());
    if (!shown) {
        m_tool->setJoints({});
        m_tool->clearAllowed();
        return;
    }
    const core::Project& project = m_shown->project;
    const core::Seam& seam = project.seams[static_cast<std::size_t>(m_seam)];
    mesh::PlaneFrame frame = mesh::frameOf(project.plan.nodes[static_cast<std::size_t>(seam.cut)].plane);
    frame.origin = frame.origin + m_view.shift() + m_view.pieceShift(seam.pieceBelow);
    std::vector<JointHandle> handles;
    const std::vector<std::size_t> joints = jointsOf(static_cast<std::size_t>(m_seam));
    for (std::size_t i = 0; i < joints.size(); ++i) {
        const core::Joint& joint = project.layout.joints[joints[i]];
        JointHandle handle;
        handle.id = static_cast<int>(i);
        handle.at = frame.space(joint.at);
        handle.radiusMm = 0.5 * joint.diameterMm;
        handle.frame = frame;
        for (const core::JointFault& fault : project.layout.faults)
            if (fault.joint == joints[i]) {
                handle.ok = false;
                handle.why = QString::fromStdString(fault.text);
            }
        handles.push_back(std::move(handle));
    }
    m_tool->setJoints(std::move(handles));
    m_tool->setSelected(m_joint >= 0 ? std::optional<int>(m_joint) : std::nullopt);
    askAllowed();
}

void JointController::askAllowed()
{
    const std::vector<std::size_t> joints = jointsOf(static_cast<std::size_t>(m_seam));
    if (joints.empty()) {
        m_tool->clearAllowed();
        return;
    }
    const std::size_t which = joints[std::min(joints.size() - 1, static_cast<std::size_t>(std::max(0, m_joint)))];
    const std::pair<int, int> wanted{m_seam, static_cast<int>(which)};
    if (m_allowedFor == wanted && m_allowedOf == m_shown)
        return;
    m_allowedFor = wanted;
    m_allowedOf = m_shown;
    m_tool->clearAllowed();
    m_allowed.ask<Result<mesh::Region>>(
        tr("Room for joints"),
        [probe = m_probe, which](const Context& context) {
            return core::allowedRegion(*probe, probe->project().layout.joints, which, context);
        },
        [this, shown = m_shown, seam = m_seam](Result<mesh::Region> region) {
            if (!region || m_shown != shown || m_seam != seam)
                return;
            const core::Seam& s = shown->project.seams[static_cast<std::size_t>(seam)];
            mesh::PlaneFrame frame = mesh::frameOf(shown->project.plan.nodes[static_cast<std::size_t>(s.cut)].plane);
            frame.origin = frame.origin + m_view.shift() + m_view.pieceShift(s.pieceBelow);
            m_tool->setAllowed(*region, frame);
        },
        true);
}

QString JointController::verdict(int joint, mesh::Vec2 at) const
{
    if (!m_shown || !m_probe || m_seam < 0)
        return {};
    const std::vector<std::size_t> joints = jointsOf(static_cast<std::size_t>(m_seam));
    if (joint < 0 || static_cast<std::size_t>(joint) >= joints.size())
        return {};
    std::vector<core::Joint> moved = m_shown->project.layout.joints;
    const std::size_t which = joints[static_cast<std::size_t>(joint)];
    moved[which].at = at;
    if (!m_probe->ready(moved[which]))
        return {}; // the room is being looked at; the rules are asked again when it is let go
    const auto fault = m_probe->fault(moved, which);
    return fault ? QString::fromStdString(fault->text) : QString();
}

void JointController::moveJoint(int joint, mesh::Vec2 at)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr || !m_shown || m_shown != laidOut() || m_seam < 0)
        return;
    const auto seam = static_cast<std::size_t>(m_seam);
    core::FaceChoice choice = core::choiceFor(m_shown->project, m_shown->cutOfNode, *part, seam);
    if (choice.how != core::FaceChoice::How::ByHand)
        choice = core::takenByHand(choice, m_shown->project.layout, seam);
    if (joint < 0 || static_cast<std::size_t>(joint) >= choice.dowels.size())
        return;
    choice.dowels[static_cast<std::size_t>(joint)].at = at;
    m_joint = joint;
    want(choice, tr("Move joint"), {});
}

void JointController::want(const core::FaceChoice& choice, const QString& name, const QString& mergeKey)
{
    const core::PartDesign* part = m_bench.part();
    if (part != nullptr && m_shown)
        m_bench.document().editPart(name, core::withFaceChoice(m_shown->project, m_shown->cutOfNode, *part, choice),
                                    mergeKey);
}

} // namespace quoin::ui
