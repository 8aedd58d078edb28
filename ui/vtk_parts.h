// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/transform.h"
#include "ui/colour.h"

#include <array>
#include <vector>
#include <vtkSmartPointer.h>

class vtkActor;
class vtkCellArray;
class vtkFloatArray;
class vtkMapper;
class vtkMatrix4x4;
class vtkPoints;
class vtkPolyData;
class vtkPolyDataMapper;
class vtkProperty;
class vtkRenderer;
class vtkRenderWindow;

/// What the window's view and the pictures of an export share of VTK. Included by .cpp files only.
namespace quoin::ui {

/// VTK's window on the OpenGL context that is current on this thread, whoever made it; pictures stay in memory. Null
/// when the context can't be used. Call Finalize() on it before the context goes away.
vtkSmartPointer<vtkRenderWindow> windowOnCurrentContext(int widthPx, int heightPx);

/// The three lamps of ui/studio_light.h, and no other.
void addStudioLamps(vtkRenderer& renderer);
/// How a surface answers them.
void setStudioLook(vtkProperty& look, const Colour& colour);
/// From the top of the picture to its bottom.
void setBackground(vtkRenderer& renderer, const Colour& top, const Colour& bottom);

vtkSmartPointer<vtkMatrix4x4> matrixOf(const mesh::Transform& placement);

using FloatTriples = std::vector<std::array<float, 3>>;
/// Without a copy: the vector has to outlive the array, and stay as it is.
vtkSmartPointer<vtkFloatArray> arrayOn(const FloatTriples& triples);
vtkSmartPointer<vtkPoints> pointsOn(const FloatTriples& points);

/// Cells given by the numbers of their points; copied.
template <class Cells>
vtkSmartPointer<vtkCellArray> cellsOf(const Cells& cells);

/// VTK pushes faces back a little by having each pixel work out its depth, which keeps a driver that is a program from
/// leaving out pixels that something nearer hides. This takes it back.
void keepDepth(vtkMapper& mapper);

/// Draws plain data in one colour; lit as VTK does by itself.
vtkSmartPointer<vtkActor> actorOf(vtkPolyData* data, const Colour& colour);
/// The same unlit, as lines of a width in pixels of the drawn picture.
vtkSmartPointer<vtkActor> lineActorOf(vtkPolyData* data, const Colour& colour, double widthPx);

} // namespace quoin::ui

#include <vtkCellArray.h>

template <class Cells>
vtkSmartPointer<vtkCellArray> quoin::ui::cellsOf(const Cells& cells)
{
    auto out = vtkSmartPointer<vtkCellArray>::New();
    for (const auto& cell : cells) {
        out->InsertNextCell(static_cast<int>(cell.size()));
        for (const auto v : cell)
            out->InsertCellPoint(static_cast<vtkIdType>(v));
    }
    return out;
}
