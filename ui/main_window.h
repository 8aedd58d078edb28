// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/actions.h"
#include "ui/bench.h"
#include "ui/theme.h"

#include <QMainWindow>

#include <memory>

class QLabel;
class QMenu;
class QPushButton;
class QStackedWidget;
class QTabWidget;

namespace quoin::ui {

class BedsPanel;
class CutController;
class CutsPanel;
class ExportController;
class ExportPage;
class FileController;
class FitsController;
class JobStrip;
class JointController;
class JointPage;
class JointsPanel;
class LogPanel;
class MeasureTool;
class ModelPage;
class ModelView;
class OrderController;
class OrderPanel;
class PaintTool;
class PartController;
class PartsPanel;
class PiecesPanel;
class PlanBoard;
class PlanController;
class PlanPanel;
class RenderThread;
class ScalePanel;
class StartPage;
class StepBar;
class StrengthController;
class StrengthPanel;
class SuggestController;
class SuggestPanel;
class ViewController;

/// The window: puts the panels round the view, and the controllers behind them. What it does by itself is only to show
/// the step of the job that is being worked on.
class MainWindow : public QMainWindow {
    Q_OBJECT
public:
    MainWindow();
    ~MainWindow() override;

    /// Files named on the command line.
    void open(const QStringList& files);
    void goTo(JobStep step);

    Bench& bench() { return *m_bench; }
    Actions& actions() { return *m_actions; }
    ViewController& view() { return *m_viewController; }
    FileController& files() { return *m_files; }
    PlanController& planning() { return *m_planController; }

protected:
    void closeEvent(QCloseEvent* event) override;
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;
    void changeEvent(QEvent* event) override;

private:
    // main_window.cpp: what stands where
    void makePanels();
    QWidget* makeTop();
    QWidget* makeWorkspace();
    QWidget* makeSteps();
    QWidget* makeMiddle();
    void shareRoom(); ///< between the panels and the view
    void makeControllers();
    void connectAll();
    // main_window_actions.cpp: what can be done
    void makeActions();
    void makeFileActions();
    void makeEditActions();
    void makeViewActions();
    void makeJobActions();
    void makeMenus();
    void allowActions();
    // main_window_state.cpp: what is shown now
    void showTitle();
    void showStanding();
    void showRecent();
    void showRecovery();
    void showTool();
    void leaveTool(); ///< measuring and marking end
    void showTheme();
    void showNote(Note::Severity severity, const QString& text);
    void doNext();
    void restoreLayout();
    void setUnit(mesh::Unit unit);
    void setTheme(Theme theme);
    void aboutShortcuts();
    void about();

    static constexpr int bedsTab = 0, suggestTab = 1, cutsTab = 2; ///< of m_cutTabs

    Bench* m_bench;
    Actions* m_actions;
    Theme m_theme = Theme::System;

    ModelView* m_view = nullptr;
    std::unique_ptr<RenderThread> m_render;
    QStackedWidget* m_pages = nullptr;  ///< start page, or the workspace
    QStackedWidget* m_steps = nullptr;  ///< the panel of the present step
    QStackedWidget* m_middle = nullptr; ///< the view, or the plan of printing
    QWidget* m_lists = nullptr;         ///< parts and pieces, to the left
    QTabWidget* m_cutTabs = nullptr;
    StartPage* m_start = nullptr;
    StepBar* m_stepBar = nullptr;
    ModelPage* m_modelPage = nullptr;
    PartsPanel* m_parts = nullptr;
    PiecesPanel* m_pieces = nullptr;
    ScalePanel* m_scale = nullptr;
    BedsPanel* m_beds = nullptr;
    SuggestPanel* m_suggest = nullptr;
    CutsPanel* m_cuts = nullptr;
    JointsPanel* m_joints = nullptr;
    StrengthPanel* m_strength = nullptr;
    OrderPanel* m_order = nullptr;
    JointPage* m_jointPage = nullptr;
    ExportPage* m_export = nullptr;
    PlanBoard* m_board = nullptr;
    PlanPanel* m_planPanel = nullptr;
    LogPanel* m_log = nullptr;
    QDockWidget* m_logDock = nullptr;
    JobStrip* m_jobStrip = nullptr;
    QLabel* m_hint = nullptr;
    QWidget* m_noteBar = nullptr;
    QLabel* m_noteMark = nullptr;
    QLabel* m_note = nullptr;
    QLabel* m_nextWords = nullptr;
    QPushButton* m_nextButton = nullptr;
    QMenu* m_recentMenu = nullptr;

    ViewController* m_viewController = nullptr;
    FileController* m_files = nullptr;
    PartController* m_partController = nullptr;
    CutController* m_cutController = nullptr;
    SuggestController* m_suggestController = nullptr;
    JointController* m_jointController = nullptr;
    StrengthController* m_strengthController = nullptr;
    OrderController* m_orderController = nullptr;
    FitsController* m_fits = nullptr;
    ExportController* m_exportController = nullptr;
    PlanController* m_planController = nullptr;
    MeasureTool* m_measure = nullptr;
    PaintTool* m_paint = nullptr;
    bool m_measuring = false;
    int m_nextJob = 1;
};

} // namespace quoin::ui
