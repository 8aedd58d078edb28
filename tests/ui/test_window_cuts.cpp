// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// The window: from a file to pieces, by the planes of cuts. Expected areas and lengths are closed forms of a box and of
// a pyramid.
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/cut_tool.h"
#include "ui/cuts_panel.h"
#include "ui/handle_maths.h"
#include "ui/length_edit.h"

#include <QTreeWidget>

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace quoin;
using Grip = ui::CutTool::Grip;
using test::WindowFixture;

namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr mesh::Vec3 up{0, 0, 1};

/// A square pyramid: side 200 mm, 300 mm tall.
mesh::Mesh pyramid()
{
    return test::soup({{-100, -100, 0}, {100, -100, 0}, {100, 100, 0}, {-100, 100, 0}, {0, 0, 300}},
                      {{0, 2, 1}, {0, 3, 2}, {0, 1, 4}, {1, 2, 4}, {2, 3, 4}, {3, 0, 4}});
}

double pyramidArea(double z)
{
    const double side = 200 * (1 - z / 300);
    return side * side;
}

struct CutWindow : WindowFixture {
    ui::CutTool& tool() { return *find<ui::CutTool>(); }
    QTreeWidget& tree() { return *find<ui::CutsPanel>()->findChild<QTreeWidget*>(); }
    QPoint grip(Grip g)
    {
        const auto at = tool().gripPlace(g, view().camera());
        REQUIRE(at);
        return {qRound(at->x), qRound(at->y)};
    }
    const core::CutStep& cut(std::size_t i = 0)
    {
        REQUIRE(part().cuts.size() > i);
        return part().cuts[i];
    }
    /// Of the section that the view shows; waits for the one of this plane.
    double liveArea(const mesh::Plane& plane)
    {
        const auto there = [&] {
            const auto& section = bench().state().liveSection;
            return section && section->plane == plane;
        };
        REQUIRE(QTest::qWaitFor(there, 5000));
        return bench().state().liveSection->areaMm2;
    }
    void cutAcross(const char* id)
    {
        action(id).trigger();
        REQUIRE(settle());
    }
    std::size_t pieces() { return realised()->project.pieces.size(); }
    QTreeWidgetItem& line(int id)
    {
        for (QTreeWidgetItemIterator it(&tree()); *it != nullptr; ++it)
            if ((*it)->data(0, Qt::UserRole).toInt() == id)
                return **it;
        FAIL("no line for the cut");
        std::abort();
    }
};

} // namespace

TEST_CASE_METHOD(CutWindow, "window: a file is opened and made 1.8 m tall by typing it")
{
    CHECK(find<ui::ModelView>()->isVisible() == false);
    open(test::cuboid({-50, -40, 0}, {50, 40, 120}));
    CHECK(view().isVisible());
    CHECK(part().name == "block");
    CHECK(part().scale == 1);
    CHECK(window().windowTitle().contains("New design"));
    CHECK(window().isWindowModified());
    goTo(ui::JobStep::Scale);
    auto* height = named<ui::LengthEdit>("Wanted height");
    type(height, "1.8 m");
    REQUIRE(settle());
    CHECK(part().scale == Approx(15));
    CHECK(named<ui::LengthEdit>("Wanted width")->value() == Approx(1500));
    CHECK(core::scaledBounds(part()).extents().y == Approx(1200));
    CHECK(action("undo").text() == "&Undo: Scale block");
    // Drawn at that size too.
    const mesh::Box3 seen = window().view().built().model;
    CHECK(seen.extents().z == Approx(1800).epsilon(1e-6));
    type(height, "tall");
    CHECK_FALSE(height->problem().isEmpty());
    CHECK(part().scale == Approx(15));
    key(Qt::Key_Escape);
    action("undo").trigger();
    CHECK(part().scale == 1);
    CHECK(height->value() == Approx(120));
}

TEST_CASE_METHOD(CutWindow, "window: dragging the arrow of a cut moves its plane, and the section follows")
{
    open(pyramid());
    menu(Qt::Key_C, Qt::Key_Z);
    REQUIRE(settle());
    CHECK(bench().state().step == ui::JobStep::Cut);
    REQUIRE(part().cuts.size() == 1);
    CHECK(cut().plane == mesh::Plane{up, 150});
    CHECK(action("undo").text() == "&Undo: Add cut 1");
    CHECK(liveArea(cut().plane) == Approx(pyramidArea(150)));
    CHECK(pieces() == 2);

    const QPoint from = grip(Grip::Arrow);
    const QPoint along = pixelOf({0, 0, 210}) - pixelOf({0, 0, 150});
    REQUIRE(std::hypot(along.x(), along.y()) > 30);
    const auto camera = view().camera();
    pressAt(from);
    std::vector<double> seen;
    for (int i = 1; i <= 8; ++i) {
        moveTo(from + along * i / 8);
        REQUIRE(bench().state().livePlane);
        const mesh::Plane live = bench().state().livePlane->second;
        seen.push_back(live.offset);
        CHECK(liveArea(live) == Approx(pyramidArea(live.offset)).epsilon(1e-9));
        CHECK(cut().plane.offset == 150); // not before it is let go
    }
    CHECK(seen.back() > seen.front() + 20);
    releaseAt(from + along);
    REQUIRE(settle());
    CHECK(view().camera() == camera);
    CHECK_FALSE(bench().state().livePlane);
    CHECK(cut().plane.normal == up);
    CHECK(cut().plane.offset == seen.back());
    CHECK(cut().plane.offset == Approx(210).margin(8)); // perspective
    CHECK(std::remainder(cut().plane.offset, 1) == Approx(0).margin(1e-9)); // the step of 1 mm
    CHECK(action("undo").text() == "&Undo: Move cut 1");
    CHECK(realised()->project.seams.front().areaMm2 == Approx(pyramidArea(cut().plane.offset)).epsilon(1e-6));
    CHECK(line(1).text(1).contains(QString::number(cut().plane.offset)));
    // Without snapping, with Ctrl.
    drag(grip(Grip::Arrow), grip(Grip::Arrow) + QPoint(0, 7), Qt::ControlModifier);
    REQUIRE(settle());
    CHECK(std::abs(std::remainder(cut().plane.offset, 1)) > 1e-6);
    action("undo").trigger();
    CHECK(cut().plane.offset == seen.back());
    action("undo").trigger();
    CHECK(cut().plane.offset == 150);
    CHECK(action("redo").text() == "&Redo: Move cut 1");
    action("redo").trigger();
    REQUIRE(settle());
    CHECK(cut().plane.offset == seen.back());
    CHECK(liveArea(cut().plane) == Approx(pyramidArea(seen.back())));
    shot("window_cut_dragged");
}

TEST_CASE_METHOD(CutWindow, "window: dragging an arc tilts the cut; its section is the box's over the cosine")
{
    open(test::cuboid({0, 0, 0}, {300, 200, 400}));
    cutAcross("cutZ");
    CHECK(liveArea(cut().plane) == Approx(60000));
    drag(grip(Grip::ArcU), grip(Grip::ArcU) + QPoint(24, 18));
    REQUIRE(settle());
    const mesh::Plane tilted = cut().plane;
    const double tilt = std::acos(tilted.normal.z);
    CHECK(tilt > 4 * degree);
    CHECK(tilt < 40 * degree);
    CHECK(tilted.distance({150, 100, 200}) == Approx(0).margin(1e-6)); // about the middle
    // Seen along z the whole rectangle is cut.
    CHECK(liveArea(tilted) == Approx(60000 / std::cos(tilt)).epsilon(1e-9));
    CHECK(action("undo").text() == "&Undo: Tilt cut 1");
    const core::RealisedPtr made = realised();
    CHECK(made->project.seams.front().areaMm2 == Approx(60000 / std::cos(tilt)).epsilon(1e-6));
    // Escape puts it back, and nothing comes into the history.
    const int index = document().history().index();
    const QPoint from = grip(Grip::Arrow);
    pressAt(from);
    moveTo(from + QPoint(0, -40));
    CHECK(bench().state().livePlane->second.offset != tilted.offset);
    QTest::keyClick(&view(), Qt::Key_Escape);
    releaseAt(from + QPoint(0, -40));
    REQUIRE(settle());
    CHECK(cut().plane == tilted);
    CHECK_FALSE(bench().state().livePlane);
    CHECK(document().history().index() == index);
    shot("window_cut_tilted");
}

TEST_CASE_METHOD(CutWindow, "window: a cut can be of one piece only")
{
    open(test::cuboid({0, 0, 0}, {300, 200, 400}));
    cutAcross("cutZ");
    CHECK_FALSE(action("cutAgain").isEnabled());
    CHECK(action("cutAgain").toolTip().contains("select one piece first"));
    bench().look([](ui::ViewState& state) { state.pieces = {2}; });
    const auto upper = realised()->project.pieces[1];
    CHECK(action("cutAgain").isEnabled());
    key(Qt::Key_K, Qt::ControlModifier);
    REQUIRE(settle());
    REQUIRE(part().cuts.size() == 2);
    REQUIRE(cut(1).within.size() == 1);
    CHECK(cut(1).within[0].cut == 1);
    CHECK(cut(1).within[0].above == upper.path.front().above);
    // Across its longest side, through its middle.
    CHECK(cut(1).plane == mesh::Plane{{1, 0, 0}, 150});
    CHECK(pieces() == 3);
    CHECK(liveArea(cut(1).plane) == Approx(200 * 200));
    CHECK(line(2).parent() == &line(1));
    // A whole cut goes through all.
    cutAcross("cutY");
    CHECK(cut(2).within.empty());
    CHECK(pieces() == 6);
    // Without the first, the second reaches across.
    tree().setCurrentItem(&line(1));
    key(Qt::Key_Backspace, Qt::ControlModifier);
    REQUIRE(settle());
    REQUIRE(part().cuts.size() == 2);
    CHECK(cut(0).within.empty());
    CHECK(pieces() == 4);
    CHECK(action("undo").text() == "&Undo: Remove cut 1");
}

TEST_CASE_METHOD(CutWindow, "window: cuts are switched off and on, reordered, renamed and removed in their list")
{
    open(test::cuboid({0, 0, 0}, {300, 200, 400}));
    cutAcross("cutZ");
    cutAcross("cutX");
    CHECK(pieces() == 4);
    line(1).setCheckState(0, Qt::Unchecked);
    REQUIRE(settle());
    CHECK_FALSE(cut(0).enabled);
    CHECK(pieces() == 2);
    CHECK(action("undo").text() == "&Undo: Switch cut 1 off");
    line(1).setCheckState(0, Qt::Checked);
    REQUIRE(settle());
    CHECK(pieces() == 4);

    tree().setCurrentItem(&line(2));
    tree().setFocus();
    key(Qt::Key_Up, Qt::AltModifier);
    REQUIRE(settle());
    CHECK(cut(0).id == 2);
    CHECK(action("undo").text() == "&Undo: Reorder cut 2");
    CHECK(pieces() == 4);

    line(2).setText(0, "at the hip");
    CHECK(cut(0).name == "at the hip");
    tree().setFocus();
    key(Qt::Key_Delete);
    REQUIRE(settle());
    REQUIRE(part().cuts.size() == 1);
    CHECK(cut(0).id == 1);
    CHECK(pieces() == 2);

    // All of it back, step by step, and again.
    std::vector<std::string> history;
    while (document().history().canUndo()) {
        history.push_back(test::textOf(design()));
        action("undo").trigger();
    }
    CHECK(design().parts.empty());
    CHECK_FALSE(action("undo").isEnabled());
    CHECK(action("undo").toolTip().contains("nothing has been changed yet"));
    while (document().history().canRedo()) {
        action("redo").trigger();
        CHECK(test::textOf(design()) == history.back());
        history.pop_back();
    }
    REQUIRE(settle());
    CHECK(pieces() == 2);
}

TEST_CASE_METHOD(CutWindow, "window: numbers move a cut; a cut that meets nothing says so")
{
    open(test::cuboid({0, 0, 0}, {300, 200, 400}));
    cutAcross("cutZ");
    type(named<ui::LengthEdit>("Position"), "12.5 cm");
    REQUIRE(settle());
    CHECK(cut().plane == mesh::Plane{up, 125});
    CHECK(liveArea(cut().plane) == Approx(60000));
    // Two edits of one number, one after another, are one step back.
    const int index = document().history().index();
    type(named<ui::LengthEdit>("Position"), "130");
    type(named<ui::LengthEdit>("Position"), "140");
    CHECK(document().history().index() == index);
    bench().document().editPart("Move cut 1", core::withCutPlane(part(), 1, {up, 900}));
    REQUIRE(settle());
    CHECK(pieces() == 1);
    CHECK(find<ui::CutsPanel>()->findChild<QTreeWidget*>()->topLevelItem(0)->toolTip(0).contains("meets nothing"));
    action("undo").trigger();
    CHECK(cut().plane.offset == 140);
}

TEST_CASE_METHOD(CutWindow, "window: three picked points and a picked face give planes")
{
    open(test::cuboid({0, 0, 0}, {300, 200, 400}));
    action("cutPoints").trigger();
    REQUIRE(settle());
    // Corners that are seen from there: the plane through them is known.
    for (const mesh::Vec3 p : {mesh::Vec3{298, 1, 399}, {298, 0.5, 100}, {2, 198, 399.5}})
        clickAt(pixelOf(p));
    REQUIRE(settle());
    REQUIRE(part().cuts.size() == 1);
    CHECK(std::abs(cut().plane.normal.z) < 0.05);
    CHECK(cut().plane.distance({298, 1, 399}) == Approx(0).margin(5));
    CHECK(cut().plane.distance({2, 198, 399.5}) == Approx(0).margin(5));
    action("cutFace").trigger();
    REQUIRE(settle());
    clickAt(pixelOf({100, 100, 400}));
    REQUIRE(settle());
    REQUIRE(part().cuts.size() == 2);
    CHECK(std::abs(cut(1).plane.normal.z) == Approx(1));
    CHECK(std::abs(cut(1).plane.offset) == Approx(200));
    CHECK(view().tool() == &tool());
}
