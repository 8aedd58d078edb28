// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/scene_painter.h"

#include "ui/many_selected.h"

#include "ui/level_choice.h"
#include "ui/loose_actors.h"
#include "ui/outline_lines.h"
#include "ui/solid_actors.h"
#include "ui/solid_batches.h"
#include "ui/view_extent.h"
#include "ui/vtk_parts.h"

#include <algorithm>
#include <map>
#include <stdexcept>
#include <vtkActor.h>
#include <vtkCamera.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPropCollection.h>
#include <vtkRenderStepsPass.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>
#include <vtkTranslucentPass.h>
#include <vtkUnsignedCharArray.h>

namespace quoin::ui {

using mesh::Box3;
using mesh::Vec3;

namespace {

constexpr double outlineWidthPx = 5;
/// What lies on a face is drawn nearer to the viewer by what so many pixels measure there: enough for faces seen at a
/// grazing angle, too little to be seen.
constexpr double patchPullPx = 1, decalPullPx = 2, linePullPx = 3;
/// Outlines of a coarse copy are pulled by this share of its error, which is a bound that few places reach.
constexpr double outlinePullShare = 0.3;
/// Smooth pictures are drawn this many times larger each way and averaged down: with a driver that is a program (Mesa's
/// llvmpipe) several samples a pixel take three times as long when triangles are small.
constexpr int smoothFactor = 2;
/// From this many small solids on they are drawn in batches; small is a solid of at most so many triangles.
constexpr std::size_t leastBatched = 24, mostInBatched = 8'000;
/// Coarse levels stay as they are while their triangles keep between these shares of what is wanted: a batch lasts.
constexpr double leastLevelShare = 0.5, mostLevelShare = 1.3;

/// VTK's picture, red first and bottom row first, as Qt draws it fastest.
QImage imageFrom(vtkUnsignedCharArray& rgba, int width, int height)
{
    QImage image(width, height, QImage::Format_RGB32);
    const std::size_t w = static_cast<std::size_t>(width);
    for (int y = 0; y < height; ++y) {
        const unsigned char* from = rgba.GetPointer(0) + 4 * w * static_cast<std::size_t>(height - 1 - y);
        auto* to = reinterpret_cast<QRgb*>(image.scanLine(y));
        for (std::size_t x = 0; x < w; ++x, from += 4)
            to[x] = qRgb(from[0], from[1], from[2]);
    }
    return image;
}

} // namespace

class ScenePainter::Inside {
public:
    Inside();
    ~Inside();
    Inside(const Inside&) = delete;
    Inside& operator=(const Inside&) = delete;

    void setScene(ViewScenePtr scene);
    std::size_t trianglesToSend() const;
    std::size_t trianglesInAll() const;
    Painted paint(const OrbitCamera& camera, const PaintOptions& options);

private:
    /// Null for an item without a mesh, and for one that isn't selected.
    struct Solid {
        std::unique_ptr<SolidActors> actors;
        std::unique_ptr<OutlineLines> outline;
    };
    /// Mirrored solids have triangles of their own.
    using MeshKey = std::pair<const DrawMesh*, bool>;
    /// What holds for the whole of one picture.
    struct Job {
        const OrbitCamera& camera;
        const PaintOptions& options;
        std::vector<std::size_t> levels{}; ///< of each item
        std::vector<bool> batched{};       ///< each item: drawn in a batch
        double errorMm = 0;                ///< of the coarsest level in the picture
        double widthScale = 1;             ///< drawn pixels to a widget's pixel

        mesh::Transform pull(Vec3 at, double px, double mm) const
        {
            return pulled(camera, at, px * camera.mmPerPixel(at) + mm);
        }
    };

    std::shared_ptr<MeshData> dataOf(const ViewItem& item);
    static MeshKey keyOf(const ViewItem& item) { return {item.mesh.get(), item.placement.determinant() < 0}; }
    std::vector<Solid> solidsFor(const std::vector<ViewItem>& items);
    Box3 sceneBox() const;
    void chooseLevels(Job& job);
    void keepLevels(Job& job, const std::vector<LevelCandidate>& candidates);
    void chooseBatched(Job& job) const;
    bool isOutside(const Job& job, const ViewItem& item) const;
    void gatherBatches(const Job& job);
    void gather(const Job& job);
    QImage readBack(const PaintOptions& options, int larger);
    void gatherSolid(const Job& job, std::size_t i);
    void gatherSeeThrough(const Job& job);

    ViewScenePtr m_scene = std::make_shared<ViewScene>();
    std::shared_ptr<StopCheck> m_stop = std::make_shared<StopCheck>();
    vtkSmartPointer<vtkRenderWindow> m_window;
    vtkNew<vtkRenderer> m_renderer;
    std::map<MeshKey, std::weak_ptr<MeshData>> m_data;
    std::vector<Solid> m_solids; ///< one an item
    SolidBatches m_coarseBatches{m_stop}, m_fineBatches{m_stop};
    std::vector<std::size_t> m_coarseLevels; ///< of the last coarse picture's items
    LooseActors m_loose;
    vtkNew<vtkUnsignedCharArray> m_pixels;
};

ScenePainter::Inside::Inside() : m_window(windowOnCurrentContext(1, 1))
{
    if (!m_window)
        throw std::runtime_error("VTK can't draw with this OpenGL driver");
    addStudioLamps(*m_renderer);
    // The plain steps, which draw see-through things one over another in the order given; left alone, VTK mixes them in
    // no order (weighted, blended).
    vtkNew<vtkRenderStepsPass> steps;
    steps->SetTranslucentPass(vtkNew<vtkTranslucentPass>());
    m_renderer->SetPass(steps);
    m_window->SetMultiSamples(0);
    m_window->AddRenderer(m_renderer);
}

ScenePainter::Inside::~Inside()
{
    m_renderer->GetViewProps()->RemoveAllItems();
    m_solids.clear();
    m_window->Finalize();
}

std::shared_ptr<MeshData> ScenePainter::Inside::dataOf(const ViewItem& item)
{
    std::weak_ptr<MeshData>& known = m_data[keyOf(item)];
    if (auto data = known.lock())
        return data;
    auto data = std::make_shared<MeshData>(item.mesh, keyOf(item).second);
    known = data;
    return data;
}

/// Actors go on with the item of the same mesh; of several, with the one of the same number as far as can be: what
/// stays as it was costs nothing.
std::vector<ScenePainter::Inside::Solid> ScenePainter::Inside::solidsFor(const std::vector<ViewItem>& items)
{
    std::multimap<MeshKey, Solid> known;
    std::vector<Solid> solids(items.size());
    for (std::size_t i = 0; i < m_solids.size(); ++i) {
        if (!m_solids[i].actors)
            continue;
        const MeshKey key = keyOf(m_solids[i].actors->item());
        if (i < solids.size() && keyOf(items[i]) == key)
            solids[i] = std::move(m_solids[i]);
        else
            known.emplace(key, std::move(m_solids[i]));
    }
    for (std::size_t i = 0; i < solids.size(); ++i) {
        if (solids[i].actors || !items[i].mesh || items[i].mesh->levels.empty())
            continue;
        if (auto node = known.extract(keyOf(items[i])))
            solids[i] = std::move(node.mapped());
        else
            solids[i].actors = std::make_unique<SolidActors>(dataOf(items[i]), m_stop);
    }
    return solids;
}

void ScenePainter::Inside::setScene(ViewScenePtr scene)
{
    m_scene = scene ? withPlainSelection(std::move(scene)) : std::make_shared<ViewScene>();
    m_renderer->GetViewProps()->RemoveAllItems();
    m_coarseLevels.clear();
    m_solids = solidsFor(m_scene->items);
    for (std::size_t i = 0; i < m_solids.size(); ++i)
        if (m_solids[i].actors)
            m_solids[i].actors->set(m_scene->items[i], *m_scene);
    std::erase_if(m_data, [](const auto& entry) { return entry.second.expired(); });
    m_loose.set(*m_scene);
    setBackground(*m_renderer, m_scene->backgroundTop, m_scene->backgroundBottom);
}

std::size_t ScenePainter::Inside::trianglesToSend() const
{
    std::size_t sum = 0;
    for (const Solid& solid : m_solids)
        sum += solid.actors ? solid.actors->trianglesToSend(0) : 0;
    return sum;
}

std::size_t ScenePainter::Inside::trianglesInAll() const
{
    std::size_t sum = 0;
    for (const Solid& solid : m_solids)
        sum += solid.actors ? solid.actors->mesh().levels.front().triangles : 0;
    return sum;
}

Box3 ScenePainter::Inside::sceneBox() const
{
    Box3 box;
    const auto add = [&](Vec3 p) { box.add(p); };
    for (const ViewItem& item : m_scene->items)
        if (item.mesh && !item.mesh->box.empty())
            std::ranges::for_each(placedCorners(item.mesh->box, item.placement), add);
    for (const ViewPatch& patch : m_scene->patches)
        std::ranges::for_each(patch.corners, add);
    for (const ViewPolyline& line : m_scene->lines)
        std::ranges::for_each(line.points, add);
    return box;
}

void ScenePainter::Inside::chooseLevels(Job& job)
{
    std::vector<LevelCandidate> candidates(m_solids.size());
    for (std::size_t i = 0; i < m_solids.size(); ++i) {
        if (!m_solids[i].actors)
            continue;
        const ViewItem& item = m_scene->items[i];
        for (const DrawLevel& level : item.mesh->levels)
            candidates[i].triangles.push_back(level.triangles);
        candidates[i].sizePx = sizePx(job.camera, item.mesh->box, item.placement);
    }
    job.levels = ui::chooseLevels(candidates, job.options.mostTriangles);
    keepLevels(job, candidates);
    chooseBatched(job);
    for (std::size_t i = 0; i < m_solids.size(); ++i)
        if (candidates[i].sizePx > 0)
            job.errorMm = std::max(job.errorMm, m_scene->items[i].mesh->levels[job.levels[i]].errorMm);
}

/// As in the last coarse picture, if they still do.
void ScenePainter::Inside::keepLevels(Job& job, const std::vector<LevelCandidate>& candidates)
{
    if (job.options.mostTriangles == PaintOptions{}.mostTriangles)
        return;
    bool kept = m_coarseLevels.size() == job.levels.size() && job.levels.size() >= leastBatched;
    double before = 0, now = 0;
    for (std::size_t i = 0; i < candidates.size() && kept; ++i) {
        if (candidates[i].triangles.empty())
            continue;
        const std::size_t was = m_coarseLevels[i], is = job.levels[i];
        kept = candidates[i].sizePx <= 0 || (was <= is + 1 && is <= was + 1);
        before += static_cast<double>(candidates[i].triangles[was]);
        now += static_cast<double>(candidates[i].triangles[is]);
    }
    if (kept && before >= leastLevelShare * now && before <= mostLevelShare * now)
        job.levels = m_coarseLevels;
    else
        m_coarseLevels = job.levels;
}

void ScenePainter::Inside::chooseBatched(Job& job) const
{
    job.batched.assign(m_solids.size(), false);
    std::size_t count = 0;
    for (std::size_t i = 0; i < m_solids.size(); ++i) {
        const ViewItem& item = m_scene->items[i];
        job.batched[i] = m_solids[i].actors && item.mesh->solid && item.opacity >= 1 && !item.decal && !item.glowing &&
                         !(item.edges && job.levels[i] == 0) && !keyOf(item).second &&
                         item.mesh->levels[job.levels[i]].triangles <= mostInBatched;
        count += job.batched[i] ? 1 : 0;
    }
    if (count < leastBatched)
        job.batched.assign(m_solids.size(), false);
}

/// Of a closed solid, and of what is seen through, only the near side shows; from inside, the far one.
bool ScenePainter::Inside::isOutside(const Job& job, const ViewItem& item) const
{
    return job.camera.parallel || nearestDepthMm(job.camera, item.mesh->box, item.placement) >
                                      m_renderer->GetActiveCamera()->GetClippingRange()[0];
}

/// Groups follow the items' numbers, those drawn alone counted too: selecting one changes one group only.
void ScenePainter::Inside::gatherBatches(const Job& job)
{
    std::vector<std::vector<BatchMember>> groups;
    std::size_t triangles = trianglesPerChunk;
    bool outside = true;
    for (std::size_t i = 0; i < m_solids.size(); ++i) {
        if (!m_solids[i].actors)
            continue;
        const ViewItem& item = m_scene->items[i];
        const std::size_t own = item.mesh->levels[job.levels[i]].triangles;
        if (own > mostInBatched)
            continue;
        if (triangles + own > trianglesPerChunk) {
            groups.emplace_back();
            triangles = 0;
        }
        triangles += own;
        if (!job.batched[i])
            continue;
        groups.back().push_back({&item, job.levels[i]});
        outside = outside && isOutside(job, item);
    }
    const bool fine = job.options.mostTriangles == PaintOptions{}.mostTriangles;
    (fine ? m_fineBatches : m_coarseBatches)
        .add(groups, m_scene->edgeColour, outside, job.pull(job.camera.target, linePullPx, 0), job.widthScale,
             *m_renderer->GetViewProps());
}

void ScenePainter::Inside::gatherSolid(const Job& job, std::size_t i)
{
    Solid& solid = m_solids[i];
    const ViewItem& item = m_scene->items[i];
    const Vec3 middle = item.placement.point(item.mesh->box.centre());
    vtkPropCollection& props = *m_renderer->GetViewProps();
    solid.actors->addFaces(job.levels[i], isOutside(job, item) && item.mesh->solid,
                           job.pull(middle, decalPullPx, job.errorMm), props);
    if (item.decal)
        return;
    solid.actors->addLines(job.levels[i], job.pull(middle, linePullPx, 0), job.widthScale, props);
    if (!item.glowing) {
        solid.outline.reset();
        return;
    }
    if (!solid.outline)
        solid.outline = std::make_unique<OutlineLines>(solid.actors->data());
    solid.outline->setLook(m_scene->glowColour, outlineWidthPx * job.widthScale);
    const auto pull = job.pull(middle, linePullPx, outlinePullShare * solid.outline->errorMm());
    if (vtkActor* lines = solid.outline->actor(item, job.camera.parallel, *m_renderer->GetActiveCamera(), pull))
        props.AddItem(lines);
}

/// Solids from back to front by where they begin, since of each the near side shows; between them, the patches in
/// their own order, each before the first solid that begins nearer.
void ScenePainter::Inside::gatherSeeThrough(const Job& job)
{
    std::vector<std::pair<double, std::size_t>> veils;
    for (std::size_t i = 0; i < m_solids.size(); ++i) {
        const ViewItem& item = m_scene->items[i];
        if (m_solids[i].actors && !item.decal && item.opacity < 1 && item.opacity > 0)
            veils.emplace_back(nearestDepthMm(job.camera, item.mesh->box, item.placement), i);
    }
    std::ranges::stable_sort(veils, std::greater<>(), [](const auto& veil) { return veil.first; });
    auto next = veils.begin();
    const PatchOrder& order = m_loose.patches();
    for (const std::size_t n : order.farthestFirst(eyeOf(job.camera))) {
        Box3 box;
        std::ranges::for_each(order.pieces()[n].corners, [&](Vec3 p) { box.add(p); });
        for (; next != veils.end() && next->first > depthMm(job.camera, box.centre()); ++next)
            gatherSolid(job, next->second);
        m_loose.addPiece(n, job.pull(job.camera.target, patchPullPx, 0), *m_renderer->GetViewProps());
    }
    for (; next != veils.end(); ++next)
        gatherSolid(job, next->second);
}

/// Puts what is to be seen in the order in which VTK is to draw it. It is put into the list of props directly: taking
/// it out of the renderer properly would take it off the card as well.
void ScenePainter::Inside::gather(const Job& job)
{
    vtkPropCollection& props = *m_renderer->GetViewProps();
    props.RemoveAllItems();
    gatherBatches(job);
    for (const bool decal : {false, true})
        for (std::size_t i = 0; i < m_solids.size(); ++i) {
            const ViewItem& item = m_scene->items[i];
            if (m_solids[i].actors && !job.batched[i] && item.decal == decal &&
                (decal ? item.opacity > 0 : item.opacity >= 1))
                gatherSolid(job, i);
        }
    m_loose.addLines(job.pull(job.camera.target, linePullPx, job.errorMm), job.widthScale, props);
    gatherSeeThrough(job);
}

Painted ScenePainter::Inside::paint(const OrbitCamera& camera, const PaintOptions& options)
{
    if (options.widthPx < 1 || options.heightPx < 1)
        return {};
    m_stop->ask = options.stop;
    m_stop->stopped = false;
    const int larger = options.smooth ? smoothFactor : 1;
    m_window->SetSize(larger * options.widthPx, larger * options.heightPx);
    Job job{camera, options};
    job.widthScale = larger * options.pixelRatio;
    chooseLevels(job);
    setCamera(*m_renderer->GetActiveCamera(), camera, sceneBox(),
              job.errorMm + 2 * linePullPx * camera.mmPerPixel(camera.target));
    gather(job);
    m_window->Render();
    if (m_stop->stopped || options.stop())
        return {};
    const bool full = std::ranges::all_of(job.levels, [](std::size_t level) { return level == 0; });
    return {readBack(options, larger), full};
}

QImage ScenePainter::Inside::readBack(const PaintOptions& options, int larger)
{
    const int width = larger * options.widthPx, height = larger * options.heightPx;
    m_window->GetRGBACharPixelData(0, 0, width - 1, height - 1, 0, m_pixels);
    const QImage image = imageFrom(*m_pixels, width, height);
    if (larger == 1)
        return image;
    return image.scaled(options.widthPx, options.heightPx, Qt::IgnoreAspectRatio, Qt::SmoothTransformation);
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
