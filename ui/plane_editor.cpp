// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plane_editor.h"

#include "ui/calm_wheel.h"
#include "ui/icons.h"
#include "ui/length_edit.h"
#include "ui/plane_words.h"
#include "ui/quantity_text.h"
#include "ui/verdict_label.h"

#include <QComboBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QRegularExpression>
#include <QScopedValueRollback>
#include <QSlider>
#include <QToolButton>

#include <cmath>

namespace quoin::ui {

namespace {

constexpr int slides = 1000; ///< places of the slider
constexpr std::array<double, 4> snapsMm{0, 1, 5, 10};
constexpr double leastNormal = 1e-6; ///< a typed normal shorter than this has no direction

QHBoxLayout* rowOf()
{
    auto* row = new QHBoxLayout;
    row->setContentsMargins(0, 0, 0, 0);
    return row;
}

std::optional<mesh::Vec3> normalFrom(const QString& text)
{
    const QStringList words = text.split(QRegularExpression("[\\s,;]+"), Qt::SkipEmptyParts);
    if (words.size() != 3)
        return std::nullopt;
    std::array<double, 3> n{};
    for (int i = 0; i < 3; ++i) {
        bool ok = false;
        n[i] = words[i].toDouble(&ok);
        if (!ok || !std::isfinite(n[i]))
            return std::nullopt;
    }
    const double length = std::hypot(n[0], n[1], n[2]);
    if (length < leastNormal || !std::isfinite(length))
        return std::nullopt;
    return mesh::Vec3{n[0] / length, n[1] / length, n[2] / length};
}

} // namespace

PlaneEditor::PlaneEditor(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(buildDirection());
    layout->addWidget(buildPosition());
    auto* note = rowOf();
    m_mark = new VerdictLabel(Verdict::Warning, this);
    m_problem = new QLabel(this);
    m_problem->setWordWrap(true);
    note->addWidget(m_mark, 0, Qt::AlignTop);
    note->addWidget(m_problem, 1);
    layout->addLayout(note);
    connectFields();
    calmWheel(*this);
    showAll();
}

QWidget* PlaneEditor::buildDirection()
{
    auto* box = new QWidget(this);
    auto* form = new QFormLayout(box);
    form->setContentsMargins(0, 0, 0, 0);
    auto* axes = rowOf();
    for (int axis = 0; axis < 3; ++axis) {
        auto* button = m_axes[axis] = new QToolButton(box);
        const QString name(QChar("xyz"[axis]));
        button->setText("Across &" + name);
        button->setCheckable(true);
        button->setFocusPolicy(Qt::StrongFocus);
        button->setAccessibleName("Across " + name);
        button->setToolTip("Square to the part's " + name + " axis.");
        axes->addWidget(button);
    }
    axes->addStretch();
    form->addRow("Direction", axes);
    auto* angles = rowOf();
    m_turn = new AngleEdit(box);
    m_turn->setAccessibleName("Turn");
    m_tilt = new AngleEdit(box);
    m_tilt->setAccessibleName("Tilt");
    m_tilt->setRange(-90, 90);
    auto* tiltLabel = new QLabel("T&ilt", box);
    tiltLabel->setBuddy(m_tilt);
    angles->addWidget(m_turn);
    angles->addWidget(tiltLabel);
    angles->addWidget(m_tilt);
    form->addRow("T&urn", angles);
    static_cast<QLabel*>(form->labelForField(angles))->setBuddy(m_turn);
    m_normal = new QLineEdit(box);
    m_normal->setAccessibleName("Normal");
    m_normal->setToolTip("The direction that the plane faces, as three numbers of any length: 1, 0, 0.5");
    form->addRow("&Normal", m_normal);
    return box;
}

QWidget* PlaneEditor::buildPosition()
{
    auto* box = new QWidget(this);
    auto* form = new QFormLayout(box);
    form->setContentsMargins(0, 0, 0, 0);
    auto* place = rowOf();
    m_position = new LengthEdit(box);
    m_position->setAccessibleName("Position");
    m_flip = new QToolButton(box);
    m_flip->setIcon(icon(Icon::Flip));
    m_flip->setText("F&lip");
    m_flip->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
    m_flip->setFocusPolicy(Qt::StrongFocus);
    m_flip->setAccessibleName("Flip direction");
    m_flip->setToolTip("Flip direction: above becomes below; the cut stays where it is.");
    place->addWidget(m_position, 1);
    place->addWidget(m_flip);
    form->addRow("&Position", place);
    static_cast<QLabel*>(form->labelForField(place))->setBuddy(m_position);
    m_slider = new QSlider(Qt::Horizontal, box);
    m_slider->setRange(0, slides);
    m_slider->setPageStep(slides / 20);
    m_slider->setFocusPolicy(Qt::StrongFocus);
    m_slider->setAccessibleName("Position along the part");
    m_slider->setToolTip("From one end of the part to the other.");
    form->addRow(m_slider);
    m_snap = new QComboBox(box);
    for (const double snap : snapsMm)
        m_snap->addItem(snap == 0 ? QString("Off") : numberText(snap, 0) + " mm", snap);
    m_snap->setAccessibleName("Snap");
    m_snap->setFocusPolicy(Qt::StrongFocus);
    m_snap->setToolTip("Steps, the slider and dragging in the view land on whole multiples of this.");
    form->addRow("&Snap", m_snap);
    return box;
}

void PlaneEditor::connectFields()
{
    for (int axis = 0; axis < 3; ++axis)
        connect(m_axes[axis], &QToolButton::clicked, this, [this, axis] {
            adopt(turned({axis == 0 ? 1.0 : 0.0, axis == 1 ? 1.0 : 0.0, axis == 2 ? 1.0 : 0.0}), true);
        });
    for (AngleEdit* field : {m_turn, m_tilt}) {
        const auto aimed = [this] { return turned(normalOf({m_turn->value(), m_tilt->value()})); };
        connect(field, &NumberEdit::liveEdited, this, [this, aimed] { adopt(aimed(), false); });
        connect(field, &NumberEdit::edited, this, [this, aimed] { adopt(aimed(), true); });
    }
    connect(m_normal, &QLineEdit::editingFinished, this, &PlaneEditor::takeNormal);
    connect(m_position, &NumberEdit::liveEdited, this, [this](double at) {
        adopt({m_plane.normal, sign() * at}, false);
    });
    connect(m_position, &NumberEdit::edited, this, [this](double at) { adopt({m_plane.normal, sign() * at}, true); });
    connect(m_slider, &QSlider::valueChanged, this, &PlaneEditor::slide);
    connect(m_slider, &QSlider::sliderReleased, this, [this] { adopt(mesh::Plane(m_plane), true); });
    connect(m_flip, &QToolButton::clicked, this, [this] { adopt({-m_plane.normal, -m_plane.offset}, true); });
    connect(m_snap, &QComboBox::currentIndexChanged, this, [this] {
        m_position->setSnap(snapMm());
        emit snapChanged(snapMm());
    });
}

void PlaneEditor::setPlane(const mesh::Plane& plane, const mesh::Box3& part)
{
    if (!(plane.normal == m_plane.normal) || plane.offset != m_plane.offset)
        m_turn->setValue(0); // showAll knows no better for a level plane
    m_plane = plane;
    m_part = part;
    showAll();
}

void PlaneEditor::setUnit(mesh::Unit unit)
{
    m_unit = unit;
    setLengthUnit(*this, unit);
    showPosition();
}

double PlaneEditor::snapMm() const
{
    return m_snap->currentData().toDouble();
}

void PlaneEditor::setSnapMm(double snapMm)
{
    const int at = m_snap->findData(snapMm);
    if (at >= 0)
        m_snap->setCurrentIndex(at);
}

double PlaneEditor::sign() const
{
    const auto across = axisPlaneOf(m_plane);
    return across && across->flipped ? -1 : 1;
}

mesh::Plane PlaneEditor::turned(mesh::Vec3 normal) const
{
    const mesh::Vec3 middle = m_part.empty() ? mesh::Vec3{0, 0, 0} : m_part.centre();
    return mesh::planeThrough(middle - m_plane.distance(middle) * m_plane.normal, normal);
}

void PlaneEditor::adopt(const mesh::Plane& plane, bool forGood)
{
    // A copy goes out: whoever hears it may show another plane here before reading on.
    const mesh::Plane adopted = plane;
    m_plane = adopted;
    showAll();
    if (forGood)
        emit wanted(adopted);
    else
        emit live(adopted);
}

void PlaneEditor::takeNormal()
{
    if (!m_normal->isModified())
        return;
    const auto normal = normalFrom(m_normal->text());
    if (!normal) {
        say(QString("\"%1\" is not a direction. Type three numbers that are not all 0, such as 1, 0, 0.5.")
                .arg(m_normal->text()));
        return;
    }
    m_normal->setModified(false);
    adopt(turned(*normal), true);
}

void PlaneEditor::slide(int place)
{
    if (m_quiet)
        return;
    const Reach reach = reachOf(m_part, sign() * m_plane.normal);
    double at = reach.leastMm + (reach.mostMm - reach.leastMm) * place / slides;
    const double snap = snapMm();
    if (snap > 0)
        at = snap * std::round(at / snap);
    adopt({m_plane.normal, sign() * at}, !m_slider->isSliderDown());
}

void PlaneEditor::showAll()
{
    const auto across = axisPlaneOf(m_plane);
    for (int axis = 0; axis < 3; ++axis)
        m_axes[axis]->setChecked(across && across->axis == axis);
    const Aim aim = aimOf(m_plane.normal);
    // Straight up or down the turn means nothing: it stays, for the way back.
    if (m_plane.normal.x != 0 || m_plane.normal.y != 0)
        m_turn->setValue(aim.turnDegrees);
    m_tilt->setValue(aim.tiltDegrees);
    m_normal->setText(
        QString("%1, %2, %3")
            .arg(numberText(m_plane.normal.x, 4), numberText(m_plane.normal.y, 4), numberText(m_plane.normal.z, 4)));
    m_normal->setCursorPosition(0);
    showPosition();
}

void PlaneEditor::showPosition()
{
    const QScopedValueRollback quiet(m_quiet, true);
    const mesh::Vec3 along = sign() * m_plane.normal;
    const double at = sign() * m_plane.offset;
    const Reach reach = reachOf(m_part, along);
    const QString why = QString("the part reaches from %1 to %2 along this direction")
                            .arg(lengthText(reach.leastMm, m_unit), lengthText(reach.mostMm, m_unit));
    m_position->setRange(reach.leastMm, reach.mostMm, why);
    m_position->setValue(at);
    m_position->setHelp("The place of the cut: " + why + ". Up and Down step.");
    if (!m_slider->isSliderDown() && reach.mostMm > reach.leastMm)
        m_slider->setValue(static_cast<int>(
            std::lround(slides * std::clamp((at - reach.leastMm) / (reach.mostMm - reach.leastMm), 0.0, 1.0))));
    const bool misses = !m_part.empty() && (at < reach.leastMm || at > reach.mostMm);
    say(misses ? "The plane misses the part: " + why + "." : QString());
}

void PlaneEditor::say(const QString& problem)
{
    m_problem->setText(problem);
    m_problem->setVisible(!problem.isEmpty());
    m_mark->setVisible(!problem.isEmpty());
}

} // namespace quoin::ui

#include "moc_plane_editor.cpp"
