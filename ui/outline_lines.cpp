// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/outline_lines.h"

#include "ui/vtk_parts.h"

#include <vtkActor.h>
#include <vtkAppendPolyData.h>
#include <vtkCamera.h>
#include <vtkCleanPolyData.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkPolyDataSilhouette.h>
#include <vtkProperty.h>

namespace quoin::ui {

namespace {

/// Triangles that outlines are found on: a few milliseconds a picture.
constexpr std::size_t mostTriangles = 16'000;

std::size_t outlineLevel(const DrawMesh& mesh)
{
    for (std::size_t i = 0; i < mesh.levels.size(); ++i)
        if (mesh.levels[i].triangles <= mostTriangles)
            return i;
    return mesh.levels.size() - 1;
}

} // namespace

OutlineLines::OutlineLines(MeshData& data)
{
    if (data.mesh().levels.empty())
        return;
    const std::size_t level = outlineLevel(data.mesh());
    m_errorMm = data.mesh().levels[level].errorMm;
    vtkNew<vtkAppendPolyData> all;
    for (const MeshData::Part& part : data.level(level).parts)
        all->AddInputData(part.faces);
    if (data.level(level).parts.empty())
        return;
    // Faces that meet at a crisp edge have points of their own; an outline needs to know that they are neighbours.
    vtkNew<vtkCleanPolyData> joined;
    joined->SetInputConnection(all->GetOutputPort());
    joined->ToleranceIsAbsoluteOn();
    joined->SetAbsoluteTolerance(0);
    joined->Update();
    vtkNew<vtkPolyData> surface;
    surface->SetPoints(joined->GetOutput()->GetPoints());
    surface->SetPolys(joined->GetOutput()->GetPolys());
    m_filter = vtkSmartPointer<vtkPolyDataSilhouette>::New();
    m_filter->SetInputData(surface);
    m_filter->SetEnableFeatureAngle(0);
    m_place = vtkSmartPointer<vtkActor>::New();
    m_filter->SetProp3D(m_place);
    m_lines = lineActorOf(nullptr, {}, 1);
    m_lines->GetMapper()->SetInputConnection(m_filter->GetOutputPort());
}

OutlineLines::~OutlineLines() = default;

void OutlineLines::setLook(const Colour& colour, double widthPx)
{
    if (!m_lines)
        return;
    m_lines->GetProperty()->SetColor(colour.r, colour.g, colour.b);
    m_lines->GetProperty()->SetLineWidth(static_cast<float>(widthPx));
}

vtkActor* OutlineLines::actor(const ViewItem& item, bool parallel, vtkCamera& camera, const mesh::Transform& pull)
{
    if (!m_filter)
        return nullptr;
    m_place->SetUserMatrix(matrixOf(item.placement));
    m_filter->SetCamera(&camera);
    if (parallel)
        m_filter->SetDirectionToCameraVector();
    else
        m_filter->SetDirectionToCameraOrigin();
    m_filter->Modified();
    m_lines->SetUserMatrix(matrixOf(pull * item.placement));
    return m_lines;
}

} // namespace quoin::ui
