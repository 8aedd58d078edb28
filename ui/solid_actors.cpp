// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/solid_actors.h"

#include "ui/sliced_actor.h"
#include "ui/studio_light.h"
#include "ui/vtk_parts.h"

#include <algorithm>
#include <span>
#include <vtkCellArray.h>
#include <vtkFloatArray.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkOpenGLPolyDataMapper.h>
#include <vtkOpenGLVertexBufferObject.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkPropCollection.h>
#include <vtkProperty.h>
#include <vtkTypeInt32Array.h>

namespace quoin::ui {

using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr double borderWidthPx = 1.6;
/// How much of the edges' colour is in them, the rest being the surface's.
constexpr double edgeStrength = 0.4;
/// Painted places are drawn nearer than what they lie on by these steps, of the slope and of VTK's unit of depth.
constexpr double decalFactor = -1, decalUnits = -2;
/// A selected solid: whiter than its colour, and tinted by light from everywhere.
constexpr double glowWhite = 0.6, glowAmbient = 0.52;

Colour mixed(const Colour& a, const Colour& b, double shareOfB)
{
    const auto mix = [&](double x, double y) { return x + shareOfB * (y - x); };
    return {mix(a.r, b.r), mix(a.g, b.g), mix(a.b, b.b)};
}

/// Where each triangle begins in the list of their corners; for any chunk.
vtkSmartPointer<vtkTypeInt32Array> offsetsFor(std::size_t triangles)
{
    auto out = vtkSmartPointer<vtkTypeInt32Array>::New();
    out->SetNumberOfValues(static_cast<vtkIdType>(triangles + 1));
    for (std::size_t i = 0; i <= triangles; ++i)
        out->SetValue(static_cast<vtkIdType>(i), static_cast<int>(3 * i));
    return out;
}

/// Turned triangles are a copy, the others the mesh's own.
vtkSmartPointer<vtkCellArray> trianglesOn(std::span<const mesh::Triangle> triangles, bool turned)
{
    static_assert(sizeof(mesh::Triangle) == 3 * sizeof(vtkTypeInt32));
    vtkNew<vtkTypeInt32Array> corners;
    // The same 32 bits; there are far fewer than 2^31 points.
    auto* data = const_cast<vtkTypeInt32*>(reinterpret_cast<const vtkTypeInt32*>(triangles.data()));
    const auto count = static_cast<vtkIdType>(3 * triangles.size());
    if (turned) {
        corners->SetNumberOfValues(count);
        std::reverse_copy(data, data + count, corners->GetPointer(0));
    } else {
        constexpr int notOurs = 1;
        corners->SetArray(data, count, notOurs);
    }
    auto out = vtkSmartPointer<vtkCellArray>::New();
    out->SetData(offsetsFor(triangles.size()), corners);
    return out;
}

bool sameLook(const ViewItem& a, const ViewItem& b)
{
    return a.colour == b.colour && a.capColour == b.capColour && a.opacity == b.opacity && a.edges == b.edges &&
           a.glowing == b.glowing && a.decal == b.decal;
}

void place(vtkActor& actor, const Transform& placement)
{
    if (vtkMatrix4x4* matrix = actor.GetUserMatrix())
        matrix->DeepCopy(placement.m.data());
    else
        actor.SetUserMatrix(matrixOf(placement));
}

void applyFaceLook(vtkProperty& look, const ViewItem& item, const Colour& own, const Colour& glow)
{
    setStudioLook(look, item.glowing ? mixed(own, {1, 1, 1}, glowWhite) : own);
    if (item.glowing) {
        look.SetAmbientColor(glow.r, glow.g, glow.b);
        look.SetAmbient(glowAmbient);
    }
    look.SetOpacity(item.opacity);
}

} // namespace

MeshData::MeshData(DrawMeshPtr mesh, bool mirrored)
    : m_mesh(std::move(mesh)), m_mirrored(mirrored), m_levels(m_mesh->levels.size())
{
}

const MeshData::Level& MeshData::level(std::size_t i)
{
    if (m_levels[i])
        return *m_levels[i];
    m_levels[i] = std::make_unique<Level>();
    Level& out = *m_levels[i];
    const DrawLevel& from = m_mesh->levels[i];
    for (const DrawChunk& chunk : from.chunks) {
        if (chunk.triangles.empty())
            continue;
        const auto points = pointsOn(chunk.points);
        const auto normals = arrayOn(chunk.normals);
        const std::span all(chunk.triangles);
        for (const bool labelled : {false, true}) {
            const auto own = labelled ? all.subspan(chunk.skinTriangles) : all.first(chunk.skinTriangles);
            if (own.empty())
                continue;
            auto data = vtkSmartPointer<vtkPolyData>::New();
            data->SetPoints(points);
            data->GetPointData()->SetNormals(normals);
            data->SetPolys(trianglesOn(own, m_mirrored));
            out.parts.push_back({data, labelled});
        }
    }
    if (!from.borders.empty()) {
        std::vector<std::array<std::size_t, 2>> lines(from.borders.size() / 2);
        for (std::size_t k = 0; k < lines.size(); ++k)
            lines[k] = {2 * k, 2 * k + 1};
        out.borders = vtkSmartPointer<vtkPolyData>::New();
        out.borders->SetPoints(pointsOn(from.borders));
        out.borders->SetLines(cellsOf(lines));
    }
    return out;
}

SolidActors::SolidActors(std::shared_ptr<MeshData> data, std::shared_ptr<StopCheck> stop)
    : m_data(std::move(data)), m_stop(std::move(stop)), m_levels(m_data->mesh().levels.size())
{
}

SolidActors::~SolidActors() = default;

void SolidActors::set(const ViewItem& item, const ViewScene& scene)
{
    const bool looksNew =
        m_fresh || !sameLook(item, m_item) || m_edgeColour != scene.edgeColour || m_glowColour != scene.glowColour;
    const bool moved = m_fresh || item.placement.m != m_item.placement.m;
    m_fresh = false;
    m_item = item;
    m_edgeColour = scene.edgeColour;
    m_glowColour = scene.glowColour;
    for (std::size_t i = 0; i < m_levels.size(); ++i) {
        if (!m_levels[i])
            continue;
        if (looksNew)
            applyLook(*m_levels[i], i == 0);
        if (!moved)
            continue;
        for (const auto& part : m_levels[i]->parts)
            place(*part, item.placement);
    }
}

/// Properties say "changed" even when set to what they were, and VTK then looks through its shaders: only call this for
/// a new look.
void SolidActors::applyLook(Level& level, bool full)
{
    for (const auto& part : level.parts) {
        const Colour& own = part->labelled ? m_item.capColour : m_item.colour;
        vtkProperty& look = *part->GetProperty();
        applyFaceLook(look, m_item, own, m_glowColour);
        look.SetEdgeVisibility(m_item.edges && full); // the edges of a coarse copy would be a lie
        const Colour edge = mixed(own, m_edgeColour, edgeStrength);
        look.SetEdgeColor(edge.r, edge.g, edge.b);
    }
    if (level.borders) {
        level.borders->GetProperty()->SetColor(m_edgeColour.r, m_edgeColour.g, m_edgeColour.b);
        level.borders->GetProperty()->SetOpacity(m_item.opacity);
    }
}

SolidActors::Level& SolidActors::level(std::size_t i)
{
    if (m_levels[i])
        return *m_levels[i];
    m_levels[i] = std::make_unique<Level>();
    Level& out = *m_levels[i];
    const MeshData::Level& from = m_data->level(i);
    for (const MeshData::Part& part : from.parts) {
        vtkNew<vtkOpenGLPolyDataMapper> mapper;
        mapper->SetInputData(part.faces);
        mapper->ScalarVisibilityOff();
        mapper->StaticOn(); // the data never changes: nothing to be asked before each picture
        keepDepth(*mapper);
        mapper->SetVBOShiftScaleMethod(vtkOpenGLVertexBufferObject::DISABLE_SHIFT_SCALE);
        auto actor = vtkSmartPointer<SlicedActor>::New();
        actor->SetMapper(mapper);
        actor->stop = m_stop;
        actor->labelled = part.labelled;
        actor->triangles = static_cast<std::size_t>(part.faces->GetNumberOfPolys());
        place(*actor, m_item.placement);
        out.parts.push_back(actor);
    }
    if (from.borders) {
        out.borders = lineActorOf(from.borders, m_edgeColour, borderWidthPx);
    }
    applyLook(out, i == 0);
    return out;
}

std::size_t SolidActors::trianglesToSend(std::size_t i) const
{
    if (!m_levels[i])
        return m_data->mesh().levels[i].triangles;
    std::size_t sum = 0;
    for (const auto& part : m_levels[i]->parts)
        sum += part->sent ? 0 : part->triangles;
    return sum;
}

void SolidActors::addFaces(std::size_t i, bool nearSideOnly, const Transform& pull, vtkPropCollection& to)
{
    for (const auto& part : level(i).parts) {
        part->GetProperty()->SetBackfaceCulling(nearSideOnly);
        if (m_item.decal)
            place(*part, pull * m_item.placement);
        to.AddItem(part);
    }
}

void SolidActors::addLines(std::size_t i, const Transform& pull, double widthScale, vtkPropCollection& to)
{
    Level& from = level(i);
    if (!from.borders)
        return;
    place(*from.borders, pull * m_item.placement);
    from.borders->GetProperty()->SetLineWidth(static_cast<float>(borderWidthPx * widthScale));
    to.AddItem(from.borders);
}

} // namespace quoin::ui
