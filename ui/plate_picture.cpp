// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plate_picture.h"

#include "ui/chart_style.h"
#include "ui/quantity_text.h"

#include <QHelpEvent>
#include <QKeyEvent>
#include <QPainter>
#include <QToolTip>

#include <algorithm>
#include <array>

namespace quoin::ui {

namespace {

/// Blue, orange, green, purple and yellow of Okabe and Ito (2008), lighter and darker: neighbours differ in lightness,
/// too, and each piece has its number.
QColor fillOf(std::size_t i, bool dark)
{
    static constexpr std::array<QRgb, 5> light{0xffa8d0ec, 0xfff3cf8f, 0xff9fdcc4, 0xffe6bdd3, 0xfff2ebac};
    static constexpr std::array<QRgb, 5> deep{0xff26567a, 0xff77520f, 0xff0f5f48, 0xff6f3f5a, 0xff5f5a1c};
    return QColor::fromRgba(dark ? deep[i % deep.size()] : light[i % light.size()]);
}

QPainterPath pathOf(const mesh::Region& region)
{
    QPainterPath path;
    path.setFillRule(Qt::OddEvenFill);
    for (const mesh::Loop& loop : region) {
        QPolygonF polygon;
        polygon.reserve(static_cast<qsizetype>(loop.size()));
        for (const mesh::Vec2 p : loop)
            polygon << QPointF(p.x, p.y);
        path.addPolygon(polygon);
        path.closeSubpath();
    }
    return path;
}

/// A place well inside a shape for its number: the middle of its box, or else of the widest stretch across it.
QPointF placeInside(const mesh::Region& region, const QPainterPath& path)
{
    const QRectF box = path.boundingRect();
    if (mesh::contains(region, {box.center().x(), box.center().y()}))
        return box.center();
    constexpr int steps = 40;
    QPointF best = box.center();
    double widest = -1;
    for (int j = 1; j < steps; ++j) {
        const double y = box.top() + box.height() * j / steps;
        int from = -1;
        for (int i = 0; i <= steps; ++i) {
            const double x = box.left() + box.width() * i / steps;
            const bool in = i < steps && mesh::contains(region, {x, y});
            if (in && from < 0)
                from = i;
            if (!in && from >= 0) {
                if (i - from > widest) {
                    widest = i - from;
                    best = {box.left() + box.width() * (from + i - 1) / 2 / steps, y};
                }
                from = -1;
            }
        }
    }
    return best;
}

} // namespace

PlatePicture::PlatePicture(QWidget* parent) : QWidget(parent)
{
    setObjectName(QStringLiteral("platePicture"));
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    clear();
}

void PlatePicture::setPlate(PlateShown plate)
{
    m_plate = std::move(plate);
    m_paths.clear();
    for (const PlateShape& s : m_plate.shapes)
        m_paths.push_back(pathOf(s.outline));
    const auto there = std::any_of(m_plate.shapes.begin(), m_plate.shapes.end(),
                                   [this](const PlateShape& s) { return s.id == m_selected; });
    if (!there)
        m_selected = -1;
    setAccessibleName(m_plate.title.isEmpty() ? tr("Picture of a plate") : tr("Picture: %1").arg(m_plate.title));
    setAccessibleDescription(tr("%n piece(s)", nullptr, static_cast<int>(m_plate.shapes.size())));
    update();
}

void PlatePicture::clear()
{
    setPlate({});
}

QRectF PlatePicture::room() const
{
    const double line = fontMetrics().height();
    return QRectF(rect()).adjusted(4, line * 1.4, -4, -line * 1.5);
}

double PlatePicture::scale() const
{
    const QRectF r = room();
    if (m_plate.bed.widthMm <= 0 || m_plate.bed.depthMm <= 0 || r.width() <= 0 || r.height() <= 0)
        return 0;
    return std::min(r.width() / m_plate.bed.widthMm, r.height() / m_plate.bed.depthMm);
}

QPointF PlatePicture::pixelOf(mesh::Vec2 mm) const
{
    return room().center() + QPointF(mm.x, -mm.y) * scale();
}

const PlateShape* PlatePicture::shapeAt(QPointF at) const
{
    const double s = scale();
    if (s <= 0)
        return nullptr;
    const QPointF mm = (at - room().center()) / s;
    const PlateShape* hit = nullptr;
    double least = 1e300; // a small one that lies within a larger one's hole goes first
    for (const PlateShape& shape : m_plate.shapes)
        if (mesh::contains(shape.outline, {mm.x(), -mm.y()}) && mesh::area(shape.outline) < least) {
            least = mesh::area(shape.outline);
            hit = &shape;
        }
    return hit;
}

void PlatePicture::select(int id)
{
    m_selected = -1;
    for (const PlateShape& s : m_plate.shapes)
        if (s.id == id) {
            m_selected = id;
            setAccessibleDescription(s.tip);
        }
    update();
}

void PlatePicture::choose(int id)
{
    if (id == m_selected)
        return;
    select(id);
    emit selected(m_selected);
}

void PlatePicture::mousePressEvent(QMouseEvent* event)
{
    if (event->button() != Qt::LeftButton)
        return;
    const PlateShape* hit = shapeAt(event->position());
    choose(hit != nullptr ? hit->id : -1);
}

void PlatePicture::keyPressEvent(QKeyEvent* event)
{
    const int key = event->key();
    const int by = key == Qt::Key_Right || key == Qt::Key_Down ? 1 : key == Qt::Key_Left || key == Qt::Key_Up ? -1 : 0;
    if (key == Qt::Key_Escape && m_selected >= 0)
        return choose(-1);
    if (by == 0 || m_plate.shapes.empty())
        return QWidget::keyPressEvent(event);
    const auto n = static_cast<int>(m_plate.shapes.size());
    int at = by > 0 ? -1 : n;
    for (int i = 0; i < n; ++i)
        if (m_plate.shapes[static_cast<std::size_t>(i)].id == m_selected)
            at = i;
    choose(m_plate.shapes[static_cast<std::size_t>((at + by + n) % n)].id);
}

bool PlatePicture::event(QEvent* event)
{
    if (event->type() == QEvent::ToolTip) {
        const auto* help = static_cast<QHelpEvent*>(event);
        const PlateShape* hit = shapeAt(help->pos());
        hit != nullptr ? QToolTip::showText(help->globalPos(), hit->tip, this) : QToolTip::hideText();
        return true;
    }
    return QWidget::event(event);
}

QSize PlatePicture::sizeHint() const
{
    return {22 * fontMetrics().height(), 22 * fontMetrics().height()};
}

QSize PlatePicture::minimumSizeHint() const
{
    return {10 * fontMetrics().height(), 10 * fontMetrics().height()};
}

void PlatePicture::paintBed(QPainter& painter) const
{
    const bool dark = isDark(palette());
    const double w = m_plate.bed.widthMm, d = m_plate.bed.depthMm, m = m_plate.marginMm;
    const bool round = m_plate.bed.shape == core::Bed::Shape::Round;
    const QRectF whole(-w / 2, -d / 2, w, d), inner = whole.adjusted(m, m, -m, -m);
    QPen edge(outlineColour(dark), 1.5);
    edge.setCosmetic(true);
    painter.setPen(edge);
    painter.setBrush(palette().color(QPalette::Base));
    round ? painter.drawEllipse(whole) : painter.drawRect(whole);
    if (m <= 0 || inner.isEmpty())
        return;
    QPen dashed(palette().color(QPalette::Mid), 1, Qt::DashLine);
    dashed.setCosmetic(true);
    painter.setPen(dashed);
    painter.setBrush(Qt::NoBrush);
    round ? painter.drawEllipse(inner) : painter.drawRect(inner);
}

void PlatePicture::paintShape(QPainter& painter, const PlateShape& shape, const QPainterPath& path) const
{
    const bool dark = isDark(palette());
    const bool chosen = shape.id == m_selected;
    const auto place = static_cast<std::size_t>(&shape - m_plate.shapes.data());
    QPen pen(chosen ? ChartStyle(palette()).select : palette().color(QPalette::Text), chosen ? 3 : 1);
    pen.setCosmetic(true);
    painter.setPen(pen);
    painter.setBrush(fillOf(place, dark));
    painter.drawPath(path);
    if (!shape.doubtful)
        return;
    QColor lines = palette().color(QPalette::Text);
    lines.setAlphaF(0.4F);
    QBrush hatch(lines, Qt::BDiagPattern);
    hatch.setTransform(painter.worldTransform().inverted()); // as dense on any plate
    painter.setPen(Qt::NoPen);
    painter.setBrush(hatch);
    painter.drawPath(path);
}

void PlatePicture::paintEvent(QPaintEvent*)
{
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const QFontMetricsF metrics(font());
    const double s = scale();
    if (s <= 0) {
        painter.setPen(palette().color(QPalette::PlaceholderText));
        painter.drawText(rect(), Qt::AlignCenter | Qt::TextWordWrap, tr("Choose a print to see its plate"));
        return;
    }
    painter.setPen(palette().color(QPalette::WindowText));
    painter.drawText(QRectF(4, 0, width() - 8, metrics.height() * 1.3), Qt::AlignCenter,
                     metrics.elidedText(m_plate.title, Qt::ElideRight, width() - 8));
    const QPointF low = pixelOf({-m_plate.bed.widthMm / 2, -m_plate.bed.depthMm / 2});
    const QString size = tr("%1 × %2 mm").arg(numberText(m_plate.bed.widthMm, 1), numberText(m_plate.bed.depthMm, 1));
    const QString below = tr("front edge, %1").arg(size);
    painter.drawText(QRectF(4, low.y() + 2, width() - 8, metrics.height() * 1.3), Qt::AlignCenter,
                     metrics.horizontalAdvance(below) <= width() - 8 ? below : size);
    painter.save();
    painter.translate(room().center());
    painter.scale(s, -s);
    paintBed(painter);
    for (std::size_t i = 0; i < m_plate.shapes.size(); ++i)
        if (m_plate.shapes[i].id != m_selected)
            paintShape(painter, m_plate.shapes[i], m_paths[i]);
    for (std::size_t i = 0; i < m_plate.shapes.size(); ++i)
        if (m_plate.shapes[i].id == m_selected)
            paintShape(painter, m_plate.shapes[i], m_paths[i]);
    painter.restore();
    painter.setPen(palette().color(QPalette::Text));
    for (std::size_t i = 0; i < m_plate.shapes.size(); ++i) {
        const PlateShape& shape = m_plate.shapes[i];
        const QPointF in = placeInside(shape.outline, m_paths[i]);
        const QPointF at = pixelOf({in.x(), in.y()});
        const QRectF words = metrics.boundingRect(shape.label).translated(0, 0);
        const QRectF ground(at.x() - words.width() / 2 - 3, at.y() - metrics.height() / 2, words.width() + 6,
                            metrics.height());
        if (shape.doubtful)
            painter.fillRect(ground, fillOf(i, isDark(palette())));
        painter.drawText(ground, Qt::AlignCenter | Qt::TextDontClip, shape.label);
    }
    if (hasFocus()) {
        painter.setPen(QPen(palette().color(QPalette::WindowText), 1, Qt::DotLine));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(rect().adjusted(0, 0, -1, -1));
    }
}

} // namespace quoin::ui

#include "moc_plate_picture.cpp"
