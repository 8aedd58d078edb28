// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"
#include "mesh/plane.h"

#include <QWidget>

#include <array>

class QButtonGroup;
class QComboBox;
class QLabel;
class QLineEdit;
class QSlider;
class QToolButton;

namespace quoin::ui {

class AngleEdit;
class LengthEdit;

/// Numbers of one plane: across an axis, by two angles, or by a typed normal; its place along the normal; flipped.
class PlaneEditor : public QWidget {
    Q_OBJECT
public:
    explicit PlaneEditor(QWidget* parent = nullptr);
    /// Without a signal. @param part  bounds of the scaled part, mm
    void setPlane(const mesh::Plane& plane, const mesh::Box3& part);
    const mesh::Plane& plane() const { return m_plane; }
    void setUnit(mesh::Unit unit);
    /// Step that positions snap to, mm; 0: off.
    double snapMm() const;
    void setSnapMm(double snapMm);

signals:
    void live(const mesh::Plane& plane);
    void wanted(const mesh::Plane& plane);
    void snapChanged(double snapMm);

private:
    QWidget* buildDirection();
    QWidget* buildPosition();
    void connectFields();
    /// Turned so that it still passes the same place in the middle of the part.
    mesh::Plane turned(mesh::Vec3 normal) const;
    void adopt(const mesh::Plane& plane, bool forGood);
    void takeNormal();
    void slide(int place);
    void showAll();
    void showPosition();
    double sign() const; ///< -1 when the place is told along the axis but the normal points down it
    void say(const QString& problem);

    mesh::Plane m_plane;
    mesh::Box3 m_part;
    mesh::Unit m_unit = mesh::Unit::Millimetre;
    bool m_quiet = false;
    std::array<QToolButton*, 3> m_axes{};
    AngleEdit* m_turn = nullptr;
    AngleEdit* m_tilt = nullptr;
    QLineEdit* m_normal = nullptr;
    QWidget* m_mark = nullptr;
    QLabel* m_problem = nullptr;
    LengthEdit* m_position = nullptr;
    QSlider* m_slider = nullptr;
    QComboBox* m_snap = nullptr;
    QToolButton* m_flip = nullptr;
};

} // namespace quoin::ui
