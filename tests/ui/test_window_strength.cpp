// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// The window: what joints bear, the load that it is estimated for, and the order of assembly.
#include "core/strength.h"
#include "mesh/plane.h"
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/joint_page.h"
#include "ui/joint_tool.h"
#include "ui/length_edit.h"
#include "ui/order_panel.h"
#include "ui/problem_line.h"
#include "ui/quantity_edit.h"
#include "ui/strength_panel.h"
#include "ui/theme.h"

#include <QComboBox>
#include <QListWidget>
#include <QMenuBar>
#include <QScrollArea>
#include <QSlider>
#include <QTabBar>
#include <QTabWidget>
#include <QTextBrowser>
#include <QTreeWidget>

#include <catch2/catch.hpp>

using namespace quoin;
using test::WindowFixture;

namespace {

/// A block of 120 x 80 x 200 mm in three layers, jointed as the program chooses; no glue, so that the joints bear all.
struct StrengthWindow : WindowFixture {
    explicit StrengthWindow(QSize size = {1600, 1000}) : WindowFixture(size)
    {
        open(test::cuboid({0, 0, 0}, {120, 80, 200}));
        core::Design next = design();
        next.beds = {{"b", core::Bed::Shape::Rectangular, 300, 300, 300, 1}};
        next.parts[0] = core::withCut(next.parts[0], {{0, 0, 1}, 100});
        next.parts[0] = core::withCut(next.parts[0], {{0, 0, 1}, 150});
        next.parts[0].joints.kind = core::JointForm::Kind::Dowel;
        document().edit("Cuts", next);
        goTo(ui::JobStep::Joint);
        REQUIRE(settle());
    }
    /// By the keyboard.
    void openTab(ui::JointTab tab)
    {
        auto* bar = find<ui::JointPage>()->findChild<QTabWidget*>()->tabBar();
        bar->setFocus();
        while (bar->currentIndex() != static_cast<int>(tab))
            QTest::keyClick(bar, bar->currentIndex() < static_cast<int>(tab) ? Qt::Key_Right : Qt::Key_Left);
        REQUIRE(bench().state().jointTab == tab);
        REQUIRE(settle());
    }
    QTreeWidget& faces() { return *find<ui::StrengthPanel>()->findChild<QTreeWidget*>(); }
    /// What the list says of a face, by its mark.
    double safety(const QString& mark)
    {
        for (int i = 0; i < faces().topLevelItemCount(); ++i)
            if (faces().topLevelItem(i)->text(0).startsWith(mark + ','))
                return faces().topLevelItem(i)->text(1).toDouble();
        FAIL("no face " << mark.toStdString());
        return 0;
    }
    /// The same as the core reckons it for a load.
    double reckoned(std::size_t seam, const core::LoadCase& load)
    {
        const auto report = core::strengthOf(realised()->project, load);
        REQUIRE(report.ok());
        for (const core::JointCheck& check : report->joints)
            if (check.seams.front() == seam)
                return check.safety;
        return 0;
    }
    void addForce(const QString& size)
    {
        press(button("Add force"));
        REQUIRE(settle());
        type(named<QLineEdit>("Size of the force"), size);
        REQUIRE(settle());
    }
};

} // namespace

TEST_CASE_METHOD(StrengthWindow, "window: the safety of the faces follows the load, and undoing it")
{
    openTab(ui::JointTab::Strength);
    const double before = reckoned(0, part().load);
    REQUIRE(before > 3);
    const std::shared_ptr<const int> stamp = realised()->cutStamp;
    const auto sunk = bench().work()->view()->sunk;
    addForce("20 kN");
    auto* way = named<QComboBox>("Direction of the force");
    way->setFocus();
    QTest::keyClicks(way, "right");
    REQUIRE(settle());
    REQUIRE(part().load.extra.size() == 1);
    CHECK(part().load.extra[0].forceN == mesh::Vec3{20000, 0, 0});
    const double after = reckoned(0, part().load);
    REQUIRE(after < 3);
    CHECK(safety("A") == Approx(after).margin(0.06));
    CHECK(bench().work()->view()->sunk == sunk); // no joint was made anew for it
    CHECK(says("weak for the load"));
    // The same in the list of joints.
    openTab(ui::JointTab::Joints);
    auto* joints = named<QTreeWidget>("Joints by face");
    CHECK(joints->topLevelItem(0)->text(2).toDouble() == Approx(after).margin(0.06));
    CHECK(joints->topLevelItem(0)->text(3) == "weak");
    CHECK(joints->topLevelItem(0)->toolTip(2).contains("licensed"));
    while (!part().load.extra.empty())
        action("undo").trigger();
    REQUIRE(settle());
    CHECK(joints->topLevelItem(0)->text(3) == "good");
    CHECK_FALSE(says("weak for the load"));
}

TEST_CASE_METHOD(StrengthWindow, "window: weak faces are outlined in the view, with a legend and their number")
{
    openTab(ui::JointTab::Strength);
    REQUIRE(view().legend().rows.size() == 3);
    CHECK(view().legend().rows[0].text == "below 3: weak");
    CHECK(view().notes().empty());
    shot("window_strength_sure");
    addForce("20 kN");
    auto* way = named<QComboBox>("Direction of the force");
    way->setFocus();
    QTest::keyClicks(way, "right");
    REQUIRE(settle());
    REQUIRE_FALSE(view().notes().empty());
    CHECK(view().notes()[0].text.startsWith("A: safety "));
    REQUIRE(view().arrows().size() == 1);
    CHECK(view().arrows()[0].text == "1: 20000 N");
    const auto lines = [&] {
        int weak = 0;
        for (const ui::ViewPolyline& line : this->window().view().built().scene->lines)
            weak += line.colour == ui::safetyColour(ui::SafetyLevel::Weak);
        return weak;
    };
    CHECK(lines() > 0);
    shot("window_strength_weak");
    action("safety").trigger();
    REQUIRE(settle());
    CHECK(lines() == 0);
    CHECK(view().legend().rows.empty());
    action("safety").trigger();
    type(named<QLineEdit>("Least safety"), "0.001");
    REQUIRE(settle());
    CHECK(lines() == 0); // weak is what the maker's limit says
}

TEST_CASE_METHOD(StrengthWindow, "window: the place of a force is picked in the view, Escape gives it up")
{
    openTab(ui::JointTab::Strength);
    addForce("50");
    view().lookFrom(ui::StandardView::Top, false);
    REQUIRE(settle());
    press(button("Pick its place in the view"));
    REQUIRE(button("Click its place in the view…") != nullptr);
    QTest::keyClick(&view(), Qt::Key_Escape);
    REQUIRE(button("Pick its place in the view") != nullptr);
    const mesh::Vec3 before = part().load.extra[0].at;
    press(button("Pick its place in the view"));
    clickAt(pixelOf({30, 20, 200}));
    REQUIRE(settle());
    const core::ExtraForce& force = part().load.extra[0];
    CHECK_FALSE(force.at == before);
    CHECK(mesh::length(force.at - mesh::Vec3{30, 20, 200}) < 1);
    CHECK(force.piece == 3); // the top one
    CHECK(action("undo").text().contains("Place of force 1"));
    action("undo").trigger();
    REQUIRE(settle());
    CHECK(part().load.extra[0].at == before);
}

TEST_CASE_METHOD(StrengthWindow,
                 "window: a load that makes no sense is refused at its field, and pieces gone are told of")
{
    openTab(ui::JointTab::Strength);
    type(named<QLineEdit>("Pieces that are held"), "9");
    CHECK(says("There is no piece 9"));
    CHECK(part().load.held.empty());
    type(named<QLineEdit>("Pieces that are held"), "3");
    REQUIRE(settle());
    CHECK(part().load.held == std::vector<int>{3});
    core::PartDesign fewer = core::withoutCut(part(), part().cuts.back().id);
    document().editPart("Remove cut 2", fewer);
    REQUIRE(settle());
    CHECK(find<ui::ProblemLine>("heldProblem")->words().contains("There is no piece 3"));
    CHECK(says("No figures: there is no piece 3"));
}

TEST_CASE_METHOD(StrengthWindow, "window: pieces that are selected in the view are held by a press")
{
    openTab(ui::JointTab::Strength);
    CHECK_FALSE(button("Hold the selected")->isEnabled());
    view().lookFrom(ui::StandardView::Top, false);
    REQUIRE(settle());
    clickAt(pixelOf({90, 60, 200}));
    REQUIRE(settle());
    press(button("Hold the selected"));
    REQUIRE(settle());
    CHECK(part().load.held == std::vector<int>{3});
    CHECK(faces().topLevelItemCount() == 2);
    CHECK(find<ui::StrengthPanel>()->detail().contains("Taken as fixed: piece 3"));
}

TEST_CASE_METHOD(StrengthWindow, "window: the order of assembly is listed, stepped through, and played in the view")
{
    openTab(ui::JointTab::Order);
    auto* steps = named<QListWidget>("Steps of the assembly");
    REQUIRE(steps != nullptr);
    REQUIRE(steps->count() == 2);
    CHECK(steps->item(0)->text().startsWith("1. Push "));
    REQUIRE(bench().state().order);
    CHECK(bench().state().order->step == 0);
    const auto bodies = [&] { return window().view().built().bodies; };
    CHECK(bodies().size() == 2); // the third piece isn't there yet
    shot("window_order_first");
    press(button("Next step"));
    REQUIRE(settle());
    CHECK(bodies().size() == 3);
    CHECK_FALSE(button("Next step")->isEnabled());
    // Apart by the slider's left end, together at its right.
    const auto far = [&] {
        double most = 0;
        for (const ui::ShownBody& body : bodies())
            most = std::max(most, mesh::length(body.placement.point({0, 0, 0})));
        return most;
    };
    CHECK(far() > 20);
    auto* slider = named<QSlider>("How far the step has come");
    slider->setFocus();
    QTest::keyClick(slider, Qt::Key_End);
    REQUIRE(settle());
    CHECK(far() == Approx(0).margin(1e-9));
    press(button("Step before"));
    press(button("Show it"));
    REQUIRE(button("Stop") != nullptr);
    REQUIRE(
        QTest::qWaitFor([&] { return bench().state().order->step == 1 && bench().state().order->apart == 0; }, 15000));
    REQUIRE(QTest::qWaitFor([&] { return button("Show it") != nullptr; }, 5000));
    openTab(ui::JointTab::Joints);
    CHECK_FALSE(bench().state().order);
    CHECK(bodies().size() == 3);
}

TEST_CASE("window: the joint step is whole and reachable at 1000 x 700, light and dark, with its caution")
{
    StrengthWindow w({1000, 700});
    for (const ui::Theme theme : {ui::Theme::Light, ui::Theme::Dark}) {
        ui::applyTheme(test::application(), theme);
        for (const auto tab : {ui::JointTab::Joints, ui::JointTab::Strength, ui::JointTab::Order}) {
            w.openTab(tab);
            CAPTURE(static_cast<int>(tab));
            CHECK(w.says("estimates for planning"));
            CHECK(w.window().size() == QSize(1000, 700));
            auto* area = w.find<ui::JointPage>()->findChildren<QScrollArea*>()[0];
            for (QScrollArea* each : w.find<ui::JointPage>()->findChildren<QScrollArea*>())
                if (each->isVisible() && each->parentWidget() != nullptr) {
                    area = each;
                    break;
                }
            // Nothing is cut off at the right: the page is as wide as what shows it.
            CHECK(area->widget()->width() <= area->viewport()->width());
            w.shot(QString("window_small_%1_%2")
                       .arg(theme == ui::Theme::Dark ? "dark" : "light")
                       .arg(static_cast<int>(tab)));
        }
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}

TEST_CASE_METHOD(StrengthWindow, "window: joints are put, turned and taken away in the view by keys and clicks")
{
    auto* tool = find<ui::JointTool>();
    const std::size_t before = tool->joints().size();
    REQUIRE(before > 0);
    auto* kind = named<QComboBox>("Kind of the next joint");
    REQUIRE(kind != nullptr);
    kind->setFocus();
    QTest::keyClicks(kind, "key");
    const mesh::Vec2 middle = mesh::frameOf(part().cuts[0].plane).flat({60, 40, 100});
    const mesh::Vec3 at = tool->joints()[0].frame.space(middle);
    QTest::mouseClick(&view(), Qt::LeftButton, Qt::ControlModifier, pixelOf(at));
    REQUIRE(settle());
    REQUIRE(part().faces.size() == 1);
    REQUIRE(part().faces[0].joints.size() == before + 1);
    const auto added = [&] { return part().faces[0].joints.back(); };
    CHECK(added().kind == core::JointForm::Kind::Key);
    CHECK(mesh::length(added().at - middle) < 1);
    CHECK(tool->selectedId() == static_cast<int>(before));
    view().setFocus();
    const double angle = added().angle;
    QTest::keyClick(&view(), Qt::Key_R);
    REQUIRE(settle());
    CHECK(added().angle == Approx(angle + M_PI / 12));
    CHECK(action("undo").text().contains("Turn joint"));
    QTest::keyClick(&view(), Qt::Key_Delete);
    REQUIRE(settle());
    CHECK(part().faces[0].joints.size() == before);
    QTest::keyClick(&view(), Qt::Key_Insert);
    REQUIRE(settle());
    CHECK(part().faces[0].joints.size() == before + 1);
}

TEST_CASE_METHOD(StrengthWindow, "window: the chord error of threads is set for the whole part, within its limits")
{
    auto* chord = named<ui::LengthEdit>("Chord error of round surfaces");
    REQUIRE(chord != nullptr);
    type(chord, "0.05 mm");
    REQUIRE(settle());
    CHECK(part().joints.chordMm == 0.05);
    CHECK(realised()->project.layout.joints.front().chordMm == 0.05);
    type(chord, "0");
    CHECK(chord->problem().contains("too small"));
    CHECK(part().joints.chordMm == 0.05);
    action("undo").trigger();
    REQUIRE(settle());
    CHECK(chord->value() == Approx(mesh::tolerance::chordMm));
}
