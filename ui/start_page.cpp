// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/start_page.h"

#include "ui/icons.h"
#include "ui/verdict_label.h"

#include <QDragEnterEvent>
#include <QFileInfo>
#include <QGroupBox>
#include <QLabel>
#include <QLocale>
#include <QMimeData>
#include <QPainter>
#include <QPushButton>
#include <QScrollArea>
#include <QToolButton>
#include <QUrl>
#include <QVBoxLayout>

namespace quoin::ui {

namespace {

constexpr int columnWidthPx = 680;
constexpr int primaryDarker = 165; ///< per cent

constexpr const char* whatItDoes =
    "Quoin makes a small model large. Open a model that works in your hand, say how tall it shall stand, and Quoin "
    "cuts "
    "it into pieces that fit your printers, puts dowels and numbers on every cut face, and proves on the written files "
    "that each piece fits its bed and that they go together again.";

void empty(QVBoxLayout& layout)
{
    while (QLayoutItem* item = layout.takeAt(0)) {
        // The row's own button may have led here.
        if (item->widget() != nullptr) {
            item->widget()->hide();
            item->widget()->deleteLater();
        }
        delete item;
    }
}

QLabel* wrapped(const QString& text, QWidget* parent)
{
    auto* label = new QLabel(text, parent);
    label->setWordWrap(true);
    return label;
}

} // namespace

DropArea::DropArea(QWidget* parent) : QFrame(parent)
{
    setAcceptDrops(true);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(16, 20, 16, 20);
    auto* label = wrapped("Drop model files or a project here\nSTL, 3MF, OBJ, PLY, OFF, Quoin project", this);
    label->setAlignment(Qt::AlignCenter);
    layout->addWidget(label);
    setAccessibleName("Drop area for files");
}

QStringList DropArea::filesIn(const QMimeData& data)
{
    QStringList paths;
    for (const QUrl& url : data.urls())
        if (url.isLocalFile())
            paths << url.toLocalFile();
    return paths;
}

void DropArea::dragEnterEvent(QDragEnterEvent* event)
{
    if (filesIn(*event->mimeData()).isEmpty())
        return;
    event->acceptProposedAction();
    m_over = true;
    update();
}

void DropArea::dragLeaveEvent(QDragLeaveEvent*)
{
    m_over = false;
    update();
}

void DropArea::dropEvent(QDropEvent* event)
{
    m_over = false;
    update();
    const QStringList paths = filesIn(*event->mimeData());
    if (paths.isEmpty())
        return;
    event->acceptProposedAction();
    emit dropped(paths);
}

void DropArea::paintEvent(QPaintEvent*)
{
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const QColor line = m_over ? palette().color(QPalette::Link) : outlineColour(isDark(palette()));
    painter.setBrush(palette().color(QPalette::Base));
    painter.setPen(QPen(line, m_over ? 3 : 1.5, Qt::DashLine));
    painter.drawRoundedRect(QRectF(rect()).adjusted(2, 2, -2, -2), 6, 6);
}

StartPage::StartPage(QWidget* parent) : QWidget(parent)
{
    auto* scroll = new QScrollArea(this);
    scroll->setFocusPolicy(Qt::NoFocus);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setWidgetResizable(true);
    auto* outer = new QVBoxLayout(this);
    outer->setContentsMargins(0, 0, 0, 0);
    outer->addWidget(scroll);

    auto* page = new QWidget(scroll);
    scroll->setWidget(page);
    auto* middle = new QHBoxLayout(page);
    auto* column = new QWidget(page);
    column->setMaximumWidth(columnWidthPx);
    middle->addStretch(1);
    middle->addWidget(column, 100);
    middle->addStretch(1);
    auto* layout = new QVBoxLayout(column);
    layout->setSpacing(12);
    auto* title = new QLabel("Quoin", column);
    QFont large = title->font();
    large.setPointSizeF(large.pointSizeF() * 2.2);
    title->setFont(large);
    layout->addSpacing(12);
    layout->addWidget(title);
    layout->addWidget(wrapped(whatItDoes, column));
    m_recovery = new QGroupBox("Work that was not saved", column);
    m_recoveryRows = new QVBoxLayout(m_recovery);
    layout->addWidget(m_recovery);
    layout->addWidget(buildWaysIn());
    auto* drop = new DropArea(column);
    connect(drop, &DropArea::dropped, this, &StartPage::filesWanted);
    layout->addWidget(drop);
    auto* recent = new QGroupBox("Opened before", column);
    auto* recentLayout = new QVBoxLayout(recent);
    m_noRecent = new QLabel("Nothing yet.", recent);
    recentLayout->addWidget(m_noRecent);
    m_recentRows = new QVBoxLayout;
    m_recentRows->setSpacing(2);
    recentLayout->addLayout(m_recentRows);
    layout->addWidget(recent);
    layout->addStretch();
    colourPrimary();
    setRecent({});
    setRecovery({});
}

QWidget* StartPage::buildWaysIn()
{
    auto* box = new QWidget(this);
    auto* row = new QHBoxLayout(box);
    row->setContentsMargins(0, 0, 0, 0);
    m_demo = new QPushButton("&Try it with the heron", box);
    m_demo->setDefault(true);
    m_demo->setToolTip("Opens a small mechanical heron of our own and leads through the steps, up to proved files.");
    QFont bold = m_demo->font();
    bold.setBold(true);
    m_demo->setFont(bold);
    m_open = new QPushButton(icon(Icon::Open), "&Open a model or project…", box);
    m_open->setToolTip("STL, 3MF, OBJ, PLY or OFF, or a project saved by Quoin.");
    for (QPushButton* button : {m_demo, m_open}) {
        button->setMinimumHeight(2 * fontMetrics().height() + 4);
        row->addWidget(button, 1);
    }
    connect(m_demo, &QPushButton::clicked, this, &StartPage::demoWanted);
    connect(m_open, &QPushButton::clicked, this, &StartPage::openWanted);
    return box;
}

void StartPage::changeEvent(QEvent* event)
{
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange)
        colourPrimary();
}

void StartPage::colourPrimary()
{
    QPalette colours = palette();
    // Fusion makes buttons lighter than their colour, so the text on it would fade.
    colours.setColor(QPalette::Button, colours.color(QPalette::Highlight).darker(primaryDarker));
    colours.setColor(QPalette::ButtonText, colours.color(QPalette::HighlightedText));
    m_demo->setPalette(colours);
}

void StartPage::setRecent(const std::vector<RecentFile>& files)
{
    empty(*m_recentRows);
    for (const RecentFile& file : files)
        m_recentRows->addWidget(recentRow(file));
    m_noRecent->setVisible(files.empty());
}

QWidget* StartPage::recentRow(const RecentFile& file)
{
    const QFileInfo info(file.path);
    const bool missing = !file.whyMissing.isEmpty();
    auto* row = new QWidget(this);
    auto* line = new QHBoxLayout(row);
    line->setContentsMargins(0, 0, 0, 0);
    auto* open = new QToolButton(row);
    open->setText(info.fileName());
    open->setAutoRaise(true);
    open->setFocusPolicy(Qt::StrongFocus);
    open->setEnabled(!missing);
    open->setToolTip(missing ? file.path + "\n" + file.whyMissing : file.path);
    open->setAccessibleName("Open " + info.fileName());
    auto* where = new QLabel(row);
    where->setEnabled(!missing);
    where->setText(fontMetrics().elidedText(missing ? file.whyMissing : info.path(), Qt::ElideMiddle, 330));
    where->setToolTip(open->toolTip());
    auto* when = new QLabel(QLocale().toString(file.when, "d MMM yyyy, HH:mm"), row);
    when->setEnabled(!missing);
    line->addWidget(open);
    if (missing) {
        line->addWidget(new VerdictLabel(Verdict::Warning, row));
    }
    line->addWidget(where, 1);
    line->addWidget(when);
    auto* forget = new QToolButton(row);
    forget->setIcon(icon(Icon::Clear));
    forget->setAutoRaise(true);
    forget->setFocusPolicy(Qt::StrongFocus);
    forget->setToolTip("Take it off this list; the file stays.");
    forget->setAccessibleName("Forget " + info.fileName());
    line->addWidget(forget);
    connect(open, &QToolButton::clicked, this, [this, path = file.path] { emit filesWanted({path}); });
    connect(forget, &QToolButton::clicked, this, [this, path = file.path] { emit forgetWanted(path); });
    return row;
}

void StartPage::setRecovery(const std::vector<RecoveryOffer>& offers)
{
    empty(*m_recoveryRows);
    for (const RecoveryOffer& offer : offers)
        m_recoveryRows->addWidget(recoveryRow(offer));
    m_recovery->setVisible(!offers.empty());
}

QWidget* StartPage::recoveryRow(const RecoveryOffer& offer)
{
    auto* row = new QWidget(m_recovery);
    auto* line = new QHBoxLayout(row);
    line->setContentsMargins(0, 0, 0, 0);
    auto* restore = new QPushButton("&Restore", row);
    restore->setToolTip("Open it as it was shortly before the program ended.");
    restore->setAccessibleName("Restore " + offer.text);
    auto* discard = new QPushButton("&Discard", row);
    discard->setToolTip("Throw this copy away; files that you saved stay as they are.");
    discard->setAccessibleName("Discard " + offer.text);
    line->addWidget(wrapped(offer.text, row), 1);
    line->addWidget(restore);
    line->addWidget(discard);
    connect(restore, &QPushButton::clicked, this, [this, id = offer.id] { emit recoverWanted(id); });
    connect(discard, &QPushButton::clicked, this, [this, id = offer.id] { emit discardWanted(id); });
    return row;
}

} // namespace quoin::ui

#include "moc_start_page.cpp"
