// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/cut_controller.h"

#include "core/cut_steps.h"
#include "ui/cut_tool.h"
#include "ui/pick_tool.h"
#include "ui/view_controller.h"

#include <QElapsedTimer>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace quoin::ui {

using mesh::Plane;
using mesh::Vec3;

namespace {

constexpr double parallelCosine = 0.99995; ///< about half a degree
constexpr int leastRestMs = 8, mostRestMs = 100;
constexpr std::size_t mostNormals = 24;

/// Extent of a box along a direction: least and greatest offset.
std::pair<double, double> reachOf(const mesh::Box3& box, Vec3 n)
{
    double low = 0, high = 0;
    for (int k = 0; k < 3; ++k) {
        low += std::min(n[k] * box.min[k], n[k] * box.max[k]);
        high += std::max(n[k] * box.min[k], n[k] * box.max[k]);
    }
    return {low, high};
}

Vec3 axisOf(CutKind kind)
{
    return {kind == CutKind::AcrossX ? 1.0 : 0, kind == CutKind::AcrossY ? 1.0 : 0, kind == CutKind::AcrossZ ? 1.0 : 0};
}

} // namespace

CutController::CutController(Bench& bench, CutsPanel& panel, ViewController& view, QObject* parent)
    : QObject(parent),
      m_bench(bench),
      m_panel(panel),
      m_view(view),
      m_tool(new CutTool(this)),
      m_section(bench.jobs()),
      m_flats(bench.jobs())
{
    m_sectionRest.setSingleShot(true);
    connect(&m_sectionRest, &QTimer::timeout, this, [this] {
        if (const auto next = std::exchange(m_sectionNext, std::nullopt))
            askSection(next->first, next->second);
    });
    connectPanel();
    connectTool();
    const auto show = [this] {
        showRows();
        showHandle();
    };
    connect(&bench.document(), &Document::designChanged, this, show);
    connect(&bench.document(), &Document::workChanged, this, show);
    connect(&bench, &Bench::chosen, this, show);
    showRows();
}

void CutController::connectPanel()
{
    connect(&m_panel, &CutsPanel::selected, this,
            [this](int id) { m_bench.look([id](ViewState& state) { state.cut = id; }); });
    connect(&m_panel, &CutsPanel::planeLive, this, &CutController::live);
    connect(&m_panel, &CutsPanel::planeWanted, this,
            [this](int id, Plane plane) { finish(id, plane, QStringLiteral("plane %1").arg(id)); });
    const auto edit = [this](const QString& name, const core::PartDesign& next) {
        m_bench.document().editPart(name, next);
    };
    connect(&m_panel, &CutsPanel::enableWanted, this, [this, edit](int id, bool enabled) {
        if (const core::PartDesign* part = m_bench.part()) {
            core::PartDesign next = *part;
            for (core::CutStep& cut : next.cuts)
                if (cut.id == id)
                    cut.enabled = enabled;
            edit(enabled ? tr("Switch cut %1 on").arg(id) : tr("Switch cut %1 off").arg(id), next);
        }
    });
    connect(&m_panel, &CutsPanel::renameWanted, this, [this, edit](int id, const QString& name) {
        if (const core::PartDesign* part = m_bench.part()) {
            core::PartDesign next = *part;
            for (core::CutStep& cut : next.cuts)
                if (cut.id == id)
                    cut.name = name.toStdString();
            edit(tr("Rename cut %1").arg(id), next);
        }
    });
    connect(&m_panel, &CutsPanel::removeWanted, this, [this, edit](int id) {
        if (const core::PartDesign* part = m_bench.part())
            edit(tr("Remove cut %1").arg(id), core::withoutCut(*part, id));
    });
    connect(&m_panel, &CutsPanel::moveWanted, this, &CutController::move);
    connect(&m_panel, &CutsPanel::addWanted, this, &CutController::add);
    connect(&m_panel, &CutsPanel::snapChanged, this, [this](double) { showSnaps(); });
}

void CutController::connectTool()
{
    connect(m_tool, &CutTool::dragStarted, this, [this] { m_dragging = true; });
    connect(m_tool, &CutTool::planeMoved, this,
            [this](const Plane& plane) { live(m_bench.state().cut, toPart(plane)); });
    connect(m_tool, &CutTool::clickedBeside, &m_view, &ViewController::click);
    connect(m_tool, &CutTool::leaveWanted, this, [this] { m_bench.look([](ViewState& state) { state.cut = 0; }); });
    connect(m_tool, &CutTool::dragFinished, this, [this](const Plane& plane) {
        m_dragging = false;
        finish(m_bench.state().cut, toPart(plane), {});
    });
}

Plane CutController::toScene(const Plane& plane) const
{
    return {plane.normal, plane.offset + dot(plane.normal, m_view.shift())};
}

Plane CutController::toPart(const Plane& plane) const
{
    return {plane.normal, plane.offset - dot(plane.normal, m_view.shift())};
}

std::vector<CutRow> CutController::rows(const core::PartDesign& part) const
{
    const core::RealisedPtr realised = m_bench.realised();
    std::vector<CutRow> out;
    for (const core::CutStep& cut : part.cuts) {
        CutRow row;
        row.id = cut.id;
        row.name = QString::fromStdString(cut.name);
        const ViewState& state = m_bench.state();
        row.plane = state.livePlane && state.livePlane->first == cut.id ? state.livePlane->second : cut.plane;
        row.enabled = cut.enabled;
        if (!cut.within.empty()) {
            row.parent = cut.within.back().cut;
            row.above = cut.within.back().above;
        }
        if (realised) {
            const core::Project& project = realised->project;
            const auto isOfCut = [&](int node) {
                return realised->cutOfNode[static_cast<std::size_t>(node)] == cut.id;
            };
            for (const core::Seam& seam : project.seams)
                if (isOfCut(seam.cut))
                    row.sectionAreaMm2 += seam.areaMm2;
            for (const core::Piece& piece : project.pieces)
                row.pieces += std::any_of(piece.path.begin(), piece.path.end(),
                                          [&](const core::Step& s) { return isOfCut(s.node); });
            if (cut.enabled && row.pieces == 0)
                row.problem = tr("meets nothing");
        }
        out.push_back(std::move(row));
    }
    return out;
}

void CutController::showRows()
{
    const core::PartDesign* part = m_bench.part();
    m_panel.setWhyNotAdd(part == nullptr ? tr("open a model first") : QString());
    m_panel.setPieceSelected(m_bench.state().pieces.size() == 1 && m_bench.realised() != nullptr);
    m_panel.setRows(part != nullptr ? rows(*part) : std::vector<CutRow>{},
                    part != nullptr ? core::scaledBounds(*part) : mesh::Box3{});
    m_panel.select(m_bench.state().cut);
}

void CutController::showHandle()
{
    const core::PartDesign* part = m_bench.part();
    const core::CutStep* cut = part != nullptr ? core::cutOf(*part, m_bench.state().cut) : nullptr;
    const bool shown = cut != nullptr && m_bench.state().step == JobStep::Cut && !m_bench.state().painting &&
                       !m_bench.state().preview && !m_bench.state().onBed;
    if (!shown) {
        m_tool->clearPlane();
        m_tool->setArea({});
        m_sectionCut = 0;
        if (m_bench.state().liveSection)
            m_bench.look([](ViewState& state) { state.liveSection.reset(); });
        return;
    }
    askFlats();
    if (m_dragging || m_bench.state().livePlane)
        return; // the hand leads
    const Plane scene = toScene(cut->plane);
    mesh::Box3 box = core::scaledBounds(*part);
    box = {box.min + m_view.shift(), box.max + m_view.shift()};
    // The handle stands in the middle of what is seen of the plane.
    const std::vector<Vec3> corners =
        planeThroughBox(cut->plane, core::scaledBounds(*part), core::limitsOf(*part, cut->within));
    Vec3 centre = box.centre();
    if (!corners.empty()) {
        centre = {0, 0, 0};
        for (const Vec3& c : corners)
            centre = centre + c / static_cast<double>(corners.size());
        centre = centre + m_view.shift();
    }
    m_tool->setPlane(scene, centre, box);
    showSnaps();
    askSection(cut->id, cut->plane);
}

void CutController::showSnaps()
{
    const core::PartDesign* part = m_bench.part();
    const core::CutStep* cut = part != nullptr ? core::cutOf(*part, m_bench.state().cut) : nullptr;
    if (cut == nullptr)
        return;
    const Vec3 n = cut->plane.normal;
    const double shift = dot(n, m_view.shift());
    const auto [low, high] = reachOf(core::scaledBounds(*part), n);
    CutSnaps snaps;
    snaps.stepMm = m_panel.snapMm();
    snaps.offsets.push_back({0.5 * (low + high) + shift, tr("middle").toStdString()});
    snaps.normals = {{{1, 0, 0}, "x"}, {{0, 1, 0}, "y"}, {{0, 0, 1}, "z"}};
    for (const core::FlatArea& flat : m_flatAreas) {
        const double cosine = dot(flat.plane.normal, n);
        if (std::abs(cosine) > parallelCosine)
            snaps.offsets.push_back(
                {std::copysign(flat.plane.offset, flat.plane.offset * cosine) + shift, tr("flat face").toStdString()});
        if (snaps.normals.size() < mostNormals)
            snaps.normals.push_back({flat.plane.normal, tr("flat face").toStdString()});
    }
    // Multiples of what a bed takes, from the low end: along an axis that is one of the bed's sides.
    if (!m_bench.design().beds.empty()) {
        const core::Bed& bed = m_bench.design().beds.front();
        const double margin = m_bench.design().marginMm;
        for (const double room : {bed.widthMm - 2 * margin, bed.depthMm - 2 * margin, bed.heightMm - margin})
            for (double at = low + room; room > 1 && at < high; at += room)
                snaps.offsets.push_back({at + shift, fmt::format("bed, {:g} mm", room)});
    }
    m_tool->setSnaps(snaps);
}

void CutController::live(int cut, Plane plane)
{
    if (cut == 0)
        return;
    m_bench.look([&](ViewState& state) { state.livePlane = {cut, plane}; });
    askSection(cut, plane);
}

void CutController::finish(int cut, Plane plane, const QString& mergeKey)
{
    m_bench.look([](ViewState& state) { state.livePlane.reset(); });
    const core::PartDesign* part = m_bench.part();
    const core::CutStep* now = part != nullptr ? core::cutOf(*part, cut) : nullptr;
    if (now == nullptr || now->plane == plane)
        return;
    const bool turned = !(now->plane.normal == plane.normal);
    m_bench.document().editPart(turned ? tr("Tilt cut %1").arg(cut) : tr("Move cut %1").arg(cut),
                                core::withCutPlane(*part, cut, plane), mergeKey);
}

void CutController::askSection(int cut, const Plane& plane)
{
    if (m_section.busy() || m_sectionRest.isActive())
        m_sectionNext = {cut, plane};
    else
        takeSection(cut, plane);
}

void CutController::takeSection(int cut, const Plane& plane)
{
    m_sectionNext.reset();
    const core::PartDesign* part = m_bench.part();
    const PartWork* work = m_bench.work();
    const core::CutStep* step = part != nullptr ? core::cutOf(*part, cut) : nullptr;
    if (step == nullptr || work == nullptr || !work->view() || work->view()->realised->design.scale != part->scale)
        return;
    const mesh::MeshPtr& scaled = work->view()->realised->project.part.mesh;
    if (m_sectionCut == cut && m_sectionPlane == plane && m_sectionOf == scaled)
        return;
    m_sectionCut = cut;
    m_sectionPlane = plane;
    m_sectionOf = scaled;
    QElapsedTimer clock;
    clock.start();
    m_section.ask<Result<core::CutSection>>(
        tr("Section"),
        [scaled, plane, limits = core::limitsOf(*part, step->within)](const Context&) {
            return core::sectionOf(*scaled, plane, limits);
        },
        [this, cut, clock](Result<core::CutSection> section) {
            m_bench.look([&](ViewState& state) {
                m_tool->setArea(section && state.cut == cut ? std::optional(section->areaMm2) : std::nullopt);
                if (section && state.cut == cut)
                    state.liveSection = std::make_shared<const core::CutSection>(std::move(*section));
                else
                    state.liveSection.reset();
            });
            m_sectionRest.start(static_cast<int>(std::clamp<qint64>(clock.elapsed(), leastRestMs, mostRestMs)));
        },
        true);
}

void CutController::askFlats()
{
    const PartWork* work = m_bench.work();
    if (work == nullptr || !work->view() || m_flatsOf == work->view()->realised->project.part.mesh)
        return;
    m_flatsOf = work->view()->realised->project.part.mesh;
    m_flatAreas.clear();
    m_flats.ask<std::vector<core::FlatArea>>(
        tr("Flat faces"), [mesh = m_flatsOf](const Context&) { return core::flatAreas(*mesh); },
        [this](std::vector<core::FlatArea> flats) {
            m_flatAreas = std::move(flats);
            showSnaps();
        },
        true);
}

mesh::Box3 CutController::targetBox(bool wholePart) const
{
    const core::RealisedPtr realised = m_bench.realised();
    if (!wholePart && realised && m_bench.state().pieces.size() == 1) {
        const auto i = static_cast<std::size_t>(*m_bench.state().pieces.begin()) - 1;
        if (i < realised->project.pieces.size())
            return boundsOf(*m_bench.work()->view()->pieces[i].draw);
    }
    return core::scaledBounds(*m_bench.part());
}

std::vector<core::CutSide> CutController::sidesOfSelection(bool wholePart) const
{
    const core::RealisedPtr realised = m_bench.realised();
    if (wholePart || !realised || m_bench.state().pieces.size() != 1)
        return {};
    const auto i = static_cast<std::size_t>(*m_bench.state().pieces.begin()) - 1;
    return i < realised->project.pieces.size() ? core::sidesOf(realised->project.pieces[i].path, realised->cutOfNode)
                                               : std::vector<core::CutSide>{};
}

void CutController::add(CutKind kind, bool wholePart)
{
    if (m_bench.part() == nullptr)
        return;
    if (kind == CutKind::ThroughPoints || kind == CutKind::ParallelToFace) {
        pick(kind, wholePart);
        return;
    }
    const Vec3 normal = kind == CutKind::FacingView ? m_view.view().camera().towardsViewer() : axisOf(kind);
    addPlane(mesh::planeThrough(targetBox(wholePart).centre(), normal), wholePart);
}

void CutController::pick(CutKind kind, bool wholePart)
{
    const bool face = kind == CutKind::ParallelToFace;
    m_pick = std::make_unique<PickTool>(
        face ? 1 : 3, face ? tr("a face that the cut shall be parallel to") : tr("three points that the cut passes"),
        nullptr);
    const auto end = [this] {
        m_view.useTool(m_tool);
        m_pick.release()->deleteLater();
    };
    connect(m_pick.get(), &PickTool::givenUp, this, end);
    connect(m_pick.get(), &PickTool::finished, this, [this, face, wholePart, end](const std::vector<ViewHit>& hits) {
        const Vec3 shift = m_view.shift();
        const Vec3 normal = face ? hits[0].normal : cross(hits[1].point - hits[0].point, hits[2].point - hits[0].point);
        const Vec3 through = face ? targetBox(wholePart).centre() : hits[0].point - shift;
        end();
        if (mesh::length(normal) > 0)
            addPlane(mesh::planeThrough(through, normal), wholePart);
        else
            m_bench.say(Note::Severity::Warning, tr("the three points lie on one line: no plane passes just them"));
    });
    m_view.useTool(m_pick.get());
}

void CutController::addPlane(const Plane& plane, bool wholePart)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr)
        return;
    int id = 0;
    core::PartDesign next = core::withCut(*part, plane, sidesOfSelection(wholePart), &id);
    m_bench.document().editPart(tr("Add cut %1").arg(id), std::move(next));
    m_bench.look([id](ViewState& state) {
        state.cut = id;
        state.preview.reset();
    });
}

void CutController::addAcrossLongest()
{
    if (m_bench.part() == nullptr || m_bench.state().pieces.size() != 1)
        return;
    const Vec3 e = targetBox(false).extents();
    add(e.x >= e.y && e.x >= e.z ? CutKind::AcrossX : e.y >= e.z ? CutKind::AcrossY : CutKind::AcrossZ, false);
}

void CutController::removeSelected()
{
    if (const core::PartDesign* part = m_bench.part(); part != nullptr && m_bench.state().cut != 0)
        m_bench.document().editPart(tr("Remove cut %1").arg(m_bench.state().cut),
                                    core::withoutCut(*part, m_bench.state().cut));
}

void CutController::move(int cut, int by)
{
    const core::PartDesign* part = m_bench.part();
    if (part == nullptr)
        return;
    const auto found =
        std::find_if(part->cuts.begin(), part->cuts.end(), [&](const core::CutStep& c) { return c.id == cut; });
    const std::ptrdiff_t place = found - part->cuts.begin() + by;
    if (found != part->cuts.end() && place >= 0)
        m_bench.document().editPart(tr("Reorder cut %1").arg(cut),
                                    core::withCutMoved(*part, cut, static_cast<std::size_t>(place)));
}

} // namespace quoin::ui
