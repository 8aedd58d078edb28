// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/parts_model.h"

#include "ui/quantity_text.h"
#include "ui/verdict_mark.h"

#include <QApplication>
#include <QMouseEvent>
#include <QPainter>
#include <QStyleOptionButton>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr int paddingPx = 6;

/// Where the things of a row are.
struct Layout {
    QRect check, name, health, figures;
};

Layout layoutOf(const QStyleOptionViewItem& option)
{
    const QRect area = option.rect.adjusted(paddingPx, paddingPx, -paddingPx, -paddingPx);
    const int line = option.fontMetrics.height();
    const int box = QApplication::style()->pixelMetric(QStyle::PM_IndicatorWidth, &option, option.widget);
    Layout out;
    out.check = QRect(area.left(), area.top() + (line - box) / 2, box, box);
    const int left = area.left() + box + paddingPx;
    out.health = QRect(area.right() - line + 1, area.top(), line, line);
    out.name = QRect(left, area.top(), out.health.left() - paddingPx - left, line);
    out.figures = QRect(left, area.top() + line + 3, area.right() - left + 1, line);
    return out;
}

Verdict verdictOf(PartRow::Health health)
{
    switch (health) {
    case PartRow::Health::Sound:
        return Verdict::Good;
    case PartRow::Health::Mended:
        return Verdict::Mended;
    case PartRow::Health::Warning:
        break;
    }
    return Verdict::Warning;
}

bool sameIds(const std::vector<PartRow>& a, const std::vector<PartRow>& b)
{
    return std::ranges::equal(a, b, {}, &PartRow::id, &PartRow::id);
}

} // namespace

QString healthWord(PartRow::Health health)
{
    switch (health) {
    case PartRow::Health::Sound:
        return "sound";
    case PartRow::Health::Mended:
        return "mended";
    case PartRow::Health::Warning:
        return "not sound";
    }
    return {};
}

void PartsModel::setRows(std::vector<PartRow> rows)
{
    if (!sameIds(rows, m_rows)) {
        beginResetModel();
        m_rows = std::move(rows);
        endResetModel();
        return;
    }
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (!(rows[i] == m_rows[i])) {
            m_rows[i] = std::move(rows[i]);
            const QModelIndex at = index(static_cast<int>(i));
            emit dataChanged(at, at);
        }
}

void PartsModel::setUnit(mesh::Unit unit)
{
    m_unit = unit;
    if (!m_rows.empty())
        emit dataChanged(index(0), index(rowCount() - 1));
}

int PartsModel::indexOf(int id) const
{
    const auto at = std::ranges::find(m_rows, id, &PartRow::id);
    return at == m_rows.end() ? -1 : static_cast<int>(at - m_rows.begin());
}

int PartsModel::rowCount(const QModelIndex& parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_rows.size());
}

QString PartsModel::figures(const PartRow& row) const
{
    return QString("%1, %2 ×, %3%4")
        .arg(extentsText(row.extentsMm, m_unit), numberText(row.scale, 3),
             row.pieces == 1 ? QString("1 piece") : QString("%1 pieces").arg(row.pieces),
             row.quantity == 1 ? QString() : QString(", made %1 times").arg(row.quantity));
}

QVariant PartsModel::data(const QModelIndex& index, int role) const
{
    if (!index.isValid() || index.row() >= rowCount())
        return {};
    const PartRow& r = row(index.row());
    switch (role) {
    case Qt::DisplayRole:
    case Qt::EditRole:
        return r.name;
    case Qt::CheckStateRole:
        return static_cast<int>(r.visible ? Qt::Checked : Qt::Unchecked);
    case Qt::ToolTipRole: {
        QString tip = QString("%1: %2").arg(r.name, healthWord(r.health));
        if (!r.healthTip.isEmpty())
            tip += "\n" + r.healthTip;
        return tip + "\n" + figures(r) + "\nThe box shows or hides it in the view.";
    }
    case Qt::AccessibleTextRole:
        return QString("%1, %2, %3, %4%5")
            .arg(r.name, r.visible ? "shown" : "hidden", healthWord(r.health), figures(r),
                 r.state.isEmpty() ? QString() : ", " + r.state);
    default:
        return {};
    }
}

bool PartsModel::setData(const QModelIndex& index, const QVariant& value, int role)
{
    if (!index.isValid())
        return false;
    const PartRow& r = row(index.row());
    if (role == Qt::CheckStateRole) {
        const bool visible = value.toInt() == Qt::Checked;
        if (visible != r.visible)
            emit visibleWanted(r.id, visible);
        return true;
    }
    if (role == Qt::EditRole) {
        const QString name = value.toString().simplified();
        if (name.isEmpty() || name == r.name)
            return false;
        emit renameWanted(r.id, name);
        return true;
    }
    return false;
}

Qt::ItemFlags PartsModel::flags(const QModelIndex& index) const
{
    if (!index.isValid())
        return Qt::NoItemFlags;
    return Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsUserCheckable | Qt::ItemIsEditable |
           Qt::ItemNeverHasChildren;
}

void PartsDelegate::paint(QPainter* painter, const QStyleOptionViewItem& given, const QModelIndex& index) const
{
    QStyleOptionViewItem option = given;
    initStyleOption(&option, index);
    const QStyle& style = *QApplication::style();
    style.drawPrimitive(QStyle::PE_PanelItemViewItem, &option, painter, option.widget);
    const PartRow& row = m_model.row(index.row());
    const Layout at = layoutOf(option);
    const bool selected = option.state & QStyle::State_Selected;
    const QColor ink = option.palette.color(selected ? QPalette::HighlightedText : QPalette::Text);
    const bool dark = isDark(option.palette);

    QStyleOptionButton check;
    check.rect = at.check;
    check.palette = option.palette;
    check.state = QStyle::State_Enabled | (row.visible ? QStyle::State_On : QStyle::State_Off);
    style.drawPrimitive(QStyle::PE_IndicatorItemViewItemCheck, &check, painter, option.widget);

    painter->save();
    QFont bold = option.font;
    bold.setBold(true);
    const Verdict verdict = verdictOf(row.health);
    const QColor healthInk = selected ? ink : verdictColour(verdict, dark);
    const QString word = row.health == PartRow::Health::Sound ? QString() : healthWord(row.health);
    QRect name = at.name;
    name.setRight(name.right() - option.fontMetrics.horizontalAdvance(word) - (word.isEmpty() ? 0 : paddingPx));
    painter->setPen(healthInk);
    painter->drawText(at.name, Qt::AlignVCenter | Qt::AlignRight, word);
    paintVerdict(*painter, at.health, verdict, healthInk);
    painter->setFont(bold);
    painter->setPen(ink);
    painter->drawText(name, Qt::AlignVCenter | Qt::AlignLeft,
                      QFontMetrics(bold).elidedText(row.name, Qt::ElideRight, name.width()));
    painter->setFont(option.font);
    painter->drawText(at.figures, Qt::AlignVCenter | Qt::AlignLeft,
                      option.fontMetrics.elidedText(m_model.figures(row), Qt::ElideRight, at.figures.width()));
    if (!row.state.isEmpty()) {
        painter->setPen(selected ? ink : verdictColour(Verdict::Working, dark));
        const QRect below = at.figures.translated(0, option.fontMetrics.height() + 2);
        painter->drawText(below, Qt::AlignVCenter | Qt::AlignLeft,
                          option.fontMetrics.elidedText(row.state, Qt::ElideRight, below.width()));
    }
    painter->restore();
    if (option.state & QStyle::State_HasFocus) {
        QStyleOptionFocusRect focus;
        focus.QStyleOption::operator=(option);
        focus.rect = option.rect.adjusted(1, 1, -1, -1);
        style.drawPrimitive(QStyle::PE_FrameFocusRect, &focus, painter, option.widget);
    }
}

QSize PartsDelegate::sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const
{
    const int line = option.fontMetrics.height();
    const bool state = !m_model.row(index.row()).state.isEmpty();
    return {200, 2 * paddingPx + 2 * line + 3 + (state ? line + 2 : 0)};
}

void PartsDelegate::updateEditorGeometry(QWidget* editor, const QStyleOptionViewItem& option, const QModelIndex&) const
{
    editor->setGeometry(layoutOf(option).name.adjusted(-3, -3, 3, 3));
}

bool PartsDelegate::editorEvent(QEvent* event, QAbstractItemModel* model, const QStyleOptionViewItem& option,
                                const QModelIndex& index)
{
    if (event->type() == QEvent::MouseButtonRelease || event->type() == QEvent::MouseButtonDblClick) {
        const QRect box = layoutOf(option).check.adjusted(-4, -4, 4, 4); // easier to hit
        if (box.contains(static_cast<QMouseEvent*>(event)->position().toPoint())) {
            if (event->type() == QEvent::MouseButtonRelease)
                model->setData(index, m_model.row(index.row()).visible ? Qt::Unchecked : Qt::Checked,
                               Qt::CheckStateRole);
            return true;
        }
    }
    if (event->type() == QEvent::KeyPress && static_cast<QKeyEvent*>(event)->key() == Qt::Key_Space)
        return model->setData(index, m_model.row(index.row()).visible ? Qt::Unchecked : Qt::Checked,
                              Qt::CheckStateRole);
    return false;
}

} // namespace quoin::ui

#include "moc_parts_model.cpp"
