// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/orbit_camera.h"
#include "ui/solid_actors.h"

class vtkCamera;
class vtkPolyDataSilhouette;

namespace quoin::ui {

/// The outline of a selected solid as thick lines, for each camera anew: the edges between faces turned to the viewer
/// and faces turned away (vtkPolyDataSilhouette). Found on a coarse level when the mesh is large.
class OutlineLines {
public:
    explicit OutlineLines(MeshData& data);
    ~OutlineLines();

    /// Null when the mesh has no faces. @param camera  VTK's, as set for the picture
    vtkActor* actor(const ViewItem& item, bool parallel, vtkCamera& camera, const mesh::Transform& pull);
    /// How far the outline may be from the mesh's, mm.
    double errorMm() const { return m_errorMm; }
    void setLook(const Colour& colour, double widthPx);

private:
    vtkSmartPointer<vtkPolyDataSilhouette> m_filter;
    vtkSmartPointer<vtkActor> m_lines;
    vtkSmartPointer<vtkActor> m_place; ///< tells the filter where the solid is
    double m_errorMm = 0;
};

} // namespace quoin::ui
