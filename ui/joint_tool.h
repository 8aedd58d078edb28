// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/region.h"
#include "ui/view_tool.h"

#include <functional>
#include <optional>
#include <vector>

namespace quoin::ui {

/// A joint on a cut face, as the tool shows it.
struct JointHandle {
    int id = 0;
    mesh::Vec3 at{0, 0, 0}; ///< where its axis meets the face, scene frame
    double radiusMm = 4;
    mesh::PlaneFrame frame; ///< of the face, scene frame
    bool ok = true;
    QString why; ///< in a sentence, when it isn't ok
    /// What it points to in the frame, for one that isn't round: from its axis to the flat, the arm, the slot, or the
    /// end that a dovetail slides out to.
    std::optional<mesh::Vec2> pointer{};
    double halfWidthMm = 0; ///< dovetail: of the strip along the pointer
};

/// Moving joints on a cut face: the region where a joint's axis may stand is shown, and dragging says at once what is
/// wrong with a place.
class JointTool : public ViewTool {
    Q_OBJECT
public:
    /// What is wrong with a joint's axis at a place of its frame; empty when nothing is. Asked on every move.
    using Verdict = std::function<QString(int id, mesh::Vec2 at)>;

    using ViewTool::ViewTool;

    void setJoints(std::vector<JointHandle> joints);
    const std::vector<JointHandle>& joints() const { return m_joints; }
    /// Where axes may stand; empty region: nowhere.
    void setAllowed(const mesh::Region& region, const mesh::PlaneFrame& frame);
    void clearAllowed();
    /// The face that joints can be put on; empty: none.
    void setFace(const mesh::Region& face, const mesh::PlaneFrame& frame);
    void setVerdict(Verdict verdict) { m_verdict = std::move(verdict); }
    /// No signal comes of it. None: no joint is chosen.
    void setSelected(std::optional<int> id);
    std::optional<int> selectedId() const { return m_selected; }

    QCursor cursor() const override;
    QString hint() const override;
    bool pressed(const ToolEvent& event) override;
    void dragged(const ToolEvent& event) override;
    void released(const ToolEvent& event) override;
    void hovered(const ToolEvent& event) override;
    void clicked(const ToolEvent& event) override;
    void left() override;
    bool keyPressed(QKeyEvent& event) override;
    void paint(QPainter& painter, const OrbitCamera& camera) const override;

signals:
    void selected(int id);
    /// Nothing is chosen any more.
    void deselected();
    /// While dragging; after Escape once more, with the place that it had.
    void moved(int id, quoin::mesh::Vec2 live);
    /// Let go at another place than before: the frame's coordinates.
    void moveFinished(int id, quoin::mesh::Vec2 at);
    /// A new joint at a place of the face; none: where there is most room.
    void addWanted(std::optional<quoin::mesh::Vec2> at);
    void removeWanted(int id);
    /// About its axis, radians, from the frame's first axis to the second.
    void turnWanted(int id, double radians);

private:
    std::optional<mesh::Vec2> onPlane(const mesh::PlaneFrame& frame, mesh::Vec3 through, ScreenPoint at) const;
    bool jointKey(QKeyEvent& event);
    const JointHandle* joint(std::optional<int> id) const;
    std::optional<int> jointAt(ScreenPoint at, const OrbitCamera& camera) const;
    std::optional<mesh::Vec2> onFace(const JointHandle& handle, ScreenPoint at) const;
    void choose(std::optional<int> id);
    void place(mesh::Vec2 at);
    void stepBy(double right, double up, double mm);
    void chooseNext(int direction);
    void changed();
    void paintAllowed(QPainter& painter, const OrbitCamera& camera) const;
    void paintPointer(QPainter& painter, const OrbitCamera& camera, const JointHandle& handle, mesh::Vec3 at) const;
    void paintJoint(QPainter& painter, const OrbitCamera& camera, const JointHandle& handle) const;

    std::vector<JointHandle> m_joints;
    std::optional<mesh::Region> m_allowed;
    mesh::PlaneFrame m_allowedFrame{};
    mesh::Region m_face;
    mesh::PlaneFrame m_faceFrame{};
    Verdict m_verdict;
    std::optional<int> m_selected, m_over;

    struct Move {
        int id;
        mesh::Vec2 from, now, grabbed; ///< the frame's coordinates; grabbed: where the pointer took hold
        QString why;
        bool begun = false; ///< farther than a click may slip
        ScreenPoint press;
    };
    std::optional<Move> m_move;
};

} // namespace quoin::ui
