// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/solid_actors.h"

#include <memory>
#include <vector>
#include <vtkSmartPointer.h>

class vtkActor;
class vtkPropCollection;

namespace quoin::ui {

class SlicedActor;

/// A small solid of the scene at one of its levels.
struct BatchMember {
    const ViewItem* item = nullptr; ///< opaque, not mirrored, neither selected nor a decal
    std::size_t level = 0;
};

/// Many small solids as few actors: each actor costs VTK about a tenth of a millisecond a picture whatever its size.
/// Points are copied to where they are in the scene, with the solid's colour at each. A batch is kept as long as its
/// members, their places and colours stay; else it is made anew, which takes a few milliseconds for ten thousand
/// triangles.
class SolidBatches {
public:
    explicit SolidBatches(std::shared_ptr<StopCheck> stop);
    ~SolidBatches();

    /// One batch for each group that isn't empty.
    /// Borders, when there are very many, are hairlines.
    /// @param nearSideOnly  faces turned away are left out  @param linePull  moves borders towards the viewer
    void add(const std::vector<std::vector<BatchMember>>& groups, const Colour& lineColour, bool nearSideOnly,
             const mesh::Transform& linePull, double widthScale, vtkPropCollection& to);

private:
    struct Key {
        DrawMeshPtr mesh;
        std::size_t level = 0;
        std::array<double, 12> placement{};
        Colour colour, capColour;
        friend bool operator==(const Key&, const Key&) = default;
    };
    struct Batch {
        std::vector<Key> keys;
        vtkSmartPointer<SlicedActor> faces;
        vtkSmartPointer<vtkActor> borders; ///< null: none
    };
    static std::vector<Key> keysOf(const std::vector<BatchMember>& group);
    void make(Batch& batch, const std::vector<BatchMember>& group) const;

    std::shared_ptr<StopCheck> m_stop;
    std::vector<Batch> m_batches;
};

} // namespace quoin::ui
