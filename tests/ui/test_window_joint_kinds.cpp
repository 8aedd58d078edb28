// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// The window: joints of all kinds placed by hand, in the list and in the view.
#include "mesh/plane.h"
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/joint_tool.h"
#include "ui/joints_panel.h"
#include "ui/length_edit.h"
#include "ui/theme.h"

#include <QComboBox>
#include <QKeySequence>
#include <QMenuBar>
#include <QTreeWidget>

#include <catch2/catch.hpp>

using namespace quoin;
using test::WindowFixture;
using Kind = core::JointForm::Kind;

namespace {

/// A block of 120 x 80 x 200 mm in halves, its face by hand with one joint in the middle.
struct KindsWindow : WindowFixture {
    explicit KindsWindow(QSize size = {1600, 1000}) : WindowFixture(size)
    {
        open(test::cuboid({0, 0, 0}, {120, 80, 200}));
        core::Design next = design();
        next.beds = {{"b", core::Bed::Shape::Rectangular, 300, 300, 300, 1}};
        next.parts[0] = core::withCut(next.parts[0], {{0, 0, 1}, 100});
        document().edit("Add cut 1", next);
        core::FaceChoice choice;
        choice.cut = part().cuts[0].id;
        choice.at = mesh::frameOf(part().cuts[0].plane).flat({60, 40, 100});
        choice.how = core::FaceChoice::How::ByHand;
        choice.joints = {core::dowelForm(choice.at, 10, 15)};
        core::PartDesign chosen = part();
        chosen.faces = {choice};
        document().editPart("By hand", chosen);
        goTo(ui::JobStep::Joint);
        REQUIRE(settle());
        REQUIRE(tool().joints().size() == 1);
        clickAt(pixelOf(tool().joints()[0].at));
        REQUIRE(settle());
        REQUIRE(tool().selectedId() == 0);
    }
    ui::JointTool& tool() { return *find<ui::JointTool>(); }
    const core::JointForm& joint() { return part().faces.front().joints.front(); }
    /// By the keyboard: the letters of the item's text.
    void choose(const QString& box, const QString& item)
    {
        auto* combo = named<QComboBox>(box);
        CAPTURE(box.toStdString(), item.toStdString());
        REQUIRE(combo != nullptr);
        REQUIRE(combo->isEnabled());
        combo->setFocus();
        QTest::qWait(QApplication::keyboardInputInterval() + 50); // else these letters go on from those before
        if (combo->currentText() != item)
            QTest::keyClicks(combo, item.section(' ', 0, 0));
        REQUIRE(combo->currentText() == item);
        REQUIRE(settle());
    }
    const ui::PartView& shown() { return *bench().work()->view(); }
    /// How far the drawn pieces stand out past the cut, mm: below's up, above's down.
    double proudMm()
    {
        double most = 0;
        const core::Project& project = realised()->project;
        for (std::size_t i = 0; i < shown().sunk.size(); ++i) {
            const mesh::Box3 box = ui::boundsOf(*shown().sunk[i]);
            most = std::max(most, project.pieces[i].path.front().above ? 100 - box.min.z : box.max.z - 100);
        }
        return most;
    }
    QString row(int column)
    {
        const auto* face = find<ui::JointsPanel>()->findChild<QTreeWidget*>()->topLevelItem(0);
        return face->child(0)->text(column);
    }
};

} // namespace

TEST_CASE_METHOD(KindsWindow, "window: a joint becomes a screw, which stands on its piece, drawn and listed")
{
    choose("Kind of the joint", "screw");
    CHECK(joint().kind == Kind::Screw);
    CHECK(action("undo").text().contains("Change kind of"));
    CHECK(row(0) == "A1 screw");
    CHECK(row(1).startsWith("50 × 40 mm"));
    CHECK(tool().joints().size() == 1);
    REQUIRE_FALSE(bench().work()->problem());
    CHECK(shown().loose.empty());
    CHECK(proudMm() == Approx(joint().depthMm).margin(0.1));
    shot("window_joint_screw");
    choose("Thread profile", "trapezoidal, ISO 2901");
    CHECK(row(1).startsWith("Tr "));
    CHECK(joint().thread.trapezoidal);
    REQUIRE_FALSE(bench().work()->problem());
    action("undo").trigger();
    action("undo").trigger();
    REQUIRE(settle());
    CHECK(joint().kind == Kind::Dowel);
    CHECK(proudMm() == Approx(0).margin(1e-3));
}

TEST_CASE_METHOD(KindsWindow, "window: loose joints lie between the pieces, bought ones of another colour")
{
    for (const auto& [kind, words] : {std::pair{Kind::Stud, "stud"}, std::pair{Kind::Key, "key"}}) {
        choose("Kind of the joint", words);
        CHECK(joint().kind == kind);
        REQUIRE_FALSE(bench().work()->problem());
        REQUIRE(shown().loose.size() == 1);
        CHECK_FALSE(shown().loose[0].bought);
        const mesh::Box3 box = ui::boundsOf(*shown().loose[0].mesh);
        CHECK(box.min.z == Approx(100 - joint().depthMm).margin(0.1));
        CHECK(box.max.z == Approx(100 + joint().depthMm).margin(0.1));
        shot(QString("window_joint_%1").arg(words));
    }
    choose("Kind of the joint", "dowel");
    choose("What the dowel is made of", "steel rod, bought");
    REQUIRE(shown().loose.size() == 1);
    CHECK(shown().loose[0].bought);
}

TEST_CASE_METHOD(KindsWindow, "window: a screw is dragged as any joint is")
{
    choose("Kind of the joint", "screw");
    auto* diameter = named<ui::LengthEdit>("Diameter of the joint");
    type(diameter, "20 mm");
    REQUIRE(settle());
    view().lookFrom(ui::StandardView::Top, false);
    view().setParallel(true);
    REQUIRE(settle());
    const ui::JointHandle handle = tool().joints()[0];
    CHECK(handle.radiusMm >= 10);
    const mesh::Vec2 to = handle.frame.flat(handle.at) + mesh::Vec2{15, 8};
    drag(pixelOf(handle.at), pixelOf(handle.frame.space(to)));
    REQUIRE(settle());
    CHECK(mesh::length(joint().at - to) < 1);
    CHECK(joint().kind == Kind::Screw);
    CHECK(joint().diameterMm == 20);
    CHECK(action("undo").text().startsWith("&Undo: Move joint"));
}

TEST_CASE_METHOD(KindsWindow, "window: how sure a face is stands beside it, with the caution")
{
    const auto* face = find<ui::JointsPanel>()->findChild<QTreeWidget*>()->topLevelItem(0);
    CHECK_FALSE(face->text(2).isEmpty());
    CHECK(face->toolTip(2).contains("licensed"));
    CHECK(says("estimates for planning"));
}

TEST_CASE("window: letters of the joint step are underlined once for every kind, at 1000 x 700 and dark too")
{
    KindsWindow w({1000, 700});
    ui::applyTheme(test::application(), ui::Theme::Dark);
    for (const char* kind : {"screw", "key", "draw bolt", "dowel"}) {
        w.choose("Kind of the joint", kind);
        std::map<QString, QStringList> letters;
        const auto note = [&](const QString& text) {
            if (const QString letter = QKeySequence::mnemonic(text).toString(); !letter.isEmpty())
                letters[letter] << text;
        };
        for (const QAction* title : w.window().menuBar()->actions())
            note(title->text());
        for (const QLabel* label : w.window().findChildren<QLabel*>())
            if (label->isVisible() && label->buddy() != nullptr && label->buddy()->isEnabled())
                note(label->text());
        for (const QAbstractButton* button : w.window().findChildren<QAbstractButton*>())
            if (button->isVisible() && button->isEnabled())
                note(button->text());
        for (const auto& [letter, texts] : letters) {
            CAPTURE(kind, letter.toStdString(), texts.join(" / ").toStdString());
            CHECK(texts.size() == 1);
        }
        w.shot(QString("window_small_dark_%1").arg(QString(kind).replace(' ', '_')));
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
