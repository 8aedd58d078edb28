// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/machines_dialog.h"

#include "core/plan_defaults.h"
#include "core/same_word.h"
#include "ui/machine_editor.h"
#include "ui/problem_line.h"
#include "ui/window_words.h"

#include <QDialogButtonBox>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr double usualMarginMm = 5;
constexpr int widthPx = 760, heightPx = 640, listPx = 230;

} // namespace

MachinesDialog::MachinesDialog(QWidget* parent)
    : QDialog(parent),
      m_list(new QListWidget(this)),
      m_editor(new MachineEditor(this)),
      m_problem(new ProblemLine("machinesProblem", this))
{
    setWindowTitle(tr("Machines and hours"));
    m_list->setAccessibleName(tr("Machines; ticked ones print this job"));
    auto* words = new QLabel(tr("Ticked machines print this job."), this);
    words->setWordWrap(true);
    auto* left = new QVBoxLayout;
    left->addWidget(words);
    left->addWidget(m_list, 1);
    auto* buttons = new QHBoxLayout;
    const auto button = [&](const QString& text, const QString& tip, auto act) {
        auto* made = new QPushButton(text, this);
        made->setToolTip(tip);
        made->setAutoDefault(false);
        connect(made, &QPushButton::clicked, this, act);
        buttons->addWidget(made);
        return made;
    };
    button(tr("&Add"), tr("A machine with usual values"), [this] {
        std::vector<core::Machine> usual = core::usualMachines({core::shippedBeds().front()}, usualMarginMm);
        usual.front().name = freeName(tr("machine")).toStdString();
        add(usual.front());
    });
    m_duplicate = button(tr("&Double"), {}, [this] { duplicate(); });
    m_remove = button(tr("&Remove"), {}, [this] { remove(); });
    left->addLayout(buttons);
    auto* area = new QScrollArea(this);
    area->setWidgetResizable(true);
    area->setFocusPolicy(Qt::NoFocus);
    area->setFrameShape(QFrame::NoFrame);
    area->setWidget(m_editor);
    auto* across = new QHBoxLayout;
    across->addLayout(left);
    across->addWidget(area, 1);
    m_list->setMinimumWidth(listPx);
    m_list->setMaximumWidth(listPx * 3 / 2);
    auto* box = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    connect(box, &QDialogButtonBox::accepted, this, &MachinesDialog::give);
    connect(box, &QDialogButtonBox::rejected, this, &QDialog::reject);
    auto* layout = new QVBoxLayout(this);
    layout->addLayout(across, 1);
    layout->addWidget(m_problem);
    layout->addWidget(box);
    resize(widthPx, heightPx);
    connect(m_list, &QListWidget::currentRowChanged, this, [this](int row) {
        if (m_quiet || row == m_shown)
            return;
        if (!takeFields()) {
            const QScopedValueRollback quiet(m_quiet, true);
            m_list->setCurrentRow(m_shown); // what is wrong has to be seen to first
            return;
        }
        showMachine();
    });
    connect(m_editor, &MachineEditor::edited, this, [this] { m_problem->showWords({}); });
    showMachine();
}

void MachinesDialog::setMachines(const std::vector<core::Machine>& machines, const std::set<std::string>& used,
                                 const QString& currency)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_machines = machines;
    m_editor->setCurrency(currency);
    m_list->clear();
    for (const core::Machine& m : machines) {
        auto* item = new QListWidgetItem(QString::fromStdString(m.name), m_list);
        item->setFlags(item->flags() | Qt::ItemIsUserCheckable);
        item->setCheckState(used.contains(m.name) ? Qt::Checked : Qt::Unchecked);
        item->setToolTip(QString::fromStdString(core::machineWords(m)));
    }
    m_list->setCurrentRow(m_machines.empty() ? -1 : 0);
    showMachine();
}

QString MachinesDialog::freeName(const QString& like) const
{
    QString base = like.trimmed();
    // "big one 2" leads to "big one 3".
    if (const auto space = base.lastIndexOf(u' '); space > 0 && base.mid(space + 1).toInt() > 0)
        base.truncate(space);
    for (int n = 1;; ++n) {
        const QString name = n == 1 ? base : QStringLiteral("%1 %2").arg(base).arg(n);
        if (std::none_of(m_machines.begin(), m_machines.end(),
                         [&](const core::Machine& m) { return core::sameWord(m.name, name.toStdString()); }))
            return name;
    }
}

void MachinesDialog::add(const core::Machine& machine)
{
    if (!takeFields())
        return;
    m_machines.push_back(machine);
    {
        const QScopedValueRollback quiet(m_quiet, true);
        auto* item = new QListWidgetItem(QString::fromStdString(machine.name), m_list);
        item->setFlags(item->flags() | Qt::ItemIsUserCheckable);
        item->setCheckState(Qt::Checked);
        m_list->setCurrentItem(item);
    }
    showMachine();
}

void MachinesDialog::duplicate()
{
    if (m_shown < 0 || !takeFields())
        return;
    core::Machine copy = m_machines[static_cast<std::size_t>(m_shown)];
    copy.name = freeName(QString::fromStdString(copy.name)).toStdString();
    add(copy);
}

void MachinesDialog::remove()
{
    const int row = m_list->currentRow();
    if (row < 0)
        return;
    {
        const QScopedValueRollback quiet(m_quiet, true);
        m_machines.erase(m_machines.begin() + row);
        delete m_list->takeItem(row);
        m_list->setCurrentRow(std::min(row, m_list->count() - 1));
    }
    m_problem->showWords({});
    showMachine();
}

void MachinesDialog::showMachine()
{
    m_shown = m_list->currentRow();
    const bool any = m_shown >= 0;
    m_editor->setEnabled(any);
    if (any)
        m_editor->setMachine(m_machines[static_cast<std::size_t>(m_shown)]);
    for (QPushButton* button : {m_duplicate, m_remove})
        button->setEnabled(any);
    m_duplicate->setToolTip(any ? tr("One more of the same") : tr("There is no machine yet: add one"));
    m_remove->setToolTip(any ? tr("Take it out of the shop") : tr("There is no machine yet: add one"));
}

bool MachinesDialog::takeFields()
{
    if (m_shown < 0 || m_shown >= static_cast<int>(m_machines.size()))
        return true;
    const auto machine = m_editor->machine();
    QString why = machine ? QString() : windowWords(machine.problem().sentence());
    if (machine)
        for (std::size_t i = 0; i < m_machines.size(); ++i)
            if (static_cast<int>(i) != m_shown && core::sameWord(m_machines[i].name, machine->name))
                why = tr("Two machines are called “%1”: give each a name of its own.")
                          .arg(QString::fromStdString(machine->name));
    m_problem->showWords(why);
    if (!why.isEmpty())
        return false;
    m_machines[static_cast<std::size_t>(m_shown)] = *machine;
    QListWidgetItem* item = m_list->item(m_shown);
    item->setText(QString::fromStdString(machine->name));
    item->setToolTip(QString::fromStdString(core::machineWords(*machine)));
    return true;
}

void MachinesDialog::showProblem(const QString& words)
{
    m_problem->showWords(words);
}

void MachinesDialog::give()
{
    if (!takeFields())
        return;
    std::vector<std::string> used;
    for (int i = 0; i < m_list->count(); ++i)
        if (m_list->item(i)->checkState() == Qt::Checked)
            used.push_back(m_machines[static_cast<std::size_t>(i)].name);
    if (used.empty()) {
        m_problem->showWords(tr("No machine is ticked: nothing could be printed. Tick at least one."));
        return;
    }
    emit machinesGiven(m_machines, used);
}

} // namespace quoin::ui

#include "moc_machines_dialog.cpp"
