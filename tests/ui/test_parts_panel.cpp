// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/parts_panel.h"
#include "ui/theme.h"

#include <QAction>
#include <QComboBox>
#include <QLineEdit>
#include <QListView>
#include <QSignalSpy>
#include <QSpinBox>
#include <QTest>
#include <QToolButton>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::PartRow;
using ui::PartsPanel;

namespace {

std::vector<PartRow> heronParts()
{
    return {{1, "body", {1200, 800, 2100.5}, 8, 12, "", PartRow::Health::Sound, "", true, 1, "PETG"},
            {2,
             "wing left",
             {1600, 300, 90},
             8,
             6,
             "2 pieces don't fit a bed",
             PartRow::Health::Mended,
             "3 holes closed",
             true,
             2,
             "PLA"},
            {3,
             "crank",
             {90, 90, 40},
             8,
             1,
             "",
             PartRow::Health::Warning,
             "two bodies overlap at (1.0, 2.0, 3.0) mm",
             false,
             1,
             "ASA"}};
}

struct Window : test::WithApplication {
    Window()
    {
        ui::applyTheme(test::application(), ui::Theme::Light);
        panel.setRows(heronParts());
        test::show(panel, {360, 380});
        list = panel.findChild<QListView*>();
    }
    QRect rowRect(int row) const { return list->visualRect(list->model()->index(row, 0)); }
    QToolButton* button(const QString& text) const
    {
        for (QToolButton* b : panel.findChildren<QToolButton*>())
            if (b->text().remove('&') == text)
                return b;
        return nullptr;
    }
    PartsPanel panel;
    QListView* list = nullptr;
};

} // namespace

TEST_CASE("parts panel: a click selects, the program's selection is silent")
{
    Window w;
    QSignalSpy selected(&w.panel, &PartsPanel::selected);
    QTest::mouseClick(w.list->viewport(), Qt::LeftButton, {}, w.rowRect(1).center());
    REQUIRE(selected.count() == 1);
    CHECK(selected[0][0].toInt() == 2);
    CHECK(w.panel.findChild<QSpinBox*>()->value() == 2);
    CHECK(w.panel.findChild<QComboBox*>()->currentData() == "PLA");
    w.panel.select(3);
    CHECK(w.panel.selectedId() == 3);
    w.panel.setRows(heronParts());
    CHECK(w.panel.selectedId() == 3);
    CHECK(selected.count() == 1);
}

TEST_CASE("parts panel: the box shows and hides, by mouse and space bar")
{
    Window w;
    QSignalSpy visible(&w.panel, &PartsPanel::visibleWanted);
    QTest::mouseClick(w.list->viewport(), Qt::LeftButton, {}, w.rowRect(0).topLeft() + QPoint(12, 14));
    REQUIRE(visible.count() == 1);
    CHECK(visible[0][0].toInt() == 1);
    CHECK(visible[0][1].toBool() == false);
    w.panel.select(3);
    w.list->setFocus();
    QTest::keyClick(w.list, Qt::Key_Space);
    REQUIRE(visible.count() == 2);
    CHECK(visible[1][0].toInt() == 3);
    CHECK(visible[1][1].toBool() == true);
}

TEST_CASE("parts panel: renamed in place with F2, an empty name is no name")
{
    Window w;
    QSignalSpy rename(&w.panel, &PartsPanel::renameWanted);
    w.panel.select(1);
    w.list->setFocus();
    const auto type = [&w](const QString& name) {
        QTest::keyClick(w.list, Qt::Key_F2);
        auto* editor = w.list->findChild<QLineEdit*>();
        REQUIRE(editor != nullptr);
        editor->selectAll();
        QTest::keyClicks(editor, name);
        QTest::keyClick(editor, Qt::Key_Return);
        REQUIRE(QTest::qWaitFor([&] { return w.list->findChild<QLineEdit*>() == nullptr; }));
    };
    type("torso");
    REQUIRE(rename.count() == 1);
    CHECK(rename[0][0].toInt() == 1);
    CHECK(rename[0][1].toString() == "torso");
    type("   ");
    CHECK(rename.count() == 1);
}

TEST_CASE("parts panel: quantity, material, buttons speak of the selected part")
{
    Window w;
    CHECK_FALSE(w.button("Remove")->isEnabled());
    CHECK(w.button("Remove")->toolTip().contains("Select a part first"));
    w.panel.select(2);
    QSignalSpy quantity(&w.panel, &PartsPanel::quantityWanted), material(&w.panel, &PartsPanel::materialWanted),
        duplicate(&w.panel, &PartsPanel::duplicateWanted), remove(&w.panel, &PartsPanel::removeWanted),
        add(&w.panel, &PartsPanel::addWanted);
    auto* spin = w.panel.findChild<QSpinBox*>();
    spin->setFocus();
    QTest::keyClick(spin, Qt::Key_Up);
    REQUIRE(quantity.count() == 1);
    CHECK(quantity[0][0].toInt() == 2);
    CHECK(quantity[0][1].toInt() == 3);
    auto* combo = w.panel.findChild<QComboBox*>();
    combo->setFocus();
    QTest::keyClick(combo, Qt::Key_Down);
    REQUIRE(material.count() == 1);
    CHECK(material[0][1].toString() == "PETG");
    QTest::mouseClick(w.button("Duplicate"), Qt::LeftButton);
    w.list->setFocus();
    QTest::keyClick(w.list, Qt::Key_Delete);
    QTest::mouseClick(w.button("Add part…"), Qt::LeftButton);
    CHECK(duplicate.count() == 1);
    REQUIRE(remove.count() == 1);
    CHECK(remove[0][0].toInt() == 2);
    CHECK(add.count() == 1);
}

TEST_CASE("parts panel: what is seen is also said")
{
    Window w;
    const QModelIndex wing = w.list->model()->index(1, 0);
    const QString said = wing.data(Qt::AccessibleTextRole).toString();
    for (const char* word : {"wing left", "shown", "mended", "1600 × 300 × 90 mm", "8 ×", "6 pieces", "don't fit"})
        CHECK(said.contains(word));
    CHECK(wing.data(Qt::ToolTipRole).toString().contains("3 holes closed"));
    w.panel.setUnit(mesh::Unit::Metre);
    CHECK(wing.data(Qt::AccessibleTextRole).toString().contains("1.6 × 0.3 × 0.09 m"));
}

TEST_CASE("parts panel: how it looks")
{
    for (const bool dark : {false, true}) {
        Window w;
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        w.panel.select(2);
        test::picture(w.panel, dark ? "parts_panel_dark" : "parts_panel_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
