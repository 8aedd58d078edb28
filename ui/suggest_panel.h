// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "core/suggest_part.h"
#include "ui/suggestion_table.h"
#include "ui/terms_table.h"
#include "ui/weights_form.h"

#include <QWidget>

#include <vector>

class QGroupBox;
class QLabel;
class QProgressBar;
class QPushButton;
class QRadioButton;
class QSpinBox;

namespace quoin::ui {

class ProblemLine;

/// What a suggestion starts from.
struct SuggestStart {
    QString part; ///< empty: no part is chosen
    std::vector<core::Bed> beds;
    double marginMm = 5;
    int ownCuts = 0;
    int markedTriangles = 0;
    double markedAreaMm2 = 0;
};

using core::SuggestWish;

/// Suggesting cuts: from which beds, cuts and marked places, how long, and what matters; progress with the best so far;
/// finished ones side by side, to be looked at in the view, accepted or discarded; the terms of the selected one by
/// cut.
class SuggestPanel : public QWidget {
    Q_OBJECT
public:
    explicit SuggestPanel(QWidget* parent = nullptr);

    static constexpr std::size_t mostKept = 6;

    /// Another part takes the suggestions for the last one away.
    void setStart(const SuggestStart& start);
    /// The cuts that the part has now, for comparing; null when there is nothing to say about them.
    void setPresent(const core::SuggestionTerms* terms);
    SuggestWish wish() const;

    /// It is being worked on: from here on the panel shows progress.
    void begin();
    void setProgress(double fraction, double seconds);
    /// @param seconds  after how long it was found
    void setBest(int pieces, const core::LowerBound& bound, double seconds);
    /// It ended with a suggestion, which is added to the kept ones and selected. @return its id
    int finish(const QString& words, const core::SuggestionTerms& terms, double seconds, bool stoppedEarly);
    /// Another way that the same search found, added without being selected; not kept where there is no room for it.
    /// @return its id, 0 when it isn't kept
    int addOther(const QString& words, const core::SuggestionTerms& terms, double seconds);
    /// It ended without: why. Being cancelled is no problem to show.
    void fail(const Problem& problem);
    void discard(int id);
    void clear();
    bool busy() const { return m_busy; }
    /// Cuts of several parts are being looked for elsewhere.
    void setOthersBusy(bool busy);
    /// From here on the next suggestion starts afresh: the present cuts came from one.
    void startAfreshNext();
    /// Why none can be looked for now; empty: one can.
    QString whyNoStart() const;

signals:
    void startWanted(const quoin::core::SuggestWish& wish);
    void cancelWanted();
    void bedsWanted();
    void clearMarksWanted();
    void previewWanted(int id); ///< 0: the cuts as they are
    void cutPicked(int node);   ///< of the plan that is shown; -1: none
    void acceptWanted(int id);
    void discarded(int id);

protected:
    bool event(QEvent* event) override;

private:
    QWidget* buildStart();
    QWidget* buildProgress();
    QWidget* buildKept();
    QWidget* buildByCut();
    void showStart();
    void showKept();
    void showByCut();
    std::size_t kept() const;
    void showEnabled();
    void end();

    SuggestStart m_start;
    std::vector<SuggestionColumn> m_columns;
    int m_nextId = 1;
    bool m_busy = false;
    bool m_hasBest = false;
    bool m_othersBusy = false;

    QLabel* m_beds = nullptr;
    QPushButton* m_changeBeds = nullptr;
    QRadioButton* m_keep = nullptr;
    QRadioButton* m_afresh = nullptr;
    QLabel* m_marks = nullptr;
    QPushButton* m_clearMarks = nullptr;
    QSpinBox* m_seconds = nullptr;
    QPushButton* m_go = nullptr;
    QPushButton* m_cancel = nullptr;
    QProgressBar* m_bar = nullptr;
    QLabel* m_best = nullptr;
    ProblemLine* m_problem = nullptr;
    QLabel* m_none = nullptr;
    QLabel* m_compared = nullptr;
    SuggestionTable* m_table = nullptr;
    WeightsForm* m_weights = nullptr;
    QGroupBox* m_byCutBox = nullptr;
    TermsTable* m_byCut = nullptr;
    QPushButton* m_accept = nullptr;
    QPushButton* m_discard = nullptr;
};

} // namespace quoin::ui
