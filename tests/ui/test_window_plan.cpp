// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// The plan of printing in the whole window: from the first look to ticking off.
#include "core/print_plan_file.h"
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/estimate_page.h"
#include "ui/machines_dialog.h"
#include "ui/plan_controller.h"
#include "ui/plan_page.h"
#include "ui/plan_panel.h"
#include "ui/plan_shown.h"
#include "ui/step_bar.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDateTimeEdit>
#include <QDialogButtonBox>
#include <QDoubleSpinBox>
#include <QListWidget>
#include <QTabWidget>
#include <QTableWidget>
#include <QTreeWidget>

#include <catch2/catch.hpp>

#include <fstream>

using namespace quoin;
using test::WindowFixture;

namespace {

struct PlanWindow : WindowFixture {
    PlanWindow()
    {
        open(test::cuboid({0, 0, 0}, {60, 40, 120}), "tower.stl");
        core::Design next = design();
        next.beds = {{"bed", core::Bed::Shape::Rectangular, 200, 200, 200, 2}};
        next.parts[0] = core::withCut(next.parts[0], {{0, 0, 1}, 60});
        document().edit("Add cut 1", next);
        REQUIRE(settle());
        goTo(ui::JobStep::Plan);
    }
    ui::PlanController& planning() { return window().planning(); }
    const core::PrintPlan& plan()
    {
        REQUIRE(settle());
        REQUIRE(planning().plan());
        return *planning().plan();
    }
    QString figure(const QString& name)
    {
        auto* label = named<QLabel>(name);
        REQUIRE(label != nullptr);
        return label->text();
    }
    void tab(int index)
    {
        find<QTabWidget>("planTabs")->setCurrentIndex(index);
        REQUIRE(settle());
    }
    QTableWidget& ticks() { return *find<QTableWidget>("ticks"); }
    void setDeadline(core::Moment moment)
    {
        for (QCheckBox* box : window().findChildren<QCheckBox*>())
            if (box->isVisible() && QString(box->text()).remove('&') == "Ready by" && !box->isChecked())
                press(box);
        auto* edit = named<QDateTimeEdit>("Must be ready by");
        REQUIRE(edit != nullptr);
        edit->setDateTime(ui::dateTimeOf(ui::minuteOf(moment)));
        REQUIRE(settle());
    }
};

} // namespace

TEST_CASE_METHOD(PlanWindow,
                 "window plan: weight, hours, money and the end are there at the first look, without a set-up")
{
    const core::PrintPlan& p = plan();
    CHECK(bench().state().step == ui::JobStep::Plan);
    // Two halves of 144 cm3 each of PLA at 1.24 g/cm3, mostly hollow: less than solid, more than nothing.
    CHECK(p.grams > 20);
    CHECK(p.grams < 2 * 144 * 1.24 * 1.2);
    CHECK(p.request.machines.size() == 2); // the bed counts two
    CHECK(p.left.empty());
    CHECK(figure("Weight").contains("g"));
    CHECK(figure("Machine hours").contains("h"));
    CHECK(figure("Money").size() > 2);
    CHECK(figure("Ready") == ui::momentWords(ui::minuteOf(p.finish)));
    CHECK(says("One for each of the beds, with usual values"));
    CHECK(says("Take care") == false); // a group's title is no label
    CHECK(find<QLabel>("cautions")->text().contains("fire"));
    CHECK(find<ui::StepBar>()->button(ui::StepBar::Plan)->state().progress == ui::StepState::Progress::Done);
    CHECK(find<ui::PlanChart>()->data().bars.size() == p.bars.size());
    CHECK(find<QTableWidget>("prints")->rowCount() == static_cast<int>(p.bars.size()));
    CHECK(find<QLabel>("bound")->text().contains("can end before"));
    CHECK_FALSE(view().isVisible());
    CHECK_FALSE(document().history().undoText().contains("lan")); // nothing was decided
    CHECK(planning().book().document().request.machines.empty());
}

TEST_CASE_METHOD(PlanWindow, "window plan: a print chosen in the chart shows its plate, its row and its pieces")
{
    // Halves that take long enough to get a plate each.
    document().editPart("Scale", core::withScale(part(), 3));
    const core::PrintPlan& p = plan();
    auto* chart = find<ui::PlanChart>();
    REQUIRE(p.bars.size() > 1);
    const int last = static_cast<int>(p.bars.size()) - 1;
    QTest::mouseClick(chart->viewport(), Qt::LeftButton, {}, chart->barRect(last).center().toPoint());
    auto* page = find<ui::PlanPage>();
    CHECK(page->selectedPrint() == last);
    const core::Plate& plate = p.plates[p.bars[static_cast<std::size_t>(last)].plate];
    CHECK(find<ui::PlatePicture>()->plate().shapes.size() == plate.pieces.size());
    CHECK(named<QListWidget>("Pieces on the plate")->count() == static_cast<int>(plate.pieces.size()));
    auto* prints = find<QTableWidget>("prints");
    CHECK(prints->item(prints->currentRow(), 0)->text() == QString::number(plate.number));
    // And the other way.
    prints->selectRow(0);
    CHECK(chart->selectedId() == page->selectedPrint());
    CHECK(page->selectedPrint() == static_cast<int>(ui::barsInTime(p).front()));
    auto* pieces = named<QListWidget>("Pieces on the plate");
    pieces->setCurrentRow(0);
    CHECK(find<ui::PlatePicture>()->selectedId() == find<ui::PlatePicture>()->plate().shapes[0].id);
}

TEST_CASE_METHOD(PlanWindow, "window plan: a deadline is said to hold or not, with its chance; undone like any change")
{
    const core::Moment finish = plan().finish;
    setDeadline(finish + std::chrono::hours(24 * 14));
    CHECK(plan().keepsDeadline == true);
    CHECK(plan().chance.has_value());
    CHECK(action("undo").text().contains("Deadline"));
    CHECK(says("The date holds"));
    setDeadline(finish - std::chrono::hours(1));
    CHECK(plan().keepsDeadline == false);
    CHECK(find<ui::StepBar>()->button(ui::StepBar::Plan)->state().progress == ui::StepState::Progress::Attention);
    CHECK(says("doesn't hold"));
    action("undo").trigger();
    REQUIRE(settle());
    CHECK_FALSE(plan().request.deadline.has_value());
    CHECK_FALSE(document().history().undoText().contains("eadline"));
    action("redo").trigger();
    CHECK(plan().keepsDeadline == false);
}

TEST_CASE_METHOD(PlanWindow,
                 "window plan: what is ticked off is planned no more, is kept beside the design, and can be undone")
{
    const QString design = file("tower.quoin.json");
    document().saved(design); // as if it had been written there
    const std::size_t all = plan().job.pieces.size();
    tab(2);
    ticks().selectRow(0);
    const std::string id = planning().work()->job->pieces[0].id;
    named<QDoubleSpinBox>("Weighed together")->setValue(31.7);
    named<QDoubleSpinBox>("Took together")->setValue(1.2);
    press(button("Printed"));
    CHECK(plan().job.pieces.size() == all - 1);
    CHECK(plan().piecesDone == 1);
    CHECK(ticks().item(0, 1)->text() == "printed");
    CHECK(ticks().item(0, 5)->text() == "32 g");
    CHECK(says(QString("1 of %1 pieces are printed").arg(all)));
    const auto kept = core::loadPlan(path("tower.plan.json"));
    REQUIRE(kept);
    REQUIRE(kept->request.progress.reports.size() == 1);
    CHECK(kept->request.progress.reports[0].piece == id);
    CHECK(kept->request.progress.reports[0].grams == Approx(31.7));
    // The log of prints learns from it.
    const auto log = core::PrintLog::load(core::PrintLog::defaultFile());
    REQUIRE(log);
    REQUIRE(log->rows().size() == 1);
    CHECK(log->rows()[0].actualGrams == Approx(31.7));
    CHECK(log->rows()[0].modelGrams > 1);
    // A plan is no unsaved change of the design.
    CHECK_FALSE(document().modified());
    action("undo").trigger();
    CHECK(plan().piecesDone == 0);
    CHECK(core::loadPlan(path("tower.plan.json"))->request.progress.reports.empty());
}

TEST_CASE_METHOD(PlanWindow, "window plan: a whole plate fails, with its weight shared out, and is printed again")
{
    REQUIRE(settle());
    tab(2);
    ticks().selectAll();
    const int rows = ticks().rowCount();
    REQUIRE(rows >= 2);
    named<QDoubleSpinBox>("Weighed together")->setValue(100);
    press(button("Failed"));
    CHECK(plan().piecesDone == 0);
    CHECK(plan().job.pieces.size() == static_cast<std::size_t>(rows));
    double grams = 0;
    for (const core::PieceReport& r : planning().book().document().request.progress.reports)
        grams += r.grams.value_or(0);
    CHECK(grams == Approx(100));
    CHECK(ticks().item(0, 1)->text().startsWith("failed"));
    press(button("Take back"));
    CHECK(ticks().item(0, 1)->text().startsWith("to print"));
}

TEST_CASE_METHOD(PlanWindow, "window plan: another recipe for a part, and machines that are set up, change the plan")
{
    const double before = plan().hours;
    tab(1);
    auto* tree = find<QTreeWidget>("estimates");
    REQUIRE(tree->topLevelItemCount() == 2); // everything, and one part
    tree->setCurrentItem(tree->topLevelItem(1));
    QComboBox* recipe = nullptr;
    for (QComboBox* box : window().findChildren<QComboBox*>())
        if (box->isVisible() && box->count() > 0 && box->itemText(0).startsWith("as the job"))
            recipe = box;
    REQUIRE(recipe != nullptr);
    recipe->setCurrentIndex(recipe->findText("0.4 fine"));
    emit recipe->activated(recipe->currentIndex());
    CHECK(plan().hours > 1.3 * before);
    CHECK(plan().plates[0].recipe == "0.4 fine");
    CHECK(action("undo").text().contains("Recipe of tower"));
    action("undo").trigger();
    CHECK(plan().hours == Approx(before));

    press(button("Machines and hours…"));
    auto* dialog = find<ui::MachinesDialog>();
    REQUIRE(dialog != nullptr);
    dialog->findChild<QListWidget*>()->item(1)->setCheckState(Qt::Unchecked);
    dialog->findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok)->click();
    CHECK(plan().request.machines.size() == 1);
    CHECK(core::loadShop(core::machinesFile())->machines.size() == 2);
    CHECK_FALSE(says("with usual values: say"));
}

TEST_CASE_METHOD(PlanWindow, "window plan: a change of the design is estimated and planned anew")
{
    const double before = plan().grams;
    core::PartDesign twice = part();
    twice.quantity = 2;
    document().editPart("Quantity", twice);
    CHECK(plan().grams > 1.8 * before);
    action("undo").trigger();
    CHECK(plan().grams == Approx(before));
    document().editPart("Scale", core::withScale(part(), 1.2));
    CHECK(plan().grams > 1.2 * before);
    // Not at other steps: nobody looks at it there.
    goTo(ui::JobStep::Scale);
    CHECK(view().isVisible());
}

TEST_CASE_METHOD(PlanWindow, "window plan: files go into a folder, and those of others are never written over")
{
    REQUIRE(settle());
    auto* folder = named<QLineEdit>("Folder for the plan");
    REQUIRE(folder != nullptr);
    folder->setText(file("out"));
    press(button("Write the plan"));
    REQUIRE(settle());
    for (const char* name :
         {"plan.json", "plan.pdf", "plan.csv", "pieces.csv", "plan.ics", "chart.svg", "plate-01.svg"})
        CHECK(std::filesystem::exists(path("out") / name));
    CHECK(says("files were written to"));
    // Again: our own are replaced.
    press(button("Write the plan"));
    REQUIRE(settle());
    CHECK(says("files were written to"));

    std::filesystem::create_directories(path("mine"));
    std::ofstream(path("mine") / "plan.pdf") << "my own";
    folder->setText(file("mine"));
    press(button("Write the plan"));
    REQUIRE(settle());
    CHECK(find<QLabel>("planFilesProblem")->isVisible());
    CHECK(std::filesystem::file_size(path("mine") / "plan.pdf") == 6);
    CHECK_FALSE(std::filesystem::exists(path("mine") / "plan.csv"));
}

TEST_CASE_METHOD(PlanWindow, "window plan: a plan that can't be read is said, and not written over")
{
    const QString design = file("other.quoin.json");
    std::ofstream(path("other.plan.json")) << "{ no plan";
    core::Design same = this->design();
    document().reset(same, design);
    goTo(ui::JobStep::Plan);
    const core::Moment finish = plan().finish;
    setDeadline(finish + std::chrono::hours(100));
    CHECK(std::filesystem::file_size(path("other.plan.json")) == 9);
}

TEST_CASE_METHOD(PlanWindow, "window plan: without beds it says what to do first")
{
    core::Design next = design();
    next.beds.clear();
    document().edit("No beds", next);
    REQUIRE(settle());
    CHECK_FALSE(planning().plan());
    CHECK(says("Choose the beds first"));
    CHECK(button("Choose beds") != nullptr);
    CHECK_FALSE(button("Write the plan")->isEnabled());
    CHECK_FALSE(button("Write the plan")->toolTip().isEmpty());
}

TEST_CASE_METHOD(PlanWindow, "window plan: a piece that is wanted first is printed first")
{
    REQUIRE(settle());
    const auto firstOf = [this](const std::string& id) {
        const core::PrintPlan& p = plan();
        core::Moment begins = core::Moment::max();
        for (const core::PlanBar& b : p.bars)
            for (const core::PlatePiece& on : p.plates[b.plate].pieces)
                if (p.job.pieces[on.piece].id == id)
                    begins = b.start;
        return begins;
    };
    tab(2);
    const int last = ticks().rowCount() - 1;
    const std::string id = planning().work()->job->pieces.back().id;
    ticks().selectRow(last);
    press(button("Print first"));
    REQUIRE(settle());
    CHECK(planning().book().document().first == std::vector<std::string>{id});
    for (const core::PlatePieceInfo& other : plan().job.pieces)
        if (!other.testFit)
            CHECK(firstOf(id) <= firstOf(other.id));
    press(button("Print first"));
    CHECK(planning().book().document().first.empty());
}
