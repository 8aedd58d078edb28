// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// The window: pieces in the view and in their list, and the joints on their faces.
#include "mesh/plane.h"
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/joint_tool.h"
#include "ui/joints_panel.h"
#include "ui/length_edit.h"
#include "ui/pieces_panel.h"
#include "ui/view_controller.h"

#include <QComboBox>
#include <QSlider>
#include <QTableView>

#include <catch2/catch.hpp>

#include <cmath>

using namespace quoin;
using test::WindowFixture;

namespace {

/// A box of 120 x 80 x 200 mm, cut into halves at z = 100.
struct PiecesWindow : WindowFixture {
    PiecesWindow()
    {
        open(test::cuboid({0, 0, 0}, {120, 80, 200}));
        core::Design next = design();
        next.beds = {{"b", core::Bed::Shape::Rectangular, 200, 200, 200, 1}};
        next.parts[0] = core::withCut(next.parts[0], {{0, 0, 1}, 100});
        document().edit("Add cut 1", next);
        REQUIRE(settle());
    }
    ui::PiecesPanel& panel() { return *find<ui::PiecesPanel>(); }
    const std::set<int>& chosen() { return bench().state().pieces; }
    std::vector<int> shown()
    {
        std::vector<int> numbers;
        for (const ui::ShownBody& body : window().view().built().bodies)
            numbers.push_back(body.piece);
        return numbers;
    }
    /// The number of the piece that a place belongs to.
    int pieceAt(double z)
    {
        const core::RealisedPtr made = realised();
        for (const core::Piece& piece : made->project.pieces)
            if (piece.path.front().above == (z > 100))
                return piece.number;
        return 0;
    }
};

struct JointsWindow : PiecesWindow {
    JointsWindow() { goTo(ui::JobStep::Joint); }
    ui::JointTool& tool() { return *find<ui::JointTool>(); }
    ui::JointsPanel& joints() { return *find<ui::JointsPanel>(); }
    void how(const QString& words)
    {
        auto* box = named<QComboBox>("How the face is jointed");
        REQUIRE(box != nullptr);
        box->setFocus();
        for (int i = 0; i < box->count(); ++i)
            key(Qt::Key_Up);
        while (box->currentText() != words) {
            const int at = box->currentIndex();
            key(Qt::Key_Down);
            REQUIRE(box->currentIndex() != at);
            REQUIRE(settle());
        }
    }
    const core::FaceChoice& face()
    {
        REQUIRE(part().faces.size() == 1);
        return part().faces[0];
    }
    /// Moves a joint in the view to a place on the face, in the frame of its plane.
    void dragJoint(std::size_t joint, mesh::Vec2 to)
    {
        REQUIRE(tool().joints().size() > joint);
        const ui::JointHandle handle = tool().joints()[joint];
        drag(pixelOf(handle.at), pixelOf(handle.frame.space(to)));
        REQUIRE(settle());
    }
};

} // namespace

TEST_CASE_METHOD(PiecesWindow, "window: pieces are chosen in the view and in the list, each shown in the other")
{
    REQUIRE(shown() == std::vector<int>{1, 2});
    const mesh::Vec3 shift = window().view().shift();
    const int low = pieceAt(50), high = pieceAt(150);
    clickAt(pixelOf(shift + mesh::Vec3{60, 0, 50}));
    CHECK(chosen() == std::set<int>{low});
    CHECK(panel().selectedNumbers() == std::vector<int>{low});
    clickAt(pixelOf(shift + mesh::Vec3{60, 0, 150}), Qt::ControlModifier);
    CHECK(chosen() == std::set<int>{1, 2});
    CHECK(panel().selectedNumbers() == std::vector<int>{1, 2});
    clickAt(pixelOf(shift + mesh::Vec3{60, 0, 50}), Qt::ControlModifier);
    CHECK(chosen() == std::set<int>{high});
    auto* table = panel().findChild<QTableView*>();
    QTest::mouseClick(table->viewport(), Qt::LeftButton, {}, table->visualRect(table->model()->index(0, 0)).center());
    CHECK(chosen() == std::set<int>{1});
    REQUIRE(settle());
    REQUIRE(window().view().built().badges.size() == 2);
    for (const ui::PieceBadge& badge : window().view().built().badges)
        CHECK(badge.selected == (badge.text == "1"));
    // Beside the model: nothing is chosen.
    clickAt({5, view().height() - 5});
    CHECK(chosen().empty());
    CHECK(panel().selectedNumbers().empty());
    // From piece to piece by the keys.
    view().setFocus();
    key(Qt::Key_PageDown);
    CHECK(chosen() == std::set<int>{1});
    key(Qt::Key_PageDown);
    CHECK(chosen() == std::set<int>{2});
    key(Qt::Key_PageDown);
    CHECK(chosen() == std::set<int>{1});
}

TEST_CASE_METHOD(PiecesWindow, "window: a piece alone, in its print pose, and all of them apart")
{
    auto* alone = button("Isolate");
    auto* pose = button("Print pose");
    REQUIRE(alone);
    REQUIRE(pose);
    CHECK_FALSE(alone->isEnabled());
    CHECK(alone->toolTip().contains("Select a piece first"));
    panel().findChild<QTableView*>()->selectRow(1);
    press(alone);
    REQUIRE(settle());
    CHECK(shown() == std::vector<int>{2});
    press(alone);
    REQUIRE(settle());
    CHECK(shown() == std::vector<int>{1, 2});

    press(pose);
    REQUIRE(settle());
    REQUIRE(shown() == std::vector<int>{2});
    // It stands on the plate, at z = 0, inside the bed.
    const mesh::Box3 box = window().view().built().selection;
    CHECK(box.min.z == Approx(0).margin(1e-6));
    CHECK(box.min.x >= -95 - 1e-6);
    CHECK(box.max.x <= 95 + 1e-6);
    CHECK(box.max.z <= 195 + 1e-6);
    shot("window_print_pose");
    press(pose);
    REQUIRE(settle());

    auto* slider = panel().findChild<QSlider*>();
    slider->setFocus();
    slider->setValue(50);
    REQUIRE(settle());
    const auto& bodies = window().view().built().bodies;
    REQUIRE(bodies.size() == 2);
    const double apart = bodies[1].placement.point({0, 0, 0}).z - bodies[0].placement.point({0, 0, 0}).z;
    // Half of the share that the slider opens at most: 0.28 of the diagonal; one cut, so all of it between the two.
    CHECK(std::abs(apart) > 10);
    CHECK(std::abs(apart) < 0.28 * std::sqrt(120. * 120 + 80 * 80 + 200 * 200));
    CHECK((apart > 0) == (pieceAt(150) == 2));
    CHECK(document().history().index() == 2); // nothing of this is an edit
    shot("window_exploded");
}

TEST_CASE_METHOD(JointsWindow, "window: joints are taken by hand, added, removed and made plain")
{
    const std::size_t chosenForMe = realised()->project.layout.joints.size();
    REQUIRE(chosenForMe >= 2);
    CHECK(tool().joints().size() == chosenForMe);
    CHECK(view().tool() == &tool());
    press(button("Take these and change them by hand"));
    REQUIRE(settle());
    CHECK(face().how == core::FaceChoice::How::ByHand);
    CHECK(face().joints.size() == chosenForMe);
    CHECK(realised()->project.layout.joints.size() == chosenForMe);
    press(button("Add joint"));
    REQUIRE(settle());
    CHECK(face().joints.size() == chosenForMe + 1);
    CHECK(realised()->project.layout.faults.empty());
    CHECK(tool().joints().size() == chosenForMe + 1);
    press(button("Remove joint"));
    REQUIRE(settle());
    CHECK(face().joints.size() == chosenForMe);
    how("plain, glue");
    REQUIRE(settle());
    CHECK(realised()->project.layout.joints.empty());
    CHECK(realised()->project.layout.reports.front().butt);
    how("chosen for me");
    REQUIRE(settle());
    CHECK(realised()->project.layout.joints.size() == chosenForMe);
    while (document().history().index() > 2)
        action("undo").trigger();
    REQUIRE(settle());
    CHECK(part().faces.empty());
    CHECK(tool().joints().size() == chosenForMe);
}

TEST_CASE_METHOD(JointsWindow, "window: a joint is dragged on its face; one that breaks a rule shows why")
{
    view().lookFrom(ui::StandardView::Top, false);
    view().setParallel(true);
    REQUIRE(settle());
    const mesh::Vec2 was = tool().joints()[0].frame.flat(tool().joints()[0].at);
    const mesh::PlaneFrame frame = mesh::frameOf(part().cuts[0].plane);
    const mesh::Vec2 middle = frame.flat({60, 40, 100});
    // Not on top of the other one: between the middle of the face and where it was.
    const mesh::Vec2 free = middle + 0.6 * (was - middle);
    dragJoint(0, free);
    REQUIRE(face().how == core::FaceChoice::How::ByHand);
    const double mm = view().camera().mmPerPixel({60, 40, 100});
    CHECK(face().joints[0].at.x == Approx(free.x).margin(2 * mm));
    CHECK(face().joints[0].at.y == Approx(free.y).margin(2 * mm));
    CHECK(action("undo").text().startsWith("&Undo: Move joint"));
    CHECK(tool().joints()[0].ok);
    CHECK(realised()->project.layout.faults.empty());
    shot("window_joint_moved");

    // Half over the edge: the bore has no wall there.
    dragJoint(0, frame.flat({2, 40, 100}));
    REQUIRE(realised()->project.layout.faults.size() == 1);
    CHECK_FALSE(tool().joints()[0].ok);
    CHECK_FALSE(tool().joints()[0].why.isEmpty());
    CHECK(tool().selectedId() == 0);
    CHECK(says(QString::fromStdString(realised()->project.layout.faults[0].text).mid(1)));
    shot("window_joint_breaks_rule");
    auto* next = find<QPushButton>("nextButton");
    CHECK(says("A joint can't be made as it stands"));
    CHECK_FALSE(next->isVisible()); // such a set can't be exported
    action("undo").trigger();
    REQUIRE(settle());
    CHECK(tool().joints()[0].ok);
    // The numbers of the selected one, typed.
    auto* diameter = named<ui::LengthEdit>("Diameter of the joint");
    REQUIRE(diameter);
    type(diameter, "5 mm");
    REQUIRE(settle());
    CHECK(face().joints[0].diameterMm == 5);
    CHECK(realised()->project.layout.joints[0].diameterMm == 5);
}
