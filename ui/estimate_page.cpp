// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/estimate_page.h"

#include "ui/plan_time.h"
#include "ui/quantity_text.h"
#include "ui/share_bar.h"

#include <QComboBox>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QSignalBlocker>
#include <QTreeWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

enum Column { Name, Prints, Mass, Hours, Money, Spools, Metres, Energy, Made, RecipeName, columns };
enum Group { ByPart, ByMachine, ByMaterial };
constexpr int partRole = Qt::UserRole + 1;

QString qs(const std::string& text)
{
    return QString::fromStdString(text);
}

core::PrintTotals totalsOf(const core::ProjectEstimate& whole, const core::EstimatedPiece& piece)
{
    core::ProjectEstimate one;
    one.pieces = {piece};
    one.filaments = whole.filaments;
    return one.all();
}

const std::string& groupOf(const core::EstimatedPiece& piece, int group)
{
    return group == ByMachine ? piece.machine : group == ByMaterial ? piece.material : piece.part;
}

QString pieceTip(const core::EstimatedPiece& p)
{
    QString tip =
        EstimatePage::tr("%1\n%2 copies, each %3 and %4\n%5 layers, %6 tall\nWaiting for thin layers to "
                         "cool: %7 of it")
            .arg(qs(p.name))
            .arg(p.count)
            .arg(massRangeText(p.each.grams, p.each.likelyGrams), hoursRangeText(p.each.hours, p.each.likelyHours))
            .arg(p.each.layers)
            .arg(lengthText(p.each.heightMm), hoursWords(p.each.waitingHours));
    for (const Note& note : p.each.notes)
        tip += QStringLiteral("\n") + qs(note.text);
    return tip;
}

} // namespace

QString moneyText(double money, const QString& currency)
{
    return QStringLiteral("%1 %2").arg(numberText(money, money < 1000 ? 2 : 0, money < 1000 ? 2 : 0), currency);
}

QString massRangeText(double grams, const core::Likely& likely)
{
    // One unit for all three.
    const bool kilos = grams >= 1000;
    const double unit = kilos ? 1000 : 1;
    const int digits = kilos ? 1 : grams < 10 ? 1 : 0;
    return QStringLiteral("%1 %2 (%3 to %4)")
        .arg(numberText(grams / unit, digits, kilos ? 1 : 0), kilos ? QStringLiteral("kg") : QStringLiteral("g"),
             numberText(likely.low / unit, digits, kilos ? 1 : 0),
             numberText(likely.high / unit, digits, kilos ? 1 : 0));
}

QString hoursRangeText(double hours, const core::Likely& likely)
{
    const bool minutes = hours < 1;
    const double unit = minutes ? 1.0 / minutesInHour : 1;
    const int digits = minutes || hours >= 10 ? 0 : 1;
    return QStringLiteral("%1 %2 (%3 to %4)")
        .arg(numberText(hours / unit, digits), minutes ? QStringLiteral("min") : QStringLiteral("h"),
             numberText(likely.low / unit, digits), numberText(likely.high / unit, digits));
}

EstimatePage::EstimatePage(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(4, 6, 4, 4);
    auto* top = new QHBoxLayout;
    const auto choice = [&](const QString& words, const QStringList& lines, QWidget* holder) {
        auto* box = new QComboBox(holder);
        box->addItems(lines);
        auto* label = new QLabel(words, holder);
        label->setBuddy(box);
        top->addWidget(label);
        top->addWidget(box);
        connect(box, &QComboBox::currentIndexChanged, this, &EstimatePage::fill);
        return box;
    };
    m_group = choice(tr("&Together by"), {tr("part"), tr("machine"), tr("material")}, this);
    m_shareOf = choice(tr("&Bars show"), {tr("hours"), tr("weight")}, this);
    top->addStretch();
    layout->addLayout(top);

    m_tree = new QTreeWidget(this);
    m_tree->setObjectName(QStringLiteral("estimates"));
    m_tree->setAccessibleName(tr("Estimates of all pieces"));
    m_tree->setColumnCount(columns);
    m_tree->setHeaderLabels({tr("What"), tr("Prints"), tr("Weight"), tr("Hours"), tr("Money"), tr("Spools"),
                             tr("Filament"), tr("Energy"), tr("Made of"), tr("Recipe")});
    const auto tip = [this](int column, const QString& words) { m_tree->headerItem()->setToolTip(column, words); };
    tip(Prints, tr("How often it is printed, all sets of its part together"));
    tip(Mass, tr("With support and brim; in brackets where nine of ten prints come out"));
    tip(Hours, tr("From the first layer to the last, on one machine; in brackets where nine of ten prints come out. "
                  "Heating up and changing plates are in the plan, not here"));
    tip(Money, tr("Filament, wear of the machine and energy, by your prices"));
    tip(Spools, tr("Full ones; whole spools are to be bought"));
    tip(Made, tr("Walls, top and bottom skin, infill, support, and overhead: travel, cooling and waiting"));
    m_tree->setUniformRowHeights(true);
    m_tree->setAlternatingRowColors(true);
    m_tree->setItemDelegateForColumn(Made, new ShareDelegate(m_tree));
    m_tree->header()->setSectionResizeMode(QHeaderView::ResizeToContents);
    m_tree->header()->setStretchLastSection(false);
    layout->addWidget(m_tree, 1);
    layout->addWidget(new ShareLegend(this));

    auto* bottom = new QHBoxLayout;
    m_partWords = new QLabel(this);
    m_partRecipe = new QComboBox(this);
    m_partRecipe->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    m_partWords->setBuddy(m_partRecipe);
    auto* edit = new QPushButton(tr("Recipe&s…"), this);
    edit->setToolTip(tr("Look at the recipes, and make your own"));
    bottom->addWidget(m_partWords);
    bottom->addWidget(m_partRecipe);
    bottom->addStretch();
    bottom->addWidget(edit);
    layout->addLayout(bottom);
    m_words = new QLabel(this);
    m_words->setWordWrap(true);
    m_words->setTextInteractionFlags(Qt::TextSelectableByMouse);
    layout->addWidget(m_words);

    connect(m_tree, &QTreeWidget::currentItemChanged, this, &EstimatePage::showPart);
    connect(edit, &QPushButton::clicked, this, &EstimatePage::recipesWanted);
    connect(m_partRecipe, &QComboBox::activated, this, [this](int index) {
        if (const QString part = selectedPart(); !part.isEmpty())
            emit partRecipeWanted(part, index == 0 ? QString() : m_partRecipe->itemText(index));
    });
    setEstimate(std::nullopt);
}

void EstimatePage::setEstimate(const std::optional<EstimateShown>& shown, const QString& why)
{
    m_shown = shown;
    m_why = why;
    fill();
}

void EstimatePage::fillLine(QTreeWidgetItem& line, const core::PrintTotals& t, bool hours) const
{
    const auto number = [&](int column, const QString& text) {
        line.setText(column, text);
        line.setTextAlignment(column, Qt::AlignRight | Qt::AlignVCenter);
    };
    number(Prints, QString::number(t.prints));
    number(Mass, massRangeText(t.grams, t.likelyGrams));
    number(Hours, hoursRangeText(t.hours, t.likelyHours));
    number(Metres, tr("%1 m").arg(numberText(t.metres, t.metres < 10 ? 1 : 0)));
    number(Spools, numberText(t.spools, 2, 2));
    number(Money, moneyText(t.money(), m_shown->currency));
    line.setToolTip(
        Money, tr("Filament %1, machine and energy %2")
                   .arg(moneyText(t.materialCost, m_shown->currency), moneyText(t.machineCost, m_shown->currency)));
    number(Energy, tr("%1 kWh").arg(numberText(t.energyKwh, t.energyKwh < 10 ? 2 : 1)));
    QVariantList list;
    Shares shares{};
    for (std::size_t i = 0; i < shares.size(); ++i) {
        shares[i] = hours ? t.shares[i].hours : t.shares[i].grams;
        list << shares[i];
    }
    line.setData(Made, Qt::UserRole, list);
    line.setToolTip(Made, shareWords(shares));
    line.setData(Made, Qt::AccessibleTextRole, shareWords(shares));
}

void EstimatePage::addPieces(QTreeWidgetItem& under, const std::string& group) const
{
    const bool hours = m_shareOf->currentIndex() == 0;
    for (const core::EstimatedPiece& p : m_shown->estimate.pieces) {
        if (groupOf(p, m_group->currentIndex()) != group)
            continue;
        auto* line = new QTreeWidgetItem(&under);
        line->setText(Name, qs(p.name));
        line->setToolTip(Name, pieceTip(p));
        line->setText(RecipeName, qs(p.recipe));
        line->setData(Name, partRole, qs(p.part));
        fillLine(*line, totalsOf(m_shown->estimate, p), hours);
    }
}

void EstimatePage::fill()
{
    const QString selected = m_tree->currentItem() != nullptr ? m_tree->currentItem()->text(Name) : QString();
    std::map<QString, bool> open;
    for (int i = 0; i < m_tree->topLevelItemCount(); ++i)
        open[m_tree->topLevelItem(i)->text(Name)] = m_tree->topLevelItem(i)->isExpanded();
    const QSignalBlocker quiet(m_tree);
    m_tree->clear();
    if (!m_shown) {
        m_words->setText(m_why);
        showPart();
        return;
    }
    const core::ProjectEstimate& e = m_shown->estimate;
    const bool hours = m_shareOf->currentIndex() == 0;
    auto* all = new QTreeWidgetItem(m_tree);
    all->setText(Name, tr("Everything"));
    fillLine(*all, e.all(), hours);
    for (int c = 0; c < columns; ++c) {
        QFont bold = m_tree->font();
        bold.setBold(true);
        all->setFont(c, bold);
    }
    const int group = m_group->currentIndex();
    const auto groups = group == ByMachine ? e.byMachine() : group == ByMaterial ? e.byMaterial() : e.byPart();
    for (const core::NamedTotals& g : groups) {
        auto* line = new QTreeWidgetItem(m_tree);
        line->setText(Name, g.name.empty() ? tr("not said") : qs(g.name));
        if (group == ByPart) {
            line->setData(Name, partRole, qs(g.name));
            const auto own = m_shown->partRecipes.find(g.name);
            line->setText(RecipeName, own != m_shown->partRecipes.end() ? qs(own->second) : qs(e.recipe));
        }
        fillLine(*line, g.totals, hours);
        addPieces(*line, g.name);
        const auto was = open.find(line->text(Name));
        line->setExpanded(was != open.end() ? was->second : groups.size() == 1);
    }
    QStringList words{qs(core::estimateCaution()), qs(e.calibration), m_shown->past};
    for (const Note& note : e.notes)
        words << qs(note.text);
    words.removeAll(QString());
    m_words->setText(words.join(QStringLiteral("\n")));
    const auto same = m_tree->findItems(selected, Qt::MatchExactly | Qt::MatchRecursive, Name);
    m_tree->setCurrentItem(same.isEmpty() ? all : same.front());
    showPart();
}

QString EstimatePage::selectedPart() const
{
    const QTreeWidgetItem* item = m_tree->currentItem();
    return item != nullptr ? item->data(Name, partRole).toString() : QString();
}

void EstimatePage::showPart()
{
    const QString part = selectedPart();
    const QSignalBlocker quiet(m_partRecipe);
    m_partRecipe->clear();
    m_partRecipe->setEnabled(!part.isEmpty());
    m_partWords->setText(part.isEmpty()
                             ? tr("Recipe of a &part")
                             : tr("Recipe of &part %1").arg(QString(part).replace(u'&', QStringLiteral("&&"))));
    m_partRecipe->setToolTip(part.isEmpty() ? tr("Select a part or one of its pieces in the table first")
                                            : tr("Its pieces are printed with this recipe"));
    if (!m_shown)
        return;
    m_partRecipe->addItem(tr("as the job: %1").arg(qs(m_shown->estimate.recipe)));
    m_partRecipe->addItems(m_shown->recipes);
    const auto own = m_shown->partRecipes.find(part.toStdString());
    if (own != m_shown->partRecipes.end())
        m_partRecipe->setCurrentIndex(std::max(0, m_partRecipe->findText(qs(own->second))));
}

} // namespace quoin::ui

#include "moc_estimate_page.cpp"
