// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/solid_batches.h"

#include "ui/sliced_actor.h"
#include "ui/vtk_parts.h"

#include <algorithm>
#include <cmath>
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
#include <vtkUnsignedCharArray.h>

namespace quoin::ui {

using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr double borderWidthPx = 1.6; // as on single solids
/// More lines than this are drawn a pixel wide, which all drivers do by themselves; wider ones are made of triangles by
/// a shader, at about a thousandth of a millisecond each with a driver that is a program.
constexpr vtkIdType mostWideLines = 4000;
/// Highlights of single solids have a little of the solid's colour; one colour does for all here.
constexpr Colour highlight{0.6, 0.6, 0.6};

std::array<unsigned char, 3> bytesOf(const Colour& c)
{
    const auto byte = [](double x) { return static_cast<unsigned char>(std::lround(255 * std::clamp(x, 0.0, 1.0))); };
    return {byte(c.r), byte(c.g), byte(c.b)};
}

Vec3 vec(const std::array<float, 3>& p)
{
    return {p[0], p[1], p[2]};
}

/// Arrays that members are copied into.
struct Merged {
    vtkNew<vtkFloatArray> points, normals, ends;
    vtkNew<vtkUnsignedCharArray> colours;
    vtkNew<vtkTypeInt32Array> corners, offsets, lineCorners, lineOffsets;
    vtkIdType pointCount = 0, triangleCount = 0, endCount = 0;

    explicit Merged(const std::vector<BatchMember>& group)
    {
        vtkIdType pointsInAll = 0, trianglesInAll = 0, endsInAll = 0;
        for (const BatchMember& m : group) {
            const DrawLevel& level = m.item->mesh->levels[m.level];
            for (const DrawChunk& chunk : level.chunks) {
                pointsInAll += static_cast<vtkIdType>(chunk.points.size());
                trianglesInAll += static_cast<vtkIdType>(chunk.triangles.size());
            }
            endsInAll += static_cast<vtkIdType>(level.borders.size());
        }
        for (vtkFloatArray* array : {points.Get(), normals.Get(), ends.Get()})
            array->SetNumberOfComponents(3);
        points->SetNumberOfTuples(pointsInAll);
        normals->SetNumberOfTuples(pointsInAll);
        ends->SetNumberOfTuples(endsInAll);
        colours->SetNumberOfComponents(3);
        colours->SetNumberOfTuples(pointsInAll);
        corners->SetNumberOfValues(3 * trianglesInAll);
        offsets->SetNumberOfValues(trianglesInAll + 1);
        for (vtkIdType i = 0; i <= trianglesInAll; ++i)
            offsets->SetValue(i, static_cast<int>(3 * i));
        lineCorners->SetNumberOfValues(endsInAll);
        lineOffsets->SetNumberOfValues(endsInAll / 2 + 1);
        for (vtkIdType i = 0; i < endsInAll; ++i)
            lineCorners->SetValue(i, static_cast<int>(i));
        for (vtkIdType i = 0; i <= endsInAll / 2; ++i)
            lineOffsets->SetValue(i, static_cast<int>(2 * i));
    }

    void add(const BatchMember& m)
    {
        const DrawLevel& level = m.item->mesh->levels[m.level];
        for (const DrawChunk& chunk : level.chunks)
            addChunk(chunk, *m.item);
        for (const auto& p : level.borders)
            put(*ends, endCount++, m.item->placement.point(vec(p)));
    }

private:
    static void put(vtkFloatArray& to, vtkIdType at, Vec3 p)
    {
        float* f = to.GetPointer(3 * at);
        f[0] = static_cast<float>(p.x), f[1] = static_cast<float>(p.y), f[2] = static_cast<float>(p.z);
    }

    void addChunk(const DrawChunk& chunk, const ViewItem& item)
    {
        const vtkIdType first = pointCount;
        for (std::size_t i = 0; i < chunk.points.size(); ++i, ++pointCount) {
            put(*points, pointCount, item.placement.point(vec(chunk.points[i])));
            put(*normals, pointCount, normalized(item.placement.direction(vec(chunk.normals[i]))));
        }
        const auto own = bytesOf(item.colour), cap = bytesOf(item.capColour);
        unsigned char* to = colours->GetPointer(3 * first);
        for (std::size_t i = 0; i < chunk.points.size(); ++i, to += 3)
            std::ranges::copy(own, to);
        for (std::size_t t = 0; t < chunk.triangles.size(); ++t, ++triangleCount)
            for (int k = 0; k < 3; ++k) {
                const auto v = static_cast<vtkIdType>(chunk.triangles[t][static_cast<std::size_t>(k)]) + first;
                corners->SetValue(3 * triangleCount + k, static_cast<int>(v));
                if (t >= chunk.skinTriangles) // no point is of both
                    std::ranges::copy(cap, colours->GetPointer(3 * v));
            }
    }
};

vtkSmartPointer<vtkPolyData> facesOf(const Merged& merged)
{
    vtkNew<vtkPoints> points;
    points->SetData(merged.points);
    vtkNew<vtkCellArray> cells;
    cells->SetData(merged.offsets.Get(), merged.corners.Get());
    auto data = vtkSmartPointer<vtkPolyData>::New();
    data->SetPoints(points);
    data->GetPointData()->SetNormals(merged.normals);
    data->GetPointData()->SetScalars(merged.colours);
    data->SetPolys(cells);
    return data;
}

vtkSmartPointer<vtkPolyData> bordersOf(const Merged& merged)
{
    vtkNew<vtkPoints> points;
    points->SetData(merged.ends);
    vtkNew<vtkCellArray> cells;
    cells->SetData(merged.lineOffsets.Get(), merged.lineCorners.Get());
    auto data = vtkSmartPointer<vtkPolyData>::New();
    data->SetPoints(points);
    data->SetLines(cells);
    return data;
}

} // namespace

SolidBatches::SolidBatches(std::shared_ptr<StopCheck> stop) : m_stop(std::move(stop)) {}

SolidBatches::~SolidBatches() = default;

std::vector<SolidBatches::Key> SolidBatches::keysOf(const std::vector<BatchMember>& group)
{
    std::vector<Key> keys;
    keys.reserve(group.size());
    for (const BatchMember& m : group) {
        Key key{m.item->mesh, m.level, {}, m.item->colour, m.item->capColour};
        std::copy_n(m.item->placement.m.begin(), key.placement.size(), key.placement.begin());
        keys.push_back(std::move(key));
    }
    return keys;
}

void SolidBatches::make(Batch& batch, const std::vector<BatchMember>& group) const
{
    Merged merged(group);
    for (const BatchMember& m : group)
        merged.add(m);
    vtkNew<vtkOpenGLPolyDataMapper> mapper;
    mapper->SetInputData(facesOf(merged));
    mapper->SetColorModeToDirectScalars();
    mapper->SetScalarModeToUsePointData();
    mapper->StaticOn();
    keepDepth(*mapper);
    mapper->SetVBOShiftScaleMethod(vtkOpenGLVertexBufferObject::DISABLE_SHIFT_SCALE);
    batch.faces = vtkSmartPointer<SlicedActor>::New();
    batch.faces->SetMapper(mapper);
    batch.faces->stop = m_stop;
    batch.faces->triangles = static_cast<std::size_t>(merged.triangleCount);
    setStudioLook(*batch.faces->GetProperty(), highlight);
    batch.borders = merged.endCount > 0 ? lineActorOf(bordersOf(merged), {}, borderWidthPx) : nullptr;
}

void SolidBatches::add(const std::vector<std::vector<BatchMember>>& groups, const Colour& lineColour, bool nearSideOnly,
                       const Transform& linePull, double widthScale, vtkPropCollection& to)
{
    m_batches.resize(groups.size());
    for (std::size_t i = 0; i < groups.size(); ++i) {
        Batch& batch = m_batches[i];
        std::vector<Key> keys = keysOf(groups[i]);
        if (keys != batch.keys) {
            if (m_stop->ask())
                return; // the picture is given up anyway; batches are made one by one
            batch = {};
            if (!keys.empty())
                make(batch, groups[i]);
            batch.keys = std::move(keys);
        }
        if (!batch.faces)
            continue;
        batch.faces->GetProperty()->SetBackfaceCulling(nearSideOnly);
        to.AddItem(batch.faces);
        if (!batch.borders)
            continue;
        batch.borders->SetUserMatrix(matrixOf(linePull));
        batch.borders->GetProperty()->SetColor(lineColour.r, lineColour.g, lineColour.b);
        const bool many =
            static_cast<vtkPolyDataMapper*>(batch.borders->GetMapper())->GetInput()->GetNumberOfLines() > mostWideLines;
        batch.borders->GetProperty()->SetLineWidth(many ? 1.0F : static_cast<float>(borderWidthPx * widthScale));
        to.AddItem(batch.borders);
    }
}

} // namespace quoin::ui
