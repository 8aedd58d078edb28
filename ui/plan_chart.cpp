// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_chart.h"

#include "ui/chart_style.h"

#include <QHelpEvent>
#include <QKeyEvent>
#include <QScrollBar>
#include <QToolTip>
#include <QWheelEvent>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

namespace {

constexpr double zoomStep = 1.25;
constexpr double mostPxPerHour = 120;
constexpr double leastBarPx = 3;
constexpr double barShare = 0.66; ///< of a row's height
constexpr double mostNamesShare = 0.3;
constexpr double wheelStep = 120;

double hoursOf(CivilMinute from, CivilMinute to)
{
    return static_cast<double>(to - from) / minutesInHour;
}

} // namespace

PlanChart::PlanChart(QWidget* parent) : QAbstractScrollArea(parent)
{
    setObjectName(QStringLiteral("planChart"));
    setAccessibleName(tr("Machines over the days"));
    setFocusPolicy(Qt::StrongFocus);
    setFrameShape(QFrame::NoFrame);
    setVerticalScrollBarPolicy(Qt::ScrollBarAsNeeded);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAsNeeded);
    viewport()->setMouseTracking(true);
}

void PlanChart::setData(ChartData data)
{
    m_data = std::move(data);
    if (barOf(m_selected) == nullptr)
        m_selected = -1;
    updateGeometry();
    arrange();
    viewport()->update();
}

PlanChart::Layout PlanChart::layoutNow() const
{
    const QFontMetricsF metrics(font());
    Layout l;
    l.line = metrics.height();
    for (const ChartRow& row : m_data.rows)
        l.names = std::max(l.names, metrics.horizontalAdvance(row.name));
    l.names = std::min(l.names + l.line, mostNamesShare * viewport()->width());
    l.head = 1.4 * l.line;
    l.foot = 1.3 * l.line;
    l.row = 2.1 * l.line;
    // Rows share what there is, but no row grows as tall as a poster.
    const double room = viewport()->height() - l.head - l.foot;
    if (!m_data.rows.empty())
        l.row = std::clamp(room / static_cast<double>(m_data.rows.size()), l.row, 1.6 * l.row);
    return l;
}

double PlanChart::xOf(CivilMinute minute, const Layout& l) const
{
    return l.names + hoursOf(m_data.from, minute) * m_pxPerHour - horizontalScrollBar()->value();
}

QRectF PlanChart::rectOf(const ChartBar& bar, const Layout& l) const
{
    const double top = l.head + bar.row * l.row - verticalScrollBar()->value();
    const double from = xOf(bar.from, l);
    return {from, top + l.row * (1 - barShare) / 2, std::max(leastBarPx, xOf(bar.to, l) - from), l.row * barShare};
}

QRectF PlanChart::barRect(int id) const
{
    const ChartBar* bar = barOf(id);
    return bar != nullptr ? rectOf(*bar, layoutNow()) : QRectF();
}

const ChartBar* PlanChart::barOf(int id) const
{
    const auto at =
        std::find_if(m_data.bars.begin(), m_data.bars.end(), [id](const ChartBar& b) { return b.id == id; });
    return at != m_data.bars.end() ? &*at : nullptr;
}

const ChartBar* PlanChart::barAt(QPointF at) const
{
    const Layout l = layoutNow();
    if (at.x() < l.names || at.y() < l.head)
        return nullptr;
    const auto hit = std::find_if(m_data.bars.begin(), m_data.bars.end(),
                                  [&](const ChartBar& b) { return rectOf(b, l).contains(at); });
    return hit != m_data.bars.end() ? &*hit : nullptr;
}

void PlanChart::arrange()
{
    const Layout l = layoutNow();
    const double hours = std::max(1.0, hoursOf(m_data.from, m_data.to));
    const double room = std::max(1.0, viewport()->width() - l.names - 1);
    const double least = room / hours;
    if (m_fit || m_pxPerHour <= least) {
        m_pxPerHour = least;
        m_fit = true;
    }
    const int beyond = m_fit ? 0 : static_cast<int>(std::ceil(hours * m_pxPerHour - room));
    horizontalScrollBar()->setPageStep(static_cast<int>(room));
    horizontalScrollBar()->setSingleStep(static_cast<int>(l.line));
    horizontalScrollBar()->setRange(0, std::max(0, beyond));
    const double tall = l.head + l.foot + static_cast<double>(m_data.rows.size()) * l.row;
    verticalScrollBar()->setPageStep(viewport()->height());
    verticalScrollBar()->setSingleStep(static_cast<int>(l.line));
    verticalScrollBar()->setRange(0, std::max(0, static_cast<int>(std::ceil(tall)) - viewport()->height()));
}

void PlanChart::setScale(double pxPerHour, double aboutX)
{
    const Layout l = layoutNow();
    const double hour = (aboutX - l.names + horizontalScrollBar()->value()) / m_pxPerHour;
    m_fit = false;
    m_pxPerHour = std::min(pxPerHour, mostPxPerHour);
    arrange();
    horizontalScrollBar()->setValue(static_cast<int>(std::lround(hour * m_pxPerHour - (aboutX - l.names))));
    viewport()->update();
}

void PlanChart::zoom(double factor)
{
    const Layout l = layoutNow();
    const ChartBar* bar = barOf(m_selected);
    const double middle = (l.names + viewport()->width()) / 2;
    const double at = bar != nullptr ? rectOf(*bar, l).center().x() : middle;
    setScale(m_pxPerHour * factor, at > l.names && at < viewport()->width() ? at : middle);
}

void PlanChart::showAll()
{
    m_fit = true;
    arrange();
    viewport()->update();
}

void PlanChart::select(int id)
{
    m_selected = barOf(id) != nullptr ? id : -1;
    if (const ChartBar* bar = barOf(m_selected)) {
        reveal(*bar);
        setAccessibleDescription(bar->tip);
    }
    viewport()->update();
}

void PlanChart::choose(int id)
{
    if (id == m_selected)
        return;
    select(id);
    emit selected(m_selected);
}

void PlanChart::reveal(const ChartBar& bar)
{
    const Layout l = layoutNow();
    const QRectF at = rectOf(bar, l);
    QScrollBar* across = horizontalScrollBar();
    if (at.left() < l.names || at.width() > viewport()->width() - l.names)
        across->setValue(across->value() + static_cast<int>(at.left() - l.names - l.line));
    else if (at.right() > viewport()->width())
        across->setValue(across->value() + static_cast<int>(at.right() - viewport()->width() + l.line));
    QScrollBar* down = verticalScrollBar();
    if (at.top() < l.head)
        down->setValue(down->value() + static_cast<int>(at.top() - l.head));
    else if (at.bottom() > viewport()->height() - l.foot)
        down->setValue(down->value() + static_cast<int>(at.bottom() - viewport()->height() + l.foot));
}

void PlanChart::step(int byBar, int byRow)
{
    if (m_data.bars.empty())
        return;
    const ChartBar* now = barOf(m_selected);
    if (now == nullptr) {
        choose(m_data.bars.front().id);
        return;
    }
    const ChartBar* best = nullptr;
    for (const ChartBar& b : m_data.bars) {
        if (byRow == 0) {
            const bool ahead = b.row == now->row && (byBar > 0 ? b.from > now->from : b.from < now->from);
            if (ahead && (best == nullptr || (byBar > 0 ? b.from < best->from : b.from > best->from)))
                best = &b;
        } else if (byRow > 0 ? b.row > now->row : b.row < now->row) {
            // The nearest row that has any print, and there the one nearest in time.
            const auto away = [&](const ChartBar& x) {
                return std::pair(std::abs(x.row - now->row), std::abs(x.from - now->from));
            };
            if (best == nullptr || away(b) < away(*best))
                best = &b;
        }
    }
    if (best != nullptr)
        choose(best->id);
}

void PlanChart::keyPressEvent(QKeyEvent* event)
{
    QScrollBar* across = horizontalScrollBar();
    switch (event->key()) {
    case Qt::Key_Left:
        return step(-1, 0);
    case Qt::Key_Right:
        return step(1, 0);
    case Qt::Key_Up:
        return step(0, -1);
    case Qt::Key_Down:
        return step(0, 1);
    case Qt::Key_Home:
        if (!m_data.bars.empty())
            choose(m_data.bars.front().id);
        return;
    case Qt::Key_End:
        if (!m_data.bars.empty())
            choose(m_data.bars.back().id);
        return;
    case Qt::Key_PageUp:
        return across->triggerAction(QAbstractSlider::SliderPageStepSub);
    case Qt::Key_PageDown:
        return across->triggerAction(QAbstractSlider::SliderPageStepAdd);
    case Qt::Key_Plus:
    case Qt::Key_Equal:
        return zoom(zoomStep);
    case Qt::Key_Minus:
        return zoom(1 / zoomStep);
    case Qt::Key_0:
        return showAll();
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (m_selected >= 0)
            emit activated(m_selected);
        return;
    default:
        QAbstractScrollArea::keyPressEvent(event);
    }
}

void PlanChart::mousePressEvent(QMouseEvent* event)
{
    if (event->button() != Qt::LeftButton)
        return;
    const ChartBar* bar = barAt(event->position());
    choose(bar != nullptr ? bar->id : -1);
}

void PlanChart::mouseDoubleClickEvent(QMouseEvent* event)
{
    if (const ChartBar* bar = barAt(event->position()))
        emit activated(bar->id);
}

void PlanChart::wheelEvent(QWheelEvent* event)
{
    const double turns = (event->angleDelta().y() != 0 ? event->angleDelta().y() : event->angleDelta().x()) / wheelStep;
    if (event->modifiers() & Qt::ControlModifier) {
        setScale(m_pxPerHour * std::pow(zoomStep, turns), event->position().x());
        event->accept();
        return;
    }
    QScrollBar* bar = event->modifiers() & Qt::ShiftModifier || verticalScrollBar()->maximum() == 0
                          ? horizontalScrollBar()
                          : verticalScrollBar();
    bar->setValue(bar->value() - static_cast<int>(turns * 3 * bar->singleStep()));
    event->accept();
}

QString PlanChart::wordsAt(QPointF at) const
{
    if (const ChartBar* bar = barAt(at))
        return bar->tip;
    const Layout l = layoutNow();
    const int row = static_cast<int>(std::floor((at.y() - l.head + verticalScrollBar()->value()) / l.row));
    const bool inRow = at.y() >= l.head && row >= 0 && row < static_cast<int>(m_data.rows.size());
    if (at.x() < l.names)
        return inRow ? m_data.rows[static_cast<std::size_t>(row)].tip : QString();
    const double hours = (at.x() - l.names + horizontalScrollBar()->value()) / m_pxPerHour;
    const CivilMinute minute = m_data.from + std::llround(hours * minutesInHour);
    if (!inRow)
        return momentWords(minute);
    const auto& spans = m_data.rows[static_cast<std::size_t>(row)].attended;
    const bool there =
        std::any_of(spans.begin(), spans.end(), [&](const auto& s) { return minute >= s.first && minute <= s.second; });
    return tr("%1: %2").arg(momentWords(minute), there ? tr("somebody is there") : tr("nobody is there"));
}

bool PlanChart::viewportEvent(QEvent* event)
{
    if (event->type() != QEvent::ToolTip)
        return QAbstractScrollArea::viewportEvent(event);
    const auto* help = static_cast<QHelpEvent*>(event);
    const QString words = wordsAt(help->pos());
    words.isEmpty() ? QToolTip::hideText() : QToolTip::showText(help->globalPos(), words, viewport());
    return true;
}

void PlanChart::resizeEvent(QResizeEvent* event)
{
    QAbstractScrollArea::resizeEvent(event);
    arrange();
}

void PlanChart::changeEvent(QEvent* event)
{
    QAbstractScrollArea::changeEvent(event);
    if (event->type() == QEvent::FontChange)
        arrange();
    viewport()->update();
}

QSize PlanChart::sizeHint() const
{
    const int line = fontMetrics().height();
    const int rows = std::clamp(static_cast<int>(m_data.rows.size()), 2, 6);
    return {60 * line, static_cast<int>(2.8 * line + rows * 2.6 * line)};
}

QSize PlanChart::minimumSizeHint() const
{
    const int line = fontMetrics().height();
    const int rows = std::clamp(static_cast<int>(m_data.rows.size()), 2, 3); // more are scrolled
    return {20 * line, static_cast<int>(3 * line + rows * 2.1 * line)};
}

} // namespace quoin::ui

#include "moc_plan_chart.cpp"
