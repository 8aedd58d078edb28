// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"
#include "mesh/vec3.h"

#include <QAbstractListModel>
#include <QStyledItemDelegate>

#include <vector>

namespace quoin::ui {

/// A part of the sculpture as the list shows it.
struct PartRow {
    enum class Health { Sound, Mended, Warning };
    int id = 0; ///< core::PartDesign::id
    QString name;
    mesh::Vec3 extentsMm{0, 0, 0}; ///< scaled
    double scale = 1;
    int pieces = 1;
    QString state; ///< "cutting", "2 pieces don't fit"; empty when all is quiet
    Health health = Health::Sound;
    QString healthTip; ///< what was mended, what is wrong
    bool visible = true;
    int quantity = 1;
    QString material; ///< core::Material::name
    friend bool operator==(const PartRow&, const PartRow&) = default;
};

QString healthWord(PartRow::Health health);

/// The rows; the check is "shown in the view". Edits are not made here but asked for with signals.
class PartsModel : public QAbstractListModel {
    Q_OBJECT
public:
    using QAbstractListModel::QAbstractListModel;
    /// Rows of the same ids in the same order are brought up to date in place: selection and editors stay.
    void setRows(std::vector<PartRow> rows);
    void setUnit(mesh::Unit unit);
    const PartRow& row(int index) const { return m_rows[static_cast<std::size_t>(index)]; }
    int indexOf(int id) const; ///< -1: none
    /// The second line: "1200 × 800 × 350 mm, 8 ×, 12 pieces".
    QString figures(const PartRow& row) const;

    int rowCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    bool setData(const QModelIndex& index, const QVariant& value, int role) override;
    Qt::ItemFlags flags(const QModelIndex& index) const override;

signals:
    void visibleWanted(int id, bool visible);
    void renameWanted(int id, const QString& name);

private:
    std::vector<PartRow> m_rows;
    mesh::Unit m_unit = mesh::Unit::Millimetre;
};

/// Draws a row in two lines: check, name, quantity and health; figures and state below.
class PartsDelegate : public QStyledItemDelegate {
    Q_OBJECT
public:
    explicit PartsDelegate(const PartsModel& model, QObject* parent) : QStyledItemDelegate(parent), m_model(model) {}
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    void updateEditorGeometry(QWidget* editor, const QStyleOptionViewItem& option,
                              const QModelIndex& index) const override;
    bool editorEvent(QEvent* event, QAbstractItemModel* model, const QStyleOptionViewItem& option,
                     const QModelIndex& index) override;

private:
    const PartsModel& m_model;
};

} // namespace quoin::ui
