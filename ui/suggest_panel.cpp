// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/suggest_panel.h"

#include "ui/bed_words.h"
#include "ui/problem_line.h"

#include <QEvent>
#include <QFormLayout>
#include <QGroupBox>
#include <QLabel>
#include <QLocale>
#include <QProgressBar>
#include <QPushButton>
#include <QRadioButton>
#include <QSpinBox>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr int defaultSeconds = 30, mostSeconds = 3600;
constexpr int barSteps = 1000;
constexpr double mm2InCm2 = 100;

QLabel* wrapped(const char* name, QWidget* parent)
{
    auto* label = new QLabel(parent);
    label->setObjectName(name);
    label->setWordWrap(true);
    label->setTextFormat(Qt::PlainText);
    return label;
}

QPushButton* button(const char* name, const QString& text, QWidget* parent)
{
    auto* made = new QPushButton(text, parent);
    made->setObjectName(name);
    return made;
}

QString areaWords(double mm2)
{
    const double cm2 = mm2 / mm2InCm2;
    return QStringLiteral("%1 cm²").arg(cm2, 0, 'f', cm2 < 10 ? 1 : 0);
}

QString piecesWords(int pieces)
{
    return pieces == 1 ? SuggestPanel::tr("1 piece") : SuggestPanel::tr("%1 pieces").arg(pieces);
}

} // namespace

SuggestPanel::SuggestPanel(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    layout->addWidget(buildStart());
    layout->addWidget(buildProgress());
    layout->addWidget(buildKept());
    layout->addWidget(buildByCut());
    layout->addStretch(1);
    setStart({});
}

/// Within a scroll area a panel is as high as it must be at least; words that are wrapped want more the narrower it is.
bool SuggestPanel::event(QEvent* event)
{
    const bool taken = QWidget::event(event);
    if ((event->type() == QEvent::Resize || event->type() == QEvent::LayoutRequest) && layout()->hasHeightForWidth())
        setMinimumHeight(layout()->totalHeightForWidth(width()));
    return taken;
}

QWidget* SuggestPanel::buildStart()
{
    auto* box = new QGroupBox(tr("Start from"), this);
    auto* form = new QFormLayout(box);
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    const auto row = [&](const QString& label, QWidget* field, QPushButton* action) {
        auto* line = new QHBoxLayout;
        line->addWidget(field, 1);
        line->addWidget(action, 0, Qt::AlignTop);
        form->addRow(label, line);
    };
    m_beds = wrapped("bedWords", box);
    m_changeBeds = button("changeBeds", tr("Cha&nge…"), box);
    m_changeBeds->setToolTip(tr("Choose the beds of the sculpture and the margin."));
    row(tr("Beds"), m_beds, m_changeBeds);
    m_keep = new QRadioButton(box);
    m_keep->setObjectName("keepOwn");
    m_afresh = new QRadioButton(tr("Start af&resh"), box);
    m_afresh->setObjectName("afresh");
    m_keep->setChecked(true);
    auto* cuts = new QVBoxLayout;
    cuts->addWidget(m_keep);
    cuts->addWidget(m_afresh);
    form->addRow(tr("Cuts"), cuts);
    m_marks = wrapped("markWords", box);
    m_clearMarks = button("clearMarks", tr("&Unmark all"), box);
    row(tr("Marked places"), m_marks, m_clearMarks);
    m_seconds = new QSpinBox(box);
    m_seconds->setObjectName("seconds");
    m_seconds->setRange(1, mostSeconds);
    m_seconds->setValue(defaultSeconds);
    m_seconds->setSuffix(tr(" s"));
    m_seconds->setToolTip(tr("How long better ways are looked for. The first way is always finished, however long it "
                             "takes; it ends early when no fewer pieces are possible."));
    form->addRow(tr("&Time to spend"), m_seconds);
    m_weights = new WeightsForm(*form, box);
    connect(m_changeBeds, &QPushButton::clicked, this, &SuggestPanel::bedsWanted);
    connect(m_clearMarks, &QPushButton::clicked, this, &SuggestPanel::clearMarksWanted);
    return box;
}

QWidget* SuggestPanel::buildProgress()
{
    auto* area = new QWidget(this);
    auto* layout = new QVBoxLayout(area);
    layout->setContentsMargins({});
    auto* buttons = new QHBoxLayout;
    m_go = button("start", tr("&Suggest cuts"), area);
    m_cancel = button("cancel", tr("St&op"), area);
    m_bar = new QProgressBar(area);
    m_bar->setRange(0, barSteps);
    QSizePolicy steady = m_bar->sizePolicy();
    steady.setRetainSizeWhenHidden(true);
    m_bar->setSizePolicy(steady);
    m_bar->setAccessibleName(tr("How far the suggestion is"));
    buttons->addWidget(m_go);
    buttons->addWidget(m_cancel);
    buttons->addWidget(m_bar, 1);
    layout->addLayout(buttons);
    m_best = wrapped("best", area);
    layout->addWidget(m_best);
    m_problem = new ProblemLine("problem", area);
    layout->addWidget(m_problem);
    connect(m_go, &QPushButton::clicked, this, [this] { emit startWanted(wish()); });
    connect(m_cancel, &QPushButton::clicked, this, [this] {
        m_cancel->setEnabled(false);
        m_cancel->setToolTip(tr("Being stopped."));
        emit cancelWanted();
    });
    return area;
}

QWidget* SuggestPanel::buildKept()
{
    auto* box = new QGroupBox(tr("Suggestions"), this);
    auto* layout = new QVBoxLayout(box);
    m_none = wrapped("none", box);
    m_none->setText(tr("None yet. What is found is kept here, up to six ways, to be compared with each other."));
    layout->addWidget(m_none);
    m_compared = wrapped("compared", box);
    layout->addWidget(m_compared);
    m_table = new SuggestionTable(box);
    layout->addWidget(m_table);
    auto* buttons = new QHBoxLayout;
    m_accept = button("accept", tr("&Accept"), box);
    m_discard = button("discard", tr("&Discard"), box);
    buttons->addStretch();
    buttons->addWidget(m_discard);
    buttons->addWidget(m_accept);
    layout->addLayout(buttons);
    layout->addStretch(1);
    connect(m_table, &SuggestionTable::selected, this, [this](int id) {
        showEnabled();
        showByCut();
        emit previewWanted(std::max(id, 0));
    });
    connect(m_accept, &QPushButton::clicked, this, [this] { emit acceptWanted(m_table->selectedId()); });
    connect(m_discard, &QPushButton::clicked, this, [this] {
        const int id = m_table->selectedId();
        discard(id);
        emit discarded(id);
    });
    return box;
}

QWidget* SuggestPanel::buildByCut()
{
    m_byCutBox = new QGroupBox(tr("Terms by cut"), this);
    auto* layout = new QVBoxLayout(m_byCutBox);
    auto* what = wrapped("byCutWords", m_byCutBox);
    what->setText(tr("Numbers without a unit; less is better. Select a cut to see it in the view."));
    layout->addWidget(what);
    m_byCut = new TermsTable(m_byCutBox);
    layout->addWidget(m_byCut);
    connect(m_byCut, &TermsTable::cutPicked, this, &SuggestPanel::cutPicked);
    m_byCutBox->hide();
    return m_byCutBox;
}

void SuggestPanel::showByCut()
{
    const auto chosen = std::find_if(m_columns.begin(), m_columns.end(),
                                     [this](const SuggestionColumn& c) { return c.id == m_table->selectedId(); });
    const bool any = chosen != m_columns.end() && chosen->terms.judged.judged && !chosen->terms.judged.cuts.empty();
    m_byCutBox->setVisible(any);
    m_byCut->setTerms(any ? chosen->terms.judged : core::PlanTerms{}, any ? chosen->terms.weights : core::CutWeights{});
}

std::size_t SuggestPanel::kept() const
{
    return static_cast<std::size_t>(
        std::count_if(m_columns.begin(), m_columns.end(), [](const SuggestionColumn& c) { return c.id != 0; }));
}

void SuggestPanel::setStart(const SuggestStart& start)
{
    const bool other = start.part != m_start.part;
    m_start = start;
    if (other)
        clear();
    showStart();
    showEnabled();
}

void SuggestPanel::showStart()
{
    QStringList beds;
    for (const core::Bed& bed : m_start.beds)
        beds << bedWords(bed);
    m_beds->setText(beds.isEmpty() ? tr("none chosen")
                                   : tr("%1; margin %2 mm").arg(beds.join(QStringLiteral("; "))).arg(m_start.marginMm));
    m_keep->setText(m_start.ownCuts == 1  ? tr("&Keep my cut and complete it")
                    : m_start.ownCuts > 1 ? tr("&Keep my %1 cuts and complete them").arg(m_start.ownCuts)
                                          : tr("&Keep my own cuts"));
    m_marks->setText(m_start.markedTriangles > 0
                         ? tr("%1 triangles, %2: no cut passes them")
                               .arg(QLocale().toString(m_start.markedTriangles), areaWords(m_start.markedAreaMm2))
                         : tr("none; mark them with the brush (Ctrl+M)"));
}

void SuggestPanel::setPresent(const core::SuggestionTerms* terms)
{
    std::erase_if(m_columns, [](const SuggestionColumn& c) { return c.id == 0; });
    if (terms != nullptr)
        m_columns.insert(m_columns.begin(), {0, {}, *terms, 0, false});
    showKept();
}

SuggestWish SuggestPanel::wish() const
{
    SuggestWish wish{m_seconds->value(), m_start.ownCuts > 0 && m_keep->isChecked()};
    wish.weights = m_weights->weights();
    wish.morePieces = m_weights->morePieces();
    wish.alternatives = m_weights->alternatives();
    return wish;
}

void SuggestPanel::begin()
{
    m_busy = true;
    m_hasBest = false;
    m_problem->showWords({});
    m_best->setText(tr("Looking for a first way of cutting…"));
    m_bar->setValue(0);
    showEnabled();
}

void SuggestPanel::setProgress(double fraction, double seconds)
{
    m_bar->setValue(static_cast<int>(barSteps * std::clamp(fraction, 0.0, 1.0)));
    m_bar->setFormat(tr("%p %, %1 s").arg(seconds, 0, 'f', 0));
}

void SuggestPanel::setBest(int pieces, const core::LowerBound& bound, double seconds)
{
    m_hasBest = true;
    m_best->setText(tr("Best so far: %1, found after %2 s. No way needs fewer than %3 (%4).")
                        .arg(piecesWords(pieces))
                        .arg(seconds, 0, 'f', 1)
                        .arg(bound.pieces)
                        .arg(QString::fromStdString(bound.reason)));
    showEnabled();
}

void SuggestPanel::end()
{
    m_busy = false;
    m_best->clear();
    m_bar->reset();
}

int SuggestPanel::finish(const QString& words, const core::SuggestionTerms& terms, double seconds, bool stoppedEarly)
{
    end();
    const int id = m_nextId++;
    m_columns.push_back({id, words, terms, seconds, stoppedEarly});
    showKept();
    m_table->select(id);
    return id;
}

int SuggestPanel::addOther(const QString& words, const core::SuggestionTerms& terms, double seconds)
{
    if (kept() >= mostKept)
        return 0;
    const int id = m_nextId++;
    m_columns.push_back({id, words, terms, seconds, false});
    showKept();
    return id;
}

void SuggestPanel::fail(const Problem& problem)
{
    end();
    if (problem.reason == Reason::Cancelled)
        m_best->setText(tr("Stopped before a way of cutting was found."));
    else
        m_problem->showWords(problemWords(problem));
    showEnabled();
}

void SuggestPanel::discard(int id)
{
    std::erase_if(m_columns, [id](const SuggestionColumn& c) { return c.id == id && id != 0; });
    showKept();
}

void SuggestPanel::clear()
{
    m_columns.clear();
    m_nextId = 1;
    m_problem->showWords({});
    m_best->clear();
    showKept();
}

void SuggestPanel::showKept()
{
    m_table->setColumns(m_columns);
    m_none->setVisible(kept() == 0);
    m_table->setVisible(!m_columns.empty());
    showByCut();
    showEnabled();
}

void SuggestPanel::setOthersBusy(bool busy)
{
    m_othersBusy = busy;
    showEnabled();
}

void SuggestPanel::startAfreshNext()
{
    m_afresh->setChecked(true);
    m_table->select(0); // what was taken is how it is now
    showEnabled();
}

QString SuggestPanel::whyNoStart() const
{
    if (m_start.part.isEmpty())
        return tr("First choose a part to cut.");
    if (m_start.beds.empty())
        return tr("First choose a bed: the pieces are made to fit it.");
    if (m_busy)
        return tr("A suggestion is being worked on.");
    if (m_othersBusy)
        return tr("Cuts of all parts that are too large are being looked for.");
    if (kept() >= mostKept)
        return tr("Six suggestions are kept. Discard one to make room for another.");
    return {};
}

void SuggestPanel::showEnabled()
{
    const QString why = whyNoStart();
    m_go->setEnabled(why.isEmpty());
    m_go->setToolTip(why.isEmpty() ? tr("Looks for planes that cut %1 into few pieces that fit the beds. Nothing "
                                        "changes until you accept.")
                                         .arg(m_start.part)
                                   : why);
    m_cancel->setEnabled(m_busy);
    m_cancel->setToolTip(!m_busy     ? tr("Nothing is being worked on.")
                         : m_hasBest ? tr("Stops and keeps the best way found so far.")
                                     : tr("Stops. No way of cutting has been found yet."));
    m_bar->setVisible(m_busy);
    for (QRadioButton* choice : {m_keep, m_afresh}) {
        choice->setEnabled(m_start.ownCuts > 0 && !m_busy);
        choice->setToolTip(m_start.ownCuts == 0 ? tr("This part has no cuts yet.")
                           : m_busy             ? whyNoStart()
                           : choice == m_keep   ? tr("Your cuts come first; what still doesn't fit is cut further.")
                                                : tr("Your cuts are left out. Accepting then replaces them."));
    }
    m_clearMarks->setEnabled(m_start.markedTriangles > 0);
    m_clearMarks->setToolTip(m_start.markedTriangles > 0 ? tr("Lets cuts pass everywhere on this part again.")
                                                         : tr("Nothing is marked on this part."));
    const int id = m_table->selectedId();
    const QString none = id < 0 ? tr("First select a suggestion in the table.") : tr("These are the present cuts.");
    m_accept->setEnabled(id > 0);
    m_accept->setToolTip(id > 0 ? tr("Makes the cuts of suggestion %1 the cuts of the part. They can be edited in the "
                                     "list of cuts, and undone.")
                                      .arg(id)
                                : none);
    m_discard->setEnabled(id > 0);
    m_discard->setToolTip(id > 0 ? tr("Takes suggestion %1 off this table.").arg(id) : none);
    m_compared->setVisible(m_columns.size() > 1);
    m_compared->setText(id < 0    ? tr("Select one to compare the others with it.")
                        : id == 0 ? tr("Better or worse than the cuts as they are:")
                                  : tr("Better or worse than suggestion %1, which the view shows:").arg(id));
}

} // namespace quoin::ui
