// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/recipe_book.h"

#include <QDialog>

#include <vector>

class QCheckBox;
class QComboBox;
class QDoubleSpinBox;
class QFormLayout;
class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;

namespace quoin::ui {

class ProblemLine;

/// All recipes, the maker's own over the shipped ones, with every number; changing one makes it the maker's own.
class RecipeDialog : public QDialog {
    Q_OBJECT
public:
    explicit RecipeDialog(QWidget* parent = nullptr);
    /// @param select  by name
    void setBook(const core::RecipeBook& book, const QString& select);
    void showProblem(const QString& words);

signals:
    void keepWanted(const quoin::core::Recipe& recipe);
    void removeWanted(const QString& name); ///< an own one
    void useWanted(const QString& name);    ///< for the whole job

private:
    QWidget* makeFields();
    void showRecipe();
    void showEnabled();
    core::Recipe fields() const;

    core::RecipeBook m_book;
    core::Recipe m_recipe; ///< as it was when it was shown
    bool m_quiet = false;
    QListWidget* m_list;
    QLineEdit* m_name = nullptr;
    std::vector<QDoubleSpinBox*> m_numbers; ///< in the order of core::recipeFields
    QComboBox* m_pattern = nullptr;
    QCheckBox* m_support = nullptr;
    QLabel* m_origin = nullptr;
    QPushButton* m_keep = nullptr;
    QPushButton* m_remove = nullptr;
    QPushButton* m_use = nullptr;
    ProblemLine* m_problem;
};

} // namespace quoin::ui
