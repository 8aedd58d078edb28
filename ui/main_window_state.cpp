// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/beds_panel.h"
#include "ui/cut_controller.h"
#include "ui/cut_tool.h"
#include "ui/cuts_panel.h"
#include "ui/export_controller.h"
#include "ui/file_controller.h"
#include "ui/joint_controller.h"
#include "ui/joint_tool.h"
#include "ui/joints_panel.h"
#include "ui/length_edit.h"
#include "ui/log_panel.h"
#include "ui/main_window.h"
#include "ui/measure_tool.h"
#include "ui/model_page.h"
#include "ui/model_view.h"
#include "ui/next_step.h"
#include "ui/paint_tool.h"
#include "ui/parts_panel.h"
#include "ui/pieces_panel.h"
#include "ui/plan_controller.h"
#include "ui/scale_panel.h"
#include "ui/start_page.h"
#include "ui/step_bar.h"
#include "ui/strength_controller.h"
#include "ui/strength_panel.h"
#include "ui/suggest_controller.h"
#include "ui/verdict_mark.h"
#include "ui/view_controller.h"

#include <QApplication>
#include <QDateTime>
#include <QDialog>
#include <QDialogButtonBox>
#include <QFileInfo>
#include <QLabel>
#include <QMenu>
#include <QMessageBox>
#include <QPushButton>
#include <QSettings>
#include <QStackedWidget>
#include <QTabWidget>
#include <QTextBrowser>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr int markPx = 20;

Colour colourOf(const QColor& c)
{
    return {c.redF(), c.greenF(), c.blueF()};
}

/// A stored time, as people read it.
QDateTime timeOf(const std::string& iso)
{
    return QDateTime::fromString(QString::fromStdString(iso), Qt::ISODate).toLocalTime();
}

} // namespace

void MainWindow::showTitle()
{
    setWindowTitle(tr("%1[*] - Quoin").arg(m_bench->document().title()));
    setWindowModified(m_bench->document().modified());
}

void MainWindow::showStanding()
{
    const core::Design& design = m_bench->design();
    const bool any = !design.parts.empty();
    if (m_pages->currentIndex() != (any ? 1 : 0)) {
        m_pages->setCurrentIndex(any ? 1 : 0);
        if (any)
            shareRoom();
    }
    if (!any && m_bench->state().step != JobStep::Load) {
        goTo(JobStep::Load);
        return;
    }
    const Document& document = m_bench->document();
    JobStanding standing = standingOf(
        design,
        [&](int id) {
            const PartWork* work = document.work(id);
            return work != nullptr && work->view() && !work->busy() ? work->view()->realised.get() : nullptr;
        },
        [&](int id) {
            const PartWork* work = document.work(id);
            return work == nullptr || work->busy();
        },
        [&](int id) {
            const PartWork* work = document.work(id);
            return work != nullptr && work->problem().has_value();
        });
    if (const auto& safety = m_bench->state().safety; safety && standing.working == 0)
        standing.weak =
            static_cast<int>(std::ranges::count(safety->faces, SafetyLevel::Weak, &SafetyShown::Face::level));
    standing.proved = m_exportController->proved();
    standing.suggesting = m_suggestController->busy();
    standing.exporting = m_exportController->running();
    standing.planning = m_planController->planning();
    standing.planComplete = m_planController->complete();
    standing.dateKept = m_planController->dateKept();
    const auto states = stepStates(standing);
    for (int i = 0; i < StepBar::stepCount; ++i)
        m_stepBar->setState(i + 1, states[static_cast<std::size_t>(i)]);
    const NextStep next = nextStep(standing, m_bench->state().step);
    m_nextWords->setText(next.words);
    m_nextButton->setText(next.button);
    m_nextButton->setVisible(!next.button.isEmpty());
    m_nextButton->setEnabled(next.what != NextStep::Do::SuggestAll || !m_suggestController->busy());
    m_nextButton->setProperty("what", static_cast<int>(next.what));
    const core::PartDesign* part = m_bench->part();
    m_modelPage->show(part, part != nullptr ? m_bench->healthOf(*part) : nullptr);
    allowActions();
}

void MainWindow::doNext()
{
    switch (static_cast<NextStep::Do>(m_nextButton->property("what").toInt())) {
    case NextStep::Do::GoOn:
        goTo(static_cast<JobStep>(static_cast<int>(m_bench->state().step) + 1));
        break;
    case NextStep::Do::ChooseBeds:
        goTo(JobStep::Cut);
        m_cutTabs->setCurrentIndex(bedsTab);
        break;
    case NextStep::Do::SuggestAll:
        m_suggestController->startAll();
        break;
    case NextStep::Do::Nothing:
        break;
    }
}

void MainWindow::showRecent()
{
    std::vector<RecentFile> rows;
    m_recentMenu->clear();
    for (const core::RecentFile& recent : m_files->recentFiles()) {
        const QString path = QString::fromStdString(recent.file.string());
        const bool there = QFileInfo::exists(path);
        rows.push_back({path, timeOf(recent.openedAt), there ? QString() : tr("it is no longer there")});
        QAction* action = m_recentMenu->addAction(QFileInfo(path).fileName(), this, [this, path] { open({path}); });
        action->setToolTip(there ? path : tr("%1\nNot now: it is no longer there").arg(path));
        action->setEnabled(there);
    }
    m_recentMenu->setEnabled(!m_recentMenu->isEmpty());
    m_start->setRecent(rows);
}

void MainWindow::showRecovery()
{
    std::vector<RecoveryOffer> offers;
    for (const core::LostSession& lost : m_files->lostSessions()) {
        const QString what = lost.originalFile.empty() ? tr("a design that was never saved")
                                                       : QString::fromStdString(lost.originalFile.filename().string());
        QString text = tr("%1: %2, as of %3")
                           .arg(what, QString::fromStdString(lost.words),
                                QLocale().toString(timeOf(lost.savedAt), QLocale::ShortFormat));
        if (lost.problem)
            text += tr(" (damaged: %1)").arg(QString::fromStdString(lost.problem->sentence()));
        offers.push_back({QString::fromStdString(lost.folder.string()), text});
    }
    m_start->setRecovery(offers);
}

void MainWindow::showTool()
{
    const ViewState& state = m_bench->state();
    if (state.painting)
        m_viewController->useTool(m_paint);
    else if (m_measuring)
        m_viewController->useTool(m_measure);
    else if (state.step == JobStep::Cut && state.cut != 0 && !state.preview && !state.onBed) {
        if (!m_cutController->picking())
            m_viewController->useTool(&m_cutController->tool());
    } else if (state.step == JobStep::Joint && state.jointTab == JointTab::Joints && !state.onBed)
        m_viewController->useTool(&m_jointController->tool());
    else if (m_strengthController->picking())
        return;
    else if (!m_cutController->picking())
        m_viewController->useSelection();
}

void MainWindow::leaveTool()
{
    if (m_measuring)
        for (const char* id : {"measureDistance", "measureAngle", "measureFaces", "measureCircle", "measureRound"})
            (*m_actions)[id]->setChecked(false);
    else if (m_bench->state().painting)
        m_bench->look([](ViewState& state) { state.painting = false; });
}

void MainWindow::showTheme()
{
    const bool dark = isDark(palette());
    const ViewColours colours = viewColours(dark);
    m_bench->look([&](ViewState& state) {
        state.dark = dark;
        state.backgroundTop = colourOf(colours.top);
        state.backgroundBottom = colourOf(colours.bottom);
    });
}

void MainWindow::showNote(Note::Severity severity, const QString& text)
{
    m_log->append({QDateTime::currentDateTime(), severity, text});
    if (severity == Note::Severity::Info)
        return;
    const Verdict verdict = severity == Note::Severity::Error ? Verdict::Bad : Verdict::Warning;
    m_noteMark->setPixmap(verdictIcon(verdict).pixmap(markPx));
    m_noteMark->setAccessibleName(severityWord(severity));
    m_note->setText(text);
    m_noteBar->show();
    if (m_pages->currentIndex() == 0 && severity == Note::Severity::Error) {
        // Nothing is open: there is no view to show the bar over.
        auto* box = new QMessageBox(QMessageBox::Warning, tr("That did not work"), text, QMessageBox::Ok, this);
        box->setAttribute(Qt::WA_DeleteOnClose);
        box->open();
    }
}

void MainWindow::restoreLayout()
{
    const QSettings settings;
    if (!restoreGeometry(settings.value(QStringLiteral("window/geometry")).toByteArray()))
        resize(1440, 900);
    restoreState(settings.value(QStringLiteral("window/state")).toByteArray());
    const auto unit = mesh::unitFromName(settings.value(QStringLiteral("unit"), "mm").toString().toStdString());
    setUnit(unit ? *unit : mesh::Unit::Millimetre);
    m_theme = static_cast<Theme>(settings.value(QStringLiteral("theme"), 0).toInt());
    m_cuts->setSnapMm(settings.value(QStringLiteral("snapMm"), 1.0).toDouble());
    connect(m_cuts, &CutsPanel::snapChanged, this,
            [](double snap) { QSettings().setValue(QStringLiteral("snapMm"), snap); });
}

void MainWindow::setUnit(mesh::Unit unit)
{
    QSettings().setValue(QStringLiteral("unit"), QString::fromStdString(mesh::unitName(unit)));
    m_parts->setUnit(unit);
    m_pieces->setUnit(unit);
    m_scale->setUnit(unit);
    m_cuts->setUnit(unit);
    m_beds->setUnit(unit);
    setLengthUnit(*m_joints, unit);
    setLengthUnit(*m_strength, unit);
    m_cutController->tool().setUnit(unit);
}

void MainWindow::setTheme(Theme theme)
{
    m_theme = theme;
    QSettings().setValue(QStringLiteral("theme"), static_cast<int>(theme));
    applyTheme(*static_cast<QApplication*>(QApplication::instance()), theme);
}

void MainWindow::aboutShortcuts()
{
    QString rows;
    for (const auto& [id, action] : m_actions->all())
        if (!action->shortcut().isEmpty())
            rows += QStringLiteral("<tr><td style='padding-right:2em'>%1</td><td>%2</td></tr>")
                        .arg(action->shortcut().toString(QKeySequence::NativeText).toHtmlEscaped(),
                             action->text().remove('&').toHtmlEscaped());
    auto* dialog = new QDialog(this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    dialog->setWindowTitle(tr("Keys"));
    auto* layout = new QVBoxLayout(dialog);
    auto* text = new QTextBrowser(dialog);
    text->setHtml(tr("<h3>In the window</h3><table>%1</table><h3>In the view</h3>"
                     "<table><tr><td style='padding-right:2em'>Left drag</td><td>Turn</td></tr>"
                     "<tr><td>Middle drag, or Shift and left drag</td><td>Pan</td></tr>"
                     "<tr><td>Wheel, or right drag</td><td>Zoom</td></tr>"
                     "<tr><td>Double click</td><td>Turn about this place</td></tr>"
                     "<tr><td>Arrow keys; with Shift</td><td>Turn by 15°; pan</td></tr>"
                     "<tr><td>+ and -</td><td>Zoom</td></tr>"
                     "<tr><td>1 to 7</td><td>Front, back, left, right, top, bottom, isometric</td></tr>"
                     "<tr><td>F, P</td><td>Fit; parallel or perspective</td></tr>"
                     "<tr><td>Page up, Page down</td><td>The piece before, the next one</td></tr>"
                     "<tr><td>Escape</td><td>Choose nothing; end measuring or marking</td></tr></table>"
                     "<h3>In the view, in the step of the joints</h3>"
                     "<table><tr><td style='padding-right:2em'>Click, N</td><td>Choose a joint, the next one</td></tr>"
                     "<tr><td>Drag, arrow keys; with Alt</td><td>Move it on its face, by 1 mm; by 0.1 mm</td></tr>"
                     "<tr><td>R; with Shift; with Alt</td><td>Turn it by 15°; back; by 1°</td></tr>"
                     "<tr><td>Ctrl and click, Insert</td><td>A new joint there, where there is room</td></tr>"
                     "<tr><td>Delete</td><td>Remove it</td></tr></table>"
                     "<h3>Tabs beside the view</h3>"
                     "<table><tr><td style='padding-right:2em'>Ctrl+Tab, Ctrl+Shift+Tab</td>"
                     "<td>The next one, the one before</td></tr></table>")
                      .arg(rows));
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, dialog);
    connect(buttons, &QDialogButtonBox::rejected, dialog, &QDialog::close);
    layout->addWidget(text);
    layout->addWidget(buttons);
    dialog->resize(520, 620);
    dialog->show();
}

void MainWindow::about()
{
    QMessageBox::about(
        this, tr("About Quoin"),
        tr("Quoin makes a model big: scaled, cut to fit the beds at hand, jointed, and proved to go back "
           "together.\n\nFree software under the GNU General Public License, version 3 or later. "
           "Built on Qt, VTK and CGAL.\n\nWhat it says about strength and weight is for planning. Where "
           "people stand below or beside a work, have it checked by someone licensed to do so."));
}

} // namespace quoin::ui
