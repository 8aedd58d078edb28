// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_export_form.h"

#include "ui/problem_line.h"

#include <QCheckBox>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QStandardPaths>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

/// As people type it: "~" is the home folder, and what is relative begins there too.
QString absoluteFolder(QString text)
{
    text = text.trimmed();
    if (text.isEmpty())
        return {};
    if (text == "~" || text.startsWith("~/"))
        text = QDir::homePath() + text.mid(1);
    return QDir::cleanPath(QDir::isAbsolutePath(text) ? text : QDir::home().filePath(text));
}

} // namespace

QString usualPlanFolder(const QString& designFile, const QString& name)
{
    const QString folder = designFile.isEmpty() ? QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation)
                                                : QFileInfo(designFile).absolutePath();
    QString plain = name.trimmed();
    plain.replace('/', '-');
    return QDir(folder).filePath((plain.isEmpty() ? PlanExportForm::tr("sculpture") : plain) +
                                 PlanExportForm::tr(" plan"));
}

PlanExportForm::PlanExportForm(QWidget* parent)
    : QGroupBox(tr("Take the plan along"), parent),
      m_folder(new QLineEdit(this)),
      m_write(new QPushButton(tr("Write the pl&an"), this)),
      m_open(new QPushButton(tr("Open the folder"), this)),
      m_done(new QLabel(this)),
      m_problem(new ProblemLine("planFilesProblem", this))
{
    auto* layout = new QVBoxLayout(this);
    m_folder->setAccessibleName(tr("Folder for the plan"));
    m_folder->setToolTip(tr("It is made when it isn't there. Files of yours in it are left alone; only an earlier plan "
                            "is replaced"));
    auto* choose = new QPushButton(tr("Choose…"), this);
    choose->setAccessibleName(tr("Choose a folder for the plan"));
    choose->setToolTip(tr("Choose a folder for the plan"));
    auto* row = new QHBoxLayout;
    row->addWidget(m_folder, 1);
    row->addWidget(choose);
    layout->addLayout(row);
    const std::array words{tr("PDF to print, with boxes to tick off"), tr("Tables (CSV)"),
                           tr("Calendar (iCalendar): prints and plate changes"),
                           tr("Pictures of chart and plates (SVG)")};
    for (std::size_t i = 0; i < m_kinds.size(); ++i) {
        m_kinds[i] = new QCheckBox(words[i], this);
        m_kinds[i]->setChecked(true);
        layout->addWidget(m_kinds[i]);
        connect(m_kinds[i], &QCheckBox::toggled, this, &PlanExportForm::refresh);
    }
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(m_write);
    buttons->addWidget(m_open);
    buttons->addStretch();
    layout->addLayout(buttons);
    m_done->setWordWrap(true);
    m_done->setTextInteractionFlags(Qt::TextSelectableByMouse);
    m_done->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    m_done->hide();
    layout->addWidget(m_done);
    layout->addWidget(m_problem);
    connect(m_folder, &QLineEdit::textChanged, this, [this] {
        m_problem->showWords({});
        refresh();
    });
    connect(choose, &QPushButton::clicked, this, [this] {
        const QString chosen = QFileDialog::getExistingDirectory(this, tr("Folder for the plan"), wish().folder);
        if (!chosen.isEmpty())
            m_folder->setText(chosen);
    });
    connect(m_write, &QPushButton::clicked, this, [this] { emit exportWanted(wish()); });
    connect(m_open, &QPushButton::clicked, this, [this] { emit openWanted(wish().folder); });
    m_open->hide();
    refresh();
}

void PlanExportForm::setUsualFolder(const QString& folder)
{
    const bool untouched = m_folder->text() == m_usual;
    m_usual = folder;
    if (untouched)
        m_folder->setText(folder);
}

void PlanExportForm::setWhyNot(const QString& why)
{
    m_why = why;
    refresh();
}

void PlanExportForm::setBusy(bool busy)
{
    m_busy = busy;
    if (busy) {
        m_done->hide();
        m_open->hide();
        m_problem->showWords({});
    }
    refresh();
}

void PlanExportForm::showDone(const QString& words)
{
    m_problem->showWords({});
    m_done->setText(words);
    m_done->show();
    m_open->show();
}

void PlanExportForm::showProblem(const QString& words)
{
    m_done->hide();
    m_problem->showWords(words);
}

PlanExportWish PlanExportForm::wish() const
{
    return {absoluteFolder(m_folder->text()), m_kinds[0]->isChecked(), m_kinds[1]->isChecked(), m_kinds[2]->isChecked(),
            m_kinds[3]->isChecked()};
}

void PlanExportForm::refresh()
{
    const bool any = std::any_of(m_kinds.begin(), m_kinds.end(), [](const QCheckBox* box) { return box->isChecked(); });
    const QString why = !m_why.isEmpty()                       ? m_why
                        : m_busy                               ? tr("The plan is being written")
                        : !any                                 ? tr("Choose at least one kind of file")
                        : m_folder->text().trimmed().isEmpty() ? tr("Name a folder first")
                                                               : QString();
    m_write->setEnabled(why.isEmpty());
    m_write->setToolTip(why.isEmpty() ? tr("Writes the files into the folder") : why);
    m_write->setText(m_busy ? tr("Writing…") : tr("Write the pl&an"));
}

} // namespace quoin::ui

#include "moc_plan_export_form.cpp"
