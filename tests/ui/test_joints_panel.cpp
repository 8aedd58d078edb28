// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/face_choice.h"
#include "core/joint_layout.h"
#include "core/joint_rules.h"
#include "mesh/primitives.h"
#include "tests/ui/application.h"
#include "ui/joint_words.h"
#include "ui/joints_panel.h"
#include "ui/length_edit.h"
#include "ui/theme.h"

#include <QCheckBox>
#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QSignalSpy>
#include <QTest>
#include <QTreeWidget>

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::ui;
using How = core::FaceChoice::How;

namespace {

/// Stands in for the document: makes edits true and shows what comes of them.
struct Bench {
    core::Realised realised;
    core::PartDesign part;
    JointsPanel panel;
    std::vector<QString> history;

    Bench(const mesh::Mesh& body, const std::vector<mesh::Plane>& planes)
    {
        core::Project& p = realised.project;
        p.plan = core::planByCutting(body, planes).value();
        p.pieces = core::piecesOf(core::cutByPlan(body, p.plan).value());
        p.seams = core::seamsOf(p.pieces, p.plan);
        for (std::size_t i = 0; i < p.plan.nodes.size(); ++i)
            realised.cutOfNode.push_back(static_cast<int>(i) + 1);
        QObject::connect(&panel, &JointsPanel::faceChoiceWanted, &panel,
                         [this](const core::FaceChoice& choice, const QString& name) {
                             history.push_back(name);
                             part = core::withFaceChoice(realised.project, realised.cutOfNode, part, choice);
                             workOut();
                         });
        QObject::connect(&panel, &JointsPanel::optionsWanted, &panel,
                         [this](const core::JointOptions& options, core::Fit fit, const QString& name) {
                             history.push_back(name);
                             part.joints = options;
                             part.fit = fit;
                             workOut();
                         });
        workOut();
    }

    void workOut()
    {
        core::Project& p = realised.project;
        p.jointOptions = part.joints;
        p.jointOptions.clearances = core::clearancesFor({}, part.material, {}, part.fit);
        const auto choices = core::seamChoices(p, realised.cutOfNode, part);
        p.layout = core::layOutJoints(p.pieces, p.seams, p.plan, p.jointOptions, choices).value();
        panel.setJoints(jointsShown(realised, part));
    }

    template <class Widget>
    Widget* named(const QString& accessibleName)
    {
        for (Widget* widget : panel.findChildren<Widget*>())
            if (widget->accessibleName() == accessibleName || widget->property("text").toString() == accessibleName)
                return widget;
        FAIL("no widget named " << accessibleName.toStdString());
        return nullptr;
    }
    QTreeWidget& tree() { return *named<QTreeWidget>("Joints by face"); }
    void choose(const QString& box, const QString& item)
    {
        auto* combo = named<QComboBox>(box);
        REQUIRE(combo->isEnabled());
        const int at = combo->findText(item, Qt::MatchStartsWith);
        REQUIRE(at >= 0);
        combo->setFocus();
        // As by keyboard: from the top down to the item.
        QTest::keyClick(combo, Qt::Key_Home);
        for (int i = 0; i < at; ++i)
            QTest::keyClick(combo, Qt::Key_Down);
        REQUIRE(combo->currentIndex() == at);
    }
    void type(const QString& field, const QString& text)
    {
        auto* edit = named<LengthEdit>(field);
        REQUIRE(edit->isEnabled());
        edit->setFocus();
        edit->selectAll();
        QTest::keyClicks(edit, text);
        QTest::keyClick(edit, Qt::Key_Return);
    }
    void click(const QString& button)
    {
        auto* found = named<QPushButton>(button);
        REQUIRE(found->isEnabled());
        QTest::mouseClick(found, Qt::LeftButton);
    }
};

/// A box in two halves: the face is 60 mm across and 80 mm up in its own frame.
struct Box : test::WithApplication, Bench {
    Box() : Bench(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)})
    {
        test::show(panel, {400, 900});
    }
};

} // namespace

TEST_CASE("joints panel: faces with their joints, their size and how they stand")
{
    Box bench;
    REQUIRE(bench.tree().topLevelItemCount() == 1);
    const QTreeWidgetItem* face = bench.tree().topLevelItem(0);
    CHECK(face->text(0).contains("A"));
    CHECK(face->text(0).contains("1 | 2"));
    CHECK(face->text(1) == "2 dowels of 10 mm");
    CHECK(face->toolTip(1).contains("48 cm²")); // 80 x 60 mm
    CHECK(face->text(3) == "good");
    REQUIRE(face->childCount() == 2);
    CHECK(face->child(1)->text(0) == "A2 dowel");
    CHECK(face->child(1)->text(1) == "10 × 15 mm, sliding");
    CHECK(face->child(0)->toolTip(1) == "10 mm diameter, 15 mm into each side; sliding, 0.25 mm a side");
    CHECK(face->child(0)->text(3) == "good");
    CHECK(bench.named<QComboBox>("How the face is jointed")->isEnabled() == false);
    CHECK(bench.named<QComboBox>("How the face is jointed")->toolTip().contains("Select a face"));
}

TEST_CASE("joints panel: a face is selected by mouse and keys, and told once")
{
    Box bench;
    bench.panel.select(-1);
    QSignalSpy spy(&bench.panel, &JointsPanel::selected);
    QTreeWidget& tree = bench.tree();
    QTest::mouseClick(tree.viewport(), Qt::LeftButton, {}, tree.visualItemRect(tree.topLevelItem(0)).center());
    REQUIRE(spy.count() == 1);
    CHECK(spy[0][0].toInt() == 0);
    CHECK(spy[0][1].toInt() == -1);
    QTest::keyClick(&tree, Qt::Key_Down);
    REQUIRE(spy.count() == 2);
    CHECK(spy[1][1].toInt() == 0);
    bench.panel.select(0, 1); // from the view: no signal
    CHECK(spy.count() == 2);
    CHECK(bench.panel.selectedJoint() == 1);
    CHECK(tree.currentItem()->text(0) == "A2 dowel");
}

TEST_CASE("joints panel: wishes for what is chosen")
{
    Box bench;
    bench.panel.select(0);
    bench.choose("Largest joint", "5 mm");
    REQUIRE(bench.part.faces.size() == 1);
    CHECK(bench.part.faces[0].diameterMm == 5.0);
    CHECK(mesh::contains(bench.realised.project.seams[0].region, bench.part.faces[0].at));
    CHECK(bench.realised.project.layout.joints[0].diameterMm == 5);
    CHECK(bench.panel.selectedSeam() == 0);
    bench.choose("Fit of the joints", "snug");
    CHECK(bench.part.faces[0].fit == core::Fit::Snug);
    CHECK(bench.realised.project.layout.joints[0].clearanceMm == 0.15);
    CHECK(bench.tree().topLevelItem(0)->child(0)->text(1).endsWith("snug"));
    bench.choose("How the face is jointed", "plain");
    CHECK(bench.realised.project.layout.joints.empty());
    CHECK(bench.tree().topLevelItem(0)->text(3) == "plain, glue");
    CHECK_FALSE(bench.named<QComboBox>("Fit of the joints")->isEnabled());
    CHECK(bench.named<QComboBox>("Fit of the joints")->toolTip().contains("plain face"));
    bench.choose("How the face is jointed", "chosen");
    CHECK(bench.realised.project.layout.joints.size() == 2);
    bench.choose("Largest joint", "as the face");
    bench.choose("Fit of the joints", "as the part");
    CHECK(bench.part.faces.empty()); // nothing is wished for any more
}

TEST_CASE("joints panel: dowels by hand are taken over, moved, resized, keyed, added and removed")
{
    Box bench;
    bench.panel.select(0, 0);
    const auto chosen = bench.realised.project.layout.joints;
    CHECK_FALSE(bench.named<LengthEdit>("Diameter of the joint")->isEnabled());
    CHECK(bench.named<LengthEdit>("Diameter of the joint")->toolTip().contains("chosen for you"));
    bench.click("Take these and change them &by hand");
    REQUIRE(bench.part.faces.size() == 1);
    REQUIRE(bench.part.faces[0].joints.size() == 2);
    CHECK(bench.part.faces[0].joints[0].at == chosen[0].at);
    CHECK(bench.panel.selectedJoint() == 0);

    const auto dowel = [&](std::size_t i) { return bench.part.faces[0].joints[i]; };
    bench.type("Diameter of the joint", "7.5");
    CHECK(dowel(0).diameterMm == 7.5);
    CHECK(bench.named<QComboBox>("Diameter from the series")->currentText() == "own size");
    bench.choose("Diameter from the series", "8 mm");
    CHECK(dowel(0).diameterMm == 8);
    bench.type("Depth of the joint", "2 cm");
    CHECK(dowel(0).depthMm == 20);
    bench.type("Place across the face", "0");
    bench.type("Place up the face", "3.5");
    const mesh::Vec2 middle = mesh::frameOf(bench.realised.project.plan.nodes[0].plane).flat({100, 40, 30});
    CHECK(dowel(0).at.x == Approx(middle.x).margin(1e-9));
    CHECK(dowel(0).at.y == Approx(middle.y + 3.5).margin(1e-9));
    QCoreApplication::processEvents(); // laid out anew after the numbers
    QTest::mouseClick(bench.named<QCheckBox>("&Keyed"), Qt::LeftButton, {}, {8, 8});
    CHECK(dowel(0).keyed);
    CHECK(bench.tree().topLevelItem(0)->child(0)->text(0) == "A1 dowel, keyed");
    test::picture(bench.panel, "joints-panel-by-hand");

    bench.click("Add j&oint");
    REQUIRE(bench.part.faces[0].joints.size() == 3);
    CHECK(bench.panel.selectedJoint() == 2);
    CHECK(bench.realised.project.layout.faults.empty()); // there was room for it
    bench.tree().setFocus();
    QTest::keyClick(&bench.tree(), Qt::Key_Delete);
    CHECK(bench.part.faces[0].joints.size() == 2);
    QTest::keyClick(&bench.tree(), Qt::Key_Insert);
    CHECK(bench.part.faces[0].joints.size() == 3);
    CHECK(bench.history.back() == "Face A: Add dowel");
}

TEST_CASE("joints panel: a dowel that breaks a rule says why, in the list and below it")
{
    Box bench;
    bench.panel.select(0);
    bench.choose("How the face is jointed", "by hand");
    bench.panel.select(0, 1);
    bench.type("Place up the face", "33.5");
    const QTreeWidgetItem* face = bench.tree().topLevelItem(0);
    CHECK(face->text(3) == "A2 breaks a rule");
    CHECK(face->child(1)->toolTip(3).contains("too little"));
    const auto* fault = bench.named<QLabel>("Rule that the joint breaks");
    CHECK(fault->isVisible());
    CHECK(fault->text().contains("mm around its axis"));
    CHECK(bench.named<QCheckBox>("Onl&y faces that need a look")->isEnabled());
    CHECK_FALSE(bench.named<QLabel>("What the face got")->text().contains("breaks")); // not said twice
    test::picture(bench.panel, "joints-panel-fault");
    applyTheme(test::application(), Theme::Dark);
    test::show(bench.panel, {330, 760});
    bench.panel.select(0);
    CHECK(fault->text().startsWith("A2: "));
    test::picture(bench.panel, "joints-panel-dark");
    applyTheme(test::application(), Theme::Light);
    bench.panel.select(0, 1);
    bench.type("Place up the face", "40");
    CHECK(bench.tree().topLevelItem(0)->child(1)->text(3) == "can't be made");
    bench.type("Place up the face", "41"); // refused: the face ends at 40
    CHECK(bench.named<LengthEdit>("Place up the face")->problem().contains("the face ends there"));
    const mesh::Vec2 middle = mesh::frameOf(bench.realised.project.plan.nodes[0].plane).flat({100, 40, 30});
    CHECK(bench.part.faces[0].joints[1].at.y == Approx(middle.y + 40));
}

TEST_CASE("joints panel: stepping a place is told live, and as one edit at rest")
{
    Box bench;
    bench.panel.select(0);
    bench.choose("How the face is jointed", "by hand");
    bench.panel.select(0, 0);
    QSignalSpy live(&bench.panel, &JointsPanel::faceChoiceLive), wanted(&bench.panel, &JointsPanel::faceChoiceWanted);
    auto* across = bench.named<LengthEdit>("Place across the face");
    across->setFocus();
    for (int i = 0; i < 3; ++i)
        QTest::keyClick(across, Qt::Key_Up);
    CHECK(live.count() == 3);
    REQUIRE(QTest::qWaitFor([&] { return wanted.count() == 1; }, 2000));
    CHECK(wanted[0][1].toString() == "Face A: Change place of dowel A1");
    CHECK_FALSE(wanted[0][2].toString().isEmpty());
}

TEST_CASE("joints panel: what holds for the whole part")
{
    Box bench;
    bench.type("Least wall around a joint", "4");
    CHECK(bench.part.joints.wallMm == 4);
    bench.choose("Fit of all joints", "press");
    CHECK(bench.part.fit == core::Fit::Press);
    CHECK(bench.realised.project.layout.joints[0].clearanceMm == 0.10);
    QTest::mouseClick(bench.named<QCheckBox>("Piece &numbers and mating marks"), Qt::LeftButton, {}, {8, 8});
    CHECK_FALSE(bench.part.joints.marks);
    CHECK_FALSE(bench.part.joints.witness); // only if asked for
    QTest::mouseClick(bench.named<QCheckBox>("Witness line across each seam"), Qt::LeftButton, {}, {8, 8});
    CHECK(bench.part.joints.witness);
    CHECK(bench.history.back() == "Witness lines on");
    CHECK_FALSE(bench.part.joints.clocked);
    QTest::mouseClick(bench.named<QCheckBox>("Clocking key beside screws and studs"), Qt::LeftButton, {}, {8, 8});
    CHECK(bench.part.joints.clocked);
    CHECK(bench.part.joints.witness); // and the other stays
    CHECK(bench.history.back() == "Clocking keys on");
    bench.choose("Joints on all faces", "none");
    CHECK_FALSE(bench.part.joints.wanted);
    CHECK(bench.history.back() == "Joints on all faces: none: plain, glue");
    CHECK(bench.realised.project.layout.joints.empty());
    CHECK(bench.tree().topLevelItem(0)->text(3) == "plain, glue");
}

TEST_CASE("joints panel: many faces, some without room; the list can show those alone")
{
    test::application();
    Bench bench(mesh::joined(mesh::box({0, 0, 0}, {300, 120, 90}), mesh::box({0, 200, 0}, {300, 280, 5})),
                {mesh::planeAt({1, 0, 0}, 100), mesh::planeAt({1, 0, 0}, 200), mesh::planeAt({0, 0, 1}, 45)});
    test::show(bench.panel, {380, 860});
    const int all = bench.tree().topLevelItemCount();
    CHECK(all == 9);
    bench.panel.select(3);
    test::picture(bench.panel, "joints-panel-many");
    QTest::mouseClick(bench.named<QCheckBox>("Onl&y faces that need a look"), Qt::LeftButton, {}, {8, 8});
    CHECK(bench.tree().topLevelItemCount() == 2); // the thin plate's
    CHECK(bench.tree().topLevelItem(0)->text(3) == "plain: no room");
    CHECK(bench.tree().topLevelItem(0)->toolTip(3).contains("roomiest place"));
    bench.panel.setWhyNone("Cut the part first.");
    CHECK(bench.tree().isHidden());
    CHECK(bench.panel.selectedSeam() == -1);
    test::picture(bench.panel, "joints-panel-none");
}
