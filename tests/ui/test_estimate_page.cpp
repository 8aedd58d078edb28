// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/estimate_page.h"
#include "ui/scaling_page.h"
#include "ui/share_bar.h"
#include "ui/theme.h"

#include <QComboBox>
#include <QLabel>
#include <QSignalSpy>
#include <QTableWidget>
#include <QTest>
#include <QTreeWidget>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::EstimatePage;

namespace {

core::EstimatedPiece piece(const char* part, const char* name, int count, double grams, double hours,
                           const char* machine)
{
    core::EstimatedPiece p;
    p.part = part;
    p.name = name;
    p.kind = "piece";
    p.count = count;
    p.machine = machine;
    p.recipe = "0.6 standard";
    p.material = "PLA";
    p.each.grams = grams;
    p.each.hours = hours;
    p.each.likelyGrams = {0.9 * grams, 1.1 * grams};
    p.each.likelyHours = {0.8 * hours, 1.3 * hours};
    p.each.metres = grams / 3;
    p.each.materialCost = 0.025 * grams;
    p.each.machineCost = 0.5 * hours;
    p.each.energyKwh = 0.15 * hours;
    p.each.shares = {
        {{grams * 0.5, hours * 0.4}, {grams * 0.2, hours * 0.2}, {grams * 0.3, hours * 0.1}, {0, 0}, {0, hours * 0.3}}};
    return p;
}

struct Page : test::WithApplication {
    Page()
    {
        shown.estimate.pieces = {piece("neck", "neck 1", 1, 800, 16, "big one"),
                                 piece("neck", "dowel", 4, 5, 0.25, "small one"),
                                 piece("leg", "leg 1", 2, 1200, 26, "big one")};
        shown.estimate.recipe = "0.6 standard";
        shown.estimate.filaments = {core::FilamentShelf{}.find("PLA").value()};
        shown.currency = "€";
        shown.recipes = {"0.4 fine", "0.6 standard"};
        page.setEstimate(shown);
        test::show(page, {900, 420});
    }
    QTreeWidget& tree() { return *page.findChild<QTreeWidget*>(); }
    QComboBox& box(int index) { return *page.findChildren<QComboBox*>()[index]; }
    ui::EstimateShown shown;
    EstimatePage page;
};

} // namespace

TEST_CASE_METHOD(Page, "estimate page: totals of all, of parts and of machines are the sums of their pieces")
{
    // By hand: 800 + 4 * 5 + 2 * 1200 = 3220 g; 16 + 4 * 0.25 + 2 * 26 = 69 h; 0.025 * 3220 + 0.5 * 69 = 115 of money.
    QTreeWidgetItem* all = tree().topLevelItem(0);
    CHECK(all->text(1) == "7");
    CHECK(all->text(2) == "3.2 kg (2.9 to 3.5)");
    CHECK(all->text(3) == "69 h (55 to 90)");
    CHECK(all->text(4) == "115.00 €");
    REQUIRE(tree().topLevelItemCount() == 3);
    QTreeWidgetItem* neck = tree().topLevelItem(1)->text(0) == "neck" ? tree().topLevelItem(1) : tree().topLevelItem(2);
    CHECK(neck->text(2) == "820 g (738 to 902)");
    REQUIRE(neck->childCount() == 2);
    CHECK(neck->child(1)->text(1) == "4");
    CHECK(neck->child(1)->text(3) == "1 h (0.8 to 1.3)");
    box(0).setCurrentIndex(1); // by machine
    REQUIRE(tree().topLevelItemCount() == 3);
    for (int i = 1; i < 3; ++i)
        CHECK(tree().topLevelItem(i)->text(2) ==
              (tree().topLevelItem(i)->text(0) == "big one" ? "3.2 kg (2.9 to 3.5)" : "20 g (18 to 22)"));
    box(0).setCurrentIndex(2);
    CHECK(tree().topLevelItemCount() == 2);
    CHECK(tree().topLevelItem(1)->text(0) == "PLA");
}

TEST_CASE_METHOD(Page, "estimate page: what a print is made of, by hours and by weight")
{
    CHECK(tree().topLevelItem(0)->toolTip(8) == "walls 40 %, skin 20 %, infill 10 %, overhead 30 %");
    box(1).setCurrentIndex(1);
    CHECK(tree().topLevelItem(0)->toolTip(8) == "walls 50 %, skin 20 %, infill 30 %");
    CHECK(ui::shareWords({}).isEmpty());
}

TEST_CASE_METHOD(Page, "estimate page: a part gets a recipe of its own, and gives it back")
{
    QSignalSpy wanted(&page, &EstimatePage::partRecipeWanted);
    CHECK_FALSE(box(2).isEnabled()); // everything is selected
    CHECK(box(2).toolTip().contains("Select a part"));
    for (int i = 1; i < 3; ++i)
        if (tree().topLevelItem(i)->text(0) == "leg")
            tree().setCurrentItem(tree().topLevelItem(i)->child(0)); // a piece stands for its part
    REQUIRE(box(2).isEnabled());
    CHECK(box(2).itemText(0) == "as the job: 0.6 standard");
    emit box(2).activated(1);
    emit box(2).activated(0);
    REQUIRE(wanted.count() == 2);
    CHECK(wanted[0] == QVariantList{"leg", "0.4 fine"});
    CHECK(wanted[1] == QVariantList{"leg", ""});
    shown.partRecipes["leg"] = "0.4 fine";
    page.setEstimate(shown); // the selection stays
    CHECK(box(2).currentText() == "0.4 fine");
}

TEST_CASE("estimate page: nothing to show says why")
{
    test::application();
    EstimatePage page;
    page.setEstimate(std::nullopt, "Nothing has been estimated yet.");
    test::show(page, {700, 300});
    bool said = false;
    for (QLabel* label : page.findChildren<QLabel*>())
        said = said || label->text() == "Nothing has been estimated yet.";
    CHECK(said);
    CHECK(page.findChild<QTreeWidget*>()->topLevelItemCount() == 0);
}

TEST_CASE("scaling page: small beside large, with the power and the reason")
{
    test::application();
    core::ScalingInput in;
    in.scale = 8;
    in.extentsMm = {150, 100, 200};
    in.areaMm2 = 60'000;
    in.volumeMm3 = 300'000;
    ui::ScalingPage page;
    page.setRows(core::scalingTable(in), "The heron.");
    test::show(page, {900, 500});
    const auto& table = *page.findChild<QTableWidget*>();
    REQUIRE(table.rowCount() > 6);
    const auto rowOf = [&](const char* words) {
        for (int r = 0; r < table.rowCount(); ++r)
            if (table.item(r, 0)->text().contains(words))
                return r;
        FAIL("no row " << words);
        return -1;
    };
    // Square and cube: Galileo, Discorsi, 1638. 8^2 = 64, 8^3 = 512, 8^4 = 4096.
    CHECK(table.item(rowOf("surface"), 3)->text() == "64 ×");
    CHECK(table.item(rowOf("solid weight"), 3)->text() == "512 ×");
    CHECK(table.item(rowOf("moment"), 3)->text() == "4096 ×");
    CHECK(table.item(rowOf("moment"), 4)->text() == "scale to the power 4");
    for (int r = 0; r < table.rowCount(); ++r) {
        CHECK(table.item(r, 5)->text().size() > 15);
        CHECK_FALSE(table.item(r, 1)->text().isEmpty());
    }
    test::picture(page, "scaling_page");
}

TEST_CASE("estimate page: how it looks")
{
    for (const bool dark : {false, true}) {
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        Page p;
        p.tree().expandAll();
        test::picture(p.page, dark ? "estimate_page_dark" : "estimate_page_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
