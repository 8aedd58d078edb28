// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/gl_parts.h"

#include "ui/scene_painter.h"

#include "ui/gpu_mesh.h"
#include "ui/level_choice.h"
#include "ui/view_matrices.h"
#include "ui/view_shaders.h"

#include <algorithm>
#include <map>
#include <unordered_map>

namespace quoin::ui {

using mesh::Box3;
using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr double borderWidthPx = 1.6;
constexpr double edgeOpacity = 0.4;
/// Faces are pushed back so that what lies on them is seen: painted places less than solids, lines not at all. The
/// steps are of the slope and of the least depth that differs (glPolygonOffset).
constexpr float solidPush = 2, decalPush = 1;

Transform shiftless()
{
    return {};
}

Box3 placedBox(const Box3& box, const Transform& placement)
{
    Box3 out;
    if (!box.empty())
        for (int k = 0; k < 8; ++k)
            out.add(placement.point(
                {k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z}));
    return out;
}

GlProgram programOf(const ShaderSources& sources)
{
    return {sources.vertex, sources.geometry, sources.fragment};
}

/// Half as large each way, four pixels averaged to one. Exact sums of pairs of channels in one word.
QImage halved(const std::vector<std::uint32_t>& large, int width, int height)
{
    QImage image(width, height, QImage::Format_RGB32);
    const std::size_t w = static_cast<std::size_t>(width), rowLength = 2 * w;
    constexpr std::uint32_t even = 0x00FF00FF, round = 0x00020002;
    for (int y = 0; y < height; ++y) {
        const std::uint32_t* a = large.data() + 2 * static_cast<std::size_t>(y) * rowLength;
        const std::uint32_t* b = a + rowLength;
        auto* to = reinterpret_cast<std::uint32_t*>(image.scanLine(y));
        for (std::size_t x = 0; x < w; ++x) {
            const std::uint32_t p = a[2 * x], q = a[2 * x + 1], r = b[2 * x], s = b[2 * x + 1];
            const std::uint32_t low = (p & even) + (q & even) + (r & even) + (s & even) + round;
            const std::uint32_t high = (p >> 8 & even) + (q >> 8 & even) + (r >> 8 & even) + (s >> 8 & even) + round;
            to[x] = (low >> 2 & even) | (high >> 2 & even) << 8;
        }
    }
    return image;
}

/// Something see-through, and how far away it is.
struct Veil {
    double depthMm;
    const ViewItem* item = nullptr;
    const ViewPatch* patch = nullptr;
    std::size_t index = 0;
};

} // namespace

class ScenePainter::Inside {
public:
    Inside()
        : m_faces(programOf(faceShaders())),
          m_lines(programOf(lineShaders())),
          m_plain(programOf(plainShaders())),
          m_background(programOf(backgroundShaders()))
    {
    }

    void setScene(ViewScenePtr scene);
    std::size_t trianglesToSend() const;
    std::size_t trianglesInAll() const;
    Painted paint(const OrbitCamera& camera, const PaintOptions& options);

private:
    /// What holds for the whole of one picture.
    struct Job {
        const OrbitCamera& camera;
        const PaintOptions& options;
        const ViewMatrices& matrices;
        std::vector<std::size_t> levels; ///< of each item
        double errorMm = 0;              ///< of the coarsest level in the picture
        double widthScale = 1;           ///< drawn pixels to a widget's pixel
    };

    GpuMesh& gpu(const ViewItem& item) { return m_meshes.at(item.mesh.get()); }
    Box3 sceneBox() const;
    void chooseLevels(Job& job);
    bool drawAll(Job& job);
    void drawBackground();
    bool drawItem(const Job& job, const ViewItem& item, std::size_t index);
    void drawItemLines(const Job& job, const ViewItem& item, std::size_t index);
    void drawPolylines(const Job& job);
    void drawPatch(const Job& job, const ViewPatch& patch, std::size_t index);
    bool drawVeils(const Job& job);
    void useLines(const Job& job, const Colour& colour, double opacity, double widthPx, const Transform& placement);
    QImage readBack(const PaintOptions& options);

    void sendLoose();

    ViewScenePtr m_scene = std::make_shared<ViewScene>();
    std::unordered_map<const DrawMesh*, GpuMesh> m_meshes;
    GlProgram m_faces, m_lines, m_plain, m_background;
    GlArrays m_nothing;
    GlArrays m_loose; ///< points of polylines, as segments, then of patches, as fans
    std::vector<int> m_firstOfLine, m_firstOfPatch;
    GlTarget m_target;
    std::vector<std::uint32_t> m_large;
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
    sendLoose();
}

void ScenePainter::Inside::sendLoose()
{
    std::vector<std::array<float, 3>> points;
    const auto add = [&](Vec3 p) {
        points.push_back({static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)});
    };
    m_firstOfLine.clear();
    for (const ViewPolyline& line : m_scene->lines) {
        m_firstOfLine.push_back(static_cast<int>(points.size()));
        for (std::size_t i = 0; i + 1 < line.points.size(); ++i)
            add(line.points[i]), add(line.points[i + 1]);
        if (line.closed && line.points.size() > 2)
            add(line.points.back()), add(line.points.front());
    }
    m_firstOfLine.push_back(static_cast<int>(points.size()));
    m_firstOfPatch.clear();
    for (const ViewPatch& patch : m_scene->patches) {
        m_firstOfPatch.push_back(static_cast<int>(points.size()));
        std::ranges::for_each(patch.corners, add);
    }
    m_firstOfPatch.push_back(static_cast<int>(points.size()));
    m_loose.setVertices(std::as_bytes(std::span(points)), {3});
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
        if (!item.mesh)
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

void ScenePainter::Inside::drawBackground()
{
    const Colour &top = m_scene->backgroundTop, &bottom = m_scene->backgroundBottom;
    glDisable(GL_DEPTH_TEST);
    m_background.use();
    const auto set = [&](const char* name, const Colour& c) {
        glUniform3f(m_background.uniform(name), static_cast<float>(c.r), static_cast<float>(c.g),
                    static_cast<float>(c.b));
    };
    set("top", top);
    set("bottom", bottom);
    m_nothing.bind();
    glDrawArrays(GL_TRIANGLES, 0, 3);
    glEnable(GL_DEPTH_TEST);
}

namespace {

void setColour(const GlProgram& program, const char* name, const Colour& c, double alpha)
{
    glUniform4f(program.uniform(name), static_cast<float>(c.r), static_cast<float>(c.g), static_cast<float>(c.b),
                static_cast<float>(alpha));
}

} // namespace

/// False when stopped.
bool ScenePainter::Inside::drawItem(const Job& job, const ViewItem& item, std::size_t index)
{
    GpuMesh& mesh = gpu(item);
    const std::size_t level = job.levels[index];
    const Transform& placement = item.placement;
    m_faces.use();
    const auto toClip = job.matrices.toClip(placement, item.decal ? job.errorMm : 0);
    const auto normalToView = job.matrices.normalToView(placement);
    glUniformMatrix4fv(m_faces.uniform("toClip"), 1, GL_FALSE, toClip.data());
    glUniformMatrix3fv(m_faces.uniform("normalToView"), 1, GL_FALSE, normalToView.data());
    glUniform1f(m_faces.uniform("front"), placement.determinant() < 0 ? -1.0F : 1.0F);
    setColour(m_faces, "glow", m_scene->glowColour, item.glowing ? 1 : 0);
    const auto push = item.decal ? decalPush : solidPush;
    glPolygonOffset(push, push);
    for (std::size_t c = 0; c < mesh.level(level).chunks.size(); ++c) {
        if (job.options.stop())
            return false;
        if (!(job.matrices.sizePx(mesh.level(level).chunks[c].box, placement) > 0))
            continue;
        setColour(m_faces, "colour", item.colour, item.opacity);
        mesh.drawFaces(level, c, GpuMesh::Part::Skin);
        setColour(m_faces, "colour", item.capColour, item.opacity);
        mesh.drawFaces(level, c, GpuMesh::Part::Labelled);
    }
    return true;
}

void ScenePainter::Inside::useLines(const Job& job, const Colour& colour, double opacity, double widthPx,
                                    const Transform& placement)
{
    m_lines.use();
    const auto toClip = job.matrices.toClip(placement, job.errorMm);
    glUniformMatrix4fv(m_lines.uniform("toClip"), 1, GL_FALSE, toClip.data());
    glUniform2f(m_lines.uniform("halfSizePx"), static_cast<float>(m_target.widthPx()) / 2,
                static_cast<float>(m_target.heightPx()) / 2);
    glUniform1f(m_lines.uniform("halfWidthPx"), static_cast<float>(widthPx * job.widthScale / 2));
    setColour(m_lines, "colour", colour, opacity);
}

void ScenePainter::Inside::drawItemLines(const Job& job, const ViewItem& item, std::size_t index)
{
    GpuMesh& mesh = gpu(item);
    const std::size_t level = job.levels[index];
    if (!mesh.level(level).borders.empty()) {
        useLines(job, m_scene->edgeColour, item.opacity, borderWidthPx, item.placement);
        mesh.drawBorders(level);
    }
    if (!item.edges || level != 0)
        return; // the edges of a coarse copy would be a lie
    m_plain.use();
    const auto toClip = job.matrices.toClip(item.placement);
    glUniformMatrix4fv(m_plain.uniform("toClip"), 1, GL_FALSE, toClip.data());
    setColour(m_plain, "colour", m_scene->edgeColour, edgeOpacity * item.opacity);
    glPolygonMode(GL_FRONT_AND_BACK, GL_LINE);
    for (std::size_t c = 0; c < mesh.level(0).chunks.size() && !job.options.stop(); ++c)
        mesh.drawFaces(0, c, GpuMesh::Part::All);
    glPolygonMode(GL_FRONT_AND_BACK, GL_FILL);
}

void ScenePainter::Inside::drawPolylines(const Job& job)
{
    for (std::size_t i = 0; i < m_scene->lines.size(); ++i) {
        const ViewPolyline& line = m_scene->lines[i];
        useLines(job, line.colour, 1, line.widthPx, shiftless());
        m_loose.bind();
        glDrawArrays(GL_LINES, m_firstOfLine[i], m_firstOfLine[i + 1] - m_firstOfLine[i]);
    }
}

void ScenePainter::Inside::drawPatch(const Job& job, const ViewPatch& patch, std::size_t index)
{
    m_plain.use();
    const auto toClip = job.matrices.toClip(shiftless());
    glUniformMatrix4fv(m_plain.uniform("toClip"), 1, GL_FALSE, toClip.data());
    setColour(m_plain, "colour", patch.colour, patch.opacity);
    glPolygonOffset(decalPush, decalPush);
    glDepthMask(patch.opacity < 1 ? GL_FALSE : GL_TRUE);
    m_loose.bind();
    glDrawArrays(GL_TRIANGLE_FAN, m_firstOfPatch[index], m_firstOfPatch[index + 1] - m_firstOfPatch[index]);
    glDepthMask(GL_TRUE);
}

/// See-through solids and patches from back to front. Of a solid only its nearest face shows: first its depth is laid
/// down, then what is at that depth is coloured.
bool ScenePainter::Inside::drawVeils(const Job& job)
{
    std::vector<Veil> veils;
    for (std::size_t i = 0; i < m_scene->items.size(); ++i) {
        const ViewItem& item = m_scene->items[i];
        if (item.mesh && item.opacity < 1 && item.opacity > 0 && !item.decal)
            veils.push_back({job.matrices.depthMm(item.placement.point(item.mesh->box.centre())), &item, nullptr, i});
    }
    for (std::size_t i = 0; i < m_scene->patches.size(); ++i) {
        const ViewPatch& patch = m_scene->patches[i];
        Box3 box;
        std::ranges::for_each(patch.corners, [&](Vec3 p) { box.add(p); });
        if (patch.corners.size() > 2)
            veils.push_back({job.matrices.depthMm(box.centre()), nullptr, &patch, i});
    }
    std::ranges::stable_sort(veils, std::greater<>(), &Veil::depthMm);
    for (const Veil& veil : veils) {
        if (veil.patch != nullptr) {
            drawPatch(job, *veil.patch, veil.index);
            continue;
        }
        glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
        const bool laid = drawItem(job, *veil.item, veil.index);
        glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_FALSE);
        if (!laid || !drawItem(job, *veil.item, veil.index))
            return false;
        drawItemLines(job, *veil.item, veil.index);
    }
    return true;
}

/// False when stopped.
bool ScenePainter::Inside::drawAll(Job& job)
{
    glViewport(0, 0, m_target.widthPx(), m_target.heightPx());
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
    glDepthMask(GL_TRUE);
    glDepthFunc(GL_LEQUAL);
    glDisable(GL_CULL_FACE);
    glClear(GL_DEPTH_BUFFER_BIT);
    glFrontFace(GL_CW); // the picture is drawn upside down
    drawBackground();
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_FALSE);
    glEnable(GL_POLYGON_OFFSET_FILL);
    glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
    glDisable(GL_BLEND);
    const auto& items = m_scene->items;
    for (const bool decal : {false, true}) {
        for (std::size_t i = 0; i < items.size(); ++i)
            if (items[i].mesh && items[i].decal == decal && (decal ? items[i].opacity > 0 : items[i].opacity >= 1))
                if (!drawItem(job, items[i], i))
                    return false;
        glEnable(GL_BLEND);
    }
    for (std::size_t i = 0; i < items.size(); ++i)
        if (items[i].mesh && !items[i].decal && items[i].opacity >= 1)
            drawItemLines(job, items[i], i);
    drawPolylines(job);
    return !job.options.stop() && drawVeils(job);
}

QImage ScenePainter::Inside::readBack(const PaintOptions& options)
{
    glPixelStorei(GL_PACK_ALIGNMENT, 4);
    if (options.oversampling == 1) {
        QImage image(options.widthPx, options.heightPx, QImage::Format_RGB32);
        glReadPixels(0, 0, options.widthPx, options.heightPx, GL_BGRA, GL_UNSIGNED_INT_8_8_8_8_REV, image.bits());
        return image;
    }
    m_large.resize(static_cast<std::size_t>(m_target.widthPx()) * static_cast<std::size_t>(m_target.heightPx()));
    glReadPixels(0, 0, m_target.widthPx(), m_target.heightPx(), GL_BGRA, GL_UNSIGNED_INT_8_8_8_8_REV, m_large.data());
    return halved(m_large, options.widthPx, options.heightPx);
}

Painted ScenePainter::Inside::paint(const OrbitCamera& camera, const PaintOptions& options)
{
    const int larger = options.oversampling;
    if (options.widthPx < 1 || options.heightPx < 1 ||
        !m_target.bind(options.widthPx * larger, options.heightPx * larger))
        return {};
    const ViewMatrices matrices(camera, sceneBox());
    Job job{camera, options, matrices, {}, 0, options.pixelRatio * larger};
    chooseLevels(job);
    if (!drawAll(job))
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
