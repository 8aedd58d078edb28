// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/view_controller.h"

#include "ui/handle_maths.h"
#include "ui/select_tool.h"

#include <algorithm>
#include <cmath>

namespace quoin::ui {

namespace {

constexpr double asideRad = 0.45;
constexpr double rimReachPx = 6;

} // namespace

ViewController::ViewController(Bench& bench, ModelView& view, QObject* parent)
    : QObject(parent), m_bench(bench), m_view(view), m_select(new SelectTool(this))
{
    m_soon.setSingleShot(true);
    m_soon.setInterval(0);
    connect(&m_soon, &QTimer::timeout, this, &ViewController::rebuild);
    connect(&bench, &Bench::looked, this, &ViewController::refresh);
    connect(&bench.document(), &Document::designChanged, this, &ViewController::refresh);
    connect(&bench.document(), &Document::workChanged, this, &ViewController::refresh);
    connect(m_select, &SelectTool::picked, this, &ViewController::picked);
    m_select->setFirst([this](ScreenPoint at) {
        const int cut = cutAt(at);
        if (cut != 0)
            m_bench.look([cut](ViewState& state) { state.cut = cut; });
        return cut != 0;
    });
    connect(m_select, &SelectTool::stepWanted, this, &ViewController::stepPiece);
    useSelection();
}

mesh::Vec3 ViewController::shift() const
{
    const std::vector<mesh::Vec3> row = rowOf(m_bench.design(), m_bench.state());
    for (std::size_t i = 0; i < row.size(); ++i)
        if (m_bench.design().parts[i].id == m_bench.state().part)
            return row[i];
    return {0, 0, 0};
}

mesh::Vec3 ViewController::pieceShift(int piece) const
{
    const PartWork* work = m_bench.work();
    if (work == nullptr || !work->view() || piece < 1 || static_cast<std::size_t>(piece) > work->view()->apart.size())
        return {0, 0, 0};
    return explodedGapMm(*work->view(), m_bench.state()) * work->view()->apart[static_cast<std::size_t>(piece) - 1];
}

void ViewController::useTool(ViewTool* tool)
{
    m_view.setTool(tool);
}

void ViewController::useSelection()
{
    m_view.setTool(m_select);
}

void ViewController::refresh()
{
    if (!m_soon.isActive())
        m_soon.start();
}

void ViewController::fitAll()
{
    if (!m_built.all.empty())
        m_view.fitTo(m_built.all);
}

void ViewController::fitSelection()
{
    if (!m_built.selection.empty())
        m_view.fitTo(m_built.selection);
}

int ViewController::cutAt(ScreenPoint at) const
{
    for (const ShownPlane& plane : m_built.planes) {
        std::vector<ScreenPoint> rim;
        for (const mesh::Vec3& corner : plane.corners)
            if (const auto seen = m_view.camera().project(corner))
                rim.push_back(*seen);
        if (rim.size() < plane.corners.size() || rim.size() < 3)
            continue;
        rim.push_back(rim.front());
        if (distancePx(at, rim) <= rimReachPx)
            return plane.cut;
    }
    return 0;
}

void ViewController::click(ScreenPoint at, Qt::KeyboardModifiers modifiers)
{
    if (const int cut = cutAt(at); cut != 0)
        m_bench.look([cut](ViewState& state) { state.cut = cut; });
    else
        picked(m_view.hitAt(at), modifiers);
}

void ViewController::lookAt(const mesh::Box3& box, mesh::Vec3 towardsViewer)
{
    OrbitCamera camera = m_view.goal();
    if (!m_before)
        m_before = camera;
    const mesh::Vec3 d = towardsViewer / mesh::length(towardsViewer);
    const double steep = std::asin(std::clamp(d.z, -1.0, 1.0));
    // From a little aside, so that depth is seen; straight from above the turn is left as it is.
    if (std::abs(d.z) < 0.9)
        camera.azimuth = std::atan2(d.y, d.x) + asideRad;
    camera.elevation = std::clamp(steep + asideRad, -0.5, 1.1);
    m_view.setCamera(camera.fittedTo(box));
    m_placed = true;
    refresh();
}

void ViewController::refit()
{
    m_fitted = {};
    if (!m_before)
        return;
    OrbitCamera camera = m_view.goal();
    camera.azimuth = m_before->azimuth;
    camera.elevation = m_before->elevation;
    m_before.reset();
    m_view.setCamera(camera);
}

void ViewController::rebuild()
{
    const auto shown = [this](int id) {
        const PartWork* work = m_bench.document().work(id);
        const core::PartDesign* part = m_bench.design().part(id);
        if (work == nullptr || part == nullptr)
            return PartShown{};
        return PartShown{work->source(), work->view(), keepClearOf(*part)};
    };
    m_built = buildScene(m_bench.design(), shown, m_bench.state());
    std::vector<PickBody> bodies;
    for (const ShownBody& body : m_built.bodies) {
        PickBody pick{body.shown.mesh, body.shown.tree, body.placement};
        pick.bounds = boundsOf(*body.shown.draw);
        const PartWork* work = m_bench.document().work(body.part);
        if (body.piece == 0 && work != nullptr && work->source())
            pick.neighbours = work->source()->neighbours;
        bodies.push_back(std::move(pick));
    }
    std::vector<ViewBadge> badges;
    for (const PieceBadge& badge : m_built.badges) {
        ViewBadge b;
        b.anchor = badge.anchor;
        b.text = QString::fromStdString(badge.text);
        b.colour = badge.colour;
        b.selected = badge.selected;
        b.body = badge.body;
        badges.push_back(std::move(b));
    }
    std::vector<ViewNote> notes;
    for (const SceneNote& note : m_built.notes)
        notes.push_back({note.at, QString::fromStdString(note.text)});
    m_view.setScene(m_built.scene);
    m_view.setPickBodies(std::move(bodies));
    m_view.setBadges(std::move(badges));
    m_view.setNotes(std::move(notes));
    std::vector<ViewArrow> arrows;
    for (const SceneArrow& arrow : m_built.arrows)
        arrows.push_back({arrow.tip, arrow.way, QString::fromStdString(arrow.text), arrow.chosen});
    m_view.setArrows(std::move(arrows));
    ViewLegend legend;
    if (m_built.safety) {
        legend.title = tr("Safety of the faces");
        for (const SafetyLevel level : shownLevels)
            legend.rows.push_back(
                {safetyColour(level), safetyWidthPx(level), safetyWords(level, m_built.safety->limit)});
    }
    m_view.setLegend(legend);
    m_view.setFitBox(isAlone(m_bench.state()) ? m_built.model : m_built.all);
    // A model of another size, or the first one: the camera goes there by itself.
    const double before = mesh::length(m_fitted.extents()), now = mesh::length(m_built.model.extents());
    const int alone = isAlone(m_bench.state()) ? m_bench.state().part : 0;
    const bool isolated = isIsolated(m_bench.state());
    const bool turned = alone != m_alone || m_bench.state().onBed != m_onBed || isolated != m_isolated;
    m_isolated = isolated;
    m_alone = alone;
    m_onBed = m_bench.state().onBed;
    if (!m_built.model.empty() && (m_fitted.empty() || turned || now > 1.6 * before || now < 0.6 * before)) {
        m_fitted = m_built.model;
        if (!m_placed)
            m_view.fitTo(isolated ? m_built.selection : alone != 0 ? m_built.model : m_built.first);
    }
    m_placed = false;
    if (m_built.model.empty())
        m_fitted = {};
    emit rebuilt();
}

void ViewController::picked(const std::optional<ViewHit>& hit, Qt::KeyboardModifiers modifiers)
{
    const bool more = (modifiers & (Qt::ControlModifier | Qt::ShiftModifier)) != 0;
    m_bench.look([&](ViewState& state) {
        if (!hit || hit->body >= m_built.bodies.size()) {
            if (!more) {
                state.pieces.clear();
                state.cut = 0;
            }
            return;
        }
        const ShownBody& body = m_built.bodies[hit->body];
        if (state.part != body.part) {
            state.part = body.part;
            state.cut = 0;
            state.pieces.clear();
        }
        if (body.piece == 0)
            return;
        if (!more)
            state.pieces = {body.piece};
        else if (!state.pieces.insert(body.piece).second)
            state.pieces.erase(body.piece);
    });
}

void ViewController::stepPiece(int direction)
{
    const core::RealisedPtr realised = m_bench.realised();
    if (!realised || realised->project.pieces.empty())
        return;
    const int count = static_cast<int>(realised->project.pieces.size());
    m_bench.look([&](ViewState& state) {
        const int now = state.pieces.empty() ? (direction > 0 ? 0 : count + 1) : *state.pieces.begin();
        state.pieces = {(now - 1 + direction + count) % count + 1};
    });
}

DrawMeshPtr ViewController::keepClearOf(const core::PartDesign& part)
{
    if (part.keepClear.empty()) {
        m_marked.erase(part.id);
        return nullptr;
    }
    Marked& marked = m_marked[part.id];
    if (marked.triangles != part.keepClear || marked.source != part.source) {
        marked.triangles = part.keepClear;
        marked.source = part.source;
        m_bench.jobs().start<DrawMeshPtr>(
            tr("Marking"),
            [triangles = part.keepClear, source = part.source](const Context& context) {
                return drawMeshOf(mesh::subset(*source, triangles), context);
            },
            this,
            [this, id = part.id, triangles = part.keepClear](DrawMeshPtr draw) {
                const auto found = m_marked.find(id);
                if (found == m_marked.end() || found->second.triangles != triangles)
                    return;
                found->second.draw = std::move(draw);
                refresh();
            },
            true);
    }
    return marked.draw;
}

} // namespace quoin::ui
