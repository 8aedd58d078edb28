// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/colour.h"
#include "ui/pieces_panel.h"
#include "ui/theme.h"

#include <QElapsedTimer>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QSignalSpy>
#include <QSlider>
#include <QTableView>
#include <QTest>
#include <QToolButton>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::PieceRow;
using ui::PiecesModel;
using ui::PiecesPanel;

namespace {

QColor colour(std::size_t i)
{
    const ui::Colour c = ui::pieceColours()[i % ui::pieceColours().size()];
    return QColor::fromRgbF(float(c.r), float(c.g), float(c.b));
}

std::vector<PieceRow> heronPieces()
{
    return {{1, colour(0), {290, 280, 388.5}, "300x300x400", PieceRow::Fit::Fits, 1.5, {2, 10}, 9.2e6, 11400},
            {2, colour(1), {290, 280, 412.3}, "300x300x400", PieceRow::Fit::TooLarge, -12.3, {1, 3}, 12e6, 14880},
            {3, colour(2), {120, 80, 40}, "", PieceRow::Fit::Checking, 0, {2}, 2e5, 248},
            {10, colour(4), {60, 60, 90}, "d250x300", PieceRow::Fit::Fits, 85, {1}, 1.1e5, 136}};
}

struct Window : test::WithApplication {
    Window()
    {
        ui::applyTheme(test::application(), ui::Theme::Light);
        panel.setRows(heronPieces());
        test::show(panel, {720, 360});
        table = panel.findChild<QTableView*>();
    }
    QString text(int row, int column) const { return table->model()->index(row, column).data().toString(); }
    QStringList numbers() const
    {
        QStringList out;
        for (int row = 0; row < table->model()->rowCount(); ++row)
            out << text(row, PiecesModel::Number);
        return out;
    }
    QString totals() const
    {
        for (auto* label : panel.findChildren<QLabel*>())
            if (label->accessibleName() == "Totals")
                return label->text();
        return {};
    }
    QToolButton* button(const QString& name) const
    {
        for (auto* b : panel.findChildren<QToolButton*>())
            if (b->text().remove('&') == name)
                return b;
        return nullptr;
    }
    PiecesPanel panel;
    QTableView* table = nullptr;
};

} // namespace

TEST_CASE("pieces panel: fit in words, and a tick only for what fits")
{
    Window w;
    CHECK(w.text(0, PiecesModel::Fit) == "fits, 1.5 mm to spare");
    CHECK(w.text(1, PiecesModel::Fit) == "too large by 12.3 mm");
    CHECK(w.text(2, PiecesModel::Fit) == "checking");
    const auto mark = [&w](int row) {
        return w.table->model()
            ->index(row, PiecesModel::Fit)
            .data(Qt::DecorationRole)
            .value<QIcon>()
            .pixmap(32)
            .toImage();
    };
    CHECK(mark(0) == mark(3));
    CHECK(mark(0) != mark(1));
    CHECK(mark(0) != mark(2));
    CHECK(w.text(0, PiecesModel::Neighbours) == "2, 10");
    CHECK(w.text(0, PiecesModel::Mass) == "11.4 kg");
    CHECK(w.text(2, PiecesModel::Mass) == "248 g");
    CHECK(w.text(0, PiecesModel::Volume) == "9200 cm³");
}

TEST_CASE("pieces panel: sorted by value, not by letter")
{
    Window w;
    CHECK(w.numbers() == QStringList{"1", "2", "3", "10"});
    QHeaderView* header = w.table->horizontalHeader();
    const auto press = [&](int column) {
        QTest::mouseClick(header->viewport(), Qt::LeftButton, {},
                          QPoint(header->sectionViewportPosition(column) + 12, header->height() / 2));
    };
    press(PiecesModel::Mass);
    CHECK(w.numbers() == QStringList{"10", "3", "1", "2"});
    press(PiecesModel::Fit);
    CHECK(w.numbers() == QStringList{"2", "3", "1", "10"});
}

TEST_CASE("pieces panel: selection both ways")
{
    Window w;
    QSignalSpy selection(&w.panel, &PiecesPanel::selectionWanted);
    const auto click = [&w](int row, Qt::KeyboardModifiers keys = {}) {
        QTest::mouseClick(w.table->viewport(), Qt::LeftButton, keys,
                          w.table->visualRect(w.table->model()->index(row, 1)).center());
    };
    click(1);
    click(3, Qt::ControlModifier);
    REQUIRE(selection.count() == 2);
    CHECK(selection[1][0].value<std::vector<int>>() == std::vector{2, 10});
    w.panel.select({3});
    CHECK(w.panel.selectedNumbers() == std::vector{3});
    w.panel.setRows(heronPieces());
    CHECK(w.panel.selectedNumbers() == std::vector{3});
    auto fewer = heronPieces();
    fewer.erase(fewer.begin());
    w.panel.setRows(fewer);
    CHECK(w.panel.selectedNumbers() == std::vector{3});
    CHECK(selection.count() == 2);
}

TEST_CASE("pieces panel: the filter takes numbers and words")
{
    Window w;
    auto* search = w.panel.findChild<QLineEdit*>();
    search->setFocus();
    QTest::keyClicks(search, "too large");
    CHECK(w.numbers() == QStringList{"2"});
    CHECK(w.totals().contains("1 shown"));
    search->clear();
    QTest::keyClicks(search, "1");
    CHECK(w.numbers() == QStringList{"1"});
    search->clear();
    QTest::keyClicks(search, "D250");
    CHECK(w.numbers() == QStringList{"10"});
    search->clear();
    CHECK(w.numbers().size() == 4);
}

TEST_CASE("pieces panel: totals, isolate, print pose, explode")
{
    Window w;
    CHECK(w.totals() == "4 pieces, 1 too large, 1 being checked, 21510 cm³, 26.66 kg if solid");
    QSignalSpy isolate(&w.panel, &PiecesPanel::isolateWanted), pose(&w.panel, &PiecesPanel::printPoseWanted),
        explode(&w.panel, &PiecesPanel::explodeWanted);
    CHECK_FALSE(w.button("Isolate")->isEnabled());
    CHECK(w.button("Isolate")->toolTip().contains("Select a piece first"));
    w.panel.select({1});
    QTest::mouseClick(w.button("Isolate"), Qt::LeftButton);
    QTest::mouseClick(w.button("Print pose"), Qt::LeftButton);
    REQUIRE(isolate.count() == 1);
    CHECK(isolate[0][0].toBool());
    CHECK(pose.count() == 1);
    w.panel.select({});
    CHECK(w.button("Isolate")->isEnabled()); // to switch it off again
    w.panel.setIsolated(false);
    CHECK_FALSE(w.button("Isolate")->isEnabled());
    auto* slider = w.panel.findChild<QSlider*>();
    slider->setFocus();
    QTest::keyClick(slider, Qt::Key_PageUp);
    REQUIRE(explode.count() == 1);
    CHECK(explode[0][0].toDouble() == Approx(0.1));
    w.panel.setExploded(0.5);
    CHECK(slider->value() == 50);
    CHECK(explode.count() == 1);
    CHECK(isolate.count() == 1);
}

TEST_CASE("pieces panel: a thousand pieces are shown at once")
{
    Window w;
    std::vector<PieceRow> rows;
    for (int i = 1; i <= 1000; ++i)
        rows.push_back({i,
                        colour(static_cast<std::size_t>(i)),
                        {200, 200, 200},
                        "300x300x400",
                        PieceRow::Fit::Fits,
                        1,
                        {},
                        8e6,
                        9920});
    QElapsedTimer timer;
    timer.start();
    w.panel.setRows(rows);
    QCoreApplication::processEvents();
    CHECK(timer.elapsed() < 1000); // 100 ms are wanted; room for a busy machine
    CHECK(w.table->model()->rowCount() == 1000);
}

TEST_CASE("pieces panel: how it looks")
{
    for (const bool dark : {false, true}) {
        Window w;
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        w.panel.select({2});
        test::picture(w.panel, dark ? "pieces_panel_dark" : "pieces_panel_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
