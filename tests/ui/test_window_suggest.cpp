// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// The window: suggestions of cuts, and places that no cut may pass.
#include "core/keep_clear.h"
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/paint_tool.h"
#include "ui/suggest_panel.h"
#include "ui/suggestion_table.h"

#include <QProgressBar>
#include <QSpinBox>
#include <QTabWidget>

#include <catch2/catch.hpp>

using namespace quoin;
using test::WindowFixture;

namespace {

constexpr double postHeightMm = 500, ringMm = 10;

/// A square post, 60 x 60 x 500 mm, its sides in rings of 10 mm.
mesh::Mesh post()
{
    mesh::Mesh m = test::soup({}, {});
    const int rings = static_cast<int>(postHeightMm / ringMm);
    const mesh::Vec3 corners[4] = {{-30, -30, 0}, {30, -30, 0}, {30, 30, 0}, {-30, 30, 0}};
    for (int ring = 0; ring <= rings; ++ring)
        for (const mesh::Vec3& c : corners)
            m.points.push_back({c.x, c.y, ring * ringMm});
    const auto at = [](int ring, int k) { return static_cast<mesh::Index>(4 * ring + k % 4); };
    for (int ring = 0; ring < rings; ++ring)
        for (int k = 0; k < 4; ++k) {
            m.triangles.push_back({at(ring, k), at(ring, k + 1), at(ring + 1, k + 1)});
            m.triangles.push_back({at(ring, k), at(ring + 1, k + 1), at(ring + 1, k)});
        }
    m.triangles.push_back({at(0, 0), at(0, 2), at(0, 1)});
    m.triangles.push_back({at(0, 0), at(0, 3), at(0, 2)});
    m.triangles.push_back({at(rings, 0), at(rings, 1), at(rings, 2)});
    m.triangles.push_back({at(rings, 0), at(rings, 2), at(rings, 3)});
    return m;
}

struct SuggestWindow : WindowFixture {
    ui::SuggestPanel& panel() { return *find<ui::SuggestPanel>(); }
    ui::SuggestionTable& table() { return *panel().findChild<ui::SuggestionTable*>(); }
    ui::PaintTool& brush() { return *find<ui::PaintTool>(); }

    /// The bed 100 x 100 x 260, 5 mm kept free: a post of 500 mm fits it in two pieces, cut from 245 to 255 mm.
    void openPost()
    {
        open(post(), "post.stl");
        useBed({"small", core::Bed::Shape::Rectangular, 100, 100, 260, 1});
        goTo(ui::JobStep::Cut);
    }
    void useBed(const core::Bed& bed)
    {
        core::Design next = design();
        next.beds = {bed};
        document().edit("Beds", next);
        REQUIRE(settle());
    }
    void suggest(int seconds)
    {
        panel().findChild<QSpinBox*>("seconds")->setValue(seconds);
        panel().findChild<QSpinBox*>("alternatives")->setValue(1);
        press(panel().findChild<QAbstractButton*>("start"));
        CHECK(panel().busy());
    }
    QAbstractButton* push(const char* name) { return panel().findChild<QAbstractButton*>(name); }
};

} // namespace

TEST_CASE_METHOD(SuggestWindow, "window: a suggestion is looked for, compared, taken, and taken back")
{
    openPost();
    CHECK(find<QTabWidget>("cutTabs")->tabText(find<QTabWidget>("cutTabs")->currentIndex()).remove('&') == "Suggest");
    CHECK(push("accept")->isEnabled() == false);
    suggest(2);
    CHECK(panel().findChild<QProgressBar*>()->isVisible());
    CHECK_FALSE(action("suggest").isEnabled());
    CHECK(action("suggest").toolTip().contains("being looked for"));
    REQUIRE(settle());
    CHECK_FALSE(panel().busy());
    CHECK(part().cuts.empty()); // only shown
    REQUIRE(bench().state().preview);
    CHECK(bench().state().preview->nodes.size() == 1);
    // A cut of it is picked in the table of its terms.
    auto& byCut = *panel().findChild<ui::TermsTable*>();
    REQUIRE(byCut.isVisible());
    byCut.selectRow(0);
    CHECK(bench().state().previewCut == 0);
    shot("window_suggestion");
    // A second one, from a cut of the user's own.
    action("cutX").trigger();
    REQUIRE(settle());
    REQUIRE(part().cuts.size() == 1);
    CHECK_FALSE(bench().state().preview);
    find<QTabWidget>("cutTabs")->setCurrentIndex(1);
    suggest(2);
    REQUIRE(settle());
    REQUIRE(table().columnCount() == 3); // as it is, and two
    CHECK(bench().state().preview->nodes.size() > 1);
    QStringList pieces;
    for (int column = 0; column < 3; ++column)
        pieces << table().item(0, column)->text().section(',', 0, 0);
    CHECK(pieces == QStringList{"2", "2", "4"});
    // The better one is shown when it is chosen, and taken.
    table().selectColumn(1);
    CHECK(table().selectedId() == 1);
    CHECK(bench().state().preview->nodes.size() == 1);
    press(push("accept"));
    REQUIRE(settle());
    REQUIRE(part().cuts.size() == 1);
    CHECK(part().cuts[0].plane.normal.z == Approx(1));
    CHECK(part().cuts[0].plane.offset >= 245 - 1e-6);
    CHECK(part().cuts[0].plane.offset <= 255 + 1e-6);
    CHECK(realised()->fitsBeds());
    CHECK(action("undo").text() == "&Undo: Accept suggestion");
    CHECK_FALSE(bench().state().preview);
    action("undo").trigger();
    CHECK(part().cuts[0].plane.normal.x == 1);
    action("undo").trigger();
    CHECK(part().cuts.empty());
    REQUIRE(settle());
}

TEST_CASE_METHOD(SuggestWindow, "window: a search is stopped by its button, keeps the best so far, and may start again")
{
    open(test::sphere({0, 0, 0}, 400, 5), "ball.stl");
    useBed({"small", core::Bed::Shape::Rectangular, 150, 150, 150, 1});
    goTo(ui::JobStep::Cut);
    suggest(600);
    auto* bar = panel().findChild<QProgressBar*>();
    REQUIRE(QTest::qWaitFor([&] { return panel().findChild<QLabel*>("best")->text().contains("Best so far"); }, 20000));
    CHECK(bar->value() >= 0);
    const auto since = std::chrono::steady_clock::now();
    press(push("cancel"));
    REQUIRE(QTest::qWaitFor([&] { return !panel().busy(); }, 10000));
    CHECK(std::chrono::steady_clock::now() - since < std::chrono::seconds(5));
    REQUIRE(settle());
    CHECK(table().columnCount() >= 1);
    CHECK(bench().state().preview);
    CHECK(action("suggest").isEnabled());
    CHECK(push("start")->isEnabled());
    // Stopped before anything is found: no suggestion, and everything as before.
    press(push("discard"));
    suggest(600);
    press(push("cancel"));
    REQUIRE(settle(10000));
    CHECK_FALSE(panel().busy());
    CHECK(action("suggest").isEnabled());
    CHECK(push("start")->isEnabled());
    CHECK(part().cuts.empty());
}

TEST_CASE_METHOD(SuggestWindow, "window: suggestions leave painted places whole, until they are unmarked")
{
    openPost();
    view().lookFrom(ui::StandardView::Front, false);
    key(Qt::Key_M, Qt::ControlModifier);
    REQUIRE(settle());
    CHECK(bench().state().painting);
    CHECK(view().tool() == &brush());
    brush().setRadiusMm(6);
    // Down the front, over all places where one cut would do.
    drag(pixelOf({0, -30, 265}), pixelOf({0, -30, 235}));
    REQUIRE(settle());
    REQUIRE_FALSE(part().keepClear.empty());
    CHECK(action("undo").text() == "&Undo: Mark a place");
    double low = 1e300, high = -1e300;
    for (const mesh::Index t : part().keepClear)
        for (int k = 0; k < 3; ++k) {
            const mesh::Vec3 p = part().source->corner(t, k);
            CHECK(p.y == -30); // the side that is seen, not the one behind
            low = std::min(low, p.z);
            high = std::max(high, p.z);
        }
    CHECK(low <= 240);
    CHECK(high >= 260);
    CHECK(low > 200);
    CHECK(high < 300);
    shot("window_painted");
    key(Qt::Key_M, Qt::ControlModifier);
    REQUIRE(settle());
    CHECK_FALSE(bench().state().painting);
    CHECK(panel().findChild<QLabel*>("markWords")->text().contains("no cut passes them"));

    suggest(2);
    REQUIRE(settle());
    REQUIRE(bench().state().preview);
    CHECK(bench().state().preview->nodes.size() == 2); // three pieces
    const core::KeepClear kept(*part().source, part().keepClear);
    for (const core::CutPlan::Node& node : bench().state().preview->nodes)
        CHECK_FALSE(kept.crossedBy(node.plane));
    press(push("accept"));
    REQUIRE(settle());
    CHECK(realised()->project.pieces.size() == 3);
    action("undo").trigger();

    // With Shift the brush takes marks away.
    const std::size_t marked = part().keepClear.size();
    key(Qt::Key_M, Qt::ControlModifier);
    REQUIRE(settle());
    drag(pixelOf({0, -30, 270}), pixelOf({0, -30, 262}), Qt::ShiftModifier);
    REQUIRE(settle());
    CHECK(part().keepClear.size() < marked);
    CHECK(action("undo").text() == "&Undo: Unmark a place");
    key(Qt::Key_M, Qt::ControlModifier);
    REQUIRE(settle());
    find<QTabWidget>("cutTabs")->setCurrentIndex(1);
    press(push("clearMarks"));
    REQUIRE(settle());
    CHECK(part().keepClear.empty());
    CHECK_FALSE(push("clearMarks")->isEnabled());
    suggest(2);
    REQUIRE(settle());
    CHECK(bench().state().preview->nodes.size() == 1);
    action("undo").trigger();
    CHECK_FALSE(part().keepClear.empty());
}

TEST_CASE_METHOD(SuggestWindow, "window: parts that are too large are cut as suggested by the button of the next step")
{
    openPost();
    core::Design two = core::withPart(design(), part());
    document().edit("Duplicate part", two);
    REQUIRE(settle());
    panel().findChild<QSpinBox*>("seconds")->setValue(2);
    auto* next = find<QPushButton>("nextButton");
    REQUIRE(next->text() == "Suggest cuts for all of them and take them");
    press(next);
    CHECK_FALSE(next->isVisible());
    REQUIRE(settle());
    for (const core::PartDesign& each : design().parts)
        CHECK(each.cuts.size() == 1);
    CHECK(action("undo").text() == "&Undo: Cut the parts as suggested");
    CHECK(next->isEnabled());
    CHECK(next->text() == "Go on to the joints");
    action("undo").trigger();
    REQUIRE(settle());
    // Stopped, it can be begun again.
    press(next);
    CHECK_FALSE(action("suggest").isEnabled());
    bench().jobs().cancelAll();
    REQUIRE(settle());
    CHECK(next->isVisible());
    CHECK(next->isEnabled());
    CHECK(action("suggest").isEnabled());
}

TEST_CASE_METHOD(SuggestWindow, "window: without a bed nothing is suggested, and the way to one is shown")
{
    open(post(), "post.stl");
    core::Design bare = design();
    bare.beds.clear();
    document().edit("Beds", bare);
    goTo(ui::JobStep::Cut);
    CHECK_FALSE(action("suggest").isEnabled());
    CHECK(action("suggest").toolTip().contains("choose a bed first"));
    CHECK_FALSE(push("start")->isEnabled());
    auto* next = find<QPushButton>("nextButton");
    CHECK(next->text() == "Choose beds");
    press(next);
    auto* typed = find<QLineEdit>("typed");
    REQUIRE(typed->isVisible());
    type(typed, "10x10x26cm");
    REQUIRE(settle());
    REQUIRE(design().beds.size() == 1);
    CHECK(design().beds[0].heightMm == 260);
    CHECK(action("suggest").isEnabled());
}
