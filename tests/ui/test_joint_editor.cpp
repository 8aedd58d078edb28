// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/application.h"
#include "ui/joint_editor.h"
#include "ui/length_edit.h"
#include "ui/theme.h"

#include <QAbstractButton>
#include <QCheckBox>
#include <QComboBox>
#include <QKeySequence>
#include <QLabel>
#include <QSignalSpy>
#include <QTest>

#include <catch2/catch.hpp>

#include <set>

using namespace quoin;
using namespace quoin::ui;
using Form = core::JointForm;
using Kind = Form::Kind;

namespace {

/// The editor with something that takes what it wants, as the panel does.
struct Editing : test::WithApplication {
    JointEditor editor;
    Form joint = core::dowelForm({10, 5}, 8, 12);
    JointGround ground{{-60, -40}, {60, 40}, 3, 7, {40, 90, 60}};
    QString last;
    int edits = 0;

    Editing()
    {
        QObject::connect(&editor, &JointEditor::wanted, &editor, [this](const Form& next, const QString& what) {
            joint = next;
            last = what;
            ++edits;
            editor.setJoint(joint, ground);
        });
        editor.setJoint(joint, ground);
        test::show(editor, {380, 520});
    }

    template <class Widget>
    Widget* named(const QString& name)
    {
        for (Widget* widget : editor.findChildren<Widget*>())
            if (widget->accessibleName() == name)
                return widget;
        FAIL("no widget named " << name.toStdString());
        return nullptr;
    }
    template <class Widget>
    bool shows(const QString& name)
    {
        return named<Widget>(name)->isVisible();
    }
    void choose(const QString& box, const QString& item)
    {
        auto* combo = named<QComboBox>(box);
        CAPTURE(box.toStdString(), item.toStdString());
        REQUIRE(combo->isVisible());
        REQUIRE(combo->isEnabled());
        const int at = combo->findText(item);
        REQUIRE(at >= 0);
        combo->setFocus();
        while (combo->currentIndex() != at) { // each step on the way is taken, as by hand
            const int before = combo->currentIndex();
            QTest::keyClick(combo, before < at ? Qt::Key_Down : Qt::Key_Up);
            REQUIRE(combo->currentIndex() != before);
        }
    }
    void type(const QString& field, const QString& text)
    {
        auto* edit = named<NumberEdit>(field);
        REQUIRE(edit->isVisible());
        edit->setFocus();
        edit->selectAll();
        QTest::keyClicks(edit, text);
        QTest::keyClick(edit, Qt::Key_Return);
    }
    QString label(QWidget* buddy)
    {
        for (const QLabel* l : editor.findChildren<QLabel*>())
            if (l->buddy() == buddy && l->isVisible())
                return l->text().remove('&');
        return {};
    }
};

} // namespace

TEST_CASE_METHOD(Editing, "joint editor: each kind shows the numbers that it has, and no others")
{
    struct Has {
        const char* kind;
        bool rod, section, carrier, hold, thread, taper, length, grip, keyed, angle, typed;
    };
    const Has kinds[] = {
        {"dowel", true, false, false, false, false, false, false, false, true, true, true},
        {"screw", false, false, true, false, true, false, false, false, false, false, true},
        {"stud", false, false, false, false, true, false, false, false, false, false, true},
        {"key", false, true, true, false, false, true, false, false, false, true, true},
        {"dovetail", false, false, true, false, false, false, true, false, false, true, true},
        {"draw bolt", false, false, true, true, false, false, false, true, false, false, false},
    };
    for (const Has& has : kinds) {
        CAPTURE(has.kind);
        choose("Kind of the joint", has.kind);
        CHECK(core::kindName(joint.kind) == std::string(has.kind));
        CHECK(joint.at == mesh::Vec2{10, 5});
        CHECK(shows<QComboBox>("What the dowel is made of") == has.rod);
        CHECK(shows<QComboBox>("Section of the key") == has.section);
        CHECK(shows<QComboBox>("Piece that carries it") == has.carrier);
        CHECK(shows<QComboBox>("How the bolt is held") == has.hold);
        CHECK(shows<QComboBox>("Pitch") == has.thread);
        CHECK(shows<LengthEdit>("Taper of the key") == has.taper);
        CHECK(shows<LengthEdit>("Length of the dovetail") == has.length);
        CHECK(shows<LengthEdit>("Grip of the bolt") == has.grip);
        CHECK(editor.findChild<QCheckBox*>()->isVisible() == has.keyed);
        CHECK(shows<AngleEdit>("Angle of the joint") == has.angle);
        CHECK(shows<LengthEdit>("Diameter of the joint") == has.typed);
        CHECK(shows<LengthEdit>("Depth of the joint"));
        test::picture(editor, QString("joint-editor-%1").arg(QString(has.kind).replace(' ', '-')));
        // Letters that are underlined: each once, among those that can be seen.
        std::set<QString> letters;
        const auto note = [&](const QString& text) {
            const QString letter = QKeySequence::mnemonic(text).toString();
            CAPTURE(text.toStdString());
            if (!letter.isEmpty())
                CHECK(letters.insert(letter).second);
        };
        for (const QLabel* l : editor.findChildren<QLabel*>())
            if (l->isVisible() && l->buddy() != nullptr)
                note(l->text());
        for (const QAbstractButton* b : editor.findChildren<QAbstractButton*>())
            if (b->isVisible())
                note(b->text());
        CHECK(letters.size() >= 5);
    }
}

TEST_CASE_METHOD(Editing, "joint editor: a screw's thread by profile, pitch and starts, with what follows")
{
    choose("Kind of the joint", "screw");
    CHECK(joint.diameterMm == 50); // 1.4 times 40 mm free radius: the size below
    choose("Thread profile", "trapezoidal, ISO 2901");
    CHECK(last == "thread profile");
    choose("Diameter from the series", "Tr 40");
    CHECK(joint.thread.pitchMm == 7); // ISO 2902
    const auto* follows = named<QLabel>("What follows from the thread");
    CHECK(follows->text().contains("Tr 40x7"));
    CHECK(follows->text().contains("lead 7 mm"));
    // 360 degrees x 0.1 mm / 7 mm
    CHECK(follows->text().contains("5.1°"));
    choose("Pitch", "10 mm");
    choose("Starts", "2 starts");
    CHECK(joint.thread.leadMm() == 20);
    CHECK(follows->text().contains("Tr 40x20(P10)"));
    CHECK(follows->text().contains("1.8°"));
    type("Depth of the joint", "50");
    CHECK(follows->text().contains("2.5 turns"));
    for (QCheckBox* box : editor.findChildren<QCheckBox*>())
        if (box->isVisible())
            QTest::mouseClick(box, Qt::LeftButton, {}, {8, 8});
    CHECK(joint.thread.leftHand);
    CHECK(follows->text().contains("LH"));
    test::picture(editor, "joint-editor-trapezoidal");
}

TEST_CASE_METHOD(Editing, "joint editor: a thread that can't be is refused with a reason, and nothing is changed")
{
    choose("Kind of the joint", "screw");
    choose("Diameter from the series", "10 mm");
    const int before = edits;
    const Form was = joint;
    type("Diameter of the joint", "3.5"); // pitches finer than 3 mm don't print, and that leaves a core of 1.5 mm
    CHECK(edits == before);
    CHECK(joint == was);
    auto* problem = editor.findChild<QLabel*>("jointProblem");
    REQUIRE(problem);
    CHECK(problem->isVisible());
    CHECK(problem->text().contains("too thin"));
    CHECK(named<LengthEdit>("Diameter of the joint")->value() == 10);
    test::picture(editor, "joint-editor-refused");
    choose("Diameter from the series", "30 mm");
    CHECK_FALSE(problem->isVisible());
}

TEST_CASE_METHOD(Editing, "joint editor: which piece carries it, by its number")
{
    choose("Kind of the joint", "screw");
    CHECK(label(named<QComboBox>("Piece that carries it")) == "Stands on");
    CHECK(label(named<LengthEdit>("Depth of the joint")) == "Depth in piece 7");
    choose("Piece that carries it", "piece 7");
    CHECK(joint.carrierAbove);
    CHECK(label(named<LengthEdit>("Depth of the joint")) == "Depth in piece 3");
    choose("Kind of the joint", "key");
    CHECK_FALSE(joint.integral);
    CHECK(label(named<LengthEdit>("Depth of the joint")) == "Depth, each side");
    choose("Piece that carries it", "on piece 3");
    CHECK(joint.integral);
    CHECK_FALSE(joint.carrierAbove);
    choose("Piece that carries it", "loose");
    CHECK_FALSE(joint.integral);
    choose("Section of the key", "D");
    CHECK(joint.section == Form::Section::D);
    CHECK(label(named<AngleEdit>("Angle of the joint")) == "Flat looks to");
    type("Angle of the joint", "90");
    CHECK(joint.angle == Approx(M_PI / 2));
}

TEST_CASE_METHOD(Editing, "joint editor: bolts come in their sizes; a nut from the side has a way to open to")
{
    choose("Kind of the joint", "draw bolt");
    CHECK(joint.hold == Form::Hold::Insert);
    choose("Diameter from the series", "M10");
    CHECK(joint.diameterMm == 10);
    CHECK_FALSE(shows<AngleEdit>("Angle of the joint"));
    choose("How the bolt is held", "nut from the side");
    CHECK(joint.hold == Form::Hold::SideNut);
    CHECK(shows<AngleEdit>("Angle of the joint"));
    CHECK(label(named<AngleEdit>("Angle of the joint")) == "Slot opens to");
    CHECK(label(named<LengthEdit>("Depth of the joint")) == "Nut's depth");
    type("Grip of the bolt", "35");
    CHECK(joint.gripMm == 35);
    CHECK(last == "grip");
}

TEST_CASE_METHOD(Editing, "joint editor: a bought rod is round")
{
    auto* keyed = editor.findChild<QCheckBox*>();
    REQUIRE(keyed->text() == "&Keyed");
    QTest::mouseClick(keyed, Qt::LeftButton, {}, {8, 8});
    REQUIRE(joint.keyed);
    choose("What the dowel is made of", "steel rod, bought");
    CHECK(joint.rod == Form::Rod::Steel);
    CHECK_FALSE(joint.keyed);
    CHECK_FALSE(keyed->isEnabled());
    CHECK(keyed->toolTip().contains("round"));
}

TEST_CASE_METHOD(Editing, "joint editor: numbers that are only shown say why")
{
    editor.setJoint(joint, ground, "This joint is chosen for you.");
    CHECK_FALSE(named<QComboBox>("Kind of the joint")->isEnabled());
    CHECK(named<QComboBox>("Kind of the joint")->toolTip() == "This joint is chosen for you.");
    CHECK(named<LengthEdit>("Depth of the joint")->toolTip() == "This joint is chosen for you.");
    applyTheme(test::application(), Theme::Dark);
    editor.setJoint(core::changedTo(joint, Kind::Stud, ground.space), ground);
    test::picture(editor, "joint-editor-dark");
    applyTheme(test::application(), Theme::Light);
}
