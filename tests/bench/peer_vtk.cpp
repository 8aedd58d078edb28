// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/bench/bench.h"

#include <vtkCellArray.h>
#include <vtkClipClosedSurface.h>
#include <vtkNew.h>
#include <vtkPlane.h>
#include <vtkPlaneCollection.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>

namespace quoin::bench {

Times vtkClipOneHalf(const mesh::Mesh& mesh, const mesh::Plane& plane, int runs)
{
    vtkNew<vtkPoints> points;
    points->SetDataTypeToDouble();
    for (const mesh::Vec3 p : mesh.points)
        points->InsertNextPoint(p.x, p.y, p.z);
    vtkNew<vtkCellArray> faces;
    for (const mesh::Triangle& t : mesh.triangles) {
        const std::array<vtkIdType, 3> ids{t[0], t[1], t[2]};
        faces->InsertNextCell(3, ids.data());
    }
    vtkNew<vtkPolyData> data;
    data->SetPoints(points);
    data->SetPolys(faces);
    vtkNew<vtkPlane> cut;
    cut->SetNormal(plane.normal.x, plane.normal.y, plane.normal.z);
    const mesh::Vec3 o = plane.offset * plane.normal;
    cut->SetOrigin(o.x, o.y, o.z);
    vtkNew<vtkPlaneCollection> planes;
    planes->AddItem(cut);
    return timed(runs, [&] {
        vtkNew<vtkClipClosedSurface> clip;
        clip->SetInputData(data);
        clip->SetClippingPlanes(planes);
        clip->GenerateFacesOn();
        clip->Update();
        keep(clip->GetOutput());
    });
}

} // namespace quoin::bench
