// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/loose_actors.h"

#include "ui/vtk_parts.h"

#include <algorithm>
#include <vtkActor.h>
#include <vtkCellArray.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkPropCollection.h>
#include <vtkProperty.h>

namespace quoin::ui {

using mesh::Vec3;

namespace {

vtkIdType addPoint(vtkPoints& to, Vec3 p)
{
    return to.InsertNextPoint(p.x, p.y, p.z);
}

void append(const ViewPolyline& line, vtkPoints& points, vtkCellArray& cells)
{
    if (line.points.size() < 2)
        return;
    const bool closed = line.closed && line.points.size() > 2;
    cells.InsertNextCell(static_cast<int>(line.points.size() + (closed ? 1 : 0)));
    const vtkIdType first = points.GetNumberOfPoints();
    for (const Vec3 p : line.points)
        cells.InsertCellPoint(addPoint(points, p));
    if (closed)
        cells.InsertCellPoint(first);
}

/// Puts other points and cells into an actor made by actorOf or lineActorOf.
vtkPolyData& dataOf(vtkActor& actor)
{
    return *static_cast<vtkPolyDataMapper*>(actor.GetMapper())->GetInput();
}

} // namespace

void LooseActors::set(const ViewScene& scene)
{
    setLines(scene.lines);
    std::vector<std::vector<Vec3>> patches;
    for (const ViewPatch& patch : scene.patches)
        patches.push_back(patch.corners);
    m_order = PatchOrder(patches);
    m_pieces.resize(std::max(m_pieces.size(), m_order.pieces().size()));
    for (std::size_t i = 0; i < m_order.pieces().size(); ++i)
        setPiece(i, m_order.pieces()[i], scene.patches[m_order.pieces()[i].patch]);
}

void LooseActors::setLines(const std::vector<ViewPolyline>& lines)
{
    std::vector<const ViewPolyline*> sorted;
    for (const ViewPolyline& line : lines)
        sorted.push_back(&line);
    const auto style = [](const ViewPolyline* l) {
        return std::array{l->widthPx, l->colour.r, l->colour.g, l->colour.b};
    };
    std::ranges::stable_sort(sorted, {}, style);
    m_linesUsed = 0;
    for (std::size_t begin = 0, end = 0; begin < sorted.size(); begin = end) {
        vtkNew<vtkPoints> points;
        vtkNew<vtkCellArray> cells;
        for (; end < sorted.size() && style(sorted[end]) == style(sorted[begin]); ++end)
            append(*sorted[end], *points, *cells);
        if (m_lines.size() == m_linesUsed)
            m_lines.push_back({{}, 1, lineActorOf(vtkSmartPointer<vtkPolyData>::New(), {}, 1)});
        LineGroup& group = m_lines[m_linesUsed++];
        group.colour = sorted[begin]->colour;
        group.widthPx = sorted[begin]->widthPx;
        group.actor->GetProperty()->SetColor(group.colour.r, group.colour.g, group.colour.b);
        dataOf(*group.actor).SetPoints(points);
        dataOf(*group.actor).SetLines(cells);
    }
}

void LooseActors::setPiece(std::size_t i, const PatchPiece& piece, const ViewPatch& look)
{
    if (!m_pieces[i]) {
        m_pieces[i] = actorOf(vtkSmartPointer<vtkPolyData>::New(), look.colour);
        m_pieces[i]->GetProperty()->LightingOff();
        keepDepth(*m_pieces[i]->GetMapper());
    }
    vtkActor& actor = *m_pieces[i];
    actor.GetProperty()->SetColor(look.colour.r, look.colour.g, look.colour.b);
    actor.GetProperty()->SetOpacity(look.opacity);
    vtkNew<vtkPoints> points;
    vtkNew<vtkCellArray> cells;
    cells->InsertNextCell(static_cast<int>(piece.corners.size()));
    for (const Vec3 p : piece.corners)
        cells->InsertCellPoint(addPoint(*points, p));
    dataOf(actor).SetPoints(points);
    dataOf(actor).SetPolys(cells);
}

void LooseActors::addLines(const mesh::Transform& pull, double widthScale, vtkPropCollection& to)
{
    for (std::size_t i = 0; i < m_linesUsed; ++i) {
        m_lines[i].actor->SetUserMatrix(matrixOf(pull));
        m_lines[i].actor->GetProperty()->SetLineWidth(static_cast<float>(m_lines[i].widthPx * widthScale));
        to.AddItem(m_lines[i].actor);
    }
}

void LooseActors::addPiece(std::size_t piece, const mesh::Transform& pull, vtkPropCollection& to)
{
    m_pieces[piece]->SetUserMatrix(matrixOf(pull));
    to.AddItem(m_pieces[piece]);
}

} // namespace quoin::ui
