// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"

#include <QWidget>

#include <optional>

class QCheckBox;
class QComboBox;
class QLabel;

namespace quoin::ui {

class AngleEdit;
class LengthEdit;

/// The face that a dowel stands on, for its numbers.
struct DowelGround {
    mesh::Vec2 low{0, 0}, high{0, 0}; ///< box of the face, frame of the cut's plane
    mesh::Vec2 middle() const { return 0.5 * (low + high); }
};

/// The numbers of one dowel placed by hand: diameter (from the series or typed), depth, place on its face, key.
class DowelEditor : public QWidget {
    Q_OBJECT
public:
    explicit DowelEditor(QWidget* parent = nullptr);
    /// @param whyNot  why there is nothing to edit: its numbers are only shown
    void setDowel(const std::optional<core::JointForm>& dowel, const DowelGround& ground, const QString& whyNot = {});

signals:
    void live(const core::JointForm& dowel); ///< while a number is stepped
    /// @param what  "diameter", "place": edits of one kind one after another are one in the history
    void wanted(const core::JointForm& dowel, const QString& what);

private:
    void buildNumbers();
    void showDowel();
    void connectLength(LengthEdit* field, const QString& what, void (*set)(core::JointForm&, double));

    std::optional<core::JointForm> m_dowel;
    DowelGround m_ground;
    bool m_quiet = false;
    bool m_editable = false;
    LengthEdit* m_diameter = nullptr;
    QComboBox* m_series = nullptr;
    LengthEdit* m_depth = nullptr;
    LengthEdit* m_x = nullptr;
    LengthEdit* m_y = nullptr;
    QCheckBox* m_keyed = nullptr;
    AngleEdit* m_angle = nullptr;
};

} // namespace quoin::ui
