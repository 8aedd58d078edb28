// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/main_window.h"

#include "ui/beds_panel.h"
#include "ui/cut_controller.h"
#include "ui/cut_tool.h"
#include "ui/export_controller.h"
#include "ui/file_controller.h"
#include "ui/fits_controller.h"
#include "ui/icons.h"
#include "ui/job_strip.h"
#include "ui/joint_controller.h"
#include "ui/joint_page.h"
#include "ui/joint_tool.h"
#include "ui/joints_panel.h"
#include "ui/log_panel.h"
#include "ui/measure_tool.h"
#include "ui/model_page.h"
#include "ui/model_view.h"
#include "ui/order_controller.h"
#include "ui/order_panel.h"
#include "ui/paint_tool.h"
#include "ui/part_controller.h"
#include "ui/parts_panel.h"
#include "ui/pieces_panel.h"
#include "ui/plan_board.h"
#include "ui/plan_controller.h"
#include "ui/plan_panel.h"
#include "ui/render_thread.h"
#include "ui/scale_panel.h"
#include "ui/start_page.h"
#include "ui/step_bar.h"
#include "ui/strength_controller.h"
#include "ui/strength_panel.h"
#include "ui/suggest_controller.h"
#include "ui/verdict_mark.h"
#include "ui/view_controller.h"

#include <QCloseEvent>
#include <QDockWidget>
#include <QLabel>
#include <QMimeData>
#include <QPushButton>
#include <QScrollArea>
#include <QSettings>
#include <QSplitter>
#include <QStackedWidget>
#include <QStatusBar>
#include <QTabWidget>
#include <QTimer>
#include <QToolButton>
#include <QVBoxLayout>

namespace quoin::ui {

namespace {

constexpr int leftWidthPx = 360;
constexpr int rightWidthPx = 396;
constexpr int leastRightPx = 364;
constexpr int announceMs = 350;
constexpr int leastViewPx = 320;

/// A panel that can be scrolled when the window is low.
QScrollArea* scrolled(QWidget* panel, QWidget* parent)
{
    auto* area = new QScrollArea(parent);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setFocusPolicy(Qt::NoFocus); // it follows what is focused in it
    area->setWidget(panel);
    // In a narrow window the view keeps its room, and a wide panel is scrolled sideways.
    area->setMinimumWidth(std::min(panel->minimumSizeHint().width() + 16, leastRightPx));
    return area;
}

QToolButton* buttonFor(QAction* action, Icon which, QWidget* parent)
{
    auto* button = new QToolButton(parent);
    action->setIcon(icon(which));
    button->setDefaultAction(action);
    button->setToolButtonStyle(Qt::ToolButtonIconOnly);
    button->setAutoRaise(true);
    button->setFocusPolicy(Qt::TabFocus);
    button->setAccessibleName(action->text().remove('&'));
    return button;
}

} // namespace

MainWindow::MainWindow() : m_bench(new Bench(this)), m_actions(new Actions(this))
{
    setObjectName(QStringLiteral("mainWindow"));
    setAcceptDrops(true);
    setMinimumSize(900, 600);
    makePanels();
    makeControllers();
    makeActions();
    makeMenus();
    m_pages->addWidget(m_start);
    m_pages->addWidget(makeWorkspace());
    auto* body = new QWidget(this);
    auto* column = new QVBoxLayout(body);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    column->addWidget(makeTop());
    column->addWidget(m_pages, 1);
    column->addWidget(m_jobStrip);
    setCentralWidget(body);
    connectAll();
    restoreLayout();
    showTheme();
    showRecent();
    showRecovery();
    showTitle();
    showStanding();
    goTo(JobStep::Load);
}

MainWindow::~MainWindow()
{
    // Work that is going on may hold on to what the controllers own.
    m_bench->stop();
    m_view->drawWith(nullptr);
}

void MainWindow::makePanels()
{
    m_pages = new QStackedWidget(this);
    m_start = new StartPage(this);
    m_stepBar = new StepBar(this);
    m_view = new ModelView(this);
    m_view->setMinimumWidth(leastViewPx);
    m_render = std::make_unique<RenderThread>();
    m_view->drawWith(m_render.get());
    m_modelPage = new ModelPage(this);
    m_parts = new PartsPanel(this);
    m_pieces = new PiecesPanel(this);
    m_scale = new ScalePanel(this);
    m_beds = new BedsPanel(this);
    m_suggest = new SuggestPanel(this);
    m_cuts = new CutsPanel(this);
    m_joints = new JointsPanel(this);
    m_strength = new StrengthPanel(this);
    m_order = new OrderPanel(this);
    m_jointPage = new JointPage(m_joints, m_strength, m_order, this);
    m_export = new ExportPage(this);
    m_board = new PlanBoard(this);
    m_planPanel = new PlanPanel(this);
    m_jobStrip = new JobStrip(this);
    m_hint = new QLabel(this);
    m_hint->setObjectName(QStringLiteral("hint"));
    m_log = new LogPanel(this);
    m_logDock = new QDockWidget(tr("Log"), this);
    m_logDock->setObjectName(QStringLiteral("logDock"));
    m_logDock->setWidget(m_log);
    addDockWidget(Qt::BottomDockWidgetArea, m_logDock);
    m_logDock->hide();
    statusBar()->addWidget(m_hint, 1);
}

void MainWindow::makeControllers()
{
    m_viewController = new ViewController(*m_bench, *m_view, this);
    m_files = new FileController(*m_bench, this);
    m_partController = new PartController(*m_bench, *m_parts, *m_scale, *m_pieces, this);
    m_cutController = new CutController(*m_bench, *m_cuts, *m_viewController, this);
    m_suggestController = new SuggestController(*m_bench, *m_suggest, *m_beds, this);
    m_jointController = new JointController(*m_bench, *m_joints, *m_viewController, this);
    m_strengthController = new StrengthController(*m_bench, *m_strength, *m_joints, *m_viewController, this);
    m_orderController = new OrderController(*m_bench, *m_order, *m_viewController, this);
    m_fits = new FitsController(*m_bench, this);
    m_exportController = new ExportController(*m_bench, *m_export, this);
    m_planController = new PlanController(*m_bench, *m_board, *m_planPanel, this);
    m_measure = new MeasureTool(this);
    m_paint = new PaintTool(this);
}

QWidget* MainWindow::makeTop()
{
    auto* top = new QWidget(this);
    auto* row = new QHBoxLayout(top);
    row->setContentsMargins(8, 4, 8, 4);
    Actions& a = *m_actions;
    for (const auto& [id, which] :
         {std::pair{"open", Icon::Open}, {"save", Icon::Save}, {"undo", Icon::Undo}, {"redo", Icon::Redo}})
        row->addWidget(buttonFor(a[id], which, top));
    row->addStretch();
    row->addWidget(m_stepBar);
    row->addStretch();
    for (const auto& [id, which] : {std::pair{"fitAll", Icon::FitView},
                                    {"edges", Icon::Edges},
                                    {"seeThrough", Icon::Section},
                                    {"person", Icon::Person},
                                    {"parallel", Icon::Parallel},
                                    {"measureDistance", Icon::Measure},
                                    {"paint", Icon::Paint}})
        row->addWidget(buttonFor(a[id], which, top));
    return top;
}

QWidget* MainWindow::makeSteps()
{
    m_steps = new QStackedWidget(this);
    m_cutTabs = new QTabWidget(this);
    m_cutTabs->setObjectName(QStringLiteral("cutTabs"));
    m_cutTabs->setDocumentMode(true);
    m_cutTabs->addTab(scrolled(m_beds, m_cutTabs), tr("&Beds"));
    m_cutTabs->addTab(scrolled(m_suggest, m_cutTabs), tr("Su&ggest"));
    m_cutTabs->addTab(scrolled(m_cuts, m_cutTabs), tr("Cuts"));
    m_cutTabs->setCurrentIndex(suggestTab);
    m_steps->addWidget(scrolled(m_modelPage, m_steps));
    m_steps->addWidget(scrolled(m_scale, m_steps));
    m_steps->addWidget(m_cutTabs);
    m_steps->addWidget(m_jointPage);
    m_steps->addWidget(scrolled(m_export, m_steps));
    m_steps->addWidget(scrolled(m_planPanel, m_steps));

    auto* right = new QWidget(this);
    auto* column = new QVBoxLayout(right);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(m_steps, 1);
    auto* next = new QFrame(right);
    next->setFrameShape(QFrame::StyledPanel);
    auto* nextColumn = new QVBoxLayout(next);
    m_nextWords = new QLabel(next);
    m_nextWords->setWordWrap(true);
    m_nextButton = new QPushButton(next);
    m_nextButton->setObjectName(QStringLiteral("nextButton"));
    nextColumn->addWidget(m_nextWords);
    nextColumn->addWidget(m_nextButton);
    column->addWidget(next);
    return right;
}

QWidget* MainWindow::makeMiddle()
{
    auto* middle = new QWidget(this);
    auto* column = new QVBoxLayout(middle);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    m_noteBar = new QFrame(middle);
    m_noteBar->setObjectName(QStringLiteral("noteBar"));
    auto* row = new QHBoxLayout(m_noteBar);
    m_noteMark = new QLabel(m_noteBar);
    m_note = new QLabel(m_noteBar);
    m_note->setWordWrap(true);
    m_note->setTextInteractionFlags(Qt::TextSelectableByMouse);
    auto* close = new QToolButton(m_noteBar);
    close->setText(tr("Close"));
    close->setToolTip(tr("Take this note away; it stays in the log (Ctrl+L)"));
    connect(close, &QToolButton::clicked, m_noteBar, &QWidget::hide);
    row->addWidget(m_noteMark);
    row->addWidget(m_note, 1);
    row->addWidget(close);
    m_noteBar->hide();
    column->addWidget(m_noteBar);
    m_middle = new QStackedWidget(middle);
    m_middle->addWidget(m_view);
    m_middle->addWidget(m_board);
    column->addWidget(m_middle, 1);
    return middle;
}

QWidget* MainWindow::makeWorkspace()
{
    auto* left = new QSplitter(Qt::Vertical, this);
    left->addWidget(m_parts);
    left->addWidget(m_pieces);
    left->setStretchFactor(0, 2);
    left->setStretchFactor(1, 3);
    left->setChildrenCollapsible(false);
    m_lists = left;
    auto* across = new QSplitter(Qt::Horizontal, this);
    across->setObjectName(QStringLiteral("across"));
    across->addWidget(left);
    across->addWidget(makeMiddle());
    across->addWidget(makeSteps());
    across->setStretchFactor(0, 0);
    across->setStretchFactor(1, 4);
    across->setStretchFactor(2, 0); // what the lists leave is the view's
    return across;
}

void MainWindow::shareRoom()
{
    const int view = std::max(leastViewPx, width() - leftWidthPx - rightWidthPx);
    findChild<QSplitter*>(QStringLiteral("across"))->setSizes({leftWidthPx, view, rightWidthPx});
}

void MainWindow::connectAll()
{
    connect(m_start, &StartPage::openWanted, m_files, &FileController::askAndOpen);
    connect(m_start, &StartPage::filesWanted, m_files, &FileController::open);
    connect(m_start, &StartPage::forgetWanted, m_files, &FileController::forgetRecent);
    connect(m_start, &StartPage::demoWanted, m_files, &FileController::openHeron);
    const auto session = [this](const QString& id, auto act) {
        for (const core::LostSession& lost : m_files->lostSessions())
            if (QString::fromStdString(lost.folder.string()) == id)
                act(lost);
    };
    connect(m_start, &StartPage::recoverWanted, this, [this, session](const QString& id) {
        session(id, [this](const core::LostSession& lost) { m_files->recover(lost); });
    });
    connect(m_start, &StartPage::discardWanted, this, [this, session](const QString& id) {
        session(id, [this](const core::LostSession& lost) { m_files->discard(lost); });
    });
    connect(m_files, &FileController::recentChanged, this, &MainWindow::showRecent);
    connect(m_files, &FileController::recoveryChanged, this, &MainWindow::showRecovery);
    connect(m_stepBar, &StepBar::stepWanted, this, [this](int step) { goTo(static_cast<JobStep>(step - 1)); });
    connect(m_partController, &PartController::addWanted, m_files, &FileController::askAndAdd);
    connect(m_modelPage, &ModelPage::unitWanted, m_partController, &PartController::setUnit);
    connect(m_jointPage, &JointPage::tabWanted, this,
            [this](JointTab tab) { m_bench->look([tab](ViewState& state) { state.jointTab = tab; }); });
    connect(m_jointController, &JointController::selected, m_strength, &StrengthPanel::select);
    connect(m_strength, &StrengthPanel::faceSelected, this, [this](int seam) { m_jointController->select(seam, -1); });
    connect(m_jointController, &JointController::fitsWanted, m_fits, &FitsController::show);
    connect(m_suggestController, &SuggestController::bedsWanted, this, [this] { m_cutTabs->setCurrentIndex(bedsTab); });
    connect(m_suggestController, &SuggestController::busyChanged, this, &MainWindow::showStanding);
    connect(m_nextButton, &QPushButton::clicked, this, &MainWindow::doNext);
    connect(m_view, &ModelView::hintChanged, m_hint, &QLabel::setText);
    connect(m_view, &ModelView::escaped, this, &MainWindow::leaveTool);
    connect(&m_bench->document(), &Document::designChanged, this, &MainWindow::showStanding);
    connect(&m_bench->document(), &Document::workChanged, this, &MainWindow::showStanding);
    connect(&m_bench->document(), &Document::fileChanged, this, &MainWindow::showTitle);
    connect(m_exportController, &ExportController::started, this, &MainWindow::showStanding);
    connect(m_exportController, &ExportController::ended, this, &MainWindow::showStanding);
    connect(m_planController, &PlanController::standingChanged, this, &MainWindow::showStanding);
    connect(m_bench, &Bench::chosen, this, [this] {
        showStanding();
        showTool();
    });
    connect(m_bench, &Bench::healthKnown, this, &MainWindow::showStanding);
    connect(m_bench, &Bench::said, this, &MainWindow::showNote);
    connect(&m_bench->jobs(), &Jobs::started, this, [this](Job* job) {
        const int number = m_nextJob++;
        // What is done in a moment is not announced: the view would only jump.
        QTimer::singleShot(announceMs, job, [this, job, number] { m_jobStrip->start(number, job->name()); });
        connect(job, &Job::progressed, m_jobStrip,
                [this, number](double f, const QString& stage) { m_jobStrip->report(number, f, stage); });
        connect(job, &QObject::destroyed, m_jobStrip, [this, number] { m_jobStrip->finish(number); });
        connect(m_jobStrip, &JobStrip::cancelWanted, job, [job, number](int wanted) {
            if (wanted == number)
                job->cancel();
        });
    });
    connect(m_paint, &PaintTool::stroke, this,
            [this](const std::vector<mesh::Index>& triangles, bool mark, std::size_t) {
                if (const core::PartDesign* part = m_bench->part())
                    m_bench->document().editPart(mark ? tr("Mark a place") : tr("Unmark a place"),
                                                 core::withKeepClear(*part, triangles, mark));
            });
    connect(m_paint, &PaintTool::refused, this,
            [this](const QString& why) { m_bench->say(Note::Severity::Warning, why); });
    connect(m_measure, &MeasureTool::measured, this,
            [this](const QString& text) { m_bench->say(Note::Severity::Info, tr("measured: %1").arg(text)); });
    connect(m_measure, &MeasureTool::refused, this,
            [this](const QString& why) { m_bench->say(Note::Severity::Info, why); });
    connect(m_viewController, &ViewController::rebuilt, m_measure, [this] {
        if (m_view->tool() != m_measure)
            m_measure->bodiesChanged();
    });
}

void MainWindow::open(const QStringList& files)
{
    m_files->open(files);
}

void MainWindow::goTo(JobStep step)
{
    m_steps->setCurrentIndex(static_cast<int>(step));
    // The chart needs the room, and the plan lists parts and pieces itself.
    m_middle->setCurrentIndex(step == JobStep::Plan ? 1 : 0);
    m_lists->setVisible(step != JobStep::Plan);
    m_hint->setVisible(step != JobStep::Plan); // it is about the view
    m_stepBar->setCurrent(static_cast<int>(step) + 1);
    m_bench->look([step](ViewState& state) {
        state.step = step;
        state.liveScale.reset();
        state.livePlane.reset();
        if (step != JobStep::Cut) {
            state.preview.reset();
            state.painting = false;
        }
    });
}

void MainWindow::closeEvent(QCloseEvent* event)
{
    if (!m_files->mayClose()) {
        event->ignore();
        return;
    }
    QSettings settings;
    settings.setValue(QStringLiteral("window/geometry"), saveGeometry());
    settings.setValue(QStringLiteral("window/state"), saveState());
    m_files->closed();
    event->accept();
}

void MainWindow::dragEnterEvent(QDragEnterEvent* event)
{
    if (!DropArea::filesIn(*event->mimeData()).isEmpty())
        event->acceptProposedAction();
}

void MainWindow::dropEvent(QDropEvent* event)
{
    m_files->open(DropArea::filesIn(*event->mimeData()));
    event->acceptProposedAction();
}

void MainWindow::changeEvent(QEvent* event)
{
    QMainWindow::changeEvent(event);
    if (event->type() == QEvent::PaletteChange && m_viewController != nullptr)
        showTheme();
}

} // namespace quoin::ui
