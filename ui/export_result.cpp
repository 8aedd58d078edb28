// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/export_result.h"

#include "core/proof_groups.h"
#include "mesh/place.h"
#include "ui/theme.h"
#include "ui/verdict_delegate.h"
#include "ui/verdict_mark.h"

#include <QApplication>
#include <QCheckBox>
#include <QClipboard>
#include <QDesktopServices>
#include <QDir>
#include <QEvent>
#include <QFontMetrics>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QMenu>
#include <QPushButton>
#include <QSplitter>
#include <QTabWidget>
#include <QToolButton>
#include <QTreeView>
#include <QUrl>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr double verdictSize = 1.7; ///< of the usual letters
/// With a filter, groups of no more claims than this altogether are opened.
constexpr int mostOpened = 500;

QString fromStd(std::string_view text)
{
    return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}

QListWidget* readingList(QWidget* parent)
{
    auto* list = new QListWidget(parent);
    list->setWordWrap(true);
    list->setSelectionMode(QAbstractItemView::ExtendedSelection);
    list->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    list->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list->setResizeMode(QListView::Adjust);
    list->setAlternatingRowColors(true);
    list->setSpacing(list->fontMetrics().height() / 8);
    return list;
}

void open(const QString& path)
{
    QDesktopServices::openUrl(QUrl::fromLocalFile(path));
}

} // namespace

ExportResult::ExportResult(QWidget* parent) : QWidget(parent), m_claims(new ClaimModel(this))
{
    auto* layout = new QVBoxLayout(this);
    m_verdict = new QLabel(this);
    m_words = new QLabel(this);
    m_words->setWordWrap(true);
    m_words->setTextFormat(Qt::PlainText);
    m_words->setTextInteractionFlags(Qt::TextSelectableByMouse);
    layout->addWidget(m_verdict);
    layout->addWidget(m_words);
    auto* split = new QSplitter(Qt::Vertical, this);
    split->addWidget(makeClaims());
    split->addWidget(makeLists());
    split->setStretchFactor(0, 3);
    split->setStretchFactor(1, 2);
    split->setChildrenCollapsible(false);
    layout->addWidget(split, 1);
    layout->addWidget(makeButtons());
}

QWidget* ExportResult::makeClaims()
{
    auto* box = new QWidget(this);
    auto* layout = new QVBoxLayout(box);
    layout->setContentsMargins(0, 0, 0, 0);
    auto* row = new QHBoxLayout;
    m_filter = new QLineEdit(box);
    m_filter->setObjectName("filter");
    m_filter->setPlaceholderText(tr("wall, 03, dowel …"));
    m_filter->setClearButtonEnabled(true);
    m_filter->setToolTip(tr("Shows the claims that hold all of these words"));
    auto* label = new QLabel(tr("F&ind claims"), box);
    label->setBuddy(m_filter);
    m_failedOnly = new QCheckBox(tr("F&ailed only"), box);
    m_shown = new QLabel(box);
    row->addWidget(label);
    row->addWidget(m_filter, 1);
    row->addWidget(m_failedOnly);
    row->addWidget(m_shown);
    layout->addLayout(row);
    m_view = new QTreeView(box);
    m_view->setModel(m_claims);
    m_view->setUniformRowHeights(true);
    m_view->setAlternatingRowColors(true);
    m_view->setAllColumnsShowFocus(true);
    m_view->setItemDelegateForColumn(ClaimModel::Verdict, new VerdictDelegate(ClaimModel::HoldsRole, true, m_view));
    m_view->setAccessibleName(tr("Claims of the proof"));
    m_view->header()->setStretchLastSection(false);
    m_view->header()->resizeSection(ClaimModel::Checked, 26 * fontMetrics().averageCharWidth());
    layout->addWidget(m_view, 1);
    connect(m_filter, &QLineEdit::textChanged, this, &ExportResult::applyFilter);
    connect(m_failedOnly, &QCheckBox::toggled, this, &ExportResult::applyFilter);
    return box;
}

QWidget* ExportResult::makeLists()
{
    m_lists = new QTabWidget(this);
    m_lists->setDocumentMode(true);
    m_cautions = readingList(m_lists);
    m_cautions->setObjectName("cautions");
    m_strength = readingList(m_lists);
    m_strength->setObjectName("strength");
    m_assembly = readingList(m_lists);
    m_assembly->setObjectName("assembly");
    m_lists->addTab(m_cautions, tr("Cautions: &read them"));
    m_lists->addTab(m_strength, tr("S&trength"));
    m_lists->addTab(m_assembly, tr("&Order"));
    m_lists->setTabToolTip(0, tr("What the proof doesn't say, and what to take care of"));
    m_lists->setTabToolTip(1, tr("What the joints bear, as estimated from the files; every figure is on the page of "
                                 "the proof and in strength.json"));
    m_lists->setTabToolTip(2, tr("The order in which the pieces go together"));
    return m_lists;
}

QWidget* ExportResult::makeButtons()
{
    auto* row = new QWidget(this);
    auto* layout = new QGridLayout(row); // in two rows, so that a narrow window has room for them
    layout->setContentsMargins(0, 0, 0, 0);
    auto* folder = new QPushButton(tr("Open fol&der"), row);
    folder->setObjectName("openFolder");
    folder->setToolTip(tr("Shows the written files in the file manager"));
    m_openProof = new QToolButton(row);
    m_openProof->setObjectName("openProof");
    m_openProof->setText(tr("Open the page of the &proof"));
    m_openProof->setToolTip(tr("Opens proof.html, with pictures and every number, in the browser"));
    m_openProof->setToolButtonStyle(Qt::ToolButtonTextOnly);
    m_openProof->setMinimumHeight(folder->sizeHint().height());
    auto* copy = new QPushButton(tr("Cop&y summary"), row);
    copy->setObjectName("copySummary");
    copy->setToolTip(tr("Copies the verdict, failed claims, cautions and the order of assembly as text"));
    auto* back = new QPushButton(tr("&Back"), row);
    back->setObjectName("back");
    back->setToolTip(tr("Back to what is to be exported, and where to"));
    layout->addWidget(folder, 0, 0);
    layout->addWidget(m_openProof, 0, 1);
    layout->addWidget(copy, 1, 0);
    layout->addWidget(back, 1, 1, Qt::AlignRight);
    connect(folder, &QPushButton::clicked, this, [this] { open(m_folder); });
    connect(m_openProof, &QToolButton::clicked, this, [this] {
        if (!m_outcomes.empty())
            open(QDir(m_outcomes.front().folder).filePath("proof.html"));
    });
    connect(copy, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(summary()); });
    connect(back, &QPushButton::clicked, this, &ExportResult::backWanted);
    return row;
}

void ExportResult::setOutcomes(std::vector<ExportOutcome> outcomes, const QString& folder)
{
    m_outcomes = std::move(outcomes);
    m_folder = folder;
    m_failed = 0;
    std::vector<NamedProof> proofs;
    for (const ExportOutcome& o : m_outcomes) {
        m_failed += static_cast<std::size_t>(std::ranges::count(o.proof.claims, false, &core::Claim::holds));
        proofs.push_back({o.name, o.proof});
    }
    m_claims->setProofs(std::move(proofs));
    m_filter->clear();
    m_failedOnly->setChecked(false);
    m_failedOnly->setEnabled(m_failed > 0);
    m_failedOnly->setToolTip(m_failed > 0 ? tr("Hides the claims that hold") : tr("No claim failed"));
    applyFilter();
    showVerdict();
    showLists();
    showStrength();
    showProofMenu();
    fitColumns();
}

void ExportResult::fitColumns()
{
    const QFontMetrics letters(m_view->font());
    const auto width = [&](const QString& text) { return letters.horizontalAdvance(text) + letters.height(); };
    m_view->setColumnWidth(ClaimModel::Of, width("pieces/03-heron-neck.stl"));
    m_view->setColumnWidth(ClaimModel::Measured, width("tightest 0.123456 mm"));
    m_view->setColumnWidth(ClaimModel::Wanted, width("≥ 0.123456 mm"));
    m_view->setColumnWidth(ClaimModel::Verdict, width("✗ 12 of 123 fail"));
}

void ExportResult::applyFilter()
{
    m_claims->setFilter(m_filter->text(), m_failedOnly->isChecked());
    const int shown = m_claims->shownClaims();
    const bool filtered = shown < m_claims->allClaims();
    m_shown->setText(filtered ? tr("%1 of %2 claims").arg(shown).arg(m_claims->allClaims())
                              : fromStd(mesh::counted(static_cast<std::size_t>(shown), "claim")));
    for (int row = 0; row < m_claims->rowCount(); ++row) {
        const QModelIndex group = m_claims->index(row, 0);
        if ((filtered && shown <= mostOpened) || !group.data(ClaimModel::HoldsRole).toBool())
            m_view->expand(group);
    }
}

bool ExportResult::proved() const
{
    return !m_outcomes.empty() && std::ranges::all_of(m_outcomes, [](const ExportOutcome& o) {
        return o.proof.holds() && !o.proof.claims.empty();
    });
}

QString ExportResult::verdictWord() const
{
    return proved() ? tr("✓ Proved") : m_claims->allClaims() == 0 ? tr("✗ Nothing was checked") : tr("✗ Not proved");
}

QString ExportResult::verdictWords() const
{
    std::size_t files = 0;
    for (const ExportOutcome& o : m_outcomes)
        files += o.files;
    QString words = proved() ? tr("All %1 claims hold, measured on the files as they were written. The pieces go back "
                                  "together.")
                                   .arg(m_claims->allClaims())
                             : tr("%1 of %2 claims %3. The files are written all the same, and say so.")
                                   .arg(m_failed)
                                   .arg(m_claims->allClaims())
                                   .arg(m_failed == 1 ? tr("fails") : tr("fail"));
    words +=
        tr("\n%1 to print from, in %2").arg(fromStd(mesh::counted(files, "file")), QDir::toNativeSeparators(m_folder));
    if (const std::size_t weak = weakSeams(); weak > 0)
        words += weak == 1 ? tr("\nStrength: one seam is estimated below its limit, see below.")
                           : tr("\nStrength: %1 seams are estimated below their limit, see below.").arg(weak);
    for (const ExportOutcome& o : m_outcomes)
        if (o.quantity > 1)
            words += tr("\nPrint the set of “%1” %2 times.").arg(o.name).arg(o.quantity);
    return words;
}

void ExportResult::showVerdict()
{
    QFont large = font();
    large.setPointSizeF(verdictSize * large.pointSizeF());
    large.setBold(true);
    m_verdict->setFont(large);
    QPalette colours = palette();
    colours.setColor(QPalette::WindowText, verdictColour(proved() ? Verdict::Good : Verdict::Bad, isDark(palette())));
    m_verdict->setPalette(colours);
    m_verdict->setText(verdictWord());
    m_words->setText(verdictWords());
}

void ExportResult::showLists()
{
    m_cautions->clear();
    m_assembly->clear();
    QStringList said;
    const bool several = m_outcomes.size() > 1;
    for (const ExportOutcome& o : m_outcomes) {
        for (const std::string& line : o.proof.cautions)
            if (!said.contains(fromStd(line))) { // most are the same for every part
                said << fromStd(line);
                m_cautions->addItem(said.back());
            }
        if (several)
            m_assembly->addItem(o.name);
        int step = 0;
        for (const std::string& line : o.proof.assembly)
            m_assembly->addItem(QString("%1. %2").arg(++step).arg(fromStd(core::withoutNumber(line))));
    }
}

void ExportResult::showStrength()
{
    m_strength->clear();
    const bool several = m_outcomes.size() > 1;
    QStringList said;
    bool warns = false;
    for (const ExportOutcome& o : m_outcomes)
        for (const Note& note : core::strengthNotes(o.proof.strength)) {
            const bool warning = note.severity != Note::Severity::Info;
            const bool general = note.place.empty() && !warning; // the caution, the same for every part
            const QString line = several && !general ? o.name + ": " + fromStd(note.text) : fromStd(note.text);
            if (said.contains(line))
                continue;
            said << line;
            warns = warns || warning;
            auto* item = new QListWidgetItem(line, m_strength);
            if (warning)
                item->setIcon(verdictIcon(Verdict::Warning));
        }
    m_lists->setTabVisible(m_lists->indexOf(m_strength), m_strength->count() > 0);
    m_lists->setTabIcon(m_lists->indexOf(m_strength), warns ? verdictIcon(Verdict::Warning) : QIcon());
}

std::size_t ExportResult::weakSeams() const
{
    std::size_t weak = 0;
    for (const ExportOutcome& o : m_outcomes)
        if (o.proof.strength.report)
            weak += static_cast<std::size_t>(
                std::ranges::count(o.proof.strength.report->joints, true, &core::JointCheck::low));
    return weak;
}

void ExportResult::showProofMenu()
{
    delete m_openProof->menu();
    m_openProof->setPopupMode(QToolButton::DelayedPopup);
    if (m_outcomes.size() < 2)
        return;
    auto* menu = new QMenu(m_openProof);
    for (const ExportOutcome& o : m_outcomes)
        menu->addAction(QString(o.name).replace('&', "&&"), this,
                        [page = QDir(o.folder).filePath("proof.html")] { open(page); });
    m_openProof->setMenu(menu);
    m_openProof->setPopupMode(QToolButton::InstantPopup);
}

QString ExportResult::summary() const
{
    QString text = verdictWord() + "\n" + verdictWords() + "\n";
    const bool several = m_outcomes.size() > 1;
    for (const ExportOutcome& o : m_outcomes) {
        if (several)
            text += "\n" + o.name + "\n";
        for (const core::Claim& c : o.proof.claims)
            if (!c.holds)
                text += tr("  fails: %1: %2 (measured %3 %4, wanted %5 %6 %4)\n")
                            .arg(fromStd(c.subject), fromStd(c.text), fromStd(core::claimNumber(c.measured)),
                                 fromStd(c.unit), fromStd(core::relationSign(c.relation)),
                                 fromStd(core::claimNumber(c.limit)));
    }
    const auto list = [&](const QString& title, const QListWidget* lines, const QString& before) {
        if (lines->count() > 0)
            text += "\n" + title + "\n";
        for (int i = 0; i < lines->count(); ++i)
            text += before + lines->item(i)->text() + "\n";
    };
    list(tr("Cautions"), m_cautions, "  - ");
    list(tr("Strength"), m_strength, "  - ");
    list(tr("Order of assembly"), m_assembly, "  ");
    return text;
}

void ExportResult::changeEvent(QEvent* event)
{
    QWidget::changeEvent(event);
    if (event->type() != QEvent::PaletteChange && event->type() != QEvent::FontChange)
        return;
    showVerdict();
    fitColumns();
}

} // namespace quoin::ui
