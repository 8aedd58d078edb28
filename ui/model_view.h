// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/pick_bodies.h"
#include "ui/render_thread.h"
#include "ui/view_overlay.h"
#include "ui/view_scene.h"
#include "ui/view_tool.h"

#include <QPointer>
#include <QVariantAnimation>
#include <QWidget>

#include <optional>
#include <vector>

namespace quoin::ui {

/// The view of the model. Shows the newest picture of a drawing thread and paints numbers, words, the tool's handles,
/// the axes and a scale bar over it, with the camera that the picture was drawn with. Turns the pointer and the keys
/// into camera moves, save what the tool takes.
///
/// Pointer: left drag turns, about what was under the pointer; middle drag or Shift and left drag pans; right drag and
/// wheel zoom, the wheel towards the pointer; a double click sets the turning centre for good (on the ground: lifts
/// it); pinching zooms. Keys: arrows turn by 15 degrees, with Shift they pan; + and - zoom; F fits; 1 to 7 front, back,
/// left, right, top, bottom, isometric; P changes between parallel and perspective.
class ModelView : public QWidget, public ViewHost {
    Q_OBJECT
public:
    explicit ModelView(QWidget* parent = nullptr);
    ~ModelView() override;

    /// The thread that pictures come from; not owned, may go away first. Without one only the overlay is painted.
    void drawWith(RenderThread* thread);

    void setScene(ViewScenePtr scene);
    /// What the pointer can be over and what covers numbers: prepare them on a worker (ui/pick_bodies.h).
    void setPickBodies(std::vector<PickBody> bodies);
    const std::vector<PickBody>& pickBodies() const { return m_picks.bodies(); }
    /// Round piece numbers, shown where their anchor isn't covered.
    void setBadges(std::vector<ViewBadge> badges);
    void setNotes(std::vector<ViewNote> notes);
    void setArrows(std::vector<ViewArrow> arrows);
    const std::vector<ViewArrow>& arrows() const { return m_arrows; }
    void setLegend(const ViewLegend& legend);
    const ViewLegend& legend() const { return m_legend; }
    const std::vector<ViewNote>& notes() const { return m_notes; }
    /// The tool that gets the pointer first; not owned; null: none.
    void setTool(ViewTool* tool);
    ViewTool* tool() const { return m_tool; }

    /// The wanted camera's size is taken from the widget. @param glide  go there in a fifth of a second
    void setCamera(const OrbitCamera& camera, bool glide = true);
    void fitTo(const mesh::Box3& box, bool glide = true);
    /// What F and the standard views bring into view from now on; the camera stays where it is.
    void setFitBox(const mesh::Box3& box);
    /// From a standard view, fitted to the bodies (or to the box that was last fitted to).
    void lookFrom(StandardView view, bool glide = true);
    void setParallel(bool parallel);
    /// Where the camera is going: the camera itself when it rests.
    const OrbitCamera& goal() const { return m_goal; }
    /// The newest picture of the drawing thread.
    const Frame& picture() const { return m_frame; }
    /// Whether a badge's anchor can be seen.
    bool badgeSeen(std::size_t badge) const;

    // ViewHost
    const OrbitCamera& camera() const override { return m_camera; }
    std::optional<ViewHit> hitAt(ScreenPoint p) const override;
    const mesh::Mesh* pickMesh(std::size_t body) const override;
    mesh::Transform pickPlacement(std::size_t body) const override;
    const SurfaceNeighbours* pickNeighbours(std::size_t body) const override;
    void overlayChanged() override { update(); }
    void setMoving(bool moving) override;

public slots:
    void showFrame(const quoin::ui::Frame& frame);
    /// There will be no picture: says why in its place.
    void showFailure(const QString& why);

signals:
    void cameraChanged(const quoin::ui::OrbitCamera& camera);
    /// Another picture has arrived.
    void frameShown(const quoin::ui::Frame& frame);
    void parallelChanged(bool parallel);
    /// A click that moved nothing, tool or no tool.
    void clicked(const std::optional<quoin::ui::ViewHit>& hit, Qt::KeyboardModifiers modifiers);
    /// Escape, when the tool has nothing to take back.
    void escaped();
    /// A right click that moved nothing: a menu would be welcome.
    void menuWanted(const QPoint& at, const std::optional<quoin::ui::ViewHit>& hit);
    /// What the pointer and keys do now, for a status bar.
    void hintChanged(const QString& hint);

protected:
    bool event(QEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void mouseDoubleClickEvent(QMouseEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void leaveEvent(QEvent* event) override;

private:
    enum class Drag { None, Turn, Pan, Zoom, Tool };

    void beginDrag(Drag drag, ScreenPoint at);
    void dragTo(ScreenPoint at);
    void apply(OrbitCamera camera);
    void zoomAt(ScreenPoint at, double factor);
    void turnBy(double azimuth, double elevation);
    bool cameraKey(QKeyEvent& event);
    bool movingKey(QKeyEvent& event);
    void sendHint();
    mesh::Vec3 placeUnder(ScreenPoint at) const;
    mesh::Vec3 turningCentre(ScreenPoint at) const;
    OrbitCamera pictureCamera() const;
    void paintPicture(QPainter& painter) const;
    void paintOverlay(QPainter& painter);
    bool isSeen(const ViewBadge& badge, const OrbitCamera& camera) const;
    void findSeenBadges(const OrbitCamera& camera);

    QPointer<RenderThread> m_thread;
    ViewScenePtr m_scene;
    Frame m_frame;
    QString m_failure;
    PickBodies m_picks;
    std::vector<ViewBadge> m_badges;
    std::vector<ViewNote> m_notes;
    std::vector<ViewArrow> m_arrows;
    ViewLegend m_legend;
    std::vector<bool> m_badgeSeen, m_noteSeen;
    std::optional<OrbitCamera> m_seenFrom; ///< the camera that these were found for; none: find them again
    QPointer<ViewTool> m_tool;

    OrbitCamera m_camera, m_goal, m_from;
    QVariantAnimation m_glide;
    const mesh::Box3& fitBox() const;
    mesh::Box3 m_fitted;
    std::optional<OrbitCamera> m_fitGoal; ///< where fitting sent the camera last
    std::optional<mesh::Vec3> m_fixedCentre;

    Drag m_drag = Drag::None;
    Qt::MouseButton m_button = Qt::NoButton;
    bool m_dragged = false; ///< farther than a click may slip
    ScreenPoint m_press, m_last;
    mesh::Vec3 m_grabbed{0, 0, 0};
    OrbitCamera m_pressCamera;
};

} // namespace quoin::ui
