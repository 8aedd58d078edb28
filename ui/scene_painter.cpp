// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/gl_parts.h"

#include "ui/scene_painter.h"

#include "ui/gpu_mesh.h"
#include "ui/level_choice.h"
#include "ui/loose_shapes.h"
#include "ui/picture_pixels.h"
#include "ui/view_brushes.h"
#include "ui/view_matrices.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace quoin::ui {

using mesh::Box3;
using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr double borderWidthPx = 1.6;
constexpr double edgeOpacity = 0.4;
constexpr double rimWidthPx = 3; ///< around what glows
/// Faces are pushed back so that what lies on them is seen: painted places less than solids, lines not at all. The
/// steps are of the slope and of the least depth that differs (glPolygonOffset).
constexpr float solidPush = 2, decalPush = 1;

Box3 placedBox(const Box3& box, const Transform& placement)
{
    Box3 out;
    if (!box.empty())
        for (int k = 0; k < 8; ++k)
            out.add(placement.point(
                {k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z}));
    return out;
}

/// How an item takes part in the picture.
enum class Role { Solid, Decal, Veil, Hidden };

Role roleOf(const ViewItem& item)
{
    if (!item.mesh || item.mesh->levels.empty() || !(item.opacity > 0))
        return Role::Hidden;
    return item.decal ? Role::Decal : item.opacity < 1 ? Role::Veil : Role::Solid;
}

} // namespace

class ScenePainter::Inside {
public:
    void setScene(ViewScenePtr scene);
    std::size_t trianglesToSend() const;
    std::size_t trianglesInAll() const;
    Painted paint(const OrbitCamera& camera, const PaintOptions& options);

private:
    /// What holds for the whole of one picture.
    struct Job {
        const PaintOptions& options;
        const ViewMatrices& matrices;
        std::vector<std::size_t> levels; ///< of each item
        double errorMm = 0;              ///< of the coarsest level in the picture
        double widthScale = 1;           ///< drawn pixels to a widget's pixel
    };

    GpuMesh& gpu(const ViewItem& item) { return m_meshes.at(item.mesh.get()); }
    Box3 sceneBox() const;
    void chooseLevels(Job& job);
    void begin();
    bool drawAll(const Job& job);
    bool drawItem(const Job& job, std::size_t index);
    void finishSlice(std::size_t triangles);
    void drawItemLines(const Job& job, std::size_t index);
    void drawPolylines(const Job& job);
    void drawPatches(const Job& job, bool opaque);
    bool drawVeils(const Job& job);
    bool drawSeeThrough(const Job& job);
    void withLines(const Job& job, const Colour& colour, double opacity, double widthPx, const Transform& placement);
    QImage readBack(const PaintOptions& options);

    ViewScenePtr m_scene = std::make_shared<ViewScene>();
    std::unordered_map<const DrawMesh*, GpuMesh> m_meshes;
    ViewBrushes m_brushes;
    LooseShapes m_loose;
    GlTarget m_plainTarget, m_largeTarget; ///< both kept: a new one costs more than a coarse picture
    GlTarget* m_target = &m_plainTarget;
    std::vector<std::uint32_t> m_large;
    std::size_t m_unfinished = 0; ///< triangles drawn since the driver was last waited for
};

void ScenePainter::Inside::setScene(ViewScenePtr scene)
{
    m_scene = scene ? std::move(scene) : std::make_shared<ViewScene>();
    std::unordered_map<const DrawMesh*, GpuMesh> kept;
    for (const ViewItem& item : m_scene->items) {
        if (!item.mesh || kept.contains(item.mesh.get()))
            continue;
        if (auto node = m_meshes.extract(item.mesh.get()))
            kept.insert(std::move(node));
        else
            kept.emplace(item.mesh.get(), item.mesh);
    }
    m_meshes.swap(kept);
    m_loose.send(*m_scene);
}

std::size_t ScenePainter::Inside::trianglesToSend() const
{
    std::size_t sum = 0;
    for (const auto& [key, gpu] : m_meshes)
        sum += gpu.mesh().levels.empty() ? 0 : gpu.trianglesToSend(0);
    return sum;
}

std::size_t ScenePainter::Inside::trianglesInAll() const
{
    std::size_t sum = 0;
    for (const ViewItem& item : m_scene->items)
        sum += item.mesh && !item.mesh->levels.empty() ? item.mesh->levels.front().triangles : 0;
    return sum;
}

Box3 ScenePainter::Inside::sceneBox() const
{
    Box3 box;
    const auto add = [&](Vec3 p) { box.add(p); };
    for (const ViewItem& item : m_scene->items)
        if (item.mesh && !item.mesh->box.empty()) {
            const Box3 placed = placedBox(item.mesh->box, item.placement);
            add(placed.min), add(placed.max);
        }
    for (const ViewPatch& patch : m_scene->patches)
        std::ranges::for_each(patch.corners, add);
    for (const ViewPolyline& line : m_scene->lines)
        std::ranges::for_each(line.points, add);
    return box;
}

void ScenePainter::Inside::chooseLevels(Job& job)
{
    std::vector<LevelCandidate> solids(m_scene->items.size());
    for (std::size_t i = 0; i < solids.size(); ++i) {
        const ViewItem& item = m_scene->items[i];
        if (roleOf(item) == Role::Hidden)
            continue;
        for (const DrawLevel& level : item.mesh->levels)
            solids[i].triangles.push_back(level.triangles);
        solids[i].sizePx = job.matrices.sizePx(item.mesh->box, item.placement);
    }
    job.levels = ui::chooseLevels(solids, job.options.mostTriangles);
    for (std::size_t i = 0; i < solids.size(); ++i)
        if (solids[i].sizePx > 0)
            job.errorMm = std::max(job.errorMm, m_scene->items[i].mesh->levels[job.levels[i]].errorMm);
}

/// Drivers put work off; a picture that is given up must not leave much of it to be done before the next.
void ScenePainter::Inside::finishSlice(std::size_t triangles)
{
    m_unfinished += triangles;
    if (m_unfinished < trianglesPerChunk)
        return;
    glFinish();
    m_unfinished = 0;
}

/// False when stopped.
bool ScenePainter::Inside::drawItem(const Job& job, std::size_t index)
{
    const ViewItem& item = m_scene->items[index];
    GpuMesh& mesh = gpu(item);
    const Role role = roleOf(item);
    const std::size_t level = job.levels[index];
    const Transform& placement = item.placement;
    const bool mirrored = placement.determinant() < 0;
    m_brushes.withFaces(job.matrices.toClip(placement, role == Role::Decal ? job.errorMm : 0),
                        job.matrices.normalToView(placement), mirrored, m_scene->glowColour, item.glowing ? 1 : 0);
    const float push = role == Role::Decal ? decalPush : solidPush;
    glPolygonOffset(push, push);
    const bool cull = item.mesh->solid && !job.matrices.reachesNearPlane(item.mesh->box, placement);
    (cull ? glEnable : glDisable)(GL_CULL_FACE);
    glCullFace(mirrored ? GL_FRONT : GL_BACK);
    // Without blending, alpha only marks what gets a rim.
    const double alpha = role != Role::Solid ? item.opacity : item.glowing ? 0 : 1;
    for (std::size_t c = 0; c < mesh.level(level).chunks.size(); ++c) {
        if (job.options.stop())
            return false;
        if (!(job.matrices.sizePx(mesh.level(level).chunks[c].box, placement) > 0))
            continue;
        m_brushes.faceColour(item.colour, alpha);
        mesh.drawFaces(level, c, GpuMesh::Part::Skin);
        m_brushes.faceColour(item.capColour, alpha);
        mesh.drawFaces(level, c, GpuMesh::Part::Labelled);
        finishSlice(mesh.level(level).chunks[c].triangles.size());
    }
    return true;
}

void ScenePainter::Inside::withLines(const Job& job, const Colour& colour, double opacity, double widthPx,
                                     const Transform& placement)
{
    m_brushes.withLines(job.matrices.toClip(placement, job.errorMm), colour, opacity, widthPx * job.widthScale,
                        m_target->widthPx(), m_target->heightPx());
}

void ScenePainter::Inside::drawItemLines(const Job& job, std::size_t index)
{
    const ViewItem& item = m_scene->items[index];
    GpuMesh& mesh = gpu(item);
    const std::size_t level = job.levels[index];
    glDisable(GL_CULL_FACE);
    if (!mesh.level(level).borders.empty()) {
        withLines(job, m_scene->edgeColour, item.opacity, borderWidthPx, item.placement);
        mesh.drawBorders(level);
    }
    if (!item.edges || level != 0)
        return; // the edges of a coarse copy would be a lie
    m_brushes.withPlain(job.matrices.toClip(item.placement), m_scene->edgeColour, edgeOpacity * item.opacity);
    glPolygonMode(GL_FRONT_AND_BACK, GL_LINE);
    for (std::size_t c = 0; c < mesh.level(0).chunks.size() && !job.options.stop(); ++c)
        mesh.drawFaces(0, c, GpuMesh::Part::All);
    glPolygonMode(GL_FRONT_AND_BACK, GL_FILL);
}

void ScenePainter::Inside::drawPolylines(const Job& job)
{
    for (std::size_t i = 0; i < m_scene->lines.size(); ++i) {
        const ViewPolyline& line = m_scene->lines[i];
        withLines(job, line.colour, 1, line.widthPx, {});
        m_loose.drawLine(i);
    }
}

void ScenePainter::Inside::drawPatches(const Job& job, bool opaque)
{
    glDisable(GL_CULL_FACE);
    glPolygonOffset(decalPush, decalPush);
    glDepthMask(opaque ? GL_TRUE : GL_FALSE);
    const auto toClip = job.matrices.toClip({});
    for (const std::size_t i : m_loose.patches().farthestFirst(job.matrices.eye())) {
        const ViewPatch& patch = m_scene->patches[m_loose.patches().pieces()[i].patch];
        if ((patch.opacity >= 1) != opaque || !(patch.opacity > 0))
            continue;
        m_brushes.withPlain(toClip, patch.colour, patch.opacity);
        m_loose.drawPiece(i);
    }
    glDepthMask(GL_TRUE);
}

/// See-through solids from back to front by their middles. Of each only the nearest faces show: first its depth is
/// laid down, then what is at that depth is coloured, and marked in the stencil. False when stopped.
bool ScenePainter::Inside::drawVeils(const Job& job)
{
    std::vector<std::pair<double, std::size_t>> veils;
    for (std::size_t i = 0; i < m_scene->items.size(); ++i)
        if (const ViewItem& item = m_scene->items[i]; roleOf(item) == Role::Veil)
            veils.emplace_back(-job.matrices.depthMm(item.placement.point(item.mesh->box.centre())), i);
    std::ranges::sort(veils);
    glStencilOp(GL_KEEP, GL_KEEP, GL_REPLACE);
    for (const auto& [nearness, index] : veils) {
        glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
        glDisable(GL_STENCIL_TEST);
        const bool laid = drawItem(job, index);
        glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, m_scene->items[index].glowing ? GL_TRUE : GL_FALSE);
        glEnable(GL_STENCIL_TEST);
        glStencilFunc(GL_ALWAYS, 1, 0xFF);
        if (!laid || !drawItem(job, index))
            return false;
        drawItemLines(job, index);
    }
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_FALSE);
    return true;
}

/// Patches may stand in the middle of see-through solids: they are drawn before them, and what of them is in front of
/// the solids' faces is drawn over these once more.
bool ScenePainter::Inside::drawSeeThrough(const Job& job)
{
    drawPatches(job, false);
    const bool drawn = drawVeils(job);
    if (drawn) {
        glStencilFunc(GL_EQUAL, 1, 0xFF);
        glStencilOp(GL_KEEP, GL_KEEP, GL_KEEP);
        glEnable(GL_STENCIL_TEST);
        drawPatches(job, false);
    }
    glDisable(GL_STENCIL_TEST);
    return drawn;
}

void ScenePainter::Inside::begin()
{
    glViewport(0, 0, m_target->widthPx(), m_target->heightPx());
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
    glDepthMask(GL_TRUE);
    glDepthFunc(GL_LEQUAL);
    glDisable(GL_CULL_FACE);
    glDisable(GL_BLEND);
    glDisable(GL_STENCIL_TEST);
    glPolygonMode(GL_FRONT_AND_BACK, GL_FILL);
    glClear(GL_DEPTH_BUFFER_BIT | GL_STENCIL_BUFFER_BIT);
    glFrontFace(GL_CW); // the picture is drawn upside down
    m_brushes.fill(m_scene->backgroundTop, m_scene->backgroundBottom);
    glEnable(GL_POLYGON_OFFSET_FILL);
    // See-through things that glow make alpha 0 where they are; the others may not touch it.
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ZERO, GL_ZERO);
}

/// False when stopped.
bool ScenePainter::Inside::drawAll(const Job& job)
{
    begin();
    const auto& items = m_scene->items;
    const auto drawThose = [&](Role role) {
        for (std::size_t i = 0; i < items.size(); ++i)
            if (roleOf(items[i]) == role && !drawItem(job, i))
                return false;
        return true;
    };
    if (!drawThose(Role::Solid))
        return false;
    drawPatches(job, true);
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_FALSE);
    glEnable(GL_BLEND);
    if (!drawThose(Role::Decal))
        return false;
    for (std::size_t i = 0; i < items.size(); ++i)
        if (roleOf(items[i]) == Role::Solid)
            drawItemLines(job, i);
    drawPolylines(job);
    return !job.options.stop() && drawSeeThrough(job);
}

QImage ScenePainter::Inside::readBack(const PaintOptions& options)
{
    const auto read = [&](void* to) {
        glReadPixels(0, 0, m_target->widthPx(), m_target->heightPx(), GL_BGRA, GL_UNSIGNED_INT_8_8_8_8_REV, to);
    };
    glPixelStorei(GL_PACK_ALIGNMENT, 4);
    QImage image;
    if (options.oversampling == 1) {
        image = QImage(options.widthPx, options.heightPx, QImage::Format_RGB32);
        read(image.bits());
    } else {
        m_large.resize(static_cast<std::size_t>(m_target->widthPx()) * static_cast<std::size_t>(m_target->heightPx()));
        read(m_large.data());
        image = halved(m_large, options.widthPx, options.heightPx);
    }
    if (std::ranges::any_of(m_scene->items, &ViewItem::glowing))
        paintRim(image, m_scene->glowColour,
                 std::max(1, static_cast<int>(std::lround(rimWidthPx * options.pixelRatio))));
    return image;
}

Painted ScenePainter::Inside::paint(const OrbitCamera& camera, const PaintOptions& options)
{
    const int larger = options.oversampling;
    m_target = larger == 1 ? &m_plainTarget : &m_largeTarget;
    if (options.widthPx < 1 || options.heightPx < 1 ||
        !m_target->bind(options.widthPx * larger, options.heightPx * larger))
        return {};
    const ViewMatrices matrices(camera, sceneBox());
    Job job{options, matrices, {}, 0, options.pixelRatio * larger};
    chooseLevels(job);
    if (!drawAll(job) || options.stop())
        return {};
    const bool full = std::ranges::all_of(job.levels, [](std::size_t level) { return level == 0; });
    return {readBack(options), full};
}

ScenePainter::ScenePainter() : m_inside(std::make_unique<Inside>()) {}

ScenePainter::~ScenePainter() = default;

void ScenePainter::setScene(ViewScenePtr scene)
{
    m_inside->setScene(std::move(scene));
}

std::size_t ScenePainter::trianglesToSend() const
{
    return m_inside->trianglesToSend();
}

std::size_t ScenePainter::trianglesInAll() const
{
    return m_inside->trianglesInAll();
}

Painted ScenePainter::paint(const OrbitCamera& camera, const PaintOptions& options)
{
    return m_inside->paint(camera, options);
}

} // namespace quoin::ui
