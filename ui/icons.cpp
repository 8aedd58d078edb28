// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/icons.h"

#include "ui/painted_icon.h"

#include <QPainterPath>

#include <array>

namespace quoin::ui {

namespace {

constexpr double grid = 24; ///< the drawings are made in a square of this size

/// Pens for one drawing.
class Draft {
public:
    Draft(QPainter& painter, const IconInk& ink) : m_painter(painter), m_ink(ink) {}

    void outline(const QPainterPath& path) { stroke(path, m_ink.line, 1.8); }
    void outline(const QPolygonF& points) { outline(pathOf(points)); }
    void thin(const QPolygonF& points) { stroke(pathOf(points), m_ink.line, 1); }
    void accent(const QPolygonF& points) { stroke(pathOf(points), m_ink.accent, 1.8); }
    void accent(const QPainterPath& path) { stroke(path, m_ink.accent, 1.8); }
    /// A cutting plane: long dash, dot.
    void chain(const QPolygonF& points)
    {
        QPen pen(m_ink.accent, 1.5, Qt::CustomDashLine, Qt::FlatCap);
        pen.setDashPattern({4, 1.6, 1, 1.6});
        m_painter.strokePath(pathOf(points), pen);
    }
    void filled(const QPolygonF& points, bool accented)
    {
        QPainterPath path = pathOf(points);
        path.closeSubpath();
        m_painter.fillPath(path, accented ? m_ink.accent : m_ink.line);
    }
    /// The slim arrow head of a dimension line, its tip at a place, pointing along (dx, dy) of length 1.
    void arrow(QPointF tip, double dx, double dy, bool accented = false)
    {
        constexpr double length = 5, half = 2;
        const QPointF back = tip - length * QPointF(dx, dy);
        filled({{tip, back + half * QPointF(-dy, dx), back - half * QPointF(-dy, dx)}}, accented);
    }
    void circle(QPointF middle, double radius, bool accented = false)
    {
        QPainterPath path;
        path.addEllipse(middle, radius, radius);
        stroke(path, accented ? m_ink.accent : m_ink.line, 1.8);
    }
    void box(double x, double y, double w, double h)
    {
        outline(QPolygonF({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}, {x, y}}));
    }

private:
    static QPainterPath pathOf(const QPolygonF& points)
    {
        QPainterPath path;
        path.addPolygon(points);
        return path;
    }
    void stroke(const QPainterPath& path, const QColor& colour, double width)
    {
        m_painter.strokePath(path, QPen(colour, width, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    }

    QPainter& m_painter;
    const IconInk& m_ink;
};

/// A box seen isometrically, as parts stand in drawings.
void isometric(Draft& d, double x, double y, double s)
{
    const double w = 0.866 * s, h = 0.5 * s;
    d.outline(QPolygonF(
        {{x, y - s}, {x + w, y - h}, {x + w, y + h}, {x, y + s}, {x - w, y + h}, {x - w, y - h}, {x, y - s}}));
    d.outline(QPolygonF({{x - w, y - h}, {x, y}, {x + w, y - h}}));
    d.outline(QPolygonF({{x, y}, {x, y + s}}));
}

void plus(Draft& d, double x, double y)
{
    d.accent(QPolygonF({{x - 3, y}, {x + 3, y}}));
    d.accent(QPolygonF({{x, y - 3}, {x, y + 3}}));
}

void curl(Draft& d, bool back)
{
    const auto at = [back](double x, double y) { return QPointF(back ? x : grid - x, y); };
    QPainterPath path(at(5, 9));
    path.cubicTo(at(12, 4), at(21, 8), at(19, 19));
    d.outline(path);
    d.outline(QPolygonF({at(5, 3.5), at(5, 9), at(10.8, 10)}));
}

void drawOpen(Draft& d)
{
    d.outline(QPolygonF({{3, 19}, {3, 6}, {9, 6}, {11, 8.5}, {18, 8.5}, {18, 11}}));
    d.outline(QPolygonF({{3, 19}, {6.5, 11}, {22, 11}, {18.5, 19}, {3, 19}}));
}

void drawSave(Draft& d)
{
    d.outline(QPolygonF({{3, 14}, {3, 20}, {21, 20}, {21, 14}}));
    d.accent(QPolygonF({{12, 3}, {12, 14}}));
    d.arrow({12, 16.5}, 0, 1, true);
}

void drawExport(Draft& d)
{
    isometric(d, 9, 14, 6.5);
    d.accent(QPolygonF({{13, 6}, {18, 6}}));
    d.arrow({22, 6}, 1, 0, true);
}

void drawAddPart(Draft& d)
{
    isometric(d, 10, 13.5, 8);
    plus(d, 19.5, 5);
}

void drawDuplicate(Draft& d)
{
    d.box(3, 8, 12, 12);
    d.outline(QPolygonF({{8, 4}, {20, 4}, {20, 16}}));
}

void drawRemove(Draft& d)
{
    isometric(d, 10, 13.5, 8);
    d.accent(QPolygonF({{16, 5}, {22.5, 5}}));
}

void drawAddCut(Draft& d)
{
    d.box(5, 6, 10, 14);
    d.chain({{{1, 13}, {20, 13}}});
    plus(d, 19.5, 5);
}

void drawFlip(Draft& d)
{
    d.chain({{{2, 12}, {22, 12}}});
    d.outline(QPolygonF({{12, 12}, {12, 6}}));
    d.arrow({12, 2}, 0, -1);
    d.thin({{{12, 12}, {12, 18}}});
    d.arrow({12, 22}, 0, 1, true);
}

void drawMeasure(Draft& d)
{
    d.thin({{{3, 4}, {3, 20}}});
    d.thin({{{21, 4}, {21, 20}}});
    d.thin({{{3, 12}, {21, 12}}});
    d.arrow({3, 12}, -1, 0, true);
    d.arrow({21, 12}, 1, 0, true);
}

void drawMeasureAngle(Draft& d)
{
    d.outline(QPolygonF({{21, 20}, {3, 20}, {16, 4}}));
    QPainterPath arc(QPointF(14, 20));
    arc.arcTo(QRectF(-8, 9, 22, 22), 0, 51);
    d.accent(arc);
}

void drawMeasureRadius(Draft& d)
{
    d.circle({12, 12}, 9);
    d.thin({{{12, 12}, {18, 6}}});
    d.arrow({18.4, 5.6}, 0.7071, -0.7071, true);
    d.thin({{{10, 12}, {14, 12}}});
    d.thin({{{12, 10}, {12, 14}}});
}

void drawPaint(Draft& d)
{
    d.outline(QPolygonF({{20.5, 3.5}, {11, 11.5}, {13, 13.5}, {21, 4}, {20.5, 3.5}}));
    QPainterPath bristles(QPointF(11, 11.5));
    bristles.cubicTo(7, 12, 7, 17, 3, 19);
    bristles.cubicTo(7, 21, 13, 19, 13, 13.5);
    d.accent(bristles);
}

void drawFitView(Draft& d)
{
    for (const int sx : {-1, 1})
        for (const int sy : {-1, 1})
            d.outline(QPolygonF(
                {{12 + sx * 4.5, 12 + sy * 9.0}, {12 + sx * 9.0, 12 + sy * 9.0}, {12 + sx * 9.0, 12 + sy * 4.5}}));
    d.circle({12, 12}, 4, true);
}

void drawExplode(Draft& d)
{
    d.box(6, 1.5, 12, 3.5);
    d.box(6, 19, 12, 3.5);
    d.thin({{{12, 7}, {12, 17}}});
    d.arrow({12, 6.2}, 0, -1, true);
    d.arrow({12, 17.8}, 0, 1, true);
}

void drawIsolate(Draft& d)
{
    d.thin({{{3, 3}, {9, 3}, {9, 9}, {3, 9}, {3, 3}}});
    d.thin({{{3, 15}, {9, 15}, {9, 21}, {3, 21}, {3, 15}}});
    d.accent(QPolygonF({{13, 7}, {22, 7}, {22, 17}, {13, 17}, {13, 7}}));
}

void drawPrintPose(Draft& d)
{
    d.outline(QPolygonF({{2, 18}, {7, 14}, {22, 14}, {17, 18}, {2, 18}}));
    d.accent(QPolygonF({{9, 15}, {9, 6}, {16, 6}, {16, 15}}));
    d.thin({{{2, 21}, {17, 21}}});
}

void drawSuggest(Draft& d)
{
    d.box(4, 3, 16, 18);
    d.chain({{{1.5, 9}, {22.5, 9}}});
    d.chain({{{1.5, 15}, {22.5, 15}}});
}

void drawSettings(Draft& d)
{
    for (const auto& [y, x] : {std::pair{6.0, 15.0}, std::pair{12.0, 8.0}, std::pair{18.0, 17.0}}) {
        d.outline(QPolygonF({{3, y}, {x - 2.5, y}}));
        d.outline(QPolygonF({{x + 2.5, y}, {21, y}}));
        d.circle({x, y}, 2.5, true);
    }
}

void drawCopy(Draft& d)
{
    d.box(8, 7, 12, 14);
    d.outline(QPolygonF({{16, 3}, {4, 3}, {4, 17}}));
    for (const double y : {11.0, 14.0, 17.0})
        d.thin({{{11, y}, {17, y}}});
}

void drawClear(Draft& d)
{
    d.box(4, 3, 16, 18);
    d.accent(QPolygonF({{8.5, 8.5}, {15.5, 15.5}}));
    d.accent(QPolygonF({{15.5, 8.5}, {8.5, 15.5}}));
}

void drawSection(Draft& d)
{
    d.box(4, 5, 16, 14);
    for (const double x : {4.0, 9.0, 14.0}) // hatching at 45 degrees, as cut faces are drawn
        d.thin({{{x, 19}, {x + 6, 13}}});
    d.chain({{{1, 12}, {23, 12}}});
}

void drawEdges(Draft& d)
{
    d.outline(QPolygonF({{12, 2}, {21, 8}, {18, 20}, {6, 20}, {3, 8}, {12, 2}}));
    d.thin({{{3, 8}, {12, 11}, {21, 8}}});
    d.thin({{{6, 20}, {12, 11}, {18, 20}}});
    d.thin({{{12, 2}, {12, 11}}});
}

void drawPerson(Draft& d)
{
    d.circle({9, 5}, 2.5);
    d.outline(QPolygonF({{5, 13}, {9, 9.5}, {13, 13}}));
    d.outline(QPolygonF({{9, 9.5}, {9, 15}}));
    d.outline(QPolygonF({{5.5, 21.5}, {9, 15}, {12.5, 21.5}}));
    d.thin({{{18, 2.5}, {18, 21.5}}});
    d.arrow({18, 2.5}, 0, -1, true);
    d.arrow({18, 21.5}, 0, 1, true);
}

/// A cube with its back smaller (perspective) or as large as its front.
void cube(Draft& d, double inset)
{
    d.box(3, 9, 12, 12);
    const double size = 12 - inset, x = 9 + inset / 2, y = 3 + inset / 2;
    d.outline(QPolygonF({{3, 9}, {x, y}, {x + size, y}, {x + size, y + size}, {15, 21}}));
    d.outline(QPolygonF({{15, 9}, {x + size, y}}));
}

using Drawing = void (*)(Draft&);

constexpr std::array<Drawing, iconCount> drawings{
    drawOpen,
    drawSave,
    [](Draft& d) { curl(d, true); },
    [](Draft& d) { curl(d, false); },
    drawAddPart,
    drawDuplicate,
    drawRemove,
    drawAddCut,
    drawFlip,
    [](Draft& d) {
        d.outline(QPolygonF({{5, 14}, {12, 7}, {19, 14}}));
    },
    [](Draft& d) {
        d.outline(QPolygonF({{5, 10}, {12, 17}, {19, 10}}));
    },
    drawMeasure,
    drawMeasureAngle,
    drawMeasureRadius,
    drawPaint,
    drawFitView,
    drawExplode,
    drawIsolate,
    drawPrintPose,
    drawSuggest,
    [](Draft& d) {
        d.outline(QPolygonF({{7, 4}, {19, 12}, {7, 20}, {7, 4}}));
    },
    [](Draft& d) { d.box(6, 6, 12, 12); },
    drawExport,
    drawSettings,
    drawCopy,
    drawClear,
    drawSection,
    drawEdges,
    drawPerson,
    [](Draft& d) { cube(d, 4); },
    [](Draft& d) { cube(d, 0); },
};

} // namespace

QIcon icon(Icon which)
{
    const Drawing drawing = drawings[static_cast<std::size_t>(which)];
    return paintedIcon([drawing](QPainter& painter, const QRectF& area, const IconInk& ink) {
        painter.save();
        painter.setRenderHint(QPainter::Antialiasing);
        painter.translate(area.topLeft());
        painter.scale(area.width() / grid, area.height() / grid);
        Draft draft(painter, ink);
        drawing(draft);
        painter.restore();
    });
}

} // namespace quoin::ui
