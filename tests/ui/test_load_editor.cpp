// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "tests/ui/application.h"
#include "ui/direction_edit.h"
#include "ui/length_edit.h"
#include "ui/load_editor.h"
#include "ui/problem_line.h"
#include "ui/quantity_edit.h"

#include <QComboBox>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QSignalSpy>
#include <QTest>

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::ui;
using core::LoadCase;

namespace {

/// Stands in for the document; a part of three pieces.
struct Editor : test::WithApplication {
    core::Project project;
    LoadCase load;
    LoadEditor editor;
    std::vector<QString> history, keys;
    std::vector<LoadCase> live;
    std::vector<int> picks;

    Editor()
    {
        project.pieces.resize(3);
        for (int i = 0; i < 3; ++i)
            project.pieces[static_cast<std::size_t>(i)].number = i + 1;
        editor.setCheck([this](const LoadCase& wanted) { return loadFaults(project, wanted); });
        QObject::connect(&editor, &LoadEditor::loadWanted, &editor,
                         [this](const LoadCase& next, const QString& name, const QString& key) {
                             load = next;
                             history.push_back(name);
                             keys.push_back(key);
                             show();
                         });
        QObject::connect(&editor, &LoadEditor::loadLive, &editor, [this](const LoadCase& l) { live.push_back(l); });
        QObject::connect(&editor, &LoadEditor::pickWanted, &editor, [this](int force) { picks.push_back(force); });
        show();
        test::show(editor, {380, 900});
    }
    void show() { editor.setLoad(load, {1, 2, 3}, {{0, 0, 0}, {100, 60, 200}}); }
    template <class T>
    T& named(const QString& name)
    {
        for (T* widget : editor.findChildren<T*>())
            if (widget->accessibleName() == name || widget->text().remove('&') == name)
                return *widget;
        FAIL("no widget named " << name.toStdString());
        throw 0;
    }
    QComboBox& box(const QString& name)
    {
        for (auto* widget : editor.findChildren<QComboBox*>())
            if (widget->accessibleName() == name)
                return *widget;
        FAIL("no box named " << name.toStdString());
        throw 0;
    }
    void type(const QString& field, const QString& text)
    {
        auto& edit = named<QLineEdit>(field);
        edit.setFocus();
        edit.selectAll();
        QTest::keyClick(&edit, Qt::Key_Delete);
        QTest::keyClicks(&edit, text);
        QTest::keyClick(&edit, Qt::Key_Return);
    }
    QString problem(const char* name) { return editor.findChild<ProblemLine*>(name)->words(); }
    void click(const QString& button) { QTest::mouseClick(&named<QPushButton>(button), Qt::LeftButton); }
};

} // namespace

TEST_CASE_METHOD(Editor, "load editor: every number is taken over, with its unit, as an edit that can be undone")
{
    type("Dynamic factor", "1.5");
    type("Filled share of the volume", "25 %");
    type("Strength of the glue", "0");
    type("Least safety", "4");
    type("Pieces that are held", "3 1");
    CHECK(load.dynamicFactor == 1.5);
    CHECK(load.fillShare == 0.25);
    CHECK(load.glueMpa == 0);
    CHECK(load.safetyLimit == 4);
    CHECK(load.held == std::vector<int>{1, 3});
    box("Class of bolts").setFocus();
    QTest::keyClicks(&box("Class of bolts"), "10.9");
    CHECK(load.boltClass == "10.9");
    box("Direction of gravity").setFocus();
    QTest::keyClicks(&box("Direction of gravity"), "right");
    CHECK(load.gravity == mesh::Vec3{1, 0, 0});
    CHECK(history.front() == "Dynamic factor");
    CHECK(keys.front() == "load Dynamic factor");
    test::picture(editor, "load-editor");
    click("As usual again");
    CHECK(load == LoadCase{});
    CHECK_FALSE(named<QPushButton>("As usual again").isEnabled());
}

TEST_CASE_METHOD(Editor, "load editor: what makes no sense is said below its field, and isn't taken")
{
    type("Dynamic factor", "0");
    CHECK(problem("factorProblem").contains("must be a number above 0"));
    type("Filled share of the volume", "150");
    CHECK(problem("fillProblem").contains("at most 1"));
    type("Strength of the glue", "-1");
    CHECK(problem("glueProblem").contains("0 MPa or more"));
    type("Least safety", "0");
    CHECK(problem("limitProblem").contains("above 0"));
    type("Pieces that are held", "4");
    CHECK(problem("heldProblem").contains("There is no piece 4"));
    CHECK(problem("heldProblem").contains("numbered 1 to 3"));
    type("Pieces that are held", "the base");
    CHECK(problem("heldProblem").contains("Write them as 1, 4"));
    CHECK(history.empty());
    CHECK(load == LoadCase{});
    test::picture(editor, "load-editor-faults");
    type("Dynamic factor", "3"); // the way back
    CHECK(problem("factorProblem").isEmpty());
    CHECK(load.dynamicFactor == 3);
}

TEST_CASE_METHOD(Editor, "load editor: pieces that a new cut has taken away are told of, and others can be changed")
{
    load.held = {3};
    load.extra = {{{0, 0, 0}, {0, 0, -5}, 3}};
    project.pieces.resize(2);
    editor.setLoad(load, {1, 2}, {{0, 0, 0}, {100, 60, 200}});
    CHECK(problem("heldProblem").contains("There is no piece 3"));
    CHECK(problem("forceProblem").contains("There is no piece 3"));
    type("Dynamic factor", "1");
    CHECK(load.dynamicFactor == 1);
    CHECK(problem("heldProblem").contains("There is no piece 3"));
    type("Pieces that are held", "");
    CHECK(load.held.empty());
    CHECK(problem("heldProblem").isEmpty());
}

TEST_CASE_METHOD(Editor, "load editor: forces are added, changed by their numbers, picked and removed")
{
    CHECK_FALSE(named<QPushButton>("Remove force").isEnabled());
    click("Add force");
    REQUIRE(load.extra.size() == 1);
    CHECK(load.extra[0].at == mesh::Vec3{50, 30, 200}); // the middle of the top
    CHECK(load.extra[0].forceN == mesh::Vec3{0, 0, -100});
    type("Size of the force", "0.25 kN");
    CHECK(load.extra[0].forceN.z == Approx(-250));
    box("Direction of the force").setFocus();
    QTest::keyClicks(&box("Direction of the force"), "front");
    CHECK(mesh::length(load.extra[0].forceN - mesh::Vec3{0, -250, 0}) < 1e-9);
    type("Place of the force, x", "-3 cm");
    CHECK(load.extra[0].at.x == -30);
    box("Piece that the force acts on").setFocus();
    for (int k = 0; k < 2; ++k) // by letters there would be a space, and that opens the list
        QTest::keyClick(&box("Piece that the force acts on"), Qt::Key_Down);
    CHECK(load.extra[0].piece == 2);
    click("Add force");
    REQUIRE(load.extra.size() == 2);
    auto* list = editor.findChild<QListWidget*>();
    CHECK(list->currentRow() == 1);
    CHECK(list->item(0)->text() == "1: 250 N front, −y, on piece 2");
    click("Pick its place in the view");
    CHECK(picks == std::vector<int>{1});
    editor.setPicking(true);
    CHECK(named<QPushButton>("Click its place in the view…").isChecked());
    editor.setPicking(false);
    test::picture(editor, "load-editor-forces");
    list->setFocus();
    QTest::keyClick(list, Qt::Key_Up);
    click("Remove force");
    REQUIRE(load.extra.size() == 1);
    CHECK(load.extra[0].forceN == mesh::Vec3{0, 0, -100});
    CHECK(history.back() == "Remove force 1");
}

TEST_CASE_METHOD(Editor, "load editor: stepping a number is told live, and as one edit at rest")
{
    auto& factor = named<QLineEdit>("Dynamic factor");
    factor.setFocus();
    for (int i = 0; i < 3; ++i)
        QTest::keyClick(&factor, Qt::Key_Up);
    REQUIRE(live.size() == 3);
    CHECK(live.back().dynamicFactor == Approx(2.3));
    REQUIRE(QTest::qWaitFor([&] { return !history.empty(); }, 2000));
    CHECK(history.size() == 1);
    CHECK(load.dynamicFactor == Approx(2.3));
}

TEST_CASE_METHOD(Editor, "load editor: the selected pieces are held by a button that says when it can't")
{
    auto& hold = named<QPushButton>("Hold the selected");
    CHECK_FALSE(hold.isEnabled());
    CHECK(hold.toolTip().contains("Select pieces"));
    editor.setSelectedPieces({2, 3});
    click("Hold the selected");
    CHECK(load.held == std::vector<int>{2, 3});
    CHECK_FALSE(hold.isEnabled());
    CHECK(hold.toolTip().contains("held already"));
}
