// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/export_page.h"

#include "ui/theme.h"
#include "ui/window_words.h"

#include <QApplication>
#include <QClipboard>
#include <QElapsedTimer>
#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollArea>
#include <QStackedWidget>
#include <QTimer>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

namespace {

constexpr int barSteps = 1000;
constexpr int tickMs = 500;
constexpr double titleSize = 1.4;

QFont titleFont(QFont font)
{
    font.setPointSizeF(titleSize * font.pointSizeF());
    font.setBold(true);
    return font;
}

QLabel* label(QWidget* parent, bool title = false)
{
    auto* made = new QLabel(parent);
    made->setWordWrap(true);
    made->setTextFormat(Qt::PlainText);
    made->setTextInteractionFlags(Qt::TextSelectableByMouse);
    if (title)
        made->setFont(titleFont(parent->font()));
    return made;
}

QString timeWords(qint64 ms)
{
    const qint64 seconds = ms / 1000;
    return seconds < 60 ? ExportPage::tr("%1 s").arg(seconds)
                        : ExportPage::tr("%1 min %2 s").arg(seconds / 60).arg(seconds % 60);
}

} // namespace

ExportPage::ExportPage(QWidget* parent)
    : QWidget(parent),
      m_stack(new QStackedWidget(this)),
      m_form(new ExportForm(this)),
      m_result(new ExportResult(this)),
      m_tick(new QTimer(this)),
      m_since(std::make_unique<QElapsedTimer>())
{
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_stack);
    m_running = makeRunning();
    m_refused = makeProblem();
    for (QWidget* page : {static_cast<QWidget*>(m_form), m_running, static_cast<QWidget*>(m_result), m_refused})
        m_stack->addWidget(page);
    connect(m_form, &ExportForm::exportWanted, this, &ExportPage::exportWanted);
    connect(m_result, &ExportResult::backWanted, this, &ExportPage::showForm);
    m_tick->setInterval(tickMs);
    connect(m_tick, &QTimer::timeout, this,
            [this] { m_stage->setText(tr("%1, %2 so far").arg(m_stageWords, timeWords(m_since->elapsed()))); });
}

ExportPage::~ExportPage() = default;

QWidget* ExportPage::makeRunning()
{
    auto* page = new QWidget(this);
    auto* layout = new QVBoxLayout(page);
    m_part = label(page, true);
    m_bar = new QProgressBar(page);
    m_bar->setRange(0, barSteps);
    m_bar->setAccessibleName(tr("Progress of the export"));
    m_stage = label(page);
    m_cancel = new QPushButton(tr("Ca&ncel"), page);
    m_cancel->setObjectName("cancel");
    layout->addStretch(1);
    layout->addWidget(m_part);
    layout->addWidget(m_bar);
    layout->addWidget(m_stage);
    layout->addWidget(m_cancel, 0, Qt::AlignRight);
    layout->addStretch(2);
    connect(m_cancel, &QPushButton::clicked, this, [this] {
        m_cancel->setEnabled(false);
        m_cancel->setToolTip(tr("It stops at the next safe place"));
        m_cancel->setText(tr("Stopping…"));
        emit cancelWanted();
    });
    return page;
}

QWidget* ExportPage::makeProblem()
{
    auto* page = new QWidget(this);
    auto* layout = new QVBoxLayout(page);
    m_problemTitle = label(page, true);
    m_problem = label(page);
    m_remedy = label(page);
    auto* area = new QScrollArea(page);
    area->setFocusPolicy(Qt::NoFocus);
    auto* words = new QWidget(area);
    auto* inside = new QVBoxLayout(words);
    inside->addWidget(m_problem);
    inside->addWidget(m_remedy);
    inside->addStretch(1);
    area->setWidget(words);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    auto* copy = new QPushButton(tr("Cop&y"), page);
    copy->setObjectName("copyProblem");
    copy->setToolTip(tr("Copies these words"));
    auto* back = new QPushButton(tr("&Back"), page);
    back->setObjectName("backFromProblem");
    back->setDefault(true);
    auto* row = new QHBoxLayout;
    row->addWidget(copy);
    row->addStretch(1);
    row->addWidget(back);
    layout->addWidget(m_problemTitle);
    layout->addWidget(area, 1);
    layout->addLayout(row);
    connect(copy, &QPushButton::clicked, this, [this] {
        QApplication::clipboard()->setText(m_problemTitle->text() + "\n" + m_problem->text() + "\n" + m_remedy->text());
    });
    connect(back, &QPushButton::clicked, this, &ExportPage::showForm);
    return page;
}

void ExportPage::showRunning(const QString& part)
{
    if (!isRunning()) {
        m_cancel->setEnabled(true);
        m_cancel->setText(tr("Ca&ncel"));
        m_cancel->setToolTip(tr("Stops; what was in the folder before stays as it was"));
        m_since->start();
        setProgress(0, tr("beginning"));
    }
    m_part->setText(tr("Exporting %1").arg(part));
    m_stack->setCurrentWidget(m_running);
    m_tick->start();
}

void ExportPage::setProgress(double fraction, const QString& stage)
{
    m_bar->setValue(std::isfinite(fraction) ? static_cast<int>(std::clamp(fraction, 0.0, 1.0) * barSteps) : 0);
    m_stageWords = stage;
    m_stage->setText(m_since->isValid() ? tr("%1, %2 so far").arg(stage, timeWords(m_since->elapsed())) : stage);
}

void ExportPage::showOutcomes(std::vector<ExportOutcome> outcomes, const QString& folder)
{
    m_tick->stop();
    m_result->setOutcomes(std::move(outcomes), folder);
    m_stack->setCurrentWidget(m_result);
}

void ExportPage::showProblem(const Problem& problem)
{
    m_tick->stop();
    if (problem.reason == Reason::Cancelled) {
        showForm();
        return;
    }
    const bool failed = problem.reason == Reason::ProofFailed;
    m_problemTitle->setText(failed ? tr("✗ Not proved: nothing was written") : tr("✗ Not exported"));
    colourTitle();
    QString words = QString::fromStdString(problem.what);
    if (!words.isEmpty())
        words[0] = words[0].toUpper();
    if (!problem.place.empty())
        words += " (" + QString::fromStdString(problem.place) + ")";
    if (!problem.file.empty())
        words += "\n" + QString::fromStdString(problem.file);
    m_problem->setText(words);
    m_remedy->setText(failed ? tr("Move a cut or change the joints. To look at the pieces all the same, tick “Write it "
                                  "even if a claim of the proof fails”; the proof in the folder then says what failed.")
                             : windowWords(problem.remedy));
    m_stack->setCurrentWidget(m_refused);
}

void ExportPage::colourTitle()
{
    QPalette colours = palette();
    colours.setColor(QPalette::WindowText, verdictColour(Verdict::Bad, isDark(palette())));
    m_problemTitle->setPalette(colours);
}

void ExportPage::changeEvent(QEvent* event)
{
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange)
        colourTitle();
    if (event->type() == QEvent::FontChange)
        for (QLabel* title : {m_part, m_problemTitle})
            title->setFont(titleFont(font()));
}

void ExportPage::showForm()
{
    m_tick->stop();
    m_stack->setCurrentWidget(m_form);
}

bool ExportPage::isRunning() const
{
    return m_stack->currentWidget() == m_running;
}

} // namespace quoin::ui
