// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// The window without a mouse, and what it says of each thing that can be done.
#include "mesh/write_model.h"
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/step_bar.h"

#include <QComboBox>
#include <QGroupBox>
#include <QMenuBar>
#include <QSpinBox>
#include <QTabWidget>
#include <QToolButton>

#include <catch2/catch.hpp>

using namespace quoin;
using test::WindowFixture;

namespace {

QString plain(QString text)
{
    return text.remove('&');
}

struct KeyWindow : WindowFixture {
    static constexpr int mostTabs = 120;

    /// What a widget is called by those who can't see it: its accessible name, its label's text, or its own.
    QString nameOf(const QWidget* widget)
    {
        if (!widget->accessibleName().isEmpty())
            return widget->accessibleName();
        for (const QLabel* label : window().findChildren<QLabel*>())
            if (label->buddy() == widget)
                return plain(label->text());
        if (const auto* button = qobject_cast<const QAbstractButton*>(widget))
            return plain(button->text());
        if (const auto* group = qobject_cast<const QGroupBox*>(widget))
            return plain(group->title());
        return {};
    }
    /// Tab after Tab until this has the keyboard.
    void tabTo(const QString& name)
    {
        QStringList seen;
        for (int i = 0; i < mostTabs; ++i) {
            if (QWidget* at = QApplication::focusWidget(); at != nullptr) {
                if (nameOf(at) == name)
                    return;
                seen << nameOf(at);
            }
            key(Qt::Key_Tab);
        }
        FAIL("Tab doesn't lead to " << name.toStdString() << ", only to " << seen.join(", ").toStdString());
    }
    void typeHere(const QString& text)
    {
        QWidget* at = QApplication::focusWidget();
        REQUIRE(at != nullptr);
        key(Qt::Key_A, Qt::ControlModifier);
        QTest::keyClicks(at, text);
        key(Qt::Key_Return);
    }
    void nameFile(const QString& name)
    {
        answer([name](QDialog& dialog) {
            auto* edit = dialog.findChild<QLineEdit*>("fileNameEdit");
            REQUIRE(edit != nullptr);
            edit->setText(name);
            QTest::keyClick(edit, Qt::Key_Return);
        });
    }
    void step(int number)
    {
        key(static_cast<Qt::Key>(Qt::Key_0 + number), Qt::ControlModifier);
        REQUIRE(static_cast<int>(bench().state().step) == number - 1);
        REQUIRE(settle());
    }
    /// Each letter that is underlined somewhere, with everything that it does now.
    std::map<QString, QStringList> letters()
    {
        std::map<QString, QStringList> out;
        const auto note = [&](const QString& text) {
            const QString letter = QKeySequence::mnemonic(text).toString();
            if (!letter.isEmpty())
                out[letter] << plain(text);
        };
        for (const QAction* title : window().menuBar()->actions())
            note(title->text());
        for (const QLabel* label : window().findChildren<QLabel*>())
            if (label->isVisible() && label->buddy() != nullptr && label->buddy()->isEnabled())
                note(label->text());
        for (const QAbstractButton* button : window().findChildren<QAbstractButton*>())
            if (button->isVisible() && button->isEnabled())
                note(button->text());
        for (const QTabBar* bar : window().findChildren<QTabBar*>())
            for (int i = 0; bar->isVisible() && i < bar->count(); ++i)
                note(bar->tabText(i));
        return out;
    }
};

} // namespace

TEST_CASE_METHOD(KeyWindow, "window: the whole job is done without a mouse")
{
    REQUIRE(mesh::writeStl(path("tower.stl"), test::cuboid({0, 0, 0}, {30, 20, 60})).ok());
    nameFile(file("tower.stl"));
    key(Qt::Key_O, Qt::ControlModifier);
    REQUIRE(settle());
    REQUIRE(bench().part() != nullptr);

    step(2);
    tabTo("Wanted height");
    typeHere("40 cm");
    REQUIRE(settle());
    CHECK(part().scale == Approx(40.0 / 6));

    step(3);
    key(Qt::Key_G, Qt::ControlModifier);
    REQUIRE(settle());
    REQUIRE(bench().state().preview);
    tabTo("Accept");
    key(Qt::Key_Space);
    REQUIRE(settle());
    REQUIRE_FALSE(part().cuts.empty());
    CHECK(realised()->fitsBeds());
    // A cut of one's own, moved from the view.
    menu(Qt::Key_C, Qt::Key_Y);
    REQUIRE(settle());
    const std::size_t last = part().cuts.size() - 1;
    const double before = part().cuts[last].plane.offset;
    tabTo("Model view");
    key(Qt::Key_Up);
    REQUIRE(settle());
    CHECK(part().cuts[last].plane.offset == Approx(before + 1));
    key(Qt::Key_Right, Qt::AltModifier);
    REQUIRE(settle());
    CHECK_FALSE(part().cuts[last].plane.normal == mesh::Vec3{0, 1, 0});
    key(Qt::Key_Backspace, Qt::ControlModifier);
    REQUIRE(settle());
    CHECK(part().cuts.size() == last);

    step(4);
    REQUIRE_FALSE(realised()->project.layout.joints.empty());
    tabTo("Take these and change them by hand");
    key(Qt::Key_Space);
    REQUIRE(settle());
    REQUIRE(part().faces.size() == 1);
    const std::vector<core::JointForm> was = part().faces[0].joints;
    tabTo("Model view");
    key(Qt::Key_N);
    key(Qt::Key_Right);
    REQUIRE(settle());
    CHECK_FALSE(part().faces[0].joints == was);
    key(Qt::Key_Z, Qt::ControlModifier);
    REQUIRE(settle());
    CHECK(part().faces[0].joints == was);

    key(Qt::Key_E, Qt::ControlModifier);
    REQUIRE(settle());
    tabTo("Write to folder");
    typeHere(file("out"));
    tabTo("Export and prove");
    key(Qt::Key_Space);
    REQUIRE(settle());
    CHECK(says("Proved"));
    CHECK(std::filesystem::exists(path("out/proof.html")));

    nameFile(file("tower"));
    key(Qt::Key_S, Qt::ControlModifier);
    REQUIRE(settle());
    CHECK(std::filesystem::exists(path("tower.quoin.json")));
    key(Qt::Key_Q, Qt::ControlModifier);
    CHECK_FALSE(window().isVisible());
}

TEST_CASE_METHOD(KeyWindow, "window: every action has words, a tip, and a reason while it can't be done")
{
    const auto checkAll = [this] {
        std::map<QString, QString> keys;
        for (const auto& [id, action] : window().actions().all()) {
            CAPTURE(id.toStdString());
            CHECK_FALSE(plain(action->text()).isEmpty());
            CHECK(action->toolTip().section('\n', 0, 0) != plain(action->text()));
            CHECK(action->toolTip().size() > 10);
            if (!action->isEnabled())
                CHECK(action->toolTip().contains("Not now: "));
            for (const QKeySequence& shortcut : action->shortcuts()) {
                const QString text = shortcut.toString();
                CHECK_FALSE(keys.contains(text));
                keys[text] = id;
                CHECK(action->toolTip().contains(shortcut.toString(QKeySequence::NativeText)));
            }
            // Each is in a menu, or it could not be found.
            bool found = false;
            for (const QMenu* menu : window().findChildren<QMenu*>())
                found = found || menu->actions().contains(action);
            CHECK(found);
        }
        for (int step = 1; step <= ui::StepBar::stepCount; ++step)
            CHECK_FALSE(keys.contains(QStringLiteral("Ctrl+%1").arg(step))); // the bar of steps has them
        return keys.size();
    };
    CHECK(checkAll() > 15);
    open(test::cuboid({0, 0, 0}, {300, 200, 400}));
    action("cutZ").trigger();
    REQUIRE(settle());
    checkAll();
}

TEST_CASE_METHOD(KeyWindow, "window: everything that takes the keyboard has a name, at every step")
{
    const auto checkAll = [this] {
        for (QWidget* widget : window().findChildren<QWidget*>()) {
            if (!widget->isVisible() || !(widget->focusPolicy() & Qt::TabFocus) || !widget->isEnabled() ||
                widget->focusProxy() != nullptr || qobject_cast<QTabBar*>(widget) != nullptr ||
                qobject_cast<QSpinBox*>(widget->parent()) != nullptr ||
                qobject_cast<QComboBox*>(widget->parent()) != nullptr)
                continue;
            CAPTURE(widget->metaObject()->className(), widget->objectName().toStdString(),
                    widget->parentWidget()->metaObject()->className(), static_cast<int>(bench().state().step));
            CHECK_FALSE(nameOf(widget).isEmpty());
        }
        for (QAbstractButton* button : window().findChildren<QAbstractButton*>())
            if (button->isVisible() && !button->isEnabled()) {
                CAPTURE(button->text().toStdString(), static_cast<int>(bench().state().step));
                CHECK_FALSE(button->toolTip().isEmpty()); // why
            }
    };
    checkAll();
    open(test::cuboid({0, 0, 0}, {300, 200, 400}));
    action("cutZ").trigger();
    for (const ui::JobStep step :
         {ui::JobStep::Load, ui::JobStep::Scale, ui::JobStep::Cut, ui::JobStep::Joint, ui::JobStep::Prove, ui::JobStep::Plan}) {
        goTo(step);
        checkAll();
    }
    for (int tab = 0; tab < 4; ++tab) {
        find<QTabWidget>("planTabs")->setCurrentIndex(tab);
        checkAll();
    }
    goTo(ui::JobStep::Cut);
    for (int tab = 0; tab < 3; ++tab) {
        find<QTabWidget>("cutTabs")->setCurrentIndex(tab);
        checkAll();
    }
}

TEST_CASE_METHOD(KeyWindow, "window: no two things that are seen at once share an underlined letter")
{
    open(test::cuboid({0, 0, 0}, {300, 200, 400}));
    action("cutZ").trigger();
    bench().look([](ui::ViewState& state) { state.pieces = {1}; });
    const auto checkAll = [this](const char* where) {
        REQUIRE(settle());
        for (const auto& [letter, what] : letters()) {
            INFO(where << ": " << letter.toStdString() << " is " << what.join(" and ").toStdString());
            CHECK(what.size() == 1);
        }
    };
    for (const ui::JobStep step : {ui::JobStep::Load, ui::JobStep::Scale, ui::JobStep::Joint, ui::JobStep::Prove}) {
        goTo(step);
        checkAll(std::array{"model", "size", "cuts", "joints", "proof"}[static_cast<std::size_t>(step)]);
    }
    goTo(ui::JobStep::Cut);
    for (int tab = 0; tab < 3; ++tab) {
        find<QTabWidget>("cutTabs")->setCurrentIndex(tab);
        checkAll(std::array{"beds", "suggest", "cuts"}[static_cast<std::size_t>(tab)]);
    }
    goTo(ui::JobStep::Plan);
    for (int tab = 0; tab < 4; ++tab) {
        find<QTabWidget>("planTabs")->setCurrentIndex(tab);
        checkAll(std::array{"plan", "estimates", "ticks", "scaling"}[static_cast<std::size_t>(tab)]);
    }
}
