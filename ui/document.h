// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "ui/part_work.h"

#include <QObject>
#include <QUndoStack>

#include <map>
#include <memory>

namespace quoin::ui {

/// The design being worked on, its history of edits, and what follows from it. Every edit goes through here and can be
/// undone.
class Document : public QObject {
    Q_OBJECT
public:
    explicit Document(Jobs& jobs, QObject* parent = nullptr);
    ~Document() override;

    const core::Design& design() const { return m_design; }
    QUndoStack& history() { return m_history; }

    /// Makes `next` the design. Edits one after another with the same merge key become one in the history: a number
    /// that is being stepped, a plane that is being nudged.
    /// @param name  for the history: "Move cut 3"
    void edit(const QString& name, core::Design next, const QString& mergeKey = {});
    void editPart(const QString& name, core::PartDesign next, const QString& mergeKey = {});
    /// Starts over with a design: no history, nothing to save.
    void reset(core::Design design, const QString& file);

    const QString& file() const { return m_file; } ///< empty: never saved
    void saved(const QString& file);
    /// Whether the design differs from what was saved. Other edits of the history (the plan's) don't count: they are
    /// kept as they are made.
    bool modified() const;
    /// "heron.quoin.json", or "New design".
    QString title() const;

    /// The work on a part; null when there is no such part.
    PartWork* work(int part) const;

signals:
    /// It has been started over with (reset). Comes before designChanged().
    void opened();
    void designChanged();
    /// A part was worked out further, or failed to be.
    void workChanged(int part);
    void fileChanged();

private:
    friend class DesignEdit;
    void set(const core::Design& design);

    Jobs& m_jobs;
    core::Design m_design;
    QUndoStack m_history;
    QString m_file;
    std::map<int, std::unique_ptr<PartWork>> m_works;
};

} // namespace quoin::ui
