// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "core/suggest_part.h"
#include "ui/bench.h"
#include "ui/suggest_panel.h"

#include <QElapsedTimer>
#include <QPointer>

namespace quoin::ui {

class BedsPanel;

/// Suggestions of cuts, and the beds that they are for.
class SuggestController : public QObject {
    Q_OBJECT
public:
    SuggestController(Bench& bench, SuggestPanel& panel, BedsPanel& beds, QObject* parent);

    void start(const SuggestWish& wish);
    /// Cuts for every part that doesn't fit the beds, taken as they come: one change in the history.
    void startAll();
    bool busy() const { return m_job; }

signals:
    void bedsWanted();
    /// A suggestion is being looked for, or no longer.
    void busyChanged();

private:
    struct PartJudge;
    struct Present;

    void connectBeds();
    void showStart();
    void showPresent();
    double markedArea(const core::PartDesign& part);
    void showBeds();
    void showShelf();
    void ended(Result<core::FoundCuts> outcome);
    void accept(int id);

    Bench& m_bench;
    SuggestPanel& m_panel;
    BedsPanel& m_beds;
    core::BedShelf m_shelf;
    QPointer<Job> m_job;
    QElapsedTimer m_clock;
    int m_part = 0; ///< that the kept suggestions are for
    double m_partScale = 0;
    std::map<int, core::Suggestion> m_kept;
    Latest m_finding;
    core::RealisedPtr m_termsOf;
    mesh::MeshPtr m_marksOf;
    std::vector<mesh::Index> m_marks;
    double m_markedAreaMm2 = 0;
    core::SuggestionTerms m_present;
    std::shared_ptr<const PartJudge> m_judge;
};

} // namespace quoin::ui
