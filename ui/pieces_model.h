// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"
#include "mesh/vec3.h"

#include <QAbstractTableModel>
#include <QColor>
#include <QSortFilterProxyModel>

#include <vector>

namespace quoin::ui {

/// A piece as the table shows it.
struct PieceRow {
    enum class Fit {
        Checking, ///< no pose yet
        Fits,     ///< proved by a pose with room to spare
        TooLarge, ///< the best pose found sticks out
        NoBed     ///< there is no bed to fit
    };
    int number = 0;
    QColor colour; ///< as in the view
    mesh::Vec3 extentsMm{0, 0, 0};
    QString bed; ///< name of the bed of the pose
    Fit fit = Fit::Checking;
    double slackMm = 0; ///< room to spare, or by how much it is too large when negative
    std::vector<int> neighbours;
    double volumeMm3 = 0;
    double massGrams = 0;
    friend bool operator==(const PieceRow&, const PieceRow&) = default;
};

/// "fits, 12.3 mm to spare", "too large by 4.0 mm", "checking", "no bed"
QString fitWords(const PieceRow& row, mesh::Unit unit = mesh::Unit::Millimetre);

class PiecesModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Column { Number, Fit, Size, Bed, Neighbours, Volume, Mass, columnCountOf };
    static constexpr int sortRole = Qt::UserRole;

    using QAbstractTableModel::QAbstractTableModel;
    /// Rows of the same numbers in the same order are brought up to date in place.
    void setRows(std::vector<PieceRow> rows);
    void setUnit(mesh::Unit unit);
    const std::vector<PieceRow>& rows() const { return m_rows; }
    mesh::Unit unit() const { return m_unit; }

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    QString text(const PieceRow& row, int column) const;
    static QVariant sortKey(const PieceRow& row, int column);

    std::vector<PieceRow> m_rows;
    mesh::Unit m_unit = mesh::Unit::Millimetre;
};

/// Sorts by what the texts stand for, and keeps the rows that every word of the filter is found in: a whole number is
/// that of the piece, any other word is part of the bed's name or of the words about the fit.
class PiecesFilter : public QSortFilterProxyModel {
    Q_OBJECT
public:
    explicit PiecesFilter(QObject* parent);
    void setWords(const QString& words);

protected:
    bool filterAcceptsRow(int row, const QModelIndex& parent) const override;

private:
    QStringList m_words;
};

} // namespace quoin::ui
