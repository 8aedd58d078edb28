// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/recipe_dialog.h"

#include "core/same_word.h"
#include "ui/calm_wheel.h"
#include "ui/problem_line.h"
#include "ui/window_words.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QDoubleSpinBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QScrollArea>
#include <QVBoxLayout>

#include <array>
#include <cmath>

namespace quoin::ui {

namespace {

constexpr int widthPx = 720, heightPx = 640, listPx = 190;
constexpr double mostNumber = 1e6;
constexpr int nameRole = Qt::UserRole;

struct FieldHelp {
    const char* key;
    const char* words;
};
constexpr std::array helps{
    FieldHelp{"nozzle_mm", "Bore of the nozzle. A machine that is said to have another one prints none of it"},
    FieldHelp{"line_width_mm", "As the lines are laid: 100 to 150 % of the nozzle"},
    FieldHelp{"layer_mm", "20 to 80 % of the nozzle: lower is finer and slower"},
    FieldHelp{"first_layer_mm", "A thick first layer forgives an uneven plate"},
    FieldHelp{"walls", "Lines side by side around every layer"},
    FieldHelp{"top_layers", "Solid layers below every top"},
    FieldHelp{"bottom_layers", "Solid layers above every bottom"},
    FieldHelp{"infill_percent", "How much of the inside is plastic"},
    FieldHelp{"outer_wall_mm_s", "The line that is seen"},
    FieldHelp{"inner_wall_mm_s", "The lines behind it"},
    FieldHelp{"skin_mm_s", "Solid layers at tops and bottoms"},
    FieldHelp{"infill_mm_s", "The pattern inside; less where the flow limit says so"},
    FieldHelp{"support_mm_s", "What carries overhangs and is broken off"},
    FieldHelp{"first_layer_mm_s", "Slow, so that it sticks"},
    FieldHelp{"travel_mm_s", "Between lines, without plastic"},
    FieldHelp{"acceleration_mm_s2",
              "How quickly the head comes to speed: short lines are printed slower than they say"},
    FieldHelp{"corner_mm_s", "Change of speed that a corner may ask for at once"},
    FieldHelp{"flow_mm3_s", "The most that the hot end melts: with wide lines and high layers, this is what counts"},
    FieldHelp{"least_layer_s", "A layer takes no less, so that it cools before the next one"},
    FieldHelp{"layer_change_s", "Going up, for each layer"},
    FieldHelp{"path_start_s", "Drawing back and pushing on again, for each line that isn't joined to the last"},
    FieldHelp{"travel_factor", "On the travel found from the layers: a log of your prints teaches it better"},
    FieldHelp{"start_up_min", "Heating and levelling, once a plate"},
    FieldHelp{"power_w", "Mean while printing, for the energy"},
    FieldHelp{"overhang_deg", "Faces below that lean further than this from the vertical get support"},
    FieldHelp{"support_percent", "How much of the support's room is plastic"},
    FieldHelp{"support_gap_mm", "Sideways between the piece and its support"},
    FieldHelp{"brim_mm", "Width of lines around the first layer that hold it to the plate; 0 for none"},
    FieldHelp{"purge_mm3", "Pushed out before a plate begins"},
};

QString helpOf(const char* key)
{
    for (const FieldHelp& h : helps)
        if (std::string_view(h.key) == key)
            return RecipeDialog::tr(h.words);
    return {};
}

QString unitText(const char* unit)
{
    QString text = QString::fromLatin1(unit);
    text.replace(QStringLiteral("mm2"), QStringLiteral("mm²"))
        .replace(QStringLiteral("mm3"), QStringLiteral("mm³"))
        .replace(QStringLiteral("s2"), QStringLiteral("s²"))
        .replace(QStringLiteral("degrees"), QStringLiteral("°"));
    return text.isEmpty() ? text : QStringLiteral(" ") + text;
}

} // namespace

RecipeDialog::RecipeDialog(QWidget* parent)
    : QDialog(parent), m_list(new QListWidget(this)), m_problem(new ProblemLine("recipeProblem", this))
{
    setWindowTitle(tr("Recipes"));
    m_list->setAccessibleName(tr("Recipes, your own first"));
    m_list->setMinimumWidth(listPx);
    m_list->setMaximumWidth(listPx * 3 / 2);
    auto* area = new QScrollArea(this);
    area->setWidgetResizable(true);
    area->setFocusPolicy(Qt::NoFocus);
    area->setFrameShape(QFrame::NoFrame);
    area->setWidget(makeFields());
    auto* across = new QHBoxLayout;
    across->addWidget(m_list);
    across->addWidget(area, 1);
    auto* buttons = new QHBoxLayout;
    const auto button = [&](const QString& text, auto act) {
        auto* made = new QPushButton(text, this);
        made->setAutoDefault(false);
        connect(made, &QPushButton::clicked, this, act);
        buttons->addWidget(made);
        return made;
    };
    m_keep = button(tr("&Keep as my own"), [this] { emit keepWanted(fields()); });
    m_remove = button(tr("&Remove my own"), [this] { emit removeWanted(QString::fromStdString(m_recipe.name)); });
    m_use = button(tr("&Use for the job"), [this] { emit useWanted(QString::fromStdString(m_recipe.name)); });
    buttons->addStretch();
    auto* close = new QDialogButtonBox(QDialogButtonBox::Close, this);
    connect(close, &QDialogButtonBox::rejected, this, &QDialog::reject);
    buttons->addWidget(close);
    auto* layout = new QVBoxLayout(this);
    layout->addLayout(across, 1);
    layout->addWidget(m_problem);
    layout->addLayout(buttons);
    resize(widthPx, heightPx);
    connect(m_list, &QListWidget::currentRowChanged, this, [this] {
        if (!m_quiet)
            showRecipe();
    });
    calmWheel(*this);
}

QWidget* RecipeDialog::makeFields()
{
    auto* box = new QWidget(this);
    auto* form = new QFormLayout(box);
    m_origin = new QLabel(box);
    m_origin->setWordWrap(true);
    form->addRow(m_origin);
    m_name = new QLineEdit(box);
    m_name->setToolTip(tr("Under another name it is kept beside this one"));
    form->addRow(tr("&Name"), m_name);
    const auto changed = [this] {
        if (m_quiet)
            return;
        m_problem->showWords({});
        showEnabled();
    };
    connect(m_name, &QLineEdit::textChanged, this, changed);
    for (const core::RecipeField& f : core::recipeFields()) {
        auto* number = new QDoubleSpinBox(box);
        // What can be printed is for the recipe's own check to say, in words.
        number->setRange(0, mostNumber);
        number->setDecimals(f.whole() ? 0 : 3);
        number->setSuffix(unitText(f.unit));
        number->setToolTip(helpOf(f.key));
        number->setObjectName(QString::fromLatin1(f.key));
        QString words = QString::fromLatin1(f.words);
        words[0] = words[0].toUpper();
        number->setAccessibleName(words);
        auto* label = new QLabel(words, box);
        label->setWordWrap(true);
        label->setToolTip(helpOf(f.key));
        form->addRow(label, number);
        m_numbers.push_back(number);
        connect(number, &QDoubleSpinBox::valueChanged, this, changed);
        if (std::string_view(f.key) == "infill_percent") {
            m_pattern = new QComboBox(box);
            for (const core::InfillPattern p : core::infillPatterns)
                m_pattern->addItem(QString::fromStdString(core::patternName(p)));
            m_pattern->setToolTip(tr("How the lines inside run: it costs length and turns"));
            m_pattern->setAccessibleName(tr("Pattern of the infill"));
            form->addRow(tr("Pattern of the infill"), m_pattern);
            connect(m_pattern, &QComboBox::currentIndexChanged, this, changed);
        }
    }
    m_support = new QCheckBox(tr("Overhangs get &support"), box);
    m_support->setToolTip(tr("Without it, overhangs have to carry themselves"));
    connect(m_support, &QCheckBox::toggled, this, changed);
    form->addRow(m_support);
    return box;
}

void RecipeDialog::setBook(const core::RecipeBook& book, const QString& select)
{
    {
        const QScopedValueRollback quiet(m_quiet, true);
        m_book = book;
        m_list->clear();
        for (const core::Recipe& r : book.all()) {
            const QString name = QString::fromStdString(r.name);
            auto* item = new QListWidgetItem(book.isOwn(r.name) ? tr("%1 (your own)").arg(name) : name, m_list);
            item->setData(nameRole, name);
            if (name == select)
                m_list->setCurrentItem(item);
        }
        if (m_list->currentRow() < 0)
            m_list->setCurrentRow(0);
    }
    showRecipe();
}

void RecipeDialog::showRecipe()
{
    const QListWidgetItem* item = m_list->currentItem();
    if (item == nullptr)
        return;
    const auto found = m_book.find(item->data(nameRole).toString().toStdString());
    if (!found)
        return;
    const QScopedValueRollback quiet(m_quiet, true);
    m_recipe = *found;
    m_problem->showWords({});
    m_origin->setText(m_book.isOwn(m_recipe.name)
                          ? tr("Your own.")
                          : tr("Shipped with the program (%1). What you change is kept as your own.")
                                .arg(QString::fromStdString(m_recipe.source)));
    m_name->setText(QString::fromStdString(m_recipe.name));
    const auto all = core::recipeFields();
    for (std::size_t i = 0; i < m_numbers.size(); ++i)
        m_numbers[i]->setValue(all[i].value(m_recipe));
    m_pattern->setCurrentIndex(static_cast<int>(m_recipe.infill));
    m_support->setChecked(m_recipe.support);
    showEnabled();
}

core::Recipe RecipeDialog::fields() const
{
    core::Recipe r = m_recipe;
    r.name = m_name->text().trimmed().toStdString();
    const auto all = core::recipeFields();
    for (std::size_t i = 0; i < m_numbers.size(); ++i)
        // What was not touched keeps its last digit.
        if (std::abs(m_numbers[i]->value() - all[i].value(m_recipe)) > 0.5 * std::pow(10.0, -m_numbers[i]->decimals()))
            all[i].set(r, m_numbers[i]->value());
    r.infill = core::infillPatterns[static_cast<std::size_t>(m_pattern->currentIndex())];
    r.support = m_support->isChecked();
    if (!(r == m_recipe) && !m_book.isOwn(m_recipe.name))
        r.source = "the maker's own";
    return r;
}

void RecipeDialog::showEnabled()
{
    const bool changed = !(fields() == m_recipe);
    const bool own = m_book.isOwn(m_recipe.name);
    m_keep->setEnabled(changed);
    m_keep->setToolTip(changed ? tr("From now on it counts, for all jobs") : tr("Nothing has been changed"));
    m_remove->setEnabled(own);
    m_remove->setToolTip(own ? tr("The shipped one of this name counts again, if there is one")
                             : tr("This one is shipped with the program: only your own can be removed"));
    m_use->setEnabled(!changed);
    m_use->setToolTip(changed ? tr("Keep it first, or choose it again in the list")
                              : tr("All parts without a recipe of their own are printed with it"));
}

void RecipeDialog::showProblem(const QString& words)
{
    m_problem->showWords(words);
}

} // namespace quoin::ui

#include "moc_recipe_dialog.cpp"
