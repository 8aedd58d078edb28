// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/strength_controller.h"

#include "ui/joint_words.h"
#include "ui/joints_panel.h"
#include "ui/load_editor.h"
#include "ui/pick_tool.h"
#include "ui/strength_panel.h"
#include "ui/view_controller.h"
#include "ui/window_words.h"

namespace quoin::ui {

namespace {

/// What the figures rest on: notes about the whole, not those about seams, which stand with them. The caution is
/// always in sight by itself.
QStringList groundOf(const core::StrengthReport& report)
{
    QStringList lines;
    for (const Note& note : report.notes)
        if (note.place.empty() && note.text != core::strengthCaution())
            lines << windowWords(note.text);
    return lines;
}

std::shared_ptr<const SafetyShown> safetyOf(const core::Realised& realised, double limit,
                                            const std::vector<std::optional<FaceStrength>>& faces)
{
    auto shown = std::make_shared<SafetyShown>();
    shown->cutStamp = realised.cutStamp;
    shown->limit = limit;
    for (std::size_t s = 0; s < faces.size(); ++s) {
        SafetyShown::Face face;
        if (faces[s])
            face.level = safetyLevel(faces[s]->safety, faces[s]->low, limit);
        if (face.level == SafetyLevel::Weak)
            face.words = realised.project.seams[s].mark + ": safety " + safetyText(faces[s]->safety).toStdString();
        shown->faces.push_back(std::move(face));
    }
    return shown;
}

} // namespace

StrengthController::StrengthController(Bench& bench, StrengthPanel& panel, JointsPanel& joints, ViewController& view,
                                       QObject* parent)
    : QObject(parent), m_bench(bench), m_panel(panel), m_joints(joints), m_view(view), m_strength(bench.jobs())
{
    LoadEditor& load = m_panel.load();
    load.setCheck(
        [this](const core::LoadCase& wanted) { return m_of ? loadFaults(m_of->project, wanted) : LoadFaults{}; });
    connect(&load, &LoadEditor::loadWanted, this, &StrengthController::setLoad);
    connect(&load, &LoadEditor::loadLive, this, &StrengthController::ask);
    connect(&load, &LoadEditor::pickWanted, this, &StrengthController::pick);
    connect(&load, &LoadEditor::forceSelected, this,
            [this](int force) { m_bench.look([force](ViewState& state) { state.force = force; }); });
    connect(&bench.document(), &Document::designChanged, this, &StrengthController::follow);
    connect(&bench.document(), &Document::workChanged, this, &StrengthController::follow);
    connect(&bench, &Bench::chosen, this, &StrengthController::follow);
    follow();
}

StrengthController::~StrengthController() = default;

void StrengthController::follow()
{
    const ViewState& state = m_bench.state();
    if (picking() && (state.step != JobStep::Joint || state.jointTab != JointTab::Strength))
        endPick();
    if (state.step != JobStep::Joint)
        return;
    const core::PartDesign* part = m_bench.part();
    const PartWork* work = m_bench.work();
    const core::RealisedPtr realised = m_bench.realised();
    const bool laidOut = realised && work != nullptr && realised->stage == core::Realised::Stage::Jointed;
    if (part == nullptr || work == nullptr) {
        m_of.reset();
        showNone(tr("Open a model first."));
    } else if (laidOut && realised != m_of) {
        m_of = realised;
        ask(realised->project.load);
    } else if (!laidOut && m_of && (!realised || realised->cutStamp != m_of->cutStamp)) {
        m_of.reset();
        showNone(work->problem() ? tr("The part can't be cut as it is.") : tr("The joints are being laid out."));
    } else if (!laidOut && m_of) {
        m_panel.setBusy(true);
    }
    showLoad();
}

void StrengthController::showLoad()
{
    const core::PartDesign* part = m_bench.part();
    std::vector<int> pieces;
    if (m_of)
        for (const core::Piece& piece : m_of->project.pieces)
            pieces.push_back(piece.number);
    LoadEditor& editor = m_panel.load();
    if (part != nullptr)
        editor.setLoad(part->load, pieces, core::scaledBounds(*part));
    else
        editor.setLoad({}, {}, {}, tr("Open a model first."));
    const std::set<int>& chosen = m_bench.state().pieces;
    editor.setSelectedPieces({chosen.begin(), chosen.end()});
    if (const int force = editor.selectedForce(); force != m_bench.state().force)
        m_bench.look([force](ViewState& state) { state.force = force; });
}

void StrengthController::ask(const core::LoadCase& load)
{
    if (!m_of)
        return;
    if (m_of->project.seams.empty()) {
        showNone(tr("The part is in one piece: it has no faces to join."));
        return;
    }
    m_panel.setBusy(true);
    m_strength.ask<Result<core::StrengthReport>>(
        tr("Strength of the joints"),
        [of = m_of, load](const Context& context) { return core::strengthOf(of->project, load, context); },
        [this, of = m_of, load](Result<core::StrengthReport> report) {
            if (m_of == of)
                show(of, load, report);
        },
        true);
}

void StrengthController::show(const core::RealisedPtr& of, const core::LoadCase& load,
                              const Result<core::StrengthReport>& report)
{
    if (!report) {
        if (report.problem().reason != Reason::Cancelled)
            showNone(tr("No figures: %1").arg(windowWords(report.problem().sentence())));
        return;
    }
    const auto faces = strengthShown(*report, of->project.seams.size());
    m_joints.setStrength(faces);
    std::vector<StrengthRow> rows;
    for (std::size_t s = 0; s < faces.size(); ++s) {
        const core::Seam& seam = of->project.seams[s];
        rows.push_back(
            {static_cast<int>(s), QString::fromStdString(seam.mark), seam.pieceBelow, seam.pieceAbove, faces[s]});
    }
    m_panel.setBusy(false);
    m_panel.setRows(std::move(rows), load.safetyLimit, groundOf(*report));
    showInView(safetyOf(*of, load.safetyLimit, faces));
}

void StrengthController::showNone(const QString& why)
{
    m_strength.drop();
    m_panel.setBusy(false);
    m_panel.setWhyNone(why);
    m_joints.setStrength({});
    if (m_bench.state().safety)
        showInView(nullptr);
}

void StrengthController::showInView(std::shared_ptr<const SafetyShown> safety)
{
    m_bench.look([&](ViewState& state) { state.safety = std::move(safety); });
}

void StrengthController::setLoad(const core::LoadCase& load, const QString& name, const QString& mergeKey)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr)
        return;
    core::PartDesign next = *part;
    next.load = load;
    m_bench.document().editPart(name, std::move(next), mergeKey);
}

void StrengthController::pick(int force)
{
    if (force < 0 || m_bench.part() == nullptr) {
        endPick();
        return;
    }
    m_pick = std::make_unique<PickTool>(1, tr("the place where force %1 acts").arg(force + 1), nullptr);
    connect(m_pick.get(), &PickTool::givenUp, this, &StrengthController::endPick);
    connect(m_pick.get(), &PickTool::finished, this, [this, force](const std::vector<ViewHit>& hits) {
        const ViewHit hit = hits.front();
        endPick();
        picked(force, hit.point, hit.body);
    });
    m_view.useTool(m_pick.get());
    m_view.view().setFocus();
    m_panel.load().setPicking(true);
}

void StrengthController::endPick()
{
    if (!m_pick)
        return;
    m_pick.release()->deleteLater();
    m_view.useSelection();
    m_panel.load().setPicking(false);
}

void StrengthController::picked(int force, mesh::Vec3 scenePoint, std::size_t body)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr || static_cast<std::size_t>(force) >= part->load.extra.size() ||
        body >= m_view.built().bodies.size())
        return;
    const int piece = m_view.built().bodies[body].piece;
    core::LoadCase load = part->load;
    core::ExtraForce& moved = load.extra[static_cast<std::size_t>(force)];
    moved.at = scenePoint - m_view.shift() - m_view.pieceShift(piece);
    moved.piece = piece;
    setLoad(load, tr("Place of force %1").arg(force + 1), {});
}

} // namespace quoin::ui
