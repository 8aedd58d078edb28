// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/plane.h"
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/fits_controller.h"
#include "ui/fits_dialog.h"

#include <QGroupBox>
#include <QSpinBox>
#include <QTableWidget>

#include <catch2/catch.hpp>

#include <fstream>

using namespace quoin;
using test::WindowFixture;

namespace {

struct FitsWindow : WindowFixture {
    FitsWindow()
    {
        open(test::cuboid({0, 0, 0}, {120, 80, 200}));
        core::Design next = design();
        next.beds = {{"b", core::Bed::Shape::Rectangular, 300, 300, 300, 1}};
        next.parts[0] = core::withCut(next.parts[0], {{0, 0, 1}, 100});
        document().edit("Add cut 1", next);
        goTo(ui::JobStep::Joint);
        REQUIRE(settle());
        press(button("Fits and coupon…"));
        REQUIRE(dialog().isVisible());
    }
    ui::FitsDialog& dialog() { return *find<ui::FitsDialog>(); }
    ui::FitsController& fits() { return *find<ui::FitsController>(); }
    QTableWidget& table() { return *dialog().findChild<QTableWidget*>(); }
    QSpinBox& box(const QString& name) { return *named<QSpinBox>(name); }
    double clearance() { return realised()->project.layout.joints.at(0).clearanceMm; }
};

} // namespace

TEST_CASE_METHOD(FitsWindow, "fits: the table in force, a coupon made and its numbers taken, for the joints too")
{
    CHECK(table().rowCount() == 4);
    CHECK(table().item(0, 0)->text() == "printed dowel in printed bore");
    CHECK(table().item(0, 2)->text() == "0.25");
    CHECK(table().item(0, 5)->text().contains("shipped"));
    CHECK_FALSE(button("Remove own row")->isEnabled());
    CHECK_FALSE(button("Take into the table")->isEnabled());
    CHECK(clearance() == 0.25);

    fits().makeCoupon(file("coupon"));
    CHECK(button("Making the coupon…") != nullptr);
    REQUIRE(settle(120000));
    CHECK(std::filesystem::exists(path("coupon/coupon.json")));
    CHECK(says("numbers 1 to 10 are 0.05 to 0.50 mm a side"));
    box("Slid by hand").setValue(7);
    CHECK(box("Slid by hand").text().contains("0.35 mm"));
    box("Firm push").setValue(8); // tighter than what slid: the wrong way round
    press(button("Take into the table"));
    CHECK(dialog().findChild<QLabel*>("fitsProblem")->isVisible());
    CHECK(part().fits.empty());
    box("Firm push").setValue(5);
    shot("window_fits");
    dialog().grab().save("pictures/fits-dialog.png");
    press(button("Take into the table"));
    CHECK_FALSE(dialog().findChild<QLabel*>("fitsProblem")->isVisible());
    REQUIRE(settle());
    REQUIRE(part().fits.size() == 1);
    CHECK(part().fits[0].slidingMm == Approx(0.35));
    CHECK(part().fits[0].snugMm == Approx(0.25));
    CHECK(clearance() == Approx(0.35));
    CHECK(table().item(0, 5)->text().contains("your own"));
    CHECK(action("undo").text() == "&Undo: Fits of dowel");

    table().selectRow(0);
    press(button("Remove own row"));
    REQUIRE(settle());
    CHECK(part().fits.empty());
    CHECK(clearance() == 0.25);
}

TEST_CASE_METHOD(FitsWindow, "fits: a part that comes later goes by the maker's own rows")
{
    core::FitRow row{"PLA", "", core::FitProcess::Dowel, 0.7, 0.6, 0.5, 0.4, "tried", ""};
    REQUIRE(core::FitTable{}.withRow(row).value().save(core::FitTable::defaultFile()).ok());
    open(test::cuboid({0, 0, 0}, {50, 50, 50}), "later.stl");
    REQUIRE(part().fits.size() == 1);
    CHECK(part().fits[0].slidingMm == 0.6);
}

TEST_CASE_METHOD(FitsWindow, "fits: a table that can't be read is said, and nothing is overwritten")
{
    const auto file = core::FitTable::defaultFile();
    std::filesystem::create_directories(file.parent_path());
    {
        std::ofstream(file) << "{ not a table";
    }
    fits().show();
    CHECK(dialog().findChild<QLabel*>("fitsProblem")->isVisible());
    CHECK(std::filesystem::file_size(file) == 13);
}
