// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_allowed.h"
#include "core/joint_probe.h"
#include "ui/bench.h"

namespace quoin::ui {

class JointTool;
class JointsPanel;
class ViewController;

/// Joints: the list by face, the wishes for each face, and joints dragged on their face in the view.
class JointController : public QObject {
    Q_OBJECT
public:
    JointController(Bench& bench, JointsPanel& panel, ViewController& view, QObject* parent);

    JointTool& tool() { return *m_tool; }

public slots:
    /// A face and a joint of it. @param seam  -1: none  @param joint  -1: the face itself
    void select(int seam, int joint);

signals:
    void fitsWanted();
    void selected(int seam);

private:
    void showList();
    void showHandles();
    void askAllowed();
    bool looking() const; ///< whether places of joints are worked on
    void want(const core::FaceChoice& choice, const QString& name, const QString& mergeKey);
    void moveJoint(int joint, mesh::Vec2 at);
    void turnJoint(int joint, double radians);
    /// A joint of the selected face changed by hand; chosen ones become so.
    void change(int joint, const QString& name, const QString& mergeKey,
                const std::function<void(core::JointForm&)>& how);
    QString verdict(int joint, mesh::Vec2 at) const;
    /// What is laid out of the current part for its newest design; null while it is being worked out.
    core::RealisedPtr laidOut() const;
    /// Joints of a seam, as indices into the layout's joints.
    std::vector<std::size_t> jointsOf(std::size_t seam) const;
    /// Those that count while one of the selected face is moved: all of this face, which will be by hand, and those of
    /// other faces by hand; chosen ones give way.
    struct Counting {
        std::vector<core::Joint> joints;
        std::size_t which = 0; ///< the one that is moved
    };
    Counting counting(std::size_t which) const;
    /// The selected face opened for the eye: its pieces apart, the camera before it.
    void openFace(bool turn);
    void closeFace();
    void showFacing();
    /// Where the frame of the selected face is seen, on the piece that shows it.
    mesh::PlaneFrame shownFrame() const;

    Bench& m_bench;
    JointsPanel& m_panel;
    ViewController& m_view;
    JointTool* m_tool;
    core::RealisedPtr m_shown;
    std::shared_ptr<core::JointProbe> m_probe;
    Latest m_warming, m_allowed;
    int m_seam = -1, m_joint = -1;
    bool m_opened = false;                    ///< the step has opened the pieces by itself
    double m_explodedBefore = 0;              ///< where the slider stood then
    std::pair<int, int> m_allowedFor{-1, -1}; ///< seam and joint
    core::RealisedPtr m_allowedOf;
    mesh::Region m_region; ///< the answer
};

} // namespace quoin::ui
