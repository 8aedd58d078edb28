// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "core/plan_defaults.h"
#include "ui/machine_editor.h"
#include "ui/machines_dialog.h"
#include "ui/theme.h"

#include <QCheckBox>
#include <QDialogButtonBox>
#include <QDoubleSpinBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTest>

#include <catch2/catch.hpp>

using namespace quoin;
using core::Bed;
using ui::MachinesDialog;

namespace {

struct Machines : test::WithApplication {
    Machines()
    {
        machines = core::usualMachines(
            {{"big", Bed::Shape::Rectangular, 400, 400, 450, 1}, {"small", Bed::Shape::Round, 250, 250, 300, 1}}, 5);
        machines[0].calendar.away = {std::chrono::local_days(std::chrono::year(2026) / 12 / 24)};
        machines[0].materials = {"PLA", "PETG"};
        dialog.setMachines(machines, {"big"}, "€");
        QObject::connect(&dialog, &MachinesDialog::machinesGiven, &dialog,
                         [this](const auto& all, const auto& names) { given = all, used = names; });
        test::show(dialog);
    }
    QLineEdit& line(const QString& name)
    {
        for (QLabel* label : dialog.findChildren<QLabel*>())
            if (auto* edit = qobject_cast<QLineEdit*>(label->buddy());
                edit != nullptr && QString(label->text()).remove('&') == name)
                return *edit;
        for (QLineEdit* edit : dialog.findChildren<QLineEdit*>())
            if (edit->accessibleName() == name)
                return *edit;
        FAIL("no field " << name.toStdString());
        throw 0;
    }
    void press(const QString& text)
    {
        for (QPushButton* button : dialog.findChildren<QPushButton*>())
            if (QString(button->text()).remove('&') == text) {
                REQUIRE(button->isEnabled());
                QTest::mouseClick(button, Qt::LeftButton);
                return;
            }
        FAIL("no button " << text.toStdString());
    }
    void ok() { dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok)->click(); }
    QListWidget& list() { return *dialog.findChild<QListWidget*>(); }
    QString problem() { return dialog.findChild<QLabel*>("machinesProblem")->text(); }

    MachinesDialog dialog;
    std::vector<core::Machine> machines, given;
    std::vector<std::string> used;
};

} // namespace

TEST_CASE_METHOD(Machines, "machines dialog: what isn't touched comes back as it was")
{
    list().setCurrentRow(1);
    ok();
    REQUIRE(given.size() == 2);
    CHECK(given == machines);
    CHECK(used == std::vector<std::string>{"big"});
}

TEST_CASE_METHOD(Machines, "machines dialog: hours by weekday, holidays, speed and failures are taken")
{
    line("Attended on Monday").setText("8:30-12 13-17");
    press("Same till Friday");
    line("Attended on Saturday").setText("9-12");
    line("Holidays").setText("2026-12-24, 2026-12-31");
    for (QCheckBox* box : dialog.findChildren<QCheckBox*>())
        box->setChecked(false);
    for (QDoubleSpinBox* box : dialog.findChildren<QDoubleSpinBox*>())
        if (box->suffix().contains("recipe"))
            box->setValue(120);
    list().item(1)->setCheckState(Qt::Checked);
    ok();
    REQUIRE(given.size() == 2);
    const core::WorkCalendar& c = given[0].calendar;
    CHECK(core::attendedText(c.days) == "mon-fri 8:30-12 13-17, sat 9-12");
    CHECK_FALSE(c.nights);
    CHECK_FALSE(c.weekends);
    CHECK(c.away.size() == 2);
    CHECK(given[0].speedFactor == Approx(1.2));
    CHECK(used.size() == 2);
    CHECK(given[1] == machines[1]);
}

TEST_CASE_METHOD(Machines, "machines dialog: what can't be read is said, and nothing is given")
{
    line("Attended on Monday").setText("morning");
    ok();
    CHECK(given.empty());
    CHECK(problem().contains("Monday"));
    CHECK(problem().contains("8-18"));
    // Another machine isn't shown before this is seen to.
    list().setCurrentRow(1);
    CHECK(list().currentRow() == 0);
    line("Attended on Monday").setText("8-18");
    line("Bed").setText("as big as a barn");
    ok();
    CHECK(given.empty());
    CHECK_FALSE(problem().isEmpty());
    line("Bed").setText("300x300x400");
    line("Name").setText("SMALL");
    ok();
    CHECK(problem().contains("Two machines"));
    line("Name").setText("large");
    list().item(0)->setCheckState(Qt::Unchecked);
    ok();
    CHECK(problem().contains("No machine is ticked"));
    list().item(0)->setCheckState(Qt::Checked);
    ok();
    REQUIRE(given.size() == 2);
    CHECK(given[0].bed.widthMm == 300);
    CHECK(used == std::vector<std::string>{"large"});
}

TEST_CASE_METHOD(Machines, "machines dialog: machines are added, doubled and removed")
{
    press("Double");
    CHECK(list().count() == 3);
    CHECK(list().currentItem()->text() == "big 2");
    press("Add");
    CHECK(list().count() == 4);
    list().setCurrentRow(1);
    press("Remove");
    ok();
    REQUIRE(given.size() == 3);
    CHECK(given[0].name == "big");
    CHECK(given[1].name == "big 2");
    CHECK(given[1].materials == machines[0].materials);
    CHECK(used.size() == 3);
    for (int i = 0; i < 3; ++i)
        press("Remove");
    CHECK(list().count() == 0);
    ok();
    CHECK(problem().contains("No machine"));
}

TEST_CASE_METHOD(Machines, "machines dialog: how it looks")
{
    for (const bool dark : {false, true}) {
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        test::picture(dialog, dark ? "machines_dialog_dark" : "machines_dialog_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
