// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/patch_order.h"
#include "ui/view_scene.h"

#include <vector>
#include <vtkSmartPointer.h>

class vtkActor;
class vtkPropCollection;

namespace quoin::ui {

/// The polylines and patches of a scene as VTK's actors, used again for the next scene: they change with every move of
/// a dragged plane.
class LooseActors {
public:
    void set(const ViewScene& scene);

    /// @param pull  towards the viewer. @param widthScale  drawn pixels to a widget's pixel
    void addLines(const mesh::Transform& pull, double widthScale, vtkPropCollection& to);
    const PatchOrder& patches() const { return m_order; }
    void addPiece(std::size_t piece, const mesh::Transform& pull, vtkPropCollection& to);

private:
    void setLines(const std::vector<ViewPolyline>& lines);
    void setPiece(std::size_t i, const PatchPiece& piece, const ViewPatch& look);

    /// Lines of one colour and width are one actor.
    struct LineGroup {
        Colour colour;
        double widthPx = 1;
        vtkSmartPointer<vtkActor> actor;
    };
    std::vector<LineGroup> m_lines;
    std::size_t m_linesUsed = 0;
    PatchOrder m_order;
    std::vector<vtkSmartPointer<vtkActor>> m_pieces; ///< may be more than are in use
};

} // namespace quoin::ui
