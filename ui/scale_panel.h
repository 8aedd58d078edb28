// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/health.h"
#include "mesh/model_file.h"

#include <QWidget>

#include <array>
#include <optional>
#include <vector>

class QCheckBox;
class QComboBox;
class QGroupBox;
class QLabel;
class QPushButton;
class QToolButton;
class QVBoxLayout;

namespace quoin::ui {

class FactorEdit;
class LengthEdit;
class NumberEdit;

/// What the panel needs of the selected part.
struct ScaleSubject {
    int id = 0;
    QString name;
    double factor = 1;
    QString material;    ///< core::Material::name
    mesh::Health health; ///< of the model as read: extents, volume, area, thinnest walls
};

/// How large the part shall be: by a factor, by one of its sides, by a handy height, or as large as a bed takes it; and
/// what that does to it. Always uniform.
class ScalePanel : public QWidget {
    Q_OBJECT
public:
    explicit ScalePanel(QWidget* parent = nullptr);
    void setSubject(std::optional<ScaleSubject> subject);
    void setBeds(const std::vector<core::Bed>& beds);
    /// How many parts the design has, and how many of them are at the selected one's scale, itself among them.
    void setOthers(int parts, int alike);
    /// Whether the parts that are alike shall stay so.
    bool together() const;
    /// Extents of the sculpture that the parts make when they stand where they belong, mm, at the selected part's scale
    /// of 1; none: not known. Handy heights mean it while the parts are scaled together.
    void setWhole(std::optional<mesh::Vec3> extentsMm);
    void setUnit(mesh::Unit unit);
    /// While the largest scale for a bed is being worked out.
    void setSearching(bool searching);
    /// The lines shown under "What it does".
    QStringList effects() const { return m_lines; }

signals:
    void scaleLive(double factor);   ///< while a field is stepped
    void scaleWanted(double factor); ///< for good
    void largestWanted(int bed);     ///< index into the beds given

private:
    QWidget* buildSizes();
    QWidget* buildHandy();
    QWidget* buildLargest();
    void buildEffects(QVBoxLayout& layout);
    void connectField(NumberEdit* field, int axis);
    void adopt(double factor);
    void showAll();
    void showFields();
    void showEffects();
    void showLargest();
    void showHandy();
    /// Of what the handy heights mean, as read; 0: it has none.
    double tallAsReadMm() const;

    std::optional<ScaleSubject> m_subject;
    std::optional<mesh::Vec3> m_whole;
    mesh::Unit m_unit = mesh::Unit::Millimetre;
    bool m_searching = false;
    QStringList m_lines;
    QLabel* m_title = nullptr;
    QCheckBox* m_together = nullptr;
    FactorEdit* m_factor = nullptr;
    std::array<LengthEdit*, 3> m_sides{};
    QGroupBox* m_handyBox = nullptr;
    std::vector<QToolButton*> m_handy;
    QComboBox* m_bed = nullptr;
    QPushButton* m_largest = nullptr;
    QLabel* m_before = nullptr;
    QLabel* m_after = nullptr;
    QLabel* m_wholeWords = nullptr;
    QLabel* m_effects = nullptr;
};

} // namespace quoin::ui
