// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"
#include "ui/number_edit.h"

namespace quoin::ui {

/// A length, in mm outside, shown in a unit of the user's choice. Understands what core::lengthMmFrom does; a bare
/// number is in the unit shown. Steps: 1, 10 and 0.1 mm (inches: 0.1, 1 and 0.01).
class LengthEdit : public NumberEdit {
    Q_OBJECT
public:
    /// From 0.001 mm to 100 m until setRange says otherwise.
    explicit LengthEdit(QWidget* parent = nullptr);
    void setUnit(mesh::Unit unit);
    mesh::Unit unit() const { return m_unit; }

protected:
    Result<double> parsed(const QString& text) const override;
    QString shown(double value) const override;
    double plainStep() const override;

private:
    mesh::Unit m_unit = mesh::Unit::Millimetre;
};

/// An angle in degrees: "30", "30°", "30 deg", "-12.5". Steps: 1, 15 and 0.1 degrees.
class AngleEdit : public NumberEdit {
    Q_OBJECT
public:
    explicit AngleEdit(QWidget* parent = nullptr);

protected:
    Result<double> parsed(const QString& text) const override;
    QString shown(double value) const override;
    double plainStep() const override { return 1; }
    double coarseStep() const override { return 15; }
};

/// A scale: "8", "8x", "8 times", "800 %", "8:1" (ISO 5455 writes enlargements so), "1:2". Steps: 0.1, 1 and 0.01.
class FactorEdit : public NumberEdit {
    Q_OBJECT
public:
    /// From 0.001 to 10000 times until setRange says otherwise.
    explicit FactorEdit(QWidget* parent = nullptr);

protected:
    Result<double> parsed(const QString& text) const override;
    QString shown(double value) const override;
    double plainStep() const override { return 0.1; }
};

/// Sets the unit of all length fields below a widget.
void setLengthUnit(QWidget& panel, mesh::Unit unit);

} // namespace quoin::ui
