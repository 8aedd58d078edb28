// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/draw_mesh_data.h"
#include "ui/view_scene.h"

#include <functional>
#include <memory>
#include <vector>
#include <vtkSmartPointer.h>

class vtkActor;
class vtkPolyData;
class vtkPropCollection;

namespace quoin::ui {

class SlicedActor;

/// Asked before each slice of a picture; remembers a yes until the next picture.
struct StopCheck {
    std::function<bool()> ask;
    bool stopped = false;
    std::size_t unfinished = 0; ///< triangles drawn since the driver was last waited for
};

/// A mesh in VTK's form. VTK draws from the mesh's own arrays, so it takes no time to make; solids that share one share
/// it on the graphics card as well.
class MeshData {
public:
    /// @param mirrored  for placements that mirror: triangles are turned over, so that they face outwards again
    MeshData(DrawMeshPtr mesh, bool mirrored);

    const DrawMesh& mesh() const { return *m_mesh; }
    bool mirrored() const { return m_mirrored; }
    struct Part {
        vtkSmartPointer<vtkPolyData> faces;
        bool labelled; ///< cuts and bores, else the model's own surface
    };
    struct Level {
        std::vector<Part> parts;              ///< one or two a chunk
        vtkSmartPointer<vtkPolyData> borders; ///< null: none
    };
    const Level& level(std::size_t i);

private:
    DrawMeshPtr m_mesh;
    bool m_mirrored;
    std::vector<std::unique_ptr<Level>> m_levels;
};

/// A solid of the scene as VTK's actors: made when first drawn, then kept as long as the scene has the solid. What
/// VTK sends to the card, it sends when an actor is first drawn: a large mesh goes there in slices.
class SolidActors {
public:
    SolidActors(std::shared_ptr<MeshData> data, std::shared_ptr<StopCheck> stop);
    ~SolidActors();

    /// Takes over how the item looks and where it is; the mesh, and whether it is mirrored, have to be the same.
    void set(const ViewItem& item, const ViewScene& scene);
    const ViewItem& item() const { return m_item; }
    const DrawMesh& mesh() const { return m_data->mesh(); }
    MeshData& data() const { return *m_data; }

    std::size_t trianglesToSend(std::size_t level) const;
    /// @param nearSideOnly  faces turned away are left out. @param pull  moves a decal towards the viewer
    void addFaces(std::size_t level, bool nearSideOnly, const mesh::Transform& pull, vtkPropCollection& to);
    /// Borders of labelled faces. @param widthScale  drawn pixels to a widget's pixel
    void addLines(std::size_t level, const mesh::Transform& pull, double widthScale, vtkPropCollection& to);

private:
    struct Level {
        std::vector<vtkSmartPointer<SlicedActor>> parts;
        vtkSmartPointer<vtkActor> borders;
    };
    Level& level(std::size_t i);
    void applyLook(Level& level, bool full);

    std::shared_ptr<MeshData> m_data;
    std::shared_ptr<StopCheck> m_stop;
    ViewItem m_item;
    Colour m_edgeColour, m_glowColour;
    bool m_fresh = true;
    std::vector<std::unique_ptr<Level>> m_levels;
};

} // namespace quoin::ui
