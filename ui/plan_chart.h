// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/plan_time.h"

#include <QAbstractScrollArea>

#include <functional>
#include <optional>
#include <utility>
#include <vector>

namespace quoin::ui {

/// A print in the chart.
struct ChartBar {
    enum class Kind { TestFit, Wished, Ordinary };
    int id = 0;  ///< for selecting
    int row = 0; ///< of the chart's rows
    CivilMinute from = 0, to = 0;
    CivilMinute ready = 0; ///< taken off; after `to` when nobody is there then
    QString label;         ///< short: the plate's number
    QString tip;           ///< all about it
    Kind kind = Kind::Ordinary;
};

/// A machine.
struct ChartRow {
    QString name;
    QString tip;
    std::vector<std::pair<CivilMinute, CivilMinute>> attended; ///< rising
};

struct ChartData {
    std::vector<ChartRow> rows;
    std::vector<ChartBar> bars; ///< by row, rising
    CivilMinute from = 0, to = 0;
    std::optional<CivilMinute> deadline, now;
};

/// Machines over the days: a row a machine, a bar a print, somebody there where the ground is shaded, the deadline and
/// today as lines. Kinds of prints and ends in the night are told by hatching and by outlines, not by colour.
///
/// Ctrl and wheel, + and - zoom, 0 shows all; arrow keys go from print to print, Page up and down through the days.
class PlanChart : public QAbstractScrollArea {
    Q_OBJECT
public:
    explicit PlanChart(QWidget* parent = nullptr);

    /// Keeps zoom and selection while they mean something.
    void setData(ChartData data);
    const ChartData& data() const { return m_data; }
    int selectedId() const { return m_selected; } ///< -1: none
    /// Shows it, without a signal.
    void select(int id);
    void zoom(double factor); ///< about the middle
    void showAll();
    bool showsAll() const { return m_fit; }
    double pixelsPerHour() const { return m_pxPerHour; }
    /// Where a bar is drawn, in the viewport; empty when there is none of this id.
    QRectF barRect(int id) const;

signals:
    void selected(int id);
    void activated(int id); ///< double click or Enter

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void changeEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseDoubleClickEvent(QMouseEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    bool viewportEvent(QEvent* event) override;
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;

private:
    struct Layout {
        double line = 0, names = 0, head = 0, row = 0, foot = 0;
    };
    Layout layoutNow() const;
    double xOf(CivilMinute minute, const Layout& layout) const;
    QRectF rectOf(const ChartBar& bar, const Layout& layout) const;
    const ChartBar* barAt(QPointF at) const;
    const ChartBar* barOf(int id) const;
    void setScale(double pxPerHour, double aboutX);
    void arrange();
    void choose(int id);
    void step(int byBar, int byRow);
    void reveal(const ChartBar& bar);
    QString wordsAt(QPointF at) const;
    void paintDays(QPainter& painter, const Layout& layout) const;
    void paintRows(QPainter& painter, const Layout& layout) const;
    void paintBar(QPainter& painter, const ChartBar& bar, const Layout& layout) const;
    void paintLines(QPainter& painter, const Layout& layout) const;
    void paintNames(QPainter& painter, const Layout& layout) const;

    ChartData m_data;
    int m_selected = -1;
    double m_pxPerHour = 1;
    bool m_fit = true;
};

/// The chart's colours in words and swatches.
class ChartLegend : public QWidget {
    Q_OBJECT
public:
    explicit ChartLegend(QWidget* parent = nullptr);
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override { return {0, sizeHint().height()}; }

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    bool hasHeightForWidth() const override { return true; }
    int heightForWidth(int width) const override;

private:
    int place(int width, const std::function<void(int entry, QRectF swatch, QRectF words)>& use) const;
};

} // namespace quoin::ui
