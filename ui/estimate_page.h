// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_totals.h"

#include <QWidget>

#include <map>
#include <optional>

class QComboBox;
class QLabel;
class QTreeWidget;
class QTreeWidgetItem;

namespace quoin::ui {

/// What the page shows.
struct EstimateShown {
    core::ProjectEstimate estimate;
    QString currency; ///< of the prices: "€"
    QStringList recipes;
    QString past;                                   ///< how good earlier estimates were; may be empty
    std::map<std::string, std::string> partRecipes; ///< of parts that have one of their own, by name
};

/// Grams, hours, metres, spools, money and energy: of each piece, each part or machine or material, and of all; what
/// they are made of; and with which recipe each part is printed.
class EstimatePage : public QWidget {
    Q_OBJECT
public:
    explicit EstimatePage(QWidget* parent = nullptr);
    /// Keeps grouping, order and selection. None: nothing has been estimated; `why` in words.
    void setEstimate(const std::optional<EstimateShown>& shown, const QString& why = {});

signals:
    /// @param recipe  empty: the one of the whole job
    void partRecipeWanted(const QString& part, const QString& recipe);
    void recipesWanted(); ///< the editor of recipes

private:
    void fill();
    void fillLine(QTreeWidgetItem& line, const core::PrintTotals& totals, bool hours) const;
    void addPieces(QTreeWidgetItem& under, const std::string& group) const;
    void showPart();
    QString selectedPart() const;

    std::optional<EstimateShown> m_shown;
    QString m_why;
    QComboBox* m_group;
    QComboBox* m_shareOf;
    QTreeWidget* m_tree;
    QLabel* m_words;
    QLabel* m_partWords;
    QComboBox* m_partRecipe;
};

/// Money with its currency: "12.40 €".
QString moneyText(double money, const QString& currency);
/// "5.2 h (4.1 to 6.6)", "1.8 kg (1.6 to 2.0)".
QString hoursRangeText(double hours, const core::Likely& likely);
QString massRangeText(double grams, const core::Likely& likely);

} // namespace quoin::ui
