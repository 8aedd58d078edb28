// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bench.h"
#include "ui/model_view.h"
#include "ui/scene_builder.h"

#include <QTimer>

namespace quoin::ui {

class SelectTool;

/// Keeps the view in step with the document and with what is looked at, and turns clicks into selections.
class ViewController : public QObject {
    Q_OBJECT
public:
    ViewController(Bench& bench, ModelView& view, QObject* parent);

    ModelView& view() { return m_view; }
    const BuiltScene& built() const { return m_built; }
    /// Where the current part stands in the scene.
    mesh::Vec3 shift() const;
    /// How far a piece of the current part has been moved apart from its place.
    mesh::Vec3 pieceShift(int piece) const;
    /// The tool that is used when no other is.
    void useTool(ViewTool* tool);
    void useSelection();
    /// Everything, the current part, or the selected pieces.
    void fitAll();
    void fitSelection();
    /// The cut whose plane's rim is seen at a place; 0: none.
    int cutAt(ScreenPoint at) const;
    /// A click that a tool has no use for: pieces are selected by it, and cuts by the rim of their plane.
    void click(ScreenPoint at, Qt::KeyboardModifiers modifiers);
    /// From the side that a direction points to, a little aside; a box fills the view.
    void lookAt(const mesh::Box3& box, mesh::Vec3 towardsViewer);
    /// The camera goes to what is shown next, from where it looked before lookAt.
    void refit();

public slots:
    /// Builds the scene again, soon; many calls make one build.
    void refresh();

signals:
    void rebuilt();

private:
    void rebuild();
    void picked(const std::optional<ViewHit>& hit, Qt::KeyboardModifiers modifiers);
    void stepPiece(int direction);
    DrawMeshPtr keepClearOf(const core::PartDesign& part);

    Bench& m_bench;
    ModelView& m_view;
    SelectTool* m_select;
    QTimer m_soon;
    BuiltScene m_built;
    int m_alone = 0; ///< part that stands alone; 0: none does
    bool m_onBed = false, m_isolated = false;
    std::optional<OrbitCamera> m_before; ///< the camera before lookAt
    bool m_placed = false;               ///< the camera was just sent to a place of its own
    mesh::Box3 m_fitted;                 ///< of the parts when the view was fitted last

    /// The marked triangles of a part as a mesh, made in the background.
    struct Marked {
        std::vector<mesh::Index> triangles;
        mesh::MeshPtr source;
        DrawMeshPtr draw;
    };
    std::map<int, Marked> m_marked;
};

} // namespace quoin::ui
