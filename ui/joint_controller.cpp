// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_controller.h"

#include "core/face_choice.h"
#include "core/joint_envelope.h"
#include "core/joint_rules.h"
#include "ui/joint_tool.h"
#include "ui/joints_panel.h"
#include "ui/view_controller.h"
#include "ui/window_words.h"

#include <algorithm>
#include <cmath>

namespace quoin::ui {

namespace {

constexpr double openedShare = 0.3; ///< of the slider: how far the step opens the pieces by itself
constexpr double rimShare = 0.15;   ///< of the face's size: what is seen round it
constexpr double leastRimMm = 10;
constexpr double leastLean = -0.2; ///< a face that looks down farther than this is shown on the other piece

/// Whether the face is shown on the piece below its cut: from below nobody likes to look.
bool facesUp(mesh::Vec3 normal)
{
    return normal.z >= leastLean;
}

/// What a joint points to; none for round ones.
std::optional<mesh::Vec2> pointerOf(const core::Joint& joint)
{
    using Form = core::JointForm;
    const bool points = joint.kind == Form::Kind::Key || joint.kind == Form::Kind::Dovetail ||
                        (joint.kind == Form::Kind::Dowel && joint.keyed) ||
                        (joint.kind == Form::Kind::DrawBolt && joint.hold == Form::Hold::SideNut);
    const double far = joint.kind == Form::Kind::Dovetail   ? joint.lengthMm
                       : joint.kind == Form::Kind::DrawBolt ? std::max(joint.nutOutMm, joint.diameterMm)
                                                            : 0.5 * joint.diameterMm;
    if (!points)
        return std::nullopt;
    return far * mesh::Vec2{std::cos(joint.angle), std::sin(joint.angle)};
}

} // namespace

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
    connect(&m_panel, &JointsPanel::fitsWanted, this, &JointController::fitsWanted);
    connect(m_tool, &JointTool::selected, this, [this](int joint) { select(m_seam, joint); });
    connect(m_tool, &JointTool::deselected, this, [this] { select(m_seam, -1); });
    connect(m_tool, &JointTool::moveFinished, this, &JointController::moveJoint);
    connect(m_tool, &JointTool::turnWanted, this, &JointController::turnJoint);
    connect(m_tool, &JointTool::addWanted, &m_panel, &JointsPanel::addJoint);
    connect(m_tool, &JointTool::removeWanted, &m_panel, &JointsPanel::removeJoint);
    m_tool->setVerdict([this](int joint, mesh::Vec2 at) { return verdict(joint, at); });
    connect(&bench.document(), &Document::designChanged, this, &JointController::showList);
    connect(&bench.document(), &Document::workChanged, this, &JointController::showList);
    connect(&bench, &Bench::chosen, this, [this] {
        if (!looking())
            closeFace();
        showList();
        showHandles();
    });
    connect(&bench, &Bench::looked, this, [this] {
        if (m_bench.state().step == JobStep::Joint)
            showHandles(); // they go along when the pieces are moved apart
    });
    showList();
}

bool JointController::looking() const
{
    return m_bench.state().step == JobStep::Joint && m_bench.state().jointTab == JointTab::Joints;
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
    const bool refused = m_bench.work() != nullptr && m_bench.work()->problem().has_value();
    m_panel.setProblem(realised && refused ? windowWords(m_bench.work()->problem()->sentence()) : QString());
    // While only the joints are laid out anew, the list stays: what is being edited keeps the keyboard.
    const core::RealisedPtr now = m_bench.realised();
    if (!realised && m_shown && now && now->cutStamp == m_shown->cutStamp && !m_bench.work()->problem())
        return;
    if (part == nullptr || !realised) {
        m_panel.setWhyNone(part == nullptr ? tr("Open a model first.")
                           : refused       ? windowWords(m_bench.work()->problem()->sentence())
                                           : tr("The joints are being laid out."));
        return;
    }
    if (m_shown == realised) {
        openFace(false);
        return;
    }
    const bool newCut = !m_shown || m_shown->cutStamp != realised->cutStamp;
    m_shown = realised;
    m_panel.setWhyNone(realised->project.seams.empty() ? tr("The part is in one piece: there are no faces to join.")
                                                       : QString());
    m_panel.setJoints(jointsShown(*realised, *part));
    if (newCut || m_seam >= static_cast<int>(realised->project.seams.size())) {
        m_seam = realised->project.seams.empty() ? -1 : 0;
        m_joint = -1;
    }
    m_panel.select(m_seam, m_joint);
    emit selected(m_seam);
    m_probe = std::make_shared<core::JointProbe>(std::shared_ptr<const core::Project>(realised, &realised->project));
    if (!newCut && m_opened)
        showFacing();
    openFace(newCut);
    showHandles();
}

void JointController::openFace(bool turn)
{
    if (!m_shown || !looking() || m_bench.state().onBed)
        return;
    if (m_seam < 0) {
        showFacing();
        return;
    }
    if (!m_opened) {
        m_opened = turn = true;
        m_explodedBefore = m_bench.state().explode;
        if (m_explodedBefore < openedShare)
            m_bench.look([](ViewState& state) { state.explode = openedShare; });
    }
    showFacing();
    if (!turn)
        return;
    const core::Seam& seam = m_shown->project.seams[static_cast<std::size_t>(m_seam)];
    const mesh::PlaneFrame frame = shownFrame();
    mesh::Box3 box;
    for (const mesh::Loop& loop : seam.region)
        for (const mesh::Vec2 p : loop)
            box.add(frame.space(p));
    const double rim = std::max(leastRimMm, rimShare * mesh::length(box.extents()));
    box = {box.min - mesh::Vec3{rim, rim, rim}, box.max + mesh::Vec3{rim, rim, rim}};
    m_view.lookAt(box, facesUp(frame.normal) ? frame.normal : -frame.normal);
}

void JointController::showFacing()
{
    std::optional<FacingFace> facing;
    if (m_shown && m_seam >= 0) {
        const core::Seam& seam = m_shown->project.seams[static_cast<std::size_t>(m_seam)];
        const mesh::Plane plane = m_shown->project.plan.nodes[static_cast<std::size_t>(seam.cut)].plane;
        facing = facesUp(plane.normal) ? FacingFace{seam.pieceBelow, seam.pieceAbove, plane}
                                       : FacingFace{seam.pieceAbove, seam.pieceBelow, {-plane.normal, -plane.offset}};
    }
    if (m_bench.state().facing != facing)
        m_bench.look([&](ViewState& state) { state.facing = facing; });
}

void JointController::closeFace()
{
    if (m_opened) {
        m_opened = false;
        const double before = m_explodedBefore;
        m_bench.look([before](ViewState& state) {
            if (state.explode == openedShare)
                state.explode = before;
            state.facing.reset();
        });
        m_view.refit();
    }
}

mesh::PlaneFrame JointController::shownFrame() const
{
    const core::Project& project = m_shown->project;
    const core::Seam& seam = project.seams[static_cast<std::size_t>(m_seam)];
    mesh::PlaneFrame frame = mesh::frameOf(project.plan.nodes[static_cast<std::size_t>(seam.cut)].plane);
    frame.origin =
        frame.origin + m_view.shift() + m_view.pieceShift(facesUp(frame.normal) ? seam.pieceBelow : seam.pieceAbove);
    return frame;
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

JointController::Counting JointController::counting(std::size_t which) const
{
    Counting out;
    const core::PartDesign* part = m_bench.part();
    const core::Project& project = m_shown->project;
    const core::SeamChoices choices =
        part != nullptr ? core::seamChoices(project, m_shown->cutOfNode, *part) : core::SeamChoices{};
    const auto byHand = [&](std::size_t seam) {
        const core::FaceChoice* choice = choices.of(seam);
        return static_cast<int>(seam) == m_seam || (choice != nullptr && choice->how == core::FaceChoice::How::ByHand);
    };
    for (std::size_t j = 0; j < project.layout.joints.size(); ++j) {
        if (j == which)
            out.which = out.joints.size();
        if (byHand(project.layout.joints[j].seam) || j == which)
            out.joints.push_back(project.layout.joints[j]);
    }
    return out;
}

void JointController::select(int seam, int joint)
{
    const bool other = seam != m_seam;
    m_seam = seam;
    m_joint = joint;
    m_panel.select(seam, joint);
    emit selected(seam);
    if (m_shown && seam >= 0 && seam < static_cast<int>(m_shown->project.seams.size())) {
        const core::Seam& s = m_shown->project.seams[static_cast<std::size_t>(seam)];
        m_bench.look([&](ViewState& state) { state.pieces = {s.pieceBelow, s.pieceAbove}; });
        openFace(other);
    }
    showHandles();
}

void JointController::showHandles()
{
    const bool shown = looking() && m_shown && m_shown == laidOut() && m_seam >= 0 &&
                       m_seam < static_cast<int>(m_shown->project.seams.size());
    if (!shown) {
        m_tool->setFace({}, {});
        m_tool->setJoints({});
        m_tool->clearAllowed();
        return;
    }
    const core::Project& project = m_shown->project;
    const mesh::PlaneFrame frame = shownFrame();
    m_tool->setFace(project.seams[static_cast<std::size_t>(m_seam)].region, frame);
    std::vector<JointHandle> handles;
    const std::vector<std::size_t> joints = jointsOf(static_cast<std::size_t>(m_seam));
    for (std::size_t i = 0; i < joints.size(); ++i) {
        const core::Joint& joint = project.layout.joints[joints[i]];
        JointHandle handle;
        handle.id = static_cast<int>(i);
        handle.at = frame.space(joint.at);
        handle.radiusMm = std::max(0.5 * joint.diameterMm, core::mouthRadiusMm(joint));
        handle.frame = frame;
        handle.pointer = pointerOf(joint);
        handle.halfWidthMm = joint.kind == core::JointForm::Kind::Dovetail ? 0.5 * joint.diameterMm : 0;
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
    if (m_allowedFor == wanted && m_allowedOf == m_shown) {
        if (!m_region.empty())
            m_tool->setAllowed(m_region, shownFrame()); // the pieces may have been moved apart
        return;
    }
    m_allowedFor = wanted;
    m_allowedOf = m_shown;
    m_region.clear();
    m_tool->clearAllowed();
    m_allowed.ask<Result<mesh::Region>>(
        tr("Room for joints"),
        [probe = m_probe, counted = counting(which)](const Context& context) {
            return core::allowedRegion(*probe, counted.joints, counted.which, context);
        },
        [this, shown = m_shown, seam = m_seam](Result<mesh::Region> region) {
            if (!region || m_shown != shown || m_seam != seam)
                return;
            m_region = std::move(*region);
            m_tool->setAllowed(m_region, shownFrame());
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
    Counting moved = counting(joints[static_cast<std::size_t>(joint)]);
    moved.joints[moved.which].at = at;
    if (!m_probe->ready(moved.joints[moved.which]))
        return {}; // the room is being looked at; the rules are asked again when it is let go
    const auto fault = m_probe->fault(moved.joints, moved.which);
    return fault ? QString::fromStdString(fault->text) : QString();
}

void JointController::change(int joint, const QString& name, const QString& mergeKey,
                             const std::function<void(core::JointForm&)>& how)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr || !m_shown || m_shown != laidOut() || m_seam < 0)
        return;
    const auto seam = static_cast<std::size_t>(m_seam);
    core::FaceChoice choice = core::choiceFor(m_shown->project, m_shown->cutOfNode, *part, seam);
    if (choice.how != core::FaceChoice::How::ByHand)
        choice = core::takenByHand(choice, m_shown->project.layout, seam);
    if (joint < 0 || static_cast<std::size_t>(joint) >= choice.joints.size())
        return;
    how(choice.joints[static_cast<std::size_t>(joint)]);
    m_joint = joint;
    want(choice, name, mergeKey);
}

void JointController::moveJoint(int joint, mesh::Vec2 at)
{
    change(joint, tr("Move joint"), {}, [at](core::JointForm& form) { form.at = at; });
}

void JointController::turnJoint(int joint, double radians)
{
    change(joint, tr("Turn joint"), QStringLiteral("turn joint %1 %2").arg(m_seam).arg(joint),
           [radians](core::JointForm& form) { form.angle = std::remainder(form.angle + radians, 2 * M_PI); });
}

void JointController::want(const core::FaceChoice& choice, const QString& name, const QString& mergeKey)
{
    const core::PartDesign* part = m_bench.part();
    if (part != nullptr && m_shown)
        m_bench.document().editPart(name, core::withFaceChoice(m_shown->project, m_shown->cutOfNode, *part, choice),
                                    mergeKey);
}

} // namespace quoin::ui
