// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/number_edit.h"

#include "ui/verdict_mark.h"

#include <QKeyEvent>
#include <QLabel>
#include <QPainter>
#include <QStyleOptionFrame>
#include <QWheelEvent>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

namespace {

constexpr int restMs = 400;     ///< after the last step the value counts as wanted
constexpr int wheelNotch = 120; ///< QWheelEvent::angleDelta of one notch
constexpr int lingerMs = 6000;  ///< a message stays this long after its field was left; then it would be in the way
constexpr int messageWidthPx = 300;
constexpr double sameRelative = 1e-9; ///< rounding of a value that went through the document and back
constexpr double snapSlack = 1e-6;    ///< share of a snap step within which a value counts as on it

} // namespace

NumberEdit::NumberEdit(QWidget* parent) : QLineEdit(parent)
{
    setFocusPolicy(Qt::StrongFocus); // not the wheel: it scrolls the panel until the field is chosen
    setAlignment(Qt::AlignRight);
    m_rest.setSingleShot(true);
    m_rest.setInterval(restMs);
    connect(&m_rest, &QTimer::timeout, this, &NumberEdit::settle);
    m_linger.setSingleShot(true);
    m_linger.setInterval(lingerMs);
    connect(&m_linger, &QTimer::timeout, this, [this] {
        if (m_message != nullptr && !hasFocus())
            m_message->hide();
    });
    connect(this, &QLineEdit::textEdited, this, [this] { setProblem({}); });
}

void NumberEdit::setValue(double value)
{
    // The echo of a step, or the panel shown anew: neither ends the stepping nor wipes what is being typed.
    const bool same = std::abs(value - m_value) <= sameRelative * std::max(1.0, std::abs(value));
    if (same && (m_rest.isActive() || isModified() || !m_problem.isEmpty()))
        return;
    m_rest.stop();
    m_value = m_settled = value;
    showValue();
}

void NumberEdit::setRange(double least, double most, const QString& why)
{
    m_least = least;
    m_most = most;
    m_why = why;
}

void NumberEdit::setHelp(const QString& help)
{
    m_help = help;
    if (m_problem.isEmpty())
        setToolTip(help);
}

void NumberEdit::showValue()
{
    setText(shown(m_value));
    setModified(false);
    setProblem({});
}

Result<double> NumberEdit::checked(const QString& text) const
{
    auto value = parsed(text);
    if (!value || (*value >= m_least && *value <= m_most))
        return value;
    const bool tooSmall = *value < m_least;
    QString what = QString("%1 is too %2: %3 is the %4")
                       .arg(inWords(*value), tooSmall ? "small" : "large", inWords(tooSmall ? m_least : m_most),
                            tooSmall ? "least" : "most");
    if (!m_why.isEmpty())
        what += ", " + m_why;
    const QString remedy = m_least > -1e299 && m_most < 1e299
                               ? QString("Type a value from %1 to %2.").arg(inWords(m_least), inWords(m_most))
                               : QString();
    return Problem{Reason::BadArgument, what.toStdString(), {}, {}, remedy.toStdString()};
}

bool NumberEdit::commit()
{
    if (!isModified() && m_problem.isEmpty()) {
        settle();
        return true;
    }
    const auto value = checked(text());
    if (!value) {
        setProblem(QString::fromStdString(value.problem().sentence()));
        return false;
    }
    m_rest.stop();
    m_value = *value;
    showValue();
    settle();
    return true;
}

void NumberEdit::settle()
{
    m_rest.stop();
    if (m_value == m_settled)
        return;
    m_settled = m_value;
    emit edited(m_value);
}

void NumberEdit::take(double value)
{
    value = std::clamp(value, m_least, m_most);
    if (value == m_value)
        return;
    m_value = value;
    showValue();
    m_rest.start();
    emit liveEdited(m_value);
}

void NumberEdit::step(int steps, Qt::KeyboardModifiers modifiers)
{
    if (isReadOnly() || steps == 0)
        return;
    double from = m_value;
    if (isModified()) {
        const auto typed = checked(text());
        if (!typed) {
            setProblem(QString::fromStdString(typed.problem().sentence()));
            return;
        }
        from = *typed;
    }
    const bool coarse = modifiers & Qt::ShiftModifier, fine = modifiers & Qt::ControlModifier;
    if (m_snap > 0 && !fine) {
        const double stepSize = coarse ? 10 * m_snap : m_snap;
        const double places = from / stepSize;
        const double next = steps > 0 ? std::floor(places + snapSlack) + steps : std::ceil(places - snapSlack) + steps;
        take(next * stepSize);
        return;
    }
    take(from + steps * (coarse ? coarseStep() : fine ? fineStep() : plainStep()));
}

void NumberEdit::setProblem(const QString& problem)
{
    if (problem == m_problem)
        return;
    m_problem = problem;
    setToolTip(problem.isEmpty() ? m_help : problem);
    setAccessibleDescription(problem.isEmpty() ? m_help : problem);
    setTextMargins(0, 0, problem.isEmpty() ? 0 : fontMetrics().height() + 8, 0);
    placeMessage();
    update();
    emit problemChanged(problem);
}

void NumberEdit::placeMessage()
{
    if (m_problem.isEmpty() || !isVisible()) {
        if (m_message != nullptr)
            m_message->hide();
        return;
    }
    QWidget* const top = window();
    if (m_message == nullptr || m_message->parentWidget() != top) {
        delete m_message;
        m_message = new QLabel(top);
        m_message->setObjectName("fieldMessage");
        m_message->setWordWrap(true);
        m_message->setMargin(4);
        m_message->setAutoFillBackground(true);
        m_message->setFrameShape(QFrame::Box);
        m_message->setBackgroundRole(QPalette::ToolTipBase);
        m_message->setForegroundRole(QPalette::ToolTipText);
        m_message->setAttribute(Qt::WA_TransparentForMouseEvents);
        connect(this, &QObject::destroyed, m_message, &QObject::deleteLater);
    }
    m_message->setText(m_problem);
    const int width = std::min(std::max(messageWidthPx, this->width()), top->width());
    m_message->setFixedSize(width, m_message->heightForWidth(width));
    const QPoint below = mapTo(top, QPoint(0, height()));
    const QPoint above = mapTo(top, QPoint(0, -m_message->height()));
    const bool fitsBelow = below.y() + m_message->height() <= top->height();
    m_message->move(std::clamp(below.x(), 0, std::max(0, top->width() - width)),
                    fitsBelow ? below.y() : std::max(0, above.y()));
    m_message->raise();
    m_message->show();
    m_linger.start();
}

bool NumberEdit::event(QEvent* event)
{
    // With nothing typed, undo and redo are the document's.
    if (event->type() == QEvent::ShortcutOverride && !isModified()) {
        auto& key = static_cast<QKeyEvent&>(*event);
        if (key.matches(QKeySequence::Undo) || key.matches(QKeySequence::Redo)) {
            key.ignore();
            return false;
        }
    }
    return QLineEdit::event(event);
}

void NumberEdit::keyPressEvent(QKeyEvent* event)
{
    switch (event->key()) {
    case Qt::Key_Up:
        step(1, event->modifiers());
        return;
    case Qt::Key_Down:
        step(-1, event->modifiers());
        return;
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (commit())
            selectAll();
        return;
    case Qt::Key_Escape:
        // Only when there is something to take back; else Escape is the dialog's or the tool's.
        if (isModified() || !m_problem.isEmpty()) {
            showValue();
            selectAll();
            return;
        }
        break;
    default:
        break;
    }
    QLineEdit::keyPressEvent(event);
}

void NumberEdit::wheelEvent(QWheelEvent* event)
{
    if (!hasFocus()) {
        event->ignore();
        return;
    }
    // Alt and some desktops with Shift turn the wheel sideways.
    m_wheel += event->angleDelta().y() != 0 ? event->angleDelta().y() : event->angleDelta().x();
    const int steps = m_wheel / wheelNotch;
    m_wheel -= steps * wheelNotch;
    step(steps, event->modifiers());
    event->accept();
}

void NumberEdit::focusInEvent(QFocusEvent* event)
{
    m_wheel = 0;
    QLineEdit::focusInEvent(event);
    if (event->reason() == Qt::TabFocusReason || event->reason() == Qt::BacktabFocusReason ||
        event->reason() == Qt::ShortcutFocusReason)
        selectAll();
    placeMessage();
}

void NumberEdit::focusOutEvent(QFocusEvent* event)
{
    const QPointer<NumberEdit> alive(this);
    if (event->reason() != Qt::PopupFocusReason && event->reason() != Qt::ActiveWindowFocusReason)
        commit();
    if (alive)
        QLineEdit::focusOutEvent(event);
}

void NumberEdit::paintEvent(QPaintEvent* event)
{
    QLineEdit::paintEvent(event);
    if (m_problem.isEmpty())
        return;
    QPainter painter(this);
    const QColor colour = verdictColour(Verdict::Warning, isDark(palette()));
    const double side = fontMetrics().height();
    paintVerdict(painter, QRectF(width() - side - 5, (height() - side) / 2, side, side), Verdict::Warning, colour);
    painter.setPen(QPen(colour, 2, Qt::DashLine));
    painter.drawLine(3, height() - 3, width() - 4, height() - 3);
}

void NumberEdit::resizeEvent(QResizeEvent* event)
{
    QLineEdit::resizeEvent(event);
    placeMessage();
}

void NumberEdit::hideEvent(QHideEvent* event)
{
    if (m_message != nullptr)
        m_message->hide();
    QLineEdit::hideEvent(event);
}

QSize NumberEdit::sizeHint() const
{
    QSize hint = QLineEdit::sizeHint();
    hint.setWidth(fontMetrics().horizontalAdvance("-00 000.000 mm") + 12);
    return hint;
}

} // namespace quoin::ui

#include "moc_number_edit.cpp"
