// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/recipe_dialog.h"
#include "ui/theme.h"

#include <QComboBox>
#include <QDoubleSpinBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTest>

#include <catch2/catch.hpp>

#include <optional>

using namespace quoin;
using ui::RecipeDialog;

namespace {

struct Recipes : test::WithApplication {
    Recipes()
    {
        dialog.setBook({}, core::usualRecipe);
        QObject::connect(&dialog, &RecipeDialog::keepWanted, &dialog, [this](const core::Recipe& r) { kept = r; });
        QObject::connect(&dialog, &RecipeDialog::removeWanted, &dialog,
                         [this](const QString& name) { removed = name; });
        QObject::connect(&dialog, &RecipeDialog::useWanted, &dialog, [this](const QString& name) { used = name; });
        test::show(dialog);
    }
    QPushButton& button(const QString& text)
    {
        for (QPushButton* b : dialog.findChildren<QPushButton*>())
            if (QString(b->text()).remove('&') == text)
                return *b;
        FAIL("no button " << text.toStdString());
        throw 0;
    }
    QDoubleSpinBox& field(const char* key) { return *dialog.findChild<QDoubleSpinBox*>(key); }

    RecipeDialog dialog;
    std::optional<core::Recipe> kept;
    QString removed, used;
};

} // namespace

TEST_CASE_METHOD(Recipes, "recipe dialog: every number has a field with its unit and a tip, and shows the recipe")
{
    const core::Recipe usual = core::RecipeBook{}.find(core::usualRecipe).value();
    for (const core::RecipeField& f : core::recipeFields()) {
        CAPTURE(f.key);
        auto* number = dialog.findChild<QDoubleSpinBox*>(f.key);
        REQUIRE(number != nullptr);
        CHECK(number->value() == Approx(f.value(usual)).margin(0.0006));
        CHECK(number->toolTip().size() > 10);
        CHECK(number->suffix().isEmpty() == std::string_view(f.unit).empty());
    }
    CHECK(dialog.findChild<QListWidget*>()->count() == static_cast<int>(core::shippedRecipes().size()));
    CHECK_FALSE(button("Keep as my own").isEnabled());
    CHECK_FALSE(button("Remove my own").isEnabled());
    CHECK(button("Remove my own").toolTip().contains("shipped"));
}

TEST_CASE_METHOD(Recipes, "recipe dialog: a change is kept as the maker's own, everything else to the last digit")
{
    field("walls").setValue(5);
    CHECK_FALSE(button("Use for the job").isEnabled());
    QTest::mouseClick(&button("Keep as my own"), Qt::LeftButton);
    REQUIRE(kept);
    core::Recipe expected = core::RecipeBook{}.find(core::usualRecipe).value();
    expected.walls = 5;
    expected.source = kept->source;
    CHECK(*kept == expected);
    const auto book = core::RecipeBook{}.withRecipe(*kept).value();
    dialog.setBook(book, core::usualRecipe);
    CHECK(dialog.findChild<QListWidget*>()->currentItem()->text().contains("your own"));
    CHECK(button("Remove my own").isEnabled());
    QTest::mouseClick(&button("Use for the job"), Qt::LeftButton);
    CHECK(used == core::usualRecipe);
    QTest::mouseClick(&button("Remove my own"), Qt::LeftButton);
    CHECK(removed == core::usualRecipe);
}

TEST_CASE_METHOD(Recipes, "recipe dialog: what is wrong is said until something is changed")
{
    field("layer_mm").setValue(3);
    dialog.showProblem("the layer height of 3 mm is not 20 to 80 % of the nozzle");
    auto* problem = dialog.findChild<QLabel*>("recipeProblem");
    CHECK(problem->isVisible());
    field("layer_mm").setValue(0.3);
    CHECK_FALSE(problem->isVisible());
}

TEST_CASE_METHOD(Recipes, "recipe dialog: how it looks")
{
    for (const bool dark : {false, true}) {
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        test::picture(dialog, dark ? "recipe_dialog_dark" : "recipe_dialog_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
