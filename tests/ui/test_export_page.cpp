// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "proofs.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include "ui/export_page.h"
#include "ui/theme.h"

#include <QCheckBox>
#include <QClipboard>
#include <QDir>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QProgressBar>
#include <QPushButton>
#include <QSignalSpy>
#include <QTabWidget>
#include <QTest>
#include <QToolButton>
#include <QTreeView>
#include <QTreeWidget>

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::ui;

namespace {

core::PartReadiness part(int id, const std::string& name, const std::string& whyNot = {})
{
    return {id, name, 4, 3, 6, 1, whyNot.empty(), whyNot};
}

QPushButton& button(QWidget& in, const QString& words)
{
    for (QPushButton* b : in.findChildren<QPushButton*>())
        if (QString(b->text()).remove('&') == words)
            return *b;
    FAIL("no button says " << words.toStdString());
    throw 0;
}

QCheckBox& tick(QWidget& in, const QString& words)
{
    for (QCheckBox* b : in.findChildren<QCheckBox*>())
        if (QString(b->text()).remove('&').startsWith(words))
            return *b;
    FAIL("no box says " << words.toStdString());
    throw 0;
}

bool says(QWidget& in, const QString& words)
{
    for (const QLabel* l : in.findChildren<QLabel*>())
        if (l->isVisible() && l->text().contains(words))
            return true;
    return false;
}

/// Pictures at 100 % and 200 %, light and dark, to be looked at.
void pictures(ExportPage& page, const QString& name)
{
    const QFont usual = page.font();
    QFont twice = usual;
    twice.setPointSizeF(2 * usual.pointSizeF());
    page.setPalette(lightPalette());
    test::picture(page, name + "-light-100");
    page.setPalette(darkPalette());
    test::picture(page, name + "-dark-100");
    page.setFont(twice);
    page.resize(2 * page.size());
    test::picture(page, name + "-dark-200");
    page.setPalette(lightPalette());
    page.setFont(usual);
    page.resize(page.size() / 2);
}

struct Page : test::WithApplication {
    test::ScratchFolder folder;
    ExportPage page;
    QTreeWidget& list = *page.findChild<QTreeWidget*>();
    QLineEdit& target = *page.form().findChild<QLineEdit*>();
    QPushButton& start = button(page.form(), "Export and prove");

    Page()
    {
        page.form().setUsualFolder(QString::fromStdString((folder / "heron pieces").string()));
        page.form().setParts({part(1, "neck"), part(4, "wing")});
        test::show(page, {900, 640});
    }
};

} // namespace

TEST_CASE_METHOD(Page, "export page: the wish is what is ticked and typed")
{
    QSignalSpy wanted(&page, &ExportPage::exportWanted);
    REQUIRE(start.isEnabled());
    QTest::mouseClick(&start, Qt::LeftButton);
    REQUIRE(wanted.count() == 1);
    ExportWish wish = wanted.takeFirst().at(0).value<ExportWish>();
    CHECK(wish.folder.toStdString() == (folder / "heron pieces").string());
    CHECK(wish.parts == std::vector<int>{1, 4});
    CHECK(wish.pictures);
    CHECK_FALSE(wish.replace);
    CHECK_FALSE(wish.evenIfUnproved);

    // By keyboard: the first part is left out.
    list.setFocus();
    list.setCurrentItem(list.topLevelItem(0));
    QTest::keyClick(&list, Qt::Key_Space);
    CHECK(says(page, "Left out: neck"));
    target.selectAll();
    QTest::keyClicks(&target, "~/made/here");
    QTest::mouseClick(&tick(page, "Draw pictures"), Qt::LeftButton, {}, {5, 5});
    QTest::mouseClick(&tick(page, "Write it even"), Qt::LeftButton, {}, {5, 5});
    QTest::mouseClick(&start, Qt::LeftButton);
    REQUIRE(wanted.count() == 1);
    wish = wanted.takeFirst().at(0).value<ExportWish>();
    CHECK(wish.parts == std::vector<int>{4});
    CHECK(wish.folder == QDir::homePath() + "/made/here");
    CHECK_FALSE(wish.pictures);
    CHECK(wish.evenIfUnproved);
    // New figures leave the tick alone, and the folder that was typed.
    page.form().setParts({part(1, "neck"), part(4, "wing"), part(6, "leg")});
    page.form().setUsualFolder("/elsewhere");
    CHECK(page.form().wish().parts == std::vector<int>{4, 6});
    CHECK(page.form().wish().folder == QDir::homePath() + "/made/here");
}

TEST_CASE_METHOD(Page, "export page: why it can't be begun is said")
{
    const auto refused = [&](const QString& words) {
        INFO(page.form().whyNot().toStdString());
        CHECK_FALSE(start.isEnabled());
        CHECK(page.form().whyNot().contains(words));
        CHECK(start.toolTip() == page.form().whyNot());
        CHECK(says(page, words));
    };
    page.form().setParts({});
    refused("open a model first");
    page.form().setParts({part(1, "neck", "sticking out of every bed: piece 3 by 12.4 mm")});
    refused("piece 3 by 12.4 mm");
    CHECK(list.topLevelItem(0)->checkState(0) == Qt::Unchecked);
    CHECK_FALSE(list.topLevelItem(0)->flags().testFlag(Qt::ItemIsUserCheckable));
    page.form().setParts({part(1, "neck", "no"), part(4, "wing", "no")});
    refused("No part can be exported");
    page.form().setParts({part(1, "neck")});
    CHECK(start.isEnabled());
    list.topLevelItem(0)->setCheckState(0, Qt::Unchecked);
    refused("Tick a part");
    list.topLevelItem(0)->setCheckState(0, Qt::Checked);
    target.clear();
    refused("Name the folder");
}

TEST_CASE_METHOD(Page, "export page: what lies in the folder already")
{
    const auto path = folder / "taken";
    std::filesystem::create_directory(path);
    page.form().setParts({part(1, "neck")});
    target.setText(QString::fromStdString(path.string()));
    CHECK(start.isEnabled()); // empty
    test::putContent(path / "thesis.txt", "x");
    target.setText(target.text() + "/"); // looks again
    CHECK(page.form().whyNot().contains("Something other than an export"));
    tick(page, "Replace").setChecked(true);
    CHECK(page.form().whyNot().contains("Something other than an export"));
    tick(page, "Replace").setChecked(false);
    test::putContent(path / "project.quoin.json", "{\"beds\": [{\"kind\": 3}], \"kind\": \"quoin project\"}");
    target.setText(target.text() + "/");
    CHECK(page.form().whyNot().contains("Tick “Replace an earlier export there”"));
    tick(page, "Replace").setChecked(true);
    CHECK(start.isEnabled());
    // Several parts go into folders of their own, and nothing is in their way.
    page.form().setParts({part(1, "neck"), part(2, "neck")});
    CHECK(start.isEnabled());
    CHECK(says(page, "taken/neck-2"));
}

TEST_CASE_METHOD(Page, "export page: progress, and cancel once")
{
    QSignalSpy cancel(&page, &ExportPage::cancelWanted);
    page.showRunning("neck, part 1 of 2");
    CHECK(page.isRunning());
    page.setProgress(0.625, "proving");
    CHECK(says(page, "neck, part 1 of 2"));
    CHECK(says(page, "proving"));
    auto& bar = *page.findChild<QProgressBar*>();
    CHECK(bar.value() == 625);
    page.setProgress(std::nan(""), "proving");
    page.setProgress(7, "proving");
    CHECK(bar.value() == bar.maximum());
    auto& stop = *page.findChild<QPushButton*>("cancel");
    QTest::mouseClick(&stop, Qt::LeftButton);
    QTest::mouseClick(&stop, Qt::LeftButton);
    CHECK(cancel.count() == 1);
    CHECK_FALSE(stop.isEnabled());
    page.showRunning("wing, part 2 of 2"); // the next part doesn't bring it back
    CHECK_FALSE(stop.isEnabled());
    page.showProblem({Reason::Cancelled, "cancelled", {}, {}, {}});
    CHECK_FALSE(page.isRunning());
    CHECK(start.isVisible());
    page.showRunning("neck");
    CHECK(stop.isEnabled());
    page.setProgress(0.4, "sinking joints");
    pictures(page, "export-running");
}

TEST_CASE_METHOD(Page, "export page: a refusal is shown with what helps")
{
    page.showRunning("neck");
    page.showProblem({Reason::FileUnwritable, "the disk is full", "/mnt/out", {}, "Free some room."});
    CHECK(says(page, "Not exported"));
    CHECK(says(page, "The disk is full"));
    CHECK(says(page, "/mnt/out"));
    CHECK(says(page, "Free some room."));
    QTest::mouseClick(page.findChild<QPushButton*>("copyProblem"), Qt::LeftButton);
    CHECK(QApplication::clipboard()->text().contains("Free some room."));
    page.showProblem({Reason::ProofFailed, "the proof failed, nothing was written:\n  joint 2: the wall", {}, {}, {}});
    CHECK(says(page, "Not proved: nothing was written"));
    pictures(page, "export-refused");
    QTest::mouseClick(page.findChild<QPushButton*>("backFromProblem"), Qt::LeftButton);
    CHECK(start.isVisible());
}

TEST_CASE_METHOD(Page, "export page: a proved set")
{
    page.showRunning("neck");
    page.showOutcomes({{"neck", "/out/neck", 3, test::smallProof(false), 5}}, "/out/neck");
    CHECK(says(page, "✓ Proved"));
    CHECK(says(page, "All 7 claims hold"));
    CHECK(says(page, "5 files to print from, in /out/neck"));
    CHECK(says(page, "Print the set of “neck” 3 times."));
    CHECK_FALSE(tick(page, "Failed only").isEnabled());
    CHECK(page.findChild<QListWidget*>("cautions")->count() == 2);
    const auto& assembly = *page.findChild<QListWidget*>("assembly");
    REQUIRE(assembly.count() == 3);
    CHECK(assembly.item(1)->text() == "2. Put 2 dowels of 8 mm into piece 1, seam A.");
    QTest::mouseClick(page.findChild<QPushButton*>("copySummary"), Qt::LeftButton);
    const QString text = QApplication::clipboard()->text();
    for (const char* words :
         {"Proved", "All 7 claims hold", "/out/neck", "Strength is estimated apart", "3. Push piece 2"})
        CHECK(text.contains(words));
    QTest::mouseClick(page.findChild<QPushButton*>("back"), Qt::LeftButton);
    CHECK(start.isVisible());
}

TEST_CASE_METHOD(Page, "export page: a failed claim stands first, opened, and the filter finds others")
{
    page.showOutcomes(
        {{"neck", "/out/neck", 1, test::smallProof(false), 5}, {"wing", "/out/wing", 1, test::smallProof(true), 4}},
        "/out");
    CHECK(says(page, "✗ Not proved"));
    CHECK(says(page, "1 of 14 claims fails"));
    auto& claims = *page.result().findChild<QTreeView*>();
    CHECK(claims.isExpanded(claims.model()->index(0, 0)));
    CHECK_FALSE(claims.isExpanded(claims.model()->index(1, 0)));
    auto& filter = *page.findChild<QLineEdit*>("filter");
    QTest::keyClicks(&filter, "closed wing");
    CHECK(page.result().claims().shownClaims() == 2);
    CHECK(says(page, "2 of 14 claims"));
    CHECK(claims.isExpanded(claims.model()->index(0, 0)));
    filter.clear();
    QTest::mouseClick(&tick(page, "Failed only"), Qt::LeftButton, {}, {5, 5});
    CHECK(page.result().claims().shownClaims() == 1);
    CHECK(page.findChild<QToolButton*>("openProof")->menu() != nullptr);
    CHECK(page.findChild<QListWidget*>("cautions")->count() == 2); // the same for both: said once
    CHECK(page.result().summary().contains("fails: joint 2: the wall past the bore's end (measured 1.25 mm, wanted ≥ "
                                           "2.4 mm)"));
}

TEST_CASE_METHOD(Page, "export page: what the joints bear is told with the caution, weak ones marked")
{
    core::Proof proof = test::smallProof(false);
    page.showOutcomes({{"neck", "/out/neck", 1, proof, 5}}, "/out/neck");
    const auto& notes = *page.findChild<QListWidget*>("strength");
    const auto& tabs = *page.result().findChild<QTabWidget*>();
    CHECK_FALSE(tabs.isTabVisible(tabs.indexOf(&notes))); // nothing was estimated
    core::JointCheck weak;
    weak.marks = "B";
    weak.checks = {core::checked("dowel sheared off", 10, 17, "MPa", "F / A", "Shigley, ch. 3")};
    weak.safety = 1.7;
    weak.low = true;
    weak.words = "Seam B (piece 2 on 1): 3 kg hang on it. Weakest: dowel sheared off, safety 1.70, below 3.";
    proof.strength.report = core::StrengthReport{{weak}, {}, {1}};
    page.showOutcomes({{"neck", "/out/neck", 1, proof, 5}}, "/out/neck");
    REQUIRE(tabs.isTabVisible(tabs.indexOf(&notes)));
    CHECK_FALSE(tabs.tabIcon(tabs.indexOf(&notes)).isNull());
    REQUIRE(notes.count() == 2);
    CHECK(notes.item(0)->text().contains("licensed"));
    CHECK(notes.item(1)->text().contains("safety 1.70, below 3"));
    CHECK_FALSE(notes.item(1)->icon().isNull());
    CHECK(says(page, "Strength: one seam is estimated below its limit"));
    CHECK(says(page, "✓ Proved")); // strength is no claim
    CHECK(page.result().summary().contains("safety 1.70, below 3"));
    proof.strength = {{}, {}, "the strength of \"wood\" is not known"};
    page.showOutcomes({{"neck", "/out/neck", 1, proof, 5}}, "/out/neck");
    REQUIRE(notes.count() == 1);
    CHECK(notes.item(0)->text().contains("Strength was not estimated"));
}

TEST_CASE_METHOD(Page, "export page: pictures to be looked at")
{
    page.form().setParts({part(1, "neck"),
                          part(4, "left wing",
                               "sticking out of every bed: piece 3 by 12.4 mm, piece 5 "
                               "by 3.0 mm"),
                          part(5, "base", "its joints are still being laid out")});
    pictures(page, "export-form");
    core::Proof proof = test::largeProof(6000);
    page.showOutcomes({{"neck", "/home/maker/heron pieces", 2, std::move(proof), 17}}, "/home/maker/heron pieces");
    pictures(page, "export-failed");
    page.showOutcomes({{"neck", "/home/maker/heron pieces", 1, test::smallProof(false), 5}},
                      "/home/maker/heron pieces");
    pictures(page, "export-proved");
}
