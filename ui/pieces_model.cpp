// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/pieces_model.h"

#include "ui/quantity_text.h"
#include "ui/theme.h"
#include "ui/verdict_mark.h"

#include <QGuiApplication>
#include <QPalette>

#include <algorithm>
#include <array>

namespace quoin::ui {

namespace {

struct Heading {
    const char* title;
    const char* help;
};

constexpr std::array<Heading, PiecesModel::columnCountOf> headings{{
    {"Piece", "Its number, in the view and on the piece, and its colour in the view."},
    {"Fit", "A tick only when a pose on the bed has been found, margin included."},
    {"Size", "Width, depth and height as it stands in the part."},
    {"Bed", "The smallest bed found that it fits, or the one that it misses by least."},
    {"Neighbours", "The pieces that it meets at a cut."},
    {"Volume", "Of the solid piece, joints not counted."},
    {"Mass", "Of the solid piece in the part's material; printed hollow it weighs less."},
}};

/// A square of the piece's colour with an outline, for the colours that the ground would swallow.
QIcon swatch(const QColor& colour)
{
    QPixmap pixmap(32, 32);
    pixmap.fill(Qt::transparent);
    QPainter painter(&pixmap);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setBrush(colour);
    painter.setPen(QPen(viewColours(isDark(QGuiApplication::palette())).outline, 2.5));
    painter.drawRoundedRect(QRectF(3, 3, 26, 26), 5, 5);
    painter.end();
    QIcon icon(pixmap);
    icon.addPixmap(pixmap, QIcon::Selected); // else it is tinted, and the colour means something
    return icon;
}

Verdict verdictOf(PieceRow::Fit fit)
{
    switch (fit) {
    case PieceRow::Fit::Checking:
        return Verdict::Working;
    case PieceRow::Fit::Fits:
        return Verdict::Good;
    case PieceRow::Fit::TooLarge:
        return Verdict::Bad;
    case PieceRow::Fit::NoBed:
        break;
    }
    return Verdict::None;
}

} // namespace

QString fitWords(const PieceRow& row, mesh::Unit unit)
{
    switch (row.fit) {
    case PieceRow::Fit::Checking:
        return "checking";
    case PieceRow::Fit::Fits:
        return QString("fits, %1 to spare").arg(lengthText(row.slackMm, unit));
    case PieceRow::Fit::TooLarge:
        return QString("too large by %1").arg(lengthText(-row.slackMm, unit));
    case PieceRow::Fit::NoBed:
        return "no bed";
    }
    return {};
}

void PiecesModel::setRows(std::vector<PieceRow> rows)
{
    if (!std::ranges::equal(rows, m_rows, {}, &PieceRow::number, &PieceRow::number)) {
        beginResetModel();
        m_rows = std::move(rows);
        endResetModel();
        return;
    }
    m_rows.swap(rows);
    // Only what is new is drawn and measured again.
    for (std::size_t i = 0; i < m_rows.size();) {
        const std::size_t first = i;
        while (i < m_rows.size() && !(m_rows[i] == rows[i]))
            ++i;
        if (first < i)
            emit dataChanged(index(static_cast<int>(first), 0), index(static_cast<int>(i) - 1, columnCountOf - 1));
        else
            ++i;
    }
}

void PiecesModel::setUnit(mesh::Unit unit)
{
    m_unit = unit;
    if (!m_rows.empty())
        emit dataChanged(index(0, 0), index(rowCount() - 1, columnCountOf - 1));
}

int PiecesModel::rowCount(const QModelIndex& parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_rows.size());
}

int PiecesModel::columnCount(const QModelIndex& parent) const
{
    return parent.isValid() ? 0 : columnCountOf;
}

QString PiecesModel::text(const PieceRow& row, int column) const
{
    switch (column) {
    case Number:
        return QString::number(row.number);
    case Size:
        return extentsText(row.extentsMm, m_unit);
    case Bed:
        return row.bed;
    case Fit:
        return fitWords(row, m_unit);
    case Neighbours: {
        QStringList numbers;
        for (const int n : row.neighbours)
            numbers << QString::number(n);
        return numbers.join(", ");
    }
    case Volume:
        return volumeText(row.volumeMm3);
    case Mass:
        return massText(row.massGrams);
    default:
        return {};
    }
}

QVariant PiecesModel::sortKey(const PieceRow& row, int column)
{
    switch (column) {
    case Number:
        return row.number;
    case Size:
        return std::max({row.extentsMm.x, row.extentsMm.y, row.extentsMm.z});
    case Bed:
        return row.bed;
    case Fit:
        // Worst first: too large, then checking, then by room.
        return row.fit == PieceRow::Fit::Fits       ? 1e6 + row.slackMm
               : row.fit == PieceRow::Fit::TooLarge ? row.slackMm
                                                    : 1e5;
    case Neighbours:
        return static_cast<int>(row.neighbours.size());
    case Volume:
        return row.volumeMm3;
    case Mass:
        return row.massGrams;
    default:
        return {};
    }
}

QVariant PiecesModel::data(const QModelIndex& index, int role) const
{
    if (!index.isValid() || index.row() >= rowCount())
        return {};
    const PieceRow& row = m_rows[static_cast<std::size_t>(index.row())];
    switch (role) {
    case Qt::DisplayRole:
        return text(row, index.column());
    case sortRole:
        return sortKey(row, index.column());
    case Qt::DecorationRole:
        if (index.column() == Number)
            return swatch(row.colour);
        if (index.column() == Fit)
            return verdictIcon(verdictOf(row.fit));
        return {};
    case Qt::TextAlignmentRole:
        if (index.column() == Volume || index.column() == Mass)
            return QVariant(Qt::AlignRight | Qt::AlignVCenter);
        return {};
    case Qt::ToolTipRole:
        if (index.column() == Fit && row.fit == PieceRow::Fit::TooLarge)
            return QString("The best pose found on %1 sticks out by %2. Cut it once more, or add a larger bed.")
                .arg(row.bed, lengthText(-row.slackMm, m_unit));
        return QString("%1 of piece %2: %3")
            .arg(QString(headings[static_cast<std::size_t>(index.column())].title))
            .arg(row.number)
            .arg(text(row, index.column()));
    default:
        return {};
    }
}

QVariant PiecesModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || section < 0 || section >= columnCountOf)
        return {};
    if (role == Qt::DisplayRole)
        return QString(headings[static_cast<std::size_t>(section)].title);
    if (role == Qt::ToolTipRole)
        return QString(headings[static_cast<std::size_t>(section)].help) + " Click to sort.";
    return {};
}

PiecesFilter::PiecesFilter(QObject* parent) : QSortFilterProxyModel(parent)
{
    setSortRole(PiecesModel::sortRole);
    setDynamicSortFilter(true);
}

void PiecesFilter::setWords(const QString& words)
{
    m_words = words.simplified().split(' ', Qt::SkipEmptyParts);
    invalidateFilter();
}

bool PiecesFilter::filterAcceptsRow(int row, const QModelIndex&) const
{
    const auto& model = static_cast<const PiecesModel&>(*sourceModel());
    const PieceRow& piece = model.rows()[static_cast<std::size_t>(row)];
    const QString searched = piece.bed + '\n' + fitWords(piece, model.unit());
    return std::ranges::all_of(m_words, [&](const QString& word) {
        bool isNumber = false;
        const int number = word.toInt(&isNumber);
        return isNumber ? number == piece.number : searched.contains(word, Qt::CaseInsensitive);
    });
}

} // namespace quoin::ui

#include "moc_pieces_model.cpp"
