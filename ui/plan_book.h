// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan_file.h"
#include "ui/bench.h"
#include "ui/plan_time.h"

#include <QObject>

namespace quoin::ui {

/// What the maker has decided about printing, and what has been printed: edited with undo in the history of the design,
/// kept beside the design's file as soon as it is changed. Before the design has a file it is kept in memory only.
class PlanBook : public QObject {
    Q_OBJECT
public:
    PlanBook(Bench& bench, QObject* parent);

    const core::PlanDocument& document() const { return m_document; }
    void edit(const QString& name, core::PlanDocument next, const QString& mergeKey = {});

    /// A plan was made: which piece is on which plate is kept with the rest, so that plates can be ticked off by
    /// number.
    void made(const core::PrintPlan& plan);

    /// The machines and spools of the shop as they were read last.
    const core::Shop& shop() const { return m_shop; }
    void readShop();
    /// Keeps them on disk; the problem, if any.
    Status keepShop(core::Shop shop);

    /// Who prints this job: as decided, as they are in the shop now; else the whole shop; else one a bed.
    std::vector<core::Machine> machines() const;
    bool machinesAreUsual() const; ///< made up from the beds, since nobody has said anything
    /// All that a plan is asked with.
    core::PlanRequest request() const;
    /// Where the plan is kept; empty: the design has no file yet.
    QString file() const;

signals:
    void changed();

private:
    friend class PlanEdit;
    void set(const core::PlanDocument& document);
    void open();
    void follow();
    void keep();

    Bench& m_bench;
    core::PlanDocument m_document;
    core::Shop m_shop;
    QString m_designFile;
    bool m_touched = false; ///< something was decided or ticked off: worth keeping
    bool m_damaged = false; ///< what is on disk can't be read, and isn't written over
};

} // namespace quoin::ui
