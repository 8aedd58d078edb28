// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/cut_controller.h"
#include "ui/file_controller.h"
#include "ui/main_window.h"
#include "ui/measure_tool.h"
#include "ui/model_view.h"
#include "ui/part_controller.h"
#include "ui/suggest_controller.h"
#include "ui/suggest_panel.h"
#include "ui/view_controller.h"

#include <QActionGroup>
#include <QClipboard>
#include <QDockWidget>
#include <QGuiApplication>
#include <QMenuBar>
#include <QTabWidget>
#include <QUndoView>

namespace quoin::ui {

void MainWindow::makeActions()
{
    makeFileActions();
    makeEditActions();
    makeViewActions();
    makeJobActions();
}

void MainWindow::makeFileActions()
{
    Actions& a = *m_actions;
    a.add("new", tr("&New design"), QKeySequence::New, tr("Start over with nothing"), [this] { m_files->startNew(); });
    a.add("open", tr("&Open..."), QKeySequence::Open, tr("Open a design, an export, or a model"),
          [this] { m_files->askAndOpen(); });
    a.add("add", tr("&Add a part..."), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_O),
          tr("Add a model to the design as one more part"), [this] { m_files->askAndAdd(); });
    a.add("heron", tr("Open the &heron sample"), {}, tr("A kinetic heron of our own, to try everything with"),
          [this] { m_files->openHeron(); });
    a.add("save", tr("&Save"), QKeySequence::Save, tr("Save the design"), [this] { m_files->save(); });
    a.add("saveAs", tr("Save &as..."), QKeySequence::SaveAs, tr("Save the design under another name"),
          [this] { m_files->saveAs(); });
    a.add("export", tr("&Export with proof..."), QKeySequence(Qt::CTRL | Qt::Key_E),
          tr("Go to the export: files for printing, read back and proved"), [this] { goTo(JobStep::Prove); });
    a.add("plan", tr("&Plan the printing..."), {},
          tr("Go to the plan: weight, hours and money, plates, machines, and whether the date holds"),
          [this] { goTo(JobStep::Plan); });
    a.add("quit", tr("&Quit"), QKeySequence(Qt::CTRL | Qt::Key_Q), tr("Close the window"), [this] { close(); });
}

void MainWindow::makeEditActions()
{
    Actions& a = *m_actions;
    QUndoStack& history = m_bench->document().history();
    a.add("undo", tr("&Undo"), QKeySequence::Undo, tr("Take the last change back"), [&history] { history.undo(); });
    a.add("redo", tr("&Redo"), QKeySequence::Redo, tr("Make the change again that was taken back"),
          [&history] { history.redo(); });
    a.add("history", tr("&History..."), QKeySequence(Qt::CTRL | Qt::Key_H),
          tr("All changes, to go back to any of them"), [this, &history] {
              auto* view = new QUndoView(&history, this);
              view->setWindowFlag(Qt::Tool);
              view->setAttribute(Qt::WA_DeleteOnClose);
              view->setWindowTitle(tr("History"));
              view->setEmptyLabel(tr("As it was opened"));
              view->resize(320, 420);
              view->show();
          });
    a.add("duplicate", tr("&Duplicate part"), QKeySequence(Qt::CTRL | Qt::Key_D), tr("The same part once more"),
          [this] { m_partController->duplicate(m_bench->state().part); });
    a.add("removePart", tr("Re&move part"), QKeySequence(Qt::CTRL | Qt::Key_Delete),
          tr("Take the selected part out of the design"), [this] { m_partController->remove(m_bench->state().part); });
}

void MainWindow::makeViewActions()
{
    Actions& a = *m_actions;
    struct Look {
        const char* id;
        QString text;
        StandardView view;
    };
    // Their keys, 1 to 7, work in the view only, so that digits can be typed elsewhere.
    for (const Look& look :
         {Look{"front", tr("&Front"), StandardView::Front}, Look{"back", tr("&Back"), StandardView::Back},
          Look{"left", tr("&Left"), StandardView::Left}, Look{"right", tr("&Right"), StandardView::Right},
          Look{"top", tr("&Top"), StandardView::Top}, Look{"bottom", tr("B&ottom"), StandardView::Bottom},
          Look{"isometric", tr("&Isometric"), StandardView::Isometric}})
        a.add(look.id, look.text, {}, tr("Look at the model from there"),
              [this, view = look.view] { m_view->lookFrom(view); });
    a.add("fitAll", tr("Show &everything"), QKeySequence(Qt::CTRL | Qt::Key_0), tr("All of it in the view"),
          [this] { m_viewController->fitAll(); });
    a.add("fitSelection", tr("Show the &selection"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_0),
          tr("The selected pieces, or the selected part, as large as the view allows"),
          [this] { m_viewController->fitSelection(); });
    a.addSwitch("parallel", tr("&Parallel"), {}, tr("Parallel instead of perspective: lengths compare"), false,
                [this](bool on) { m_view->setParallel(on); });
    connect(m_view, &ModelView::parallelChanged, a["parallel"], &QAction::setChecked);
    const auto flag = [this](bool ViewState::*which) {
        return [this, which](bool on) { m_bench->look([=](ViewState& state) { state.*which = on; }); };
    };
    a.addSwitch("edges", tr("Triangle &edges"), {}, tr("Draw the edges of all triangles"), false,
                flag(&ViewState::edges));
    a.addSwitch("person", tr("A &person beside it"), {}, tr("A lay figure 1.75 m tall, at true size"), true,
                flag(&ViewState::person));
    a.addSwitch("bed", tr("The &bed beside it"), {}, tr("The first bed with the room above it, at true size"), true,
                flag(&ViewState::bed));
    a.addSwitch("assembled", tr("Ass&embled"), {},
                tr("Parts where they stand in the sculpture, where that is known; else in a row"), true,
                flag(&ViewState::assembled));
    a.addSwitch("seeThrough", tr("See-&through"), QKeySequence(Qt::CTRL | Qt::Key_T),
                tr("Pieces like glass, so that the joints show"), false, flag(&ViewState::seeThrough));
    a.addSwitch("safety", tr("Safet&y of the faces"), {},
                tr("Outlines of the jointed faces by how sure they are to bear their load, as estimated"), true,
                flag(&ViewState::showSafety));
    a.add("log", tr("&Log"), QKeySequence(Qt::CTRL | Qt::Key_L), tr("What happened, to read and to copy"),
          [this] { m_logDock->setVisible(!m_logDock->isVisible()); });
    a.add("light", tr("&Light"), {}, tr("Light colours"), [this] { setTheme(Theme::Light); });
    a.add("dark", tr("&Dark"), {}, tr("Dark colours"), [this] { setTheme(Theme::Dark); });
    a.add("system", tr("As the &desktop"), {}, tr("Light or dark as the desktop is"),
          [this] { setTheme(Theme::System); });
    for (const mesh::Unit unit :
         {mesh::Unit::Millimetre, mesh::Unit::Centimetre, mesh::Unit::Metre, mesh::Unit::Inch}) {
        const QString name = QString::fromStdString(mesh::unitName(unit));
        a.add(QStringLiteral("unit ") + name, name, {}, tr("Show lengths in %1; any unit can be typed").arg(name),
              [this, unit] { setUnit(unit); });
    }
}

void MainWindow::makeJobActions()
{
    Actions& a = *m_actions;
    struct Add {
        const char* id;
        QString text;
        CutKind kind;
    };
    for (const Add& add :
         {Add{"cutX", tr("Across &x"), CutKind::AcrossX}, Add{"cutY", tr("Across &y"), CutKind::AcrossY},
          Add{"cutZ", tr("Across &z"), CutKind::AcrossZ}, Add{"cutView", tr("&Facing the view"), CutKind::FacingView},
          Add{"cutPoints", tr("Through three &points"), CutKind::ThroughPoints},
          Add{"cutFace", tr("Parallel to a fa&ce"), CutKind::ParallelToFace}})
        a.add(add.id, add.text, {}, tr("Add a cut of the whole part"), [this, kind = add.kind] {
            goTo(JobStep::Cut);
            m_cutTabs->setCurrentIndex(cutsTab);
            m_cutController->add(kind, true);
        });
    a.add("cutAgain", tr("Cut the &selected piece only"), QKeySequence(Qt::CTRL | Qt::Key_K),
          tr("Add a cut across the longest side of the selected piece, of this piece alone"), [this] {
              goTo(JobStep::Cut);
              m_cutTabs->setCurrentIndex(cutsTab);
              m_cutController->addAcrossLongest();
          });
    a.add("removeCut", tr("&Remove the selected cut"), QKeySequence(Qt::CTRL | Qt::Key_Backspace),
          tr("Take the selected cut out of the list"), [this] { m_cutController->removeSelected(); });
    a.add("suggest", tr("Su&ggest cuts"), QKeySequence(Qt::CTRL | Qt::Key_G),
          tr("Look for cuts so that every piece fits the beds"), [this] {
              goTo(JobStep::Cut);
              m_cutTabs->setCurrentIndex(suggestTab);
              m_suggestController->start(m_suggest->wish());
          });
    a.addSwitch("paint", tr("&Mark places that stay whole"), QKeySequence(Qt::CTRL | Qt::Key_M),
                tr("Paint on the model where no cut may pass; Shift unmarks"), false, [this](bool on) {
                    if (on) {
                        if (m_measuring)
                            leaveTool();
                        goTo(JobStep::Cut);
                        m_cutTabs->setCurrentIndex(1); // what the marks are for
                        m_view->setFocus();
                    }
                    m_bench->look([on](ViewState& state) {
                        state.painting = on;
                        if (on)
                            state.explode = 0;
                    });
                });
    struct Measure {
        const char* id;
        QString text;
        MeasureTool::Kind kind;
    };
    for (const Measure& m :
         {Measure{"measureDistance", tr("&Distance"), MeasureTool::Kind::Distance},
          Measure{"measureAngle", tr("&Angle of three points"), MeasureTool::Kind::Angle},
          Measure{"measureFaces", tr("Angle of two &faces"), MeasureTool::Kind::FaceAngle},
          Measure{"measureCircle", tr("Radius through three &points"), MeasureTool::Kind::ThreePoints},
          Measure{"measureRound", tr("Radius of a &round"), MeasureTool::Kind::Round}})
        a.addSwitch(m.id, m.text, {}, tr("Measure between places that you click"), false,
                    [this, id = QString::fromLatin1(m.id), kind = m.kind](bool on) {
                        if (on)
                            for (const char* other :
                                 {"measureDistance", "measureAngle", "measureFaces", "measureCircle", "measureRound"})
                                if (id != QLatin1String(other))
                                    (*m_actions)[other]->setChecked(false);
                        m_measuring = on;
                        if (on) {
                            m_measure->setKind(kind);
                            m_bench->look([](ViewState& state) { state.painting = false; });
                            m_view->setFocus();
                        }
                        showTool();
                    });
    a.add("copyMeasures", tr("&Copy the measures"), {}, tr("All measures as text"),
          [this] { QGuiApplication::clipboard()->setText(m_measure->allText()); });
    a.add("clearMeasures", tr("C&lear the measures"), {}, tr("Take all dimension lines away"),
          [this] { m_measure->clear(); });
    a.add("keys", tr("&Keys"), QKeySequence::HelpContents, tr("All keys and what the pointer does"),
          [this] { aboutShortcuts(); });
    a.add("about", tr("&About Quoin"), {}, tr("What this program is"), [this] { about(); });
}

void MainWindow::makeMenus()
{
    Actions& a = *m_actions;
    const auto menu = [&](const QString& title, std::initializer_list<const char*> ids) {
        QMenu* made = menuBar()->addMenu(title);
        made->setToolTipsVisible(true);
        for (const char* id : ids)
            if (*id == '-')
                made->addSeparator();
            else
                made->addAction(a[QString::fromUtf8(id)]);
        return made;
    };
    QMenu* file =
        menu(tr("&File"), {"new", "open", "add", "heron", "-", "save", "saveAs", "-", "export", "plan", "-", "quit"});
    m_recentMenu = new QMenu(tr("Open &recent"), this);
    m_recentMenu->setToolTipsVisible(true);
    file->insertMenu(a["add"], m_recentMenu);
    menu(tr("&Edit"), {"undo", "redo", "history", "-", "duplicate", "removePart"});
    QMenu* view = menu(tr("&View"),
                       {"front", "back", "left", "right", "top", "bottom", "isometric", "-", "fitAll", "fitSelection",
                        "-", "parallel", "assembled", "edges", "seeThrough", "person", "bed", "safety", "-"});
    QMenu* colours = view->addMenu(tr("&Colours"));
    for (const char* id : {"light", "dark", "system"})
        colours->addAction(a[id]);
    QMenu* units = view->addMenu(tr("&Units"));
    for (const char* id : {"unit mm", "unit cm", "unit m", "unit inch"})
        units->addAction(a[id]);
    view->addAction(a["log"]);
    menu(tr("&Cut"), {"suggest", "-", "cutX", "cutY", "cutZ", "cutView", "cutPoints", "cutFace", "-", "cutAgain",
                      "removeCut", "-", "paint"});
    menu(tr("&Measure"), {"measureDistance", "measureAngle", "measureFaces", "measureCircle", "measureRound", "-",
                          "copyMeasures", "clearMeasures"});
    menu(tr("&Help"), {"keys", "about"});
    const auto renamed = [this](const QString& id, const QString& verb) {
        return [this, id, verb](const QString& what) {
            (*m_actions)[id]->setText(what.isEmpty() ? verb : tr("%1: %2").arg(verb, what));
        };
    };
    QUndoStack& history = m_bench->document().history();
    connect(&history, &QUndoStack::undoTextChanged, this, renamed("undo", tr("&Undo")));
    connect(&history, &QUndoStack::redoTextChanged, this, renamed("redo", tr("&Redo")));
    connect(&history, &QUndoStack::canUndoChanged, this, &MainWindow::allowActions);
    connect(&history, &QUndoStack::canRedoChanged, this, &MainWindow::allowActions);
}

void MainWindow::allowActions()
{
    Actions& a = *m_actions;
    QUndoStack& history = m_bench->document().history();
    const ViewState& state = m_bench->state();
    const QString noPart = tr("open a model first");
    const bool part = m_bench->part() != nullptr;
    a.allow("undo", history.canUndo(), tr("nothing has been changed yet"));
    a.allow("redo", history.canRedo(), tr("nothing has been taken back"));
    for (const char* id : {"save",
                           "saveAs",
                           "export",
                           "plan",
                           "duplicate",
                           "removePart",
                           "front",
                           "back",
                           "left",
                           "right",
                           "top",
                           "bottom",
                           "isometric",
                           "fitAll",
                           "fitSelection",
                           "edges",
                           "person",
                           "seeThrough",
                           "safety",
                           "parallel",
                           "assembled",
                           "cutX",
                           "cutY",
                           "cutZ",
                           "cutView",
                           "cutPoints",
                           "cutFace",
                           "paint",
                           "measureDistance",
                           "measureAngle",
                           "measureFaces",
                           "measureCircle",
                           "measureRound"})
        a.allow(id, part, noPart);
    if (part && state.step == JobStep::Plan)
        for (const char* id : {"front",           "back",         "left",         "right",         "top",
                               "bottom",          "isometric",    "fitAll",       "fitSelection",  "edges",
                               "person",          "seeThrough",   "safety",       "parallel",      "assembled",
                               "measureDistance", "measureAngle", "measureFaces", "measureCircle", "measureRound"})
            a.allow(id, false, tr("the model isn't shown while printing is planned"));
    const bool beds = !m_bench->design().beds.empty();
    const QString noSuggestion = m_suggest->whyNoStart();
    a.allow("suggest", part && beds && !m_suggestController->busy() && noSuggestion.isEmpty(),
            !part                         ? noPart
            : !beds                       ? tr("choose a bed first")
            : m_suggestController->busy() ? tr("a suggestion is being looked for")
                                          : noSuggestion);
    const bool planned = state.step == JobStep::Plan;
    a.allow("bed", part && beds && !planned,
            !part     ? noPart
            : planned ? tr("the model isn't shown while printing is planned")
                      : tr("choose a bed first"));
    a.allow("cutAgain", part && state.pieces.size() == 1, part ? tr("select one piece first") : noPart);
    a.allow("removeCut", part && state.cut != 0, part ? tr("select a cut first") : noPart);
    if (a["paint"]->isChecked() != state.painting) {
        const QSignalBlocker quiet(a["paint"]);
        a["paint"]->setChecked(state.painting);
    }
}

} // namespace quoin::ui
