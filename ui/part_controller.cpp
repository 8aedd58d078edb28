// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/part_controller.h"

#include "core/split_job.h"
#include "mesh/mass.h"
#include "ui/own_fits.h"
#include "ui/parts_panel.h"
#include "ui/pieces_panel.h"
#include "ui/scale_panel.h"
#include "ui/window_words.h"

#include <algorithm>
#include <set>

namespace quoin::ui {

namespace {

QString stateWords(const PartWork* work)
{
    if (work == nullptr)
        return {};
    if (work->problem())
        return windowWords(work->problem()->sentence());
    const PartViewPtr& view = work->view();
    if (work->busy() || !view)
        return QObject::tr("working");
    if (view->realised->stage == core::Realised::Stage::Cut)
        return {};
    const std::vector<core::Piece>& pieces = view->realised->project.pieces;
    if (pieces.empty())
        return QObject::tr("too small to print: scale it up");
    const auto misfits =
        std::count_if(pieces.begin(), pieces.end(), [](const core::Piece& p) { return p.pose.slackMm < 0; });
    return misfits == 0   ? QString()
           : misfits == 1 ? QObject::tr("1 piece too large for the beds")
                          : QObject::tr("%1 pieces too large for the beds").arg(misfits);
}

PieceRow rowOf(const core::Realised& realised, const PartView& view, std::size_t i, double densityGPerCm3)
{
    const core::Piece& piece = realised.project.pieces[i];
    PieceRow row;
    row.number = piece.number;
    const Colour& c = view.colours[i];
    row.colour = QColor::fromRgbF(static_cast<float>(c.r), static_cast<float>(c.g), static_cast<float>(c.b));
    const bool posed = realised.stage != core::Realised::Stage::Cut;
    row.extentsMm = posed ? piece.pose.extentsMm : boundsOf(*view.pieces[i].draw).extents();
    if (posed && piece.pose.bed < realised.project.beds.size()) {
        row.bed = QString::fromStdString(realised.project.beds[piece.pose.bed].name);
        row.slackMm = piece.pose.slackMm;
        row.fit = piece.pose.slackMm >= 0 ? PieceRow::Fit::Fits : PieceRow::Fit::TooLarge;
    }
    std::set<int> neighbours;
    for (const core::Seam& seam : realised.project.seams) {
        if (seam.pieceBelow == piece.number)
            neighbours.insert(seam.pieceAbove);
        if (seam.pieceAbove == piece.number)
            neighbours.insert(seam.pieceBelow);
    }
    row.neighbours.assign(neighbours.begin(), neighbours.end());
    row.volumeMm3 = view.volumesMm3[i];
    row.massGrams = row.volumeMm3 / 1e3 * densityGPerCm3;
    return row;
}

} // namespace

PartController::PartController(Bench& bench, PartsPanel& parts, ScalePanel& scale, PiecesPanel& pieces, QObject* parent)
    : QObject(parent),
      m_bench(bench),
      m_parts(parts),
      m_scale(scale),
      m_pieces(pieces),
      m_largest(bench.jobs()),
      m_unit(bench.jobs())
{
    connectParts();
    connectScale();
    connectPieces();
    const auto showAll = [this] {
        showParts();
        showScale();
        showPieces();
    };
    connect(&bench.document(), &Document::designChanged, this, showAll);
    connect(&bench, &Bench::chosen, this, showAll);
    connect(&bench, &Bench::looked, this, [this] { m_pieces.setExploded(m_bench.state().explode); });
    connect(&bench, &Bench::healthKnown, this, showAll);
    connect(&bench.document(), &Document::workChanged, this, [this](int id) {
        showParts();
        if (id == m_bench.state().part)
            showPieces();
    });
    showAll();
}

void PartController::change(int part, const QString& name, const std::function<void(core::PartDesign&)>& edit,
                            const QString& mergeKey)
{
    const core::PartDesign* now = m_bench.design().part(part);
    if (now == nullptr)
        return;
    core::PartDesign next = *now;
    edit(next);
    m_bench.document().editPart(name, std::move(next), mergeKey);
}

void PartController::connectParts()
{
    connect(&m_parts, &PartsPanel::selected, this, [this](int id) {
        m_bench.look([id](ViewState& state) {
            if (state.part == id)
                return;
            state.part = id;
            state.cut = 0;
            state.pieces.clear();
            state.onBed = state.isolate = state.painting = false;
            state.preview.reset();
        });
    });
    connect(&m_parts, &PartsPanel::visibleWanted, this, [this](int id, bool visible) {
        change(id, visible ? tr("Show part") : tr("Hide part"), [&](core::PartDesign& p) { p.visible = visible; });
    });
    connect(&m_parts, &PartsPanel::renameWanted, this, [this](int id, const QString& name) {
        change(id, tr("Rename part"), [&](core::PartDesign& p) { p.name = name.toStdString(); });
    });
    connect(&m_parts, &PartsPanel::quantityWanted, this, [this](int id, int quantity) {
        change(
            id, tr("Quantity of part"), [&](core::PartDesign& p) { p.quantity = quantity; },
            QStringLiteral("quantity %1").arg(id));
    });
    connect(&m_parts, &PartsPanel::materialWanted, this, [this](int id, const QString& material) {
        change(id, tr("Material of part"), [&](core::PartDesign& p) {
            p.material = material.toStdString();
            p = core::withFits(p, ownFits(m_bench));
        });
    });
    connect(&m_parts, &PartsPanel::duplicateWanted, this, &PartController::duplicate);
    connect(&m_parts, &PartsPanel::removeWanted, this, &PartController::remove);
    connect(&m_parts, &PartsPanel::addWanted, this, &PartController::addWanted);
}

void PartController::duplicate(int part)
{
    const core::PartDesign* now = m_bench.design().part(part);
    if (now == nullptr)
        return;
    int id = 0;
    core::Design next = core::withPart(m_bench.design(), *now, &id);
    m_bench.document().edit(tr("Duplicate part"), std::move(next));
    m_bench.look([id](ViewState& state) {
        state.part = id;
        state.pieces.clear();
    });
}

void PartController::setUnit(mesh::Unit unit)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr || part->sourceUnit == unit)
        return;
    m_unit.ask<core::PartDesign>(
        tr("Another unit"), [part = *part, unit](const Context&) { return core::withUnit(part, unit); },
        [this, before = *part](core::PartDesign next) {
            const core::PartDesign* now = m_bench.design().part(next.id);
            // Not over what was changed meanwhile.
            if (now != nullptr && now->source == before.source && now->cuts == before.cuts &&
                now->scale == before.scale)
                m_bench.document().editPart(
                    tr("Unit of the file: %1").arg(QString::fromStdString(mesh::unitName(next.sourceUnit))),
                    std::move(next));
        });
}

void PartController::remove(int part)
{
    if (m_bench.design().part(part) != nullptr)
        m_bench.document().edit(tr("Remove part"), core::withoutPart(m_bench.design(), part));
}

void PartController::connectScale()
{
    connect(&m_scale, &ScalePanel::scaleLive, this,
            [this](double factor) { m_bench.look([factor](ViewState& state) { state.liveScale = factor; }); });
    connect(&m_scale, &ScalePanel::scaleWanted, this, &PartController::setScale);
    connect(&m_scale, &ScalePanel::largestWanted, this, &PartController::findLargest);
}

void PartController::setScale(double factor)
{
    m_bench.look([](ViewState& state) { state.liveScale.reset(); });
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr || factor == part->scale)
        return;
    const QString mergeKey = QStringLiteral("scale %1").arg(part->id);
    if (m_scale.together())
        m_bench.document().edit(tr("Scale the parts"), core::withCommonScale(m_bench.design(), part->id, factor),
                                mergeKey);
    else
        m_bench.document().editPart(tr("Scale %1").arg(QString::fromStdString(part->name)),
                                    core::withScale(*part, factor), mergeKey);
}

void PartController::findLargest(int bed)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr || bed < 0 || bed >= static_cast<int>(m_bench.design().beds.size()))
        return;
    m_scale.setSearching(true);
    const core::FitOptions fit{m_bench.design().marginMm, m_bench.design().anyRotation};
    m_largest.ask<Result<double>>(
        tr("Looking for the largest size"),
        [source = part->source, chosen = m_bench.design().beds[static_cast<std::size_t>(bed)],
         fit](const Context& context) { return core::largestScale(*source, {chosen}, fit, context); },
        [this, id = part->id](Result<double> factor) {
            m_scale.setSearching(false);
            if (!factor)
                m_bench.refuse(factor.problem());
            else if (m_bench.state().part == id)
                setScale(*factor);
        });
}

void PartController::connectPieces()
{
    connect(&m_pieces, &PiecesPanel::selectionWanted, this, [this](const std::vector<int>& numbers) {
        m_bench.look([&](ViewState& state) { state.pieces = {numbers.begin(), numbers.end()}; });
    });
    connect(&m_pieces, &PiecesPanel::isolateWanted, this,
            [this](bool on) { m_bench.look([on](ViewState& state) { state.isolate = on; }); });
    connect(&m_pieces, &PiecesPanel::printPoseWanted, this,
            [this](bool on) { m_bench.look([on](ViewState& state) { state.onBed = on; }); });
    connect(&m_pieces, &PiecesPanel::explodeWanted, this,
            [this](double share) { m_bench.look([share](ViewState& state) { state.explode = share; }); });
}

void PartController::showParts()
{
    std::vector<PartRow> rows;
    for (const core::PartDesign& part : m_bench.design().parts) {
        const PartWork* work = m_bench.document().work(part.id);
        PartRow row;
        row.id = part.id;
        row.name = QString::fromStdString(part.name);
        row.extentsMm = core::scaledBounds(part).extents();
        row.scale = part.scale;
        if (work != nullptr && work->view())
            row.pieces = static_cast<int>(work->view()->pieces.size());
        row.state = stateWords(work);
        row.health = part.repairs.empty() ? PartRow::Health::Sound : PartRow::Health::Mended;
        for (const std::string& repair : part.repairs)
            row.healthTip += (row.healthTip.isEmpty() ? "" : "\n") + QString::fromStdString(repair);
        if (row.healthTip.isEmpty())
            row.healthTip = tr("closed, oriented and free of self-intersections: fit to be cut");
        row.visible = part.visible;
        row.quantity = part.quantity;
        row.material = QString::fromStdString(part.material);
        rows.push_back(std::move(row));
    }
    m_parts.setRows(std::move(rows));
    m_parts.select(m_bench.state().part);
}

void PartController::showScale()
{
    m_scale.setBeds(m_bench.design().beds);
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr || m_bench.state().step != JobStep::Scale) {
        if (part == nullptr)
            m_scale.setSubject({});
        return;
    }
    if (m_bench.state().liveScale)
        return; // the panel leads
    const std::vector<core::PartDesign>& parts = m_bench.design().parts;
    m_scale.setOthers(static_cast<int>(parts.size()),
                      static_cast<int>(std::count_if(parts.begin(), parts.end(), [&](const core::PartDesign& p) {
                          return p.scale == part->scale;
                      })));
    m_scale.setWhole(wholeExtents(*part));
    const mesh::Health* health = m_bench.healthOf(*part);
    mesh::Health known = health != nullptr ? *health : mesh::Health{};
    if (health == nullptr)
        known.extentsMm = core::scaledBounds(*part).extents() / part->scale;
    m_scale.setSubject(ScaleSubject{part->id, QString::fromStdString(part->name), part->scale,
                                    QString::fromStdString(part->material), std::move(known)});
}

std::optional<mesh::Vec3> PartController::wholeExtents(const core::PartDesign& current)
{
    // Only of parts that stand in the sculpture and are all of one scale: else they don't fit each other.
    std::vector<Body> bodies;
    for (const core::PartDesign& part : m_bench.design().parts) {
        if (part.places.empty() || part.scale != current.scale)
            return std::nullopt;
        for (const mesh::Transform& place : part.places)
            bodies.emplace_back(part.source, place.m);
    }
    if (bodies.size() < 2)
        return std::nullopt;
    if (bodies == m_bodies)
        return m_wholeExtents;
    mesh::Box3 box;
    for (const core::PartDesign& part : m_bench.design().parts)
        for (const mesh::Transform& place : part.places)
            for (const mesh::Vec3& p : part.source->points)
                box.add(place.point(p));
    m_bodies = std::move(bodies);
    m_wholeExtents = box.extents();
    return m_wholeExtents;
}

void PartController::showPieces()
{
    std::vector<PieceRow> rows;
    const core::PartDesign* part = m_bench.part();
    const PartWork* work = m_bench.work();
    if (part != nullptr && work != nullptr && work->view()) {
        const PartView& view = *work->view();
        const core::Material* material = core::findMaterial(part->material);
        const double density = material != nullptr ? material->densityGPerCm3 : 1;
        for (std::size_t i = 0; i < view.pieces.size(); ++i) {
            PieceRow row = rowOf(*view.realised, view, i, density);
            if (m_bench.design().beds.empty())
                row.fit = PieceRow::Fit::NoBed;
            else if (!m_bench.realised())
                row.fit = PieceRow::Fit::Checking; // of cuts that have changed since
            rows.push_back(std::move(row));
        }
    }
    m_pieces.setRows(std::move(rows));
    const ViewState& state = m_bench.state();
    m_pieces.select({state.pieces.begin(), state.pieces.end()});
    m_pieces.setIsolated(state.isolate);
    m_pieces.setPrintPose(state.onBed);
    m_pieces.setExploded(state.explode);
}

} // namespace quoin::ui
